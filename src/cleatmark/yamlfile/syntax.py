"""What a YAML parser complains of, in plain words and with the way out."""

from __future__ import annotations

import re
from typing import Any

from cleatmark.problems import Place, Problem
from cleatmark.yamlfile.nodes import shown_line

_WORDS: tuple[tuple[str, str, str], ...] = (
    (
        "mapping values are not allowed",
        'a ":" is not expected here',
        'indent the line as its neighbours are, or put a text that has ": " in it in quotes',
    ),
    ("mapping keys are not allowed", '"?" cannot start a value', "put the text in quotes"),
    (
        "sequence entries are not allowed",
        "a list cannot start on the line of its key",
        'start each "- " on its own line',
    ),
    ("end of stream", "the quotes opened here are not closed", "close them on the same line"),
    (
        "unknown escape character",
        "a backslash in double quotes",
        "use single quotes, or double the backslash",
    ),
    (
        "expected ',' or ']'",
        "the list opened with [ is not closed, or a comma is missing",
        "write [one, two]",
    ),
    (
        "expected ',' or '}'",
        "the keys opened with { are not closed, or a comma is missing",
        "write {a: 1, b: 2}",
    ),
    ("'-' indicator", "a key stands where the list goes on", "indent it under its item, or end the list"),
    ("document start", 'text after the end of the document ("...")', "take the mark away"),
    (
        "expected ':'",
        'a key without ":"',
        'write "key: value"; indent a second line of text further than its key',
    ),
    ("tab character", "a tab is used to indent", "indent with spaces"),
    (
        "expected node content",
        "a value is missing before this",
        "put text that starts with [ ] { } , or # in quotes",
    ),
    (
        "expected key",
        "this does not line up with the keys above, or text follows closing quotes",
        "indent keys of one group alike; put quotes around the whole value or not at all",
    ),
    (
        "expected <block end>",
        "this does not line up with the keys above, or text follows closing quotes",
        "indent keys of one group alike; put quotes around the whole value or not at all",
    ),
    (
        "nesting depth",
        "too many brackets inside one another",
        "a job or a submittal needs five levels at most",
    ),
    ("found character", "this character cannot start a value", "put the text in quotes"),
)
_SWALLOWED = re.compile(r"[:,\[{-]\s*(#\s?[0-9]+)")


def syntax_problem(file: str, lines: list[str], error: Any) -> Problem:
    """The parser's complaint as a problem at its place."""
    mark = getattr(error, "problem_mark", None) or getattr(error, "context_mark", None)
    said = str(getattr(error, "problem", "") or "")
    if ("end of stream" in said or "expected ':'" in said) and getattr(error, "context_mark", None):
        mark = error.context_mark
    row, column = (mark.line, mark.column) if mark else (0, 0)
    if row >= len(lines):
        row, column = max(len(lines) - 1, 0), len(lines[-1]) if lines else 0
    line = lines[row] if lines else ""
    swallowed = _comment_in_brackets(lines, row) if "expected" in said else None
    if swallowed:
        row, column, line, dropped = swallowed
        message = f'"{dropped}" and what follows it is dropped: to YAML, # after a space starts a comment'
        number = dropped.lstrip("# ")
        return Problem(
            Place(file, row + 1, column + 1),
            message,
            (f'write "#{number}" with the quotes, or No. {number}',),
            shown_line(line),
            len(dropped),
        )
    place = Place(file, row + 1, column + 1)
    if "\t" in line[: column + 1] and not line[:column].strip():
        return Problem(place, "a tab is used to indent", ("indent with spaces",), shown_line(line))
    for words, message, help in _WORDS:
        if words in said:
            return Problem(place, message, (help,), shown_line(line))
    return Problem(place, f"this is not YAML: {said or 'it cannot be read'}", (), shown_line(line))


def _comment_in_brackets(lines: list[str], row: int) -> tuple[int, int, str, str] | None:
    """A `#12` inside brackets, at or before the place of the complaint, that ate the closing bracket."""
    for number in range(row, max(row - 3, -1), -1):
        match = _SWALLOWED.search(lines[number]) if number < len(lines) else None
        if match:
            return number, match.start(1), lines[number], match[1]
    return None
