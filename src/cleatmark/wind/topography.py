"""The topographic factor Kzt worked from a hill, ridge or escarpment. All multipliers are from memory."""

from __future__ import annotations

import math
from functools import cache

from msgspec import Struct

from cleatmark.problems import InputError
from cleatmark.wind.library import FOLDER
from cleatmark.wind.reading import Reader
from cleatmark.wind.steps import Step, figure
from cleatmark.yamlfile import Mapping, load


class Hill(Struct, frozen=True):
    """A hill, ridge or escarpment and the building on it. Lengths in ft.

    shape        ridge, escarpment or hill
    height       H, of the hill above the upwind terrain
    half_length  Lh, from the crest upwind to where the ground is at half of H
    distance     x, from the crest to the building
    side         upwind or downwind of the crest
    """

    shape: str
    height: float
    half_length: float
    distance: float
    side: str


class HillShape(Struct, frozen=True):
    """Multipliers of one shape; K1 over H/Lh by exposure category."""

    k1: dict[str, float]
    gamma: float
    mu: dict[str, float]


class Topography(Struct, frozen=True):
    """The figure's multipliers, and the least hill that it is for."""

    section: str
    confidence: str
    steepest: float
    least_ratio: float
    least_height: dict[str, float]
    shapes: dict[str, HillShape]


@cache
def topography() -> Topography:
    """The multipliers that ship. Raises InputError where the file is broken."""
    root, problems = load(FOLDER / "topography.yaml")
    if not isinstance(root, Mapping) or problems:
        raise InputError(problems)
    reader = Reader()
    least, shapes = root.get("least"), root.get("shapes")
    if not isinstance(least, Mapping) or not isinstance(shapes, Mapping):
        raise InputError(problems)
    found = Topography(
        reader.text(root, "section"),
        reader.confidence(root, "confidence", "none"),
        reader.number(root, "steepest") or 0.0,
        reader.number(least, "rise_to_length") or 0.0,
        _amounts(least, "heights", reader, "length", "ft"),
        {
            entry.key.value: HillShape(
                _amounts(entry.value, "k1", reader),
                reader.number(entry.value, "gamma") or 0.0,
                {side: reader.number(entry.value, f"mu_{side}") or 0.0 for side in ("upwind", "downwind")},
            )
            for entry in shapes.entries
            if isinstance(entry.value, Mapping)
        },
    )
    if reader.problems:
        raise InputError(reader.problems)
    return found


def _amounts(
    holder: Mapping, key: str, reader: Reader, kind: str = "number", unit: str = ""
) -> dict[str, float]:
    node = holder.get(key)
    entries = node.entries if isinstance(node, Mapping) else ()
    inner = node if isinstance(node, Mapping) else holder
    return {entry.key.value: reader.amount(inner, entry.key.value, kind, unit) or 0.0 for entry in entries}


def topographic_factor(hill: Hill, exposure: str, z: float) -> tuple[float, tuple[Step, ...]]:
    """Kzt at a height z above the ground at the building (ft), with its working.

    1.0 where the hill is lower or flatter than the least that the figure is for.
    """
    data = topography()
    shape, section = data.shapes[hill.shape], data.section
    ratio = hill.height / hill.half_length
    least = data.least_height[exposure]
    if ratio < data.least_ratio or hill.height < least:
        why = (
            f"H/Lh = {figure(ratio, 3)} is below {figure(data.least_ratio)}"
            if ratio < data.least_ratio
            else f"H = {figure(hill.height, 1)} ft is below {figure(least)} ft in Exposure {exposure}"
        )
        return 1.0, (Step("Kzt", "", f"1.0, since {why}", section),)
    steep = ratio > data.steepest
    used = data.steepest if steep else ratio
    length = 2 * hill.height if steep else hill.half_length
    named = "2H" if steep else "Lh"
    k1 = shape.k1[exposure] * used
    mu = shape.mu[hill.side]
    k2 = max(0.0, 1 - hill.distance / (mu * length))
    k3 = math.exp(-shape.gamma * z / length)
    factor = (1 + k1 * k2 * k3) ** 2
    return factor, (
        Step(
            "K1 = k H/Lh",
            f"{figure(shape.k1[exposure])} × {figure(used, 3)}"
            + (f" (H/Lh is {figure(ratio, 3)}; at most {figure(data.steepest)} counts)" if steep else ""),
            figure(k1, 3),
            section,
        ),
        Step(
            f"K2 = 1 - x/(μ {named})",
            f"1 - {figure(hill.distance, 1)}/({figure(mu)} × {figure(length, 1)})",
            figure(k2, 3),
            section,
        ),
        Step(
            f"K3 = e^(-γ z/{named})",
            f"e^(-{figure(shape.gamma)} × {figure(z, 1)}/{figure(length, 1)})",
            figure(k3, 3),
            section,
        ),
        Step(
            "Kzt = (1 + K1 K2 K3)²",
            f"(1 + {figure(k1, 3)} × {figure(k2, 3)} × {figure(k3, 3)})²",
            figure(factor, 3),
            section,
        ),
    )
