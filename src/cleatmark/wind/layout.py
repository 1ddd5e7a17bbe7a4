"""Where the zones of a roof lie in plan, with their areas. What a figure's layout leaves unknown is not made up."""

from __future__ import annotations

import math
from typing import Any

from msgspec import Struct

from cleatmark.wind.coefficient import Basis
from cleatmark.wind.rectangles import Plan
from cleatmark.wind.widths import Widths

Ring = tuple[tuple[float, float], ...]


class Region(Struct, frozen=True):
    """One zone in plan, or several that share a strip whose division is not known.

    parts  each a closed outline and its holes; label a point inside each part
    """

    zones: tuple[str, ...]
    area_sqft: float
    parts: tuple[tuple[Ring, ...], ...]
    label: tuple[tuple[float, float], ...] = ()

    @property
    def name(self) -> str:
        return ", ".join(self.zones)


class Layout(Struct, frozen=True):
    """The zones of one roof in plan: areas as projected on the ground, sq ft.

    surface  factor from plan to the sloping surface
    lines    ridges and hips, for drawing
    """

    regions: tuple[Region, ...]
    outline: tuple[tuple[Ring, ...], ...]
    lines: tuple[tuple[tuple[float, float], tuple[float, float]], ...]
    surface: float
    notes: tuple[str, ...]

    @property
    def area_sqft(self) -> float:
        return sum(region.area_sqft for region in self.regions)


def layout_of(basis: Basis, plan: Plan, widths: Widths) -> Layout | None:
    """The zones of a roof in plan; None where the figure's layout is not known to us."""
    from shapely.geometry import box
    from shapely.ops import unary_union

    kind = basis.block.layout
    if kind == "not known":
        return None
    roof = unary_union([box(r.x0, r.y0, r.x1, r.y1) for r in plan.rectangles])
    if roof.geom_type != "Polygon":
        return None
    ridged = kind in ("ridge strips and squares", "strips, corners not known")
    lines = _ridges(basis.site.shape, plan) if ridged else ()
    if ridged and not lines:
        return None
    edge = roof.buffer(-widths.strip, join_style="mitre")
    strips = _along(lines, widths.strip).intersection(roof) if lines else None
    if kind == "strips, corners not known":
        named = _unsplit(basis, roof, edge, strips)
    else:
        named = _split(basis, roof, edge, strips, widths, lines)
    regions = tuple(_region(zones, shape) for zones, shape in named if shape.area > 1e-6)
    surface = 1 / math.cos(math.radians(basis.slope))
    return Layout(regions, _parts(roof), lines, surface, tuple(_notes(basis, roof, kind)))


def _ridges(shape: str, plan: Plan) -> tuple[tuple[tuple[float, float], tuple[float, float]], ...]:
    """Ridges and hips of one rectangle: a ridge along the length, hips at 45 degrees. None for several rectangles."""
    if len(plan.rectangles) != 1:
        return ()
    r = plan.rectangles[0]
    middle = (r.y0 + r.y1) / 2
    if shape != "hip":
        return (((r.x0, middle), (r.x1, middle)),)
    reach = min(r.x1 - r.x0, r.y1 - r.y0) / 2
    if r.x1 - r.x0 >= r.y1 - r.y0:
        first, last = (r.x0 + reach, middle), (r.x1 - reach, middle)
        ends = ((r.x0, r.y0, first), (r.x0, r.y1, first), (r.x1, r.y0, last), (r.x1, r.y1, last))
    else:
        centre = (r.x0 + r.x1) / 2
        first, last = (centre, r.y0 + reach), (centre, r.y1 - reach)
        ends = ((r.x0, r.y0, first), (r.x1, r.y0, first), (r.x0, r.y1, last), (r.x1, r.y1, last))
    hips = tuple(((x, y), end) for x, y, end in ends)
    return (*hips, (first, last)) if first != last else hips


def _along(lines: tuple[tuple[tuple[float, float], tuple[float, float]], ...], width: float) -> Any:
    """Strips of a width on both sides of lines."""
    from shapely.geometry import LineString
    from shapely.ops import unary_union

    return unary_union([LineString(line).buffer(width, cap_style="flat") for line in lines])


def corners(
    roof: Any,
) -> list[tuple[tuple[float, float], tuple[float, float], float, tuple[float, float], float]]:
    """The outward corners of a polygon: the corner, then for both edges their direction away from it and length."""
    from shapely import simplify
    from shapely.geometry.polygon import orient

    ring = list(orient(simplify(roof, 0.0), 1.0).exterior.coords)[:-1]
    found = []
    for index, corner in enumerate(ring):
        before, after = ring[index - 1], ring[(index + 1) % len(ring)]
        ax, ay = before[0] - corner[0], before[1] - corner[1]
        bx, by = after[0] - corner[0], after[1] - corner[1]
        outward = (-ax) * by - (-ay) * bx > 0
        if outward:
            la, lb = math.hypot(ax, ay), math.hypot(bx, by)
            found.append((corner, (ax / la, ay / la), la, (bx / lb, by / lb), lb))
    return found


