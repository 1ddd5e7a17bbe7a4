"""Tables read cell by cell: each once, at its grid place, with what it spans."""

from __future__ import annotations

from collections.abc import Iterator
from typing import TYPE_CHECKING, Protocol

from msgspec import Struct

from cleatmark.docxfile.package import MC, W
from cleatmark.spec.blocks import Block, Grid, Paragraph
from cleatmark.spec.clauses import Cell, Span, Table
from cleatmark.spec.styles import PLAIN, number, on
from cleatmark.spec.words import Words

if TYPE_CHECKING:
    from lxml.etree import _Element

_ROW, _CELL = W + "tr", W + "tc"
_THROUGH = frozenset((W + "sdt", W + "sdtContent", W + "customXml", MC + "AlternateContent", MC + "Choice"))
_WIDEST = 1_000


class Inner(Protocol):
    """Whoever reads the blocks inside a cell."""

    def inner(self, container: _Element, gone: bool) -> Iterator[Block]: ...


class _Draft(Struct):
    row: int
    column: int
    width: int
    height: int = 1
    text: str = ""
    spans: tuple[Span, ...] = ()
    tables: list[Table] = []
    header: bool = False


class _Outcome(Struct):
    deleted: list[str]
    changed: bool = False


class TableReader:
    def __init__(self, body: Inner) -> None:
        self._body = body

    def read(self, element: _Element, gone: bool) -> Iterator[Block]:
        """The table as one block; a single cell is only a frame, and its blocks stand for themselves."""
        rows = list(_children(element, _ROW))
        lone = _lone_cell(rows)
        if lone is not None:
            for block in self._body.inner(lone, gone or _has(rows[0], "trPr", "del")):
                if isinstance(block, Paragraph):
                    block.look = True
                yield block
            return
        outcome = _Outcome([])
        table = self._table(element, rows, gone, outcome)
        deleted = " ".join(outcome.deleted)
        if table is not None:
            struck = any(span.kind == "struck" for cell in table.cells for span in cell.spans)
            yield Grid(table, deleted, outcome.changed, struck)
        elif deleted:
            yield Paragraph(Words(""), PLAIN, ghost=True, deleted=deleted, changed=True)

    def _table(self, element: _Element, rows: list[_Element], gone: bool, outcome: _Outcome) -> Table | None:
        drafts: list[_Draft] = []
        open_at: dict[int, _Draft] = {}
        shown = columns = 0
        for row in rows:
            row_gone = gone or _has(row, "trPr", "del") or _has(row, "trPr", "moveFrom")
            row_new = _has(row, "trPr", "ins") or _has(row, "trPr", "moveTo")
            outcome.changed |= row_gone or row_new
            at, header = _before(row), _has(row, "trPr", "tblHeader")
            veiled = _has(row, "trPr", "hidden")
            drawn = False
            for cell in _children(row, _CELL):
                width, merge, cell_gone, cell_new = _cell_properties(cell)
                outcome.changed |= cell_gone or cell_new
                draft = _Draft(shown, at, width, header=header)
                self._fill(draft, cell, row_gone or cell_gone, row_new or cell_new, outcome)
                above = open_at.get(at)
                at = min(at + width, _WIDEST)
                if row_gone or cell_gone or veiled:
                    continue
                drawn = True
                if merge == "continue" and above is not None:
                    above.height = shown - above.row + 1
                    continue
                open_at[draft.column] = draft
                drafts.append(draft)
            columns = max(columns, at)
            shown += drawn
        if not drafts:
            return None
        if not any(draft.header for draft in drafts):
            _guess_header(element, drafts)
        cells = tuple(
            Cell(
                draft.text, draft.row, draft.column, draft.height, draft.width, draft.header, tuple(draft.tables),
                draft.spans,
            )
            for draft in drafts
        )  # fmt: skip
        return Table(cells, shown, columns)

    def _fill(self, draft: _Draft, cell: _Element, gone: bool, new: bool, outcome: _Outcome) -> None:
        lines: list[str] = []
        spans: list[Span] = []
        at = 0
        for block in self._body.inner(cell, gone):
            if isinstance(block, Grid):
                draft.tables.append(block.table)
                outcome.changed |= block.changed
                if block.deleted:
                    outcome.deleted.append(block.deleted)
                continue
            outcome.changed |= block.changed
            if block.deleted:
                outcome.deleted.append(block.deleted)
            if block.hidden or block.ghost:
                continue
            text, marks = block.words.folded()
            label = block.number.label if block.number is not None else ""
            lead = f"{label} " if label and text else label
            if not lead and not text:
                continue
            at += 1 if lines else 0
            if new:
                spans.append(Span(at, at + len(lead) + len(text), "inserted"))
            for mark in marks:
                if not (new and mark.kind == "inserted"):
                    spans.append(Span(mark.start + at + len(lead), mark.end + at + len(lead), mark.kind))
            lines.append(lead + text)
            at += len(lead) + len(text)
        draft.text, draft.spans = "\n".join(lines), tuple(spans)


def _children(parent: _Element, tag: str) -> Iterator[_Element]:
    for child in parent:
        if child.tag == tag:
            yield child
        elif child.tag in _THROUGH:
            yield from _children(child, tag)


def _lone_cell(rows: list[_Element]) -> _Element | None:
    if len(rows) != 1:
        return None
    cells = list(_children(rows[0], _CELL))
    return cells[0] if len(cells) == 1 else None


def _has(row: _Element, properties: str, name: str) -> bool:
    found = row.find(W + properties)
    return bool(on(found.find(W + name))) if found is not None else False


def _before(row: _Element) -> int:
    """Grid columns left empty before the row's first cell."""
    properties = row.find(W + "trPr")
    skipped = properties.find(W + "gridBefore") if properties is not None else None
    count = number(skipped.get(W + "val")) if skipped is not None else 0
    return min(max(count or 0, 0), _WIDEST)


def _cell_properties(cell: _Element) -> tuple[int, str, bool, bool]:
    """Width in grid columns, vertical merge ("", restart, continue), deleted, inserted."""
    properties = cell.find(W + "tcPr")
    if properties is None:
        return 1, "", False, False
    span, merge = properties.find(W + "gridSpan"), properties.find(W + "vMerge")
    width = number(span.get(W + "val")) if span is not None else 1
    return (
        min(max(width or 1, 1), _WIDEST),
        merge.get(W + "val", "continue") if merge is not None else "",
        properties.find(W + "cellDel") is not None,
        properties.find(W + "cellIns") is not None,
    )


def _guess_header(element: _Element, drafts: list[_Draft]) -> None:
    """Where no row is marked to repeat, the first is the header if the table's own look says so."""
    properties = element.find(W + "tblPr")
    look = properties.find(W + "tblLook") if properties is not None else None
    if look is None:
        return
    first = look.get(W + "firstRow")
    if first is None:
        try:
            marked = bool(int(look.get(W + "val", "0")[:8], 16) & 0x20)
        except ValueError:
            marked = False
    else:
        marked = first in ("1", "true", "on")
    top = [draft for draft in drafts if draft.row == 0]
    if marked and len(drafts) > len(top):
        depth = max(draft.height for draft in top)
        for draft in drafts:
            draft.header = draft.row < depth
