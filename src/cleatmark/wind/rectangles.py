"""A roof's plan as the job states it: one rectangle by length and width, or several that touch."""

from __future__ import annotations

import re
from collections.abc import Mapping

from msgspec import Struct

from cleatmark.facts import Fact
from cleatmark.problems import Place, Problem
from cleatmark.units import Quantity, QuantityError, parse, to

EXAMPLE = "80 ft x 40 ft at 0 ft, 60 ft"
"""Length to the right, width upward, and where the lower left corner stands."""

_FORM = re.compile(r"(?P<length>[^@]+?)\s+(?:x|×|by)\s+(?P<width>.+?)(?:\s+at\s+(?P<x>.+?)\s*,\s*(?P<y>.+))?")


class Rectangle(Struct, frozen=True):
    """A rectangle in plan, ft: x to the right, y upward."""

    x0: float
    y0: float
    x1: float
    y1: float


class Plan(Struct, frozen=True):
    """A roof in plan. `north` in degrees clockwise from straight up, None where the job does not say."""

    rectangles: tuple[Rectangle, ...]
    north: float | None = None

    @property
    def size(self) -> tuple[float, float]:
        """Length and width of the rectangle that encloses the plan, ft."""
        found = self.rectangles
        return (
            max(r.x1 for r in found) - min(r.x0 for r in found),
            max(r.y1 for r in found) - min(r.y0 for r in found),
        )

    @property
    def least(self) -> float:
        """The least horizontal dimension: the lesser side of the rectangle that encloses the plan."""
        return min(self.size)


def plan_of(facts: Mapping[str, Fact], place: Place) -> tuple[Plan | None, tuple[Problem, ...]]:
    """The plan that a roof's facts state: job.roof.plan, or length and width; None where neither is stated."""
    north = facts.get("job.roof.north")
    turned = float(north.value.value) if north is not None and isinstance(north.value, Quantity) else None
    stated = facts.get("job.roof.plan")
    if stated is not None:
        texts = stated.value if isinstance(stated.value, tuple) else tuple(str(stated.value).split(";"))
        found, problems = _rectangles(texts, place)
        return (Plan(found, turned) if found else None), problems
    sides: list[float] = []
    for path in ("job.roof.length", "job.roof.width"):
        fact = facts.get(path)
        if fact is None or not isinstance(fact.value, Quantity):
            return None, ()
        sides.append(float(to(fact.value, "ft")))
    if min(sides) <= 0:
        return None, (Problem(place, "the roof's length and width are more than zero"),)
    return Plan((Rectangle(0.0, 0.0, sides[0], sides[1]),), turned), ()


def _rectangles(texts: tuple[str, ...], place: Place) -> tuple[tuple[Rectangle, ...], tuple[Problem, ...]]:
    found: list[Rectangle] = []
    problems: list[Problem] = []
    for text in texts:
        try:
            found.append(rectangle(text))
        except QuantityError as error:
            problems.append(Problem(place, f"job.roof.plan: {error}"))
    return ((), tuple(problems)) if problems else (tuple(found), ())


def rectangle(text: str) -> Rectangle:
    """The rectangle that a text states. Raises QuantityError with the right form."""
    match = _FORM.fullmatch(text.strip())
    if not match:
        raise QuantityError(
            f'"{text}" is no rectangle of a plan', "length x width at the lower left corner", EXAMPLE
        )
    length, width = (_feet(match[name]) for name in ("length", "width"))
    x, y = (_feet(match[name]) if match[name] else 0.0 for name in ("x", "y"))
    if length <= 0 or width <= 0:
        raise QuantityError(f'"{text}" has no area', "sides of more than zero", EXAMPLE)
    return Rectangle(x, y, x + length, y + width)


def _feet(text: str) -> float:
    return float(to(parse(text, "length"), "ft"))
