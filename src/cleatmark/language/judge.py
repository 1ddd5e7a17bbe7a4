"""Judging rules: from a compiled rule and a world to an outcome with all that it rests on."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from msgspec import Struct

from cleatmark.facts import Missing, Tri
from cleatmark.language.compile import COVERS, kind_of_document
from cleatmark.language.layers import standing
from cleatmark.language.logic import NO, TRUE, UNKNOWN, YES, Res, all_of, any_of
from cleatmark.language.program import CompiledShown, Program, Rule
from cleatmark.language.values import NO_PERMIT_DATE, Test
from cleatmark.language.world import Facts, Frame, Item, World
from cleatmark.units import Quantity

NAMES = {
    "run": "tested report or approval",
    "report": "tested report",
    "own_listing": "listing in the maker's own name",
    "approval": "insurer approval",
    "certificate": "approval or evaluation",
    "fire_paper": "listing or tested report of the fire class",
}


class Shown(Struct, frozen=True, eq=False):
    """How one zone or variant was judged: by which document and run, and with what result."""

    verdict: str
    res: Res
    frame: Frame
    document: Item | None = None
    run: Item | None = None


class Outcome(Struct, frozen=True, eq=False):
    """A rule judged. `shown` has a part for every zone or variant that was judged apart; `nearest` is the run whose
    differences explain why nothing covers."""

    rule: Rule
    verdict: str
    res: Res
    frame: Frame
    document: Item | None = None
    run: Item | None = None
    nearest: Item | None = None
    shown: tuple[Shown, ...] = ()
    why: str = ""


def first_frame(world: World) -> Frame:
    """The frame before any zone or document is entered."""
    variant = next(iter(world.variants))
    return Frame(world, world.variants[variant], variant)


def judge_all(program: Program, world: World, permit: date | None) -> tuple[Outcome, ...]:
    """Every rule judged, in the order of the rulebooks."""
    frame = first_frame(world)
    return tuple(judge(program, rule, world, permit, frame=frame) for rule in program.rules)


def verdicts_after(
    program: Program, outcomes: Iterable[Outcome], world: World, permit: date | None, changed: Iterable[str]
) -> dict[str, str]:
    """Verdicts of the rules of `outcomes` in a world that differs from theirs in the facts of these paths alone. Only
    rules that read one of them, or ask for coverage, are judged again."""
    touched = {COVERS, *changed}
    before = {outcome.rule.id: outcome.verdict for outcome in outcomes}
    return {
        rule.id: before[rule.id]
        if touched.isdisjoint(rule.paths)
        else judge(program, rule, world, permit, explained=False).verdict
        for rule in program.rules
        if rule.id in before
    }


def judge(
    program: Program,
    rule: Rule,
    world: World,
    permit: date | None,
    *,
    explained: bool = True,
    frame: Frame | None = None,
) -> Outcome:
    """One rule judged: dates, waiver, `applies when`, then what it requires.

    explained  whether the nearest run is looked for where the rule asks for a paper, and all that a verdict rests on
               is gathered; without it the verdict is the same, and what is read for it may be less
    frame      the world's first frame, where it is at hand
    """
    frame = frame or first_frame(world)
    if not rule.lasting:
        rule, force = standing(rule, permit)
        if force == "not shown":
            return Outcome(rule, "not shown", Res(UNKNOWN, (), (NO_PERMIT_DATE,)), frame)
        if force == "no":
            return Outcome(rule, "does not apply", TRUE, frame, why="not in force on the permit date")
        if rule.layered.waived is not None:
            return Outcome(rule, "does not apply", TRUE, frame, why=str(rule.layered.waived))
    applies = TRUE
    if rule.applies is not None:
        applies = rule.applies(frame)
        if applies.truth is NO:
            return Outcome(rule, "does not apply", applies, frame)
        if applies.truth is UNKNOWN:
            return Outcome(rule, "not shown", applies, frame, why="whether it applies is not known")
    if rule.hold is not None:
        return _hold(rule, frame, applies, explained)
    assert rule.shown is not None
    runs = candidates(program, rule.shown.kind, world)
    nearest = nearest_for(program, rule.shown, frame, runs) if explained else None
    if rule.shown.every_zone:
        return _zones(program, rule, rule.shown, frame, applies, runs, nearest)
    return _papers(rule, rule.shown, frame, applies, runs, nearest, explained)


def _verdict(truth: Tri) -> str:
    return "complies" if truth is YES else "deviates" if truth is NO else "not shown"


def _with(applies: Res, res: Res) -> Res:
    if applies is TRUE:
        return res
    return Res(res.truth, applies.reads + res.reads, res.missing, res.marks)


def _hold(rule: Rule, frame: Frame, applies: Res, explained: bool) -> Outcome:
    """`shall CONDITION`, for every variant of the proposal that differs by zone."""
    assert rule.hold is not None
    if len(frame.world.variants) > 1:
        return _hold_by_zone(rule, rule.hold, frame, applies, explained)
    res = _with(applies, rule.hold(frame))
    return Outcome(rule, _verdict(res.truth), res, frame)


def _hold_by_zone(rule: Rule, hold: Test, frame: Frame, applies: Res, explained: bool) -> Outcome:
    """Most zones differ in the clips' spacing alone: a rule that does not read it is judged once."""
    variants = frame.world.variants
    if _reads_alike(rule, variants.values()):
        res = _with(applies, hold(frame))
        verdict = _verdict(res.truth)
        if not explained:
            return Outcome(rule, verdict, res, frame)
        shown = (
            Shown(verdict, res, frame if at == frame.variant else frame.within(at, facts))
            for at, facts in variants.items()
        )
        return Outcome(rule, verdict, res, frame, shown=tuple(shown))
    parts: list[Shown] = []
    for variant, facts in variants.items():
        inside = frame.within(variant, facts)
        res = _with(applies, hold(inside))
        parts.append(Shown(_verdict(res.truth), res, inside))
    worst = min(parts, key=lambda part: ("deviates", "not shown", "complies").index(part.verdict))
    return Outcome(rule, worst.verdict, worst.res, worst.frame, shown=tuple(parts))


