"""What a document is made of before it has an outline: paragraphs and tables."""

from __future__ import annotations

from collections.abc import Sequence

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


def joined(paragraphs: Sequence[Paragraph]) -> Paragraph:
    """Paragraphs that read as one, with the number and style of the first; one alone is left as it is."""
    first = paragraphs[0]
    if len(paragraphs) == 1:
        return first
    marks: list[Span] = []
    at = 0
    for paragraph in paragraphs:
        marks += [Span(mark.start + at, mark.end + at, mark.kind) for mark in paragraph.words.marks]
        at += len(paragraph.words.raw)
    first.words = Words("".join([paragraph.words.raw for paragraph in paragraphs]), tuple(marks))
    first.deleted = " ".join([paragraph.deleted for paragraph in paragraphs if paragraph.deleted])
    first.changed, first.ends = True, paragraphs[-1].ends
    return first


class Grid(Struct):
    """An outermost table in place, and what tracked deletions took out of it."""

    table: Table
    deleted: str = ""
    changed: bool = False
    struck: bool = False


Block = Paragraph | Grid
