"""A table as sentences: what a row's label, its columns' headings and a cell say together.

A unit, sign or level that only the heading, the caption or the paragraph above gives is said in the sentence.
"""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.spec import zones
from cleatmark.spec.clauses import Cell, Clause, Section, Span, Table
from cleatmark.spec.context import Heading, heading, said_kinds
from cleatmark.spec.lazy import lazily
from cleatmark.spec.lexemes import lex
from cleatmark.spec.lines import line_of
from cleatmark.spec.marks import find_marks
from cleatmark.spec.measures import UNIT, kind_of_unit, unit_given
from cleatmark.spec.sentences import Sentence, headings_of, kinds_of
from cleatmark.spec.wording import plain
from cleatmark.spec.zones import zone_at

_BARE = lazily(r"^[\s(]*[-+±]?\s?\(?\s?\d[\d.,]*\s?\)?(?:\s?[/,;]\s?[-+]?\s?\(?\d[\d.,]*\)?)*[\s)*]*$")
_VALUE = lazily(r"^[\s(<\[]*(?:[-+±]?\s?\(?[\d.]|\[|_{2,})")
_HEAD_WORDS = lazily(
    r"^(?:roof\s)?(?:zones?|items?|locations?|areas?|property|properties|descriptions?|elements?|types?|effective.*|"
    r"components?|roof|building|systems?|mark|material|requirement|feature|tributary.*|wind\sarea.*)\b",
    re.IGNORECASE,
)
_ZONE_HEAD = lazily(r"\bzones?\b", re.IGNORECASE)
_AREA_HEAD = lazily(
    r"\b(?:effective|wind|tributary)\s(?:wind\s)?area|\bsq\.?\s?ft|\bsquare\sfeet|\bs\.?f\.?\b|\bEWA\b",
    re.IGNORECASE,
)
_PRESSURE_UNIT = lazily(
    r"\bpsf\b|\bkPa\b|\bPa\b|\blbf?s?\.?\s?(?:/|per)\s?(?:sq\.?\s?ft\.?|sf|ft2|ft²|square\s(?:foot|feet))|"
    r"\bpounds?\s(?:force\s)?per\ssquare\sfoot|\bkgf?/m2|\bkg/m²|\bN/m²|\bN/m2",
    re.IGNORECASE,
)
_ZONE_NAME = lazily(
    r"^\(?(?:P\s?\(?[1-5]\)?|[1-5]\s?(?:'|prime)?\s?(?:oh|[enr])?|[A-E])\)?(?:\s?(?:,|/|&|and|or)\s?(?:[1-5]'?(?:oh|[enr])?|[A-E]))*$",
    re.IGNORECASE,
)
_ALL = lazily(r"all(?: (?:roof )?(?:zones?|areas?))?", re.IGNORECASE)
_SAYS_NOTHING = lazily(
    r"(?:values?|criteria|criterion|data|requirements?|minimum requirements?)", re.IGNORECASE
)
_PUSHES = lazily(r"(?:wind )?pressures?(?:,? \(?(?:psf|Pa|kPa)\)?)?$", re.IGNORECASE)
_AREAS_AT = lazily(r"(?:effective|tributary) (?:wind )?areas?|(?:all|any|each) areas?", re.IGNORECASE)
_NO_PRESSURE = lazily(
    r"\b(?:area|width|slope|height|gauge|thickness|spacing|span|length|speed|year|class)s?\b", re.IGNORECASE
)
_THOUSANDS = lazily(r"(\d)[ ,](\d{3})\b")
_NO_ROOF = lazily(
    r"\d|zone|area|psf|\bpa\b|kpa|pressure|uplift|load|inward|outward|positive|negative|down|\bup\b|suction|sq|asd|lrfd|"
    r"ultimate|allowable|strength|nominal|class|value|maximum|minimum|requirement|field|interior|perimeter|corner|edge|"
    r"eave|rake|ridge|overhang|wind|design|lb|force|remarks|note",
    re.IGNORECASE,
)
_SPACES = lazily(r"\s+")


