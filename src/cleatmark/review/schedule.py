"""The attachment schedule: in each zone the widest clip spacing that can be built and that a test supports."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec.structs import replace

from cleatmark.facts import Fact, Tri
from cleatmark.language.judge import Outcome, first_frame
from cleatmark.language.program import Program
from cleatmark.language.world import Frame, Item, World
from cleatmark.review.beside import governing_inward
from cleatmark.review.clip_screws import ScrewRow, screw_row
from cleatmark.review.demand import Demand
from cleatmark.review.model import Attachment, AttachmentRow
from cleatmark.review.remedy import Edit, changed
from cleatmark.review.schedule_notes import count_notes, inward_notes, screw_notes
from cleatmark.review.stated_zones import INWARD
from cleatmark.review.world import text_of
from cleatmark.review.zones import RULE
from cleatmark.units import Quantity, to
from cleatmark.uplift.attachment import Demand as Asked
from cleatmark.uplift.attachment import Panel, Schedule, ZoneAttachment, ZoneDemand, attachment
from cleatmark.uplift.runs import TestedRun
from cleatmark.wind.report import RoofWind
from cleatmark.zones import same_zone

SPACING = "proposed.clip.spacing"
PURLINS = "proposed.support.spacing"
LANDS_ON = {"open framing": PURLINS, "steel deck": "proposed.deck.rib_spacing"}
"""What clips must land on, by the deck: purlins, or the deck's ribs where their spacing is stated."""
INTERPOLATES = "interpolates"
"""The define of a run by which a rulebook gives leave to interpolate between spacings. None that ships has it."""


def schedule(
    program: Program, world: World, load: Demand, outcomes: Iterable[Outcome]
) -> tuple[Attachment, ...]:
    """One schedule for each roof; none where no run covers the assembly at any spacing, or the panel has no width."""
    frame = first_frame(world)
    width = inches_of(frame.proposed.get("proposed.panel.width"))
    rule = next((o.rule for o in outcomes if o.rule.id == RULE), None)
    if not width or rule is None or not world.zones:
        return ()
    count = frame.proposed.get("proposed.fastener.count")
    screws = int(count.value.value) if count is not None and isinstance(count.value, Quantity) else None
    out = []
    for roof in dict.fromkeys(text(zone, "zone.roof") for zone in world.zones):
        zones = {text(zone, "zone.name"): zone for zone in world.zones if text(zone, "zone.roof") == roof}
        made = one_roof(program, world, load, outcomes, zones, roof, Panel(width, screws))
        if made is not None:
            out.append(told(made, roof, program, world, width, zones, load))
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
        supports = inches_of(facts.get(LANDS_ON.get(text_of(facts.get("proposed.deck.type")), "")))
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
    """Runs that the zone rule would take for the assembly as it is in the zone, with their own clip spacing.

    Where clips stand on every purlin, clip and purlin spacing are one: with a rulebook's leave to interpolate, a run on
    closer purlins is taken too. It shows nothing at the wider spacing by itself.
    """
    outcome = next(o for o in outcomes if o.rule.id == RULE)
    shown, allowable = outcome.rule.shown, program.get("allowable")
    inward = program.get("inward_allowable")
    if shown is None or shown.where is None or allowable is None:
        return
    for document in world.documents:
        for run in document.runs:
            spacing = run.facts.get("tested.clip.spacing")
            tested = inches_of(spacing)
            if spacing is None or tested is None:
                continue
            frame = as_tested(world, zone, run, {SPACING: spacing})
            leave = leave_of(program, frame)
            supports = run.facts.get("tested.support.spacing")
            if leave and supports is not None and inches_of(supports) == tested:
                frame = as_tested(world, zone, run, {SPACING: spacing, PURLINS: supports})
            value = allowable(frame).value
            if shown.where(frame).truth is not Tri.YES or not isinstance(value, Quantity):
                continue
            held = inward(frame).value if inward is not None else None
            toward = float(held.value) if isinstance(held, Quantity) else None
            mode = text(run, "run.failure_mode")
            yield TestedRun(tested, float(value.value), mode, document.id, run.id, toward, leave)


def as_tested(world: World, zone: Item, run: Item, spacings: Mapping[str, Fact]) -> Frame:
    """The run beside the assembly of the zone, with spacings of the specimen in place of the proposed ones."""
    edits = [
        Edit(path, variant, replace(fact, path=path), "")
        for path, fact in spacings.items()
        for variant in world.variants
    ]
    return first_frame(changed(world, edits)).enter(zone).enter(run)


def leave_of(program: Program, frame: Frame) -> str:
    """The rulebook that lets an allowable be interpolated from the run, with its source; "" where none does."""
    get = program.get(INTERPOLATES)
    if get is None or get(frame).value is not True:
        return ""
    node = program.defines[INTERPOLATES]
    file = next((file for file, statement in program.merged.others if statement is node), None)
    return "; ".join((file.head.id if file is not None else "", *(str(source) for source in node.sources)))


