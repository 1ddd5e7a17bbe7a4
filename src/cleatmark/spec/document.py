"""Reading a DOCX specification: its sections, their clauses, and where each stands on paper."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from cleatmark.docxfile.limits import Limits
from cleatmark.docxfile.package import Package, refuse
from cleatmark.problems import Place, Problem
from cleatmark.spec.blocks import Block, Grid, Paragraph
from cleatmark.spec.body import Body
from cleatmark.spec.clauses import Clause, Section, Specification
from cleatmark.spec.dates import printed_date
from cleatmark.spec.numbering import Numbering
from cleatmark.spec.outline import Outline
from cleatmark.spec.roofs import METAL_ROOF, OTHER, is_roof
from cleatmark.spec.sections import from_header, opening_title, starts
from cleatmark.spec.styles import Styles

_OTHER_KINDS = (
    ("spreadsheetml", "a spreadsheet"),
    ("presentationml", "a presentation"),
    ("visio", "a drawing"),
)


def read_docx(path: Path, limits: Limits | None = None) -> tuple[Specification, tuple[Problem, ...]]:
    """Read a specification from a DOCX file.

    Tracked changes are read as accepted, hidden text is set apart, automatic numbers are worked out. Nothing
    the file points to is fetched and nothing in it is run. Raises InputError where the file cannot be used at
    all; what can be read around is told in the problems.
    """
    with Package(path, limits or Limits()) as package:
        return _read(package)


def _read(package: Package) -> tuple[Specification, tuple[Problem, ...]]:
    problems: list[Problem] = []
    main = _main_part(package)
    links = package.relationships(main)
    named = {link.kind: link.target for link in links.values() if not link.external}
    styles = Styles(package.root(named["styles"]) if package.has(named.get("styles", "")) else None)
    numbering = Numbering(
        package.root(named["numbering"]) if package.has(named.get("numbering", "")) else None, styles
    )
    body = Body(package, styles, numbering)
    blocks = list(body.blocks(main))
    margins: dict[str, tuple[str, ...]] = {}
    read: dict[str, tuple[str, ...]] = {}
    for link in links.values():
        if link.kind in ("header", "footer") and not link.external and package.has(link.target):
            if link.target not in read:
                read[link.target] = _margin(package, styles, link.target)
            margins[link.id] = read[link.target]
    header = tuple(dict.fromkeys(line for lines in margins.values() for line in lines))
    if numbering.missing:
        problems.append(
            _notice(package, "some paragraphs take their number from a list that the file does not define",
                    "Their letters and numbers are missing from the clause addresses.")
        )  # fmt: skip
    if body.foreign:
        problems.append(_notice(package, "a document embedded in this one is not read"))
    sections = _sections(blocks, margins, header)
    if not any(section.roof for section in sections):
        problems.append(_no_roof(package, sections))
    first = next((section for section in sections if section.roof), None)
    opening = _opening(blocks, first)
    specification = Specification(
        package.file,
        tuple(sections),
        dated=printed_date((*header, *opening)),
        header=header,
        tracked=any(block.changed for block in blocks),
    )
    return specification, tuple(problems)


def _main_part(package: Package) -> str:
    kind = package.content_type("word/document.xml")
    for link in package.relationships("").values():
        if link.kind == "officeDocument" and not link.external:
            kind = package.content_type(link.target)
            if "macroEnabled" in kind:
                refuse(
                    package.file,
                    "this document carries macros, and a specification never needs any",
                    "Save it from Word as a .docx, which leaves the macros behind, and name that file.",
                )
            if "wordprocessingml" in kind or "ms-word" in kind:
                return link.target
    for sign, what in _OTHER_KINDS:
        if sign in kind:
            refuse(package.file, f"this is {what}, not a Word document")
    refuse(package.file, "this is a ZIP archive but not a DOCX: no Word document in it")


def _notice(package: Package, message: str, *help_lines: str) -> Problem:
    return Problem(Place(package.file), message, help_lines)


def _margin(package: Package, styles: Styles, part: str) -> tuple[str, ...]:
    """The lines of a header or footer; tabs kept, the print date left out."""
    reader = Body(package, styles, None, clocks=False)
    lines = []
    for block in reader.blocks(part, side=True):
        if isinstance(block, Grid):
            lines += [line for cell in block.table.cells for line in cell.text.split("\n")]
        elif not block.hidden:
            lines.append(block.words.raw.strip())
    return tuple(line for line in lines if line)


def _sections(
    blocks: Sequence[Block], margins: dict[str, tuple[str, ...]], header: tuple[str, ...]
) -> list[Section]:
    found = starts(blocks)
    sections: list[Section] = []
    ordinal = 0
    if found:
        for start, following in zip(found, [*found[1:], None], strict=True):
            end = following.at if following is not None else len(blocks)
            clauses = Outline(start.number, ordinal).clauses(blocks[start.body : end])
            ordinal += len(clauses)
            roof = is_roof(start.number, start.title)
            sections.append(Section(start.number, start.title, tuple(clauses), roof))
        return sections
    for number, title, part in _by_header(blocks, margins, header):
        lines, body = opening_title(part)
        title = title or lines
        clauses = Outline(number, ordinal).clauses(part[body:])
        ordinal += len(clauses)
        roof = is_roof(number, title) if number else is_roof("", title) or _reads_as_roof(clauses)
        if clauses:
            sections.append(Section(number, title, tuple(clauses), roof))
    return sections


def _by_header(
    blocks: Sequence[Block], margins: dict[str, tuple[str, ...]], header: tuple[str, ...]
) -> list[tuple[str, str, Sequence[Block]]]:
    """Stretches of the document by the section number in their page header, where no title line has one."""
    stretches: list[tuple[str, str, list[Block]]] = []
    begin = 0
    for at, block in enumerate(blocks):
        if isinstance(block, Paragraph) and block.ends is not None:
            lines = tuple(line for key in block.ends for line in margins.get(key, ()))
            known = from_header(lines)
            piece = list(blocks[begin : at + 1])
            begin = at + 1
            if stretches and (known is None or known[0] == stretches[-1][0]):
                stretches[-1][2].extend(piece)
            else:
                stretches.append((*(known or ("", "")), piece))
    rest = list(blocks[begin:])
    if stretches:
        stretches[-1][2].extend(rest)
    else:
        known = from_header(header)
        stretches.append((*(known or ("", "")), rest))
    return [(number, title, part) for number, title, part in stretches]


def _reads_as_roof(clauses: Sequence[Clause]) -> bool:
    """Whether a document without a section heading is plainly about a metal roof."""
    opening = [clause for clause in clauses if not clause.hidden][:60]
    headings = [
        clause for clause in clauses if not clause.hidden and clause.level <= 1 and len(clause.text) < 100
    ]
    roof = sum(bool(METAL_ROOF.search(clause.text)) for clause in headings)
    other = sum(bool(OTHER.search(clause.text)) and not METAL_ROOF.search(clause.text) for clause in headings)
    if roof:
        return roof >= other
    mentions = sum(len(METAL_ROOF.findall(clause.text)) for clause in opening)
    return mentions >= 2 and mentions > sum(
        bool(re.search(r"wall panel|curtain\s*wall|membrane|shingle", clause.text, re.I))
        for clause in opening
    )


def _no_roof(package: Package, sections: Sequence[Section]) -> Problem:
    held = [
        f"{section.number} {section.title}".strip() for section in sections if section.number or section.title
    ]
    if not held:
        return _notice(
            package,
            "no metal roof section is in this file: it has no section heading, and does not read as one",
            'Such a section begins "SECTION 07 41 13 - METAL ROOF PANELS".',
        )
    shown = "; ".join(held[:12]) + (f"; and {len(held) - 12} more" if len(held) > 12 else "")
    return _notice(package, f"no metal roof section is in this file; it holds {shown}")


def _opening(blocks: Sequence[Block], section: Section | None) -> list[str]:
    """The lines before the first clause, where a title page prints its date."""
    lines: list[str] = []
    for block in blocks[:200]:
        if isinstance(block, Paragraph):
            if block.number is not None or len(lines) > 30:
                break
            text = " ".join(block.words.raw.split())
            if len(text) < 120 and not block.hidden:
                lines.append(text)
    return lines
