"""Whether a run covers the proposal: substitution rules, attribute by attribute, never netted."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import TYPE_CHECKING

from msgspec import Struct

from cleatmark.facts import Citation, Fact, Missing, Nothing, Tri
from cleatmark.fields import Field
from cleatmark.language import tree as t
from cleatmark.language.compare import same, within, words_meet
from cleatmark.language.layers import Layered, standing
from cleatmark.language.logic import NO, UNKNOWN, YES, Mark, Res, all_of
from cleatmark.language.world import Facts, Frame, Item, permit_date
from cleatmark.units import Quantity, orderings

if TYPE_CHECKING:
    from cleatmark.language.compile import Compiler
    from cleatmark.language.values import Test

STATE_TRUTH = {
    "on contract documents": YES,
    "contradicted": NO,
    "claimed only": UNKNOWN,
    "not confirmed": UNKNOWN,
}


class CompiledSubstitution(Struct, frozen=True):
    """One attribute's rule: which changes from the tested value it allows. `reads` are the paths that decide whether
    it applies."""

    id: str
    field: Field
    allowed: frozenset[int]
    allows: tuple[str, ...]
    applies: Test | None
    statement: t.Substitution
    layered: Layered
    metal: str
    tested: str
    proposed: str
    earlier: CompiledSubstitution | None = None
    reads: frozenset[str] = frozenset()


class Change(Struct, frozen=True):
    """One attribute of a run beside the proposal. side: same, safe side, unsafe side, different kind, not shown."""

    substitution: CompiledSubstitution
    tested: str
    proposed: str
    side: str
    res: Res


def compile_substitution(
    statement: t.Substitution,
    layered: Layered,
    compiler: Compiler,
    earlier: CompiledSubstitution | None = None,
) -> CompiledSubstitution:
    """The compiled form of a `substitution` statement."""
    field = compiler.names.book.block("assembly")[statement.field]
    allows = statement.clauses.allows or ("equal",)
    words = {"equal": 0, field.less: -1, field.more: 1}
    applies = statement.clauses.applies
    outer, compiler.paths = compiler.paths, set()
    when = compiler.condition(applies, ("run", "document")) if applies is not None else None
    reads = frozenset(compiler.paths)
    compiler.paths = outer | reads
    group = field.path.rsplit(".", 1)[0]
    material = f"{group}.material" if f"{group}.material" in compiler.names.book.block("assembly") else ""
    return CompiledSubstitution(
        id=statement.id,
        field=field,
        allowed=frozenset(words[word] for word in allows if word in words),
        allows=allows,
        applies=when,
        statement=statement,
        layered=layered,
        metal=material if field.kind in ("thickness", "stress") else "",
        tested=f"tested.{field.path}",
        proposed=f"proposed.{field.path}",
        earlier=earlier,
        reads=reads,
    )


MOST_PAIRS = 20_000


class Coverage:
    """Judges runs by the substitution rules. What is found of a run is kept for as long as one world is judged; a
    tested value beside a proposed one for as long as both are about, for in a changed world most stay as they were.
    """

    def __init__(self) -> None:
        self.substitutions: tuple[CompiledSubstitution, ...] = ()
        self._kept: dict[tuple[object, ...], tuple[tuple[Change, ...], tuple[object, ...]]] = {}
        self._judged: dict[tuple[object, ...], tuple[Res, tuple[object, ...]]] = {}
        self._pairs: dict[tuple[int, ...], tuple[Change, tuple[Fact | None, ...]]] = {}
        self._first: dict[tuple[int, int], tuple[list[Change | None], Facts, Facts, Citation]] = {}
        self._differing: dict[tuple[int, int], tuple[tuple[int, ...], Facts, Facts]] = {}
        self._standing: list[tuple[CompiledSubstitution, str]] = []
        self._facts: Facts | None = None
        self._spec: Mapping[str, object] | None = None

    def use(self, substitutions: Iterable[CompiledSubstitution]) -> None:
        """Judges by these substitution rules from now on."""
        self.substitutions = tuple(substitutions)
        self._facts = None

    def changes(self, frame: Frame, run: Item) -> tuple[Change, ...]:
        """Every attribute of the run beside the proposal as it is in the frame's zone."""
        world = frame.world
        if self._facts is not world.facts or self._spec is not world.spec:
            self._kept.clear()
            self._judged.clear()
            self._first.clear()
            self._differing.clear()
            self._facts, self._spec = world.facts, world.spec
            on = permit_date(world)
            versions = [standing(rule, on) for rule in self.substitutions]
            self._standing = [v for v in versions if v[1] != "no" and v[0].layered.waived is None]
        key = (id(run.facts), id(run.citation), id(frame.proposed), frame.variant)
        if key not in self._kept:
            inside = frame.enter(run) if frame.run is not run else frame
            found = self._found(inside, run)
            changes = tuple(change for change in found if change is not None)
            self._kept[key] = (changes, (run.facts, run.citation, frame.proposed))
        return self._kept[key][0]

    def _found(self, frame: Frame, run: Item) -> list[Change | None]:
        """A change for each rule that stands. What is proposed alike in two zones, or before and after a change that
        is tried, stands beside the run alike; and so does what two runs of a document have alike."""
        key = (id(run.facts), id(run.citation))
        first = self._first.get(key)
        if first is None:
            sibling = run.parent.runs[0] if run.parent is not None else run
            other = self._first.get((id(sibling.facts), id(sibling.citation)))
            if other is None or other[1] is not frame.proposed:
                found = [self._change(frame, run, rule, force) for rule, force in self._standing]
            else:
                found = self._as_beside(frame, run, sibling, other[0])
            self._first[key] = (found, frame.proposed, run.facts, run.citation)
            return found
        found = list(first[0])
        for at in self._differ(first[1], frame.proposed):
            rule, force = self._standing[at]
            found[at] = self._change(frame, run, rule, force)
        return found

    def _as_beside(
        self, frame: Frame, run: Item, sibling: Item, changes: list[Change | None]
    ) -> list[Change | None]:
        """The changes of a run whose sibling was laid beside the same proposal: only what it tests apart is new."""
        own, others = run.facts, sibling.facts
        found = list(changes)
        for at, (rule, force) in enumerate(self._standing):
            tested = own.get(rule.tested)
            alike = tested is not None and tested is others.get(rule.tested)
            alike = alike and all(own.get(path) is others.get(path) for path in rule.reads)
            if alike and rule.metal:
                alike = own.get(f"tested.{rule.metal}") is others.get(f"tested.{rule.metal}")
            if not alike or frame.proposed.get(rule.proposed) is None:
                found[at] = self._change(frame, run, rule, force)
        return found

    def _differ(self, first: Facts, other: Facts) -> tuple[int, ...]:
        """Which of the rules that stand may see a difference between two proposals."""
        key = (id(first), id(other))
        if key not in self._differing:
            at = tuple(
                number
                for number, (rule, _) in enumerate(self._standing)
                if any(_differs(path, first, other) for path in rule.reads)
                or first.get(rule.proposed) is not other.get(rule.proposed)
                or (
                    rule.metal
                    and first.get(f"proposed.{rule.metal}") is not other.get(f"proposed.{rule.metal}")
                )
            )
            self._differing[key] = (at, first, other)
        return self._differing[key][0]

    def judge(self, frame: Frame, run: Item) -> Res:
        """Whether the run covers the proposal, its document's conditions included."""
        changes = self.changes(frame, run)
        conditions = run.parent.conditions if run.parent is not None else ()
        key = (id(run.facts), id(run.citation), id(frame.proposed), frame.variant, id(conditions))
        if key not in self._judged:
            self._judged[key] = (self._judge(frame, run, changes), (conditions,))
        return self._judged[key][0]

    def _judge(self, frame: Frame, run: Item, changes: Iterable[Change]) -> Res:
        parts = [change.res for change in changes]
        document = run.parent
        if document is not None:
            parts += [self.condition(frame, condition) for condition in document.conditions]
        if not parts:
            lack = Missing("tested", "Specimen", "not described", "laboratory", "", (run.citation,))
            return Res(UNKNOWN, (), (lack,))
        judged = all_of(parts)
        if judged.truth is YES:
            words = f"{run.label} covers the assembly proposed"
            return Res(YES, (Fact("run.covers", True, words, (run.citation,)),))
        if judged.truth is UNKNOWN:
            reads = tuple(fact for part in parts if part.truth is UNKNOWN for fact in part.reads)
            return Res(UNKNOWN, reads, judged.missing)
        return judged

    def condition(self, frame: Frame, condition: Item) -> Res:
        """A listing's condition: NO where the proposal departs from it, whatever the contract documents show; else by
        its state."""
        field, wanted = condition.facts.get("condition.field"), condition.facts.get("condition.value")
        path = f"proposed.{field.text}" if field is not None else ""
        offered = frame.proposed.get(path)
        if offered is None or wanted is None or " or " in wanted.text:
            return condition_res(condition)
        truth = self._keeps(field.text if field is not None else "", offered, wanted, frame)
        if truth is not NO:
            return condition_res(condition)
        mark = Mark(offered.text, "listed", wanted.text, NO, offered.value, wanted.value, path)
        return Res(NO, (wanted, offered), (), (mark,))

    def _keeps(self, path: str, offered: Fact, wanted: Fact, frame: Frame) -> Tri:
        """Whether what is proposed is what a condition asks, or to the safe side of it."""
        a, b = offered.value, wanted.value
        rule = next((rule for rule in self.substitutions if rule.field.path == path), None)
        if isinstance(a, Quantity) and isinstance(b, Quantity):
            metal = _text(frame.proposed.get(f"proposed.{rule.metal}")) if rule is not None else ""
            allowed = rule.allowed if rule is not None else frozenset({0})
            return within(orderings(a, b, metal_a=metal, metal_b=metal), allowed)
        free = rule is not None and not rule.field.choices
        if isinstance(a, str) and isinstance(b, str) and free and rule is not None:
            return words_meet(a, b, rule.field.title)
        return same(a, b)

    def _change(self, frame: Frame, run: Item, rule: CompiledSubstitution, force: str) -> Change | None:
        if force == "not shown":
            lack = Missing("job.permit_date", "Permit date", "not stated", "building department")
            return Change(rule, "", "", "not shown", Res(UNKNOWN, (), (lack,)))
        if rule.applies is not None:
            applies = rule.applies(frame)
            if applies.truth is NO:
                return None
            if applies.truth is UNKNOWN:
                res = Res(UNKNOWN, applies.reads, applies.missing)
                return Change(rule, "", "", "not shown", res)
        tested = run.facts.get(rule.tested)
        proposed = frame.proposed.get(rule.proposed)
        if tested is None or proposed is None:
            reads = tuple(fact for fact in (tested, proposed) if fact is not None)
            missing = _lacking(rule, tested, proposed, run, frame)
            shown = (tested.text if tested else "not stated", proposed.text if proposed else "not stated")
            return Change(rule, *shown, "not shown", Res(UNKNOWN, reads, missing))
        metals: tuple[Fact | None, Fact | None] = (None, None)
        if rule.metal:
            metals = (frame.proposed.get(f"proposed.{rule.metal}"), run.facts.get(f"tested.{rule.metal}"))
        key = (id(rule), id(tested), id(proposed), id(metals[0]), id(metals[1]))
        kept = self._pairs.get(key)
        if kept is None:
            if len(self._pairs) >= MOST_PAIRS:
                self._pairs.clear()
            change = self._pair(rule, tested, proposed, metals)
            kept = self._pairs[key] = (change, (tested, proposed, *metals))
        return kept[0]

    def _pair(
        self,
        rule: CompiledSubstitution,
        tested: Fact,
        proposed: Fact,
        metals: tuple[Fact | None, Fact | None],
    ) -> Change:
        """A tested value beside a proposed one. It rests on these facts and the metals alone."""
        truth, side = self._side(rule, tested, proposed, (_text(metals[0]), _text(metals[1])))
        words = "tested, allowed: " + ", ".join(rule.allows)
        mark = Mark(proposed.text, words, tested.text, truth, proposed.value, tested.value, rule.field.path)
        missing: tuple[Missing, ...] = ()
        if truth is UNKNOWN:
            reason = f"{proposed.text} proposed beside {tested.text} tested: basis not stated or not alike"
            citations = (*tested.citations, *proposed.citations)
            missing = (
                Missing(f"tested.{rule.field.path}", rule.field.title, reason, "maker", "", citations),
            )
        return Change(
            rule, tested.text, proposed.text, side, Res(truth, (tested, proposed), missing, (mark,))
        )

    def _side(
        self, rule: CompiledSubstitution, tested: Fact, proposed: Fact, metals: tuple[str, str]
    ) -> tuple[Tri, str]:
        a, b = proposed.value, tested.value
        equal = YES if 0 in rule.allowed else NO
        if isinstance(a, Nothing) and isinstance(b, Nothing):
            return equal, "same"
        if isinstance(a, Quantity) and isinstance(b, Quantity):
            if metals[0] and metals[1] and metals[0] != metals[1]:
                return UNKNOWN, "not shown"
            possible = orderings(a, b, metal_a=metals[0], metal_b=metals[1])
            truth = within(possible, rule.allowed)
            if possible == frozenset({0}):
                return truth, "same"
            side = {YES: "safe side", NO: "unsafe side", UNKNOWN: "not shown"}[truth]
            return truth, side
        truth = same(a, b)
        return (equal, "same") if truth is YES else (truth, "different kind")


