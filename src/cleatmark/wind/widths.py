"""How wide the zones of a roof are, in plan, by edition and figure."""

from __future__ import annotations

from functools import cache

from msgspec import Struct

from cleatmark.problems import InputError
from cleatmark.wind.library import FOLDER
from cleatmark.wind.reading import Reader
from cleatmark.wind.steps import Step, figure
from cleatmark.yamlfile import Mapping, load


class Rules(Struct, frozen=True):
    """The factors of geometry.yaml by layout; lengths in ft."""

    strip: dict[str, float]
    by_height: dict[str, float]
    above_60: dict[str, float]


@cache
def rules() -> Rules:
    """The rules that ship. Raises InputError where the file is broken."""
    root, problems = load(FOLDER / "geometry.yaml")
    if not isinstance(root, Mapping) or problems:
        raise InputError(problems)
    reader = Reader()

    def part(key: str, *names: str) -> dict[str, float]:
        node = root.get(key)
        if not isinstance(node, Mapping):
            return {}
        read = {name: reader.number(node, name) for name in names}
        read["least"] = reader.amount(node, "least", "length", "ft") if node.get("least") else 0.0
        return {name: value or 0.0 for name, value in read.items()}

    found = Rules(
        part("strip", "of_width", "of_height", "least_of_width"),
        part("by_height", "corner_width", "corner_length", "edge", "inner"),
        part("above_60_ft", "of_width", "corner_length"),
    )
    if reader.problems:
        raise InputError(reader.problems)
    return found


class Widths(Struct, frozen=True):
    """Widths in ft in plan, by what they are, with the working.

    strip   of the edge strip; inner how far in zone 1 goes, None where it has no inner end
    corner  width and length of a corner zone's legs, None where it is not known
    drawn   whether the figure's layout is known, so that the strip is the width of its zones
    """

    strip: float
    corner: tuple[float, float] | None
    inner: float | None
    steps: tuple[Step, ...]
    drawn: bool = True

    def by_zone(self, zones: tuple[str, ...]) -> dict[str, float]:
        """Widths by zone name; "3 length" is the length of a corner leg along its edge, where it is not square. None
        where the layout is not known."""
        found: dict[str, float] = {}
        for zone in zones if self.drawn else ():
            if zone.startswith("2") or (zone.startswith("3") and self.corner is None):
                found[zone] = self.strip
            elif zone.startswith("3") and self.corner is not None:
                found[zone] = self.corner[0]
                if self.corner[1] != self.corner[0]:
                    found[f"{zone} length"] = self.corner[1]
            elif zone == "1" and self.inner is not None:
                found[zone] = self.inner - self.strip
        return found


def widths(layout: str, height: float, least: float | None, named: str) -> Widths | None:
    """The widths for a layout; None where they need the least horizontal dimension and it is not stated.

    height, least  mean roof height and least horizontal dimension, ft
    named          the figure, for the working
    """
    if layout == "by height":
        return _by_height(height, named)
    if least is None:
        return None
    return _above_60(least, named) if layout == "strips and legs" else _strip(layout, height, least, named)


def _by_height(height: float, named: str) -> Widths:
    factors = rules().by_height
    edge, inner = factors["edge"] * height, factors["inner"] * height
    leg, length = factors["corner_width"] * height, factors["corner_length"] * height
    shown = figure(height, 2)
    steps = (
        Step("zone 3: legs 0.2 h wide", f"0.2 × {shown} ft", f"{figure(leg, 2)} ft", named),
        Step("zone 3: legs 0.6 h long", f"0.6 × {shown} ft", f"{figure(length, 2)} ft", named),
        Step("zone 2: to 0.6 h from the edge", f"0.6 × {shown} ft", f"{figure(edge, 2)} ft", named),
        Step("zone 1: to 1.2 h from the edge", f"1.2 × {shown} ft", f"{figure(inner, 2)} ft", named),
    )
    return Widths(edge, (leg, length), inner, steps)


def _above_60(least: float, named: str) -> Widths:
    factors = rules().above_60
    a = max(factors["of_width"] * least, factors["least"])
    length = factors["corner_length"] * a
    numbers = f"max({figure(factors['of_width'])} × {figure(least, 2)}, {figure(factors['least'])})"
    steps = (
        Step("a = max(0.1 W, 3 ft), W the least horizontal dimension", numbers, f"{figure(a, 2)} ft", named),
        Step("zone 3: legs 2a long", f"2 × {figure(a, 2)}", f"{figure(length, 2)} ft", named),
    )
    return Widths(a, (a, length), None, steps)


def _strip(layout: str, height: float, least: float, named: str) -> Widths:
    factors = rules().strip
    by_width, by_height = factors["of_width"] * least, factors["of_height"] * height
    floor = max(factors["least_of_width"] * least, factors["least"])
    a = max(min(by_width, by_height), floor)
    numbers = f"max(min(0.1 × {figure(least, 2)}, 0.4 × {figure(height, 2)}), 0.04 × {figure(least, 2)}, 3)"
    symbols = "a = max(min(0.1 W, 0.4 h), 0.04 W, 3 ft), W the least horizontal dimension"
    known = layout in ("strips and squares", "ridge strips and squares")
    step = Step(symbols, numbers, f"{figure(a, 2)} ft", named)
    return Widths(a, (a, a) if known else None, None, (step,), drawn=layout != "not known")
