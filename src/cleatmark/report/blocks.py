"""What a report is made of, before it is a terminal page, a DOCX or an HTML file.

A report is a tuple of blocks in reading order. The words are in the blocks; a renderer adds only the form.
Text is raw: each renderer cleans it with `clean.clean` as it puts it out.
"""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from cleatmark.review.model import Plan


class Span(Struct, frozen=True):
    """A stretch of text. style: "", strong, where (an address), quote. link: an anchor in the report."""

    text: str
    style: str = ""
    link: str = ""


Spans = tuple[Span, ...]


class Heading(Struct, frozen=True):
    """A heading; level 1 is the title, 2 a section."""

    text: str
    level: int = 2
    anchor: str = ""
    new_page: bool = False


class Paragraph(Struct, frozen=True):
    """Words; `small` is for the working, which is looked up and not read through."""

    spans: Spans
    small: bool = False


class Pairs(Struct, frozen=True):
    """Labelled lines that identify something: the job, the submittal."""

    rows: tuple[tuple[str, Spans], ...]


class Answer(Struct, frozen=True):
    """One of the two questions, its answer in a word, and the reason in a sentence."""

    question: str
    answer: str
    reason: Spans
    verdict: str = ""


class Entry(Struct, frozen=True):
    """One numbered finding: what it is, its verdict, what is done about it, and labelled lines below.

    Lines that follow each other under one label may be set under it once.
    """

    number: int
    title: str
    verdict: str
    action: str
    body: Spans
    lines: tuple[tuple[str, Spans], ...] = ()
    anchor: str = ""


class Bullets(Struct, frozen=True):
    items: tuple[Spans, ...]
    numbered: bool = False


class Column(Struct, frozen=True):
    """A table's column. `right` aligns figures."""

    title: str
    right: bool = False


class Row(Struct, frozen=True):
    """A table's row. `tall` leaves room for handwriting in print."""

    cells: tuple[Spans, ...]
    anchor: str = ""
    tall: bool = False


class Table(Struct, frozen=True):
    """A table; the first cell of a row names the row."""

    caption: str
    columns: tuple[Column, ...]
    rows: tuple[Row, ...]


class Box(Struct, frozen=True):
    """Lines set apart from the rest, under a title."""

    title: str
    items: tuple[Spans, ...]


class Picture(Struct, frozen=True):
    """A plan, at most `height` mm high on paper; `close` without its title and key."""

    plan: Plan
    height: int = 205
    close: bool = False


Block = Heading | Paragraph | Pairs | Answer | Entry | Bullets | Table | Box | Picture


def plain(text: str, style: str = "") -> Spans:
    """One span, or none for no text."""
    return (Span(text, style),) if text else ()


def joined(parts: list[Spans], between: str = "; ") -> Spans:
    """The parts that are not empty, with `between` between them."""
    spans: list[Span] = []
    for part in parts:
        if not part:
            continue
        if spans:
            spans.append(Span(between))
        spans.extend(part)
    return tuple(spans)


def anchors_of(blocks: Iterable[Block]) -> set[str]:
    """All anchors that the blocks set."""
    found: set[str] = set()
    for block in blocks:
        if isinstance(block, Heading | Entry):
            found.add(block.anchor)
        elif isinstance(block, Table):
            found.update(row.anchor for row in block.rows)
    return found - {""}
