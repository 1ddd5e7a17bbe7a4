"""Stated pressures beside the computed ones: the difference, and which one change of the inputs would explain it."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.wind.basis import Refused, basis_of
from cleatmark.wind.blocks import EDITIONS, ENCLOSURES
from cleatmark.wind.curves import Block
from cleatmark.wind.pressure import ZonePressure, zone_pressure
from cleatmark.wind.site import Site
from cleatmark.wind.steps import figure
from cleatmark.zones import answering

AGREES = 0.02
"""Part of the stated pressure within which two pressures are taken for one, printed to the psf."""
LEAST_PSF = 0.5
AREAS = (10.0, 20.0, 50.0, 100.0, 500.0)
LEVELS = ("allowable", "strength")


class Beside(Struct, frozen=True):
    """One zone's stated uplift beside the computed one, psf, positive, at one level. `zone` as stated."""

    zone: str
    stated_psf: float
    computed_psf: float | None
    level: str
    area_sqft: float
    refused: str = ""

    @property
    def difference_psf(self) -> float | None:
        return None if self.computed_psf is None else self.stated_psf - self.computed_psf

    @property
    def agrees(self) -> bool:
        return self.computed_psf is not None and _agree(self.stated_psf, self.computed_psf)


class Comparison(Struct, frozen=True):
    """All zones beside each other. `reasons` are single changes with which every zone agrees: advice, not a verdict."""

    zones: tuple[Beside, ...]
    reasons: tuple[str, ...]

    @property
    def agrees(self) -> bool:
        return bool(self.zones) and all(zone.agrees for zone in self.zones)


def beside_stated(
    site: Site,
    stated: Mapping[str, float],
    *,
    level: str = "",
    area: float | None = None,
    own: tuple[Block, ...] = (),
) -> Comparison:
    """Stated uplift (psf, positive, by zone as written) beside what the site computes to.

    level  allowable, strength, or "" where the document does not say: then allowable is taken, and strength is
           among the reasons tried
    area   the effective wind area stated, sq ft; 10 where none is
    The site's inputs are all stated (see site.missing_inputs).
    """
    taken, at = level or "allowable", area or AREAS[0]
    rows = _rows(site, stated, taken, at, own)
    if all(row.agrees for row in rows):
        return Comparison(rows, ())
    reasons = [
        said
        for said, changed, other_level, other_area in _changes(site, taken, at)
        if (found := _rows(changed, stated, other_level, other_area, own))
        and all(row.agrees for row in found)
    ]
    return Comparison(rows, tuple(reasons))


def _rows(
    site: Site, stated: Mapping[str, float], level: str, area: float, own: tuple[Block, ...]
) -> tuple[Beside, ...]:
    basis = basis_of(site, own)
    rows: list[Beside] = []
    for name, pressure in stated.items():
        if isinstance(basis, Refused):
            rows.append(Beside(name, pressure, None, level, area, basis.why))
            continue
        found = [zone_pressure(basis, zone, area) for zone in answering(name, basis.block.zones)]
        known = [value for row in found if (value := _at(row, level)) is not None]
        refused = next((row.refused for row in found if row.refused), "")
        computed = max(known) if known and not refused else None
        rows.append(
            Beside(name, pressure, computed, level, area, refused or ("" if found else "no such zone"))
        )
    return tuple(rows)


def _at(row: ZonePressure, level: str) -> float | None:
    value = row.allowable_psf if level == "allowable" else row.strength_psf
    return None if value is None else -value


def _agree(stated: float, computed: float) -> bool:
    return abs(stated - computed) <= max(AGREES * stated, LEAST_PSF)


def _changes(site: Site, level: str, area: float) -> Iterator[tuple[str, Site, str, float]]:
    """One change at a time, with how it is said."""
    for other in LEVELS:
        if other != level:
            yield f"stated at {other} level, not at {level} level", site, other, area
    for other_area in AREAS:
        if other_area != area:
            said = f"stated for an effective wind area of {figure(other_area)} sq ft, not {figure(area, 1)} sq ft"
            yield said, site, level, other_area
    for edition in EDITIONS:
        if edition != site.edition:
            yield f"computed by {edition}, not {site.edition}", replace(site, edition=edition), level, area
    for enclosure in ENCLOSURES:
        if enclosure != site.enclosure:
            changed = replace(site, enclosure=enclosure)
            yield f"computed as {enclosure}, not {site.enclosure}", changed, level, area
    for exposure in ("B", "C", "D"):
        if exposure != site.exposure:
            changed = replace(site, exposure=exposure)
            yield f"computed for Exposure {exposure}, not {site.exposure}", changed, level, area
