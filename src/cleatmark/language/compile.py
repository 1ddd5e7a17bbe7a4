"""Checked trees to closures. A condition becomes Frame -> Res, an operand Frame -> Val."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from datetime import date
from fractions import Fraction
from functools import lru_cache
from operator import attrgetter

from msgspec.structs import replace

from cleatmark.facts import NONE, Citation, Fact, Missing, Tri, Value
from cleatmark.fields import Field
from cleatmark.language import stated
from cleatmark.language import tree as t
from cleatmark.language.compare import ALLOWED, compare, fold, same
from cleatmark.language.layers import Dates, day, in_force
from cleatmark.language.logic import NO, TRUE, UNKNOWN, YES, Mark, Res, Val, all_of, any_of, negate
from cleatmark.language.names import Name, Names, context_of
from cleatmark.language.once import Once
from cleatmark.language.printed import printed_zone
from cleatmark.language.world import NO_FACTS, Facts, Frame, Item, permit_date
from cleatmark.units import KINDS, Quantity, QuantityError, parse, show

Test = Callable[[Frame], Res]
Get = Callable[[Frame], Val]
Context = tuple[str, ...]

COVERS = "covers"
METAL_KINDS = ("thickness", "stress")
NO_PERMIT_DATE = Missing("job.permit_date", "Permit date", "not stated", "building department")
UNDECIDED = (Missing("", "a key of a table", "not known"),)
"""Stands for what the keys lack until it is known which keys they are."""
MOST_LOOKED_UP = 4096


def shown(value: Value | None, text: str = "") -> str:
    """A value as words for a message or a trace."""
    if value is None:
        return "not stated"
    if isinstance(value, str):
        return value
    if isinstance(value, Quantity):
        return value.text or text
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, tuple):
        return ", ".join(value)
    return str(value)


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


class Compiler:
    """Compiles operands and conditions of one merged set of rules.

    paths  gathers what the compiled text reads: full paths, COVERS, what a quantifier ranges over
    """

    def __init__(
        self, names: Names, kinds: Mapping[str, tuple[str, ...]], covers: Callable[[Frame, Item], Res]
    ) -> None:
        self.names = names
        self.kinds = kinds
        self.covers = covers
        self.once = Once()
        self.paths: set[str] = set()
        self._defines: dict[str, tuple[Get, frozenset[str]]] = {}
        self._judged: dict[tuple[int, Context], tuple[t.Condition, Test, frozenset[str]]] = {}

    # operands

    def operand(self, node: t.Operand, context: Context, kind: str = "") -> Get:
        """Closure that gives the operand's value; `kind` is what a bare literal stands for."""
        if isinstance(node, t.Literal):
            value = Val(literal_value(node, kind))
            return lambda frame: value
        if isinstance(node, t.Path):
            name = self.names.resolve(node.name, context)
            if not isinstance(name, Name):
                raise ValueError(name.message)
            return self.path(name)
        if isinstance(node, t.Arithmetic):
            return self._arithmetic(node, context, kind)
        if isinstance(node, t.Choose):
            return self._choose(node, context, kind)
        return self._lookup(node, context)

    def path(self, name: Name) -> Get:
        """Closure that reads a name's fact, or says what is missing."""
        if name.define is not None:
            return self.define(name.define)
        field, path = name.field, name.path
        self.paths.add(path)
        if name.scope == "spec":
            subject = path.removeprefix("spec.")
            if subject.endswith(".verb"):
                return lambda frame: stated.verbs_of(frame, subject.removesuffix(".verb"))
            return lambda frame: stated.value_of(frame, subject, field)
        title = field.title if field else path
        ask = field.ask if field else ""

        facts_of = FACTS.get(name.scope, attrgetter("world.facts"))

        def read(frame: Frame) -> Val:
            facts = facts_of(frame)
            fact = facts.get(path)
            if fact is None:
                open_ = facts.get(f"{path}?")
                reason = open_.text if open_ is not None else "not stated"
                cited = (_cited_in(frame, name.scope),)
                return Val(None, (), (Missing(path, title, reason, ask, "", cited),))
            return Val(fact.value, (fact,))

        return read

    def define(self, define: t.Define) -> Get:
        """Closure of a define; compiled once."""
        if define.id not in self._defines:
            outer, self.paths = self.paths, set()
            context = context_of(define.of)
            kind = self.names.kind_of_define(define)
            branches = [
                (
                    self.condition(item.when, context) if item.when is not None else None,
                    self.operand(item.value, context, kind),
                )
                for item in define.alternatives
            ]
            path, title = f"{define.of}.{define.id}", define.id.replace("_", " ")
            level = define.level

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

            self._defines[define.id] = (self.once.keep(read, self.paths), frozenset(self.paths))
            self.paths = outer
        get, paths = self._defines[define.id]
        self.paths |= paths
        return get

    def _arithmetic(self, node: t.Arithmetic, context: Context, kind: str) -> Get:
        left = self.operand(node.left, context, kind)
        right = self.operand(node.right, context, kind if node.op in "+-" else "number")
        op = node.op

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

    def _choose(self, node: t.Choose, context: Context, kind: str) -> Get:
        known = kind or self.names.kind_of(node, context)
        gets = [self.operand(item, context, known) for item in node.operands]
        how, stated_only = node.how, node.stated_only

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

    def _lookup(self, node: t.Lookup, context: Context) -> Get:
        table_id, _, column = node.table.partition(".")
        table = self.names.tables[table_id]
        index = table.gives.index(column) if column in table.gives else 0
        key_kinds = [self.names.kind_of(key, context) for key in node.keys]
        gets = [self.operand(key, context) for key in node.keys]
        rows = [
            (
                tuple(
                    None if key is None else literal_value(key, kind)
                    for key, kind in zip(row.keys, key_kinds, strict=True)
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

    # conditions

    def condition(self, node: t.Condition, context: Context = ()) -> Test:
        """Closure that judges the condition."""
        if isinstance(node, t.And | t.Or):
            tests = [self.condition(part, context) for part in node.parts]
            join = all_of if isinstance(node, t.And) else any_of
            return lambda frame: join([test(frame) for test in tests])
        if isinstance(node, t.Not):
            test = self.condition(node.part, context)
            return lambda frame: negate(test(frame))
        if isinstance(node, t.Covers):
            self.paths.add(COVERS)
            return self._covers(node)
        if isinstance(node, t.Quantified):
            self.paths.add(node.over)
            return self._quantified(node, context)
        return self._plain(node, context)

    def _plain(self, node: t.Compare | t.OneOf | t.IsStated, context: Context) -> Test:
        """A condition about values; one that asks the same of a run in every zone is judged once a run."""
        key = (id(node), context)
        if key not in self._judged:
            outer, self.paths = self.paths, set()
            if isinstance(node, t.Compare):
                test = self._compare(node, context)
            elif isinstance(node, t.OneOf):
                test = self._one_of(node, context)
            else:
                test = self._stated(node, context)
            if not {"run", "document", "clause"}.isdisjoint(context):
                test = self.once.keep(test, self.paths)
            self._judged[key] = (node, test, frozenset(self.paths))
            self.paths = outer
        _, test, paths = self._judged[key]
        self.paths |= paths
        return test

    def _compare(self, node: t.Compare, context: Context) -> Test:
        kind_left = self.names.kind_of(node.left, context)
        kind_right = self.names.kind_of(node.right, context)
        metal_left = self._metal(node.left, context)
        metal_right = self._metal(node.right, context)
        if node.op == "meets":
            return self._meets(node, context, metal_left)
        left = self.operand(node.left, context, kind_right)
        right = self.operand(node.right, context, kind_left)
        op, path = node.op, node.left.name if isinstance(node.left, t.Path) else ""
        negated = op == "is not"
        base = "is" if negated else op
        field = self._field(node.left, context)
        subject = node.left.name if isinstance(node.left, t.Path) else ""
        if base == "includes" and subject.startswith("spec.") and not subject.endswith(".verb"):
            return self._spec_includes(subject.removeprefix("spec."), field, right, path)
        if base not in ALLOWED and base not in ("includes", "mentions") and field is not None:
            base = "less than" if base == field.less else "more than"

        def test(frame: Frame) -> Res:
            a, b = left(frame), right(frame)
            if a.value is None or b.value is None:
                return Res(UNKNOWN, a.reads + b.reads, a.missing + b.missing)
            if metal_left is None and metal_right is None:
                truth = compare(base, a.value, b.value)
            else:
                metals = [_word(metal(frame)) if metal else "" for metal in (metal_left, metal_right)]
                truth = compare(base, a.value, b.value, *metals)
            mark = Mark(shown(a.value), op, shown(b.value), truth, a.value, b.value, path)
            missing = (_incomparable(path, field, a, b, mark),) if truth is UNKNOWN else a.missing + b.missing
            res = Res(truth, a.reads + b.reads, missing, (mark,))
            return negate(res) if negated else res

        return test

    def _spec_includes(self, subject: str, field: Field | None, right: Get, path: str) -> Test:
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
            mark = Mark(
                ", ".join(item.text for item in items), "includes", shown(b.value), truth, None, b.value, path
            )
            return Res(truth, reads, (), (mark,))

        return test

    def _meets(self, node: t.Compare, context: Context, metal: Get | None) -> Test:
        left = self.operand(node.left, context)
        field = self._field(node.left, context)
        right = node.right
        subject = right.name.removeprefix("spec.") if isinstance(right, t.Path) else ""
        title = field.title if field else subject
        metal_spec = self._metal(right, context)

        def test(frame: Frame) -> Res:
            own = _word(metal(frame)) if metal else ""
            asked = (_word(metal_spec(frame)) if metal_spec else "") or own
            return stated.meets(frame, subject, field, left(frame), title, own, asked)

        return test

    def _field(self, node: t.Operand, context: Context) -> Field | None:
        if isinstance(node, t.Path):
            name = self.names.resolve(node.name, context)
            if isinstance(name, Name):
                return name.field
        return None

    def _metal(self, node: t.Operand, context: Context) -> Get | None:
        """Reads the metal that a thickness or a yield strength belongs to: `material` beside it."""
        if not isinstance(node, t.Path):
            return None
        name = self.names.resolve(node.name, context)
        if not isinstance(name, Name) or name.kind not in METAL_KINDS or name.field is None:
            return None
        return self.metal_beside(name)

    def metal_beside(self, name: Name) -> Get | None:
        group = name.path.rsplit(".", 1)[0]
        material = self.names.resolve(f"{group}.material", ("run",))
        return self.path(material) if isinstance(material, Name) else None

    def _one_of(self, node: t.OneOf, context: Context) -> Test:
        kind = self.names.kind_of(node.left, context)
        left = self.operand(node.left, context)
        options = [self.operand(option, context, kind) for option in node.options]
        path = node.left.name if isinstance(node.left, t.Path) else ""
        words = "is not one of" if node.negated else "is one of"
        if all(isinstance(option, t.Literal) and option.form == "text" for option in node.options):
            values = [literal_value(option, kind) for option in node.options if isinstance(option, t.Literal)]
            if all(isinstance(value, str) for value in values):
                return _one_of_words(left, [str(value) for value in values], words, path, node.negated)

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
            res = Res(
                truth, reads, missing, (Mark(shown(a.value), words, listed, truth, a.value, None, path),)
            )
            return negate(res) if node.negated else res

        return test

    def _stated(self, node: t.IsStated, context: Context) -> Test:
        assert isinstance(node.operand, t.Path)
        name = self.names.resolve(node.operand.name, context)
        if not isinstance(name, Name):
            raise ValueError(name.message)
        negated = node.negated
        if name.scope == "spec":
            subject, field = name.path.removeprefix("spec."), name.field

            def in_spec(frame: Frame) -> Res:
                items = stated.here(frame, subject)
                res = Res(YES if items else NO, tuple(stated.fact_of(item) for item in items))
                if node.word == "known" and items:
                    got = stated.value_of(frame, subject, field)
                    res = Res(YES if got.value is not None else NO, got.reads)
                return negate(res) if negated else res

            return in_spec
        get = self.path(name)

        def test(frame: Frame) -> Res:
            got = get(frame)
            res = Res(NO if got.value is None else YES, got.reads)
            return negate(res) if negated else res

        return test

    def _covers(self, node: t.Covers) -> Test:
        def test(frame: Frame) -> Res:
            if frame.zone is not None and not node.in_zone:
                variants = frame.world.variants.items()
                everywhere = (
                    frame._replace(zone=None, variant=name, proposed=facts) for name, facts in variants
                )
                return all_of([test(inside) for inside in everywhere])
            if frame.run is not None:
                covered = self.covers(frame, frame.run)
                printed = printed_zone(frame)
                return covered if printed is None else all_of([covered, printed])
            runs = frame.document.runs if frame.document is not None else ()
            return any_of([self.covers(frame.enter(run), run) for run in runs])

        return test

    def _quantified(self, node: t.Quantified, context: Context) -> Test:
        inner = inner_context(node.over, self.kinds, context)
        where = self.condition(node.where, inner) if node.where is not None else None
        has = self.condition(node.has, inner)
        quantifier, over = node.quantifier, node.over
        reach = self.items(over)

        def test(frame: Frame) -> Res:
            items = reach(frame)
            results: list[Res] = []
            for item in items:
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

    def items(self, over: str) -> Callable[[Frame], tuple[Item, ...]]:
        """The things that `over` ranges over, in the frame."""
        if over == "zone":
            return lambda frame: frame.world.zones
        if over == "clause":
            return lambda frame: frame.world.clauses
        if over == "condition":
            return lambda frame: (
                frame.document.conditions
                if frame.document is not None
                else tuple(c for d in frame.world.documents for c in d.conditions)
            )
        if over == "run":
            return lambda frame: (
                frame.document.runs
                if frame.document is not None
                else tuple(r for d in frame.world.documents for r in d.runs)
            )
        names = self.kinds.get(over, ())
        if over == "document" or not names:
            return lambda frame: frame.world.documents
        return lambda frame: tuple(d for d in frame.world.documents if kind_of_document(d) in names)


def _one_of_words(left: Get, options: list[str], words: str, path: str, negated: bool) -> Test:
    """`is one of` where every option is a text: the listed words and their folded forms are made once."""
    listed, folded = ", ".join(options), frozenset(map(fold, options))

    def test(frame: Frame) -> Res:
        a = left(frame)
        value = a.value
        if value is None:
            return Res(UNKNOWN, a.reads, a.missing)
        if isinstance(value, str):
            truth = YES if fold(value) in folded else NO
        else:
            truth = YES if any(same(value, option) is YES for option in options) else NO
        res = Res(truth, a.reads, (), (Mark(shown(value), words, listed, truth, value, None, path),))
        return negate(res) if negated else res

    return test


def inner_context(over: str, kinds: Mapping[str, tuple[str, ...]], context: Context) -> Context:
    """Blocks that can be read inside a quantifier over `over`."""
    block = "document" if over in kinds or over == "document" else over
    own = ("run", "document") if block == "document" and over != "document" else context_of(block)
    own = ("document",) if over == "document" else own
    return (*own, *(item for item in context if item not in own))


def kind_of_document(item: Item) -> str:
    """What kind of paper a document is, as declared."""
    fact = item.facts.get("document.kind")
    return str(fact.value) if fact is not None else ""


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
"""Where a scope's facts stand; those of job and submittal stand in the world."""


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


def _word(got: Val) -> str:
    return got.value if isinstance(got.value, str) else ""


def _incomparable(path: str, field: Field | None, a: Val, b: Val, mark: Mark) -> Missing:
    title = field.title if field else path
    both = isinstance(a.value, Quantity) and isinstance(b.value, Quantity)
    if both and isinstance(a.value, Quantity) and a.value.kind == "pressure":
        reason, ask = f"{mark.left} beside {mark.right}: the pressure's level is not stated", "designer"
    else:
        reason = f"{mark.left} beside {mark.right} cannot be compared: the basis is not stated or differs"
        ask = field.ask if field else ""
    citations = tuple(c for fact in (*a.reads, *b.reads) for c in fact.citations)
    return Missing(path, title, reason, ask, "", citations)