def _reads_alike(rule: Rule, variants: Iterable[Facts]) -> bool:
    """Whether all that a rule reads is the same in every variant of the proposal."""
    if rule.offered is None:
        return False
    first, *others = variants
    for path in rule.offered:
        fact = first.get(path)
        for other in others:
            if other.get(path) is not fact:
                return False
    return True


def candidates(program: Program, kind: str, world: World) -> list[Item]:
    """The runs of all documents of the kind. Every document has at least one; where a run is asked for, one that
    describes neither specimen nor method is none."""
    names = program.kinds.get(kind)
    runs = [
        run
        for document in world.documents
        if kind in ("run", "document") or names is None or kind_of_document(document) in names
        for run in document.runs
    ]
    return [run for run in runs if run.facts] if kind == "run" else runs


def _zones(
    program: Program,
    rule: Rule,
    shown: CompiledShown,
    frame: Frame,
    applies: Res,
    runs: list[Item],
    nearest: Item | None,
) -> Outcome:
    parts: list[Shown] = []
    for zone in frame.world.zones:
        inside = frame.enter(zone)
        if shown.zone_where is not None and shown.zone_where(inside).truth is NO:
            continue
        parts.append(_by_runs(program, shown, inside, runs))
    if not parts:
        lack = Missing("zone", "Design uplift pressures by roof zone", "not stated", "designer")
        res = Res(UNKNOWN, applies.reads, (lack,))
        return Outcome(rule, "not shown", res, frame, nearest=nearest)
    res = _with(applies, all_of([part.res for part in parts]))
    worst = min(parts, key=_gravity)
    return Outcome(
        rule, _verdict(res.truth), res, worst.frame, worst.document, worst.run, nearest, tuple(parts)
    )


def _gravity(part: Shown) -> tuple[int, Fraction]:
    """The gravest verdict first, and of zones that fare alike the one with the least to spare."""
    spare = Fraction(0)
    for mark in part.res.marks:
        a, b = mark.left_value, mark.right_value
        if isinstance(a, Quantity) and isinstance(b, Quantity) and a.kind == b.kind == "pressure" and b.value:
            spare = a.value / b.value
    return ("deviates", "not shown", "complies").index(part.verdict), spare


