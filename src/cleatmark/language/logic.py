"""Three-valued results that remember what they rest on."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from cleatmark.facts import Fact, Missing, Tri, Value

YES, NO, UNKNOWN = Tri.YES, Tri.NO, Tri.UNKNOWN


class Mark(Struct, frozen=True, gc=False):
    """A comparison that was made: both sides as shown, the words between, the outcome; the place of the right side."""

    left: str
    words: str
    right: str
    truth: Tri
    left_value: Value | None
    right_value: Value | None
    path: str
    source: str = ""


class Res(Struct, frozen=True, gc=False):
    """A truth, the facts read for it, what was missing, the comparisons made."""

    truth: Tri
    reads: tuple[Fact, ...] = ()
    missing: tuple[Missing, ...] = ()
    marks: tuple[Mark, ...] = ()


class Val(Struct, frozen=True, gc=False):
    """A value (None where it is not known), the facts read for it, what was missing."""

    value: Value | None
    reads: tuple[Fact, ...] = ()
    missing: tuple[Missing, ...] = ()


TRUE = Res(YES)


def all_of(parts: Iterable[Res]) -> Res:
    """Kleene's and. A NO rests only on the parts that are NO; an UNKNOWN lists what its unknown parts lack."""
    return _joined(parts if isinstance(parts, list) else list(parts), NO, YES)


def any_of(parts: Iterable[Res]) -> Res:
    """Kleene's or. A YES rests only on the parts that are YES."""
    return _joined(parts if isinstance(parts, list) else list(parts), YES, NO)


def negate(res: Res) -> Res:
    """not; marks keep the outcome of the comparison as it was made."""
    truth = {YES: NO, NO: YES, UNKNOWN: UNKNOWN}[res.truth]
    return Res(truth, res.reads, res.missing if truth is UNKNOWN else (), res.marks)


def joined(first: Res, second: Res, decisive: Tri) -> Res:
    """Two parts, of which one with the decisive truth settles the whole: NO in `and`, YES in `or`. It rests on those
    that have it."""
    one, other = first.truth, second.truth
    if one is decisive:
        if other is not decisive:
            return first
    elif other is decisive:
        return second
    elif one is UNKNOWN or other is UNKNOWN:
        missing = (first.missing if one is UNKNOWN else ()) + (second.missing if other is UNKNOWN else ())
        return Res(UNKNOWN, first.reads + second.reads, missing, first.marks + second.marks)
    return Res(one, first.reads + second.reads, (), first.marks + second.marks)


def _joined(items: list[Res], decisive: Tri, otherwise: Tri) -> Res:
    """As `joined`, of any number of parts."""
    if len(items) == 1:
        return items[0]
    if len(items) == 2:
        return joined(items[0], items[1], decisive)
    truth, among = otherwise, items
    for part in items:
        if part.truth is decisive:
            truth, among = decisive, [part for part in items if part.truth is decisive]
            break
        if part.truth is UNKNOWN:
            truth = UNKNOWN
    if len(among) == 1:
        return among[0]
    reads: list[Fact] = []
    missing: list[Missing] = []
    marks: list[Mark] = []
    for part in among:
        reads += part.reads
        marks += part.marks
        if truth is UNKNOWN and part.truth is UNKNOWN:
            missing += part.missing
    return Res(truth, tuple(reads), tuple(missing), tuple(marks))
