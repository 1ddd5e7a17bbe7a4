"""The roof plan to scale: zones by hatch, dimensions, north arrow, key. As SVG, as PNG, and in words."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from msgspec import Struct

from cleatmark.wind import sheet
from cleatmark.wind.frame import Frame, frame_of, outline_points
from cleatmark.wind.layout import Layout
from cleatmark.wind.plan_key import head, in_order, key
from cleatmark.wind.plan_roof import outline, region_shape, ridge_lines, sides, zone_dimensions, zone_tags
from cleatmark.wind.report import RoofWind

FONTS = Path(__file__).parent / "fonts"
PNG_ZOOM = 2


class Drawing(Struct, frozen=True):
    """A finished plan. `alt` says in words what it shows."""

    name: str
    svg: str
    png: bytes
    alt: str


def plan_drawing(report: RoofWind, *, units: str = "US", png: bool = True) -> Drawing | None:
    """The plan of one roof; None where its zones cannot be laid out. Without `png` only the SVG is made."""
    layout = report.layout
    if layout is None or report.widths is None or report.basis is None:
        return None
    frame = frame_of(layout, units)
    below, height = key(report, layout, frame)
    marks = [
        *head(report, frame),
        *(region_shape(region, frame) for region in layout.regions),
        *ridge_lines(layout, frame),
        *zone_tags(report, layout, frame),
        *outline(layout, frame),
        *zone_dimensions(report, layout, frame),
        *below,
    ]
    name = f"Roof zones, {report.roof}" if report.roof != "roof" else "Roof zones"
    alt = _alt(report, layout, frame)
    svg = sheet.document(name, alt, "".join(marks), height)
    return Drawing(name, svg, png_of(svg) if png else b"", alt)


def png_of(svg: str) -> bytes:
    """The drawing as PNG, its words set in the font that ships."""
    import resvg_py

    fonts = [str(path) for path in sorted(FONTS.glob("*.ttf"))]
    return bytes(
        resvg_py.svg_to_bytes(
            svg_string=svg,
            zoom=PNG_ZOOM,
            dpi=sheet.UNITS_PER_INCH,
            skip_system_fonts=True,
            font_files=fonts,
            font_family="DejaVu Sans",
            sans_serif_family="DejaVu Sans",
        )
    )


def _alt(report: RoofWind, layout: Layout, frame: Frame) -> str:
    points = outline_points(layout)
    wide = max(p[0] for p in points) - min(p[0] for p in points)
    high = max(p[1] for p in points) - min(p[1] for p in points)
    shape = "a rectangle" if len(sides(layout.outline[0][0])) == 4 else "a plan of several rectangles"
    zones: Sequence[str] = [
        f"zone {' or '.join(region.zones)} {frame.area(region.area_sqft)} in {len(region.parts)} "
        f"part{'s' if len(region.parts) != 1 else ''}"
        for region in in_order(layout)
    ]
    named = report.basis.named if report.basis is not None else ""
    return (
        f"Roof plan to scale, {frame.said}: {shape}, {frame.length(wide)} by {frame.length(high)}. Zones by {named}: "
        f"{'; '.join(zones)}."
    )
