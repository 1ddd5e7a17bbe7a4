"""Effective wind area, ASCE 7 Sec. 26.2: of a panel by its span and width, of a clip or fastener by what it holds.

The rule that the width need not be less than a third of the span is from memory.
"""

from __future__ import annotations

import re

from msgspec import Struct

from cleatmark.units import QuantityError, parse, to
from cleatmark.wind.steps import Step, figure

SECTION = "Sec. 26.2, effective wind area"
LARGE = 700.0
"""Sq ft of tributary area above which a component may be designed as a main system (Sec. 30.2.3)."""
MOST = 100_000.0
EXPECTED, EXAMPLE = "a number of sq ft, or a panel's span x width", "5 ft x 16 in"
_SIDES = re.compile(r"(?P<span>.+?)\s+(?:x|×|by)\s+(?P<width>.+)")


class WindArea(Struct, frozen=True):
    """An effective wind area in sq ft with its working, None where it was given as an area."""

    sqft: float
    step: Step | None = None


def area_of(text: str) -> WindArea:
    """The area that a text gives: sq ft, or a panel's span by its width. Raises QuantityError for anything else."""
    sides = _SIDES.fullmatch(text.strip())
    try:
        if sides is None:
            found = WindArea(float(text))
        else:
            span, width = (float(to(parse(sides[name], "length"), "ft")) for name in ("span", "width"))
            found = panel_area(span, width)
    except (QuantityError, ValueError) as error:
        raise QuantityError(f'"{text}" is no effective wind area', EXPECTED, EXAMPLE) from error
    if not 0 < found.sqft <= MOST:
        raise QuantityError(f'"{text}" is no effective wind area', EXPECTED, EXAMPLE)
    return found


def panel_area(span_ft: float, width_ft: float) -> WindArea:
    """Of a panel between supports: span times width, the width not less than a third of the span."""
    _positive(span_ft, width_ft)
    used = max(width_ft, span_ft / 3)
    numbers = f"{figure(span_ft, 3)} ft × {figure(used, 3)} ft"
    numbers += " (a third of the span)" if used > width_ft else ""
    area = span_ft * used
    return WindArea(area, Step("A = L max(b, L/3)", numbers, f"{figure(area, 2)} sq ft", SECTION))


def clip_area(spacing_ft: float, width_ft: float) -> WindArea:
    """Of a clip or fastener: what it holds by itself, its spacing times the panel's width, and no more."""
    _positive(spacing_ft, width_ft)
    area = spacing_ft * width_ft
    numbers = f"{figure(spacing_ft, 3)} ft × {figure(width_ft, 3)} ft"
    return WindArea(area, Step("A = s b", numbers, f"{figure(area, 2)} sq ft", SECTION))


def _positive(*lengths: float) -> None:
    if any(not length > 0 for length in lengths):
        raise ValueError("span, spacing and width are more than zero")