_ROOF_HEAD = lazily(
    r"^(?:roofs?|roof\s(?:areas?|types?|names?|systems?|marks?)|areas?|buildings?|structures?|wings?|marks?|tags?|"
    r"(?:panel|system|assembly)\s(?:types?|marks?))$",
    re.IGNORECASE,
)
_ITEM_HEAD = lazily(
    r"^(?:items?|propert(?:y|ies)|elements?|components?|requirements?|features?|criteri(?:on|a)|descriptions?|"
    r"characteristics?|parameters?|subjects?|layers?|)$",
    re.IGNORECASE,
)
_ROOF_NAME = lazily(
    r"^(?:(?:[A-Z][\w'-]*|of|and|the|&)\s?){1,4}(?:\s?\([A-Z]{1,4}-?\d{1,2}\))?$|^[A-Z]{1,4}-?\d{1,2}[A-Z]?$|^Roof\s\w{1,3}$"
)
_NO_NAME = lazily(
    r"\b(?:values?|requirements?|methods?|standards?|tests?|results?|units?|remarks|notes?|terms?|by|minimum|maximum|"
    r"specified|required|section|article|reference|years?|sheet|drawing|materials?|metric|english|SI|US|type|date|copies|"
    r"manufacturer|model|criteria|products?|locations?|descriptions?|performance|limits?)\b",
    re.IGNORECASE,
)


_THING = lazily(
    r"^(?:(?:metal|roof(?:ing)?|standing|seam|concealed|deck)\s){0,3}(?:panels?|clips?|fasteners?|screws?)$",
    re.IGNORECASE,
)
"""A column's heading that names a thing, of which the rows give the properties."""


_NOTHING = lazily(r"^[\s(]*(?:n\s?[/.]?\s?a\.?|not\sapplicable|[-\u2013\u2014.]+|nil)[\s)]*$", re.IGNORECASE)
_LETTERED = lazily(r"^(?:roof\s(?:areas?|types?|systems?|marks?)|roofs?|buildings?)$", re.IGNORECASE)


class _Grid(Struct, frozen=True):
    rows: tuple[tuple[Cell | None, ...], ...]
    heads: int


def table_sentences(section: Section, clause: Clause, lead: str = "") -> Iterator[Sentence]:
    """The sentences of a table, and of the tables in its cells."""
    if clause.table is not None:
        yield from _table(section, clause, clause.table, lead)


def _table(section: Section, clause: Clause, table: Table, lead: str) -> Iterator[Sentence]:
    grid = _grid(table)
    above = headings_of(section, clause)
    if lead:
        above = (*above, heading(lead))
    if table.caption:
        above = (*above, heading(table.caption))
    kinds = kinds_of(section, clause, table.caption)
    of_roofs = _of_roofs(grid)
    outside = " ".join([*(head.text for head in reversed(above[-4:]))])
    title = (
        "" if len(table.caption.split()) > _LONGEST_NAME or _PRESSURE_UNIT.search(outside) else table.caption
    )
    for row in range(grid.heads, table.rows):
        cells = grid.rows[row]
        quote = " | ".join(_text(cell) for cell in _once(cells))
        labels = _labels(grid, row)
        named = _roof_of_row(grid, row)
        label_tells = not title or any(not _is_place(grid, column, row) for column in labels)
        label = ", ".join(
            text for text in (_labelled(grid, column, cells[column]) for column in labels) if text
        )
        seen: set[int] = set()
        for column, cell in enumerate(cells):
            if cell is None or column in labels or id(cell) in seen or not cell.text.strip():
                continue
            seen.add(id(cell))
            head = _head(grid, column)
            if _NOTHING.match(_text(cell)):
                continue
            value = _with_unit(_text(cell), head, label, outside)
            if not label_tells and (of_roofs or _is_zone(_head(grid, column).strip())):
                value = _with_caption_unit(value, title)
                told = title
            else:
                told = ""
            text = ", ".join(part for part in (head, value) if part)
            if label and labels == (0,) and _of_things(grid) and _THING.search(head):
                text = f"{head} {label}: {value}"
            else:
                text = " ".join(
                    filter(None, (f"{told}:" if told else "", f"{label}: {text}" if label else text))
                )
            tracked = "tracked change" in clause.flags or any(span.kind == "inserted" for span in cell.spans)
            given = value != _text(cell) and _PRESSURE_UNIT.search(value)
            roof = head if given and _names_a_roof(head) else named
            if not roof and of_roofs and column not in labels:
                roof = head
            yield from _sentence(section, clause, " ".join(text.split()), quote, kinds, above, tracked, roof)
        if len(labels) == len([c for c in cells if c is not None]) and label:
            yield from _sentence(section, clause, quote.replace(" | ", ": ", 1), quote, kinds, above, False)
    for cell in table.cells:
        for inner in cell.tables:
            yield from _table(section, clause, inner, table.caption or _text(cell) or lead)


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
    smooth, marks = find_marks(plain(text))
    lexemes = lex(smooth, 0, len(smooth), marks)
    line = line_of(lexemes)
    if line.items:
        said = said_kinds(line, lexemes)
        yield Sentence(
            clause, section, smooth, quote, tuple(lexemes), line, kinds, above, marks, tracked, roof=roof, said=said
        )  # fmt: skip


