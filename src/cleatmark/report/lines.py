"""Lines of a terminal page: pieces of styled text, and words wrapped to a width."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from unicodedata import combining, east_asian_width

from msgspec import Struct

from cleatmark.report.blocks import Spans
from cleatmark.report.clean import inline
from cleatmark.report.figures import NBSP


class Piece(Struct, frozen=True):
    """Text of one style within a line."""

    text: str
    style: str = ""


Line = tuple[Piece, ...]


def cells(text: str) -> int:
    """How many columns of a terminal the text takes."""
    if text.isascii():
        return len(text)
    return sum(0 if combining(char) else 2 if east_asian_width(char) in "WF" else 1 for char in text)


def width_of(line: Line) -> int:
    return sum(cells(piece.text) for piece in line)


def words_of(spans: Spans) -> Iterator[Line]:
    """The words of the spans. A word keeps its styles: `[address];` may have two."""
    word: list[Piece] = []
    for span in spans:
        for part in re.split("( )", inline(span.text)):
            if part == " ":
                if word:
                    yield tuple(word)
                word = []
            elif part:
                word.append(Piece(part, span.style))
    if word:
        yield tuple(word)


def _broken(word: Line, room: int) -> Iterator[Line]:
    """A word wider than a line, in parts: at its no-break spaces where it has them, else anywhere."""
    if width_of(word) <= room:
        yield word
        return
    for piece in word:
        for part in piece.text.split(NBSP):
            while (cut := _fitting(part, room)) < len(part):
                yield (Piece(part[:cut], piece.style),)
                part = part[cut:]
            if part:
                yield (Piece(part, piece.style),)


def _fitting(text: str, room: int) -> int:
    """How many signs from the start of the text fit into the room; one at least."""
    if text.isascii():
        return min(max(room, 1), len(text))
    used = 0
    for number, char in enumerate(text):
        used += cells(char)
        if used > room:
            return max(number, 1)
    return len(text)


def wrapped(spans: Spans, width: int) -> list[Line]:
    """The spans as lines of at most `width` columns; one empty line where there is nothing."""
    lines: list[Line] = []
    line: list[Piece] = []
    used = 0
    for whole in words_of(spans):
        for word in _broken(whole, width):
            wide = width_of(word)
            if line and used + 1 + wide > width:
                lines.append(_merged(line))
                line, used = [], 0
            if line:
                # the space takes the style on both sides where they agree
                style = line[-1].style if line[-1].style == word[0].style else ""
                line.append(Piece(" ", style))
                used += 1
            line.extend(word)
            used += wide
    if line or not lines:
        lines.append(_merged(line))
    return lines


def _merged(pieces: Iterable[Piece]) -> Line:
    merged: list[Piece] = []
    for piece in pieces:
        text = piece.text.replace(NBSP, " ")
        if merged and merged[-1].style == piece.style:
            merged[-1] = Piece(merged[-1].text + text, piece.style)
        else:
            merged.append(Piece(text, piece.style))
    return tuple(merged)


def indented(lines: Iterable[Line], first: str, then: str, style: str = "") -> list[Line]:
    """The lines behind a margin: `first` before the first of them, `then` before the others."""
    return [(Piece(then if n else first, style), *line) for n, line in enumerate(lines)]
