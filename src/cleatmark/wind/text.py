"""The wind report as plain text for a terminal, in the job's units."""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from cleatmark.wind.area import WindArea
from cleatmark.wind.pressure import ZonePressure
from cleatmark.wind.report import CAUTIONS, RoofWind
from cleatmark.wind.steps import figure, signed

LEAST_COLUMNS = 80
"""The table of pressures needs them."""

_KPA, _M2, _M = 0.0478802589804, 0.09290304, 0.3048


def as_text(
    reports: Sequence[RoofWind],
    job: str = "",
    *,
    width: int = 80,
    units: str = "US",
    working: bool = True,
    areas: Sequence[WindArea] = (),
) -> str:
    """The wind on a job's roofs as text, in at most `width` columns and at least 80.

    units    "US" (psf, ft, sq ft) or "SI" (kPa, m, m²)
    working  whether the steps of each pressure are shown
    areas    as they were asked for, for the working of those worked from a span and a width
    """
    columns = max(width, LEAST_COLUMNS)
    lines = [job, ""] if job else []
    worked = [str(area.step) for area in areas if area.step is not None]
    lines += [line for text in worked for line in _wrapped("Effective wind area: ", text, columns)]
    lines += [""] if worked else []
    for report in reports:
        lines += _roof(report, columns, units, working)
    lines += _wrapped("Caution: ", " ".join(CAUTIONS), columns)
    return "\n".join(lines) + "\n"


def _roof(report: RoofWind, width: int, units: str, working: bool) -> list[str]:
    title = f"Wind on {'the roof' if report.roof == 'roof' else report.roof}"
    lines = [f"{title}: components and cladding, {report.standard or 'standard not stated'}"]
    lines.append("-" * min(len(lines[0]), width))
    if report.refused:
        lines += _wrapped("Refused: ", report.refused, width)
        lines += [
            line
            for item in report.missing
            for line in _wrapped(f"  Ask the {item.ask}: ", item.question, width)
        ]
    if report.basis is not None:
        lines += _wrapped("", f"By {report.basis.named}", width)
        lines += ["", *_table(report.zones, units)]
        if report.overhangs:
            lines += ["", "Overhangs, net of both faces", *_table(report.overhangs, units)]
        lines += _refusals(report, width)
        lines += ["", *_zones(report, width, units)]
    for heading, texts in (
        ("Notices", report.notices),
        ("Advice", tuple(f"{item.message} Ask the {item.ask}: {item.question}" for item in report.advice)),
        ("Inputs", tuple(f"{item.title}: {item.text} [{'; '.join(item.sources)}]" for item in report.inputs)),
    ):
        if texts:
            lines += ["", heading]
            lines += [line for text in texts for line in _wrapped("  - ", text, width)]
    if working and report.basis is not None:
        lines += ["", "Working"]
        lines += _wrapped("  ", WORKED_IN, width) if units == "SI" else []
        lines += [line for step in report.basis.velocity.steps for line in _wrapped("  ", str(step), width)]
        for row in report.zones:
            if row.steps:
                lines.append(f"  Zone {row.zone}, {_area(row.area_sqft, units)}")
                lines += [line for step in row.steps for line in _wrapped("    ", str(step), width)]
    return [*lines, ""]


WORKED_IN = (
    "Steps are worked in the units of the standard's formulas: ft, mph, psf, sq ft. 1 ft is 0.3048 m, 1 mph 0.447 m/s, "
    "1 psf 0.0479 kPa, 1 sq ft 0.0929 m²."
)


def _wrapped(start: str, text: str, width: int) -> list[str]:
    indent = " " * (len(start) if len(start) < 12 else 4)
    return wrap(text, width, initial_indent=start, subsequent_indent=indent, break_long_words=False) or [
        start
    ]


def _area(sqft: float, units: str) -> str:
    return f"{figure(sqft * _M2, 2)} m²" if units == "SI" else f"{figure(sqft, 1)} sq ft"


def _length(feet: float, units: str) -> str:
    return f"{figure(feet * _M, 2)} m" if units == "SI" else f"{figure(feet, 2)} ft"


def _pressure(psf: float | None, units: str) -> str:
    if psf is None:
        return "refused"
    return signed(psf * _KPA, 2) if units == "SI" else signed(psf, 1)


def _table(rows: Sequence[ZonePressure], units: str) -> list[str]:
    """Suction and inward pressure, strength and allowable apart, each column under its level."""
    unit = "kPa" if units == "SI" else "psf"
    head = (
        f"{'':<6}{'Effective':>12}{'':>8}  {'Suction, ' + unit:^21}  {'Inward, ' + unit:^21}  Confi-",
        f"{'Zone':<6}{'wind area':>12}{'GCp':>8}  {'strength':>10}{'allowable':>11}  "
        f"{'strength':>10}{'allowable':>11}  dence",
    )
    lines = [*head]
    for row in rows:
        gcp = "" if row.gcp is None else signed(row.gcp, 2)
        inward = ("", "")
        if row.inward_refused or row.inward_strength_psf is not None:
            inward = _pressure(row.inward_strength_psf, units), _pressure(row.inward_allowable_psf, units)
        lines.append(
            f"{row.zone:<6}{_area(row.area_sqft, units):>12}{gcp:>8}  {_pressure(row.strength_psf, units):>10}"
            f"{_pressure(row.allowable_psf, units):>11}  {inward[0]:>10}{inward[1]:>11}  {row.confidence}".rstrip()
        )
    return lines


def _refusals(report: RoofWind, width: int) -> list[str]:
    """Each reason once, with all the zones that it is about."""
    about: dict[str, list[str]] = {}
    for row in (*report.zones, *report.overhangs):
        for text in (row.refused, "" if row.refused else row.inward_refused):
            where, _, why = text.partition(": ")
            if why:
                about.setdefault(why, []).append(where)
    if not about:
        return []
    lines = ["", "Refused"]
    for why, places in about.items():
        lines += _wrapped("  - ", f"{'; '.join(places)}: {why}", width)
    return lines


def _named_width(zone: str, feet: float, units: str) -> str:
    corner, _, leg = zone.partition(" ")
    return f"zone {corner} legs {_length(feet, units)} long" if leg else f"zone {zone} {_length(feet, units)}"


def _zones(report: RoofWind, width: int, units: str) -> list[str]:
    """Widths and areas of the zones in plan."""
    lines = ["Zones in plan"]
    wide, layout = report.widths, report.layout
    if wide is not None and report.basis is not None:
        named = [
            _named_width(zone, value, units) for zone, value in wide.by_zone(report.basis.block.zones).items()
        ]
        lines += _wrapped("  Widths: ", ", ".join(named), width) if named else []
        lines += [line for step in wide.steps for line in _wrapped("    ", str(step), width)]
    if layout is not None:
        areas = [
            f"zone {region.name}: {_area(region.area_sqft, units)}"
            for region in sorted(layout.regions, key=lambda region: region.zones)
        ]
        lines += _wrapped("  Areas: ", "; ".join(areas), width)
    for note in report.layout_notes:
        lines += _wrapped("  ", note, width)
    return lines
