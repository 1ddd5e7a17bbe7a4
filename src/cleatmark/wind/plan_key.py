"""The words of the plan: title, key with areas, scale bar, north arrow, notes."""

from __future__ import annotations

import math
from itertools import count

from cleatmark.wind import sheet
from cleatmark.wind.curves import ZONES
from cleatmark.wind.frame import Frame
from cleatmark.wind.layout import Layout, Region
from cleatmark.wind.plan_roof import hatch_of
from cleatmark.wind.report import RoofWind
from cleatmark.wind.steps import figure
from cleatmark.zones import family

KEY = 776.0
"""Where the column beside the roof starts."""
LEAST_STEP = 22.0
"""Of the scale bar: four steps, each at most two and a half times this, stay within the column."""


def head(report: RoofWind, frame: Frame) -> list[str]:
    basis = report.basis
    title = "ROOF ZONES FOR WIND" + (f"  ·  {report.roof}" if report.roof != "roof" else "")
    marks = [sheet.words(40, 58, title, 22, bold=True), sheet.line(40, 70, sheet.WIDTH - 40, 70, 2.4)]
    if basis is not None:
        site = basis.site
        height = frame.length(site.height or 0.0)
        rise = figure(math.tan(math.radians(basis.slope)) * 12, 2)
        roof = f"{site.shape}, slope {rise}:12 ({figure(basis.slope, 1)} degrees)"
        text = f"{basis.named}  ·  {roof}  ·  mean roof height h = {height}"
        marks.append(sheet.words(40, 90, text, 12))
    return marks


def key(report: RoofWind, layout: Layout, frame: Frame) -> list[str]:
    """Hatches with zone names and areas, north, scale, notes."""
    marks = [
        sheet.words(KEY, 118, "Key", 14, bold=True),
        sheet.words(sheet.WIDTH - 40, 118, "area in plan", 11, anchor="end"),
    ]
    y = 132.0
    order = in_order(layout)
    for region in order:
        marks.append(
            f'<rect x="{KEY:g}" y="{sheet.number(y)}" width="44" height="26" '
            f'fill="{sheet.fill(hatch_of(region.zones))}" '
            f'stroke="{sheet.INK}" stroke-width="1.2"/>'
        )
        label = f"Zone {'/'.join(region.zones)}"
        marks.append(sheet.words(KEY + 54, y + 12, label, 12, bold=True))
        marks.append(sheet.words(KEY + 54, y + 25, _everyday(region, report, frame), 10))
        marks.append(
            sheet.words(
                sheet.WIDTH - 40,
                y + (12 if len(region.zones) < 3 else 25),
                frame.area(region.area_sqft),
                12,
                anchor="end",
            )
        )
        y += 38
    marks.append(sheet.line(KEY, y, sheet.WIDTH - 40, y, 0.8))
    marks.append(sheet.words(KEY, y + 16, "Roof in plan", 11))
    marks.append(
        sheet.words(sheet.WIDTH - 40, y + 16, frame.area(layout.area_sqft), 12, bold=True, anchor="end")
    )
    y += 34
    if layout.surface > 1.0005:
        text = f"Along the slope, areas are {layout.surface:.3f} times those in plan."
        part, y = sheet.paragraph(KEY, y, text, sheet.WIDTH - 40 - KEY)
        marks.append(part)
        y += 8
    marks += _scale_bar(frame, y + 10)
    marks += _north(report, y + 96)
    texts = [
        *report.layout_notes,
        "Zone widths are rounded up to the " + ("centimetre." if frame.metric else "inch."),
    ]
    texts.append(
        "Widths are measured in plan. Not a permit drawing: a licensed design professional is to confirm it."
    )
    y += 190
    for text in texts:
        part, y = sheet.paragraph(KEY, y, text, sheet.WIDTH - 40 - KEY, 9.5)
        marks.append(part)
        y += 5
    return marks


def in_order(layout: Layout) -> list[Region]:
    """The zones from the field to the corners."""
    return sorted(layout.regions, key=lambda region: ZONES.index(region.zones[0]))


def _everyday(region: Region, report: RoofWind, frame: Frame) -> str:
    """The zone's everyday name, and its width where it has one."""
    names = list(dict.fromkeys(family(zone) for zone in region.zones))
    if len(names) > 1:
        return "not divided here"
    wide = report.widths.by_zone(region.zones) if report.widths is not None else {}
    zone = region.zones[0]
    if zone not in wide:
        return names[0]
    text = f"{names[0]}, {frame.length(wide[zone], up=True)} wide"
    long = wide.get(f"{zone} length")
    return f"{text}, {frame.length(long, up=True)} long" if long is not None else text


def _scale_bar(frame: Frame, y: float) -> list[str]:
    unit = 1 / 0.3048 if frame.metric else 1.0
    steps = (digit * 10.0**power * unit for power in count(-1) for digit in (1, 2, 5))
    step = next(feet for feet in steps if feet * frame.scale >= LEAST_STEP)
    marks: list[str] = []
    for index in range(4):
        x = KEY + index * step * frame.scale
        paint = sheet.INK if index % 2 == 0 else sheet.PAPER
        marks.append(
            f'<rect x="{sheet.number(x)}" y="{sheet.number(y)}" width="{sheet.number(step * frame.scale)}" height="7" '
            f'fill="{paint}" stroke="{sheet.INK}" stroke-width="1"/>'
        )
    for index in (0, 2, 4):
        shown = f"{step * index / unit:g}" + ((" m" if frame.metric else " ft") if index == 4 else "")
        marks.append(sheet.words(KEY + index * step * frame.scale, y + 20, shown, 10, anchor="middle"))
    marks.append(sheet.words(KEY, y + 36, f"Scale {frame.said} on an 11 × 8.5 in sheet", 10))
    return marks


def _north(report: RoofWind, y: float) -> list[str]:
    north = report.plan.north if report.plan is not None else None
    if north is None:
        return [sheet.words(KEY, y + 30, "North: not stated in the job, none drawn.", 10)]
    return [sheet.north_arrow(KEY + 34, y + 34, north)]
