"""What the sample offices share: a section written with an office's own styles and lists.

Every builder in samples/ describes its office (font, levels, header, footer), adds paragraphs and tables in
reading order, and saves. The same text gives the same bytes: all dates are the section's issue date.

A paragraph is given as pieces: plain text, or `Inserted`, `Deleted`, `Hidden`, `Bold`, `Field`, `Control`.
In a text U+2011 is written as Word's no-break hyphen, a tab as a tab and a line feed as a line break.
"""

from __future__ import annotations

import io
import re
import zipfile
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, datetime
from pathlib import Path

from docx import Document
from docx.document import Document as Section
from docx.oxml import OxmlElement
from docx.oxml.ns import qn
from docx.shared import Pt
from lxml.etree import _Element as Element

REVISER = "K. Tarn (invented)"
PAGE = (612, 792)
MARGIN = 72


@dataclass(frozen=True)
class Inserted:
    """Text of a tracked insertion."""

    text: str


@dataclass(frozen=True)
class Deleted:
    """Text of a tracked deletion."""

    text: str


@dataclass(frozen=True)
class Hidden:
    """Text formatted as hidden, as masters carry their notes."""

    text: str


@dataclass(frozen=True)
class Bold:
    """Text in bold."""

    text: str


@dataclass(frozen=True)
class Field:
    """A simple field: its instruction, and the result that Word stored."""

    instruction: str
    shown: str


@dataclass(frozen=True)
class Control:
    """Text inside a content control, as offices keep project data."""

    text: str


Piece = str | Inserted | Deleted | Hidden | Bold | Field | Control


@dataclass(frozen=True)
class Level:
    """One paragraph style. With a `number` it is a level of the office's list, numbered through the style.

    number  Word's level text ("%1.%2"), "" for a style without a number; format  Word's number format
    left, hanging, before, after  indents and spacing in points; follow  what stands after the number
    upper  set in capitals, as headings are; keep  kept with the next paragraph; outline  outline level from 0
    """

    style: str
    number: str = ""
    format: str = "decimal"
    left: float = 0
    hanging: float = 0
    before: float = 0
    after: float = 0
    follow: str = "tab"
    bold: bool = False
    upper: bool = False
    center: bool = False
    keep: bool = False
    outline: int | None = None
    based_on: str = "Normal"


@dataclass(frozen=True)
class Cell:
    """A table cell: `across` grid columns and `down` rows covered."""

    text: str
    across: int = 1
    down: int = 1


@dataclass(frozen=True)
class Office:
    """How an office sets its sections: one font, styles, and lists, each a run of numbered styles."""

    font: str
    points: float
    styles: tuple[Level, ...]
    lists: tuple[tuple[str, ...], ...] = ()


def element(tag: str, *children: Element, **attributes: object) -> Element:
    """A WordprocessingML element; attribute names without their prefix."""
    made = OxmlElement(f"w:{tag}")
    for name, value in attributes.items():
        made.set(qn(f"w:{name}"), str(value))
    made.extend(children)
    return made


def twips(points: float) -> int:
    """Word's twentieths of a point."""
    return round(points * 20)


def start(office: Office) -> Section:
    """An empty section with only the office's styles and lists in it."""
    section = Document()
    _strip(section)
    defaults = element(
        "rPrDefault",
        element(
            "rPr",
            element("rFonts", ascii=office.font, hAnsi=office.font, cs=office.font),
            element("sz", val=round(office.points * 2)),
            element("lang", val="en-US"),
        ),
    )
    styles = section.styles.element
    styles.append(element("docDefaults", defaults, element("pPrDefault")))
    styles.append(_style("paragraph", "Normal", default=True))
    styles.append(_style("table", "Normal Table", default=True))
    styles.append(_style("paragraph", "Header"))
    styles.append(_style("paragraph", "Footer"))
    numbered = {
        style: (index, depth) for index, one in enumerate(office.lists, 1) for depth, style in enumerate(one)
    }
    for level in office.styles:
        styles.append(_level_style(level, numbered.get(level.style)))
    by_style = {level.style: level for level in office.styles}
    numbering = section.part.numbering_part.element
    abstract = [_list(index, [by_style[style] for style in one]) for index, one in enumerate(office.lists, 1)]
    for made in abstract:
        numbering.append(made)
    for index in range(1, len(abstract) + 1):
        numbering.append(element("num", element("abstractNumId", val=index), numId=index))
    page = section.sections[0]
    page.page_width, page.page_height = Pt(PAGE[0]), Pt(PAGE[1])
    page.left_margin = page.right_margin = page.top_margin = page.bottom_margin = Pt(MARGIN)
    return section