def _roof_of_row(grid: _Grid, row: int) -> str:
    """The roof that a row is for, where the first column is one of roofs: "Main roof", "RP-1"."""
    cell = grid.rows[row][0] if grid.heads else None
    if cell is None or cell.column_span > 1 or not _ROOF_HEAD.match(_head(grid, 0).strip()):
        return ""
    name = _text(cell)
    if _LETTERED.match(_head(grid, 0).strip()) and re.fullmatch(r"[A-Z]", name):
        return "" if _pressures(grid) else f"{_head(grid, 0).strip().removesuffix('s')} {name}"
    if len(name.split()) > _LONGEST_NAME or _VALUE.match(name) or _ZONE_NAME.match(name):
        return ""
    return "" if zone_at(name, 0, len(name)) else name


_LONGEST_NAME = 6


def _pressures(grid: _Grid) -> bool:
    """Whether a heading of the table gives a unit of pressure."""
    return any(_PRESSURE_UNIT.search(_head(grid, column)) for column in range(len(grid.rows[0])))


def _is_place(grid: _Grid, column: int, row: int) -> bool:
    """Whether a cell that labels its row names only a zone or a roof."""
    cell = grid.rows[row][column]
    return _is_zone(_labelled(grid, column, cell)) or (column == 0 and bool(_roof_of_row(grid, row)))


def _is_zone(name: str) -> bool:
    """Whether a text names a zone and nothing else."""
    zone = zone_at(name, 0, len(name)) if name else None
    return bool(zone and zone.end == len(name))


def _with_caption_unit(value: str, caption: str) -> str:
    """A bare number with the unit that the table's caption gives: "Clip spacing, inches"."""
    unit = unit_given(caption, labelled=True) if _BARE.match(value) else ""
    return f"{value} {unit}" if unit else value


def _of_roofs(grid: _Grid) -> bool:
    """Whether the columns behind the first are each of a roof: "Item | Gymnasium | Library"."""
    first = _head(grid, 0).strip() if grid.heads and grid.rows else "-"
    if not (_ITEM_HEAD.match(first) or _ZONE_HEAD.fullmatch(first)):
        return False
    heads = [_head(grid, column) for column in range(1, len(grid.rows[0]))]
    return len(heads) > 1 and all(
        _ROOF_NAME.match(head) and not _NO_NAME.search(head) and not _NO_ROOF.search(head) for head in heads
    )


def _of_things(grid: _Grid) -> bool:
    """Whether the first column lists properties, and the others stand under the names of things."""
    return bool(grid.heads) and bool(_ITEM_HEAD.match(_head(grid, 0)))


def _names_a_roof(head: str) -> bool:
    """Whether the heading of a column of pressures names a roof: "Main roof", "Cupola"."""
    return bool(head) and not _NO_ROOF.search(head)


_MOST_HEADS = 12
"""Rows at the top of a table that are headings. No table of a specification has so many."""
LONGEST_CELL = 2_000
"""Characters of one cell that are read."""


def _grid(table: Table) -> _Grid:
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
    return _Grid(grid, _heads(grid))


def _unstruck(cell: Cell, struck: list[Span]) -> Cell:
    text = cell.text
    for span in struck:
        text = text[: span.start] + " " * (span.end - span.start) + text[span.end :]
    return Cell(
        text, cell.row, cell.column, cell.row_span, cell.column_span, cell.header, cell.tables, cell.spans
    )


def _heads(rows: tuple[tuple[Cell | None, ...], ...]) -> int:
    """How many rows at the top are headings."""
    flagged = 0
    while (
        flagged < len(rows) and rows[flagged] and all(cell is None or cell.header for cell in rows[flagged])
    ):
        flagged += 1
    if flagged:
        return min(flagged, len(rows) - 1) if len(rows) > 1 else 0
    heads = 0
    while heads < min(len(rows) - 1, _MOST_HEADS) and _is_head(rows, heads):
        heads += 1
        if not any(cell is not None and cell.column_span > 1 for cell in rows[heads - 1]):
            break
    return heads


def _is_head(rows: tuple[tuple[Cell | None, ...], ...], row: int) -> bool:
    cells = _once(rows[row])
    if len(cells) == 1 and len(rows[row]) > 1:
        return row == 0 or _is_head(rows, row - 1)
    if row and any(cell is not None and cell.row < row for cell in rows[row]):
        return True
    first = _text(cells[0]) if cells else ""
    rest = [_text(cell) for cell in cells[1:]]
    if _HEAD_WORDS.match(first) and not any(_BARE.match(text) for text in rest):
        return True
    values = [text for text in rest if _VALUE.match(text)]
    following = [_text(cell) for cell in _once(rows[row + 1])[1:]]
    return not values and any(_BARE.match(text) for text in following)


