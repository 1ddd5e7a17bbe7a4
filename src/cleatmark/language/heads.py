"""The first line of a statement, and whole lines that are comments after another language's sign."""

from __future__ import annotations

import re
from collections.abc import Sequence

from cleatmark.language.examples import CLAUSES, STATEMENTS
from cleatmark.problems import Place, Problem, near_name

OTHER_STATEMENTS = {
    "rule": "requirement",
    "require": "requirement",
    "requires": "requirement",
    "shall": "requirement",
    "must": "requirement",
    "test": "case",
    "example": "case",
    "import": "rulebook",
    "include": "rulebook",
    "builds": "rulebook",
    "let": "define",
    "def": "define",
    "set": "define",
    "change": "amend",
    "modify": "amend",
    "override": "amend",
    "replace": "amend",
    "delete": "waive",
    "remove": "waive",
    "skip": "waive",
    "listing": "listing_body",
    "warning": "caution",
    "note": "caution",
    "lookup": "table",
    "allow": "substitution",
    "allows": "substitution",
}


_COMMENT = re.compile(r"\s*(//|/\*|#(?!\s?\d)|;|—|–|%|\*)")
_FACTOR = re.compile(r"\s+\*\s*[\w.(]+\s*(?:$|[-+*/)]|--)")
"""A sum that goes on in a line of its own, and is no comment."""


def meant(word: str) -> str:
    """The statement that a first word starts, as it stands or as it is meant; "" where nothing is near."""
    bare = word.rstrip(":").casefold()
    if bare in STATEMENTS or not bare:
        return bare
    return OTHER_STATEMENTS.get(bare) or near_name(bare, STATEMENTS) or ""


def comment_problem(line: str, number: int, file: str) -> Problem | None:
    """A whole line that is a comment after another language's sign. `number` counts from 1."""
    match = _COMMENT.match(line)
    if match is None or _FACTOR.match(line):
        return None
    sign = match[1]
    after = line[match.end() :].strip(" */#-—–;%")
    message = f"a comment starts with two hyphens, not with {sign}"
    return Problem(Place(file, number, match.start(1) + 1), message, (f"write: -- {after}",), line, len(sign))


def head_problem(lines: Sequence[str], start: int, file: str) -> Problem | None:
    """What is wrong with the first word of a statement, or None."""
    line = lines[start]
    if line[:1].isspace():
        place = Place(file, start + 1, len(line) - len(line.lstrip()) + 1)
        message = "an indented line with no statement above it"
        if line.split(maxsplit=1)[0] in STATEMENTS:
            return Problem(place, "a statement starts in column 1", ("take out the spaces before it",), line)
        help_ = ("a statement starts in column 1, such as: " + STATEMENTS["requirement"],)
        return Problem(place, message, help_, line, len(line.strip()))
    word = re.split(r'[\s"(]', line, maxsplit=1)[0]
    if word in STATEMENTS:
        return None
    place = Place(file, start + 1, 1)
    bare = word.rstrip(":").casefold()
    if bare in STATEMENTS:
        right = f"write: {bare}{line[len(word) :]}"
        what = "without a colon" if word.endswith(":") else "in small letters"
        return Problem(place, f"`{bare}` is written {what}", (right,), line, len(word))
    if bare in CLAUSES:
        message = f"`{bare}` starts a clause, and clauses are indented"
        help_ = ("put two spaces before it, under the statement that it belongs to",)
        return Problem(place, message, help_, line, len(word))
    right = meant(word)
    forms = ["a statement starts with one of: " + ", ".join(STATEMENTS)]
    if right:
        forms = [f'did you mean "{right}"?', "for example: " + STATEMENTS[right]]
    return Problem(place, f'no statement starts with "{word}"', tuple(forms), line, len(word) or 1)
