"""What is known of a table before its rows are read: its headings, its roofs and areas, its units and its caption."""

from __future__ import annotations

import re
from collections.abc import Mapping

from msgspec import Struct

from cleatmark.spec.context import Heading
from cleatmark.spec.grid_roofs import ITEM_HEAD, LONGEST_NAME, lettered, roof_columns
from cleatmark.spec.grid_shape import AREAS, BARE, ZONE_ID, Grid, text_of
from cleatmark.spec.grid_words import (
    AREA_HEAD,
    PRESSURE_UNIT,
    UNIT_HEAD,
    area_in,
    area_told,
    is_area_head,
    pressure_words,
    unit_in,
)
from cleatmark.spec.lazy import lazily
from cleatmark.spec.written_units import kind_of_unit

_SAYS_NOTHING = lazily(
    r"(?:values?|criteria|criterion|data|requirements?|minimum requirements?)", re.IGNORECASE
)
_PUSHES = lazily(r"(?:wind )?pressures?(?:,? \(?(?:psf|Pa|kPa)\)?)?$", re.IGNORECASE)
_OF_A_PANEL = lazily(r"\bpanel|\bseam|\brib\b|\bribs\b|\bcoverage\b", re.IGNORECASE)
_LEAD = 24
"""Words at most of the paragraph above a table that is read with its cells, as a caption is."""


class Told(Struct, frozen=True):
    """What is known of a table before its rows are read.

    heads      each column's heading; `roofs` the columns that are each of a roof; `areas` those of wind areas
    outside    what stands above the table, the nearest first; `title` the caption that says what its values are
    pressures  whether a heading or what stands above gives a unit of pressure
    units      the column of units, -1 where there is none
    twins      columns whose numbers the column behind them gives again in another unit
    of_panels  whether the properties that it lists are those of roof panels
    """

    grid: Grid
    heads: tuple[str, ...]
    roofs: frozenset[int]
    areas: frozenset[int]
    outside: str
    title: str
    pressures: bool
    units: int
    twins: Mapping[int, int]
    of_things: bool
    of_panels: bool


def told_of(grid: Grid, caption: str, above: tuple[Heading, ...]) -> Told:
    """What the headings, the caption and what stands above the table, outermost first, say of it."""
    outside = " ".join(head.text for head in reversed(above[-4:]))
    heads = tuple(_head(grid, column, outside) for column in range(grid.columns))
    own = any(PRESSURE_UNIT.search(head) for head in heads)
    pressures = own or bool(PRESSURE_UNIT.search(outside))
    title = caption or (above[-1].text if above else "")
    longest = LONGEST_NAME if caption else _LEAD
    ends = bool(caption) or title.rstrip().endswith(":")
    if len(title.split()) > longest or not ends or PRESSURE_UNIT.search(outside):
        title = ""
    areas = frozenset(
        column
        for column, head in enumerate(heads)
        if is_area_head(head) and (pressures or AREA_HEAD.search(head))
    )
    if not pressures:
        heads = lettered(heads)
    else:
        heads = tuple(head if column in areas else pressure_words(head) for column, head in enumerate(heads))
    return Told(
        grid=grid,
        heads=heads,
        roofs=roof_columns(heads),
        areas=areas,
        outside=outside,
        title=title.rstrip(" :"),
        pressures=own,
        units=next((column for column, head in enumerate(heads) if column and UNIT_HEAD.fullmatch(head)), -1),
        twins=_twins(heads),
        of_things=bool(grid.heads and heads) and bool(ITEM_HEAD.match(heads[0])),
        of_panels=_of_panels(grid, (caption, *heads)),
    )


def _twins(heads: tuple[str, ...]) -> dict[int, int]:
    """Columns that differ only in the unit that they give: "psf | kPa", "Width, in. | Width, mm"."""
    units = [unit_in(head) for head in heads]
    bare = [
        head.replace(unit, "", 1).strip(" ,()") if unit else head
        for head, unit in zip(heads, units, strict=True)
    ]
    return {
        column: column + 1
        for column in range(1, len(heads) - 1)
        if units[column]
        and units[column + 1]
        and units[column] != units[column + 1]
        and kind_of_unit(units[column]) == kind_of_unit(units[column + 1])
        and bare[column] == bare[column + 1]
    }


def _of_panels(grid: Grid, heads: tuple[str, ...]) -> bool:
    """Whether a table's headings, or its first column, name what only a panel has: a seam, a rib, a coverage."""
    first = (cells[0] for cells in grid.rows[grid.heads :])
    labels = (*heads, *(text_of(cell) for cell in first if cell is not None))
    return any(_OF_A_PANEL.search(label) for label in labels)


def _head(grid: Grid, column: int, outside: str) -> str:
    """A column's heading: all its rows, but for one over the whole table."""
    texts: list[str] = []
    for row in range(grid.heads):
        cell = grid.rows[row][column]
        if cell is not None and cell.column_span < grid.columns:
            text = text_of(cell)
            if texts and BARE.match(text) and is_area_head(texts[-1]):
                texts[-1] = area_told(text, texts[-1], outside)
            elif not texts and _numbers_zones(grid, row):
                texts.append(f"Zone {text}")
            elif (
                not texts
                and column
                and text in AREAS
                and (AREA_HEAD.search(outside) or PRESSURE_UNIT.search(outside))
            ):
                texts.append(area_told(text, "", outside))
            elif text and text not in texts and not _SAYS_NOTHING.fullmatch(text):
                texts.append(area_in(text, "", outside) or _against(grid, row, text))
    return " ".join(texts)


def _numbers_zones(grid: Grid, row: int) -> bool:
    """Whether a row of headings is of the numbers of zones alone."""
    return all(cell is not None and ZONE_ID.fullmatch(text_of(cell)) for cell in grid.rows[row])


def _against(grid: Grid, row: int, text: str) -> str:
    """A column's heading; "Pressure" beside a column of suctions is the pressure toward the roof."""
    if not _PUSHES.match(text) or not any(
        cell is not None and "suction" in cell.text.casefold() for cell in grid.rows[row]
    ):
        return text
    return f"inward {text}"
