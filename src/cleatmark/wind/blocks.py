"""Coefficient files: their structure, and one file to its blocks. The files that ship and a user's own are alike."""

from __future__ import annotations

from pathlib import Path

from msgspec.structs import replace

from cleatmark.problems import Problem
from cleatmark.wind.curves import LAYOUTS, ZONES, Block, Confidence, Curve, Span
from cleatmark.wind.reading import Reader
from cleatmark.yamlfile import (
    ANY_KEYS,
    TEXT,
    TEXT_BY_KEY,
    Mapping,
    Node,
    Sequence,
    Text,
    check,
    either,
    keyed,
    keys,
    list_of,
    load,
    one_of,
    problem_at,
)

EDITIONS = ("ASCE 7-10", "ASCE 7-16", "ASCE 7-22")
SHAPES = ("flat", "gable", "hip", "monoslope")
ENCLOSURES = ("enclosed", "partially enclosed", "partially open", "open")

_CLOSED = ENCLOSURES[:3]
"""The classes that the roof figures of enclosed buildings are for: free roofs have figures of their own."""

_ROOF = keys(
    {"shapes": list_of(TEXT)},
    {"slope_above": TEXT, "slope_to": TEXT, "height_to": TEXT, "height_above": TEXT},
)
_ZONE_CONFIDENCE = keys({"zones": list_of(TEXT), "areas": TEXT, "confidence": TEXT, "because": TEXT}, {})
_NONE_OR_CURVES = either(one_of("none"), ANY_KEYS)
_CURVES = {
    "also": _ROOF,
    "suction": keyed(TEXT_BY_KEY),
    "inward": _NONE_OR_CURVES,
    "overhang": _NONE_OR_CURVES,
    "enclosures": list_of(TEXT),
}
_FIGURE = keys(
    {"id": TEXT, "edition": TEXT, "figure": TEXT, "roof": _ROOF, "source": TEXT, "confidence": TEXT},
    {
        **_CURVES,
        "inward_confidence": TEXT,
        "inward_note": TEXT,
        "overhang_confidence": TEXT,
        "confidence_by_zone": list_of(_ZONE_CONFIDENCE),
        "hip": keys({"slope_to": TEXT, "take": TEXT_BY_KEY, "note": TEXT}, {}),
        "height_to_width": keys({"known_to": TEXT, "confidence_beyond": TEXT}, {}),
        "same_as": TEXT,
        "zones": list_of(TEXT),
        "layout": TEXT,
    },
)
_OWN = keys(
    {
        "name": TEXT,
        "source": TEXT,
        "edition": TEXT,
        "figure": TEXT,
        "roof": _ROOF,
        "suction": keyed(TEXT_BY_KEY),
    },
    {key: shape for key, shape in _CURVES.items() if key != "suction"},
)
_OWN_FILE = keys({"blocks": list_of(_OWN)}, {})


def read_figure(path: Path) -> tuple[Block | None, str, tuple[Problem, ...]]:
    """A figure's block from one of the files that ship, the id of the figure it is the same as, and its problems."""
    root, problems = load(path)
    if not isinstance(root, Mapping):
        return None, "", problems
    problems = (*problems, *check(root, _FIGURE))
    if problems:
        return None, "", problems
    reader = Reader()
    block = _block(root, reader, path.name)
    return block, reader.text(root, "same_as"), tuple(reader.problems)


def read_own(path: Path, text: str | None = None) -> tuple[tuple[Block, ...], tuple[Problem, ...]]:
    """The blocks of a user's own file: one block, or several under `blocks`. Each has a name and a source."""
    root, problems = load(path, text=text)
    if not isinstance(root, Mapping):
        if root is not None and not problems:
            problems = (problem_at(root, 'a coefficient file holds keys and values, such as "name: ..."'),)
        return (), problems
    several = root.get("blocks") is not None
    problems = (*problems, *check(root, _OWN_FILE if several else _OWN))
    if problems:
        return (), problems
    reader = Reader()
    held = root.get("blocks")
    nodes: tuple[Node, ...] = held.items if isinstance(held, Sequence) else (root,)
    blocks = [
        replace(_block(node, reader, path.name), confidence="supplied", name=reader.text(node, "name"))
        for node in nodes
        if isinstance(node, Mapping)
    ]
    return ((), tuple(reader.problems)) if reader.problems else (tuple(blocks), ())


