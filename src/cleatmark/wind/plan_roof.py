"""The roof on the plan: zones by hatch, its outline with the length of every side, zone widths and names."""

from __future__ import annotations

import math
from itertools import pairwise

from cleatmark.wind import sheet
from cleatmark.wind.frame import Frame
from cleatmark.wind.layout import Layout, Region, Ring
from cleatmark.wind.report import RoofWind
from cleatmark.zones import family

SHORTEST_DIMENSION, SHORTEST_CHAIN, LEAST_ROOM = 10.0, 26.0, 14.0
"""On the sheet: shorter widths stand in the key alone, and narrower zones have no name in them."""
CHAIN_ROWS = (0.27, 0.33, 0.2, 0.4, 0.15, 0.12)
"""How far up the left side the widths may stand, in order, clear of the names in its middle."""


def hatch_of(zones: tuple[str, ...]) -> str:
    """The hatch of a zone: the field open, the perimeter lined, the corners crossed, what is not divided level."""
    if len(zones) > 1:
        return "level"
    if zones[0] == "1'":
        return "blank"
    if zones[0] == "2r":
        return "falling"
    return {"field": "dots", "perimeter": "rising", "corner": "crossed"}[family(zones[0])]


def _rings(part: tuple[Ring, ...], frame: Frame) -> list[list[tuple[float, float]]]:
    return [[frame.at(x, y) for x, y in ring[:-1]] for ring in part]


def region_shape(region: Region, frame: Frame) -> str:
    paint = sheet.fill(hatch_of(region.zones))
    return "".join(sheet.polygon(_rings(part, frame), paint, 1.1) for part in region.parts)


def outline(layout: Layout, frame: Frame) -> list[str]:
    """The roof's edge, with the length of every side outside it."""
    marks: list[str] = []
    for part in layout.outline:
        marks.append(sheet.polygon(_rings(part, frame), "none", 3.0))
        for ring in part:
            found = sides(ring)
            shown = found if len(found) != 4 else [side for side in found if _low_or_left(side, ring)]
            marks += [_side(a, b, ring, frame) for a, b in shown]
    return marks


def _low_or_left(side: tuple[tuple[float, float], tuple[float, float]], ring: Ring) -> bool:
    """Whether a rectangle's side is its lower or its left one: one dimension of each pair is enough."""
    (ax, ay), (bx, by) = side
    return ay == by == min(y for _, y in ring) or ax == bx == min(x for x, _ in ring)


