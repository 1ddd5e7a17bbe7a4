"""One pass over the document: its paragraphs and tables in order, as they read with all changes accepted."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from typing import TYPE_CHECKING

from cleatmark.docxfile.package import MC, Package, Part, W, broken_xml, refuse
from cleatmark.spec.blocks import Block, Paragraph
from cleatmark.spec.notes import may_be_note, stands_apart
from cleatmark.spec.numbering import Numbering
from cleatmark.spec.runs import Runs
from cleatmark.spec.styles import Styles, number, on, twips
from cleatmark.spec.tables import TableReader
from cleatmark.spec.words import Words, words

if TYPE_CHECKING:
    from lxml.etree import _Element

P, TBL, PPR = W + "p", W + "tbl", W + "pPr"
_SECTION_END, _FALLBACK, _FOREIGN = W + "sectPr", MC + "Fallback", W + "altChunk"
_STYLE, _NUMBER, _INDENT, _ALIGN, _MARK = W + "pStyle", W + "numPr", W + "ind", W + "jc", W + "rPr"
_THROUGH = frozenset((W + "sdt", W + "sdtContent", W + "customXml", MC + "AlternateContent", MC + "Choice"))
_TAKEN, _VANISH = (W + "del", W + "moveFrom"), W + "vanish"
_NUM_ID, _LEVEL = W + "numId", W + "ilvl"
_VAL = W + "val"
_LONGEST_JOINED = 50_000


class Body:
    """Reads the blocks of one part. Keeps what spans paragraphs: counters, open fields, deleted marks."""

    def __init__(
        self, package: Package, styles: Styles, numbering: Numbering | None, clocks: bool = True
    ) -> None:
        self._package, self._limits = package, package.limits
        self._styles, self._numbering = styles, numbering
        self.runs = Runs(styles, clocks)
        self._tables = TableReader(self)
        self._carried: Paragraph | None = None
        self._count = self._depth = 0
        self._part = ""
        self.foreign = False

    def blocks(self, part: str, side: bool = False) -> Iterator[Block]:
        """The part's blocks in order, memory at one block whatever its size; `side` for a header or footer."""
        from lxml import etree

        self._part, inside = part, 0
        with self._package.stream(part, side) as stream:
            events = etree.iterparse(
                stream, events=("start", "end"), tag=(P, TBL, _SECTION_END, _FALLBACK, _FOREIGN),
                resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False,
                remove_comments=True, remove_pis=True,
            )  # fmt: skip
            try:
                for event, element in events:
                    if event == "start":
                        inside += 1
                        continue
                    inside -= 1
                    if not inside:
                        yield from self._block(element, False)
                        self._forget(element, stream)
            except etree.XMLSyntaxError as error:
                broken_xml(self._package.file, part, error)
        yield from self._uncarried()

    def _forget(self, element: _Element, stream: Part) -> None:
        stream.mark = stream.count
        element.clear()
        parent = element.getparent()
        if parent is not None:
            while parent[0] is not element:
                del parent[0]

    def inner(self, container: _Element, gone: bool) -> Iterator[Block]:
        """The blocks of a table cell or a text box."""
        self._depth += 1
        if self._depth > self._limits.depth:
            refuse(
                self._package.file,
                f"{self._part} nests tables or text boxes deeper than {self._limits.depth}",
                "The limit is depth.",
            )
        outer, self._carried = self._carried, None
        yield from self._within(container, gone)
        yield from self._uncarried()
        self._carried = outer
        self._depth -= 1

    def _within(self, container: _Element, gone: bool) -> Iterator[Block]:
        for element in container:
            if element.tag in _THROUGH:
                yield from self._within(element, gone)
            else:
                yield from self._block(element, gone)

    def _block(self, element: _Element, gone: bool) -> Iterable[Block]:
        tag = element.tag
        if tag == P:
            return self._paragraph(element, gone)
        if tag == TBL:
            return (*self._uncarried(), *self._tables.read(element, gone))
        if tag == _SECTION_END:
            return (Paragraph(Words(""), self._styles.get(None), ends=_references(element)),)
        if tag == _FOREIGN:
            self.foreign = True
        return ()

    def _uncarried(self) -> tuple[Block, ...]:
        """What a deleted paragraph mark left over with no paragraph to join."""
        if self._carried is None:
            return ()
        paragraph, self._carried = self._carried, None
        return (self._numbered(paragraph),)

    def _paragraph(self, element: _Element, gone: bool) -> Iterable[Block]:
        self._count += 1
        if self._count > self._limits.paragraphs:
            refuse(
                self._package.file,
                f"the document has more than {self._limits.paragraphs:,} paragraphs",
                "The limit is paragraphs.",
            )
        paragraph, mark_gone, mark_hidden = self._properties(element)
        runs = self.runs
        runs.read(element, paragraph.style, gone)
        paragraph.words = words(runs.shown, runs.apart)
        if runs.taken:
            paragraph.deleted = " ".join("".join(runs.taken).split())
        paragraph.changed = runs.changed or mark_gone
        paragraph.contents = paragraph.style.contents or runs.contents
        blank = not paragraph.words.raw or paragraph.words.raw.isspace()
        if blank:
            paragraph.veiled = mark_hidden
            if runs.veiled:
                paragraph.words, paragraph.hidden = words([(text, 0) for text in runs.veiled], 0), True
        elif may_be_note(paragraph.words.raw):
            paragraph.guide, paragraph.look = True, stands_apart(element)
        boxes = runs.boxes
        made = self._joined(paragraph, mark_gone or gone)
        return (*made, *(block for box in boxes for block in self.inner(box, False))) if boxes else made

    def _joined(self, paragraph: Paragraph, mark_gone: bool) -> tuple[Block, ...]:
        """A paragraph whose mark was deleted reads on into the next; one deleted whole is a ghost."""
        carried, self._carried = self._carried, None
        if carried is not None:
            paragraph = carried.joined(paragraph)
        if not mark_gone or len(paragraph.words.raw) > _LONGEST_JOINED:
            return (self._numbered(paragraph),)
        if paragraph.words.raw.strip():
            self._carried = paragraph
        elif paragraph.deleted or paragraph.ends is not None:
            paragraph.ghost, paragraph.number = True, None
            return (paragraph,)
        return ()

    def _numbered(self, paragraph: Paragraph) -> Paragraph:
        at = paragraph.place
        if at is not None and self._numbering is not None and not paragraph.veiled:
            paragraph.number = self._numbering.next(*at)
            if paragraph.left is None:
                paragraph.left = paragraph.number.left
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
        if left is None and num_id is None and style.left is not None and place is not None:
            left = style.left
        centered = style.centered if align is None else align == "center"
        return (
            Paragraph(Words(""), style, place=place, left=left, centered=centered, ends=ends),
            mark_gone,
            mark_hidden,
        )


def _references(section: _Element) -> tuple[str, ...]:
    """Relationship ids of the header and footer parts of a Word section."""
    ids = []
    for child in section:
        if child.tag in (W + "headerReference", W + "footerReference"):
            for name, value in child.attrib.items():
                if str(name).endswith("}id"):
                    ids.append(str(value))
    return tuple(ids)
