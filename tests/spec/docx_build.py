"""Builds small DOCX files from hand-written XML, so that a test shows what Word would have stored."""

from __future__ import annotations

import zipfile
from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path
from typing import Any
from xml.sax.saxutils import escape, quoteattr

WORD = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"
RELS = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
SPACES = (
    f'xmlns:w="{WORD}" xmlns:r="{RELS}" '
    'xmlns:mc="http://schemas.openxmlformats.org/markup-compatibility/2006" '
    'xmlns:wps="http://schemas.microsoft.com/office/word/2010/wordprocessingShape" '
    'xmlns:v="urn:schemas-microsoft-com:vml" '
    'xmlns:m="http://schemas.openxmlformats.org/officeDocument/2006/math"'
)
HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n'
KIND = "application/vnd.openxmlformats-officedocument.wordprocessingml"
MAIN = f"{KIND}.document.main+xml"


def t(text: str) -> str:
    """Text inside a run; a tab in the string is written as Word writes one."""
    pieces = [
        f'<w:t xml:space="preserve">{escape(piece)}</w:t>' if piece else "" for piece in text.split("\t")
    ]
    return "<w:tab/>".join(pieces)


def r(text: str, props: str = "") -> str:
    """A run; `props` goes into its rPr."""
    return f"<w:r>{f'<w:rPr>{props}</w:rPr>' if props else ''}{t(text)}</w:r>"


def raw_run(content: str) -> str:
    return f"<w:r>{content}</w:r>"


def p(
    content: str = "",
    style: str = "",
    num: tuple[int, int] | int | None = None,
    props: str = "",
    mark: str = "",
    left: int | None = None,
) -> str:
    """A paragraph. Content that begins with "<" is XML, anything else is text.

    num   (numId, ilvl), or numId alone; props: further pPr; mark: rPr of the paragraph mark
    """
    inside = content if content.startswith("<") else (r(content) if content else "")
    ppr = f"<w:pStyle w:val={quoteattr(style)}/>" if style else ""
    if isinstance(num, tuple):
        ppr += f'<w:numPr><w:ilvl w:val="{num[1]}"/><w:numId w:val="{num[0]}"/></w:numPr>'
    elif num is not None:
        ppr += f'<w:numPr><w:numId w:val="{num}"/></w:numPr>'
    ppr += props
    if left is not None:
        ppr += f'<w:ind w:left="{left}"/>'
    if mark:
        ppr += f"<w:rPr>{mark}</w:rPr>"
    return f"<w:p>{f'<w:pPr>{ppr}</w:pPr>' if ppr else ''}{inside}</w:p>"


def ins(content: str) -> str:
    return f'<w:ins w:id="1" w:author="x">{content if content.startswith("<") else r(content)}</w:ins>'


def dele(text: str) -> str:
    return f'<w:del w:id="2" w:author="x"><w:r><w:delText>{escape(text)}</w:delText></w:r></w:del>'


def cell(*content: str, props: str = "") -> str:
    inside = "".join(
        part if part.startswith("<w:p") or part.startswith("<w:tbl") else p(part) for part in content
    )
    return f"<w:tc>{f'<w:tcPr>{props}</w:tcPr>' if props else ''}{inside or p()}</w:tc>"


def row(*cells: str, props: str = "") -> str:
    inside = "".join(
        part if part.startswith("<w:tc") or part.startswith("<w:sdt") else cell(part) for part in cells
    )
    return f"<w:tr>{f'<w:trPr>{props}</w:trPr>' if props else ''}{inside}</w:tr>"


def tbl(*rows: str, props: str = "") -> str:
    return f"<w:tbl><w:tblPr>{props}</w:tblPr>{''.join(rows)}</w:tbl>"


def lvl(
    level: int,
    fmt: str,
    text: str,
    *,
    start: int | None = 1,
    style: str = "",
    more: str = "",
    left: int | None = None,
) -> str:
    """One level of an abstract list; `more` stands between pStyle and lvlText."""
    return (
        f'<w:lvl w:ilvl="{level}">'
        + (f'<w:start w:val="{start}"/>' if start is not None else "")
        + f'<w:numFmt w:val="{fmt}"/>'
        + (f'<w:pStyle w:val="{style}"/>' if style else "")
        + more
        + f"<w:lvlText w:val={quoteattr(text)}/>"
        + (f'<w:pPr><w:ind w:left="{left}" w:hanging="360"/></w:pPr>' if left is not None else "")
        + "</w:lvl>"
    )


def abstract(key: int, *levels: str, head: str = "") -> str:
    return f'<w:abstractNum w:abstractNumId="{key}">{head}{"".join(levels)}</w:abstractNum>'


def num(key: int, of: int, *overrides: str) -> str:
    return f'<w:num w:numId="{key}"><w:abstractNumId w:val="{of}"/>{"".join(overrides)}</w:num>'


def restart(level: int, start: int = 1) -> str:
    return f'<w:lvlOverride w:ilvl="{level}"><w:startOverride w:val="{start}"/></w:lvlOverride>'


