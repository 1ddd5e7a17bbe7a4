"""Printed values of published tables and calculations, each with its source and tolerance (wind_values.yaml)."""

from __future__ import annotations

import math
from pathlib import Path
from typing import Any

import pytest
import yaml

from cleatmark.wind.coefficient import Basis
from cleatmark.wind.curves import Curve
from cleatmark.wind.edition import edition
from cleatmark.wind.library import figure
from cleatmark.wind.pressure import net_pressure
from cleatmark.wind.site import Site
from cleatmark.wind.velocity import Velocity, kz, velocity_pressure

GROUPS: list[dict[str, Any]] = yaml.safe_load(
    (Path(__file__).parent / "wind_values.yaml").read_text(encoding="utf-8")
)
ROWS = [
    pytest.param(group, row, id=f"{group['source'][:28]}-{group['quantity']}-{number}-{index}")
    for number, group in enumerate(GROUPS)
    for index, row in enumerate(group["rows"])
]


def edition_name(group: dict[str, Any]) -> str:
    return str(group.get("figure", group.get("edition", ""))).partition("/")[0]


def qh(group: dict[str, Any], row: dict[str, Any]) -> float:
    name = edition_name(group)
    if "kz" in row:
        constants = edition(name)
        return constants.constant * row["kz"] * constants.kd * row["speed"] ** 2
    return velocity_pressure(
        edition(name), row["speed"], row["exposure"], row["height"], kzt=1.0, elevation=row.get("elevation")
    ).qh


def linear(curve: Curve, area: float) -> float:
    (a1, g1), (a2, g2) = curve.points[0], curve.points[-1]
    return g1 + (g2 - g1) * (area - a1) / (a2 - a1)


def gcp(group: dict[str, Any], row: dict[str, Any], key: str = "figure") -> float:
    block = figure(group[key])
    curve = (block.inward if row.get("case") == "inward" else block.suction)[row["zone"]]
    return linear(curve, row["area"]) if "interpolation" in row else curve.at(row["area"])


def net(group: dict[str, Any], row: dict[str, Any]) -> float:
    """The level that the source prints, without the minimum unless the source prints one of its own."""
    name, sign = edition_name(group), 1 if row.get("case") == "inward" else -1
    constants, block = edition(name), figure(group["figure"])
    velocity = Velocity(qh(group, row), 1.0, 1.0, 1.0, constants.confidence, ())
    basis = Basis(
        Site(enclosure="enclosed"), constants, block, velocity, constants.gcpi["enclosed"], block.above_60
    )
    printed = net_pressure(basis, gcp(group, row), sign)[0] * group["factor"]
    return sign * max(sign * printed, row.get("printed_minimum", -math.inf))


def computed(group: dict[str, Any], row: dict[str, Any]) -> float:
    quantity, name = group["quantity"], edition_name(group)
    if quantity == "net pressure":
        return net(group, row)
    if quantity == "GCp":
        return gcp(group, row)
    if quantity == "qh":
        return qh(group, row)
    if quantity == "Kz":
        return kz(edition(name), row["exposure"], row["height"])[0]
    if quantity == "lambda":
        over = group["over"]
        return (
            kz(edition(name), row["exposure"], row["height"])[0]
            / kz(edition(name), over["exposure"], over["height"])[0]
        )
    if quantity == "net ratio":
        internal = edition(name).gcpi["enclosed"]
        return (gcp(group, row) - internal) / (gcp(group, row, "over") - internal)
    raise AssertionError(quantity)


@pytest.mark.parametrize(("group", "row"), ROWS)
def test_printed_value(group: dict[str, Any], row: dict[str, Any]) -> None:
    assert computed(group, row) == pytest.approx(row["expected"], abs=row["tolerance"])


def test_every_group_says_where_it_was_seen() -> None:
    assert len(ROWS) == 249
    for group in GROUPS:
        assert group["source"]
        assert group["seen"] in ("page", "from memory")
        assert group["confidence"] in ("low", "medium", "high")
