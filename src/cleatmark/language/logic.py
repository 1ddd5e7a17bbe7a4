"""Three-valued results that remember what they rest on."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from cleatmark.facts import Fact, Missing, Tri, Value

YES, NO, UNKNOWN = Tri.YES, Tri.NO, Tri.UNKNOWN


class Mark(NamedTuple):
    """A comparison that was made: both sides as shown, the words between, the outcome; the place of the right side."""

    left: str
    words: str
    right: str
    truth: Tri
    left_value: Value | None
    right_value: Value | None
    path: str
    source: str = ""


class Res(NamedTuple):
    """A truth, the facts read for it, what was missing, the comparisons made."""

    truth: Tri
    reads: tuple[Fact, ...] = ()
    missing: tuple[Missing, ...] = ()
    marks: tuple[Mark, ...] = ()


class Val(NamedTuple):
    """A value (None where it is not known), the facts read for it, what was missing."""

    value: Value | None
    reads: tuple[Fact, ...] = ()
    missing: tuple[Missing, ...] = ()


TRUE = Res(YES)


def all_of(parts: Iterable[Res]) -> Res:
    """Kleene's and. A NO rests only on the parts that are NO; an UNKNOWN lists what its unknown parts lack."""
    items = list(parts)
    failed = [part for part in items if part.truth is NO]
    if failed:
        return _joined(NO, failed)
    open_ = [part for part in items if part.truth is UNKNOWN]
    if open_:
        return Res(
            UNKNOWN,
            tuple(fact for part in items for fact in part.reads),
            tuple(item for part in open_ for item in part.missing),
            tuple(mark for part in items for mark in part.marks),
        )
    return _joined(YES, items)


def any_of(parts: Iterable[Res]) -> Res:
    """Kleene's or. A YES rests only on the parts that are YES."""
    items = list(parts)
    met = [part for part in items if part.truth is YES]
    if met:
        return _joined(YES, met)
    open_ = [part for part in items if part.truth is UNKNOWN]
    if open_:
        return Res(
            UNKNOWN,
            tuple(fact for part in items for fact in part.reads),
            tuple(item for part in open_ for item in part.missing),
            tuple(mark for part in items for mark in part.marks),
        )
    return _joined(NO, items)


def negate(res: Res) -> Res:
    """not; marks keep the outcome of the comparison as it was made."""
    truth = {YES: NO, NO: YES, UNKNOWN: UNKNOWN}[res.truth]
    return Res(truth, res.reads, res.missing if truth is UNKNOWN else (), res.marks)


def _joined(truth: Tri, parts: list[Res]) -> Res:
    if len(parts) == 1:
        return parts[0] if parts[0].truth is truth else Res(truth, *parts[0][1:])
    return Res(
        truth,
        tuple(fact for part in parts for fact in part.reads),
        (),
        tuple(mark for part in parts for mark in part.marks),
    )
