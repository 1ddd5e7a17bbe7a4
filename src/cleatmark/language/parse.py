"""Rule text to the tree. A file is cut where a line starts in column 1, so that one mistake hides no other."""

from __future__ import annotations

import re
from pathlib import PurePath

from cleatmark.language import tree as t
from cleatmark.language.cuts import statements
from cleatmark.language.examples import CLAUSES, STATEMENTS
from cleatmark.language.grammar import grammar
from cleatmark.problems import Place, Problem

MOST_CHARACTERS = 2_000_000
MOST_STATEMENT = 100_000
MOST_DEPTH = 40
MOST_LINE = 2_000
MOST_SIGNS = 200
MOST_MISTAKES = 500
_APART = ("give parts of the condition names of their own with `define`",)
_WORKING = ("not ", "+ ", " - ", "* ", "/ ")
_SIGNS = frozenset("/#;—–%*")


def parse(text: str, file: str) -> tuple[t.RuleFile | None, tuple[Problem, ...]]:
    """The tree of one rule file, and everything that is wrong with its form. None where the file is too large."""
    if len(text) > MOST_CHARACTERS:
        message = f"the file has {len(text):,} characters; a rule file may have {MOST_CHARACTERS:,}"
        return None, (Problem(Place(file), message, ("split it into several rulebooks",)),)
    lines = text.splitlines()
    written = tuple(lines)
    problems = [*_comments(lines, file), *_clauses_in_front(lines, file)]
    found: list[t.AnyStatement] = []
    spoilt: list[t.Spoilt] = []
    for start, end in statements(lines):
        if len(problems) >= MOST_MISTAKES and (found or spoilt):
            problems.append(_more(file, lines, start))
            break
        hostile = _too_much(lines, start, end, file)
        if hostile is not None:
            problems.append(hostile)
            spoilt.append(_spoilt(lines[start], start))
            continue
        statement, told = _statement(lines, start, end, file)
        problems.extend(told)
        if told:
            spoilt.append(_spoilt(lines[start], start))
        if statement is not None:
            found.append(statement)
    head, told = _head(found, spoilt, lines, file)
    rest = tuple(s for s in found if not isinstance(s, t.RulebookHead))
    return t.RuleFile(file, head, rest, written, tuple(spoilt)), (*told, *problems)


def _comments(lines: list[str], file: str) -> list[Problem]:
    """Whole lines that are comments after another language's sign: told, and blank from here on."""
    if not any(line.lstrip()[:1] in _SIGNS for line in lines if line):
        return []
    from cleatmark.language.heads import comment_problem

    problems: list[Problem] = []
    for number, line in enumerate(lines):
        problem = comment_problem(line, number + 1, file)
        if problem is not None:
            if len(problems) < MOST_MISTAKES:
                problems.append(problem)
            lines[number] = ""
    return problems


def _clauses_in_front(lines: list[str], file: str) -> list[Problem]:
    """Clauses that stand in column 1: told, and indented from here on."""
    problems: list[Problem] = []
    started = False
    for number, line in enumerate(lines):
        if not line[:1].isalpha():
            continue
        word = line.split(maxsplit=1)[0].rstrip(":")
        if word in CLAUSES and word not in STATEMENTS and started:
            message = f"`{word}` starts a clause, and clauses are indented"
            help_ = ("put two spaces before it, under the statement that it belongs to",)
            problems.append(Problem(Place(file, number + 1, 1), message, help_, line, len(word)))
            lines[number] = f"  {line}"
        started = True
    return problems


