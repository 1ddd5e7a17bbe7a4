"""A gauge beside a length, as a table states a sheet's least thickness without saying of what."""

from __future__ import annotations

import pytest

from cleatmark.units import parse
from cleatmark.units.order import orderings


@pytest.mark.parametrize(
    ("gauge", "least", "order"),
    [("24 ga", "0.019 in", 1), ("24 ga", "0.030 in", -1), ("29 ga", "0.019 in", -1)],
)
def test_a_steel_gauge_is_placed_beside_a_length(gauge: str, least: str, order: int) -> None:
    """Gauges of steel by the manufacturers' standard gauge, common practice: 24 is 0.0239, 29 is 0.0135 in bare."""
    sheet, length = parse(gauge, "thickness"), parse(least, "length")
    assert orderings(sheet, length, metal_a="steel") == {order}
    assert orderings(length, sheet, metal_b="steel") == {-order}


def test_a_gauge_of_a_metal_that_has_none_says_nothing() -> None:
    sheet, length = parse("24 ga", "thickness"), parse("0.024 in", "length")
    assert orderings(sheet, length, metal_a="aluminum") != {1}
