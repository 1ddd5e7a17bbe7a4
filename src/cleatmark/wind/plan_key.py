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

GAP = 20.0
"""Between the two columns of the key."""
COLUMN = (sheet.WIDTH - 2 * sheet.EDGE - GAP) / 2
RIGHT = sheet.WIDTH - sheet.EDGE
BELOW = 92.0
"""From the roof's lower end to the key: the dimensions stand between."""
LEAST_STEP = 22.0
"""Of the scale bar: four steps, each at most two and a half times this, stay within the column."""


def head(report: RoofWind, frame: Frame) -> list[str]:
    basis = report.basis
    title = "ROOF ZONES FOR WIND" + (f"  ·  {report.roof}" if report.roof != "roof" else "")
    marks = [
        sheet.words(sheet.EDGE, 34, title, 20, bold=True),
        sheet.line(sheet.EDGE, 44, RIGHT, 44, 2.4),
    ]
    if basis is not None:
        site = basis.site
        height = frame.length(site.height or 0.0)
        rise = figure(math.tan(math.radians(basis.slope)) * 12, 2)
        roof = f"{site.shape}, slope {rise}:12 ({figure(basis.slope, 1)} degrees)"
        text = f"{basis.named}  ·  {roof}  ·  mean roof height h = {height}"
        part, _ = sheet.paragraph(sheet.EDGE, 64, text, RIGHT - sheet.EDGE)
        marks.append(part)
    return marks


def key(report: RoofWind, layout: Layout, frame: Frame) -> tuple[list[str], float]:
    """Below the roof: hatches with zone names and areas in two columns, scale, north, notes; and where it ends."""
    y = frame.foot + BELOW
    marks = [
        sheet.words(sheet.EDGE, y, "Key", sheet.LARGE, bold=True),
        sheet.words(RIGHT, y, "areas in plan", sheet.SMALL, anchor="end"),
    ]
    y += 12
    order = in_order(layout)
    rows = (len(order) + 1) // 2
    for index, region in enumerate(order):
        x = sheet.EDGE + (COLUMN + GAP) * (index // rows)
        marks += _entry(region, report, frame, x, y + 44 * (index % rows))
    y += 44 * rows
    marks.append(sheet.line(sheet.EDGE, y, RIGHT, y, 0.8))
    total = f"Roof in plan {frame.area(layout.area_sqft)}"
    if layout.surface > 1.0005:
        total += f"; along the slope, areas are {layout.surface:.3f} times those in plan"
    marks.append(sheet.words(sheet.EDGE, y + 19, f"{total}."))
    y += 38
    marks += _scale_bar(frame, y)
    marks += _north(report, y)
    texts = [
        *report.layout_notes,
        "Zone widths are rounded up to the " + ("centimetre." if frame.metric else "inch."),
        "Widths are measured in plan. Not a permit drawing: a licensed design professional is to confirm it.",
    ]
    y += 84
    for text in texts:
        part, y = sheet.paragraph(sheet.EDGE, y, text, RIGHT - sheet.EDGE)
        marks.append(part)
        y += 3
    return marks, y


def _entry(region: Region, report: RoofWind, frame: Frame, x: float, y: float) -> list[str]:
    """A hatch with the zone's name, width and area."""
    box = f'<rect x="{sheet.number(x)}" y="{sheet.number(y)}" width="44" height="32" '
    marks = [f'{box}fill="{sheet.fill(hatch_of(region.zones))}" stroke="{sheet.INK}" stroke-width="1.2"/>']
    label = f"Zone {'/'.join(region.zones)}"
    area = frame.area(region.area_sqft)
    first = sheet.text_width(label, sheet.LARGE, bold=True) + sheet.text_width(area, sheet.PLAIN)
    line = y + (13 if first < COLUMN - 60 else 30)
    return [
        *marks,
        sheet.words(x + 54, y + 13, label, sheet.LARGE, bold=True),
        sheet.words(x + 54, y + 30, _everyday(region, report, frame), sheet.SMALL),
        sheet.words(x + COLUMN, line, area, sheet.PLAIN, anchor="end"),
    ]


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
        x = sheet.EDGE + index * step * frame.scale
        paint = sheet.INK if index % 2 == 0 else sheet.PAPER
        marks.append(
            f'<rect x="{sheet.number(x)}" y="{sheet.number(y)}" width="{sheet.number(step * frame.scale)}" height="7" '
            f'fill="{paint}" stroke="{sheet.INK}" stroke-width="1"/>'
        )
    for index, anchor in ((0, "start"), (2, "middle"), (4, "middle")):
        shown = f"{step * index / unit:g}" + ((" m" if frame.metric else " ft") if index == 4 else "")
        marks.append(
            sheet.words(sheet.EDGE + index * step * frame.scale, y + 22, shown, sheet.SMALL, anchor=anchor)
        )
    wide = f"{sheet.WIDTH / sheet.UNITS_PER_INCH:g} in"
    marks.append(
        sheet.words(sheet.EDGE, y + 42, f"Scale {frame.said} where this sheet is {wide} wide", sheet.SMALL)
    )
    return marks


def _north(report: RoofWind, y: float) -> list[str]:
    north = report.plan.north if report.plan is not None else None
    if north is None:
        text = "North: not stated in the job, none drawn."
        return [sheet.words(RIGHT, y + 10, text, sheet.SMALL, anchor="end")]
    return [sheet.north_arrow(RIGHT - 60, y + 26, north, 26)]