def _by_runs(program: Program, shown: CompiledShown, frame: Frame, runs: list[Item]) -> Shown:
    """One zone: complies if one run meets both; deviates if runs qualify, none other might, and all fail."""
    qualified: list[tuple[Item, Res, Res]] = []
    might: list[tuple[Item, Res]] = []
    for run in runs:
        inside = frame.enter(run)
        if _is_apart(shown, inside):
            continue
        where = shown.where(inside) if shown.where is not None else TRUE
        if where.truth is NO:
            continue
        if where.truth is UNKNOWN:
            might.append((run, where))
            continue
        qualified.append((run, where, shown.having(inside) if shown.having is not None else TRUE))
    for truth in (YES, UNKNOWN, NO):
        if truth is NO and might:
            break
        fitting = [item for item in qualified if item[2].truth is truth]
        if truth is UNKNOWN and not fitting:
            continue
        if fitting:
            run, where, having = _strongest(program, frame, fitting)
            missing = having.missing
            res = Res(truth, where.reads + having.reads, missing, where.marks + having.marks)
            return Shown(_verdict(truth), res, frame.enter(run), run.parent, run)
    missing = tuple(m for _, where in might for m in where.missing)
    if not missing:
        missing = (_no_paper(shown),)
    reads = tuple(f for _, where in might for f in where.reads)
    return Shown("not shown", Res(UNKNOWN, reads, missing), frame)


def _is_apart(shown: CompiledShown, inside: Frame) -> bool:
    """Whether the run is none that the rule speaks of, whatever it covers: no need to ask whether it does."""
    return any(test(inside).truth is NO for test in shown.apart)


def _strongest(program: Program, frame: Frame, fitting: list[tuple[Item, Res, Res]]) -> tuple[Item, Res, Res]:
    """Of runs that fare alike, the one with the largest allowable; the first where that cannot be told."""
    get = program.get("allowable")
    if get is None or len(fitting) == 1:
        return fitting[0]
    best, most = fitting[0], -1.0
    for item in fitting:
        value = get(frame.enter(item[0])).value
        amount = float(getattr(value, "value", -1))
        if amount > most:
            best, most = item, amount
    return best


def _papers(
    rule: Rule,
    shown: CompiledShown,
    frame: Frame,
    applies: Res,
    runs: list[Item],
    nearest: Item | None,
    explained: bool,
) -> Outcome:
    """`shall be shown by a KIND`: one document must meet both, for every variant of the proposal."""
    by_document: dict[int, list[Item]] = {}
    for run in runs:
        by_document.setdefault(id(run.parent), []).append(run)
    judged: list[tuple[Item, Res, Res, Item]] = []
    for own in by_document.values():
        where, both, run = (_document if explained else _briefly)(shown, frame, own)
        document = own[0].parent
        assert document is not None
        judged.append((document, where, both, run))
        if both.truth is YES:
            break
    for document, _, both, run in judged:
        if both.truth is YES:
            return Outcome(rule, "complies", _with(applies, both), frame.enter(run), document, run, nearest)
    qualify = [item for item in judged if item[1].truth is YES]
    might = [item for item in judged if item[1].truth is UNKNOWN]
    if qualify and not might and all(both.truth is NO for _, _, both, _ in qualify):
        document, _, both, run = qualify[0]
        res = _with(applies, any_of([both for _, _, both, _ in qualify]))
        return Outcome(rule, "deviates", res, frame.enter(run), document, run, nearest)
    open_ = [both if where.truth is YES else where for _, where, both, _ in (*qualify, *might)]
    missing = tuple(m for res in open_ for m in res.missing) or (_no_paper(shown),)
    reads = tuple(f for res in open_ for f in res.reads)
    document_open = (*qualify, *might)
    first = document_open[0] if document_open else None
    return Outcome(
        rule,
        "not shown",
        _with(applies, Res(UNKNOWN, reads, missing)),
        frame.enter(first[3]) if first else frame,
        first[0] if first else None,
        first[3] if first else None,
        nearest,
    )


