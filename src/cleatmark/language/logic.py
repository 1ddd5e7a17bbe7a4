"""Three-valued results that remember what they rest on."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from cleatmark.facts import Fact, Missing, Tri, Value, shown

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


class Beside(Struct, frozen=True):
    """What a rule sets one fact beside: the words between, the right side as shown, its value; the path of the left."""

    words: str
    right: str
    right_value: Value | None
    path: str


class Res(Struct, frozen=True, gc=False):
    """A truth, the facts read for it, what was missing, the comparisons made.

    Most results are only asked for their truth: what one rests on is gathered from its parts when it is asked for.

    read     the facts, or the one fact, that was read for the result itself
    said     the comparisons made for itself, or what its one fact was set beside
    parts    the results that it was joined of and rests on
    """

    truth: Tri
    read: tuple[Fact, ...] | Fact = ()
    missing: tuple[Missing, ...] = ()
    said: tuple[Mark, ...] | Beside = ()
    parts: tuple[Res, ...] = ()

    @property
    def reads(self) -> tuple[Fact, ...]:
        """All facts that it rests on, in the order in which they were read."""
        if self.parts:
            return tuple([fact for part in self.parts for fact in part.reads])
        return (self.read,) if isinstance(self.read, Fact) else self.read

    @property
    def marks(self) -> tuple[Mark, ...]:
        """All comparisons that it rests on."""
        if self.parts:
            return tuple([mark for part in self.parts for mark in part.marks])
        said, read = self.said, self.read
        if isinstance(said, Beside) and isinstance(read, Fact):
            return (mark_of(read.value, said, self.truth),)
        return said if isinstance(said, tuple) else ()


def mark_of(left: Value, beside: Beside, truth: Tri) -> Mark:
    """The comparison of a value with what a rule sets it beside."""
    return Mark(shown(left), beside.words, beside.right, truth, left, beside.right_value, beside.path)


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
    truth = NO if res.truth is YES else YES if res.truth is NO else UNKNOWN
    return Res(truth, (), res.missing if truth is UNKNOWN else (), (), (res,))


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
        return Res(UNKNOWN, (), missing, (), (first, second))
    return Res(one, (), (), (), (first, second))


def _joined(items: list[Res], decisive: Tri, otherwise: Tri) -> Res:
    """As `joined`, of any number of parts."""
    if len(items) == 1:
        return items[0]
    truth, among = otherwise, items
    for part in items:
        if part.truth is decisive:
            truth, among = decisive, [part for part in items if part.truth is decisive]
            break
        if part.truth is UNKNOWN:
            truth = UNKNOWN
    if len(among) == 1:
        return among[0]
    missing: list[Missing] = []
    if truth is UNKNOWN:
        for part in among:
            if part.truth is UNKNOWN:
                missing += part.missing
    return Res(truth, (), tuple(missing), (), tuple(among))