def style(
    key: str,
    *,
    name: str = "",
    based: str = "",
    ppr: str = "",
    rpr: str = "",
    kind: str = "paragraph",
    default: bool = False,
) -> str:
    return (
        f'<w:style w:type="{kind}" w:styleId="{key}" w:default="{int(default)}">'
        f'<w:name w:val="{name or key}"/>'
        + (f'<w:basedOn w:val="{based}"/>' if based else "")
        + (f"<w:pPr>{ppr}</w:pPr>" if ppr else "")
        + (f"<w:rPr>{rpr}</w:rPr>" if rpr else "")
        + "</w:style>"
    )


def numbered(key: int | None = None, level: int | None = None) -> str:
    """A numPr for a style."""
    inner = f'<w:ilvl w:val="{level}"/>' if level is not None else ""
    inner += f'<w:numId w:val="{key}"/>' if key is not None else ""
    return f"<w:numPr>{inner}</w:numPr>"


CSI_LIST = abstract(
    1,
    lvl(0, "decimal", "PART %1 -", style="PRT"),
    lvl(1, "decimalZero", "%1.%2", style="ART"),
    lvl(2, "upperLetter", "%3.", style="PR1", left=864),
    lvl(3, "decimal", "%4.", style="PR2", left=1440),
    lvl(4, "lowerLetter", "%5.", style="PR3", left=2016),
    lvl(5, "decimal", "%6)", style="PR4", left=2592),
    lvl(6, "lowerLetter", "%7)", style="PR5", left=3168),
)
CSI_NUMBERING = CSI_LIST + num(1, 1)
CSI_STYLES = (
    style("Normal", default=True)
    + style("PRT", ppr=numbered(1) + '<w:outlineLvl w:val="0"/>')
    + style("ART", ppr=numbered(1, 1) + '<w:outlineLvl w:val="1"/>')
    + style("PR1", ppr=numbered(1, 2) + '<w:outlineLvl w:val="2"/>')
    + style("PR2", ppr=numbered(1, 3))
    + style("PR3", ppr=numbered(1, 4))
    + style("PR4", ppr=numbered(1, 5))
    + style("PR5", ppr=numbered(1, 6))
)


def parts(
    blocks: Iterable[str],
    *,
    styles: str = CSI_STYLES,
    numbering: str | None = CSI_NUMBERING,
    headers: Sequence[str] = (),
    section: str | None = None,
    main_type: str = MAIN,
) -> dict[str, str]:
    """The parts of a DOCX by name, to be changed by a test before they are packed.

    headers are header parts as content; `section` is the body's sectPr content (all headers where None).
    """
    links = f'<Relationship Id="rS" Type="{RELS}/styles" Target="styles.xml"/>'
    types = (
        '<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>'
        '<Default Extension="xml" ContentType="application/xml"/>'
        f'<Override PartName="/word/document.xml" ContentType="{main_type}"/>'
        f'<Override PartName="/word/styles.xml" ContentType="{KIND}.styles+xml"/>'
    )
    made: dict[str, str] = {}
    if numbering is not None:
        links += f'<Relationship Id="rN" Type="{RELS}/numbering" Target="numbering.xml"/>'
        types += f'<Override PartName="/word/numbering.xml" ContentType="{KIND}.numbering+xml"/>'
        made["word/numbering.xml"] = f"{HEAD}<w:numbering {SPACES}>{numbering}</w:numbering>"
    shown = ""
    for at, content in enumerate(headers):
        links += f'<Relationship Id="rH{at}" Type="{RELS}/header" Target="header{at}.xml"/>'
        types += f'<Override PartName="/word/header{at}.xml" ContentType="{KIND}.header+xml"/>'
        shown += f'<w:headerReference w:type="default" r:id="rH{at}"/>'
        made[f"word/header{at}.xml"] = f"{HEAD}<w:hdr {SPACES}>{content}</w:hdr>"
    end = shown if section is None else section
    return {
        "[Content_Types].xml": (
            f'{HEAD}<Types xmlns="http://schemas.openxmlformats.org/package/2006/content-types">{types}</Types>'
        ),
        "_rels/.rels": (
            f'{HEAD}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
            f'<Relationship Id="r1" Type="{RELS}/officeDocument" Target="word/document.xml"/></Relationships>'
        ),
        "word/document.xml": (
            f"{HEAD}<w:document {SPACES}><w:body>{''.join(blocks)}<w:sectPr>{end}</w:sectPr></w:body>"
            "</w:document>"
        ),
        "word/_rels/document.xml.rels": (
            f'{HEAD}<Relationships xmlns="http://schemas.openxmlformats.org/package/2006/relationships">'
            f"{links}</Relationships>"
        ),
        "word/styles.xml": f"{HEAD}<w:styles {SPACES}>{styles}</w:styles>",
        **made,
    }


def pack(path: Path, made: Mapping[str, str | bytes]) -> Path:
    with zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as archive:
        for name, content in made.items():
            archive.writestr(name, content)
    return path


def build(path: Path, blocks: Iterable[str], **options: Any) -> Path:
    """A DOCX of the blocks, as `parts` makes it."""
    return pack(path, parts(blocks, **options))