def _strip(section: Section) -> None:
    """Take the template's own styles, lists, thumbnail and properties out."""
    for part in (section.styles.element, section.part.numbering_part.element):
        for child in list(part):
            part.remove(child)
    unused = ("thumbnail", "extended-properties", "customXml", "stylesWithEffects")
    for rels in (section.part.package.rels, section.part.rels):
        for key, rel in list(rels.items()):
            if rel.reltype.rsplit("/", 1)[-1] in unused:
                del rels[key]


def _style(kind: str, name: str, *children: Element, default: bool = False) -> Element:
    made = element("style", element("name", val=name), type=kind, styleId=style_id(name))
    if default:
        made.set(qn("w:default"), "1")
    elif kind == "paragraph" and not any(child.tag == qn("w:basedOn") for child in children):
        made.append(element("basedOn", val="Normal"))
    made.extend(children)
    return made


def style_id(name: str) -> str:
    """Word's id of a style: its name without spaces."""
    return re.sub(r"\W", "", name)


def _level_style(level: Level, numbered: tuple[int, int] | None) -> Element:
    paragraph = element("pPr")
    if level.keep:
        paragraph.append(element("keepNext"))
    if numbered is not None:
        index, depth = numbered
        number = element("numPr", element("numId", val=index))
        if depth:
            number.insert(0, element("ilvl", val=depth))
        paragraph.append(number)
    paragraph.append(element("spacing", before=twips(level.before), after=twips(level.after)))
    if numbered is None and (level.left or level.hanging):
        paragraph.append(element("ind", left=twips(level.left), hanging=twips(level.hanging)))
    if level.center:
        paragraph.append(element("jc", val="center"))
    if level.outline is not None:
        paragraph.append(element("outlineLvl", val=level.outline))
    letters = element("rPr")
    if level.bold:
        letters.append(element("b"))
    if level.upper:
        letters.append(element("caps"))
    based = element("basedOn", val=style_id(level.based_on))
    return _style("paragraph", level.style, based, element("qFormat"), paragraph, letters)


def _list(index: int, levels: Sequence[Level]) -> Element:
    made = element("abstractNum", element("multiLevelType", val="multilevel"), abstractNumId=index)
    for depth, level in enumerate(levels):
        made.append(
            element(
                "lvl",
                element("start", val=1),
                element("numFmt", val=level.format),
                element("pStyle", val=style_id(level.style)),
                element("suff", val=level.follow),
                element("lvlText", val=level.number),
                element("lvlJc", val="left"),
                element("pPr", element("ind", left=twips(level.left), hanging=twips(level.hanging))),
                ilvl=depth,
            )
        )
    return made


def paragraph(section: Section, style: str, *pieces: Piece, when: date, number: int = 0) -> Element:
    """Add a paragraph. `when` dates its tracked changes; `number` numbers it by itself (see restart)."""
    made = filled(style, pieces, when)
    if number:
        made[0].append(element("numPr", element("numId", val=number)))
    section.element.body.insert(len(section.element.body) - 1, made)
    return made


def restart(section: Section, index: int) -> int:
    """A new use of the office's list `index` (from 1) that starts again: the number for its paragraphs."""
    numbering = section.part.numbering_part.element
    number = len(numbering.findall(qn("w:num"))) + 1
    again = element("lvlOverride", element("startOverride", val=1), ilvl=0)
    numbering.append(element("num", element("abstractNumId", val=index), again, numId=number))
    return number


def filled(style: str, pieces: Iterable[Piece], when: date) -> Element:
    """A paragraph of a style with its pieces, not yet in a document."""
    made = element("p", element("pPr", element("pStyle", val=style_id(style))))
    for number, piece in enumerate(pieces, 1):
        change = {"id": number, "author": REVISER, "date": f"{when.isoformat()}T09:00:00Z"}
        if isinstance(piece, Inserted):
            made.append(element("ins", _run(piece.text), **change))
        elif isinstance(piece, Deleted):
            made.append(element("del", _run(piece.text, tag="delText"), **change))
        elif isinstance(piece, Field):
            made.append(element("fldSimple", _run(piece.shown), instr=piece.instruction))
        elif isinstance(piece, Control):
            content = element("sdtContent", _run(piece.text))
            made.append(element("sdt", element("sdtPr", element("text")), content))
        elif isinstance(piece, Hidden):
            made[0].append(element("rPr", element("vanish")))
            made.append(_run(piece.text, "vanish"))
        elif isinstance(piece, Bold):
            made.append(_run(piece.text, "b"))
        else:
            made.append(_run(piece))
    return made


