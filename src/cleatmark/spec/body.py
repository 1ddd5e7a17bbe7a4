"""One pass over the document: its paragraphs and tables in order, as they read with all changes accepted."""

from __future__ import annotations

from typing import TYPE_CHECKING, cast

from cleatmark.docxfile.package import MC, Package, W, broken_xml, refuse
from cleatmark.spec.blocks import Block, Paragraph, joined
from cleatmark.spec.notes import may_be_note, stands_apart
from cleatmark.spec.numbering import Numbering
from cleatmark.spec.runs import FORMATS, Runs
from cleatmark.spec.styles import Styles, number, on, twips
from cleatmark.spec.tables import TableReader
from cleatmark.spec.words import Words, words

if TYPE_CHECKING:
    from lxml.etree import _Element

P, TBL, PPR = W + "p", W + "tbl", W + "pPr"
_SECTION_END, _FALLBACK, _FOREIGN = W + "sectPr", MC + "Fallback", W + "altChunk"
_STYLE, _NUMBER, _INDENT, _ALIGN, _MARK = W + "pStyle", W + "numPr", W + "ind", W + "jc", W + "rPr"
_BLOCKS = frozenset((P, TBL, _SECTION_END, _FALLBACK, _FOREIGN))
_TOPS = (W + "body", W + "hdr", W + "ftr")
_THROUGH = frozenset((W + "sdt", W + "sdtContent", W + "customXml", MC + "AlternateContent", MC + "Choice"))
_TAKEN, _VANISH = (W + "del", W + "moveFrom"), W + "vanish"
_NUM_ID, _LEVEL = W + "numId", W + "ilvl"
_VAL = W + "val"
_LONGEST_JOINED = 50_000
_NO_WORDS = Words("")