def _block(root: Mapping, reader: Reader, file: str) -> Block:
    roof = root.get("roof")
    spans = [_span(part, reader) for part in (roof, root.get("also")) if isinstance(part, Mapping)]
    above_60 = isinstance(roof, Mapping) and roof.get("height_above") is not None
    if isinstance(roof, Mapping):
        _heights(roof, reader)
    suction = reader.curves(root.get("suction"), "suction", -1)
    named = reader.some_of(root, "zones", ZONES)
    confidence = reader.confidence(root, "confidence", "none")
    hip = root.get("hip")
    width = root.get("height_to_width")
    return Block(
        id=reader.text(root, "id") or reader.text(root, "name"),
        edition=reader.one_of(root, "edition", EDITIONS),
        figure=reader.text(root, "figure"),
        spans=tuple(spans),
        above_60=above_60,
        zones=named or tuple(zone for zone in ZONES if zone in suction),
        source=reader.text(root, "source"),
        confidence=confidence,
        suction=suction,
        inward=_inward(root.get("inward"), suction, reader),
        overhang=reader.curves(root.get("overhang"), "overhang", -1),
        inward_confidence=reader.confidence(root, "inward_confidence", ""),
        overhang_confidence=reader.confidence(root, "overhang_confidence", ""),
        by_zone=tuple(_confidences(root.get("confidence_by_zone"), reader)),
        enclosures=reader.some_of(root, "enclosures", ENCLOSURES, _CLOSED),
        hip_take=_taken(hip.get("take"), reader) if isinstance(hip, Mapping) else {},
        hip_to=(reader.amount(hip, "slope_to", "angle", "deg") or 0.0) if isinstance(hip, Mapping) else 0.0,
        hip_note=reader.text(hip, "note") if isinstance(hip, Mapping) else "",
        h_over_b=_width(width, reader) if isinstance(width, Mapping) else None,
        no_inward=reader.text(root, "inward") == "none",
        file=file,
        layout=reader.one_of(root, "layout", LAYOUTS, "not known"),
    )


def _span(node: Mapping, reader: Reader) -> Span:
    shapes = reader.some_of(node, "shapes", SHAPES)
    above = reader.amount(node, "slope_above", "angle", "deg")
    most = reader.amount(node, "slope_to", "angle", "deg")
    if most is not None and above is not None and above >= most:
        reader.tell(node, f"slope_above {above:g} deg is not below slope_to {most:g} deg")
    return Span(shapes, 90.0 if most is None else most, above)


def _heights(roof: Mapping, reader: Reader) -> None:
    """The figures part at 60 ft: other heights are told."""
    for key in ("height_to", "height_above"):
        height = reader.amount(roof, key, "length", "ft")
        if height is not None and abs(height - 60) > 0.05:
            reader.tell(roof, f"{key}: figures part at 60 ft, and {height:g} ft stands here")
    if roof.get("height_to") is not None and roof.get("height_above") is not None:
        reader.tell(roof, "height_to and height_above are both given; keep one")


def _inward(node: Node | None, suction: dict[str, Curve], reader: Reader) -> dict[str, Curve]:
    """Inward curves by zone; a figure's one curve is every zone's."""
    curves = reader.curves(node, "inward", 1)
    everywhere = curves.pop("all", None)
    return dict.fromkeys(suction, everywhere) | curves if everywhere else curves


def _confidences(node: Node | None, reader: Reader) -> list[Confidence]:
    found: list[Confidence] = []
    for item in node if isinstance(node, Sequence) else ():
        if isinstance(item, Mapping):
            least, above, most = reader.areas(item, "areas")
            zones = reader.some_of(item, "zones", ZONES)
            confidence = reader.confidence(item, "confidence", "none")
            found.append(Confidence(zones, confidence, reader.text(item, "because"), least, above, most))
    return found


def _taken(node: Node | None, reader: Reader) -> dict[str, str]:
    entries = node.entries if isinstance(node, Mapping) else ()
    return {
        zone: other
        for entry in entries
        if isinstance(entry.value, Text)
        for zone in reader.zones(entry.key)
        for other in reader.zones(entry.value)
    }


def _width(node: Mapping, reader: Reader) -> tuple[float, str]:
    return reader.number(node, "known_to") or 0.0, reader.confidence(node, "confidence_beyond", "low")
