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
from cleatmark.review.world import result
from cleatmark.units import Quantity

COVERS = {YES: "yes", NO: "no", UNKNOWN: "not shown"}
NEEDED = {
    "tested report": ("laboratory", "accreditation", "date", "signed_by"),
    "holder's listing": ("body", "number", "date"),
    "blanket listing": ("body", "number", "date"),
    "insurer approval": ("body", "number", "date"),
    "product approval": ("body", "number", "expires"),
    "evaluation": ("body", "number", "expires"),
    "engineering letter": ("sealed_by", "date"),
    "data sheet": (),
}


def rows(program: Program, world: World) -> tuple[Evidence, ...]:
    """One row for each document, in the order of the submittal."""
    return tuple(row(program, world, document) for document in world.documents)


def row(program: Program, world: World, document: Item) -> Evidence:
    """The row of one document."""
    runs = tuple(run_row(program, world, run) for run in document.runs)
    conditions = tuple(condition_row(program, world, item) for item in document.conditions)
    kind = text(document, "document.kind")
    block = program.book.block("document")
    lacks = tuple(block[key].title for key in NEEDED.get(kind, ()) if f"document.{key}" not in document.facts)
    claims = document.facts.get("document.claims")
    return Evidence(
        id=document.id,
        kind=kind,
        title=text(document, "document.title"),
        standing=standing(runs, conditions, kind),
        runs=runs,
        conditions=conditions,
        offered_as=text(document, "document.offered_as"),
        body=text(document, "document.body"),
        holder=text(document, "document.holder"),
        laboratory=text(document, "document.laboratory"),
        date=text(document, "document.date"),
        expires=text(document, "document.expires"),
        lacks=lacks,
        claims=claims.value if claims is not None and isinstance(claims.value, tuple) else (),
    )


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
