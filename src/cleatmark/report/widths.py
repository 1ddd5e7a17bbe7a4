"""The widths of a table's columns on paper: as few lines as can be, and no word broken."""

from __future__ import annotations

from math import ceil, sqrt

from cleatmark.report.blocks import Row, Spans, Table
from cleatmark.report.clean import inline
from cleatmark.report.figures import NBSP

_SAMPLE = 40
"""So many rows, the longest, decide."""
_LOOSE = 1.15
"""A line is not filled to its end."""
_STEPS = (16, 8, 4, 2, 1)
LONGEST = 24
"""Words held together by no-break spaces are held together up to so many letters."""

_Lengths = list[tuple[int, ...]]


def shares(table: Table, room: int) -> list[int]:
    """Characters for each column, `room` in all: first the longest word, then what gives the fewest lines."""
    count = len(table.columns)
    rows = sorted(table.rows, key=_letters, reverse=True)[:_SAMPLE]

    texts = [tuple(_text(cell) for cell in row.cells) for row in rows]
    least = [
        max([_word(table.columns[n].title), *(_word(row[n]) for row in texts)], default=1)
        for n in range(count)
    ]
    least = _within(least, room)
    lengths: _Lengths = [
        tuple(len(column.title) for column in table.columns),
        *(tuple(map(len, row)) for row in texts),
    ]
    weights = [sqrt(sum(row[n] for row in lengths) + 1) for n in range(count)]
    natural = [max(row[n] for row in lengths) + 1 for n in range(count)]
    if sum(natural) <= room:
        return [wide + (room - sum(natural)) * wide // sum(natural) for wide in natural]
    spare = room - sum(least)
    widths = [wide + int(spare * weight / sum(weights)) for wide, weight in zip(least, weights, strict=True)]
    return _improved(widths, least, lengths)


def _within(least: list[int], room: int) -> list[int]:
    """The least widths, cut where they do not fit beside each other: the widest first."""
    least = list(least)
    while sum(least) > room and max(least) > 1:
        least[least.index(max(least))] -= 1
    return least


def _improved(widths: list[int], least: list[int], lengths: _Lengths) -> list[int]:
    """Width moved from column to column as long as that saves lines."""
    best = _cost(widths, lengths)
    for step in _STEPS:
        moved = True
        while moved:
            moved = False
            for giver in range(len(widths)):
                for taker in range(len(widths)):
                    if giver == taker or widths[giver] - step < least[giver]:
                        continue
                    tried = list(widths)
                    tried[giver] -= step
                    tried[taker] += step
                    cost = _cost(tried, lengths)
                    if cost < best:
                        widths, best, moved = tried, cost, True
    return widths


def _cost(widths: list[int], lengths: _Lengths) -> tuple[int, int]:
    """Lines that the rows take, then how unevenly the cells share them."""
    rows = cells = 0
    for row in lengths:
        lines = [
            1 if length < wide else ceil(length * _LOOSE / wide)
            for length, wide in zip(row, widths, strict=True)
        ]
        rows += max(lines)
        cells += sum(count * count for count in lines)
    return rows, cells


def broken(text: str) -> str:
    """The text of a cell, with the no-break spaces of what is too long for a column made plain ones."""
    if NBSP not in text or not text.strip():
        return text
    return " ".join(
        word if len(word) <= LONGEST else word.replace(NBSP, " ") for word in inline(text).split(" ")
    )


def _text(cell: Spans) -> str:
    return "".join(broken(inline(span.text)) for span in cell)


def _letters(row: Row) -> int:
    return sum(len(span.text) for cell in row.cells for span in cell)


def _word(text: str) -> int:
    return max(map(len, text.split(" ")), default=1)
