"""Closures that judge: values beside each other, what the specification asks, coverage, all or some of things.

A condition becomes Frame -> Res.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence

from cleatmark.facts import Missing, Value, shown
from cleatmark.fields import Field
from cleatmark.language import stated
from cleatmark.language.compare import compare, comparing, fold, same
from cleatmark.language.logic import (
    NO,
    TRUE,
    UNKNOWN,
    YES,
    Beside,
    Mark,
    Res,
    Val,
    all_of,
    any_of,
    joined,
    mark_of,
    negate,
)
from cleatmark.language.names import Name
from cleatmark.language.printed import printed_zone
from cleatmark.language.values import Get, Test, facts_in, lacking
from cleatmark.language.world import Frame, Item
from cleatmark.units import Quantity

Metal = Get | None
"""Reads the metal of a sheet or of a yield strength; None beside values that have none."""


def all_hold(tests: Sequence[Test]) -> Test:
    """Every part holds."""
    if len(tests) != 2:
        return lambda frame: all_of([test(frame) for test in tests])
    first, second = tests
    return lambda frame: joined(first(frame), second(frame), NO)


def some_hold(tests: Sequence[Test]) -> Test:
    """Some part holds."""
    if len(tests) != 2:
        return lambda frame: any_of([test(frame) for test in tests])
    first, second = tests
    return lambda frame: joined(first(frame), second(frame), YES)


def does_not_hold(test: Test) -> Test:
    """The condition does not hold."""
    return lambda frame: negate(test(frame))


def values_beside(
    op: str, words: str, left: Get, right: Get, path: str, field: Field | None, metals: tuple[Metal, Metal]
) -> Test:
    """left OP right, told as `words`. The path is that of the left side, "" where it is worked out."""
    metal_left, metal_right = metals

    def test(frame: Frame) -> Res:
        a, b = left(frame), right(frame)
        if a.value is None or b.value is None:
            return Res(UNKNOWN, a.reads + b.reads, a.missing + b.missing)
        if metal_left is None and metal_right is None:
            truth = compare(op, a.value, b.value)
        else:
            known = [word_of(metal, frame) for metal in metals]
            truth = compare(op, a.value, b.value, *known)
        mark = Mark(shown(a.value), words, shown(b.value), truth, a.value, b.value, path)
        missing = (_incomparable(path, field, a, b, mark),) if truth is UNKNOWN else a.missing + b.missing
        return Res(truth, a.reads + b.reads, missing, (mark,))

    return test


def fact_beside(name: Name, op: str, right: Value, beside: Beside) -> Test:
    """As `values_beside`, of a fact without a metal and a value that stands in the rule: "at most 12 in"."""
    path, facts_of, lack = name.path, facts_in(name.scope), lacking(name)
    settle = comparing(op, right)

    def test(frame: Frame) -> Res:
        fact = facts_of(frame).get(path)
        if fact is None:
            return Res(UNKNOWN, (), (lack(frame),))
        truth = settle(fact.value)
        if truth is UNKNOWN:
            a, mark = Val(fact.value, (fact,)), mark_of(fact.value, beside, truth)
            return Res(truth, fact, (_incomparable(beside.path, name.field, a, Val(right), mark),), beside)
        return Res(truth, fact, (), beside)

    return test


def one_of(left: Get, options: Sequence[Get], words: str, path: str) -> Test:
    """left is one of some values."""

    def test(frame: Frame) -> Res:
        a = left(frame)
        if a.value is None:
            return Res(UNKNOWN, a.reads, a.missing)
        got = [option(frame) for option in options]
        results = [same(a.value, item.value) if item.value is not None else UNKNOWN for item in got]
        truth = YES if YES in results else UNKNOWN if UNKNOWN in results else NO
        listed = ", ".join(shown(item.value) for item in got)
        reads = a.reads + tuple(fact for item in got for fact in item.reads)
        missing = tuple(m for item in got for m in item.missing) if truth is UNKNOWN else ()
        return Res(truth, reads, missing, (Mark(shown(a.value), words, listed, truth, a.value, None, path),))

    return test


def fact_among(name: Name, options: Sequence[str], words: str, written: str) -> Test:
    """As `one_of`, of a fact and texts that stand in the rule, whose folded forms are made once."""
    path, facts_of, lack = name.path, facts_in(name.scope), lacking(name)
    beside, folded = Beside(words, ", ".join(options), None, written), frozenset(map(fold, options))

    def test(frame: Frame) -> Res:
        fact = facts_of(frame).get(path)
        if fact is None:
            return Res(UNKNOWN, (), (lack(frame),))
        value = fact.value
        if isinstance(value, str):
            return Res(YES if fold(value) in folded else NO, fact, (), beside)
        alike = any(same(value, option) is YES for option in options)
        return Res(YES if alike else NO, fact, (), beside)

    return test


def asks_for(subject: str, field: Field | None, right: Get, path: str) -> Test:
    """Whether any statement of the subject names the value. A specification that is silent asks for none."""

    def test(frame: Frame) -> Res:
        items = stated.here(frame, subject)
        b = right(frame)
        if not items or b.value is None:
            return Res(NO if b.value is not None else UNKNOWN, b.reads, b.missing)
        reads = tuple(stated.fact_of(item) for item in items)
        values = [value for item in items for value in item.values]
        truth = YES if any(compare("includes", value, b.value) is YES for value in values) else NO
        if truth is NO and any(stated.reason_open(item) for item in items):
            return Res(UNKNOWN, reads, (stated.open_missing(subject, field, items),))
        texts = ", ".join(item.text for item in items)
        mark = Mark(texts, "includes", shown(b.value), truth, None, b.value, path)
        return Res(truth, reads, (), (mark,))

    return test


def meets(subject: str, field: Field | None, left: Get, metals: tuple[Metal, Metal]) -> Test:
    """What is proposed meets what the specification asks of the subject."""
    title = field.title if field else subject
    metal, metal_asked = metals

    def test(frame: Frame) -> Res:
        own = word_of(metal, frame)
        asked = word_of(metal_asked, frame) or own
        return stated.meets(frame, subject, field, left(frame), title, own, asked)

    return test


def is_stated(get: Get) -> Test:
    """A fact is there."""

    def test(frame: Frame) -> Res:
        got = get(frame)
        return Res(NO if got.value is None else YES, got.reads)

    return test


def is_asked(subject: str, field: Field | None, known: bool) -> Test:
    """The specification states something of the subject; with `known` a value that governs."""

    def test(frame: Frame) -> Res:
        items = stated.here(frame, subject)
        if known and items:
            got = stated.value_of(frame, subject, field)
            return Res(YES if got.value is not None else NO, got.reads)
        return Res(YES if items else NO, tuple(stated.fact_of(item) for item in items))

    return test


def covered(covers: Callable[[Frame, Item], Res], in_zone: bool) -> Test:
    """The run, or some run of the document, covers the proposal: in the frame's zone, or in all."""

    def test(frame: Frame) -> Res:
        if frame.zone is not None and not in_zone:
            variants = frame.world.variants.items()
            everywhere = (frame._replace(zone=None, variant=name, proposed=facts) for name, facts in variants)
            return all_of([test(inside) for inside in everywhere])
        if frame.run is not None:
            own = covers(frame, frame.run)
            printed = printed_zone(frame)
            return own if printed is None else all_of([own, printed])
        runs = frame.document.runs if frame.document is not None else ()
        return any_of([covers(frame.enter(run), run) for run in runs])

    return test


