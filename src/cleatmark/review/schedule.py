"""The attachment schedule: in each zone the widest clip spacing that can be built and that a test supports."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec.structs import replace

from cleatmark.facts import Fact, Tri
from cleatmark.language.judge import Outcome, first_frame
from cleatmark.language.program import Program
from cleatmark.language.world import Item, World
from cleatmark.review.demand import Demand
from cleatmark.review.model import Attachment, AttachmentRow
from cleatmark.review.remedy import Edit, changed
from cleatmark.review.zones import RULE
from cleatmark.units import Quantity, to
from cleatmark.uplift.attachment import Demand as Asked
from cleatmark.uplift.attachment import Panel, Schedule, ZoneAttachment, ZoneDemand, attachment
from cleatmark.uplift.runs import TestedRun
from cleatmark.uplift.screws import SPECIFIC_GRAVITY, ClipCheck, clip_check, withdrawal
from cleatmark.zones import same_zone

SPACING = "proposed.clip.spacing"
GRAVITY = {"plywood": "plywood, other grades", "OSB": "OSB"}


def schedule(
    program: Program, world: World, load: Demand, outcomes: Iterable[Outcome]
) -> tuple[Attachment, ...]:
    """One schedule for each roof; none where no run covers the assembly at any spacing, or the panel has no width."""
    frame = first_frame(world)
    width = inches_of(frame.proposed.get("proposed.panel.width"))
    rule = next((o.rule for o in outcomes if o.rule.id == RULE), None)
    if width is None or rule is None or not world.zones:
        return ()
    count = frame.proposed.get("proposed.fastener.count")
    screws = int(count.value.value) if count is not None and isinstance(count.value, Quantity) else None
    out = []
    for roof in dict.fromkeys(text(zone, "zone.roof") for zone in world.zones):
        zones = {text(zone, "zone.name"): zone for zone in world.zones if text(zone, "zone.roof") == roof}
        made = one_roof(program, world, load, outcomes, zones, roof, Panel(width, screws))
        if made is not None:
            out.append(told(made, roof, world, width, screws))
    return tuple(out)


def one_roof(
    program: Program,
    world: World,
    load: Demand,
    outcomes: Iterable[Outcome],
    zones: Mapping[str, Item],
    roof: str,
    panel: Panel,
) -> Schedule | None:
    """The schedule of one roof. Zones whose supports or covering runs differ are laid out apart, and then no one
    spacing stands for all of them."""
    alike: dict[tuple[float | None, tuple[TestedRun, ...]], list[str]] = {}
    for name, zone in zones.items():
        variant = world.zone_variant.get(zone.id, next(iter(world.variants)))
        facts = world.variants[variant]
        framing = facts.get("proposed.deck.type")
        open_framing = framing is not None and framing.value == "open framing"
        supports = inches_of(facts.get("proposed.support.spacing")) if open_framing else None
        runs = tuple(covering(program, world, outcomes, zone))
        alike.setdefault((supports, runs), []).append(name)
    area = surfaces(load, roof, zones)
    parts = [
        attachment(names, demand_of(load, zones, roof), panel, runs, supports_in=supports, surfaces=area)
        for (supports, runs), names in alike.items()
        if runs
    ]
    if len(parts) <= 1:
        return parts[0] if parts else None
    rows = {row.zone: row for part in parts for row in part.zones}
    clips = [row.clips for row in rows.values()]
    total = sum(n for n in clips if n is not None) if None not in clips else None
    notes = tuple(dict.fromkeys(note for part in parts for note in part.notes))
    ordered = tuple(rows[name] for name in zones if name in rows)
    return Schedule(ordered, None, (), total, None, notes)


def covering(program: Program, world: World, outcomes: Iterable[Outcome], zone: Item) -> Iterable[TestedRun]:
    """Runs that the zone rule would take for the assembly as it is in the zone, with their own clip spacing."""
    outcome = next(o for o in outcomes if o.rule.id == RULE)
    shown, allowable = outcome.rule.shown, program.get("allowable")
    if shown is None or shown.where is None or allowable is None:
        return
    for document in world.documents:
        for run in document.runs:
            spacing = run.facts.get("tested.clip.spacing")
            tested = inches_of(spacing)
            if spacing is None or tested is None:
                continue
            own = replace(spacing, path=SPACING)
            other = changed(world, [Edit(SPACING, variant, own, "") for variant in world.variants])
            frame = first_frame(other).enter(zone).enter(run)
            value = allowable(frame).value
            if shown.where(frame).truth is not Tri.YES or not isinstance(value, Quantity):
                continue
            mode = text(run, "run.failure_mode")
            yield TestedRun(tested, float(value.value), mode, document.id, run.id)


def demand_of(load: Demand, zones: Mapping[str, Item], roof: str) -> ZoneDemand:
    """The demand of a roof's zones as the attachment asks for it."""
    return lambda name, area: asked(load, zones[name], roof, name, area)


