"""A report's blocks as paragraphs and tables of a DOCX."""

from __future__ import annotations

from collections.abc import Iterable

from docx.document import Document as DocumentType
from docx.enum.text import WD_ALIGN_PARAGRAPH
from docx.oxml import OxmlElement
from docx.oxml.ns import qn
from docx.shared import Emu, Mm, Pt
from docx.table import Table as DocxTable
from docx.table import _Cell
from docx.text.paragraph import Paragraph as DocxParagraph
from lxml.etree import _Element
from msgspec.structs import replace

from cleatmark.report import blocks as b
from cleatmark.report.blocks import Block, Span, Spans
from cleatmark.report.clean import clean, inline
from cleatmark.report.docx_base import text_width
from cleatmark.report.docx_picture import draw
from cleatmark.report.widths import broken, shares

CHARACTERS = 102
"""How many characters of table text stand side by side between the margins."""

_CELL = 3
_WITH = 1
"""So many lines of an entry stay with its text, and so many with its last line."""
_TALL = 14
"""Height in mm of a row that is to be written in."""
_TOGETHER = 8
_LETTERS = 2000
"""Tables of so many rows, and no more letters, stay on one page."""

_HEADINGS = {1: "Title", 2: "Heading 1", 3: "Heading 2", 4: "Heading 3"}
_RUNS = {"strong": "Strong", "where": "Address", "quote": "Quoted", "label": "Label"}
_VERDICTS = {"deviates": "Deviates", "not shown": "Not Shown", "complies": "Complies"}


class Writer:
    """Adds blocks to a document. `anchors` are all that it will have: a link to another is left out."""

    def __init__(self, document: DocumentType, anchors: Iterable[str] = ()) -> None:
        self.document = document
        self.anchors = set(anchors)
        self._bookmarks = 0
        self._heading = ""
        self._kin: dict[tuple[str, ...], b.Table] = {}

    def add(self, blocks: Iterable[Block]) -> None:
        blocks = tuple(blocks)
        self._kin = _kin(blocks)
        answers: list[b.Answer] = []
        before: Block | None = None
        for block in blocks:
            if isinstance(before, b.Paragraph) and isinstance(block, b.Bullets | b.Table):
                self.document.paragraphs[-1].paragraph_format.keep_with_next = True
            before = block
            if isinstance(block, b.Answer):
                answers.append(block)
                continue
            if answers:
                self._answers(answers)
                answers = []
            self._block(block)
        if answers:
            self._answers(answers)

    def _block(self, block: Block) -> None:
        match block:
            case b.Heading():
                self._heading = block.text
                made = self.paragraph(_HEADINGS[block.level], (Span(block.text),), block.anchor)
                made.paragraph_format.page_break_before = block.new_page or None
            case b.Paragraph():
                self.paragraph("Working" if block.small else "Normal", block.spans)
            case b.Pairs():
                for label, spans in block.rows:
                    made = self._labelled("Identification", label, spans)
                made.paragraph_format.space_after = Pt(10)
            case b.Answer():
                self._answers([block])
            case b.Entry():
                self._entry(block)
            case b.Bullets():
                self._bullets(block)
            case b.Table():
                self._table(block)
            case b.Box():
                self._box(block)
            case b.Picture():
                self._picture(block)

    def paragraph(self, style: str, spans: Spans, anchor: str = "") -> DocxParagraph:
        made = self.document.add_paragraph(style=style)
        self.fill(made, spans, anchor)
        return made

    def fill(self, paragraph: DocxParagraph, spans: Spans, anchor: str = "") -> None:
        """The spans as runs, between the marks that `anchor` names."""
        if anchor:
            self._bookmarks += 1
            start = _element("w:bookmarkStart", id=str(self._bookmarks), name=bookmark(anchor))
            paragraph._p.append(start)
        for span in spans:
            self._run(paragraph, span)
        if anchor:
            paragraph._p.append(_element("w:bookmarkEnd", id=str(self._bookmarks)))

    def _run(self, paragraph: DocxParagraph, span: Span) -> None:
        run = paragraph.add_run(inline(span.text))
        style = _RUNS.get(span.style) or _VERDICTS.get(span.style)
        if span.link and span.link in self.anchors:
            link = _element("w:hyperlink", anchor=bookmark(span.link), history="1")
            run.style = self.document.styles["Hyperlink"]
            link.append(run._r)
            paragraph._p.append(link)
        elif style:
            run.style = self.document.styles[style]

    def _box(self, block: b.Box) -> None:
        """The title is a line of the first paragraph, so that no page break can part it from what it is about."""
        made = self.paragraph("Notice", (Span(block.title, "strong"),))
        made.paragraph_format.space_before = Pt(14)
        for n, spans in enumerate(block.items):
            if n == 0:
                made.add_run().add_break()
                self.fill(made, spans)
            else:
                self.paragraph("Notice", spans)

    def _labelled(self, style: str, label: str, spans: Spans) -> DocxParagraph:
        made = self.document.add_paragraph(style=style)
        self._run(made, Span(label, "label"))
        made.add_run("\t")
        self.fill(made, spans)
        return made

    def _entry(self, block: b.Entry) -> None:
        title = self.paragraph("Finding", (Span(block.title + "  "),), block.anchor)
        self._run(title, Span(f"\u00a0{block.verdict}\u00a0", block.verdict))
        if block.action:
            action = title.add_run(f"  {block.action}")
            action.bold = False
        if block.body:
            self.paragraph("Finding Text", block.body)
        count, before = len(block.lines), ""
        for n, (label, spans) in enumerate(block.lines, 1):
            line = self._labelled("Finding Line", "" if label == before else label, spans)
            before = label
            line.paragraph_format.keep_with_next = n < count and (n <= _WITH or n >= count - _WITH)

    def _bullets(self, block: b.Bullets) -> None:
        number = self._new_list() if block.numbered else 0
        for spans in block.items:
            made = self.paragraph("List Number" if block.numbered else "List Bullet", spans)
            if number:
                properties = _element("w:numPr")
                properties.append(_element("w:ilvl", val="0"))
                properties.append(_element("w:numId", val=str(number)))
                made._p.get_or_add_pPr().insert(1, properties)

    def _new_list(self) -> int:
        """A numbered list that starts at 1."""
        numbering = self.document.part.numbering_part.element
        number = len(numbering.findall(qn("w:num"))) + 1
        made = _element("w:num", numId=str(number))
        made.append(_element("w:abstractNumId", val="4"))
        override = _element("w:lvlOverride", ilvl="0")
        override.append(_element("w:startOverride", val="1"))
        made.append(override)
        numbering.append(made)
        return number

    def _answers(self, answers: list[b.Answer]) -> None:
        columns = (b.Column("Question"), b.Column("Answer"), b.Column("Why"))
        rows = tuple(
            b.Row(
                (
                    (Span(one.question, "strong"),),
                    (Span(f"\u00a0{one.answer}\u00a0", one.verdict or "strong"),),
                    one.reason,
                )
            )
            for one in answers
        )
        self._table(b.Table("", columns, rows), [27, 29, 44])

    def _table(self, block: b.Table, widths: list[int] | None = None) -> None:
        if block.caption:
            self.paragraph("Caption", (Span(block.caption),))
        widths = widths or _widths(self._kin.get(_heads(block), block))
        table = self.document.add_table(rows=0, cols=len(block.columns), style="Report Table")
        _frame(table, widths, text_width(self.document), block.caption or self._heading)
        heads = table.add_row()
        heads._tr.get_or_add_trPr().append(_element("w:cantSplit"))
        heads._tr.get_or_add_trPr().append(_element("w:tblHeader"))
        for cell, column in zip(heads.cells, block.columns, strict=True):
            self._cell(cell, (Span(column.title),), "Table Head", column.right)
        letters = sum(len(span.text) for row in block.rows for cell in row.cells for span in cell)
        small = len(block.rows) <= _TOGETHER and letters <= _LETTERS
        for n, row in enumerate(block.rows, 1):
            made = table.add_row()
            made._tr.get_or_add_trPr().append(_element("w:cantSplit"))
            if row.tall:
                made.height = Mm(_TALL)
            together = n < len(block.rows) and small
            anchor = row.anchor
            for cell, spans, column in zip(made.cells, row.cells, block.columns, strict=True):
                text = self._cell(cell, spans, "Table Text", column.right, anchor)
                text.paragraph_format.keep_with_next = together or None
                anchor = ""
        self.document.add_paragraph(style="After Table")

    def _cell(self, cell: _Cell, spans: Spans, style: str, right: bool, anchor: str = "") -> DocxParagraph:
        paragraph: DocxParagraph = cell.paragraphs[0]
        paragraph.style = self.document.styles[style]
        if right:
            paragraph.alignment = WD_ALIGN_PARAGRAPH.RIGHT
        self.fill(paragraph, tuple(replace(span, text=broken(span.text)) for span in spans), anchor)
        return paragraph

    def _picture(self, block: b.Picture) -> None:
        plan = block.plan
        if not plan.png:
            self.paragraph("Normal", (Span(f"{plan.name}: ", "strong"), Span(plan.alt)))
            return
        self.paragraph("Caption", (Span(plan.name),))
        holder = self.document.add_paragraph(style="Picture")
        draw(holder, plan, text_width(self.document), Mm(block.height), block.close)


