"""The pressure of one roof zone at one effective wind area, with its working, or the refusal of it."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.wind.coefficient import Basis, Coefficient, capped, inward, suction
from cleatmark.wind.steps import Step, figure, fixed, signed

VERDICT = ("medium", "high", "supplied")
"""Confidences on which a verdict may rest; medium with a notice."""

WAYS_OUT = (
    "Two ways out: state the sealed design pressures in the job file, under pressures, with their source; or supply "
    "the figure's coefficients in a file of your own, named under wind as coefficients, with a name and a source."
)


class ZonePressure(Struct, frozen=True):
    """One zone at one effective wind area. Suction is negative; strength and allowable are levels, never mixed.

    gcp                      of suction; inward_gcp of pressure toward the roof
    net_psf, inward_net_psf  strength level, before the minimum is applied
    refused, inward_refused  why there is no pressure, and the ways out; "" where there is one
    confirm, inward_confirm  whether the coefficient is to be confirmed in its figure first
    """

    zone: str
    area_sqft: float
    figure: str
    confidence: str
    gcp: float | None = None
    net_psf: float | None = None
    strength_psf: float | None = None
    allowable_psf: float | None = None
    inward_confidence: str = "none"
    inward_gcp: float | None = None
    inward_net_psf: float | None = None
    inward_strength_psf: float | None = None
    inward_allowable_psf: float | None = None
    refused: str = ""
    inward_refused: str = ""
    confirm: bool = False
    inward_confirm: bool = False
    steps: tuple[Step, ...] = ()


def zone_pressure(basis: Basis, zone: str, area: float) -> ZonePressure:
    """The zone's pressures at an effective wind area in sq ft. The minimum is applied last, as its own step.

    Suction and inward pressure are refused apart: one may be known where the other is not.
    """
    out, toward = suction(basis, zone, area), inward(basis, zone, area)
    row = ZonePressure(
        zone,
        area,
        basis.named,
        capped(basis, out.confidence),
        inward_confidence=capped(basis, toward.confidence),
    )
    if row.confidence in VERDICT and out.gcp is not None:
        net, strength, allowable, worked = _levels(basis, out.gcp, -1)
        row = replace(
            row,
            gcp=out.gcp,
            net_psf=net,
            strength_psf=strength,
            allowable_psf=allowable,
            confirm=out.confidence == "medium",
            steps=(*row.steps, *out.steps, *worked),
        )
    else:
        row = replace(row, refused=_refusal(basis, zone, area, "suction", out, row.confidence))
    if row.inward_confidence in VERDICT and (toward.gcp is not None or basis.block.no_inward):
        net, strength, allowable, worked = _levels(basis, toward.gcp, 1)
        return replace(
            row,
            inward_gcp=toward.gcp,
            inward_net_psf=net,
            inward_strength_psf=strength,
            inward_allowable_psf=allowable,
            inward_confirm=toward.confidence == "medium",
            steps=(*row.steps, *toward.steps, *worked),
        )
    return replace(row, inward_refused=_refusal(basis, zone, area, "inward", toward, row.inward_confidence))


def net_pressure(basis: Basis, gcp: float, sign: int) -> tuple[float, Step]:
    """p in psf at strength level before the minimum. The internal pressure adds to the case.

    sign  -1 for suction, 1 for pressure toward the roof
    """
    edition, qh = basis.edition, basis.velocity.qh
    kd = edition.kd if edition.kd_in_pressure else 1.0
    internal = -sign * basis.gcpi
    net = qh * kd * (gcp - internal)
    shown = f"{figure(qh, 2)} × " + (f"{figure(kd)} × " if edition.kd_in_pressure else "")
    shown += f"({signed(gcp, 3)} - ({signed(internal, 2)}))"
    equation = edition.equation_above_60 if basis.above_60 else edition.equation_to_60
    section = f"{equation}; GCpi by {edition.gcpi_section}, {basis.site.enclosure}"
    return net, Step(edition.pressure_symbols, shown, f"{signed(net, 2)} psf", section)


def with_minimum(
    basis: Basis, row: ZonePressure, gcp: float, net: float, steps: tuple[Step, ...]
) -> ZonePressure:
    """The row with a suction at both levels, the minimum applied to it last."""
    strength, allowable, worked = _least(basis, net, -1)
    return replace(
        row,
        gcp=gcp,
        net_psf=net,
        strength_psf=strength,
        allowable_psf=allowable,
        confirm=row.confidence == "medium",
        steps=(*steps, *worked),
    )


def _levels(
    basis: Basis, gcp: float | None, sign: int
) -> tuple[float | None, float, float, tuple[Step, ...]]:
    """The net pressure before the minimum, strength and allowable level with it, and the working."""
    if gcp is None:
        strength, allowable, worked = _least(basis, None, sign)
        return None, strength, allowable, worked
    net, step = net_pressure(basis, gcp, sign)
    strength, allowable, worked = _least(basis, net, sign)
    return net, strength, allowable, (step, *worked)


def _least(basis: Basis, net: float | None, sign: int) -> tuple[float, float, tuple[Step, ...]]:
    """Strength and allowable level with the minimum pressure applied, and the two steps."""
    edition, word = basis.edition, "suction" if sign < 0 else "inward"
    least = edition.minimum_psf
    governs = net is None or net * sign < least
    strength = sign * least if net is None or governs else net
    stands = f"{signed(strength, 2)} psf"
    outcome = f"governs: {stands}" if governs else f"does not govern: {stands} stands"
    allowable = edition.allowable * strength
    steps = (
        Step(f"{word}: the minimum of {figure(least)} psf {outcome}", "", "", edition.minimum_section),
        Step(
            f"{word}: allowable = {edition.allowable:g} × strength",
            f"{edition.allowable:g} × {fixed(strength, 2)}",
            f"{signed(allowable, 2)} psf",
            edition.allowable_section,
        ),
    )
    return strength, allowable, steps


def _refusal(basis: Basis, zone: str, area: float, case: str, found: Coefficient, confidence: str) -> str:
    at = f"zone {zone}, {case}, {figure(area, 2)} sq ft"
    if found.gcp is None:
        return f"{at}: the coefficients of {basis.named} are not on file. {WAYS_OUT}"
    why = basis.limit_why if basis.limit == confidence and found.confidence != confidence else found.why
    reason = f" ({why})" if why else ""
    return (
        f"{at}: the coefficients of {basis.named} are of {confidence} confidence{reason}, too little for a "
        f"verdict. {WAYS_OUT}"
    )
