"""Lines and parentheses that end too early, too late or not at all."""

from __future__ import annotations

import re

from cleatmark.language.cuts import last_code
from cleatmark.language.examples import CLAUSES, STATEMENTS
from cleatmark.language.expected import wanted
from cleatmark.language.trouble import Trouble
from cleatmark.problems import Place, Problem


def unfinished(trouble: Trouble) -> Problem | None:
    """The line above, or the statement, ends before it is complete."""
    if not (trouble.kind == "$END" or (trouble.starts and "$END" not in trouble.accepts)):
        return None
    first, behind = trouble.part
    if trouble.starts:
        behind = first
        first = next((number for number in range(first - 1, -1, -1) if trouble.lines[number].strip()), 0)
    line, column = last_code(trouble.lines, max(first, 0), behind)
    place = Place(trouble.file, line, column)
    source = trouble.lines[line - 1]
    words = source.split()
    example = CLAUSES.get(words[0]) if source[:1].isspace() else STATEMENTS.get(words[0])
    help_ = (f"for example: {example}",) if example else ()
    message = f"the line ends too early; expected {wanted(trouble.accepts)}"
    return Problem(place, message, help_, source)


def open_parenthesis(trouble: Trouble) -> Problem | None:
    """A parenthesis that the clause does not close."""
    inside = trouble.token in ("having", "has", "where")
    if "RPAR" not in trouble.accepts or not (trouble.kind == "$END" or trouble.starts or inside):
        return None
    if inside:
        opening = next((token for token in reversed(trouble.before) if token.type == "LPAR"), None)
        if opening is not None:
            help_ = f"close it before `{trouble.token}`: ( ... )"
            return trouble.tell("the parenthesis is not closed", help_, token=opening)
    opened: list[tuple[int, int]] = []
    last = trouble.line - 1 if trouble.starts else trouble.part[1]
    for number in range(last - 1, -1, -1):
        found, closes = _unclosed(trouble.lines[number])
        opened = found
        if opened:
            column = opened[-1][1]
            return Problem(
                Place(trouble.file, number + 1, column),
                "the parenthesis is not closed",
                ("close it where the condition ends: ( ... )",),
                trouble.lines[number],
            )
        if closes:
            return None
    return None


def _unclosed(line: str) -> tuple[list[tuple[int, int]], int]:
    """Parentheses of a line that it does not close, and how many it closes too many."""
    opened: list[tuple[int, int]] = []
    closes = 0
    quoted = False
    for at, character in enumerate(line):
        if character == '"':
            quoted = not quoted
        elif quoted:
            continue
        elif line.startswith("--", at):
            break
        elif character == "(":
            opened.append((0, at + 1))
        elif character == ")":
            if opened:
                opened.pop()
            else:
                closes += 1
    return opened, closes


def extra_parenthesis(trouble: Trouble) -> Problem | None:
    """A parenthesis that closes nothing."""
    if trouble.token[:1] == ")" and "RPAR" not in trouble.accepts:
        if any(token.type == "LPAR" for token in trouble.before[-1:]):
            return trouble.tell("nothing stands between the parentheses", "put a condition there", span=1)
        if _balance(trouble) > 0:
            return None
        return trouble.tell("this parenthesis closes nothing", "leave it out, or open one before it", span=1)
    return None


def _balance(trouble: Trouble) -> int:
    return sum((token.type == "LPAR") - (token.type == "RPAR") for token in trouble.before)


def needs_parentheses(trouble: Trouble) -> Problem | None:
    """`where`, `having`, `has`, `for` and `of` take parentheses."""
    if trouble.accepts != {"LPAR"} or not trouble.before:
        return None
    word = str(trouble.before[-1])
    if word in ("for", "of"):
        value = trouble.rest.split()[0].strip("(),")
        return trouble.tell(
            f"what stands behind `{word}` is put in parentheses", f"write: {word} ( {value} )"
        )
    inner = re.split(r"\s(?:having|has)\b", trouble.rest)[0]
    return trouble.tell(
        f"the condition behind `{word}` stands in parentheses", f"write: {word} ( {inner} )", span=len(inner)
    )
