"""The attachment schedule: the widest clip spacing that can be built and that a test supports, zone by zone.

Spacing, effective wind area and demand are solved together: a wider clip spacing has a larger area, a smaller demand
and a smaller allowable.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Mapping, Sequence

from msgspec import Struct

from cleatmark.uplift.runs import SPACING_TOLERANCE, Shown, TestedRun, shown_at


class Demand(Struct, frozen=True):
    """What a zone asks for at an effective wind area, allowable-stress level, positive magnitudes.

    uplift_psf  None where it is refused, with the reason in `refused`; inward_psf likewise
    """

    uplift_psf: float | None
    inward_psf: float | None = None
    refused: str = ""
    source: str = ""


ZoneDemand = Callable[[str, float], Demand]
"""The demand of a zone at an effective wind area in sq ft."""


class Panel(Struct, frozen=True):
    """What is fastened: the panel's width, screws a clip."""

    width_in: float
    screws_per_clip: int | None = None


class Tried(Struct, frozen=True):
    """One buildable spacing tried in a zone. verdict: holds, does not hold, not shown; inward likewise.

    An inward pressure that the runs are known not to hold fails the spacing; one that no run speaks of does not.
    """

    spacing_in: float
    area_sqft: float
    demand_psf: float | None
    allowable_psf: float | None
    verdict: str
    shown: Shown | None = None
    inward_demand_psf: float | None = None
    refused: str = ""
    inward: str = "not shown"

    @property
    def ratio(self) -> float | None:
        if self.demand_psf is None or not self.allowable_psf:
            return None
        return self.demand_psf / self.allowable_psf


class ZoneAttachment(Struct, frozen=True):
    """One zone's attachment. `chosen` is the widest spacing that holds, None where none does.

    verdict    holds, does not hold, not shown
    inward     the inward capacity beside the demand: holds, does not hold, not shown
    clips      for the zone's surface, without waste and edges, None where its area is not known; screws likewise
    """

    zone: str
    verdict: str
    chosen: Tried | None
    tried: tuple[Tried, ...]
    inward: str
    surface_sqft: float | None
    clips: int | None
    screws: int | None
    message: str

    @property
    def interpolated(self) -> bool:
        return self.chosen is not None and self.chosen.shown is not None and self.chosen.shown.interpolated


class Schedule(Struct, frozen=True):
    """The zones' attachments, and beside them one spacing everywhere, as (spacing, clips); None where there is none."""

    zones: tuple[ZoneAttachment, ...]
    everywhere_in: float | None
    everywhere: tuple[Tried, ...]
    clips: int | None
    everywhere_clips: int | None
    notes: tuple[str, ...]


def buildable_spacings(
    runs: Sequence[TestedRun], *, supports_in: float | None = None, least_in: float = 6.0
) -> tuple[float, ...]:
    """Clip spacings that can be built, widest first, none beyond the widest tested.

    supports_in  spacing of purlins or deck ribs that clips must land on: whole multiples of it. Without it the clips
                 may stand anywhere on the deck, and the tested spacings themselves are offered.
    """
    widest = max((run.spacing_in for run in runs), default=0.0)
    if supports_in is None:
        return tuple(sorted({run.spacing_in for run in runs}, reverse=True))
    if not supports_in > 0:
        raise ValueError("supports are more than zero apart")
    count = math.floor(widest / supports_in + SPACING_TOLERANCE)
    found = (supports_in * number for number in range(count, 0, -1))
    return tuple(spacing for spacing in found if spacing >= least_in or spacing == supports_in)


def attachment(
    zones: Sequence[str],
    demand: ZoneDemand,
    panel: Panel,
    runs: Sequence[TestedRun],
    *,
    supports_in: float | None = None,
    surfaces: Mapping[str, float] | None = None,
) -> Schedule:
    """The schedule for the zones of one roof.

    demand       of a zone at an effective wind area; the area is the clip's own, its spacing times the panel's width
    runs         that cover the assembly apart from the clip spacing
    supports_in  spacing of purlins or ribs that clips must land on, None on a solid deck
    surfaces     sq ft along the slope by zone, for counts
    Raises ValueError where the panel has no width.
    """
    if not panel.width_in > 0:
        raise ValueError("the panel's width is more than zero")
    spacings = buildable_spacings(runs, supports_in=supports_in)
    areas = surfaces or {}
    rows = tuple(_zone(zone, demand, panel, runs, spacings, surface=areas.get(zone)) for zone in zones)
    everywhere = _everywhere(rows, spacings)
    same = tuple(item for row in rows for item in row.tried if item.spacing_in == everywhere)
    uniform = [_clips(row.surface_sqft, everywhere, panel) for row in rows] if everywhere else []
    notes = ["Clip counts are net of waste, edges and splices."]
    if any(row.interpolated for row in rows):
        notes.append("An allowable between two tested spacings is interpolated within one failure mode.")
    return Schedule(
        rows,
        everywhere,
        same,
        _sum([row.clips for row in rows]),
        _sum(uniform),
        tuple(notes),
    )


