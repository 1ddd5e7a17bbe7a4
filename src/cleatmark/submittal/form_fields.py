"""The fields of a filled DOCX form: what stands in its content controls, and in which table, row and column."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.docxfile.limits import Limits
from cleatmark.docxfile.package import MC, Package, W, refuse
from cleatmark.fields import FieldBook
from cleatmark.forms import CHOOSE, EMPTY, PROPERTY, ROW_STYLE, SUCH_AS, tags

if TYPE_CHECKING:
    from lxml.etree import _Element

_SDT, _CONTENT, _PROPERTIES = W + "sdt", W + "sdtContent", W + "sdtPr"
_TABLE, _ROW, _CELL = W + "tbl", W + "tr", W + "tc"
_THROUGH = frozenset((_SDT, _CONTENT, W + "customXml", W + "ins", W + "moveTo"))
_GONE = frozenset((W + "del", W + "moveFrom", W + "instrText", W + "delText", MC + "Fallback", _PROPERTIES))
_SPACES = frozenset((W + "br", W + "cr", W + "tab", W + "p"))
_VAL = W + "val"
_WORDS_OWN = "PlaceholderText"
"""The style of the hint that a word processor puts where the form's own was lost."""


class Filled(Struct, frozen=True):
    """One field of the form as it was filled in.

    text    "" where it is empty or shows its hint
    table   number of the table in the document, 0 outside of tables
    row     as numbered on paper, the first is 1
    line    of all rows of all tables, those without a number counted too
    column  of the table's grid, 0 the row's number
    label   the words of the cell before it that has no field
    """

    tag: str
    text: str
    table: int
    row: int
    line: int
    column: int
    label: str = ""


def fields_of_form(path: Path, book: FieldBook, limits: Limits | None = None) -> list[Filled]:
    """Every field of the form in order, the empty ones too. Raises InputError where it is no DOCX."""
    with Package(path, limits or Limits()) as package:
        return list(_Reader(book).read(package.root(_main_part(package))))


def _main_part(package: Package) -> str:
    for link in package.relationships("").values():
        if link.kind == "officeDocument" and not link.external:
            return link.target
    refuse(package.file, "this is a ZIP archive but not a DOCX: no Word document in it")


class _Reader:
    """Walks the document once, counting tables and numbered rows."""

    def __init__(self, book: FieldBook) -> None:
        self._titles = {title: tag for tag, title in tags(book).items()}
        self._tables = self._rows = self._lines = 0

    def read(self, root: _Element) -> Iterator[Filled]:
        for element in root:
            yield from self._visit(element)

    def _visit(self, element: _Element) -> Iterator[Filled]:
        if element.tag == _TABLE:
            self._tables += 1
            yield from self._named([field for row in _inside(element, _ROW) for field in self._row(row)])
        elif element.tag == _SDT and self._tag(element) and element.find(f".//{_TABLE}") is None:
            yield Filled(self._tag(element), _told(element, element), 0, self._rows, self._lines, 0)
        elif element.tag not in _GONE:
            for child in element:
                yield from self._visit(child)

    def _row(self, row: _Element) -> Iterator[Filled]:
        self._lines += 1
        if any(style.get(_VAL) == ROW_STYLE for style in row.iter(W + "pStyle")):
            self._rows += 1
        number, column, label = self._rows or self._lines, 0, ""
        for cell in _inside(row, _CELL):
            controls = [
                control
                for control in (*_around(cell, row), *cell.iter(_SDT))
                if not any(above.tag in _GONE for above in control.iterancestors())
            ]
            controls = [control for control in controls if self._tag(control)] or controls[:1]
            for control in controls:
                text = _told(control, cell if len(controls) == 1 else control)
                yield Filled(self._tag(control), text, self._tables, number, self._lines, column, label)
            if not controls:
                label = _text(cell) or label
            column += _width(cell)

    def _tag(self, control: _Element) -> str:
        """The control's tag, or the one that belongs to its title where a word processor lost the tag."""
        return _property(control, "tag") or self._titles.get(_property(control, "alias"), "")

    def _named(self, fields: list[Filled]) -> Iterator[Filled]:
        """The fields of a table; one that lost its name too is known by its label, or by its neighbours."""
        by_line: dict[int, str] = {}
        for field in fields:
            if field.tag:
                by_line.setdefault(field.line, field.tag)
        first = next(iter(by_line.values()), "")
        for field in fields:
            yield (
                field if field.tag else replace(field, tag=self._guess(field, by_line.get(field.line, first)))
            )

    def _guess(self, field: Filled, neighbour: str) -> str:
        scope = neighbour.partition(".")[0]
        known = [
            (title.rpartition(" (")[0], tag)
            for title, tag in self._titles.items()
            if tag.startswith(f"{scope}.")
        ]
        fitting = [(len(title), tag) for title, tag in known if title and field.label.startswith(title)]
        if fitting:
            return max(fitting)[1]
        return next((tag for _, tag in known if tag in ("departure.field", f"{scope}.{PROPERTY}")), "")


def _around(cell: _Element, row: _Element) -> tuple[_Element, ...]:
    """The control that holds the whole cell, if one does."""
    parent = cell.getparent()
    holder = parent.getparent() if parent is not None and parent.tag == _CONTENT else None
    return (holder,) if holder is not None and holder is not row and _property(holder, "tag") else ()


def _inside(element: _Element, wanted: str) -> Iterator[_Element]:
    """The rows of a table or cells of a row, also those inside a control."""
    for child in element:
        if child.tag == wanted:
            yield child
        elif child.tag in _THROUGH:
            yield from _inside(child, wanted)


def _width(cell: _Element) -> int:
    span = cell.find(f"{W}tcPr/{W}gridSpan")
    text = span.get(_VAL, "") if span is not None else ""
    return int(text) if text.isdecimal() and len(text) < 4 else 1


def _property(control: _Element, name: str) -> str:
    found = control.find(f"{_PROPERTIES}/{W}{name}")
    return found.get(_VAL, "") if found is not None else ""


def _told(control: _Element, whole: _Element) -> str:
    """What was written: the text of the control, and what was typed beside it in its cell. "" for a hint."""
    own = _text(control)
    hint = _is_hint(control, own)
    if whole is control:
        return "" if hint else own
    if not hint:
        return _text(whole)
    return " ".join(_text(whole).replace(own, "", 1).split()) if own else _text(whole)


def _is_hint(control: _Element, text: str) -> bool:
    folded = text.casefold()
    if not folded or folded in (CHOOSE, EMPTY) or folded.startswith(SUCH_AS):
        return True
    if control.find(f"{_PROPERTIES}/{W}showingPlcHdr") is None:
        return False
    return any(style.get(_VAL) == _WORDS_OWN for style in control.iter(W + "rStyle"))


def _text(element: _Element) -> str:
    """The text with tracked changes accepted, white space folded."""
    parts: list[str] = []

    def visit(at: _Element) -> None:
        for child in at:
            tag = child.tag
            if tag == W + "t":
                parts.append(child.text or "")
            elif tag == W + "noBreakHyphen":
                parts.append("-")
            elif tag in _GONE:
                continue
            else:
                if tag in _SPACES:
                    parts.append(" ")
                visit(child)

    visit(element)
    return " ".join("".join(parts).split())
