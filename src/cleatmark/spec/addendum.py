"""An addendum from its DOCX to instructions: its number, its date, and what it tells of each section."""

from __future__ import annotations

import re
from collections.abc import Iterable
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.docxfile.limits import Limits
from cleatmark.docxfile.package import Package, refuse
from cleatmark.spec.blocks import Grid
from cleatmark.spec.body import Body
from cleatmark.spec.dates import printed_date
from cleatmark.spec.instructions import (
    HEADED,
    NEXT,
    SECTION,
    Instruction,
    Line,
    is_instruction,
    read,
    stripped,
)
from cleatmark.spec.labels import typed
from cleatmark.spec.lazy import lazily
from cleatmark.spec.numbering import Numbering
from cleatmark.spec.styles import Styles

_NUMBER = lazily(
    r"\baddend(?:um|a)\s+(?:no\.?|number|#)?\s*([0-9]{1,3}|[A-Z]|one|two|three|four|five|six)\b", re.I
)
_SPELT = {"one": "1", "two": "2", "three": "3", "four": "4", "five": "5", "six": "6"}
_HEADING = lazily(
    r"\W*(?:\w{1,3}[.)]\s+)?(?:(?:changes|revisions|modifications|clarifications)\s+to\s+(?:the\s+)?)?"
    r"(?:project\s+manual|(?:technical\s+)?specifications?|drawings?|bidding\s+\w+|attachments?|end\s+of\s+.*)\W*\Z",
    re.I,
)
_SHEET = lazily(r"\b(?:sheets?|drawings?|dwg\.?|details?)\s+(?:no\.?\s+)?[A-Z0-9]", re.I)
_TITLE_LINES = 12
_NAMES = 200
"""Characters of a line that only names a paragraph: numbers behind numbers without end are tried in every way."""


class Addendum(Struct, frozen=True):
    """An addendum read.

    name   as citations name it: "Addendum 1"
    dated  as printed, "" where no date was found
    """

    file: str
    name: str
    dated: str
    instructions: tuple[Instruction, ...]


def read_addendum(path: Path, number: int, limits: Limits | None = None) -> Addendum:
    """An addendum's instructions. `number` is its place among the job's, where it prints none of its own.

    Raises InputError where the file cannot be used at all.
    """
    with Package(path, limits or Limits()) as package:
        lines, opening = _lines(package)
    named = next((match for text in opening if (match := _NUMBER.search(text))), None)
    own = named[1].casefold() if named is not None else str(number)
    name = f"Addendum {_SPELT.get(own, own.upper())}"
    return Addendum(str(path), name, printed_date(opening), tuple(gather(lines)))


def _lines(package: Package) -> tuple[list[Line], list[str]]:
    """The paragraphs and tables in order; and the first words, in which number and date stand."""
    links = package.relationships("").values()
    main = next((link.target for link in links if link.kind == "officeDocument" and not link.external), "")
    if not main:
        refuse(package.file, "this is a ZIP archive but not a DOCX: no Word document in it")
    parts = {link.kind: link.target for link in package.relationships(main).values() if not link.external}
    styles = Styles(package.root(parts["styles"]) if package.has(parts.get("styles", "")) else None)
    listed = package.root(parts["numbering"]) if package.has(parts.get("numbering", "")) else None
    lines: list[Line] = []
    for block in Body(package, styles, Numbering(listed, styles)).blocks(main):
        if isinstance(block, Grid):
            lines.append(Line("", "", block.table))
        elif not block.hidden and block.words.raw.strip():
            label = block.number.label if block.number is not None and block.number.counts else ""
            text = block.words.raw
            own = typed(text) if not label else None
            if own is not None and own.form not in ("joined", "part"):
                label, text = own.shown, text[own.end :]
            lines.append(Line(label, " ".join(text.split())))
    tables = [cell.text for line in lines[:4] if line.table is not None for cell in line.table.cells]
    headers = [
        block.words.raw
        for link in package.relationships(main).values()
        if link.kind == "header" and package.has(link.target)
        for block in Body(package, styles, None).blocks(link.target)
        if not isinstance(block, Grid)
    ]
    return lines, [*(line.text for line in lines[:_TITLE_LINES]), *tables, *headers]


def gather(lines: Iterable[Line]) -> list[Instruction]:
    """The instructions in order, each with the text that follows it. What is said between them is passed over."""
    reader = _Reader()
    for line in lines:
        reader.take(line)
    return reader.done()


class _Reader:
    """Where in an addendum the reader is: under which section, in which instruction."""

    def __init__(self) -> None:
        self._found: list[Instruction] = []
        self._section = ""
        self._outer = ""
        self._under = ""
        self._drawings = False
        self._open = False

    def done(self) -> list[Instruction]:
        self._close()
        return self._found

    def take(self, line: Line) -> None:
        if line.table is not None:
            self._more(line)
        elif self._is_heading(line.text):
            self._close()
            self._outer, self._under = line.label.strip(" .()"), ""
        elif len(line.text) < _NAMES and (named := HEADED.match(line.text)) is not None:
            self._close()
            self._under = named[1]
        elif is_instruction(line.text):
            for part in NEXT.split(line.text):
                self._instruction(part, line.label)
        elif self._open:
            self._more(Line(line.label, stripped(line.text)))
        else:
            self._outer = line.label.strip(" .()") or self._outer

    def _is_heading(self, text: str) -> bool:
        named = SECTION.search(text)
        if named is not None and len(text) < 120 and not is_instruction(text):
            self._section, self._drawings = named[1], False
            return True
        if _HEADING.match(text):
            self._drawings = "drawing" in text.casefold()
            return True
        return False

    def _instruction(self, text: str, label: str) -> None:
        if not is_instruction(text):
            self._more(Line("", stripped(text)))
            return
        self._close()
        if self._drawings or _SHEET.search(text):
            return
        self._found += read(text, self._item(label.strip(" .()")), self._section, self._under)
        self._open = self._found[-1].awaits

    def _item(self, label: str) -> str:
        """The item's number as printed, with that of what it stands under: "2.A"."""
        if not label:
            return str(len(self._found) + 1)
        under = self._outer and self._outer.isdigit() != label.isdigit()
        return f"{self._outer}.{label}" if under else label

    def _more(self, line: Line) -> None:
        """Text that belongs to the instruction before it."""
        if self._open and (line.text or line.table is not None):
            last = self._found[-1]
            self._found[-1] = replace(last, lines=(*last.lines, line))

    def _close(self) -> None:
        """The instruction before ends here; where its text is missing it is not understood."""
        if self._open and not self._found[-1].lines:
            self._found[-1] = replace(self._found[-1], kind="unread")
        self._open = False