def _head(
    found: list[t.AnyStatement], spoilt: list[t.Spoilt], lines: list[str], file: str
) -> tuple[t.RulebookHead, list[Problem]]:
    """The rulebook that heads the file. Where its line has a mistake, or none is there, one that stands for it."""
    heads = [statement for statement in found if isinstance(statement, t.RulebookHead)]
    problems = [
        Problem(
            Place(file, other.pos.line, 1),
            "a file holds one rulebook; a second one starts here",
            (
                f'the first is "{heads[0].id}", line {heads[0].pos.line}',
                "put each rulebook into a file of its own",
            ),
            lines[other.pos.line - 1],
            8,
        )
        for other in heads[1:]
    ]
    broken = next((item for item in spoilt if item.word == "rulebook"), None)
    if not heads:
        name = re.sub(r"\W+", "_", PurePath(file).stem) or "rulebook"
        heads = [t.RulebookHead(id=broken.id if broken else name, pos=t.Pos(broken.line if broken else 1, 1))]
        if broken is None:
            empty = not any(line.strip() for line in lines)
            message = (
                "the file is empty" if empty else "the file names no rulebook; its first statement is one"
            )
            help_ = (f'for example: rulebook {name} "Coastal county amendments"',)
            problems.append(Problem(Place(file, 1, 1), message, help_, lines[0] if lines else ""))
            spoilt.append(t.Spoilt("rulebook", name, 1))
    elif found[0] is not heads[0] and broken is None:
        first = heads[0].pos.line
        message = "the rulebook statement comes first in its file"
        help_ = (f"move it above line {found[0].pos.line}",)
        problems.append(Problem(Place(file, first, 1), message, help_, lines[first - 1], 8))
    return heads[0], problems


def _spoilt(line: str, start: int) -> t.Spoilt:
    """What can be told of a statement that does not parse: the words it starts with."""
    from cleatmark.language.heads import meant

    words = re.findall(r'"[^"]*"|[\w.]+', line)
    word, name = [*words, "", ""][:2]
    return t.Spoilt(meant(word), name.strip('"'), start + 1)


def _more(file: str, lines: list[str], start: int) -> Problem:
    return Problem(
        Place(file, start + 1, 1), "too many mistakes: those from here on are not told", (), lines[start]
    )


def _too_much(lines: list[str], start: int, end: int, file: str) -> Problem | None:
    """A line, a statement or a nesting that no author writes."""
    whole = "\n".join(lines[start:end])
    few = sum(whole.count(sign) for sign in _WORKING) <= MOST_SIGNS and whole.count("(") <= MOST_DEPTH
    if few and len(whole) <= MOST_LINE:
        return None
    if len(whole) > MOST_STATEMENT:
        message = f"the statement is longer than {MOST_STATEMENT:,} characters"
        help_ = ("a statement starts in column 1; split a long table into several",)
        return Problem(Place(file, start + 1, 1), message, help_, lines[start][:80])
    depth = signs = 0
    for number in range(start, end):
        line = lines[number]
        signs += sum(line.count(sign) for sign in _WORKING)
        if signs > MOST_SIGNS and not lines[start].startswith("table"):
            message = f"the statement has more than {MOST_SIGNS} times `not`, `+`, `-`, `*` or `/`"
            return Problem(Place(file, number + 1, 1), message, _APART, f"{line[:76]} ...")
        if len(line) > MOST_LINE:
            message = f"the line has {len(line):,} characters; a line may have {MOST_LINE:,}"
            help_ = ("a clause may go on in the next line, indented deeper",)
            return Problem(Place(file, number + 1, 1), message, help_, f"{line[:76]} ...")
        opened = line.count("(")
        if depth + opened <= MOST_DEPTH:
            depth = max(depth + opened - line.count(")"), 0)
            continue
        for column, character in enumerate(line):
            depth += (character == "(") - (character == ")")
            if depth > MOST_DEPTH:
                message = f"parentheses are nested more than {MOST_DEPTH} deep"
                return Problem(Place(file, number + 1, column + 1), message, _APART, line)
    return None


def _statement(
    lines: list[str], start: int, end: int, file: str
) -> tuple[t.AnyStatement | None, list[Problem]]:
    from lark import UnexpectedInput

    from cleatmark.language.build import Built

    text = "\n" * start + "\n".join(lines[start:end])
    try:
        if lines[start][:1].isspace():
            raise UnexpectedInput()
        built = grammar().parse(text)
    except UnexpectedInput:
        from cleatmark.language.recover import recover

        return recover(lines, start, end, file)
    assert isinstance(built, Built)
    return built.statement, doubled(built, lines, file)


def doubled(built: object, lines: list[str], file: str) -> list[Problem]:
    """Clauses that stand twice in a statement."""
    from cleatmark.language.build import Built

    assert isinstance(built, Built)
    return [
        Problem(
            Place(file, item.pos.line, item.pos.column),
            f"`{item.name}` stands twice in one statement",
            (f"the first is in line {item.first.line}; keep one of them",),
            lines[item.pos.line - 1],
            item.pos.span,
        )
        for item in built.doubled
    ]
