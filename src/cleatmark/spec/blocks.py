"""What a document is made of before it has an outline: paragraphs and tables."""

from __future__ import annotations

from msgspec import Struct

from cleatmark.spec.clauses import Span, Table
from cleatmark.spec.numbering import Number
from cleatmark.spec.styles import Style
from cleatmark.spec.words import Words


class Paragraph(Struct, gc=False):
    """A paragraph as printed.

    place    its list and level, None where it has no automatic number
    number   what Word prints before it
    hidden   all its text is formatted as hidden, and `words` is that text
    veiled   nothing in it shows and its mark is hidden too, so that it takes no number; with hidden text before a
             mark that shows, Word prints the number and nothing after it
    ghost    a tracked deletion took it away whole
    left     indent of its text, twips
    guide    its first words are those of many a note to the specifier
    look     set apart to the eye: boxed, shaded or coloured (asked only where `guide`)
    contents inside a table of contents
    ends     ids of the header and footer parts of the Word section that ends with it
    """

    words: Words
    style: Style
    place: tuple[int, int] | None = None
    number: Number | None = None
    hidden: bool = False
    veiled: bool = False
    ghost: bool = False
    deleted: str = ""
    changed: bool = False
    left: int | None = None
    centered: bool = False
    guide: bool = False
    look: bool = False
    contents: bool = False
    ends: tuple[str, ...] | None = None

    def joined(self, following: Paragraph) -> Paragraph:
        """This paragraph and the next as one, with this one's number and style."""
        if following.hidden:
            following.words = Words("")
        moved = tuple(
            Span(mark.start + len(self.words.raw), mark.end + len(self.words.raw), mark.kind)
            for mark in following.words.marks
        )
        self.words = Words(self.words.raw + following.words.raw, self.words.marks + moved)
        self.deleted = f"{self.deleted} {following.deleted}".strip()
        self.changed = True
        self.ends = following.ends
        return self


class Grid(Struct):
    """An outermost table in place, and what tracked deletions took out of it."""

    table: Table
    deleted: str = ""
    changed: bool = False
    struck: bool = False


Block = Paragraph | Grid
