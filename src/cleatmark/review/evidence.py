"""Evidence rows: each document's kind and standing, its runs beside the proposal, its conditions."""

from __future__ import annotations

from collections.abc import Iterable

from cleatmark.language import custom
from cleatmark.language.judge import covers, first_frame
from cleatmark.language.logic import NO, UNKNOWN, YES
from cleatmark.language.program import Program
from cleatmark.language.world import Frame, Item, World
from cleatmark.review.model import ConditionRow, Difference, Evidence, RunRow
from cleatmark.review.quantities import inches, quantity, text
from cleatmark.review.remedy import lower_first
from cleatmark.review.standings import lacks, standings
from cleatmark.review.world import result
from cleatmark.units import Quantity

COVERS = {YES: "yes", NO: "no", UNKNOWN: "not shown"}


def rows(program: Program, world: World) -> tuple[Evidence, ...]:
    """One row for each document, in the order of the submittal."""
    return tuple(row(program, world, document) for document in world.documents)


def row(program: Program, world: World, document: Item) -> Evidence:
    """The row of one document."""
    runs = tuple(run_row(program, world, run) for run in document.runs)
    conditions = tuple(condition_row(program, world, item) for item in document.conditions)
    kind = text(document, "document.kind")
    claims = document.facts.get("document.claims")
    return Evidence(
        id=document.id,
        kind=kind,
        title=text(document, "document.title"),
        standing=void(program, world, document) or standing(runs, conditions, kind),
        runs=runs,
        conditions=conditions,
        offered_as=text(document, "document.offered_as"),
        body=text(document, "document.body"),
        holder=text(document, "document.holder"),
        laboratory=text(document, "document.laboratory"),
        date=text(document, "document.date"),
        expires=text(document, "document.expires"),
        lacks=lacks(program, world, document),
        claims=claims.value if claims is not None and isinstance(claims.value, tuple) else (),
        standings=standings(program, world, document),
    )


VOID = (("in_force", "in force"), ("method_scope", "in scope"))
"""What is defined of a paper or of its runs that makes it void whatever it covers, and what it has to be."""


def void(program: Program, world: World, document: Item) -> str:
    """Why the paper stands for nothing, whatever its specimen: expired, superseded, by a method of another use."""
    kind = text(document, "document.kind")
    for define, wanted in VOID:
        get = program.get(define)
        if get is None or kind in ("data sheet", "engineering letter"):
            continue
        frames = [first_frame(world).enter(run) for run in document.runs if run.facts]
        got = [get(frame) for frame in frames]
        values = {value.value for value in got}
        if got and None not in values and wanted not in values:
            return f"does not cover, because {' and '.join(sorted(str(value) for value in values))}"
        lacking = [item for value in got for item in value.missing if value.value is None]
        if define == "in_force" and lacking:
            return f"cannot be judged, because {lower_first(lacking[0].title)} is {lacking[0].reason}"
    return ""


def standing(runs: tuple[RunRow, ...], conditions: tuple[ConditionRow, ...], kind: str) -> str:
    """How the document stands: for what is proposed as a whole, some run in every zone."""
    if kind in ("data sheet", "engineering letter"):
        return "proves nothing by itself"
    zones = {zone for run in runs for zone in run.covers_zones}
    best = {zone: _best(run.covers_zones.get(zone, "not shown") for run in runs) for zone in zones}
    worst = "no" if "no" in best.values() else "not shown" if "not shown" in best.values() else "yes"
    if worst == "yes":
        return "stands with conditions" if conditions else "stands"
    return "does not cover" if worst == "no" else "cannot be judged"


def _best(words: Iterable[str]) -> str:
    found = list(words)
    return "yes" if "yes" in found else "not shown" if "not shown" in found else "no"


def run_row(program: Program, world: World, run: Item) -> RunRow:
    """The row of one run: its result, whether it covers, and every attribute beside the proposal."""
    frame = first_frame(world)
    get = program.get("allowable")
    got = get(frame.enter(run)).value if get is not None else None
    spacing = run.facts.get("tested.clip.spacing")
    return RunRow(
        run=run.id,
        page=text(run, "run.page"),
        standard=text(run, "run.standard"),
        result=result(run.facts),
        covers=COVERS[covers(program, world, run)],
        differences=tuple(all_differences(program, frame, run)),
        allowable_psf=float(got.value) if isinstance(got, Quantity) and got.kind == "pressure" else None,
        clip_spacing_in=inches(spacing),
        covers_zones=covers_zones(program, world, run),
        failure_mode=text(run, "run.failure_mode"),
    )


def covers_zones(program: Program, world: World, run: Item) -> dict[str, str]:
    """Whether the run covers the proposal, by variant."""
    frame = first_frame(world)
    out = {}
    for variant, facts in world.variants.items():
        inside = frame._replace(variant=variant, proposed=facts).enter(run)
        out[variant] = COVERS[program.coverage.judge(inside, run).truth]
    return out


def all_differences(program: Program, frame: Frame, run: Item) -> list[Difference]:
    """Every attribute of the run beside the proposal; by zone where a zone's proposal fares apart."""
    out: list[Difference] = []
    seen: set[tuple[str, str, str]] = set()
    for variant, facts in frame.world.variants.items():
        inside = frame._replace(variant=variant, proposed=facts).enter(run)
        for change in program.coverage.changes(inside, run):
            field = change.substitution.field
            key = (field.path, change.proposed, change.side)
            if key in seen:
                continue
            seen.add(key)
            by_zone = any(
                f.get(f"proposed.{field.path}") != facts.get(f"proposed.{field.path}")
                for f in frame.world.variants.values()
            )
            zone = variant if by_zone else ""
            out.append(Difference(field.path, field.title, change.tested, change.proposed, change.side, zone))
    return out


def where_it_stands(program: Program, frame: Frame, condition: Item) -> str:
    """Where a condition stands, or who said so; and what is proposed in its place where the proposal departs."""
    where = text(condition, "condition.where") or text(condition, "condition.by")
    for facts in frame.world.variants.values():
        res = program.coverage.condition(frame._replace(proposed=facts), condition)
        departs = next((mark for mark in res.marks if mark.words == "listed"), None)
        if departs is not None:
            return "; ".join(part for part in (where, f"{departs.left} is proposed") if part)
    return where


def condition_row(program: Program, world: World, condition: Item) -> ConditionRow:
    """A condition with its state, and whether the trade would call it usual on this deck."""
    path = text(condition, "condition.field")
    value = condition.facts.get("condition.value")
    frame = first_frame(world)
    usual, why, hidden, trade = "", "", "", text(condition, "condition.trade")
    unusual = False
    for practice in program.practices:
        if practice.statement.field != path or value is None:
            continue
        judged = custom.usual(program, practice, frame, value)
        found = custom.practice_for(practice, world)
        if found is None or judged not in ("usual", "unusual"):
            continue
        clauses = found.statement.clauses
        usual = ", ".join(clauses.usual or ())
        unusual = judged == "unusual"
        why = clauses.because.text if clauses.because else ""
        hidden = clauses.hidden_after or ""
        trade = trade or clauses.trade or ""
    return ConditionRow(
        text=text(condition, "condition.text") or condition.label,
        field=path,
        state=text(condition, "condition.state"),
        unusual=unusual,
        trade=trade,
        where=where_it_stands(program, frame, condition),
        usual=usual,
        why=why if unusual else "",
        quantity=quantity(program, world, condition),
        hidden_after=hidden,
    )
