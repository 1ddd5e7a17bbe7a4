"""The wind report as one object for JSON: psf, sq ft, ft, mph; uplift negative; levels named."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from cleatmark.wind.area import WindArea
from cleatmark.wind.pressure import ZonePressure
from cleatmark.wind.report import CAUTIONS, RoofWind


def as_json(reports: Sequence[RoofWind], job: str = "", areas: Sequence[WindArea] = ()) -> dict[str, Any]:
    """One object for a job. With several roofs the zones say which they are of, and widths and areas are by roof.

    areas  as they were asked for; each stands with its working, "" where it was given in sq ft
    """
    single = reports[0] if len(reports) == 1 else None
    standards = list(dict.fromkeys(report.standard for report in reports if report.standard))
    return {
        "job": job,
        "standard": ", ".join(standards),
        "sign": "negative acts away from the roof",
        "areas": [{"sqft": area.sqft, "step": str(area.step) if area.step else ""} for area in areas],
        "zones": [zone_json(report.roof, row) for report in reports for row in report.zones],
        "overhangs": [zone_json(report.roof, row) for report in reports for row in report.overhangs],
        "zone_widths_ft": _widths(single) if single else {report.roof: _widths(report) for report in reports},
        "zone_areas_sqft": _areas(single) if single else {report.roof: _areas(report) for report in reports},
        "roofs": [roof_json(report) for report in reports],
        "notices": list(dict.fromkeys(text for report in reports for text in report.notices)),
        "advice": _unique([_advice(report) for report in reports]),
        "inputs": _unique([_inputs(report) for report in reports]),
        "missing": _unique([_missing(report) for report in reports]),
        "refused": "; ".join(dict.fromkeys(report.refused for report in reports if report.refused)),
        "cautions": list(CAUTIONS),
    }


def zone_json(roof: str, row: ZonePressure) -> dict[str, Any]:
    """One zone at one area."""
    return {
        "roof": roof,
        "zone": row.zone,
        "area_sqft": row.area_sqft,
        "gcp": row.gcp,
        "strength_psf": row.strength_psf,
        "allowable_psf": row.allowable_psf,
        "inward_gcp": row.inward_gcp,
        "inward_strength_psf": row.inward_strength_psf,
        "inward_allowable_psf": row.inward_allowable_psf,
        "net_strength_psf": row.net_psf,
        "inward_net_strength_psf": row.inward_net_psf,
        "confidence": row.confidence,
        "inward_confidence": row.inward_confidence,
        "refused": row.refused,
        "inward_refused": row.inward_refused,
        "figure": row.figure,
        "steps": [str(step) for step in row.steps],
    }


def roof_json(report: RoofWind) -> dict[str, Any]:
    """What all zones of a roof rest on, and its zones in plan."""
    basis, wide, layout = report.basis, report.widths, report.layout
    return {
        "roof": report.roof,
        "standard": report.standard,
        "figure": basis.named if basis else "",
        "slope_deg": basis.slope if basis else None,
        "velocity_pressure_psf": basis.velocity.qh if basis else None,
        "kz": basis.velocity.kz if basis else None,
        "kzt": basis.velocity.kzt if basis else None,
        "ke": basis.velocity.ke if basis else None,
        "kd": basis.edition.kd if basis else None,
        "kd_in": ("pressure" if basis.edition.kd_in_pressure else "velocity pressure") if basis else "",
        "gcpi": basis.gcpi if basis else None,
        "steps": [str(step) for step in basis.velocity.steps] if basis else [],
        "strip_ft": wide.strip if wide else None,
        "zone_widths_ft": _widths(report),
        "zone_areas_sqft": _areas(report),
        "width_steps": [str(step) for step in wide.steps] if wide else [],
        "surface_factor": layout.surface if layout else None,
        "layout_notes": list(report.layout_notes),
        "refused": report.refused,
    }


def _widths(report: RoofWind | None) -> dict[str, float]:
    if report is None or report.widths is None or report.basis is None:
        return {}
    return report.widths.by_zone(report.basis.block.zones)


def _areas(report: RoofWind | None) -> dict[str, float]:
    """Areas in plan by zone; "2e, 3" is a strip whose division is not known."""
    layout = report.layout if report is not None else None
    return {region.name: region.area_sqft for region in layout.regions} if layout else {}


def _advice(report: RoofWind) -> list[dict[str, Any]]:
    return [
        {
            "id": item.id,
            "message": item.message,
            "fields": list(item.fields),
            "ask": item.ask,
            "question": item.question,
        }
        for item in report.advice
    ]


def _inputs(report: RoofWind) -> list[dict[str, Any]]:
    return [
        {"path": item.path, "title": item.title, "text": item.text, "sources": list(item.sources)}
        for item in report.inputs
    ]


def _missing(report: RoofWind) -> list[dict[str, Any]]:
    return [
        {
            "path": item.path,
            "title": item.title,
            "reason": item.reason,
            "ask": item.ask,
            "question": item.question,
        }
        for item in report.missing
    ]


def _unique(lists: list[list[dict[str, Any]]]) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    for items in lists:
        found.extend(item for item in items if item not in found)
    return found
