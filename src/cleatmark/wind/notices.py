"""What has to be confirmed before the pressures are relied on, all in one box."""

from __future__ import annotations

from collections.abc import Sequence

from cleatmark.wind.coefficient import Basis
from cleatmark.wind.pressure import ZonePressure
from cleatmark.wind.topography import topography


def notices_on(
    basis: Basis, rows: Sequence[ZonePressure], overhangs: Sequence[ZonePressure]
) -> tuple[str, ...]:
    """One sentence for each figure or table that is to be confirmed, and for each thing taken on the job's word."""
    found: list[str] = []
    suction = [row.zone for row in rows if not row.refused and row.confirm]
    inward = [row.zone for row in rows if not row.inward_refused and row.inward_confirm]
    parts = [f"suction in {_zones(suction)}"] if suction else []
    parts += [f"inward pressure in {_zones(inward)}"] if inward else []
    if parts:
        found.append(
            f"Confirm in {basis.named}: {'; '.join(parts)}. Medium confidence. Basis: {basis.block.source}."
        )
    if any(row.confirm and not row.refused for row in overhangs):
        found.append(f"Confirm in {basis.named}: overhangs. Medium confidence, from memory.")
    if basis.edition.confidence == "medium":
        edition = basis.edition
        found.append(
            f"Confirm in {edition.name}, {edition.kz_section} and {edition.section}: the constants of Kz and qh. "
            f"Medium confidence. Basis: {edition.source}."
        )
    if basis.velocity.topography_from_memory:
        section = topography().section
        found.append(
            f"Confirm in {section}: Kzt is worked with multipliers from memory, and only for an isolated hill, ridge "
            "or escarpment that meets the conditions of Sec. 26.8.1."
        )
    if basis.limit and basis.limit_why:
        found.append(f"Confirm for this roof: {basis.limit_why}.")
    if basis.block.name:
        found.append(f"Coefficients are the user's own: {basis.named}. They are used as supplied.")
    if basis.parapet:
        found.append(
            "Zone 3 takes zone 2's suction on the job's word that the parapet stands at least "
            f"{basis.edition.parapet_ft:g} ft high round the whole perimeter. Confirm it on the drawings."
        )
    if basis.edition.elevation is not None and basis.site.elevation is None:
        found.append(
            "Ke is taken as 1.0, which is permitted at every elevation: no ground elevation is stated."
        )
    return tuple(dict.fromkeys(found))


def _zones(names: Sequence[str]) -> str:
    unique = list(dict.fromkeys(names))
    return f"zone {unique[0]}" if len(unique) == 1 else f"zones {', '.join(unique)}"