def asked(load: Demand, zone: Item, roof: str, name: str, area: float) -> Asked:
    """What a zone asks for at an area: the stated pressure whatever the area, or the computed one at it."""
    if load.governs == "computed":
        wind = next((wind for wind in load.winds if wind.roof == roof or len(load.winds) == 1), None)
        row = wind.zone(name.removeprefix("Zone "), area) if wind is not None else None
        if row is not None and row.allowable_psf is not None and not row.refused:
            return Asked(abs(row.allowable_psf), row.inward_allowable_psf, "", row.figure)
        return Asked(None, None, text(zone, "zone.required?") or "not worked out")
    required = zone.facts.get("zone.required")
    if required is None or not isinstance(required.value, Quantity):
        return Asked(None, None, "no uplift is stated")
    return Asked(float(required.value.value), None, "", zone.citation.where)


def surfaces(load: Demand, roof: str, zones: Mapping[str, Item]) -> dict[str, float]:
    """Square feet along the slope by zone, where the roof could be laid out; an undivided strip has none."""
    wind = next((wind for wind in load.winds if wind.roof == roof or len(load.winds) == 1), None)
    if wind is None or wind.layout is None:
        return {}
    out: dict[str, float] = {}
    for region in wind.layout.regions:
        names = [name for name in zones if any(same_zone(f"Zone {zone}", name) for zone in region.zones)]
        if len(names) == 1:
            out[names[0]] = out.get(names[0], 0.0) + region.area_sqft * wind.layout.surface
    return out


def told(found: Schedule, roof: str, world: World, width: float, screws: int | None) -> Attachment:
    """The schedule as a report shows it, with the advisory check of the screws."""
    rows = tuple(row(zone, world, width, screws) for zone in found.zones)
    return Attachment(
        roof=roof,
        zones=rows,
        everywhere_in=found.everywhere_in,
        clips=found.clips,
        everywhere_clips=found.everywhere_clips,
        notes=(*found.notes, *advisory(rows)),
    )


def row(zone: ZoneAttachment, world: World, width: float, screws: int | None) -> AttachmentRow:
    """One zone's row."""
    chosen = zone.chosen
    shown = chosen.shown.runs[0] if chosen is not None and chosen.shown is not None else None
    variant = next((v for v in world.variants if v and same_zone(v, zone.zone)), next(iter(world.variants)))
    facts = world.variants[variant]
    check = screw_check(facts, chosen.demand_psf, width, chosen.spacing_in, screws) if chosen else None
    return AttachmentRow(
        zone=zone.zone,
        verdict=zone.verdict,
        proposed_in=inches_of(facts.get(SPACING)),
        spacing_in=chosen.spacing_in if chosen else None,
        area_sqft=chosen.area_sqft if chosen else None,
        demand_psf=chosen.demand_psf if chosen else None,
        allowable_psf=chosen.allowable_psf if chosen else None,
        document=shown.document if shown else "",
        run=shown.run if shown else "",
        surface_sqft=zone.surface_sqft,
        clips=zone.clips,
        screws=zone.screws,
        inward=zone.inward,
        clip_load_lb=check.load_lb if check else None,
        screw_capacity_lb=check.capacity_lb if check else None,
        message=zone.message,
        steps=check.steps if check else (),
    )


def screw_check(
    facts: Mapping[str, Fact], demand: float | None, width: float, spacing: float, screws: int | None
) -> ClipCheck | None:
    """The clip's load beside withdrawal of its screws from a wood deck; None where an input is not stated."""
    deck = facts.get("proposed.deck.type")
    size, thread = facts.get("proposed.fastener.size"), inches_of(facts.get("proposed.fastener.penetration"))
    if demand is None or not screws or deck is None or size is None or thread is None:
        return None
    gravity = SPECIFIC_GRAVITY.get(GRAVITY.get(str(deck.value), ""))
    if gravity is None or not isinstance(size.value, Quantity):
        return None
    thick = inches_of(facts.get("proposed.deck.thickness"))
    strength = withdrawal(float(size.value.value), gravity, thread, thick)
    return clip_check(demand, width, spacing, screws, strength)


def advisory(rows: Iterable[AttachmentRow]) -> tuple[str, ...]:
    """What the screw check is worth, once, where it was made."""
    over = [
        r.zone
        for r in rows
        if r.clip_load_lb and r.screw_capacity_lb and r.clip_load_lb > r.screw_capacity_lb
    ]
    checked = any(r.screw_capacity_lb for r in rows)
    if not checked:
        return ()
    text = (
        "Advisory: clip load beside screw withdrawal by the NDS formula for solid wood, wind duration 1.6; plywood and "
        "OSB can hold less. It never stands for a test and never rescues one that does not cover."
    )
    return (
        (text, f"The clip's load is above its screws' withdrawal in: {', '.join(over)}.") if over else (text,)
    )


def inches_of(fact: Fact | None) -> float | None:
    """A length or a thickness in inches."""
    if fact is None or not isinstance(fact.value, Quantity) or fact.value.kind not in ("length", "thickness"):
        return None
    return float(to(fact.value, "in"))


def text(item: Item, path: str) -> str:
    """The text of a fact, or ""."""
    fact = item.facts.get(path)
    return fact.text if fact is not None else ""