def _zone(
    zone: str,
    demand: ZoneDemand,
    panel: Panel,
    runs: Sequence[TestedRun],
    spacings: Sequence[float],
    *,
    surface: float | None,
) -> ZoneAttachment:
    tried = tuple(try_spacing(zone, demand, panel, runs, spacing) for spacing in spacings)
    chosen = next((item for item in tried if item.verdict == "holds"), None)
    clips = _clips(surface, chosen.spacing_in if chosen else None, panel)
    screws = clips * panel.screws_per_clip if clips is not None and panel.screws_per_clip else None
    verdict = "holds" if chosen else _worst(tried)
    inward = chosen.inward if chosen else "not shown"
    return ZoneAttachment(
        zone, verdict, chosen, tried, inward, surface, clips, screws, _message(zone, tried, chosen)
    )


def try_spacing(
    zone: str, demand: ZoneDemand, panel: Panel, runs: Sequence[TestedRun], spacing_in: float
) -> Tried:
    """One spacing in one zone: its area, the demand there, what the runs show."""
    area = spacing_in * panel.width_in / 144
    asked, shown = demand(zone, area), shown_at(runs, spacing_in)
    inward = _held(asked.inward_psf, shown.inward_psf if shown else None)
    uplift = _held(asked.uplift_psf, shown.allowable_psf if shown else None)
    return Tried(
        spacing_in,
        area,
        asked.uplift_psf,
        shown.allowable_psf if shown else None,
        "does not hold" if inward == "does not hold" else uplift,
        shown,
        asked.inward_psf,
        asked.refused,
        inward,
    )


def _held(demand: float | None, allowable: float | None) -> str:
    if demand is None or allowable is None:
        return "not shown"
    return "holds" if demand <= allowable else "does not hold"


def _worst(tried: Sequence[Tried]) -> str:
    shown = [item for item in tried if item.verdict != "not shown"]
    return "does not hold" if shown and len(shown) == len(tried) else "not shown"


def _message(zone: str, tried: Sequence[Tried], chosen: Tried | None) -> str:
    if chosen is not None and chosen.shown is not None:
        return (
            f"{_titled(zone)}: clips at {chosen.spacing_in:g} in, {chosen.area_sqft:.2f} sq ft: demand "
            f"{chosen.demand_psf:.1f} psf, allowable {chosen.allowable_psf:.1f} psf. {'; '.join(chosen.shown.steps)}."
            f"{_inward_text(chosen)}"
        )
    if not tried:
        return f"{_titled(zone)}: no covering run at a spacing that can be built."
    refused = next((item.refused for item in tried if item.refused), "")
    if refused:
        return f"{_titled(zone)}: no demand. {refused}"
    tightest = tried[-1]
    return (
        f"{_titled(zone)}: no buildable spacing holds. At {tightest.spacing_in:g} in, the tightest offered, the "
        f"demand is {tightest.demand_psf or 0:.1f} psf and the allowable {tightest.allowable_psf or 0:.1f} psf."
        f"{_inward_text(tightest)}"
    )


def _titled(zone: str) -> str:
    """The zone at the head of a sentence: "Zone 3", "Corner"."""
    return f"Zone {zone}" if zone[:1].isdigit() else zone[:1].upper() + zone[1:]


def _inward_text(tried: Tried) -> str:
    """The inward pressure beside what a run allows, "" where either is not known."""
    if tried.shown is None or tried.shown.inward_psf is None or tried.inward_demand_psf is None:
        return ""
    amounts = f"demand {tried.inward_demand_psf:.1f} psf, allowable {tried.shown.inward_psf:.1f} psf"
    return f" Inward: {amounts}, {tried.inward}."


def _everywhere(rows: Sequence[ZoneAttachment], spacings: Sequence[float]) -> float | None:
    """The widest spacing that holds in every zone."""
    for spacing in spacings:
        found = [item.verdict for row in rows for item in row.tried if item.spacing_in == spacing]
        if rows and found and all(verdict == "holds" for verdict in found):
            return spacing
    return None


def _clips(surface: float | None, spacing_in: float | None, panel: Panel) -> int | None:
    if surface is None or spacing_in is None:
        return None
    return math.ceil(surface * 144 / (spacing_in * panel.width_in) - SPACING_TOLERANCE)


def _sum(counts: Sequence[int | None]) -> int | None:
    known = [count for count in counts if count is not None]
    return sum(known) if counts and len(known) == len(counts) else None
