"""What each roof zone has to carry: pressures stated by the specification or the job, else worked out by ASCE 7."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.facts import Citation, Fact, Stated
from cleatmark.fields import FieldBook
from cleatmark.job.model import Job
from cleatmark.language.world import Item
from cleatmark.problems import InputError
from cleatmark.review.beside import LEAST_AREA, compared
from cleatmark.review.model import Advice, Plan
from cleatmark.review.stated_zones import stated_zones
from cleatmark.review.world import in_scope, text_of
from cleatmark.submittal.model import Submittal
from cleatmark.units import Quantity, to
from cleatmark.wind.advice import WindAdvice
from cleatmark.wind.area import clip_area
from cleatmark.wind.blocks import read_own
from cleatmark.wind.curves import Block
from cleatmark.wind.pressure import ZonePressure
from cleatmark.wind.report import RoofWind, wind_report
from cleatmark.zones import same_zone


class Demand(Struct, frozen=True, eq=False):
    """The zones of the reviewed roof, with what the wind computation beside them said."""

    zones: tuple[Item, ...]
    winds: tuple[RoofWind, ...] = ()
    governs: str = "nothing"
    notices: tuple[str, ...] = ()
    advice: tuple[Advice, ...] = ()


def demand(
    job: Job, submittal: Submittal, stated: Iterable[Stated], book: FieldBook, *, drawn: bool = True
) -> Demand:
    """Stated pressures govern; ASCE 7 from the job file stands beside them, and alone where nothing is stated.

    drawn  whether the zones are laid out in plan
    """
    within = [item for item in stated if in_scope(item, submittal)]
    zones = stated_zones(job, within, submittal)
    winds = roof_winds(job, submittal, book, drawn=drawn)
    advice = tuple(advice_of(item, job) for wind in winds for item in wind.advice)
    if zones:
        beside = tuple(note for wind in winds for note in compared(zones, wind, job, book))
        return Demand(zones, winds, "stated", (), (*advice, *beside))
    computed = tuple(zone for wind in winds for zone in computed_zones(job, wind, submittal))
    notices = tuple(dict.fromkeys(text for wind in winds for text in wind.notices))
    return Demand(computed, winds, "computed" if computed else "nothing", notices, advice)


# Computed ---------------------------------------------------------------------------------------------------------


def roof_winds(
    job: Job, submittal: Submittal, book: FieldBook, *, drawn: bool = True
) -> tuple[RoofWind, ...]:
    """The wind report of each roof that the submittal is for; none where the job says nothing of the wind."""
    if not any(path.startswith("job.wind.") for path in job.facts):
        return ()
    wanted = text_of(submittal.facts.get("submittal.roof"))
    own = own_blocks(job)
    roofs = [roof for roof in job.roofs if not wanted or roof.name == wanted] or list(job.roofs)
    areas = [LEAST_AREA]
    return tuple(
        wind_report(
            job.for_roof(roof.name),
            areas,
            roof=roof.name,
            book=book,
            own=own,
            place=roof.place,
            drawn=drawn,
        )
        for roof in roofs
    )


def own_blocks(job: Job) -> tuple[Block, ...]:
    """Coefficient blocks that the job supplies, with their name and source."""
    named = job.facts.get("job.wind.coefficients")
    if named is None:
        return ()
    blocks, problems = read_own(Path(job.file).parent / named.text)
    if problems:
        raise InputError(problems)
    return blocks


def clip_area_sqft(submittal: Submittal, zone: str) -> float:
    """The clip's own area in a zone, its spacing times the panel's width; the least area where either is open."""
    name = next((own for own in submittal.zones if same_zone(own, zone)), "")
    facts = submittal.in_zone(name) if name else submittal.proposed
    spacing, width = facts.get("proposed.clip.spacing"), facts.get("proposed.panel.width")
    if spacing is None or width is None:
        return LEAST_AREA
    a, b = spacing.value, width.value
    if not isinstance(a, Quantity) or not isinstance(b, Quantity) or a.value <= 0 or b.value <= 0:
        return LEAST_AREA
    return clip_area(float(to(a, "ft")), float(to(b, "ft"))).sqft


def at_area(wind: RoofWind, zone: str, area: float) -> ZonePressure | None:
    """A zone's pressure at an area, told at the least area where the coefficient is the same below it."""
    own, least = wind.zone(zone, area), wind.zone(zone, LEAST_AREA)
    if own is None or least is None or area >= LEAST_AREA:
        return own
    return least if (own.gcp, own.confidence) == (least.gcp, least.confidence) else own


