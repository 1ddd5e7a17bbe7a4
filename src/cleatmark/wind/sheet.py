"""Marks on a drawing sheet: lines, hatches, words and dimensions as SVG text. A sheet is 7.5 inches wide."""

from __future__ import annotations

from html import escape
from textwrap import wrap

WIDTH = 720.0
"""The sheet in units of 1/96 inch: as wide as a page's text, so that the smallest words come to 8 points on paper."""
EDGE = 40.0
"""Left free at both sides."""
SMALL, PLAIN, LARGE = 12.5, 13.0, 14.0
"""Sizes of type."""
UNITS_PER_INCH = 96.0
INK, PAPER = "#111", "#fff"
FONT = "DejaVu Sans, Verdana, sans-serif"

_RISING = "M-2 {0} L{0} -2 M-2 {1} L{1} -2 M{2} {1} L{1} {2}"
_FALLING = "M-2 {2} L{0} {1} M-2 -2 L{1} {1} M{2} -2 L{1} {0}"


def _lines(paths: tuple[str, ...], tile: int, width: float) -> str:
    """Slanting lines, two to a tile, that meet those of the next tile."""
    half = tile // 2
    marks = " ".join(path.format(half + 2, tile + 2, half - 2) for path in paths)
    return f'<path d="{marks}" stroke="#111" stroke-width="{width:g}"/>'


HATCHES = {
    "blank": "",
    "dots": '<circle cx="7" cy="7" r="1.1" fill="#111"/>',
    "rising": _lines((_RISING,), 24, 1.0),
    "falling": _lines((_FALLING,), 24, 1.0),
    "crossed": _lines((_RISING, _FALLING), 14, 1.1),
    "level": '<path d="M0 4 H14 M0 11 H14" stroke="#111" stroke-width="1"/>',
}
_TILES = {"dots": 14, "rising": 24, "falling": 24, "crossed": 14, "level": 14}
BOLD_EM, PLAIN_EM = 0.64, 0.58
"""A character's width over the size of the type, as a fair average of few characters."""
RUNNING_EM = 0.54
"""The same of running text, in which narrow letters abound."""


def number(value: float) -> str:
    """A coordinate, short."""
    return f"{value:.2f}".rstrip("0").rstrip(".")


def definitions() -> str:
    """The hatch patterns."""
    tiles = "".join(
        f'<pattern id="hatch-{name}" width="{_TILES[name]}" height="{_TILES[name]}" patternUnits="userSpaceOnUse">'
        f'<rect width="{_TILES[name]}" height="{_TILES[name]}" fill="{PAPER}"/>{mark}</pattern>'
        for name, mark in HATCHES.items()
        if mark
    )
    return f"<defs>{tiles}</defs>"


def fill(hatch: str) -> str:
    return f"url(#hatch-{hatch})" if HATCHES[hatch] else PAPER


def line(x1: float, y1: float, x2: float, y2: float, width: float = 1.0, dash: str = "") -> str:
    dashed = f' stroke-dasharray="{dash}"' if dash else ""
    ends = f'x1="{number(x1)}" y1="{number(y1)}" x2="{number(x2)}" y2="{number(y2)}"'
    return f'<line {ends} stroke="{INK}" stroke-width="{number(width)}"{dashed}/>'


def polygon(rings: list[list[tuple[float, float]]], paint: str, width: float) -> str:
    """A shape with its holes."""
    path = " ".join("M" + " L".join(f"{number(x)} {number(y)}" for x, y in ring) + " Z" for ring in rings)
    stroke = f'stroke="{INK}" stroke-width="{number(width)}"' if width else 'stroke="none"'
    return f'<path d="{path}" fill="{paint}" fill-rule="evenodd" {stroke} stroke-linejoin="miter"/>'


def words(
    x: float,
    y: float,
    text: str,
    size: float = PLAIN,
    *,
    bold: bool = False,
    anchor: str = "start",
    turned: float = 0.0,
) -> str:
    """Text on its baseline; `turned` in degrees about its point."""
    weight = ' font-weight="bold"' if bold else ""
    turn = f' transform="rotate({number(turned)} {number(x)} {number(y)})"' if turned else ""
    place = f'x="{number(x)}" y="{number(y)}" font-size="{number(size)}" text-anchor="{anchor}"'
    return f'<text {place}{weight}{turn} fill="{INK}">{escape(text)}</text>'


def text_width(text: str, size: float, *, bold: bool = False) -> float:
    return len(text) * size * (BOLD_EM if bold else PLAIN_EM)