def _labels(grid: _Grid, row: int) -> tuple[int, ...]:
    """The columns of a row that say what its values are of."""
    cells = grid.rows[row]
    found: list[int] = []
    for column, cell in enumerate(cells):
        if cell is None:
            continue
        head = _head(grid, column)
        text = _text(cell)
        if column == 0 and _VALUE.match(text) and zones.zone_at(head, 0, len(head)):
            continue
        if _PRESSURE_UNIT.search(head) or (
            found and _VALUE.match(text) and not (_ZONE_HEAD.search(head) or _AREA_HEAD.search(head))
        ):
            continue
        if (
            column == 0
            or (cell.column == 0)
            or _ZONE_HEAD.fullmatch(head.strip())
            or (column == 1 and _ITEM_HEAD.match(head.strip()) and _roof_of_row(grid, row))
            or (_AREA_HEAD.search(head) and _AREA_HEAD.search(head) and _is_area_column(grid, column))
        ):
            found.append(column)
    return tuple(found)


def _is_area_column(grid: _Grid, column: int) -> bool:
    """Whether a column's heading names the area itself, and not a pressure at an area ("10 sq ft")."""
    return not re.search(r"\d", _head(grid, column)) and not re.search(
        r"pressure|uplift|load", _head(grid, column), re.IGNORECASE
    )


def _labelled(grid: _Grid, column: int, cell: Cell | None) -> str:
    if cell is None:
        return ""
    text, head = _text(cell), _head(grid, column)
    if _ALL.fullmatch(text) and (_ZONE_HEAD.search(head) or not head):
        return "All zones"
    if _ZONE_NAME.match(text) and (_ZONE_HEAD.search(head) or not head):
        return f"Zone {text}"
    if _AREA_HEAD.search(head) and _BARE.match(text):
        return f"effective wind area {text} sq ft"
    return text


def _head(grid: _Grid, column: int) -> str:
    texts: list[str] = []
    for row in range(grid.heads):
        cell = grid.rows[row][column] if column < len(grid.rows[row]) else None
        if cell is not None and cell.column_span < len(grid.rows[row]):
            text = _text(cell)
            if texts and _BARE.match(text) and _AREA_HEAD.search(texts[-1]):
                texts[-1] = f"effective wind area {text} sq ft"
            elif text and text not in texts and not _SAYS_NOTHING.fullmatch(text):
                texts.append(_against(grid, row, text))
    return " ".join(texts)


def _against(grid: _Grid, row: int, text: str) -> str:
    """A column's heading; "Pressure" beside a column of suctions is the pressure toward the roof."""
    if not _PUSHES.match(text) or not any(
        cell is not None and "suction" in cell.text.casefold() for cell in grid.rows[row]
    ):
        return text
    return f"inward {text}"


def _with_unit(value: str, head: str, label: str, outside: str) -> str:
    """A bare number with the pressure unit that its heading, label or caption gives."""
    if not _BARE.match(_THOUSANDS.sub(r"\1\2", value)):
        return value
    if (unit_told := unit_given(label, labelled=True)) and kind_of_unit(unit_told) != "pressure":
        return f"{value} {unit_told}"
    own = head if not _NO_PRESSURE.search(_AREAS_AT.sub("", head)) or _PRESSURE_UNIT.search(head) else None
    if own is None:
        unit = UNIT.search(head)
        if unit is None or kind_of_unit(unit.group()) in ("area", "pressure"):
            return value
        return f"{value} {head[unit.start('at') : unit.end()]}"
    for text in (head, label, outside):
        if unit := _PRESSURE_UNIT.search(text):
            parts = re.split(r"\s?[/;]\s?|,\s", _THOUSANDS.sub(r"\1\2", value.strip(" *")))
            return " / ".join(f"{_sign(part)} {unit.group()}" for part in parts)
    return value


def _sign(number: str) -> str:
    inner = number.strip()
    if inner.startswith("(") and inner.endswith(")"):
        return f"-{inner[1:-1].strip().lstrip('-')}"
    return inner.replace("- ", "-").replace("+ ", "+")


def _once(cells: tuple[Cell | None, ...]) -> list[Cell]:
    found: list[Cell] = []
    for cell in cells:
        if cell is not None and not any(cell is other for other in found):
            found.append(cell)
    return found


def _text(cell: Cell) -> str:
    return _SPACES.sub(" ", plain(cell.text)).strip()