def _document(shown: CompiledShown, frame: Frame, runs: list[Item]) -> tuple[Res, Res, Item]:
    """where and (where and having) of one document: for every variant some run of it."""
    wheres: list[Res] = []
    boths: list[Res] = []
    best = runs[0]
    for variant, facts in frame.world.variants.items():
        inside = frame.within(variant, facts)
        tested: list[tuple[Res, Res, Item]] = []
        for run in runs:
            at = inside.enter(run)
            where = shown.where(at) if shown.where is not None else TRUE
            having = shown.having(at) if shown.having is not None else TRUE
            tested.append((where, all_of([where, having]), run))
        wheres.append(any_of([item[0] for item in tested]))
        both = any_of([item[1] for item in tested])
        boths.append(both)
        best = next((item[2] for item in tested if item[1].truth is both.truth), best)
    return all_of(wheres), all_of(boths), best


def _briefly(shown: CompiledShown, frame: Frame, runs: list[Item]) -> tuple[Res, Res, Item]:
    """As `_document`, for the truths alone: no run is asked further than its own truth needs."""
    qualifies = meets = YES
    best = runs[0]
    for variant, facts in frame.world.variants.items():
        inside = frame.within(variant, facts)
        where = both = NO
        for run in runs:
            at = inside.enter(run)
            if _is_apart(shown, at):
                continue
            own = shown.where(at).truth if shown.where is not None else YES
            if own is NO:
                continue
            has = shown.having(at).truth if shown.having is not None else YES
            whole = NO if has is NO else UNKNOWN if UNKNOWN in (own, has) else YES
            where = own if where is not YES else where
            if whole is YES:
                both, best = YES, run
                break
            both = UNKNOWN if whole is UNKNOWN else both
        if where is NO:
            return Res(NO), Res(NO), best
        qualifies = where if qualifies is YES else qualifies
        meets = NO if both is NO else meets if both is YES or meets is NO else UNKNOWN
    return Res(qualifies), Res(meets), best


def _no_paper(shown: CompiledShown) -> Missing:
    kind = NAMES.get(shown.kind, shown.kind.replace("_", " "))
    article = "an" if kind[0] in "aeiou" else "a"
    return Missing(
        shown.kind, f"{article} {kind} that covers the assembly proposed", "not submitted", "maker"
    )


def nearest_for(program: Program, shown: CompiledShown, frame: Frame, runs: list[Item]) -> Item | None:
    """The nearest of the runs that the rule speaks of: those that meet its `where` beside coverage, or most of it.
    A water test is not near to an uplift test, however alike the specimens are."""
    ranked: dict[int, list[Item]] = {}
    for run in runs:
        unmet = sum(test(frame.enter(run)).truth is not YES for test in shown.apart)
        if not unmet or 2 * unmet < len(shown.apart):
            ranked.setdefault(unmet, []).append(run)
    return nearest_run(program, frame, ranked[min(ranked)]) if ranked else None


def nearest_run(program: Program, frame: Frame, runs: Iterable[Item]) -> Item | None:
    """The run with the fewest failing attributes, then the fewest unknown, then the first in the file."""
    best: Item | None = None
    least = (10_000, 10_000)
    for run in runs:
        worst = (0, 0)
        for variant, facts in frame.world.variants.items():
            inside = frame.within(variant, facts)
            changes = program.coverage.changes(inside.enter(run), run)
            failing = sum(change.res.truth is NO for change in changes)
            unknown = sum(change.res.truth is UNKNOWN for change in changes)
            worst = max(worst, (failing, unknown))
        if worst < least:
            best, least = run, worst
    return best


def covers(program: Program, world: World, run: Item) -> Tri:
    """Whether one run covers the whole proposal."""
    frame = first_frame(world)
    parts = []
    for variant, facts in world.variants.items():
        inside = frame.within(variant, facts).enter(run)
        parts.append(program.coverage.judge(inside, run))
    return all_of(parts).truth


__all__ = ["Outcome", "Shown", "covers", "first_frame", "judge", "judge_all", "nearest_run"]
