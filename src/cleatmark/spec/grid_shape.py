"""The shape of a table: which cell stands at each place of it, which rows are headings, which rows are titles."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from re import IGNORECASE

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.spec.clauses import Cell, Span, Table
from cleatmark.spec.lazy import lazily
from cleatmark.spec.wording import plain
from cleatmark.spec.zones import zone_at

Row = tuple[Cell | None, ...]

BARE = lazily(r"^[\s(]*[-+±]?\s?\(?\s?\d[\d.,]*\s?\)?(?:\s?[/,;]\s?[-+]?\s?\(?\d[\d.,]*\)?)*[\s)*]*$")
"""A cell of numbers alone: "-22.0", "(48)", "+16 / -38"."""
VALUE = lazily(r"^[\s(<\[]*(?:[-+±]?\s?\(?[\d.]|\[|_{2,})")
"""A cell that begins as a value does."""
_HEAD_WORDS = lazily(
    r"^(?:roof\s)?(?:zones?|items?|locations?|areas?|property|properties|descriptions?|elements?|types?|effective.*|"
    r"components?|roof|building|systems?|mark|material|requirement|feature|tributary.*|wind\sarea.*|"
    r"criteri(?:on|a)|designations?|attributes?|parameters?|characteristics?|tags?|tests?|warrant(?:y|ies))\b",
    IGNORECASE,
)
_MAY_BE_A_LABEL = lazily(
    r"^(?:roof|building|systems?|materials?|types?|marks?|features?|tests?|warrant|components?|designation)",
    IGNORECASE,
)
_NAMES_VALUES = lazily(
    r"\b(?:values?|requirements?|required|descriptions?|criteri(?:on|a)|standards?|methods?|pressures?|uplift|psf|k?Pa|"
    r"spacings?|results?|terms?|years|roofs?|panels?|limits?|minimum|maximum|specified|data|remarks|durations?|loads?|"
    r"suction|negative|positive|ASD|LRFD|ultimate|allowable|types?|materials?|thickness|class|ratings?|designs?|"
    r"propert(?:y|ies)|provisions?|notes?)\b|^[A-Z]{1,4}-\d",
    IGNORECASE,
)
"""The second heading of a table of two columns, which tells them from a first row: "Material | Steel"."""
AREAS = frozenset(("10", "20", "25", "50", "100", "200", "250", "300", "500", "700", "1000", "1,000"))
"""Effective wind areas, square feet, that stand over columns of pressures: common practice, no source."""
_NOTE = lazily(r"\W*(?:notes?|remarks?)\b|\W*\(?\d\)?\s?[.)]|\*", IGNORECASE)
_SPACES = lazily(r"\s+")
_MOST_HEADS = 12
"""Rows at the top of a table that are headings. No table of a specification has so many."""
_LONGEST_TITLE = 8
"""Words at most of a row that is the title of the rows below it."""
LONGEST_CELL = 2_000
"""Characters of one cell that are read."""


class Grid(Struct, frozen=True):
    """rows: the cell that covers each place, None where none does; heads: how many rows at the top are headings."""

    rows: tuple[Row, ...]
    heads: int

    @property
    def columns(self) -> int:
        return len(self.rows[0]) if self.rows else 0


def grid_of(table: Table) -> Grid:
    """The table with each cell at every place that it spans, without its struck words."""
    rows: list[list[Cell | None]] = [[None] * table.columns for _ in range(table.rows)]
    for cell in table.cells:
        struck = [span for span in cell.spans if span.kind == "struck"]
        shown = _unstruck(cell, struck) if struck else cell
        if len(shown.text) > LONGEST_CELL:
            shown = replace(shown, text=shown.text[:LONGEST_CELL])
        for row in range(cell.row, min(cell.row + cell.row_span, table.rows)):
            for column in range(cell.column, min(cell.column + cell.column_span, table.columns)):
                rows[row][column] = shown
    grid = tuple(tuple(row) for row in rows)
    return Grid(grid, _heads(grid))


def text_of(cell: Cell) -> str:
    """A cell's words on one line."""
    return _SPACES.sub(" ", plain(cell.text)).strip()


def once(cells: Row) -> list[Cell]:
    """The cells of a row, each once."""
    return list({id(cell): cell for cell in cells if cell is not None}.values())


def texts_of(cells: Iterable[Cell]) -> tuple[str, ...]:
    """The words of cells."""
    return tuple(text_of(cell) for cell in cells)