class Body:
    """Reads the blocks of one part. Keeps what spans paragraphs: counters, open fields, deleted marks."""

    def __init__(
        self, package: Package, styles: Styles, numbering: Numbering | None, clocks: bool = True
    ) -> None:
        self._package, self._limits = package, package.limits
        self._styles, self._numbering = styles, numbering
        self.runs = Runs(styles, clocks)
        self._tables = TableReader(self)
        self._carried: list[Paragraph] = []
        self._length = self._count = self._depth = 0
        self._part = ""
        self._marks = True
        self.foreign = False

    def blocks(self, part: str, side: bool = False) -> list[Block]:
        """The part's blocks in order, its XML in memory one block at a time; `side` for a header or footer."""
        from lxml import etree

        found: list[Block] = []
        root: _Element | None = None
        self._part = part
        with self._package.stream(part, side) as stream:
            parser = etree.XMLPullParser(
                events=("start",), tag=_TOPS,
                resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False,
                remove_comments=True, remove_pis=True,
            )  # fmt: skip
            try:
                while chunk := stream.read():
                    parser.feed(chunk)
                    for _, top in parser.read_events():
                        root = cast("_Element", top).getroottree().getroot()
                    if root is not None:
                        self._look_over(root)
                        if self._read(root, True, found):
                            stream.mark = stream.count
                root = parser.close()
            except etree.XMLSyntaxError as error:
                broken_xml(self._package.file, part, error)
            self._look_over(root)
            self._read(root, False, found)
        self._uncarried(found)
        return found

    def _look_over(self, root: _Element) -> None:
        """Ask once for all that lies ready what is seldom there: hidden or struck runs, deleted or hidden marks."""
        self.runs.formatted = next(root.iter(*FORMATS), None) is not None
        self._marks = next(root.iter(*_TAKEN, _VANISH), None) is not None

    def _read(self, parent: _Element, growing: bool, into: list[Block]) -> bool:
        """Take the outermost blocks of an element, and tell whether there was one.

        Of an element that is still growing, its last child may be too: those before it are taken and dropped.
        """
        met = False
        last = next(parent.iterchildren(reversed=True), None) if growing else None
        child: _Element | None = None
        for child in parent:
            if child.tag not in _BLOCKS:
                met |= self._read(child, child is last, into)
            elif child is not last:
                self._block(child, False, into)
                met = True
        if growing:
            child = None  # an element that Python still holds is copied when it is dropped, at great length
            del parent[:-1]
        return met

    def inner(self, container: _Element, gone: bool) -> list[Block]:
        """The blocks of a table cell or a text box."""
        self._depth += 1
        if self._depth > self._limits.depth:
            refuse(
                self._package.file,
                f"{self._part} nests tables or text boxes deeper than {self._limits.depth}",
                "The limit is depth.",
            )
        found: list[Block] = []
        outer, length, self._carried = self._carried, self._length, []
        self._within(container, gone, found)
        self._uncarried(found)
        self._carried, self._length = outer, length
        self._depth -= 1
        return found

    def _within(self, container: _Element, gone: bool, into: list[Block]) -> None:
        for element in container:
            if element.tag in _THROUGH:
                self._within(element, gone, into)
            else:
                self._block(element, gone, into)

    def _block(self, element: _Element, gone: bool, into: list[Block]) -> None:
        tag = element.tag
        if tag == P:
            self._paragraph(element, gone, into)
        elif tag == TBL:
            self._uncarried(into)
            into += self._tables.read(element, gone)
        elif tag == _SECTION_END:
            into.append(Paragraph(Words(""), self._styles.get(None), ends=_references(element)))
        elif tag == _FOREIGN:
            self.foreign = True

    def _uncarried(self, into: list[Block]) -> None:
        """What a deleted paragraph mark left over with no paragraph to join."""
        if self._carried:
            paragraph, self._carried = joined(self._carried), []
            into.append(self._numbered(paragraph))

    def _paragraph(self, element: _Element, gone: bool, into: list[Block]) -> None:
        self._count += 1
        if self._count > self._limits.paragraphs:
            refuse(
                self._package.file,
                f"the document has more than {self._limits.paragraphs:,} paragraphs",
                "The limit is paragraphs.",
            )
        paragraph, mark_gone, mark_hidden = self._properties(element)
        runs, style = self.runs, paragraph.style
        runs.read(element, style, gone)
        read = paragraph.words = words(runs.shown, runs.apart)
        raw = read.raw
        if runs.taken:
            paragraph.deleted = " ".join("".join(runs.taken).split())
        if runs.changed or mark_gone:
            paragraph.changed = True
        if runs.contents or style.contents:
            paragraph.contents = True
        if not raw or raw.isspace():
            paragraph.veiled = mark_hidden
            if runs.veiled:
                paragraph.words, paragraph.hidden = words([(text, 0) for text in runs.veiled], 0), True
        elif may_be_note(raw):
            paragraph.guide, paragraph.look = True, stands_apart(element)
        boxes = runs.boxes
        if mark_gone or gone or self._carried:
            self._join(paragraph, mark_gone or gone, into)
        else:
            into.append(self._numbered(paragraph))
        if boxes:
            runs.boxes = []
            for box in boxes:
                into += self.inner(box, False)

    def _join(self, paragraph: Paragraph, mark_gone: bool, into: list[Block]) -> None:
        """A paragraph whose mark was deleted reads on into the next; one deleted whole is a ghost."""
        if not self._carried:
            self._length = 0
        elif paragraph.hidden:
            paragraph.words = Words("")
        self._length += len(paragraph.words.raw)
        if mark_gone and self._length <= _LONGEST_JOINED and (self._carried or paragraph.words.raw.strip()):
            self._carried.append(paragraph)
            return
        paragraph, self._carried = joined([*self._carried, paragraph]), []
        if not mark_gone or self._length > _LONGEST_JOINED:
            into.append(self._numbered(paragraph))
        elif paragraph.deleted or paragraph.ends is not None:
            paragraph.ghost, paragraph.number = True, None
            into.append(paragraph)

    def _numbered(self, paragraph: Paragraph) -> Paragraph:
        at = paragraph.place
        if at is not None and self._numbering is not None and not paragraph.veiled:
            number = paragraph.number = self._numbering.next(*at)
            if paragraph.left is None:
                paragraph.left = number.left
        if paragraph.left is None:
            paragraph.left = paragraph.style.left or 0
        return paragraph

    def _properties(self, element: _Element) -> tuple[Paragraph, bool, bool]:
        style_id: str | None = None
        num_id = level = left = None
        align: str | None = None
        mark_gone = False
        mark_veil: bool | None = None
        ends: tuple[str, ...] | None = None
        properties = element[0] if len(element) else None
        if properties is not None and properties.tag == PPR:
            for child in properties:
                tag = child.tag
                if tag == _STYLE:
                    style_id = child.get(_VAL)
                elif tag == _NUMBER:
                    for part in child:
                        if part.tag == _NUM_ID:
                            num_id = number(part.get(_VAL))
                        elif part.tag == _LEVEL:
                            level = number(part.get(_VAL))
                elif tag == _INDENT:
                    left = twips(child, "start", "left")
                elif tag == _ALIGN:
                    align = child.get(_VAL)
                elif tag == _MARK:
                    if self._marks:
                        for part in child.iterchildren(*_TAKEN, _VANISH):
                            if part.tag == _VANISH:
                                mark_veil = on(part)
                            else:
                                mark_gone = True
                elif tag == _SECTION_END:
                    ends = _references(child)
        style = self._styles.get(style_id)
        mark_hidden = style.hidden if mark_veil is None else mark_veil
        place = self._numbering.at(style, num_id, level) if self._numbering is not None else None
        if left is None and num_id is None and place is not None:
            left = style.left
        centered = style.centered if align is None else align == "center"
        paragraph = Paragraph(_NO_WORDS, style, place, left=left, centered=centered, ends=ends)
        return paragraph, mark_gone, mark_hidden


def _references(section: _Element) -> tuple[str, ...]:
    """Relationship ids of the header and footer parts of a Word section."""
    ids = []
    for child in section:
        if child.tag in (W + "headerReference", W + "footerReference"):
            for name, value in child.attrib.items():
                if str(name).endswith("}id"):
                    ids.append(str(value))
    return tuple(ids)