def tag(x: float, y: float, text: str, size: float = 13.0, *, turned: float = 0.0) -> str:
    """Bold text centred on a point, on a white ground that keeps it off the hatch."""
    wide, high = text_width(text, size, bold=True) + 8, size + 6
    turn = f' transform="rotate({number(turned)} {number(x)} {number(y)})"' if turned else ""
    box = f'<rect x="{number(x - wide / 2)}" y="{number(y - high / 2)}" width="{number(wide)}" '
    box += f'height="{number(high)}" rx="3" fill="{PAPER}"/>'
    return f"<g{turn}>{box}{words(x, y + size * 0.36, text, size, bold=True, anchor='middle')}</g>"


def paragraph(x: float, y: float, text: str, width: float, size: float = SMALL) -> tuple[str, float]:
    """Text broken to a width, and the baseline after it."""
    lines = wrap(text, max(int(width / (size * RUNNING_EM)), 10))
    marks = "".join(words(x, y + index * size * 1.35, part, size) for index, part in enumerate(lines))
    return marks, y + len(lines) * size * 1.35


def dimension(
    a: tuple[float, float],
    b: tuple[float, float],
    offset: tuple[float, float],
    text: str,
    size: float = PLAIN,
) -> str:
    """A dimension line between two points, set off by a vector, with ticks and its text in the middle.

    Text that is longer than the line stands beyond its end, on the side it is set off to.
    """
    (ox, oy), ends = offset, []
    marks: list[str] = []
    for x, y in (a, b):
        px, py = x + ox, y + oy
        ends.append((px, py))
        reach = max(abs(ox), abs(oy), 1.0)
        marks.append(
            line(x + ox / reach * 4, y + oy / reach * 4, px + ox / reach * 5, py + oy / reach * 5, 0.6)
        )
        marks.append(line(px - 3.5, py + 3.5, px + 3.5, py - 3.5, 1.6))
    (x1, y1), (x2, y2) = ends
    marks.append(line(x1, y1, x2, y2, 0.8))
    length = abs(x2 - x1) + abs(y2 - y1)
    upright = abs(y2 - y1) > abs(x2 - x1)
    middle = ((x1 + x2) / 2, (y1 + y2) / 2)
    if text_width(text, size) + 10 < length:
        marks.append(_on_line(*middle, text, size, upright))
    else:
        away = size * 0.95 + 3
        x = middle[0] + (ox / max(abs(ox), 1)) * away if upright else middle[0]
        y = max(y1, y2) - 4 if upright else middle[1] + (oy / max(abs(oy), 1)) * away + size * 0.36
        anchor, turned = ("start", -90.0) if upright else ("middle", 0.0)
        marks.append(words(x + (size * 0.36 if upright else 0), y, text, size, anchor=anchor, turned=turned))
    return "".join(marks)


def _on_line(x: float, y: float, text: str, size: float, upright: bool) -> str:
    wide, high = text_width(text, size) + 4, size + 4
    if upright:
        wide, high = high, wide
    box = f'<rect x="{number(x - wide / 2)}" y="{number(y - high / 2)}" width="{number(wide)}" '
    box += f'height="{number(high)}" fill="{PAPER}"/>'
    dx, dy = (size * 0.36, 0.0) if upright else (0.0, size * 0.36)
    return box + words(x + dx, y + dy, text, size, anchor="middle", turned=-90.0 if upright else 0.0)


def north_arrow(x: float, y: float, degrees: float, size: float = 34.0) -> str:
    """A needle to the north, turned clockwise from straight up; the half that is filled lies east."""
    half = f"M0 {number(-size)} L{number(size * 0.32)} {number(size * 0.5)} L0 {number(size * 0.2)}"
    east = f'<path d="{half} Z" fill="{INK}"/>'
    whole = f"{half} L{number(-size * 0.32)} {number(size * 0.5)} Z"
    west = f'<path d="{whole}" fill="none" stroke="{INK}" stroke-width="1.4"/>'
    letter = words(0, -size - 6, "N", 14, bold=True, anchor="middle")
    return f'<g transform="translate({number(x)} {number(y)}) rotate({number(degrees)})">{west}{east}{letter}</g>'


def document(title: str, description: str, body: str, height: float) -> str:
    """The whole drawing, named and described for those who cannot see it."""
    size = f'width="{WIDTH / UNITS_PER_INCH:g}in" height="{height / UNITS_PER_INCH:g}in"'
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" {size} viewBox="0 0 {WIDTH:g} {height:g}" font-family="{FONT}" '
        f'role="img"><title>{escape(title)}</title><desc>{escape(description)}</desc>{definitions()}'
        f'<rect width="{WIDTH:g}" height="{height:g}" fill="{PAPER}"/>{body}</svg>'
    )
