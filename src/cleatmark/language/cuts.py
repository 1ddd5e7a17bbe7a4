"""Cutting a rule file where its lines start: statements in column 1, clauses indented beneath them."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence

from cleatmark.language.examples import CLAUSES

CONTINUES = frozenset(["and", "or", "where", "having", "has"])
_WORD = re.compile(r"\s+([^\s\"(,:]+)")


def code_of(line: str) -> str:
    """The line without its comment; a double hyphen inside quotation marks is none."""
    quoted = False
    for at, character in enumerate(line):
        if character == '"':
            quoted = not quoted
        elif not quoted and character == "-" and line.startswith("--", at):
            return line[:at]
    return line


def statements(lines: Sequence[str]) -> Iterator[tuple[int, int]]:
    """Line ranges (from 0, end excluded) of the statements: each starts with a line whose first column is used."""
    start: int | None = None
    for number, line in enumerate(lines):
        if line[:1].strip() and not line.startswith("--"):
            if start is not None:
                yield start, number
            start = number
        elif start is None and code_of(line).strip():
            start = number
    if start is not None:
        yield start, len(lines)


def pieces(lines: Sequence[str], start: int, end: int) -> list[tuple[int, int]]:
    """Line ranges of the head of a statement and of each of its clauses.

    A clause starts where a line is indented no deeper than the first clause and does not begin with a word that
    continues the line above it.
    """
    cuts = [start]
    indent: int | None = None
    listing = False
    for number in range(start + 1, end):
        code = code_of(lines[number]).expandtabs()
        match = _WORD.match(code)
        word = match[1] if match else ""
        depth = len(code) - len(code.lstrip())
        if not code.strip():
            continue
        continues = word in CONTINUES or (listing and word not in CLAUSES) or code.lstrip()[0] in ",)"
        if not continues and (indent is None or depth <= indent):
            indent = depth if indent is None else indent
            cuts.append(number)
        listing = code.rstrip().endswith(",")
    return [(first, last) for first, last in zip(cuts, [*cuts[1:], end], strict=True)]


def piece_at(parts: Sequence[tuple[int, int]], line: int) -> int:
    """The index of the piece that holds a line (from 0)."""
    return next((index for index, (first, last) in enumerate(parts) if first <= line < last), len(parts) - 1)


def last_code(lines: Sequence[str], start: int, end: int) -> tuple[int, int]:
    """Line and column, from 1, just behind the last code of a range."""
    last = start
    for number in range(start, end):
        if code_of(lines[number]).strip():
            last = number
    return last + 1, len(code_of(lines[last]).rstrip()) + 1
