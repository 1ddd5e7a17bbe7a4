"""A table as sentences: what a row's label, its columns' headings and a cell say together.

A unit, sign or level that only the heading, the caption or the paragraph above gives is said in the sentence. A merged
cell is said for each row, roof, zone and area that it spans.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache

from cleatmark.spec.clauses import Cell, Clause, Section, Table
from cleatmark.spec.context import Heading, heading, said_kinds
from cleatmark.spec.grid_roofs import (
    ITEM_HEAD,
    is_of_roofs,
    names_a_roof,
    roof_of_row,
)
from cleatmark.spec.grid_shape import (
    BARE,
    LONGEST_CELL,
    VALUE,
    caption_in,
    grid_of,
    once,
    repeats_a_head,
    text_of,
    title_of_rows,
)
from cleatmark.spec.grid_told import Told, told_of
from cleatmark.spec.grid_words import (
    AREA_HEAD,
    NOTHING,
    PRESSURE_UNIT,
    ZONE_HEAD,
    area_in,
    area_of_row,
    is_zone,
    place_told,
    pressure_words,
    with_caption_unit,
    with_unit,
)
from cleatmark.spec.lazy import lazily
from cleatmark.spec.lexemes import lex
from cleatmark.spec.lines import line_of
from cleatmark.spec.marks import find_marks
from cleatmark.spec.sentences import Sentence, headings_of, kinds_of
from cleatmark.spec.wording import plain
from cleatmark.spec.zones import zone_at

__all__ = ["LONGEST_CELL", "table_sentences"]

_THING = lazily(
    r"^(?:(?:metal|roof(?:ing)?|standing|seam|concealed|deck|wall|soffit|liner|fascia)\s){0,3}"
    r"(?:panels?|clips?|fasteners?|screws?|walls?|siding|soffits?|flashings?|gutters?|copings?|trim)$",
    re.IGNORECASE,
)
"""A column's heading that names a thing, of which the rows give the properties."""
_METAL = lazily(r"(?:(?:base|sheet|roof|panel)\s)?(?:metals?|materials?)(?:\stype)?", re.IGNORECASE)
_FINISH = lazily(
    r"(?:coatings?|finish(?:es)?)(?:\s?(?:and|&|/)\s?(?:coatings?|finish(?:es)?))?", re.IGNORECASE
)
_SEAM = lazily(r"(?:panel\s)?seams?(?:\s(?:type|profile))?", re.IGNORECASE)
_HAS_DIGIT = lazily(r"\d")
_UPLIFT = lazily(r"\buplift$", re.IGNORECASE)
_LEFT = lazily(r"(?:see|refer|as\s(?:shown|indicated|noted)|per|on)\b", re.IGNORECASE)
_SHORT = 3


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
    told = told_of(grid, caption, above)
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


def _row(
    section: Section, clause: Clause, told: Told, row: int, above: tuple[Heading, ...], title: str,
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


def _value(told: Told, cells: tuple[Cell | None, ...], column: int, head: str, label: str, unit: str) -> str:
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
    head: str, label: str, value: str, before: str, told: Told, labels: tuple[int, ...]
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


def _placing(title: str, told: Told) -> str:
    """What a row over others says of them that each of their sentences must say: a zone, an area, a level."""
    words = pressure_words(area_in(title, "", told.outside) or place_told(title, ""))
    if words != title or AREA_HEAD.search(title) or is_zone(title):
        return words
    return title if _LEVEL.search(title) else ""


_LEVEL = lazily(
    r"\b(?:allowable|ASD|ultimate|LRFD|strength|positive|negative|inward|outward)\b", re.IGNORECASE
)


def _roof_of_row(told: Told, row: int) -> str:
    """The roof that a row is for, where the first column is one of roofs: "Main roof", "RP-1"."""
    cell = told.grid.rows[row][0] if told.grid.heads else None
    if cell is None or cell.column_span > 1:
        return ""
    zoned = any(ZONE_HEAD.search(head) for head in told.heads)
    return roof_of_row(told.heads[0].strip(), text_of(cell), told.pressures and not zoned)


def _counts_apart(told: Told, column: int) -> bool:
    """Whether a merged cell counts once more for a column: one of a roof, a zone or an area."""
    head = told.heads[column]
    return column in told.roofs or is_zone(head) or bool(AREA_HEAD.search(head)) or _begins_with_a_zone(head)


@lru_cache(maxsize=256)
def _begins_with_a_zone(head: str) -> bool:
    """Whether a heading begins with a zone or a roof's letter: "Zone 1 ASD"."""
    return zone_at(head, 0, len(head)) is not None


def _unit_of(told: Told, cells: tuple[Cell | None, ...]) -> str:
    cell = cells[told.units] if told.units >= 0 else None
    return text_of(cell) if cell is not None else ""


def _labels(told: Told, row: int, named: str) -> tuple[int, ...]:
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


def _label(told: Told, column: int, cell: Cell | None) -> str:
    if cell is None:
        return ""
    text, head = text_of(cell), told.heads[column]
    if column in told.areas:
        return area_of_row(text, head, told.outside)
    place = area_in(text, head, told.outside) or place_told(text, head)
    return pressure_words(place) if told.pressures or PRESSURE_UNIT.search(told.outside) else place