def _heads(table: b.Table) -> tuple[str, ...]:
    return tuple(column.title for column in table.columns)


def _kin(blocks: Iterable[Block]) -> dict[tuple[str, ...], b.Table]:
    """Tables of the same columns as one, by their heads: they are given the same widths."""
    kin: dict[tuple[str, ...], b.Table] = {}
    for block in blocks:
        if isinstance(block, b.Table):
            before = kin.get(_heads(block))
            kin[_heads(block)] = b.Table("", block.columns, before.rows + block.rows) if before else block
    return kin


def _widths(table: b.Table) -> list[int]:
    """The columns' shares of the width, room for a cell's margins included."""
    room = CHARACTERS - _CELL * len(table.columns)
    return [wide + _CELL for wide in shares(table, room)]


def bookmark(anchor: str) -> str:
    """The anchor as a bookmark may be named."""
    return anchor.replace("-", "_")


def _element(tag: str, /, **attributes: str) -> _Element:
    made = OxmlElement(tag)
    for key, value in attributes.items():
        made.set(qn(f"w:{key}"), value)
    return made


def _frame(table: DocxTable, widths: list[int], room: int, caption: str) -> None:
    """Fixed column widths in the proportion given, the header row and the first column named as heads."""
    table.autofit = False
    properties = table._tbl.tblPr
    look = properties.find(qn("w:tblLook"))
    if look is not None:
        properties.remove(look)
    properties.append(
        _element("w:tblLook", firstRow="1", firstColumn="1", noHBand="1", noVBand="1", val="06A0")
    )
    if caption:
        properties.append(_element("w:tblCaption", val=clean(caption)))
    for column, wide in zip(table.columns, widths, strict=True):
        column.width = Emu(room * wide // sum(widths))
