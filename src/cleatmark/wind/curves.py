"""External pressure coefficients by effective wind area, and how sure we are of them."""

from __future__ import annotations

import math
from bisect import bisect_left

from msgspec import Struct

CONFIDENCES = ("none", "low", "medium", "high", "supplied")
"""From what is not known to what may bear a verdict. `supplied` is the user's own, cited as theirs."""

EDGE = 1e-9
"""Degrees within which a slope is on the edge of its class."""

ZONES = ("1'", "1", "2", "2'", "2e", "2n", "2r", "3", "3'", "3e", "3r")
"""Roof zone names of all editions, from the field to the corners."""


LAYOUTS = (
    "strips and squares",
    "ridge strips and squares",
    "strips and legs",
    "by height",
    "strips, corners not known",
    "not known",
)
"""How a figure draws its zones. In the last two something of it is not on file, and is not made up."""


def weakest(*confidences: str) -> str:
    """The confidence of what rests on all of these."""
    return min(confidences, key=CONFIDENCES.index)


class Curve(Struct, frozen=True):
    """GCp by effective wind area (sq ft), areas ascending: constant outside, linear in log10(area) between."""

    points: tuple[tuple[float, float], ...]

    def at(self, area: float) -> float:
        """GCp at an area in sq ft. Raises ValueError where the area is not positive."""
        if not area > 0:
            raise ValueError(f"an effective wind area is positive, and {area} sq ft is not")
        first, last = self.points[0], self.points[-1]
        if area <= first[0]:
            return first[1]
        if area >= last[0]:
            return last[1]
        after = bisect_left(self.points, (area,))
        (a1, g1), (a2, g2) = self.points[after - 1], self.points[after]
        if area == a2:
            return g2
        return g1 + (g2 - g1) * math.log10(area / a1) / math.log10(a2 / a1)

    def between(self, area: float) -> tuple[tuple[float, float], tuple[float, float]] | None:
        """The two points that an area is interpolated between, None where GCp is a point's own."""
        if area <= self.points[0][0] or area >= self.points[-1][0]:
            return None
        after = bisect_left(self.points, (area,))
        return None if self.points[after][0] == area else (self.points[after - 1], self.points[after])


class Confidence(Struct, frozen=True):
    """A confidence that holds for some zones' suction within a range of areas, in sq ft.

    `above` is exclusive, `least` and `most` are inclusive.
    """

    zones: tuple[str, ...]
    confidence: str
    because: str
    least: float = 0.0
    above: float = 0.0
    most: float = math.inf

    def covers(self, zone: str, area: float) -> bool:
        return zone in self.zones and self.least <= area <= self.most and area > self.above


class Span(Struct, frozen=True):
    """Roofs of some shapes within a range of slopes, degrees: open below, closed above. `above` None is from 0."""

    shapes: tuple[str, ...]
    to: float
    above: float | None = None

    def holds(self, shape: str, slope: float) -> bool:
        return (
            shape in self.shapes
            and slope <= self.to + EDGE
            and (self.above is None or slope > self.above + EDGE)
        )


class Block(Struct, frozen=True):
    """The coefficients of one figure.

    spans     the roofs it is for
    above_60  whether it is for mean roof heights above 60 ft
    suction   curves by zone; inward likewise, empty where the figure has none; overhang net of both faces
    zones     the figure's zones, also where no curve is known
    hip_take  zones that a hip roof up to `hip_to` degrees takes from another: {"3": "2"}
    h_over_b  up to which h/B the curves are known, and the confidence beyond
    no_inward whether the figure has no inward coefficient, so that the minimum pressure governs
    name      of a block that the user supplies, and the file it stands in
    layout    how the figure draws its zones, one of LAYOUTS
    """

    id: str
    edition: str
    figure: str
    spans: tuple[Span, ...]
    above_60: bool
    zones: tuple[str, ...]
    source: str
    confidence: str
    suction: dict[str, Curve] = {}
    inward: dict[str, Curve] = {}
    overhang: dict[str, Curve] = {}
    inward_confidence: str = ""
    overhang_confidence: str = ""
    by_zone: tuple[Confidence, ...] = ()
    enclosures: tuple[str, ...] = ("enclosed", "partially enclosed", "partially open")
    hip_take: dict[str, str] = {}
    hip_to: float = 0.0
    hip_note: str = ""
    h_over_b: tuple[float, str] | None = None
    no_inward: bool = False
    name: str = ""
    file: str = ""
    layout: str = "not known"

    def holds(self, shape: str, slope: float) -> bool:
        return any(span.holds(shape, slope) for span in self.spans)

    def suction_confidence(self, zone: str, area: float) -> tuple[str, str]:
        """The confidence in a zone's suction at an area, and why where it differs from the block's."""
        for entry in self.by_zone:
            if entry.covers(zone, area):
                return entry.confidence, entry.because
        return self.confidence, ""
