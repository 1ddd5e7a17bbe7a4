"""The blank submittal form as a DOCX to be filled in with a word processor; laid out by the field declarations."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from importlib.resources import files

from docx.document import Document as DocumentType
from docx.oxml import parse_xml
from docx.oxml.ns import qn
from docx.shared import Emu
from lxml.etree import _Element

from cleatmark.fields import Field, FieldBook
from cleatmark.forms import BY_ZONE, NAME_OF_ZONE, PROPERTY, ROW_STYLE, VALUE, ZONES, choices, groups, measure
from cleatmark.report.docx_base import head_and_foot, new_document, text_width, to_bytes
from cleatmark.report.form_controls import Controls, element

TITLE = "Submittal form, metal roof panels"
DOCUMENTS = 3
RUNS = 4
CONDITIONS = (3, 3)
"""Columns of each table of conditions."""
DEPARTURES = 5
FREE = 2
"""Rows in which the property can be chosen."""

_USE = (
    "Write in the grey fields; where a field has a list, choose from it. The hint goes away as you write; a "
    "field left with its hint, or empty, is read as not stated. Give every value with its unit: 16 in, "
    "24 ga, 105 psf. Say none only where there is none."
)
_ZONED = (
    "Fill in only what is not the same on the whole roof, and leave it empty above. The names of the zones can "
    "be written over; add a property in the rows below."
)
_INSTALLED = "Only where the roof is built and something was changed in the field."
_DEPARTURES = (
    "Every departure from the specification, and from the specimen of the papers below. Name the property where "
    "it is one. For more lines copy a row."
)
_DOCUMENT = (
    "One paper: a test report, an approval, a listing. Copy the whole block, from this heading to the next, for "
    "each further paper; leave a block empty that is not needed."
)
_SPECIMEN = "As the paper describes the assembly, not as it is proposed."
_RUNS = (
    "A run is one specimen with one result. Copy the table for more runs. The rows at its end are for what "
    "differs from the specimen above."
)
_CONDITIONS = "What a listing or an approval says must be built for it to hold. Copy the table for more."


def form_bytes(book: FieldBook, paper: str = "Letter") -> bytes:
    """The form as the bytes of a DOCX, the same for the same declarations. `paper` is Letter or A4."""
    document = new_document(TITLE, "Blank form", "", paper)
    _dress(document)
    head_and_foot(document, TITLE, "Rows are numbered; a mistake is told by the number of its row")
    Form(document, book).write()
    return to_bytes(document)


def _dress(document: DocumentType) -> None:
    """Adds the form's styles, and the numbers of its rows."""
    ours = files("cleatmark.report").joinpath("templates", "form_styles.xml").read_bytes()
    document.part.styles.element.extend(list(parse_xml(ours)))
    level = element(
        "lvl",
        element("start", val="1"),
        element("numFmt", val="decimal"),
        element("pStyle", val=ROW_STYLE),
        element("suff", val="nothing"),
        element("lvlText", val="%1"),
        element("lvlJc", val="right"),
        ilvl="0",
    )
    rows = element("abstractNum", element("multiLevelType", val="singleLevel"), level, abstractNumId="5")
    numbering = document.part.numbering_part.element
    numbering.insert(len(numbering.findall(qn("w:abstractNum"))), rows)
    numbering.append(element("num", element("abstractNumId", val="5"), numId="5"))


