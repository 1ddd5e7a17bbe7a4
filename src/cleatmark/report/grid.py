"""Tables as lines: columns fitted to the width, or a record a row where they do not fit."""

from __future__ import annotations

from cleatmark.report.blocks import Row, Span, Spans, Table
from cleatmark.report.lines import Line, Piece, indented, width_of, words_of, wrapped

GAP = 2
_NARROW = 7
_SHORT = 12
"""A column of so few letters is not broken for a longer one's sake."""


def table_lines(table: Table, width: int) -> list[Line]:
    """Caption, column heads, a rule, then the rows."""
    lines = wrapped((Span(table.caption, "strong"),), width) if table.caption else []
    widths = fitted(table, width)
    if widths is None:
        return lines + _records(table, width)
    rights = [column.right for column in table.columns]
    heads = [
        wrapped((Span(column.title, "head"),), w) for column, w in zip(table.columns, widths, strict=True)
    ]
    lines += _row(heads, widths, rights, bottom=True)
    lines.append((Piece((" " * GAP).join("─" * w for w in widths), "rule"),))
    for row in table.rows:
        lines += _row([wrapped(cell, w) for cell, w in zip(row.cells, widths, strict=True)], widths, rights)
    return lines


def fitted(table: Table, width: int) -> list[int] | None:
    """A width for each column, or None where the columns do not fit beside each other."""
    heads = [(Span(column.title),) for column in table.columns]
    bodies = [[row.cells[n] for row in table.rows] for n in range(len(heads))]
    least = [_widest_word([head, *body]) for head, body in zip(heads, bodies, strict=True)]
    least = [min(one, max(_NARROW, width // 4)) for one in least]
    body = [max(pair) for pair in zip(least, map(_natural, bodies), strict=True)]
    whole = [max(pair) for pair in zip(body, (_natural([head]) for head in heads), strict=True)]
    room = width - GAP * (len(heads) - 1)
    if sum(least) > room:
        return None
    widths = least
    shorts = [wide if wide <= _SHORT else least[n] for n, wide in enumerate(body)]
    for wanted in (shorts, body, whole):
        widths = _widened(widths, wanted, room)
    return widths


def _natural(cells: list[Spans]) -> int:
    return max((width_of(wrapped(cell, 10_000)[0]) for cell in cells), default=1)


def _widest_word(cells: list[Spans]) -> int:
    return max((width_of(word) for cell in cells for word in words_of(cell)), default=1)


def _widened(widths: list[int], wanted: list[int], room: int) -> list[int]:
    """The widths grown towards those wanted while there is room, the most cramped column first."""
    widths = list(widths)
    while sum(widths) < room:
        wanting = [n for n, wide in enumerate(widths) if wide < wanted[n]]
        if not wanting:
            break
        widths[max(wanting, key=lambda n: wanted[n] / widths[n])] += 1
    return widths


def _row(made: list[list[Line]], widths: list[int], rights: list[bool], bottom: bool = False) -> list[Line]:
    height = max(len(cell) for cell in made)
    lines: list[Line] = []
    for n in range(height):
        pieces: list[Piece] = []
        for cell, wide, right in zip(made, widths, rights, strict=True):
            at = n - (height - len(cell)) if bottom else n
            text: Line = cell[at] if 0 <= at < len(cell) else ()
            fill = Piece(" " * (wide - width_of(text)))
            pieces += [fill, *text] if right else [*text, fill]
            pieces.append(Piece(" " * GAP))
        lines.append(_trimmed(pieces))
    return lines


def _trimmed(pieces: list[Piece]) -> Line:
    kept = [piece for piece in pieces if piece.text]
    while kept and not kept[-1].text.strip():
        kept.pop()
    return tuple(kept)


def _records(table: Table, width: int) -> list[Line]:
    lines: list[Line] = []
    for row in table.rows:
        lines += _record(table, row, width)
    return lines


def _record(table: Table, row: Row, width: int) -> list[Line]:
    spans: list[Span] = []
    for column, cell in zip(table.columns, row.cells, strict=True):
        if spans:
            spans.append(Span("; "))
        spans += [Span(f"{column.title}: ", "head"), *cell]
    return indented(wrapped(tuple(spans), width - 2), "- ", "  ")
