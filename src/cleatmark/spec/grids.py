"""A table as sentences: what a row's label, its columns' headings and a cell say together.

A unit, sign or level that only the heading, the caption or the paragraph above gives is said in the sentence. A merged
cell is said for each row, roof, zone and area that it spans.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache

from msgspec import Struct

from cleatmark.spec.clauses import Cell, Clause, Section, Table
from cleatmark.spec.context import Heading, heading, said_kinds
from cleatmark.spec.grid_roofs import (
    ITEM_HEAD,
    LONGEST_NAME,
    is_of_roofs,
    lettered,
    names_a_roof,
    roof_columns,
    roof_of_row,
)
from cleatmark.spec.grid_shape import (
    AREAS,
    BARE,
    LONGEST_CELL,
    VALUE,
    ZONE_ID,
    Grid,
    caption_in,
    grid_of,
    once,
    repeats_a_head,
    text_of,
    title_of_rows,
)
from cleatmark.spec.grid_words import (
    AREA_HEAD,
    NOTHING,
    PRESSURE_UNIT,
    UNIT_HEAD,
    ZONE_HEAD,
    area_in,
    area_of_row,
    area_told,
    is_area_head,
    is_zone,
    place_told,
    pressure_words,
    unit_in,
    with_caption_unit,
    with_unit,
)
from cleatmark.spec.lazy import lazily
from cleatmark.spec.lexemes import lex
from cleatmark.spec.lines import line_of
from cleatmark.spec.marks import find_marks
from cleatmark.spec.measures import kind_of_unit
from cleatmark.spec.sentences import Sentence, headings_of, kinds_of
from cleatmark.spec.wording import plain
from cleatmark.spec.zones import zone_at

__all__ = ["LONGEST_CELL", "table_sentences"]

_SAYS_NOTHING = lazily(
    r"(?:values?|criteria|criterion|data|requirements?|minimum requirements?)", re.IGNORECASE
)
_PUSHES = lazily(r"(?:wind )?pressures?(?:,? \(?(?:psf|Pa|kPa)\)?)?$", re.IGNORECASE)
_THING = lazily(
    r"^(?:(?:metal|roof(?:ing)?|standing|seam|concealed|deck|wall|soffit|liner|fascia)\s){0,3}"
    r"(?:panels?|clips?|fasteners?|screws?|walls?|siding|soffits?|flashings?|gutters?|copings?|trim)$",
    re.IGNORECASE,
)
"""A column's heading that names a thing, of which the rows give the properties."""
_OF_A_PANEL = lazily(r"\bpanel|\bseam|\brib\b|\bribs\b|\bcoverage\b", re.IGNORECASE)
_METAL = lazily(r"(?:(?:base|sheet|roof|panel)\s)?(?:metals?|materials?)(?:\stype)?", re.IGNORECASE)
_FINISH = lazily(
    r"(?:coatings?|finish(?:es)?)(?:\s?(?:and|&|/)\s?(?:coatings?|finish(?:es)?))?", re.IGNORECASE
)
_SEAM = lazily(r"(?:panel\s)?seams?(?:\s(?:type|profile))?", re.IGNORECASE)
_HAS_DIGIT = lazily(r"\d")
_UPLIFT = lazily(r"\buplift$", re.IGNORECASE)
_LEFT = lazily(r"(?:see|refer|as\s(?:shown|indicated|noted)|per|on)\b", re.IGNORECASE)
_SHORT = 3
_LEAD = 24
"""Words at most of the paragraph above a table that is read with its cells, as a caption is."""


class _Told(Struct, frozen=True):
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


def table_sentences(section: Section, clause: Clause, lead: str = "") -> Iterator[Sentence]:
    """The sentences of a table, and of the tables in its cells."""
    if clause.table is not None:
        yield from _table(section, clause, clause.table, lead)


def _table(section: Section, clause: Clause, table: Table, lead: str) -> Iterator[Sentence]:
    grid = grid_of(table)
    caption = table.caption or caption_in(grid)
    above = headings_of(section, clause)
    if lead:
        above = (*above, heading(lead))
    if caption:
        above = (*above, heading(caption))
    kinds = kinds_of(section, clause, caption)
    told = _told(grid, caption, above)
    if told.of_panels and told.roofs and "general" in kinds:
        kinds |= {"products"}
    under, title, titled_kinds = above, "", kinds
    for row in range(grid.heads, table.rows):
        if repeats_a_head(grid, row):
            continue
        if over := title_of_rows(grid, row):
            under, title = (*above, heading(f"{over}:")), _placing(over, told)
            titled_kinds = kinds | kinds_of(section, clause, over)
        yield from _row(section, clause, told, row, under, title, titled_kinds)
    for cell in table.cells:
        for inner in cell.tables:
            yield from _table(section, clause, inner, caption or text_of(cell) or lead)


