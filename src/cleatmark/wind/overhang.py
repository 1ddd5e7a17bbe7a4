"""Overhangs, where the figure has them: net of the top and the bottom face, or summed from roof and wall."""

from __future__ import annotations

from msgspec.structs import replace

from cleatmark.wind.coefficient import Basis, capped, read_off, suction
from cleatmark.wind.edition import walls
from cleatmark.wind.pressure import VERDICT, WAYS_OUT, ZonePressure, net_pressure, with_minimum
from cleatmark.wind.steps import Step, figure, signed

ROOF_AND_WALL = "ASCE 7-22"
"""The edition without overhang curves: the roof's GCp on top and the wall's below, with GCpi (Eq. 30.7-1)."""


def overhang_pressure(basis: Basis, zone: str, area: float) -> ZonePressure:
    """Net suction on an overhang in a zone, at both levels; refused where the figure's values are not on file."""
    if basis.edition.name == ROOF_AND_WALL and not basis.block.overhang and not basis.block.name:
        return _summed(basis, zone, area)
    curve = basis.block.overhang.get(zone)
    confidence = capped(basis, basis.block.overhang_confidence or basis.block.confidence)
    row = ZonePressure(zone, area, f"{basis.named}, overhang", confidence)
    if curve is None:
        return _refused(replace(row, confidence="none"))
    if confidence not in VERDICT:
        return _refused(row)
    gcp = curve.at(area)
    net = basis.velocity.qh * (basis.edition.kd if basis.edition.kd_in_pressure else 1.0) * gcp
    step = Step(
        "p = qh GCp, net of both faces, no GCpi",
        f"{figure(basis.velocity.qh, 2)} × {signed(gcp, 3)}",
        f"{signed(net, 2)} psf",
        basis.named,
    )
    return with_minimum(basis, row, gcp, net, (read_off("GCp", curve, area, row.figure), step))


def _summed(basis: Basis, zone: str, area: float) -> ZonePressure:
    roof, wall = suction(basis, zone, area), walls(basis.edition.name, above_60=basis.above_60)
    confidence = capped(basis, roof.confidence)
    row = ZonePressure(zone, area, f"{basis.named} and {wall.figure}, Eq. 30.7-1", confidence)
    if roof.gcp is None or confidence not in VERDICT:
        return _refused(row)
    below = wall.at(area, basis.slope)
    gcp = roof.gcp - below
    total = Step(
        "GCp of the overhang = roof - wall below",
        f"{signed(roof.gcp, 3)} - {figure(below, 3)}",
        signed(gcp, 3),
        row.figure,
    )
    net, step = net_pressure(basis, gcp, -1)
    return with_minimum(basis, row, gcp, net, (*roof.steps, total, step))


def _refused(row: ZonePressure) -> ZonePressure:
    grade = "not on file"
    if row.confidence != "none":
        grade = f"of {row.confidence} confidence, too little for a verdict"
    text = f"zone {row.zone}, overhang: the coefficients of {row.figure}, are {grade}. {WAYS_OUT}"
    return replace(row, refused=text)