def _differs(path: str, first: Facts, other: Facts) -> bool:
    """Whether a path that a rule reads may stand otherwise under another proposal; what the specification asks by zone,
    or what is asked of a zone or of coverage, may."""
    if path.startswith("proposed."):
        return first.get(path) is not other.get(path)
    return not path.startswith(("run.", "document.", "tested.", "job.", "submittal."))


def condition_res(condition: Item) -> Res:
    """A listing's condition as a result: met only where it stands on contract documents."""
    state = condition.facts.get("condition.state")
    text = condition.facts.get("condition.text")
    trade = condition.facts.get("condition.trade")
    truth = STATE_TRUTH.get(str(state.value) if state else "", UNKNOWN)
    reads = tuple(fact for fact in (text, state) if fact is not None)
    missing: tuple[Missing, ...] = ()
    if truth is UNKNOWN:
        title = text.text if text else "Condition of the listing"
        reason = state.text if state else "not confirmed"
        whom = f"{trade.value} trade" if trade and trade.value == "deck" else "contractor"
        missing = (Missing("condition", title, reason, whom, "", (condition.citation,)),)
    return Res(truth, reads, missing)


def _lacking(
    rule: CompiledSubstitution, tested: Fact | None, proposed: Fact | None, run: Item, frame: Frame
) -> tuple[Missing, ...]:
    out: list[Missing] = []
    field = rule.field
    if tested is None:
        path = f"tested.{field.path}"
        out.append(Missing(path, field.title, "not stated in the report", "laboratory", "", (run.citation,)))
    if proposed is None:
        where = frame.world.files.get("submittal", Citation("submittal", "the submittal"))
        path = f"proposed.{field.path}"
        out.append(Missing(path, field.title, "not stated in the proposal", field.ask, "", (where,)))
    return tuple(out)


def _text(fact: Fact | None) -> str:
    return fact.value if fact is not None and isinstance(fact.value, str) else ""