def repeats_a_head(grid: Grid, row: int) -> bool:
    """Whether a row only says the headings again, as at the top of a page."""
    own = [cell.text.casefold().split() for cell in once(grid.rows[row])]
    return bool(own) and any(
        own == [cell.text.casefold().split() for cell in once(grid.rows[head])] for head in range(grid.heads)
    )


def caption_in(grid: Grid) -> str:
    """The words of a heading over the whole width, which is the table's caption; else ""."""
    for row in range(grid.heads):
        cells = once(grid.rows[row])
        if len(cells) == 1 and grid.columns > 1 and cells[0].column_span >= grid.columns:
            return text_of(cells[0])
    return ""


def title_of_rows(grid: Grid, row: int) -> str:
    """The words of a row that is only a title over the rows below it: "Roof A", "Allowable pressures"; else ""."""
    if row + 1 >= len(grid.rows) or grid.columns < 2:
        return ""
    filled = [cell for cell in once(grid.rows[row]) if cell.text.strip()]
    if len(filled) != 1 or filled[0].row_span > 1 or filled[0].tables:
        return ""
    across = filled[0].column_span >= grid.columns
    if not across and (grid.columns < 3 or grid.rows[row][0] is not filled[0]):
        return ""
    words = text_of(filled[0])
    if len(words.split()) > _LONGEST_TITLE or words.endswith(".") or _NOTE.match(words) or BARE.match(words):
        return ""
    return words


def _unstruck(cell: Cell, struck: list[Span]) -> Cell:
    text = cell.text
    for span in struck:
        text = text[: span.start] + " " * (span.end - span.start) + text[span.end :]
    return replace(cell, text=text)


def _heads(rows: tuple[Row, ...]) -> int:
    """How many rows at the top are headings."""
    flagged = 0
    while (
        flagged < len(rows) and rows[flagged] and all(cell is None or cell.header for cell in rows[flagged])
    ):
        flagged += 1
    heads = 0
    if flagged:
        under = max(cell.row + cell.row_span for row in rows[:flagged] for cell in row if cell is not None)
        heads = max(flagged, min(under, _MOST_HEADS))
        if not _spans(rows, heads - 1):
            return min(heads, len(rows) - 1) if len(rows) > 1 else 0
    while heads < min(len(rows) - 1, _MOST_HEADS) and _is_head(rows, heads):
        heads += 1
        if not _spans(rows, heads - 1):
            break
    return min(heads, max(len(rows) - 1, 0))


def _spans(rows: tuple[Row, ...], row: int) -> bool:
    """Whether a row of headings has one over several columns, so that more may stand below it."""
    return row < len(rows) and any(cell is not None and cell.column_span > 1 for cell in rows[row])


def _is_head(rows: tuple[Row, ...], row: int) -> bool:
    cells = once(rows[row])
    if len(cells) == 1 and len(rows[row]) > 1:
        return row == 0 or _is_head(rows, row - 1)
    if row and any(cell is not None and cell.row < row for cell in rows[row]):
        return True
    first = text_of(cells[0]) if cells else ""
    rest = texts_of(cells[1:])
    named = len(rest) != 1 or not _MAY_BE_A_LABEL.match(first) or _NAMES_VALUES.search(rest[0])
    if named and _HEAD_WORDS.match(first) and not any(BARE.match(text) for text in rest):
        return True
    following = texts_of(once(rows[row + 1]))
    if not row and (_all_places(rest) or (_all_zones(first, rest) and all(map(BARE.match, following)))):
        return True
    if not row and len(rest) > 1 and first.casefold() in ("zone", "roof zone") and AREAS.issuperset(rest):
        return True
    values = [text for text in rest if VALUE.match(text)]
    return not values and any(BARE.match(text) for text in following[1:])


def _all_places(texts: Sequence[str]) -> bool:
    """Whether cells are all names of zones: "Field | Perimeter | Corner"."""
    zones = [zone_at(text, 0, len(text)) for text in texts]
    return len(texts) > 1 and all(
        zone and zone.end == len(text) for zone, text in zip(zones, texts, strict=True)
    )


def _all_zones(first: str, rest: Sequence[str]) -> bool:
    """Whether a row is of the numbers of zones alone: "1 | 1' | 2 | 3"."""
    ids = (first, *rest)
    return len(set(ids)) == len(ids) > 2 and first == "1" and all(ZONE_ID.fullmatch(text) for text in ids)


ZONE_ID = lazily(r"[1-3]\s?'?[enr]?", IGNORECASE)
