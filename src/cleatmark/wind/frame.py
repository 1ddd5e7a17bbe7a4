"""From feet on the roof to the sheet: the scale, lengths and areas as a crew reads them."""

from __future__ import annotations

import math

from msgspec import Struct

from cleatmark.wind import sheet
from cleatmark.wind.layout import Layout
from cleatmark.wind.steps import figure

_US_SCALES = (5, 8, 10, 16, 20, 30, 40, 50, 60, 80, 100, 150, 200, 300, 400, 600, 1000, 2000, 5000)
"""Feet to the inch."""
_SI_SCALES = (50, 100, 150, 200, 250, 300, 400, 500, 750, 1000, 2000, 5000, 10000, 50000)
_LEFT, _TOP, _RIGHT, _BOTTOM = 96.0, 156.0, 674.0, 576.0
"""Where the roof may stand on the sheet; the dimensions stand around it."""


class Frame(Struct, frozen=True):
    """From feet on the roof to units on the sheet; y grows downward there. `foot` is the roof's lower end on it."""

    scale: float
    x0: float
    y0: float
    foot: float
    said: str
    metric: bool

    def at(self, x: float, y: float) -> tuple[float, float]:
        return self.x0 + x * self.scale, self.y0 - y * self.scale

    def length(self, feet: float, *, up: bool = False) -> str:
        """A length as a crew reads it. `up`: zone widths go up to the next inch or centimetre."""
        if self.metric:
            metres = feet * 0.3048
            return f"{math.ceil(metres * 100 - 1e-6) / 100 if up else metres:.2f} m"
        inches = math.ceil(feet * 12 - 1e-6) if up else round(feet * 12)
        return f"{inches // 12}'-{inches % 12}\""

    def area(self, sqft: float) -> str:
        return f"{sqft * 0.09290304:,.1f} m²" if self.metric else f"{sqft:,.0f} sq ft"


def outline_points(layout: Layout) -> list[tuple[float, float]]:
    return [point for part in layout.outline for ring in part for point in ring]


def frame_of(layout: Layout, units: str) -> Frame:
    """The largest usual scale at which the roof fits the sheet, the roof at the top of its place."""
    points, metric = outline_points(layout), units == "SI"
    x, y = min(p[0] for p in points), min(p[1] for p in points)
    wide, high = max(p[0] for p in points) - x, max(p[1] for p in points) - y
    room = min((_RIGHT - _LEFT) / wide, (_BOTTOM - _TOP) / high)
    if metric:
        per_foot = 0.3048 / 0.0254 * sheet.UNITS_PER_INCH
        ratio = next((s for s in _SI_SCALES if per_foot / s <= room), per_foot / room)
        scale, said = per_foot / ratio, f"1:{figure(ratio, 0)}"
    else:
        feet = next((s for s in _US_SCALES if sheet.UNITS_PER_INCH / s <= room), sheet.UNITS_PER_INCH / room)
        scale, said = sheet.UNITS_PER_INCH / feet, f"1 in = {figure(feet, 1)} ft"
    left = (_LEFT + _RIGHT - wide * scale) / 2
    foot = _TOP + high * scale
    return Frame(scale, left - x * scale, foot + y * scale, foot, said, metric)
