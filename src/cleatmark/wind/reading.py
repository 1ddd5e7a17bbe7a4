"""Parts of coefficient files to values, each mistake told at its place."""

from __future__ import annotations

import re

from cleatmark.problems import Problem, did_you_mean
from cleatmark.units import Quantity, QuantityError, parse, to
from cleatmark.wind.curves import CONFIDENCES, ZONES, Curve
from cleatmark.yamlfile import Mapping, Node, Sequence, Text, problem_at

LARGEST_GCP = 10.0
"""No roof figure goes near it: a larger number is a pressure or a slip."""

_PLAIN = re.compile(r"-?[0-9]{1,9}(?:\.[0-9]{1,9})?")
"""A number without a unit: nearly all that a coefficient file holds, and not worth the parser of quantities."""


class Reader:
    """Reads the values of one file and keeps the problems found."""

    def __init__(self) -> None:
        self.problems: list[Problem] = []

    def tell(self, node: Node, message: str, *help: str) -> None:
        self.problems.append(problem_at(node, message, *help))

    def text(self, holder: Mapping, key: str, default: str = "") -> str:
        node = holder.get(key)
        return " ".join(node.value.split()) if isinstance(node, Text) else default

    def amount(self, holder: Mapping, key: str, kind: str, unit: str) -> float | None:
        """The amount under a key in a unit; None where nothing stands there or it is no such quantity."""
        node = holder.get(key)
        if not isinstance(node, Text):
            return None
        if kind == "number" and _PLAIN.fullmatch(node.value):
            return float(node.value)
        found = self.quantity(node, key, kind)
        return None if found is None else float(to(found, unit))

    def quantity(self, node: Text, key: str, kind: str) -> Quantity | None:
        try:
            return parse(node.value, kind)
        except QuantityError as error:
            self.tell(node, f"{key}: {error}")
            return None

    def number(self, holder: Mapping, key: str) -> float | None:
        return self.amount(holder, key, "number", "")

    def words(self, node: Node | None) -> tuple[str, ...]:
        if isinstance(node, Text):
            return (node.value,) if node.value else ()
        if isinstance(node, Sequence):
            return tuple(item.value for item in node if isinstance(item, Text) and item.value)
        return ()

    def one_of(self, holder: Mapping, key: str, choices: tuple[str, ...], default: str = "") -> str:
        node = holder.get(key)
        if not isinstance(node, Text):
            return default
        if node.value not in choices:
            expected = ", ".join(choices)
            self.tell(
                node,
                f'{key}: "{node.value}" is not one of the choices; expected {expected}',
                *did_you_mean(node.value, choices),
            )
            return default
        return node.value

    def some_of(
        self, holder: Mapping, key: str, choices: tuple[str, ...], default: tuple[str, ...] = ()
    ) -> tuple[str, ...]:
        node = holder.get(key)
        words = self.words(node)
        for word in words:
            if word not in choices and node is not None:
                expected = ", ".join(choices)
                self.tell(
                    node,
                    f'{key}: "{word}" is not one of the choices; expected {expected}',
                    *did_you_mean(word, choices),
                )
        return tuple(word for word in words if word in choices) or default

    def confidence(self, holder: Mapping, key: str, default: str) -> str:
        return self.one_of(holder, key, CONFIDENCES[:-1], default)

    def zones(self, node: Text) -> tuple[str, ...]:
        """The zones that a key names: "1, 2e"."""
        names = tuple(part.strip() for part in node.value.split(",") if part.strip())
        for name in names:
            if name not in ZONES:
                self.tell(
                    node,
                    f'"{name}" is no roof zone; zones are {", ".join(ZONES)}',
                    *did_you_mean(name, ZONES),
                )
        return tuple(name for name in names if name in ZONES)

    def curves(self, node: Node | None, what: str, sign: int) -> dict[str, Curve]:
        """Curves by zone; `sign` is -1 for suction and 1 for pressure toward the surface."""
        found: dict[str, Curve] = {}
        for entry in node.entries if isinstance(node, Mapping) else ():
            zones = ("all",) if entry.key.value == "all" else self.zones(entry.key)
            curve = self.curve(entry.value, f"{what}, zone {entry.key.value}", sign)
            for zone in zones:
                if zone in found:
                    self.tell(entry.key, f"{what}: zone {zone} is given twice")
                elif curve is not None:
                    found[zone] = curve
        return found

    def curve(self, node: Node, what: str, sign: int) -> Curve | None:
        """A curve as `{10: -1.0, 100: -0.9}`: areas in sq ft or with their unit, ascending."""
        if not isinstance(node, Mapping) or not node.entries:
            self.tell(node, f"{what}: expected areas with their GCp, such as {{10: -1.0, 100: -0.9}}")
            return None
        points: list[tuple[float, float]] = []
        for entry in node.entries:
            area, gcp = self._area(entry.key, what), self._gcp(entry.value, what, sign)
            if area is None or gcp is None:
                return None
            if points and area <= points[-1][0]:
                self.tell(
                    entry.key, f"{what}: areas go up from point to point, and {entry.key.value} does not"
                )
                return None
            if points and abs(gcp) > abs(points[-1][1]) + 1e-12:
                self.tell(
                    entry.value,
                    f"{what}: GCp does not grow with the area, and {gcp:g} is more than {points[-1][1]:g}",
                )
                return None
            points.append((area, gcp))
        return Curve(tuple(points))

    def _area(self, node: Text, what: str) -> float | None:
        if _PLAIN.fullmatch(node.value):
            value = float(node.value)
        else:
            found = self.quantity(node, what, "area")
            if found is None:
                return None
            value = float(found.value)
        if value <= 0:
            self.tell(node, f"{what}: an area is more than zero")
            return None
        return value

    def _gcp(self, node: Node, what: str, sign: int) -> float | None:
        if not isinstance(node, Text):
            self.tell(node, f"{what}: one GCp is expected for an area, such as -1.0")
            return None
        if _PLAIN.fullmatch(node.value):
            value = float(node.value)
        else:
            found = self.quantity(node, what, "number")
            if found is None:
                return None
            value = float(found.value)
        if value * sign < 0:
            names = ("suction is negative", "pressure toward the roof is positive")
            self.tell(node, f"{what}: {names[sign > 0]}, and {node.value} is not")
            return None
        if abs(value) > LARGEST_GCP:
            self.tell(
                node, f"{what}: {node.value} is no pressure coefficient; expected one such as {sign * 1.1:g}"
            )
            return None
        return value

    def areas(self, holder: Mapping, key: str) -> tuple[float, float, float]:
        """`to 10`, `1 to 50`, `above 100`, in sq ft, as least, above, most."""
        node = holder.get(key)
        text = self.text(holder, key)
        match = re.fullmatch(r"(?:([0-9.]+) )?to ([0-9.]+)|above ([0-9.]+)", text)
        if not match:
            if node is not None:
                self.tell(
                    node, f'{key}: "{text}" is no range of areas; expected "1 to 50", "to 10" or "above 100"'
                )
            return 0.0, 0.0, float("inf")
        if match[3]:
            return 0.0, float(match[3]), float("inf")
        return float(match[1] or 0), 0.0, float(match[2])