def _told(grid: Grid, caption: str, above: tuple[Heading, ...]) -> _Told:
    outside = " ".join(head.text for head in reversed(above[-4:]))
    heads = tuple(_head(grid, column, outside) for column in range(grid.columns))
    own = any(PRESSURE_UNIT.search(head) for head in heads)
    pressures = own or bool(PRESSURE_UNIT.search(outside))
    title = caption or above[-1].text
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
    return _Told(
        grid=grid,
        heads=heads,
        roofs=roof_columns(heads),
        areas=areas,
        outside=outside,
        title=title.rstrip(" :"),
        pressures=own,
        units=next((column for column, head in enumerate(heads) if column and UNIT_HEAD.fullmatch(head)), -1),
        twins=_twins(heads),
        of_things=bool(grid.heads) and bool(ITEM_HEAD.match(heads[0])),
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


def _row(
    section: Section, clause: Clause, told: _Told, row: int, above: tuple[Heading, ...], title: str,
    kinds: frozenset[str],
) -> Iterator[Sentence]:  # fmt: skip
    """The sentences of a row's cells. `title` is what a row above says of the place or level of those below it."""
    cells = told.grid.rows[row]
    quote = " | ".join(text_of(cell) for cell in once(cells))
    named = _roof_of_row(told, row)
    labels = _labels(told, row, named)
    label = ", ".join(
        filter(
            None, (title, *(_label(told, column, cells[column]) for column in labels if column or not named))
        )
    )
    unit = _unit_of(told, cells)
    places = all(
        is_zone(_label(told, column, cells[column]))
        or (not column and (named or (told.grid.heads and not told.roofs and is_of_roofs(told.heads[0]))))
        for column in labels
    )
    seen: dict[int, str] = {}
    for column, cell in enumerate(cells):
        if cell is None or column in labels or column == told.units or not cell.text.strip():
            continue
        head = told.heads[column]
        if id(cell) in seen and (head == seen[id(cell)] or not _counts_apart(told, column)):
            continue
        seen[id(cell)] = head
        written = text_of(cell)
        if NOTHING.match(written):
            continue
        if _UPLIFT.search(head) and _LEFT.match(written):
            head = f"{head} pressure"
        if column - 1 in told.twins:
            continue
        value = _value(told, cells, column, head, label, unit)
        before = ""
        if told.title and places and (column in told.roofs or is_zone(head)):
            value, before = with_caption_unit(value, told.title), f"{told.title}:"
        given = value != written and PRESSURE_UNIT.search(value)
        roof = head if column in told.roofs or (given and names_a_roof(head)) else named
        tracked = "tracked change" in clause.flags or any(span.kind == "inserted" for span in cell.spans)
        shown = "" if column in told.roofs else head
        label_shown = label
        if told.of_panels and not (shown and label):
            value = _seam(shown or label, value)
            shown, label_shown = _of_a_panel(shown), _of_a_panel(label)
        under = (*above, heading(f"{roof}:")) if roof else above
        if before and _HAS_DIGIT.search(label) and zone_at(label, 0, len(label)) is None:
            label_shown, under = "", (*under, heading(label))
        text = _sentence_text(shown, label_shown, value, before, told, labels)
        yield from _sentence(section, clause, text, quote, kinds, under, tracked, roof)
    if len(labels) == len([cell for cell in cells if cell is not None]) and label:
        yield from _sentence(section, clause, quote.replace(" | ", ": ", 1), quote, kinds, above, False)


def _value(told: _Told, cells: tuple[Cell | None, ...], column: int, head: str, label: str, unit: str) -> str:
    """A cell's value with its unit, and with the same in the other unit that the column behind it gives."""
    cell, twin = cells[column], told.twins.get(column)
    value = with_unit(text_of(cell), head, label, told.outside, unit) if cell is not None else ""
    other = cells[twin] if twin is not None else None
    if twin is None or other is None or not BARE.match(text_of(other)):
        return value
    return f"{value} ({with_unit(text_of(other), told.heads[twin], label, told.outside)})"


def _of_a_panel(name: str) -> str:
    """The name of a property as the panel's: "Metal" in a schedule of panels is the panels' material."""
    if _METAL.fullmatch(name):
        return "Panel material"
    return f"Panel {name}" if _FINISH.fullmatch(name) else name


def _seam(name: str, value: str) -> str:
    """A kind of seam with its noun, which only the heading says: "Seam | Batten"."""
    alone = _SEAM.fullmatch(name) and len(value.split()) <= _SHORT and "seam" not in value.casefold()
    return f"{value} seam" if alone and not _HAS_DIGIT.search(value) else value


def _sentence_text(
    head: str, label: str, value: str, before: str, told: _Told, labels: tuple[int, ...]
) -> str:
    if label and labels == (0,) and told.of_things and _THING.search(head):
        return f"{head} {label}: {value}"
    if not label:
        return f"{before} {head}{', ' if is_zone(head) else ': ' if head else ''}{value}".strip()
    return f"{before} {label}: {', '.join(part for part in (head, value) if part)}".strip()


def _sentence(
    section: Section,
    clause: Clause,
    text: str,
    quote: str,
    kinds: frozenset[str],
    above: tuple[Heading, ...],
    tracked: bool,
    roof: str = "",
) -> Iterator[Sentence]:  # fmt: skip
    smooth, marks = find_marks(plain(" ".join(text.split())))
    lexemes = lex(smooth, 0, len(smooth), marks)
    line = line_of(lexemes)
    if line.items:
        said = said_kinds(line, lexemes)
        yield Sentence(
            clause, section, smooth, quote, tuple(lexemes), line, kinds, above, marks, tracked, roof=roof, said=said
        )  # fmt: skip


def _placing(title: str, told: _Told) -> str:
    """What a row over others says of them that each of their sentences must say: a zone, an area, a level."""
    words = pressure_words(area_in(title, "", told.outside) or place_told(title, ""))
    if words != title or AREA_HEAD.search(title) or is_zone(title):
        return words
    return title if _LEVEL.search(title) else ""


_LEVEL = lazily(
    r"\b(?:allowable|ASD|ultimate|LRFD|strength|positive|negative|inward|outward)\b", re.IGNORECASE
)


def _roof_of_row(told: _Told, row: int) -> str:
    """The roof that a row is for, where the first column is one of roofs: "Main roof", "RP-1"."""
    cell = told.grid.rows[row][0] if told.grid.heads else None
    if cell is None or cell.column_span > 1:
        return ""
    zoned = any(ZONE_HEAD.search(head) for head in told.heads)
    return roof_of_row(told.heads[0].strip(), text_of(cell), told.pressures and not zoned)


def _counts_apart(told: _Told, column: int) -> bool:
    """Whether a merged cell counts once more for a column: one of a roof, a zone or an area."""
    head = told.heads[column]
    return column in told.roofs or is_zone(head) or bool(AREA_HEAD.search(head)) or _begins_with_a_zone(head)


@lru_cache(maxsize=256)
def _begins_with_a_zone(head: str) -> bool:
    """Whether a heading begins with a zone or a roof's letter: "Zone 1 ASD"."""
    return zone_at(head, 0, len(head)) is not None


def _unit_of(told: _Told, cells: tuple[Cell | None, ...]) -> str:
    cell = cells[told.units] if told.units >= 0 else None
    return text_of(cell) if cell is not None else ""


def _labels(told: _Told, row: int, named: str) -> tuple[int, ...]:
    """The columns of a row that say what its values are of."""
    found: list[int] = []
    for column, cell in enumerate(told.grid.rows[row]):
        if cell is None:
            continue
        head = told.heads[column]
        text = text_of(cell)
        if (
            column == 0
            and VALUE.match(text)
            and zone_at(head, 0, len(head))
            and not ZONE_HEAD.fullmatch(head)
        ):
            continue
        if column in told.areas:
            found.append(column)
            continue
        if PRESSURE_UNIT.search(head) or (found and VALUE.match(text) and not ZONE_HEAD.search(head)):
            continue
        if (
            column == 0
            or cell.column == 0
            or ZONE_HEAD.fullmatch(head.strip())
            or (column == 1 and named and ITEM_HEAD.match(head.strip()))
        ):
            found.append(column)
    return tuple(found)


def _label(told: _Told, column: int, cell: Cell | None) -> str:
    if cell is None:
        return ""
    text, head = text_of(cell), told.heads[column]
    if column in told.areas:
        return area_of_row(text, head, told.outside)
    place = area_in(text, head, told.outside) or place_told(text, head)
    return pressure_words(place) if told.pressures or PRESSURE_UNIT.search(told.outside) else place


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
