"""An empty DOCX with this report's styles, numbering, page, header and footer; and its bytes."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date, datetime
from importlib.resources import files
from io import BytesIO
from zipfile import ZIP_DEFLATED, ZipFile, ZipInfo

from docx import Document
from docx.document import Document as DocumentType
from docx.enum.text import WD_TAB_ALIGNMENT
from docx.oxml import OxmlElement, parse_xml
from docx.oxml.ns import qn
from docx.oxml.xmlchemy import BaseOxmlElement
from docx.shared import Emu, Mm
from docx.text.paragraph import Paragraph

from cleatmark.problems import InputError, Place, Problem
from cleatmark.report.clean import clean, shortened

PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
"""Width and height, mm."""

MARGIN = Mm(20)
_EPOCH = (1980, 1, 1, 0, 0, 0)
_WORD = "http://schemas.microsoft.com/office/word"
_UNUSED = (
    *("/thumbnail", "/customXml", "/stylesWithEffects", "/extended-properties", "/fontTable"),
    *("/webSettings", "/theme"),
)
_SETTINGS = (
    ("zoom", "percent", "100"),
    ("defaultTabStop", "val", "720"),
    ("characterSpacingControl", "val", "doNotCompress"),
    ("compat", "", ""),
    ("themeFontLang", "val", "en-US"),
    ("decimalSymbol", "val", "."),
    ("listSeparator", "val", ","),
)
"""What a word processor is told, in the schema's order."""

MOST_OF_A_PROPERTY = 255
"""Characters of a document property, by the writing library."""


def new_document(title: str, subject: str, day: str, paper: str) -> DocumentType:
    """A document with title, subject and language set, of the paper named ("Letter" or "A4").

    `day` is an ISO date; it stands as the day of creation, so that the same review gives the same bytes.
    """
    size = PAPERS.get(paper.casefold())
    if size is None:
        message = f'there is no paper "{paper}"; Letter or A4 was expected'
        raise InputError([Problem(Place("--paper"), message)])
    document = Document()
    _drop_unused(document)
    _fill(document.part.styles.element, "styles.xml")
    _fill(document.part.numbering_part.element, "numbering.xml")
    _behave(document)
    section = document.sections[0]
    section.page_width, section.page_height = Mm(size[0]), Mm(size[1])
    section.left_margin = section.right_margin = section.bottom_margin = MARGIN
    section.top_margin = Mm(24)
    section.header_distance = section.footer_distance = Mm(11)
    core = document.core_properties
    core.title, core.subject = shortened(title, MOST_OF_A_PROPERTY), shortened(subject, MOST_OF_A_PROPERTY)
    core.author = "Cleatmark"
    core.language, core.comments, core.keywords, core.last_modified_by = "en-US", "", "", "Cleatmark"
    core.created = core.modified = datetime.combine(_day(day), datetime.min.time())
    core.revision = 1
    return document


def _day(text: str) -> date:
    try:
        return date.fromisoformat(text)
    except ValueError:
        return date(1980, 1, 1)


def _drop_unused(document: DocumentType) -> None:
    """Leave out what the library's own blank carries along and a report has no use for."""
    for rels in (document.part.package.rels, document.part.rels):
        for name in [name for name, rel in rels.items() if rel.reltype.endswith(_UNUSED)]:
            del rels[name]


def _behave(document: DocumentType) -> None:
    """Settings of our own: tables stand at the margin in every word processor, as in its present version."""
    settings = document.settings.element
    for child in list(settings):
        settings.remove(child)
    for name, key, value in _SETTINGS:
        made = OxmlElement(f"w:{name}")
        if key:
            made.set(qn(f"w:{key}"), value)
        settings.append(made)
    mode = OxmlElement("w:compatSetting")
    for key, value in (("name", "compatibilityMode"), ("uri", _WORD), ("val", "15")):
        mode.set(qn(f"w:{key}"), value)
    settings.find(qn("w:compat")).append(mode)


def _fill(element: BaseOxmlElement, name: str) -> None:
    """Replace the children of a part's root by those of our own file."""
    ours = parse_xml(files("cleatmark.report").joinpath("templates", name).read_bytes())
    for child in list(element):
        element.remove(child)
    for child in list(ours):
        element.append(child)


def text_width(document: DocumentType) -> int:
    """The width between the margins, in EMU."""
    section = document.sections[0]
    edges = (section.page_width, section.left_margin, section.right_margin)
    page, left, right = (Emu(edge or 0) for edge in edges)
    return page - left - right


def head_and_foot(document: DocumentType, head: str, foot: str) -> None:
    """The page header, and the footer with page X of Y at its right end."""
    section = document.sections[0]
    header = section.header.paragraphs[0]
    header.style = document.styles["Header"]
    header.add_run(clean(head))
    footer = section.footer.paragraphs[0]
    footer.style = document.styles["Footer"]
    footer.paragraph_format.tab_stops.add_tab_stop(Emu(text_width(document)), WD_TAB_ALIGNMENT.RIGHT)
    footer.add_run(f"{clean(foot)}\tPage ")
    _field(footer, "PAGE")
    footer.add_run(" of ")
    _field(footer, "NUMPAGES")


def _field(paragraph: Paragraph, code: str) -> None:
    field = OxmlElement("w:fldSimple")
    field.set(qn("w:instr"), code)
    run = OxmlElement("w:r")
    text = OxmlElement("w:t")
    text.text = "1"
    run.append(text)
    field.append(run)
    paragraph._p.append(field)


def to_bytes(document: DocumentType) -> bytes:
    """The finished file, the same bytes for the same content."""
    raw = BytesIO()
    document.save(raw)
    made = BytesIO()
    with ZipFile(raw) as source, ZipFile(made, "w", ZIP_DEFLATED) as target:
        for name in _ordered(source.namelist()):
            target.writestr(ZipInfo(name, _EPOCH), source.read(name), ZIP_DEFLATED)
    return made.getvalue()


def _ordered(names: Iterable[str]) -> list[str]:
    """The content types first, as readers of the format expect."""
    return sorted(names, key=lambda name: (name != "[Content_Types].xml", not name.startswith("_rels"), name))