def demand_of(load: Demand, zones: Mapping[str, Item], roof: str) -> ZoneDemand:
    """The demand of a roof's zones as the attachment asks for it."""
    return lambda name, area: asked(load, zones[name], roof, name, area)


def asked(load: Demand, zone: Item, roof: str, name: str, area: float) -> Asked:
    """What a zone asks for at an area: the stated pressure whatever the area, or the computed one at it."""
    if load.governs == "computed":
        wind = wind_of(load, roof)
        row = wind.zone(name.removeprefix("Zone "), area) if wind is not None else None
        if row is not None and row.allowable_psf is not None and not row.refused:
            toward = None if row.inward_refused else row.inward_allowable_psf
            return Asked(abs(row.allowable_psf), toward, "", row.figure)
        return Asked(None, None, text(zone, "zone.required?") or "not worked out")
    required = zone.facts.get("zone.required")
    if required is None or not isinstance(required.value, Quantity):
        return Asked(None, None, text(zone, "zone.required?") or "no uplift is stated")
    return Asked(
        float(required.value.value), inward_of(load, zone, roof, name, area), "", zone.citation.where
    )


def wind_of(load: Demand, roof: str) -> RoofWind | None:
    """The wind computation of a roof."""
    return next((wind for wind in load.winds if wind.roof == roof or len(load.winds) == 1), None)


def inward_of(load: Demand, zone: Item, roof: str, name: str, area: float) -> float | None:
    """The inward pressure beside a stated uplift: stated too, else the one worked out. At strength level times 0.6 is
    already done; one whose level nobody states is taken as it stands, which is the larger."""
    stated = zone.facts.get(INWARD)
    if stated is not None and isinstance(stated.value, Quantity):
        return float(stated.value.value)
    wind = wind_of(load, roof)
    return governing_inward(wind, name, area) if wind is not None else None


def surfaces(load: Demand, roof: str, zones: Mapping[str, Item]) -> dict[str, float]:
    """Square feet along the slope by zone, where the roof could be laid out; an undivided strip has none."""
    wind = wind_of(load, roof)
    if wind is None or wind.layout is None:
        return {}
    out: dict[str, float] = {}
    for region in wind.layout.regions:
        names = [name for name in zones if any(same_zone(f"Zone {zone}", name) for zone in region.zones)]
        if len(names) == 1:
            out[names[0]] = out.get(names[0], 0.0) + region.area_sqft * wind.layout.surface
    return out


def told(
    found: Schedule,
    roof: str,
    program: Program,
    world: World,
    width: float,
    zones: Mapping[str, Item],
    load: Demand,
) -> Attachment:
    """The schedule as a report shows it, with the advisory check of the screws."""
    checks = [
        screw_row(
            program,
            first_frame(world).enter(zones[zone.zone]),
            zone.chosen.demand_psf,
            width,
            zone.chosen.spacing_in,
        )
        if zone.chosen
        else ScrewRow("")
        for zone in found.zones
    ]
    rows = tuple(row(zone, world, check) for zone, check in zip(found.zones, checks, strict=True))
    framing = text_of(first_frame(world).proposed.get("proposed.deck.type")) == "open framing"
    inward = inward_notes(rows, open_framing=framing)
    screws = screw_notes(zip((zone.zone for zone in found.zones), checks, strict=True))
    return Attachment(
        roof=roof,
        zones=rows,
        everywhere_in=found.everywhere_in,
        clips=found.clips,
        everywhere_clips=found.everywhere_clips,
        notes=(*count_notes(rows, found.notes, wind_of(load, roof)), *inward, *screws),
    )


def row(zone: ZoneAttachment, world: World, screws: ScrewRow) -> AttachmentRow:
    """One zone's row."""
    chosen = zone.chosen
    shown = chosen.shown if chosen is not None else None
    runs = shown.runs if shown is not None else ()
    inward = shown.inward if shown is not None else None
    variant = next((v for v in world.variants if v and same_zone(v, zone.zone)), next(iter(world.variants)))
    check = screws.check
    return AttachmentRow(
        zone=zone.zone,
        verdict=zone.verdict,
        proposed_in=inches_of(world.variants[variant].get(SPACING)),
        spacing_in=chosen.spacing_in if chosen else None,
        area_sqft=chosen.area_sqft if chosen else None,
        demand_psf=chosen.demand_psf if chosen else None,
        allowable_psf=chosen.allowable_psf if chosen else None,
        document=" and ".join(dict.fromkeys(run.document for run in runs)),
        run=" and ".join(run.run for run in runs),
        surface_sqft=zone.surface_sqft,
        clips=zone.clips,
        screws=zone.screws,
        inward=zone.inward,
        clip_load_lb=screws.load_lb,
        screw_capacity_lb=check.capacity_lb if check else None,
        message=zone.message,
        steps=screws.steps,
        inward_demand_psf=chosen.inward_demand_psf if chosen else None,
        inward_allowable_psf=inward.inward_psf if inward else None,
        inward_document=inward.document if inward else "",
        inward_run=inward.run if inward else "",
        screw_check=screws.verdict,
        screw_kind=check.governing if check else "",
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
