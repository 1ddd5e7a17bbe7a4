"""Where on its sheet a drawing has anything drawn: a report leaves the white edge away."""

from __future__ import annotations

import re
from collections.abc import Iterator

from lxml import etree

EDGE = 10.0
"""White left around what is drawn, in the sheet's units."""
DIMENSIONS = 48.0
"""Room around the outline for its dimensions."""
MARK = 60.0
"""How far a north arrow reaches from its middle."""

_NUMBER = re.compile(r"-?\d+(?:\.\d+)?")
_MOVED = re.compile(r"translate\((-?[\d.]+)[ ,]+(-?[\d.]+)\)")
_PLACES = {"x": "x", "x1": "x", "x2": "x", "cx": "x", "y": "y", "y1": "y", "y2": "y", "cy": "y"}
_LETTER = 0.64
"""A letter's width over the size of its type, at most on average."""

Box = tuple[float, float, float, float]


def sheet_of(root: etree._Element) -> Box | None:
    """The sheet: its left, top, width and height."""
    numbers = [float(found) for found in _NUMBER.findall(str(root.get("viewBox", "")))]
    return (
        (numbers[0], numbers[1], numbers[2], numbers[3])
        if len(numbers) == 4 and min(numbers[2:]) > 0
        else None
    )


def drawn_box(root: etree._Element, close: bool = False) -> Box | None:
    """Left, top, width and height of what is drawn, with an edge; the sheet where that cannot be told.

    A rectangle of the whole sheet is its ground and counts for nothing. `close` takes the outlines alone with
    room for their dimensions, and leaves title and key away. None where the sheet is not known.
    """
    sheet = sheet_of(root)
    if sheet is None:
        return None
    left, top, wide, high = sheet
    across: list[float] = []
    down: list[float] = []
    for element in root:
        if _name(element) in ("title", "desc", "defs") or _is_ground(element, sheet):
            continue
        if close and _name(element) != "path":
            continue
        for axis, value in _reach(element):
            (across if axis == "x" else down).append(value)
    if not across or not down:
        return sheet
    edge = DIMENSIONS if close else EDGE
    x, y = max(left, min(across) - edge), max(top, min(down) - edge)
    right, bottom = min(left + wide, max(across) + edge), min(top + high, max(down) + edge)
    told = right - x > wide / 50 and bottom - y > high / 50
    return (x, y, right - x, bottom - y) if told else sheet


def _is_ground(element: etree._Element, sheet: Box) -> bool:
    sizes = (element.get("width"), element.get("height"))
    return _name(element) == "rect" and sizes == (f"{sheet[2]:g}", f"{sheet[3]:g}")


def _name(element: etree._Element) -> str:
    return etree.QName(element).localname if isinstance(element.tag, str) else ""


def _reach(element: etree._Element) -> Iterator[tuple[str, float]]:
    """What the element and all within it reach; a group set elsewhere is taken by its place and MARK around it."""
    moved = _MOVED.match(str(element.get("transform", "")))
    if moved:
        for axis, value in (("x", float(moved[1])), ("y", float(moved[2]))):
            yield axis, value - MARK
            yield axis, value + MARK
        return
    yield from _extent(element)
    for child in element:
        yield from _reach(child)


def _extent(element: etree._Element) -> Iterator[tuple[str, float]]:
    """Values that the element reaches on each axis."""
    for key, axis in _PLACES.items():
        if element.get(key) is not None:
            value = _value(element, key)
            yield axis, value
            if key in ("x", "y"):
                yield axis, value + _value(element, "width" if key == "x" else "height")
    path = str(element.get("d", ""))
    if not set(path) & set("HVACSQThvacsqtml"):
        numbers = [float(found) for found in _NUMBER.findall(path)]
        yield from (("y" if n % 2 else "x", value) for n, value in enumerate(numbers))
    if _name(element) == "text":
        yield from _text(element)


def _text(element: etree._Element) -> Iterator[tuple[str, float]]:
    size = _value(element, "font-size")
    reach = len("".join(str(part) for part in element.itertext())) * size * _LETTER
    before = {"middle": 0.5, "end": 1.0}.get(str(element.get("text-anchor")), 0.0) * reach
    if element.get("transform"):
        return
    yield "x", _value(element, "x") - before
    yield "x", _value(element, "x") - before + reach
    yield "y", _value(element, "y") - size


def _value(element: etree._Element, key: str) -> float:
    found = _NUMBER.match(str(element.get(key, "")))
    return float(found[0]) if found else 0.0
