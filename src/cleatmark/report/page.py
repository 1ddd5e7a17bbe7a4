"""A report's blocks as the lines of a terminal page."""

from __future__ import annotations

from collections.abc import Iterable

from cleatmark.report import blocks as b
from cleatmark.report.blocks import Block, Span
from cleatmark.report.clean import clean
from cleatmark.report.grid import table_lines
from cleatmark.report.lines import Line, Piece, cells, indented, width_of, wrapped

MEASURE = 100
"""Prose is set no wider than this; tables and rules use the whole width."""
NARROWEST = 40
_EMPTY: Line = ()


def page(blocks: Iterable[Block], width: int) -> list[Line]:
    """The lines, none wider than `width` columns (at least 40)."""
    width = max(width, NARROWEST)
    lines: list[Line] = []
    before: Block | None = None
    for block in blocks:
        if before is not None and _apart(before, block):
            lines.append(_EMPTY)
        lines += _lines(block, width)
        before = block
    return lines


def _apart(before: Block, block: Block) -> bool:
    """Whether an empty line stands between the two blocks."""
    if isinstance(before, b.Heading):
        return False
    if isinstance(before, b.Paragraph) and isinstance(block, b.Bullets):
        return False
    return not (isinstance(before, b.Table | b.Answer) and isinstance(block, b.Paragraph | b.Answer))


def _lines(block: Block, width: int) -> list[Line]:
    measure = min(width, MEASURE)
    match block:
        case b.Heading():
            return _heading(block, width)
        case b.Paragraph():
            return wrapped(block.spans, measure)
        case b.Pairs():
            return _pairs(block, measure)
        case b.Answer():
            mark = "" if block.question.endswith("?") else ":"
            question = (
                Span(f"{block.question}{mark} "),
                Span(f"{block.answer.rstrip('.')}.", "verdict"),
                Span(" "),
            )
            return indented(wrapped((*question, *block.reason), measure - 2), "", "  ")
        case b.Entry():
            return _entry(block, measure)
        case b.Bullets():
            return _bullets(block, measure)
        case b.Table():
            return table_lines(block, width)
        case b.Box():
            return _box(block, measure)
        case b.Picture():
            return wrapped((Span(f"Roof plan {block.plan.name}: {block.plan.alt}"),), measure)


def _heading(block: b.Heading, width: int) -> list[Line]:
    text = clean(block.text)
    if block.level == 1:
        return [(Piece(text, "title"),), (Piece("═" * min(width, MEASURE), "rule"),)]
    if block.level == 2:
        *above, last = wrapped((Span(text, "heading"),), width)
        rule = min(width, MEASURE) - width_of(last) - 1
        return [*above, (*last, Piece(" " + "─" * rule, "rule")) if rule > 0 else last]
    return wrapped((Span(text, "strong"),), width)


def _pairs(block: b.Pairs, width: int) -> list[Line]:
    margin = max(cells(label) for label, _ in block.rows) + 2
    lines: list[Line] = []
    for label, spans in block.rows:
        lines += indented(wrapped(spans, width - margin), label.ljust(margin), " " * margin)
    return lines


def _entry(block: b.Entry, width: int) -> list[Line]:
    title = (
        Span(f"{block.title} — ", "strong"),
        Span("; ".join(part for part in (block.verdict, block.action) if part), "verdict"),
    )
    lines = indented(wrapped(title, width - 4), f"{block.number:>2}  ", "    ")
    body = wrapped(block.body, width - 4) if block.body else []
    for label, spans in block.lines:
        told = wrapped((Span(f"{label}: ", "label"), *spans), width - 6)
        body += indented(told, "", "  ")
    return [*lines, *indented(body, "    ", "    ")]


def _bullets(block: b.Bullets, width: int) -> list[Line]:
    lines: list[Line] = []
    for n, spans in enumerate(block.items, 1):
        mark = f"{n:>2}. " if block.numbered else "  - "
        lines += indented(wrapped(spans, width - 4), mark, "    ")
    return lines


def _box(block: b.Box, width: int) -> list[Line]:
    title = clean(block.title)
    lines: list[Line] = [(Piece(f"┌ {title} " + "─" * max(width - cells(title) - 3, 0), "rule"),)]
    for spans in block.items:
        lines += indented(wrapped(spans, width - 4), "│ - ", "│   ", "rule")
    return [*lines, (Piece("└" + "─" * (width - 1), "rule"),)]
