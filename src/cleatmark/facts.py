"""What a rule can read: values that know where they stand written, and the lack of them."""

from __future__ import annotations

from datetime import date
from enum import Enum

from msgspec import Struct

from cleatmark.units import Quantity


class Tri(Enum):
    """Three-valued truth. A missing fact makes UNKNOWN, never NO."""

    YES = "yes"
    NO = "no"
    UNKNOWN = "not shown"

    def __bool__(self) -> bool:
        raise TypeError("a three-valued truth has no two-valued reading; compare with `is`")


class Nothing(Struct, frozen=True):
    """The value `none`, stated by somebody ("no insulation"). Unlike an absent fact."""

    def __str__(self) -> str:
        return "none"


NONE = Nothing()

Value = Quantity | str | bool | date | Nothing | tuple[str, ...]


def shown(value: Value | None, text: str = "") -> str:
    """A value as words for a message or a trace; `text` stands for a quantity that was worked out."""
    if isinstance(value, Quantity):
        return value.text or text
    if isinstance(value, str):
        return value
    if value is None:
        return "not stated"
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ", ".join(value)
    return str(value)


class Citation(Struct, frozen=True):
    """Where a value stands written.

    kind   spec, job, submittal, evidence, computed or published
    where  as a reader finds it: "07 41 13, 1.04.B.2", "job.yaml:14", "report T-118, page 4, run 2",
           "ANSI/UL 580, table of classes"
    quote  the words there, or the computation's working
    dated  the document's issue date where it prints one
    """

    kind: str
    where: str
    quote: str = ""
    dated: str = ""


class Fact(Struct, frozen=True):
    """A value under its full path (`proposed.panel.width`), the text as written, and its sources."""

    path: str
    value: Value
    text: str
    citations: tuple[Citation, ...]


class Missing(Struct, frozen=True):
    """A fact that was looked for and is not there, or is there but cannot be used.

    path       as rules name it
    title      as the trade names it ("Clip spacing")
    reason     "not stated", "defers to drawings", "unedited choice", "conflict", ...
    ask        whom to ask: designer, maker, laboratory, building department, insurer, deck trade, contractor
    question   the sentence to send; "" where the title says enough
    citations  where it should have stood, or the clauses that leave it open
    """

    path: str
    title: str
    reason: str = "not stated"
    ask: str = ""
    question: str = ""
    citations: tuple[Citation, ...] = ()


class Stated(Struct, frozen=True):
    """One requirement as the specification states it.

    subject   a path without the scope: "uplift.class", "panel.width"
    relation  at least, at most, equal, one of, required, prohibited
    values    one, or several for `one of`; empty where the flags say why there is none
    text      the value as written
    zone      as written ("corner", "Zone 2", "1'"), "" for the whole roof
    area      effective wind area, sq ft
    scope     "base bid", "Alternate No. 1", a roof type or building; "" for all
    level     of a pressure: allowable, strength or ""
    verb      tested, listed, approved or "": what kind of evidence the sentence asks for
    clause    the address as a reader sees it, without the section: "1.04.B.2"
    flags     reference only, unedited choice, blank, conflict, defers to drawings, delegated design, misuse,
              obsolete standard, tracked change, alternate, prohibited, optional, no value, specifier note
    reading   id of the reading that found it
    like      the field whose value the proposal's has to have, where no figure is stated ("at every purlin")
    also      further places that it rests on: the items of addenda that changed the clause
    """

    subject: str
    relation: str
    values: tuple[Value, ...]
    text: str
    clause: str
    quote: str
    citation: Citation
    zone: str = ""
    area: Quantity | None = None
    scope: str = ""
    roof: str = ""
    level: str = ""
    verb: str = ""
    flags: tuple[str, ...] = ()
    reading: str = ""
    like: str = ""
    also: tuple[Citation, ...] = ()
