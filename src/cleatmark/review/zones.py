"""Zone rows: demand beside what has been shown, with the run that shows it or the reason why none does."""

from __future__ import annotations

from cleatmark.language.judge import Outcome
from cleatmark.language.program import Program
from cleatmark.language.world import Frame, Item, World
from cleatmark.review.model import ZoneRow
from cleatmark.review.quantities import inches, text
from cleatmark.units import Quantity

RULE = "zone_uplift"


def rows(program: Program, world: World, outcomes: tuple[Outcome, ...]) -> tuple[ZoneRow, ...]:
    """A row for each zone of the demand, as the zone requirement judged it."""
    outcome = next((o for o in outcomes if o.rule.id == RULE), None)
    judged = {part.frame.zone.id: part for part in outcome.shown if part.frame.zone} if outcome else {}
    out = []
    for zone in world.zones:
        part = judged.get(zone.id)
        frame = part.frame if part is not None else None
        run = part.run if part is not None else None
        out.append(row(program, zone, frame, run, part.verdict if part else "not shown"))
    return tuple(out)


def row(program: Program, zone: Item, frame: Frame | None, run: Item | None, verdict: str) -> ZoneRow:
    """The row of one zone."""
    fact = zone.facts.get("zone.required")
    required = fact.value if fact is not None else None
    area = zone.facts.get("zone.area")
    get = program.get("allowable")
    allowable = get(frame).value if get is not None and frame is not None and run is not None else None
    spacing = frame.proposed.get("proposed.clip.spacing") if frame is not None else None
    need = float(required.value) if isinstance(required, Quantity) else None
    has = float(allowable.value) if isinstance(allowable, Quantity) else None
    level = required.level if isinstance(required, Quantity) else ""
    ratio = None
    if isinstance(required, Quantity) and isinstance(allowable, Quantity) and allowable.value:
        ratio = float(required.value / allowable.value)
    worked = zone.facts.get("zone.steps")
    steps: tuple[str, ...] = worked.value if worked is not None and isinstance(worked.value, tuple) else ()
    if get is not None and frame is not None and run is not None:
        steps += tuple(
            f"{fact.path or 'worked'}: {fact.text} [{fact.citations[0].where}]"
            for fact in get(frame).reads
            if fact.citations
        )
    return ZoneRow(
        roof=text(zone, "zone.roof"),
        zone=text(zone, "zone.name"),
        area_sqft=float(area.value.value) if area is not None and isinstance(area.value, Quantity) else None,
        level=level,
        required_psf=need,
        allowable_psf=has,
        clip_spacing_in=inches(spacing),
        ratio=ratio,
        document=run.parent.id if run is not None and run.parent is not None else "",
        run=run.id if run is not None else "",
        refused=text(zone, "zone.required?"),
        steps=steps,
        verdict=verdict,
        source=zone.citation.where,
    )