def computed_zones(job: Job, wind: RoofWind, submittal: Submittal) -> tuple[Item, ...]:
    """The roof's zones by the wind report, at the clip's own area. A refused zone has no pressure and says why."""
    out: list[Item] = []
    named = wind.roof if len(job.roofs) > 1 else ""
    for row in wind.zones:
        name = f"Zone {row.zone}"
        area = clip_area_sqft(submittal, name)
        found = row if wind.basis is None else at_area(wind, row.zone, area) or row
        standard = "" if found.figure.startswith(wind.standard) else wind.standard
        where = ", ".join(part for part in (standard, found.figure, name) if part)
        steps = tuple(str(step) for step in found.steps)
        citation = Citation("computed", where, steps[-1] if steps else found.refused)
        cited = (citation, *inputs_cited(job, wind))
        size = Quantity(
            "area", Fraction(found.area_sqft).limit_denominator(1000), "sq ft", f"{found.area_sqft:g} sq ft"
        )
        facts = {
            "zone.name": Fact("zone.name", name, name, (citation,)),
            "zone.area": Fact("zone.area", size, size.text, (citation,)),
        }
        if named:
            facts["zone.roof"] = Fact("zone.roof", named, named, (citation,))
        if found.refused or found.allowable_psf is None:
            reason = found.refused or "not worked out"
            facts["zone.required?"] = Fact("zone.required?", reason, reason, (citation,))
        else:
            value = Quantity("pressure", Fraction(abs(found.allowable_psf)), "psf", "", "", "allowable")
            value = replace(value, text=f"{abs(found.allowable_psf):.1f} psf")
            facts["zone.required"] = Fact("zone.required", value, value.text, cited)
        facts["zone.steps"] = Fact("zone.steps", steps, "; ".join(steps), (citation,))
        label = f"{named}, {name}" if named else name
        out.append(Item("zone", label, label, facts, citation))
    return tuple(out)


def inputs_cited(job: Job, wind: RoofWind) -> tuple[Citation, ...]:
    """Where the inputs of the computation stand."""
    facts = job.for_roof(wind.roof)
    paths = [item.path for item in wind.inputs if item.path in facts]
    return tuple(dict.fromkeys(citation for path in paths for citation in facts[path].citations))


def advice_of(item: WindAdvice, job: Job) -> Advice:
    """A question on an input of the wind computation, with where the input stands."""
    facts = [job.facts[path] for path in item.fields if path in job.facts]
    cited = tuple(citation for fact in facts for citation in fact.citations)
    return Advice(id=item.id, message=item.message, ask=item.ask, question=item.question, citations=cited)


# Plans ------------------------------------------------------------------------------------------------------------


def plans(winds: Iterable[RoofWind], units: str) -> tuple[Plan, ...]:
    """The roof plans with their zones, for reports on paper; where none can be drawn, why."""
    from cleatmark.wind.plan import plan_drawing

    out = []
    for wind in winds:
        drawing = plan_drawing(wind, units=units)
        if drawing is not None:
            out.append(Plan(drawing.name, drawing.alt, drawing.svg, drawing.png, wind.roof))
        elif wind.basis is not None and wind.layout_notes:
            name = f"Roof zones, {wind.roof}" if wind.roof != "roof" else "Roof zones"
            out.append(Plan(name, f"No plan is drawn. {' '.join(wind.layout_notes)}", roof=wind.roof))
    return tuple(out)
