"""The pressures that the specification or the job file states, as zones of the roof. Rules carry them as positive
magnitudes at allowable-stress level."""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.facts import Citation, Fact, Stated
from cleatmark.job.model import Job, StatedPressures
from cleatmark.language.world import Item
from cleatmark.review.world import text_of
from cleatmark.submittal.model import Submittal
from cleatmark.units import ALLOWABLE_FROM_STRENGTH, Quantity, show
from cleatmark.zones import zone_key

PRESSURE = "uplift.pressure"
WHOLE_ROOF = "whole roof"
WHY_NOT = "?"
"""Behind a path: why the fact is not there."""
INWARD = "zone.inward"
"""Stated pressure toward the roof: beside the uplift in the zone's facts, where rules do not read it."""


class Kept(Struct, frozen=True):
    """One stated pressure of a zone. `open` where the specification contradicts itself on it."""

    zone: Item
    open: bool = False


Found = dict[tuple[str, str], list[Kept]]
"""By roof and zone, what is stated for the smallest effective wind area."""


def stated_zones(job: Job, stated: Iterable[Stated], submittal: Submittal) -> tuple[Item, ...]:
    """The roof's zones with their governing uplift: the specification's pressures, or those the job file states.

    Where one zone has pressures for several effective wind areas, the smallest area counts: a clip's own area is
    below it, and pressure grows as the area shrinks. Pressures are positive magnitudes at allowable-stress level. Of
    two for the same zone and area the larger governs; where they contradict one another, the zone has none and says so.
    """
    roof = text_of(submittal.facts.get("submittal.roof"))
    found: Found = {}
    toward: Found = {}
    for item in stated:
        if item.subject == PRESSURE and item.values and not {"reference only", "optional"} & set(item.flags):
            value = item.values[0]
            if isinstance(value, Quantity) and value.value:
                kept = Kept(_from_spec(item, value), "conflict" in item.flags)
                _keep(found if value.value < 0 else toward, kept)
    if not found:
        toward.clear()
        for pressures in job.pressures:
            if not pressures.roof or not roof or pressures.roof == roof:
                for into, zones in ((found, pressures.uplift), (toward, pressures.inward)):
                    for zone, fact in zones.items():
                        own = _from_job(zone, fact, pressures)
                        if own is not None:
                            _keep(into, Kept(own, open=True))
    return tuple(_with_inward(key, _governing(kept), toward) for key, kept in found.items())


def _keep(found: Found, kept: Kept) -> None:
    key = (text_of(kept.zone.facts.get("zone.roof")), zone_key(kept.zone.facts["zone.name"].text))
    others = found.setdefault(key, [])
    if others and _area(kept.zone) < _area(others[0].zone):
        others.clear()
    if not others or _area(kept.zone) == _area(others[0].zone):
        others.append(kept)


def _governing(kept: list[Kept]) -> Item:
    """The zone with the larger pressure, or with none where what is stated contradicts itself."""
    largest = max(kept, key=lambda one: _required(one.zone)).zone
    if len({_required(one.zone) for one in kept}) == 1 or not any(one.open for one in kept):
        return largest
    parts = [one.zone.facts["zone.required"] for one in kept]
    reason = "conflict: " + " and ".join(f"{fact.text} ({_where(fact)})" for fact in parts)
    cited = tuple(dict.fromkeys(citation for fact in parts for citation in fact.citations))
    facts = {path: fact for path, fact in largest.facts.items() if path != "zone.required"}
    facts[f"zone.required{WHY_NOT}"] = Fact(f"zone.required{WHY_NOT}", reason, reason, cited)
    return Item("zone", largest.id, largest.label, facts, largest.citation)


def _where(fact: Fact) -> str:
    return "; ".join(
        dict.fromkeys(citation.where for citation in fact.citations if citation.kind != "computed")
    )


def _required(zone: Item) -> Fraction:
    value = zone.facts["zone.required"].value
    return value.value if isinstance(value, Quantity) else Fraction(0)


def _with_inward(key: tuple[str, str], zone: Item, toward: Found) -> Item:
    """The zone with the inward pressure stated for it, or for the whole of its roof: the larger of several."""
    roof, _ = key
    places = (key, ("", key[1]), (roof, zone_key(WHOLE_ROOF)), ("", zone_key(WHOLE_ROOF)))
    own = next((toward[place] for place in places if place in toward), None)
    if own is None:
        return zone
    fact = max((kept.zone for kept in own), key=_required).facts["zone.required"]
    facts = {**zone.facts, INWARD: Fact(INWARD, fact.value, fact.text, fact.citations)}
    return Item("zone", zone.id, zone.label, facts, zone.citation)


def _area(zone: Item) -> Fraction:
    fact = zone.facts.get("zone.area")
    return fact.value.value if fact is not None and isinstance(fact.value, Quantity) else Fraction(0)


TO_ALLOWABLE = "0.6 W, ASCE 7, 2.4.1"


def magnitude(fact: Fact, value: Quantity, level: str) -> Fact:
    """A pressure as rules carry it: a positive magnitude at allowable-stress level. A strength-level pressure is
    multiplied by 0.6 and says so; one whose level nobody states keeps none, and both readings are tried."""
    positive = replace(value, value=abs(value.value), unit="psf", level=level, text="")
    positive = replace(positive, text=show(positive))
    if level != "strength":
        return Fact("zone.required", positive, positive.text, fact.citations)
    allowable = replace(positive, value=positive.value * ALLOWABLE_FROM_STRENGTH, level="allowable", text="")
    allowable = replace(allowable, text=show(allowable))
    working = f"0.6 x {positive.text} (strength level) = {allowable.text} (allowable-stress level)"
    cited = (*fact.citations, Citation("computed", working, TO_ALLOWABLE))
    return Fact("zone.required", allowable, allowable.text, cited)


def zone_item(
    name: str,
    roof: str,
    area: Quantity | None,
    required: Fact,
    citation: Citation,
    value: Quantity,
    level: str,
) -> Item:
    """A zone of the demand."""
    facts = {
        "zone.name": Fact("zone.name", name, name, (citation,)),
        "zone.required": magnitude(required, value, level),
    }
    if roof:
        facts["zone.roof"] = Fact("zone.roof", roof, roof, (citation,))
    if area is not None:
        facts["zone.area"] = Fact("zone.area", area, area.text, (citation,))
    label = f"{roof}, {name}" if roof else name
    return Item("zone", label, label, facts, citation)


def _from_spec(item: Stated, value: Quantity) -> Item:
    fact = Fact("zone.required", value, value.text, (item.citation, *item.also))
    name = item.zone or WHOLE_ROOF
    return zone_item(name, item.roof, item.area, fact, item.citation, value, value.level or item.level)


def _from_job(zone: str, fact: Fact, pressures: StatedPressures) -> Item | None:
    value = fact.value
    if not isinstance(value, Quantity):
        return None
    level = value.level or pressures.level
    return zone_item(zone, pressures.roof, pressures.area, fact, pressures.citation, value, level)