def _legs(roof: Any, width: float, length: float) -> Any:
    """Corner zones: a leg along each edge from every outward corner, not longer than the edge."""
    from shapely.geometry import Polygon
    from shapely.ops import unary_union

    legs = []
    for (x, y), u, along_u, v, along_v in corners(roof):
        for (dx, dy), reach, (nx, ny) in ((u, along_u, v), (v, along_v, u)):
            run = min(length, reach)
            end, side = (x + dx * run, y + dy * run), (nx * width, ny * width)
            legs.append(
                Polygon([(x, y), end, (end[0] + side[0], end[1] + side[1]), (x + side[0], y + side[1])])
            )
    return unary_union(legs).intersection(roof)


def _split(
    basis: Basis, roof: Any, edge: Any, strips: Any, widths: Widths, lines: Any
) -> list[tuple[tuple[str, ...], Any]]:
    """Zones whose layout is known: corners before strips, strips before the field."""
    from shapely.ops import unary_union

    width, length = widths.corner or (widths.strip, widths.strip)
    corner = _legs(roof, width, length)
    if lines and basis.site.shape == "gable":
        corner = unary_union([corner, _ridge_ends(lines[0], widths.strip).intersection(roof)])
    strip = roof.difference(edge)
    if strips is not None:
        strip = unary_union([strip, strips])
    strip = strip.difference(corner)
    rest = roof.difference(unary_union([strip, corner]))
    found = [(("3",), corner), (("2",), strip)]
    if widths.inner is None:
        return [*found, (("1",), rest)]
    inside = roof.buffer(-widths.inner, join_style="mitre").intersection(rest)
    return [*found, (("1",), rest.difference(inside)), (("1'",), inside)]


def _ridge_ends(line: tuple[tuple[float, float], tuple[float, float]], a: float) -> Any:
    """Corners where a ridge meets the rakes: a by a on either side of the ridge."""
    from shapely.geometry import box
    from shapely.ops import unary_union

    (x0, y0), (x1, _) = line
    return unary_union([box(x0, y0 - a, x0 + a, y0 + a), box(x1 - a, y0 - a, x1, y0 + a)])


def _unsplit(basis: Basis, roof: Any, edge: Any, strips: Any) -> list[tuple[tuple[str, ...], Any]]:
    """Strips as far as they are known: where a corner zone ends along its strip is not."""
    around = roof.difference(edge)
    zones = basis.block.zones
    if basis.site.shape == "hip":
        ridge = strips.difference(around)
        outer = tuple(zone for zone in zones if zone in ("2e", "3"))
        return [(outer, around), (("2r",), ridge), (("1",), edge.difference(strips))]
    both = around.union(strips)
    return [(tuple(zone for zone in zones if zone != "1"), both), (("1",), roof.difference(both))]


def _notes(basis: Basis, roof: Any, kind: str) -> list[str]:
    notes: list[str] = []
    if kind == "strips, corners not known":
        notes.append(
            f"How far the corner zones of {basis.named} reach along the strips is not on file. The strips are "
            "shown whole; take the division from the figure, or fasten a strip throughout for its worst zone."
        )
    if kind in ("ridge strips and squares", "strips, corners not known"):
        notes.append("The ridge is taken to run along the roof's length, in the middle of its width.")
    block = basis.block
    if basis.site.shape == "hip" and block.hip_take and basis.slope <= block.hip_to + 1e-9:
        notes.append(f"{block.hip_note[0].upper()}{block.hip_note[1:]}.")
    if basis.parapet:
        notes.append("Behind the parapet zone 3 takes the suction of zone 2.")
    if len(corners(roof)) > 4:
        notes.append(
            "Corner zones stand at outward corners. A re-entrant corner carries the edge strip alone: from memory, to "
            "be confirmed by the designer."
        )
    return notes


def _region(zones: tuple[str, ...], shape: Any) -> Region:
    shapes = [part for part in getattr(shape, "geoms", [shape]) if part.geom_type == "Polygon"]
    labels = tuple(_inside(part) for part in shapes)
    return Region(zones, float(shape.area), tuple(ring for part in shapes for ring in _parts(part)), labels)


def _inside(part: Any) -> tuple[float, float]:
    """A point well inside a part, for its name."""
    from shapely import maximum_inscribed_circle

    line = maximum_inscribed_circle(part, tolerance=0.05)
    middle = part.centroid
    if part.contains(middle) and part.boundary.distance(middle) > 0.95 * line.length:
        return float(middle.x), float(middle.y)
    return float(line.coords[0][0]), float(line.coords[0][1])


def _parts(shape: Any) -> tuple[tuple[Ring, ...], ...]:
    parts = getattr(shape, "geoms", [shape])
    return tuple(
        tuple(
            tuple((float(x), float(y)) for x, y in ring.coords) for ring in (part.exterior, *part.interiors)
        )
        for part in parts
        if part.geom_type == "Polygon"
    )
