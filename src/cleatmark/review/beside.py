"""Stated pressures beside those that ASCE 7 gives from the job file: the difference, and what may explain it."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from msgspec import Struct

from cleatmark.facts import Fact
from cleatmark.fields import FieldBook
from cleatmark.job.model import Job
from cleatmark.language.world import Item
from cleatmark.review.model import Advice
from cleatmark.review.world import text_of
from cleatmark.units import Quantity
from cleatmark.wind.pressure import ZonePressure
from cleatmark.wind.report import RoofWind, wind_report
from cleatmark.zones import same_zone

LEAST_AREA = 10.0
"""Sq ft at which a zone is told where the clip's own area is smaller: nearly all curves are flat below it."""
AGREE = Fraction(1, 20)
"""Within a twentieth, a stated pressure and ours agree."""


class Apart(Struct, frozen=True):
    """A stated pressure that differs from ours (psf, allowable level, at an area in sq ft), and what may explain it."""

    zone: Item
    stated: Fact
    stated_psf: float
    ours_psf: float
    area_sqft: float
    reasons: tuple[str, ...]


def compared(zones: Iterable[Item], wind: RoofWind, job: Job, book: FieldBook) -> tuple[Advice, ...]:
    """Stated pressures beside ours: the difference and its likely reason, as advice. Nothing is averaged.

    A reason that fits every zone that differs goes before those that fit some.
    """
    found = [one for zone in zones if (one := apart(zone, wind, job, book)) is not None]
    everywhere = [
        reason
        for reason in (found[0].reasons if len(found) > 1 else ())
        if all(reason in other.reasons for other in found)
    ]
    return tuple(told_apart(one, wind, everywhere) for one in found)


def apart(zone: Item, wind: RoofWind, job: Job, book: FieldBook) -> Apart | None:
    """A zone whose stated pressure is not ours; None where they agree or one of them is not known."""
    name, required = zone.facts["zone.name"].text, zone.facts.get("zone.required")
    if required is None or not isinstance(required.value, Quantity):
        return None
    if zone.facts.get("zone.roof") and text_of(zone.facts["zone.roof"]) != wind.roof:
        return None
    area = zone.facts.get("zone.area")
    size = float(area.value.value) if area is not None and isinstance(area.value, Quantity) else LEAST_AREA
    ours, stated = governing(wind, name, size), float(required.value.value)
    if ours is None or abs(stated - ours) <= float(AGREE) * max(stated, ours):
        return None
    return Apart(zone, required, stated, ours, size, likely_reasons(stated, name, size, wind, job, book))


def told_apart(one: Apart, wind: RoofWind, everywhere: Sequence[str]) -> Advice:
    """The difference in one zone as advice, with a question that can be sent."""
    name, share = one.zone.facts["zone.name"].text, (one.stated_psf - one.ours_psf) / one.ours_psf * 100
    if everywhere:
        reason = f"Likely reason: {' or '.join(everywhere)}; it agrees in every zone that differs."
    elif len(one.reasons) > 1:
        reason = f"Likely reason, one of: {'; '.join(one.reasons)}."
    elif one.reasons:
        reason = f"Likely reason: {one.reasons[0]}."
    else:
        reason = "No single change of edition, area, enclosure, exposure or level explains it."
    message = (
        f"{one.zone.citation.where} states {one.stated.text} for {name}; {wind.standard} from the job file gives "
        f"{one.ours_psf:.1f} psf at allowable-stress level and {one.area_sqft:g} sq ft, so the stated value is "
        f"{abs(share):.0f} % {'higher' if share > 0 else 'lower'}. {reason}"
    )
    stands = f"{one.stated.text} is stated, {one.ours_psf:.1f} psf is worked out by {wind.standard}"
    question = (
        f"Confirm the design uplift pressure of {name}: {stands}. {reason if one.reasons else ''}".strip()
    )
    return Advice(
        "stated_against_computed",
        message,
        ask="designer",
        question=question,
        citations=(one.zone.citation,),
    )


def governing(wind: RoofWind, name: str, area: float) -> float | None:
    """The largest allowable-level uplift of the zones that answer to a name; None where one of them is refused."""
    rows = _answering(wind, name, area)
    if not rows or any(row.refused or row.allowable_psf is None for row in rows):
        return None
    return max(abs(row.allowable_psf) for row in rows if row.allowable_psf is not None)


def governing_inward(wind: RoofWind, name: str, area: float) -> float | None:
    """The largest allowable-level inward pressure of the zones that answer to a name; None where one is refused."""
    rows = _answering(wind, name, area)
    found = [None if row.inward_refused else row.inward_allowable_psf for row in rows]
    known = [value for value in found if value is not None]
    return max(known) if known and len(known) == len(found) else None


def _answering(wind: RoofWind, name: str, area: float) -> list[ZonePressure]:
    """The zones that answer to a name, at an area in sq ft; worked out only where they are not reported at it."""
    return [
        row if row.area_sqft == area else wind.zone(row.zone, area) or row
        for row in wind.zones
        if same_zone(f"Zone {row.zone}", name)
    ]


CLOSE = 0.03
"""So near to a stated value that what was changed for it may be its reason."""


def likely_reasons(
    stated: float, name: str, area: float, wind: RoofWind, job: Job, book: FieldBook
) -> tuple[str, ...]:
    """The single changes of ours that would each give the stated value, found by working it out again."""
    facts = dict(job.for_roof(wind.roof))
    ours = governing(wind, name, area)
    found: list[str] = []
    if _close(stated * 0.6, ours):
        found.append("strength level (times 0.6 it agrees)")
    if _close(stated, None if ours is None else ours * 0.6):
        found.append("0.6 taken twice (it is 0.6 of ours)")

    def tried(path: str, words: Sequence[str], what: str) -> None:
        for word in words:
            if word == text_of(facts.get(path)):
                continue
            other = wind_report(
                {**facts, path: Fact(path, word, word, ())}, [area], roof=wind.roof, book=book, drawn=False
            )
            if _close(stated, governing(other, name, area)):
                found.append(f"{what} {word}")

    tried("job.wind.standard", ("ASCE 7-10", "ASCE 7-16", "ASCE 7-22"), "the edition")
    for size in AREAS:
        if size != area and _close(stated, governing(wind, name, size)):
            found.append(f"an effective wind area of {size:g} sq ft")
    tried("job.wind.enclosure", ("partially enclosed", "enclosed", "open"), "the enclosure")
    tried("job.wind.exposure", ("B", "C", "D"), "Exposure")
    return tuple(found)


AREAS = (10.0, 20.0, 50.0, 100.0, 200.0, 500.0)
"""Sq ft at which design criteria are usually printed."""


def _close(stated: float, value: float | None) -> bool:
    return value is not None and abs(stated - value) <= CLOSE * value
