"""A specification as it reads on paper: numbered clauses under their headings."""

from __future__ import annotations

from msgspec import Struct

from cleatmark.facts import Citation


class Span(Struct, frozen=True):
    """Characters start:end of a clause's text that stand apart: "inserted", "struck" or "field"."""

    start: int
    end: int
    kind: str


class Cell(Struct, frozen=True):
    """A table cell: text, the first grid column and row it covers, and how many of each."""

    text: str
    row: int
    column: int
    row_span: int = 1
    column_span: int = 1
    header: bool = False
    tables: tuple[Table, ...] = ()
    spans: tuple[Span, ...] = ()


class Table(Struct, frozen=True):
    """A table in place: its cells once each, caption where one stands directly above or below."""

    cells: tuple[Cell, ...]
    rows: int
    columns: int
    caption: str = ""


class Clause(Struct, frozen=True):
    """One paragraph, or one table, of a specification.

    address   the number as read on paper, the chain of open levels: "1.04.B.2", "1.2.1.2"; body text without a
              number of its own carries the address of the heading or paragraph it belongs to. Numbers behind a
              point, as Canadian sections have them (".1" under ".1" under 1.3), make "1.3.1.1"
    label     the number or letter printed at this paragraph ("2."), "" for body text
    level     depth in the outline, 0 for a part
    text      as read with all tracked changes accepted, white space folded, no-break characters made plain
    headings  texts of the open levels above, outermost first (part, article, parent paragraphs)
    part      1, 2, 3 or 0
    article   the title of the article it stands in, upper case as written is kept
    hidden    text formatted as hidden, or a specifier's note by its look: guidance, never a requirement
    flags     "tracked change", "struck", "specifier note", "not used"
    deleted   text that a tracked deletion took away from this paragraph
    table     the table, where this clause is one
    section   the section number it belongs to ("07 41 13")
    ordinal   position in the document, from 0
    amended   the items of addenda that changed it, in their order
    """

    address: str
    label: str
    level: int
    text: str
    ordinal: int
    headings: tuple[str, ...] = ()
    part: int = 0
    article: str = ""
    hidden: bool = False
    flags: tuple[str, ...] = ()
    deleted: str = ""
    spans: tuple[Span, ...] = ()
    table: Table | None = None
    section: str = ""
    style: str = ""
    amended: tuple[Citation, ...] = ()


class Marks(Struct, frozen=True):
    """The marks of a section's roofs and panel types.

    names  each name that it gives one, folded, with the mark that stands for it, or ""
    lines  what a line alone gives its mark ("Mark: RP-1"): the titles that the line stands under, and the mark
    """

    names: tuple[tuple[str, str], ...] = ()
    lines: tuple[tuple[tuple[str, ...], str], ...] = ()


class Section(Struct, frozen=True):
    """One section of a project manual: number as written folded to pairs, title, its clauses.

    roof is True for a section about metal roof panels or sheet metal roofing; only those are read.
    marks are the names by which it calls its roofs and panel types, known when it is read (see `roof_marks`).
    """

    number: str
    title: str
    clauses: tuple[Clause, ...]
    roof: bool
    marks: Marks = Marks()


class Specification(Struct, frozen=True):
    """A specification file read whole. `dated` is the issue date as printed, "" where none was found."""

    file: str
    sections: tuple[Section, ...]
    dated: str = ""
    header: tuple[str, ...] = ()
    tracked: bool = False