def _run(text: str, *looks: str, tag: str = "t") -> Element:
    run = element("r")
    if looks:
        run.append(element("rPr", *(element(look) for look in looks)))
    marks = {"\u2011": "noBreakHyphen", "\t": "tab", "\n": "br"}
    for part in re.split("([\u2011\t\n])", text):
        if part in marks:
            run.append(element(marks[part]))
        elif part:
            words = element(tag)
            words.text = part
            words.set("{http://www.w3.org/XML/1998/namespace}space", "preserve")
            run.append(words)
    return run


def table(
    section: Section,
    rows: Sequence[Sequence[Cell | None]],
    widths: Sequence[float],
    *,
    style: str,
    left: float,
    when: date,
    headers: int = 1,
) -> None:
    """Add a ruled table. `rows` are by grid column: None where a cell above or to the left reaches over.

    widths in points; `headers` rows repeat at the top of a page and are bold; `left` indents the table.
    """
    sides = ("top", "left", "bottom", "right", "insideH", "insideV")
    borders = element("tblBorders", *(element(s, val="single", sz=4, space=0, color="auto") for s in sides))
    look = element("tblPr", element("tblW", w=0, type="auto"), element("tblInd", w=twips(left), type="dxa"))
    look.append(borders)
    look.append(element("tblLayout", type="fixed"))
    made = element("tbl", look, element("tblGrid", *(element("gridCol", w=twips(w)) for w in widths)))
    reach: dict[int, tuple[int, int]] = {}
    for index, row in enumerate(rows):
        line = element("tr")
        if index < headers:
            line.append(element("trPr", element("tblHeader")))
        column = 0
        while column < len(row):
            cell = row[column]
            across = cell.across if cell else reach[column][1]
            width = twips(sum(widths[column : column + across]))
            properties = element("tcPr", element("tcW", w=width, type="dxa"))
            if across > 1:
                properties.append(element("gridSpan", val=across))
            if cell and cell.down > 1:
                properties.append(element("vMerge", val="restart"))
                reach[column] = (index + cell.down, across)
            elif cell is None:
                properties.append(element("vMerge"))
            words: list[Piece] = [Bold(cell.text) if index < headers else cell.text] if cell else []
            line.append(element("tc", properties, filled(style, words, when)))
            column += across
        made.append(line)
    section.element.body.insert(len(section.element.body) - 1, made)


Lines = Sequence[Sequence[Piece]]


def margins(section: Section, header: Lines, footer: Lines, when: date) -> None:
    """Write header and footer; a tab in a line sends what follows to the right margin."""
    page = section.sections[0]
    right = twips(PAGE[0] - 2 * MARGIN)
    for part, lines, style in ((page.header, header, "Header"), (page.footer, footer, "Footer")):
        part.is_linked_to_previous = False
        for old in list(part._element):
            part._element.remove(old)
        for line in lines:
            made = filled(style, line, when)
            made[0].append(element("tabs", element("tab", val="right", pos=right)))
            part._element.append(made)


def save(section: Section, path: Path, *, title: str, author: str, issued: date) -> None:
    """Write the DOCX with every date set to the issue date."""
    moment = datetime(issued.year, issued.month, issued.day, 9)
    properties = section.core_properties
    properties.title, properties.author, properties.last_modified_by = title, author, author
    properties.comments, properties.revision = "Demonstration section; all names invented", 3
    properties.created = properties.modified = properties.last_printed = moment
    written = io.BytesIO()
    section.save(written)
    with zipfile.ZipFile(written) as package, zipfile.ZipFile(path, "w") as target:
        for name in package.namelist():
            entry = zipfile.ZipInfo(name, (issued.year, issued.month, issued.day, 9, 0, 0))
            entry.compress_type = zipfile.ZIP_DEFLATED
            entry.external_attr = 0o600 << 16
            entry.create_system = 0
            target.writestr(entry, package.read(name))
