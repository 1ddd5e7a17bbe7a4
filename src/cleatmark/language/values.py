"""Closures that give values: facts read, defines, sums, choices, rows of tables. A value becomes Frame -> Val."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping, Sequence
from datetime import date
from fractions import Fraction
from functools import lru_cache
from operator import attrgetter

from msgspec.structs import replace

from cleatmark.facts import NONE, Citation, Fact, Missing, Tri, Value, shown
from cleatmark.language import stated
from cleatmark.language import tree as t
from cleatmark.language.compare import compare, same
from cleatmark.language.layers import Dates, day, in_force
from cleatmark.language.logic import NO, TRUE, UNKNOWN, YES, Res, Val
from cleatmark.language.names import Name
from cleatmark.language.world import NO_FACTS, Facts, Frame, permit_date
from cleatmark.units import KINDS, Quantity, QuantityError, parse, show

Test = Callable[[Frame], Res]
Get = Callable[[Frame], Val]

NO_PERMIT_DATE = Missing("job.permit_date", "Permit date", "not stated", "building department")
UNDECIDED = (Missing("", "a key of a table", "not known"),)
"""Stands for what the keys lack until it is known which keys they are."""
MOST_LOOKED_UP = 4096


def literal_value(literal: t.Literal, kind: str) -> Value:
    """A literal as a value of the kind that it meets."""
    if literal.form == "text":
        return _text_value(literal.text, kind)
    if literal.form == "yes/no":
        return literal.text == "yes"
    if literal.form == "none":
        return NONE
    if literal.form == "date":
        return day(literal.text)
    known = kind if kind not in ("", "text", "choice", "list", "date", "yes/no") else ""
    return _quantity(literal.text, known)


def _text_value(text: str, kind: str) -> Value:
    """Text in quotation marks; where it meets a quantity it is one ("1-90" beside a rating)."""
    if kind in KINDS:
        try:
            return _quantity(text, kind)
        except QuantityError:
            return text
    return text


@lru_cache(maxsize=4096)
def _quantity(text: str, kind: str) -> Quantity:
    """A quantity as written in a rule; kept, since rules repeat them."""
    return parse(text, kind)


def constant(value: Value) -> Get:
    """A value that stands in the rule."""
    val = Val(value)
    return lambda frame: val


def fact_at(name: Name) -> Get:
    """Reads a name's fact, or says what is missing."""
    path, facts_of, lack = name.path, facts_in(name.scope), lacking(name)

    def read(frame: Frame) -> Val:
        fact = facts_of(frame).get(path)
        return Val(None, (), (lack(frame),)) if fact is None else Val(fact.value, (fact,))

    return read


def lacking(name: Name) -> Callable[[Frame], Missing]:
    """Says what is missing where a name's fact is not there."""
    scope, path, field = name.scope, name.path, name.field
    title, ask = (field.title, field.ask) if field else (path, "")
    facts_of = facts_in(scope)

    def lack(frame: Frame) -> Missing:
        open_ = facts_of(frame).get(f"{path}?")
        reason = open_.text if open_ is not None else "not stated"
        return Missing(path, title, reason, ask, "", (_cited_in(frame, scope),))

    return lack


def asked_at(name: Name) -> Get:
    """Reads what the specification asks of a subject, or what kinds of evidence it asks for it."""
    subject, field = name.path.removeprefix("spec."), name.field
    if subject.endswith(".verb"):
        return lambda frame: stated.verbs_of(frame, subject.removesuffix(".verb"))
    return lambda frame: stated.value_of(frame, subject, field)


def defined(define: t.Define, branches: Sequence[tuple[Test | None, Get]]) -> Get:
    """The value of the first alternative whose condition holds."""
    path, title, level = f"{define.of}.{define.id}", define.id.replace("_", " "), define.level

    def leveled(got: Val) -> Val:
        if level and isinstance(got.value, Quantity):
            return replace(got, value=replace(got.value, level=level))
        return got

    def read(frame: Frame) -> Val:
        passed: tuple[Fact, ...] = ()
        for when, value in branches:
            chosen = when(frame) if when is not None else TRUE
            passed += chosen.reads
            if chosen.truth is YES:
                got = leveled(value(frame))
                return Val(got.value, passed + got.reads, got.missing)
            if chosen.truth is UNKNOWN:
                return Val(None, passed, chosen.missing)
        return Val(None, (), (Missing(path, title, "cannot be worked out"),))

    return read


def reckoned(op: str, left: Get, right: Get) -> Get:
    """left op right, with its working as a fact."""

    def read(frame: Frame) -> Val:
        a, b = left(frame), right(frame)
        reads, missing = a.reads + b.reads, a.missing + b.missing
        if not isinstance(a.value, Quantity) or not isinstance(b.value, Quantity):
            return Val(None, reads, missing)
        result = _calculate(op, a.value, b.value)
        if result is None:
            return Val(None, reads, (Missing("", "a quotient", "divides by zero"),))
        return Val(result, (*reads, _working(op, a.value, b.value, result)))

    return read


def chosen_of(how: str, gets: Iterable[Get], stated_only: bool) -> Get:
    """The largest, the smallest or the first of some values."""
    gets = tuple(gets)

    def read(frame: Frame) -> Val:
        best: Val | None = None
        reads: tuple[Fact, ...] = ()
        missing: tuple[Missing, ...] = ()
        for get in gets:
            got = get(frame)
            if got.value is None:
                missing += got.missing
                if stated_only and _passed_over(how, got):
                    continue
                return Val(None, reads + got.reads, got.missing)
            reads += got.reads
            if how == "first":
                return got
            op = "more than" if how == "largest" else "less than"
            if best is None or (best.value is not None and compare(op, got.value, best.value) is YES):
                best = got
        if best is None:
            return Val(None, reads, missing)
        return Val(best.value, (*reads, *best.reads[-1:]))

    return read


