"""The coefficient of one zone at one area: which curve, how read, how sure. Parapets and hips change the zone."""

from __future__ import annotations

from msgspec import Struct

from cleatmark.wind.curves import Block, Curve, weakest
from cleatmark.wind.edition import Edition, walls
from cleatmark.wind.site import Site
from cleatmark.wind.steps import Step, figure, signed
from cleatmark.wind.velocity import Velocity

LOW_SLOPE = 7.0
LOW_SLOPE_ABOVE_60 = 10.0
"""Degrees up to which a parapet relieves the corners, by height class."""


class Basis(Struct, frozen=True):
    """What all zones of one roof rest on.

    above_60  whether the equation for h > 60 ft is used
    limit     a confidence that caps every coefficient, and why; "" where none does
    """

    site: Site
    edition: Edition
    block: Block
    velocity: Velocity
    gcpi: float
    above_60: bool
    limit: str = ""
    limit_why: str = ""

    @property
    def named(self) -> str:
        """The figure with its edition, or the user's block with its source."""
        if self.block.name:
            return f"{self.block.name} ({self.block.source}; {self.block.file})"
        return f"{self.edition.name}, {self.block.figure}"

    @property
    def slope(self) -> float:
        return self.site.slope or 0.0

    @property
    def parapet(self) -> bool:
        """Whether a parapet relieves zone 3 on this roof: high enough all round, and a low slope."""
        most = LOW_SLOPE_ABOVE_60 if self.above_60 else LOW_SLOPE
        lowest = any(span.above is None for span in self.block.spans)
        high = self.site.parapet is not None and self.site.parapet >= self.edition.parapet_ft - 1e-9
        return high and lowest and self.slope <= most + 1e-9


class Coefficient(Struct, frozen=True):
    """One GCp with its confidence and working. `gcp` is None where there is none to use."""

    gcp: float | None
    confidence: str
    steps: tuple[Step, ...] = ()
    why: str = ""


def capped(basis: Basis, confidence: str) -> str:
    """The confidence of a pressure: of its coefficient, of the velocity pressure, and of what limits the roof."""
    return weakest(confidence, basis.velocity.confidence, *((basis.limit,) if basis.limit else ()))


def suction(basis: Basis, zone: str, area: float) -> Coefficient:
    """The zone's coefficient of suction at an area in sq ft."""
    block, used, why = basis.block, zone, ""
    if basis.parapet and zone == "3":
        height = figure(basis.edition.parapet_ft)
        used, why = "2", f"as zone 2, behind a parapet at least {height} ft high all round"
    elif basis.site.shape == "hip" and zone in block.hip_take and basis.slope <= block.hip_to + 1e-9:
        used, why = block.hip_take[zone], block.hip_note
    steps = [Step(f"zone {zone}", "", why, basis.named)] if why else []
    curve = block.suction.get(used)
    confidence, because = block.suction_confidence(used, area)
    if curve is None:
        return Coefficient(None, confidence, why=because)
    steps.append(read_off("GCp", curve, area, f"{basis.named}, zone {used}"))
    return Coefficient(curve.at(area), confidence, tuple(steps), because)


def inward(basis: Basis, zone: str, area: float) -> Coefficient:
    """The zone's coefficient of pressure toward the roof; of a wall behind a parapet in zones 2 and 3."""
    block = basis.block
    confidence = block.inward_confidence or block.confidence
    if basis.parapet and zone in ("2", "3"):
        wall = walls(basis.edition.name, above_60=basis.above_60)
        gcp, toward = wall.at(area, basis.slope), wall.toward.at(area)
        numbers = f"{figure(toward, 3)} × {figure(wall.reduced)}" if gcp != toward else ""
        section = f"{basis.edition.name}, {wall.figure}, {figure(area, 2)} sq ft"
        step = Step("GCp, inward, as wall zones 4 and 5 behind a parapet", numbers, signed(gcp, 3), section)
        return Coefficient(gcp, weakest(confidence, wall.confidence), (step,))
    if block.no_inward:
        step = Step("GCp, inward", "", "none in the figure: the minimum governs", basis.named)
        return Coefficient(None, confidence, (step,))
    curve = block.inward.get(zone)
    if curve is None:
        return Coefficient(None, confidence)
    return Coefficient(curve.at(area), confidence, (read_off("GCp, inward", curve, area, basis.named),))


def read_off(symbols: str, curve: Curve, area: float, section: str) -> Step:
    """How a coefficient is read off its curve."""
    gcp = signed(curve.at(area), 3)
    between = curve.between(area)
    where = f"{section}, {figure(area, 2)} sq ft"
    if between is None:
        return Step(symbols, "", gcp, where)
    (a1, g1), (a2, g2) = between
    part = f"log10({figure(area, 2)}/{figure(a1)})/log10({figure(a2)}/{figure(a1)})"
    sign = "+" if g2 >= g1 else "-"
    return Step(symbols, f"{figure(g1, 3)} {sign} {figure(abs(g2 - g1), 3)} × {part}", gcp, where)