class Form:
    """Writes the form's parts into a document, in their order."""

    def __init__(self, document: DocumentType, book: FieldBook) -> None:
        self._document, self._book = document, book
        self._controls = Controls(book)
        self._room = text_width(document)
        self._heading = TITLE
        self._assembly = list(book.block("assembly").values())

    def write(self) -> None:
        book = self._book
        self._paragraph("Title", TITLE)
        self._paragraph("Normal", _USE)
        self._paragraph("Heading1", "Submittal")
        self._pairs([("", list(book.block("submittal").values()))], lambda field: field.path)
        self._paragraph("Heading1", "Proposed assembly")
        self._pairs(groups(book).items(), lambda field: f"proposed.{field.path}")
        self._paragraph("Heading1", "What differs by roof zone")
        self._paragraph("Normal", _ZONED)
        self._zones()
        self._paragraph("Heading1", "Departures declared")
        self._paragraph("Normal", _DEPARTURES)
        self._listed("departure", "text", "Departure", "field", "Property", DEPARTURES, long_first=True)
        for number in range(1, DOCUMENTS + 1):
            self._paper(number)
        self._paragraph("Heading1", "Changed in the field")
        self._paragraph("Normal", _INSTALLED)
        self._listed("installed", PROPERTY, "Property", VALUE, "As built", FREE + 1)

    def _paper(self, number: int) -> None:
        book = self._book
        self._paragraph("Heading1", "Document", new_page=True)
        if number == 1:
            self._paragraph("Normal", _DOCUMENT)
        self._pairs([("", list(book.block("document").values()))], lambda field: field.path)
        self._paragraph("Heading2", "Specimen")
        self._paragraph("Normal", _SPECIMEN)
        self._pairs(groups(book).items(), lambda field: f"specimen.{field.path}")
        self._paragraph("Heading2", "Runs")
        self._paragraph("Normal", _RUNS)
        self._columns(book.block("run").values(), RUNS, "own")
        self._paragraph("Heading2", "Conditions")
        self._paragraph("Normal", _CONDITIONS)
        for count in CONDITIONS:
            self._columns(book.block("condition").values(), count, "")

    # Tables ----------------------------------------------------------------------------------------------------

    def _pairs(self, parts: Iterable[tuple[str, Sequence[Field]]], tag: Callable[[Field], str]) -> None:
        """Fields two by two, read across; a title over each part that has one."""
        table = self._table([9, 37, 48, 37, 45])
        for title, fields in parts:
            if title:
                table.append(_row(_titled("FormGroup", title), span=5, title=True))
            for left in range(0, len(fields), 2):
                cells: list[_Element] = []
                for field in fields[left : left + 2]:
                    cells += [_label(field), _value(self._controls.field(tag(field), field))]
                cells += [_titled("FormLabel", "") for _ in range(4 - len(cells))]
                table.append(_row(*cells))
        self._after()

    def _zones(self) -> None:
        """One row for each property, one column for each roof zone."""
        table = self._table([9, 47, 40, 40, 40])
        names = [_value(self._controls.written(NAME_OF_ZONE, zone)) for zone in ZONES]
        table.append(_row(_titled("FormGroup", "Roof zone"), *names))
        self._by_column(table, "zoned", len(ZONES))
        self._after()

    def _columns(self, fields: Iterable[Field], count: int, own: str) -> None:
        """One row for each field, one column for each thing; `own` adds rows of properties."""
        table = self._table([9, 43, *([124 // count] * count)])
        for field in fields:
            long = field.path == "condition.text"
            made = [self._control(field, long) for _ in range(count)]
            table.append(_row(_label(field), *map(_value, made)))
        if own:
            self._by_column(table, own, count)
        self._after()

    def _control(self, field: Field, long: bool) -> _Element:
        if field.path == "condition.field":
            return self._controls.chosen(field.path, self._properties())
        return self._controls.field(field.path, field, long)

    def _by_column(self, table: _Element, scope: str, count: int) -> None:
        """Rows of properties with a value in each column: those expected, then some to choose."""
        known = self._book.block("assembly")
        for path in BY_ZONE:
            if path in known:
                field = known[path]
                made = [self._controls.field(f"{scope}.{path}", field) for _ in range(count)]
                table.append(_row(_label(field), *map(_value, made)))
        for _ in range(FREE):
            chosen = self._controls.chosen(f"{scope}.{PROPERTY}", self._properties())
            values = [self._controls.written(f"{scope}.{VALUE}") for _ in range(count)]
            table.append(_row(_value(chosen), *map(_value, values)))

    def _listed(
        self, scope: str, first: str, first_title: str, second: str, second_title: str, count: int,
        long_first: bool = False,
    ) -> None:  # fmt: skip
        """Rows of two fields, of which one names a property."""
        table = self._table([9, 105, 62] if long_first else [9, 62, 105])
        heads = [
            _titled("FormGroup", ""),
            _titled("FormGroup", first_title),
            _titled("FormGroup", second_title),
        ]
        table.append(_row(*heads, head=True))
        for _ in range(count):
            cells = []
            for name in (first, second):
                if name in (PROPERTY, "field"):
                    cells.append(self._controls.chosen(f"{scope}.{name}", self._properties()))
                else:
                    cells.append(self._controls.written(f"{scope}.{name}", long=long_first))
            table.append(_row(*map(_value, cells)))
        self._after()

    def _properties(self) -> list[str]:
        return [field.title for field in self._assembly]

    # Pieces ----------------------------------------------------------------------------------------------------

    def _paragraph(self, style: str, text: str, new_page: bool = False) -> None:
        if style.startswith("Heading"):
            self._heading = text
        made = element("p", element("pPr", element("pStyle", val=style)))
        if style == "Normal":
            made[0].append(element("keepNext"))
        if new_page:
            made[0].append(element("pageBreakBefore"))
        made.append(_run(text))
        self._put(made)

    def _after(self) -> None:
        self._put(element("p", element("pPr", element("pStyle", val="AfterTable"))))

    def _put(self, made: _Element) -> None:
        body = self._document.element.body
        body.insert(len(body) - 1, made)

    def _table(self, widths: Sequence[int]) -> _Element:
        """An empty table at fixed widths, in the proportion given."""
        shares = [str(Emu(self._room * width // sum(widths)).twips) for width in widths]
        properties = element(
            "tblPr",
            element("tblStyle", val="FormTable"),
            element("tblW", w=str(Emu(self._room).twips), type="dxa"),
            element("tblLayout", type="fixed"),
            element("tblLook", val="0000"),
            element("tblCaption", val=self._heading),
        )
        grid = element("tblGrid", *(element("gridCol", w=share) for share in shares))
        made = element("tbl", properties, grid)
        self._put(made)
        return made


def _row(*cells: _Element, span: int = 0, title: bool = False, head: bool = False) -> _Element:
    """A row that a page break does not part. One with fields has its number at the head."""
    properties = element("trPr", element("cantSplit"))
    if head:
        properties.append(element("tblHeader"))
    row = element("tr", properties)
    if not title and not head:
        row.append(element("tc", element("p", element("pPr", element("pStyle", val=ROW_STYLE)))))
    for cell in cells:
        if span:
            cell.insert(0, element("tcPr", element("gridSpan", val=str(span))))
        row.append(cell)
    return row


def _titled(style: str, text: str) -> _Element:
    return element("tc", element("p", element("pPr", element("pStyle", val=style)), _run(text)))


def _label(field: Field) -> _Element:
    paragraph = element("p", element("pPr", element("pStyle", val="FormLabel")), _run(field.title))
    written = "" if choices(field) else measure(field)
    if field.none and field.kind not in ("choice", "list"):
        written = f"{written}, or none" if written else "or none"
    if written:
        paragraph.append(_run(f" {written}", "FormUnit"))
    return element("tc", paragraph)


def _value(control: _Element) -> _Element:
    shade = element("tcPr", element("shd", val="clear", color="auto", fill="F0F0F0"))
    return element("tc", shade, element("p", element("pPr", element("pStyle", val="FormValue")), control))


def _run(text: str, style: str = "") -> _Element:
    run = element("r")
    if style:
        run.append(element("rPr", element("rStyle", val=style)))
    words = element("t")
    words.text = text
    words.set("{http://www.w3.org/XML/1998/namespace}space", "preserve")
    run.append(words)
    return run