def sides(ring: Ring) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The straight sides of a ring, points on a side left out."""
    points = list(ring[:-1])
    kept = [
        point
        for index, point in enumerate(points)
        if abs(_turn(points[index - 1], point, points[(index + 1) % len(points)])) > 1e-9
    ]
    return list(zip(kept, [*kept[1:], kept[0]], strict=True))


def _turn(a: tuple[float, float], b: tuple[float, float], c: tuple[float, float]) -> float:
    return (b[0] - a[0]) * (c[1] - b[1]) - (b[1] - a[1]) * (c[0] - b[0])


def _clockwise(ring: Ring) -> bool:
    return sum((b[0] - a[0]) * (b[1] + a[1]) for a, b in pairwise(ring)) > 0


def _side(a: tuple[float, float], b: tuple[float, float], ring: Ring, frame: Frame) -> str:
    length = math.hypot(b[0] - a[0], b[1] - a[1])
    ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
    out = (-uy, ux) if _clockwise(ring) else (uy, -ux)
    off = 46.0
    text = frame.length(length)
    return sheet.dimension(frame.at(*a), frame.at(*b), (out[0] * off, -out[1] * off), text)


def ridge_lines(layout: Layout, frame: Frame) -> list[str]:
    marks = []
    for a, b in layout.lines:
        (x1, y1), (x2, y2) = frame.at(*a), frame.at(*b)
        marks.append(sheet.line(x1, y1, x2, y2, 2.0, "14 4 3 4"))
    return marks


def zone_dimensions(report: RoofWind, layout: Layout, frame: Frame) -> list[str]:
    """Widths of strips and corners, at the roof's lower left corner and across its left side.

    A width too short on the sheet for a dimension is left to the key, and one of a zone that the roof does not have is
    not drawn.
    """
    wide = report.widths
    if wide is None:
        return []
    ring = layout.outline[0][0]
    corner = min(ring, key=lambda p: (round(p[0] + p[1], 6), p[0]))
    marks: list[str] = []
    x, y = corner
    if wide.corner is not None:
        width, length = wide.corner
        along = (frame.at(x, y), frame.at(x + length, y), (0.0, 20.0), frame.length(length, up=True))
        up = (frame.at(x, y), frame.at(x, y + width), (-20.0, 0.0), frame.length(width, up=True))
        shown = [(length, along)] + ([(width, up)] if length != width else [])
        marks += [
            sheet.dimension(*part, sheet.SMALL)
            for feet, part in shown
            if feet * frame.scale >= SHORTEST_DIMENSION
        ]
    if wide.strip * frame.scale < SHORTEST_CHAIN:
        return marks
    zones = {zone for region in layout.regions for zone in region.zones}
    upward = max((p[1] for p in ring if abs(p[0] - x) < 1e-6), default=y)
    rows = [y + (upward - y) * part for part in ((0.33,) if layout.lines else CHAIN_ROWS)]
    inner = wide.inner if "1'" in zones else None
    if "1" in zones:
        marks.append(_chain(x, _row_through(layout, rows, x, inner), wide.strip, inner, frame))
    return marks


def _row_through(layout: Layout, rows: list[float], x: float, inner: float | None) -> float:
    """The first row at which the innermost zone really begins where the dimension ends."""
    from shapely.geometry import Point, Polygon

    parts = [part for region in layout.regions if region.zones == ("1'",) for part in region.parts]
    shapes = [Polygon(part[0], part[1:]) for part in parts] if inner is not None else []
    hit = [row for row in rows for shape in shapes if shape.contains(Point(x + (inner or 0) + 0.05, row))]
    return (hit or rows)[0]


def _chain(x: float, y: float, strip: float, inner: float | None, frame: Frame) -> str:
    """Widths one after another from an edge inward, their text on white, by turns above and below the line."""
    marks: list[str] = []
    start, above = x, True
    for stop in [strip, *([inner] if inner is not None else [])]:
        (x1, y1), (x2, _) = frame.at(start, y), frame.at(x + stop, y)
        marks.append(sheet.line(x1, y1, x2, y1, 0.9))
        marks += [sheet.line(end - 3.5, y1 + 3.5, end + 3.5, y1 - 3.5, 1.6) for end in (x1, x2)]
        text = frame.length(x + stop - start, up=True)
        wide = sheet.text_width(text, sheet.SMALL) + 6
        middle, top = max((x1 + x2) / 2, x1 + wide / 2 + 3), y1 - 22 if above else y1 + 6
        box = f'<rect x="{sheet.number(middle - wide / 2)}" y="{sheet.number(top)}" width="{sheet.number(wide)}" '
        marks.append(f'{box}height="16" fill="{sheet.PAPER}"/>')
        marks.append(sheet.words(middle, top + 12.5, text, sheet.SMALL, anchor="middle"))
        start, above = x + stop, wide < x2 - x1 - 6 and above
    return "".join(marks)


def zone_tags(report: RoofWind, layout: Layout, frame: Frame) -> list[str]:
    """Zone names where there is room for them: along every side for strips, in every part that has none yet."""
    wide = report.widths
    marks: list[str] = []
    for region in layout.regions:
        lies = family(region.zones[0])
        text = "/".join(region.zones) if len(region.zones) < 3 else "2/3"
        spots: list[tuple[float, float]] = []
        room = math.inf
        if wide is not None and lies == "perimeter":
            spots, room = _along_sides(layout, region, wide.strip / 2), wide.strip
        elif wide is not None and wide.inner is not None and region.zones == ("1",):
            spots, room = _along_sides(layout, region, (wide.strip + wide.inner) / 2), wide.inner - wide.strip
        elif wide is not None and wide.corner is not None and lies == "corner":
            room = min(wide.corner)
        spots += _in_bare_parts(region, spots)
        if room * frame.scale < LEAST_ROOM:
            continue
        fits = (room * frame.scale - 10) / (len(text) * sheet.BOLD_EM) if math.isfinite(room) else 14.0
        size = min(14.0, max(10.5, fits))
        marks += [sheet.tag(*frame.at(*spot), text, size) for spot in spots]
    return marks


def _in_bare_parts(region: Region, spots: list[tuple[float, float]]) -> list[tuple[float, float]]:
    """A point inside each part of a region that has none of the spots."""
    from shapely.geometry import Point, Polygon

    shapes = [Polygon(part[0], part[1:]) for part in region.parts]
    bare = [shape for shape in shapes if not any(shape.contains(Point(*spot)) for spot in spots)]
    return [spot for spot in region.label if any(shape.contains(Point(*spot)) for shape in bare)]


def _along_sides(layout: Layout, region: Region, depth: float) -> list[tuple[float, float]]:
    """Points in the middle of each side, a depth inside it, that lie in the region."""
    from shapely.geometry import Point, Polygon
    from shapely.ops import unary_union

    shape = unary_union([Polygon(part[0], part[1:]) for part in region.parts])
    found: list[tuple[float, float]] = []
    for part in layout.outline:
        for ring in part:
            for a, b in sides(ring):
                length = math.hypot(b[0] - a[0], b[1] - a[1])
                ux, uy = (b[0] - a[0]) / length, (b[1] - a[1]) / length
                inward = (uy, -ux) if _clockwise(ring) else (-uy, ux)
                spot = (
                    (a[0] + b[0]) / 2 + inward[0] * depth,
                    (a[1] + b[1]) / 2 + inward[1] * depth,
                )
                if shape.contains(Point(*spot)) and all(
                    math.dist(spot, other) > depth * 2 for other in found
                ):
                    found.append(spot)
    return found
