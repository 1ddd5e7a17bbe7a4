"""Velocity pressure qh by edition: Kz, Kzt, Kd in its place, Ke, with the working."""

from __future__ import annotations

import math

from msgspec import Struct

from cleatmark.wind.curves import weakest
from cleatmark.wind.edition import Edition
from cleatmark.wind.steps import Step, figure, fixed
from cleatmark.wind.topography import Hill, topographic_factor, topography


class Velocity(Struct, frozen=True):
    """qh in psf, what it rests on, and how it was worked. `confidence` is of the constants and Kzt."""

    qh: float
    kz: float
    kzt: float
    ke: float
    confidence: str
    steps: tuple[Step, ...]
    topography_from_memory: bool = False


def kz(edition: Edition, exposure: str, z: float) -> tuple[float, Step]:
    """The velocity pressure exposure coefficient at a height z in ft, with its working."""
    constants = edition.exposures[exposure]
    used = min(max(z, edition.kz_least_ft), constants.gradient_ft)
    value = edition.kz_factor * (used / constants.gradient_ft) ** (2 / constants.alpha)
    numbers = (
        f"{edition.kz_factor} × ({figure(used, 2)}/{figure(constants.gradient_ft)})^(2/{constants.alpha})"
    )
    if z < edition.kz_least_ft:
        numbers += f" (z not less than {figure(edition.kz_least_ft)} ft)"
    result = figure(value, 3)
    if edition.floor and exposure == edition.floor[0] and z < edition.floor[1] and value < edition.floor[2]:
        result = f"{result}, taken as {fixed(edition.floor[2], 2)}: the least in Exposure {exposure} below "
        result += f"{figure(edition.floor[1])} ft"
        value = edition.floor[2]
    return value, Step(edition.kz_symbols, numbers, result, f"{edition.kz_section}, Exposure {exposure}")


def ke(edition: Edition, elevation: float | None) -> tuple[float, Step | None]:
    """The ground elevation factor; 1.0, which is permitted everywhere, where no elevation is stated."""
    if edition.elevation is None:
        return 1.0, None
    if elevation is None:
        return 1.0, Step(
            "Ke", "", "1.0, permitted at every elevation; none is stated", edition.elevation_section
        )
    value = math.exp(-edition.elevation * elevation)
    step = Step(
        f"Ke = e^(-{edition.elevation:.7f} ze)",
        f"e^(-{edition.elevation:.7f} × {figure(elevation, 1)})",
        figure(value, 3),
        edition.elevation_section,
    )
    return value, step


def velocity_pressure(
    edition: Edition,
    speed: float,
    exposure: str,
    height: float,
    *,
    kzt: float | None = None,
    hill: Hill | None = None,
    elevation: float | None = None,
) -> Velocity:
    """qh in psf at the mean roof height (ft) for a basic wind speed (mph).

    kzt   as stated; otherwise worked from `hill`. Raises ValueError where neither is given.
    """
    exposure_factor, kz_step = kz(edition, exposure, height)
    steps = [kz_step]
    confidence = edition.confidence
    worked_from_hill = kzt is None
    if kzt is not None:
        steps.append(Step("Kzt", "", f"{figure(kzt, 3)}, as stated", edition.topography_section))
    elif hill is not None:
        kzt, worked = topographic_factor(hill, exposure, height)
        steps.extend(worked)
        confidence = weakest(confidence, topography().confidence)
    else:
        raise ValueError("neither a topographic factor nor a hill is given")
    ground, ke_step = ke(edition, elevation)
    steps.extend([ke_step] if ke_step else [])
    directionality = 1.0 if edition.kd_in_pressure else edition.kd
    qh = edition.constant * exposure_factor * kzt * directionality * ground * speed**2
    parts = [f"{edition.constant}", figure(exposure_factor, 3), figure(kzt, 3)]
    parts += [] if edition.kd_in_pressure else [figure(edition.kd)]
    parts += [figure(ground, 3)] if edition.elevation is not None else []
    steps.append(
        Step(
            edition.symbols,
            " × ".join([*parts, f"{figure(speed, 2)}²"]),
            f"{figure(qh, 2)} psf",
            edition.section,
        )
    )
    return Velocity(qh, exposure_factor, kzt, ground, confidence, tuple(steps), worked_from_hill)