def looked_up(table: t.Table, column: str, key_kinds: Iterable[str], gets: Sequence[Get]) -> Get:
    """The value of the table's first row that fits the keys and is in force on the permit date."""
    index = table.gives.index(column) if column in table.gives else 0
    kinds = tuple(key_kinds)
    rows = [
        (
            tuple(
                None if key is None else literal_value(key, kind)
                for key, kind in zip(row.keys, kinds, strict=True)
            ),
            literal_value(row.values[index], ""),
            row,
            Dates(row.in_force_from, row.in_force_until),
        )
        for row in table.rows
    ]
    found: dict[tuple[object, ...], Val] = {}

    def read(frame: Frame) -> Val:
        keys = [get(frame) for get in gets]
        reads = tuple(fact for key in keys for fact in key.reads)
        permit = permit_date(frame.world)
        asked = (permit, *(key.value for key in keys))
        got = found.get(asked)
        if got is None:
            if len(found) >= MOST_LOOKED_UP:
                found.clear()
            got = found[asked] = entry([key.value for key in keys], permit)
        if got.missing is UNDECIDED:
            return Val(None, reads, tuple(m for key in keys for m in key.missing))
        return Val(got.value, (*reads, *got.reads), got.missing)

    def entry(keys: list[Value | None], permit: date | None) -> Val:
        """The row for these keys, whatever facts they come from; UNDECIDED where one that is not known might
        decide."""
        for wanted, value, row, dates in rows:
            fits = [_key_fits(key, want) for key, want in zip(keys, wanted, strict=True)]
            force = in_force(dates, permit) if dates else "yes"
            if NO in fits or force == "no":
                continue
            if force == "not shown":
                return Val(None, (), (NO_PERMIT_DATE,))
            if UNKNOWN in fits:
                return Val(None, (), UNDECIDED)
            source = row.source or (table.sources[0] if table.sources else None)
            where = str(source) if source else f"table {table.id}"
            text = shown(value, row.values[index].text)
            quote = f"{table.id.replace('_', ' ')}: {text}"
            return Val(value, (Fact(f"{table.id}", value, text, (Citation("published", where, quote),)),))
        words = ", ".join(shown(key) for key in keys)
        return Val(None, (), (Missing(table.id, table.id.replace("_", " "), f"no entry for {words}"),))

    return read


def _run_facts(frame: Frame) -> Facts:
    return frame.run.facts if frame.run is not None else NO_FACTS


FACTS: Mapping[str, Callable[[Frame], Facts]] = {
    "proposed": attrgetter("proposed"),
    "run": _run_facts,
    "tested": _run_facts,
    "document": lambda frame: frame.document.facts if frame.document is not None else NO_FACTS,
    "zone": lambda frame: frame.zone.facts if frame.zone is not None else NO_FACTS,
    "condition": lambda frame: frame.condition.facts if frame.condition is not None else NO_FACTS,
    "clause": lambda frame: frame.clause.facts if frame.clause is not None else NO_FACTS,
}
IN_WORLD: Callable[[Frame], Facts] = attrgetter("world.facts")
"""Where a scope's facts stand; those of job and submittal stand in the world."""


def facts_in(scope: str) -> Callable[[Frame], Facts]:
    """Reads the facts of a scope."""
    return FACTS.get(scope, IN_WORLD)


def _cited_in(frame: Frame, scope: str) -> Citation:
    """Where a fact that is missing should have stood."""
    if scope not in FACTS:
        return frame.world.files.get(scope, Citation(scope, f"the {scope}"))
    own = {
        "run": frame.run,
        "tested": frame.run,
        "document": frame.document,
        "zone": frame.zone,
        "condition": frame.condition,
        "clause": frame.clause,
    }.get(scope)
    if own is not None:
        return own.citation
    submittal = Citation("submittal", "the submittal")
    return frame.world.files.get("submittal", submittal) if scope == "proposed" else submittal


def _calculate(op: str, a: Quantity, b: Quantity) -> Quantity | None:
    kind = a.kind if a.kind != "number" else b.kind
    if op == "/" and a.kind == b.kind:
        kind = "number"
    if op == "/" and b.value == 0:
        return None
    value: Fraction = {
        "+": lambda: a.value + b.value,
        "-": lambda: a.value - b.value,
        "*": lambda: a.value * b.value,
        "/": lambda: a.value / b.value,
    }[op]()
    unit = a.unit if a.kind == kind else b.unit
    result = Quantity(kind, value, unit, "", a.basis or b.basis, a.level or b.level)
    return Quantity(kind, value, unit, show(result), a.basis or b.basis, a.level or b.level)


def _working(op: str, a: Quantity, b: Quantity, result: Quantity) -> Fact:
    line = f"{a.text} {op} {b.text} = {result.text}"
    return Fact("", result, result.text, (Citation("computed", line, line),))


def _key_fits(key: Value | None, wanted: Value | None) -> Tri:
    if wanted is None:
        return YES
    if key is None:
        return UNKNOWN
    if isinstance(key, Quantity) and isinstance(wanted, str):
        return NO
    return same(key, wanted)


def _passed_over(how: str, got: Val) -> bool:
    """Whether `stated` passes over a value that is not known. For `largest` and `smallest` only where it is the
    specification or the job that is silent: a fact that a paper leaves out never makes a factor smaller."""
    silent = all(item.reason == "not stated" for item in got.missing)
    return silent and (how == "first" or all(item.path.startswith(("spec.", "job.")) for item in got.missing))