def quantified(
    quantifier: str, over: str, reach: Callable[[Frame], tuple[Item, ...]], where: Test | None, has: Test
) -> Test:
    """Every, some or no thing that `where` holds of has something."""

    def test(frame: Frame) -> Res:
        results: list[Res] = []
        for item in reach(frame):
            inside = frame.enter(item)
            chosen = where(inside) if where is not None else TRUE
            if chosen.truth is NO:
                continue
            got = has(inside)
            if quantifier == "every":
                results.append(any_of([negate(chosen), got]) if where is not None else got)
            else:
                results.append(all_of([chosen, got]) if where is not None else got)
        if quantifier == "some":
            return any_of(results) if results else Res(NO)
        if quantifier == "no":
            return negate(any_of(results)) if results else TRUE
        if not results:
            lack = Missing(over, f"any {over}", f"no {over} to judge", "contractor")
            return Res(UNKNOWN, (), (lack,))
        return all_of(results)

    return test


def word_of(metal: Metal, frame: Frame) -> str:
    """The metal's name; "" where it is not told."""
    value = metal(frame).value if metal is not None else None
    return value if isinstance(value, str) else ""


def _incomparable(path: str, field: Field | None, a: Val, b: Val, mark: Mark) -> Missing:
    title = field.title if field else path
    if isinstance(a.value, Quantity) and isinstance(b.value, Quantity) and a.value.kind == "pressure":
        reason, ask = f"{mark.left} beside {mark.right}: the pressure's level is not stated", "designer"
    else:
        reason = f"{mark.left} beside {mark.right} cannot be compared: the basis is not stated or differs"
        ask = field.ask if field else ""
    citations = tuple(c for fact in (*a.reads, *b.reads) for c in fact.citations)
    return Missing(path, title, reason, ask, "", citations)
