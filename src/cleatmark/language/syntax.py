"""Mistakes of form in the author's words: where, what was expected, an example, the near name."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from cleatmark.problems import Place, Problem, did_you_mean

if TYPE_CHECKING:
    from lark import UnexpectedInput

STATEMENTS = {
    "rulebook": 'rulebook coastal "Coastal county amendments"',
    "field": 'field panel.width "Panel width" length in inches',
    "kind": 'kind report is "tested report"',
    "reading": "reading uplift_class",
    "requirement": 'requirement uplift_class "Uplift class"',
    "substitution": "substitution panel_width for panel.width",
    "approval": 'approval insurer by "FM"',
    "listing_body": 'listing_body ul by "UL"',
    "practice": "practice deck_nailing for deck.attachment",
    "table": "table safety_factor by method, metal",
    "define": "define allowable of run",
    "advice": 'advice class_as_speed "A class read as a wind speed"',
    "caution": 'caution edges "Work at roof edges is hazardous."',
    "amend": "amend zone_uplift",
    "waive": "waive air_leakage",
    "case": 'case "a lighter gauge than tested is not covered"',
    "assembly": "assembly typical_plywood",
}
CLAUSES = {
    "edition": "edition 2026-11",
    "builds": "builds on base, model_code",
    "in": "in force from 2024-01-01",
    "checked": "checked on 2026-11-01",
    "status": 'status "example: confirm against the adopted code"',
    "basis": "basis specification",
    "applies": "applies when spec.uplift.class is stated",
    "needed": 'needed when job.insurer is "FM"',
    "shall": "shall proposed.panel.width meets spec.panel.width",
    "action": "action resubmit",
    "source": 'source "ANSI/UL 580" at "class table"',
    "because": 'because "A class not shown has not been shown to hold."',
    "otherwise": 'otherwise "Class {spec.uplift.class} is specified."',
    "remedy": 'remedy "Send a UL 580 report for this panel, clip, fastener and deck."',
    "ask": 'ask designer "Is a class meant, or a wind speed?"',
    "allows": "allows equal, narrower",
    "usual": 'usual "nailed"',
    "formerly": "formerly old_id",
    "with": "with proposed.panel.width 18 in",
    "expect": "expect uplift_class not shown",
    "as": "as pressure / safety_factor",
    "gives": "gives spec.uplift.class as at least",
    "from": 'from "class {number: 30, 60, 90}"',
    "near": 'near "panel"',
    "words": "words narrower, wider",
    "example": 'example "16 in"',
    "may": "may be none",
    "when": 'when deck.type is "plywood"',
    "caution": 'caution "Confirm the seam still closes."',
    "hidden": 'hidden after "underlayment"',
    "trade": 'trade "carpenter"',
    "message": 'message "The class is read as a speed."',
    "if": 'if not shown "No report covers this assembly."',
    "same": 'same meaning "Both limits print the same number."',
    "value": 'value "snap-lock"',
    "flags": "flags misuse",
    "note": 'note "..."',
    "or": "or another",
}
ARTICLE_WORDS = {
    "STRING": 'text in quotation marks, such as "UL 580"',
    "NAME": "a name, such as panel_width or spec.panel.width",
    "QUANTITY": "a quantity, such as 16 in or 105 psf",
    "DATE": "a date, such as 2026-11-01",
    "LPAR": "an opening parenthesis",
    "RPAR": "a closing parenthesis",
    "COMMA": "a comma",
    "COLON": "a colon",
    "QUANTIFIER": "every, some or no",
    "STATED": "stated or known",
    "PLUS": "+ or -",
    "TIMES": "* or /",
    "SLASH": "/",
    "CHOOSE": "largest of, smallest of or first of",
    "IN_ZONE": "in zone",
    "IT": "it",
    "IS_": "is",
    "BEFORE": "before or after",
    "ROW_START": "a row",
    "$END": "the end of the statement",
}
ORDER = ["LPAR", "STRING", "NAME", "QUANTITY", "DATE", "RPAR"]


def words_for(terminals: set[str]) -> str:
    """What the parser would have taken, as words a writer of rules knows."""
    known = [name for name in ORDER if name in terminals]
    others = sorted(name for name in terminals if name not in ORDER and name != "$END")
    shown = [ARTICLE_WORDS[name] for name in known]
    shown += [f"`{ARTICLE_WORDS.get(name, name.lower().strip('_'))}`" for name in others]
    if "$END" in terminals and not shown:
        return ARTICLE_WORDS["$END"]
    if len(shown) > 6:
        shown = [*shown[:5], "..."]
    return ", ".join(shown[:-1]) + " or " + shown[-1] if len(shown) > 1 else "".join(shown)


def explain(error: UnexpectedInput, lines: list[str], start: int, end: int, file: str) -> Problem:
    """The problem a writer sees for one parser error in lines[start:end]."""
    from lark import UnexpectedCharacters, UnexpectedToken

    first = re.match(r"\S+", lines[start])
    head = first.group(0) if first else ""
    if lines[start][:1].isspace():
        return Problem(
            Place(file, start + 1, 1),
            "an indented line with no statement above it",
            ("a statement starts in column 1, such as: " + STATEMENTS["requirement"],),
            lines[start],
        )
    if head not in STATEMENTS:
        near = did_you_mean(head, STATEMENTS)
        word = near[0].split('"')[1] if near else "requirement"
        forms = (*near, "a statement is one of: " + ", ".join(STATEMENTS), "for example: " + STATEMENTS[word])
        return Problem(
            Place(file, start + 1, 1), f'no statement starts with "{head}"', forms, lines[start], len(head)
        )

    expected: set[str] = set()
    line, column, token = error.line, error.column, ""
    if isinstance(error, UnexpectedToken):
        expected = set(error.accepts or error.expected)
        token = "" if error.token.type == "$END" else str(error.token)
        if error.token.type == "$END":
            line, column = _end(lines, start, end)
    elif isinstance(error, UnexpectedCharacters):
        expected = set(error.allowed or ())
        token = lines[line - 1][column - 1 : column]
    return _describe(token, expected, max(line, 1), max(column, 1), lines, head, file)


def _end(lines: list[str], start: int, end: int) -> tuple[int, int]:
    last = start
    for number in range(start, end):
        if lines[number].split("--")[0].strip():
            last = number
    return last + 1, len(lines[last].split("--")[0].rstrip()) + 1


def _describe(
    token: str, expected: set[str], line: int, column: int, lines: list[str], head: str, file: str
) -> Problem:
    text = lines[line - 1]
    place = Place(file, line, column)
    starts_line = not text[: column - 1].strip() and column > 1
    wanted = words_for(expected)
    if token == '"' or token.startswith('"'):
        if text[column - 1 :].count('"') % 2:
            close = ('close it on the same line, such as "UL 580"',)
            return Problem(place, "the quotation mark is not closed on this line", close, text)
        return Problem(place, f"text is not expected here; expected {wanted}", (), text, len(token))
    if starts_line and token.lower() not in CLAUSES and re.match(r"[A-Za-z_]", token):
        near = did_you_mean(token, CLAUSES)
        word = near[0].split('"')[1] if near else ""
        example = (f"for example: {CLAUSES[word]}",) if word else ()
        allowed = sorted({name.lower() for name in expected} & set(CLAUSES))
        of_them = (f"a `{head}` takes here: " + ", ".join(allowed),) if allowed else ()
        return Problem(
            place, f'no clause starts with "{token}"', (*near, *of_them, *example), text, len(token)
        )
    if starts_line and token in CLAUSES:
        missing = "" if "$END" in expected else f"; the line above it is not finished: expected {wanted}"
        allowed = sorted({name.lower() for name in expected} & set(CLAUSES))
        help_ = (f"a `{head}` takes here: " + ", ".join(allowed),) if allowed and not missing else ()
        what = missing or f" in a `{head}`"
        return Problem(place, f"`{token}` cannot stand here{what}", help_, text, len(token))
    if not token:
        help_ = (f"for example: {CLAUSES.get(_clause_word(text), STATEMENTS[head])}",)
        return Problem(place, f"the statement ends too early; expected {wanted}", help_, text)
    if head in ("requirement", "amend") and "LPAR" in expected and expected <= {"LPAR"}:
        help_ = ("for example: every zone has ( allowable at least zone.required )",)
        return Problem(
            place, f'"{token}" stands where the condition must be in parentheses', help_, text, len(token)
        )
    known = {name.lower() for name in expected}
    near = did_you_mean(token, known)
    clause = _clause_word(text)
    example = (f"for example: {CLAUSES[clause]}",) if clause in CLAUSES else ()
    return Problem(
        place, f'"{token}" is not expected here; expected {wanted}', (*near, *example), text, len(token)
    )


def _clause_word(text: str) -> str:
    match = re.match(r"\s+([a-z_]+)", text)
    return match.group(1) if match else ""
