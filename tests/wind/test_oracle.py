"""The wind computation beside a second one, written apart: other formulas, other structure, no file of the product.

Curves stand here as equations in log10 A (those of ASCE 7-16 low slope are the equations of its commentary, C30.3, from
memory; the others were worked from the end points by hand), zones in plan as counted squares of one foot.
"""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from cleatmark.wind.report import wind_report

from .given import facts

# zone: (constant, slope per log10 A, area from, area to) of suction; "+" of inward pressure
LOW_16 = {
    "1'": (-1.9, 0.5, 100, 1000),
    "1": (-2.1120, 0.4120, 10, 500),
    "2": (-2.8297, 0.5297, 10, 500),
    "3": (-4.2595, 1.0595, 10, 500),
    "+": (0.4, -0.1, 10, 100),
}
LOW_10 = {
    "1": (-1.1, 0.1, 10, 100),
    "2": (-2.5, 0.7, 10, 100),
    "3": (-4.5, 1.7, 10, 100),
    "+": (0.4, -0.1, 10, 100),
}
GABLE_10 = {
    "1": (-1.0, 0.1, 10, 100),
    "2": (-2.2, 0.5, 10, 100),
    "3": (-3.2, 0.6, 10, 100),
    "+": (0.7, -0.2, 10, 100),
}
TALL_10 = {
    "1": (-1.4 - 0.5 / math.log10(50), 0.5 / math.log10(50), 10, 500),
    "2": (-2.3 - 0.7 / math.log10(50), 0.7 / math.log10(50), 10, 500),
    "3": (-3.2 - 0.9 / math.log10(50), 0.9 / math.log10(50), 10, 500),
}
CURVES = {
    ("ASCE 7-10", "low"): LOW_10,
    ("ASCE 7-16", "low"): LOW_16,
    ("ASCE 7-22", "low"): LOW_16,
    ("ASCE 7-10", "steep"): GABLE_10,
    ("ASCE 7-10", "tall"): TALL_10,
    ("ASCE 7-16", "tall"): TALL_10,
}
ALPHA = {
    "old": {"B": (7.0, 1200.0, 2.01), "C": (9.5, 900.0, 2.01), "D": (11.5, 700.0, 2.01)},
    "new": {"B": (7.5, 3280.0, 2.41), "C": (9.8, 2460.0, 2.41), "D": (11.5, 1935.0, 2.41)},
}
GCPI = {"enclosed": 0.18, "partially enclosed": 0.55}


def read(curve: tuple[float, float, float, float], area: float) -> float:
    constant, slope, low, high = curve
    return constant + slope * math.log10(min(max(area, low), high))


def velocity_and_kd(edition: str, speed: float, exposure: str, height: float, ground: float) -> float:
    """0.00256 Kz Kd Ke V², Kd wherever the edition puts it: the product is the same."""
    alpha, gradient, top = ALPHA["new" if edition == "ASCE 7-22" else "old"][exposure]
    kz = math.exp(math.log(top) + (math.log(max(height, 15.0)) - math.log(gradient)) * 2 / alpha)
    if edition == "ASCE 7-10" and exposure == "B" and height < 30:
        kz = max(kz, 0.70)
    ke = 1.0 if edition == "ASCE 7-10" else 10 ** (-0.0000362 * ground * math.log10(math.e))
    return 0.00256 * kz * 0.85 * ke * speed * speed


@settings(deadline=None)
@given(
    st.sampled_from(sorted(CURVES)),
    st.integers(85, 200),
    st.sampled_from("BCD"),
    st.integers(5, 60),
    st.sampled_from([1, 5, 10, 17, 50, 99, 100, 250, 500, 1000]),
    st.sampled_from(sorted(GCPI)),
    st.sampled_from([0, 1200, 5280]),
)
def test_every_pressure_twice(
    kind: tuple[str, str],
    speed: int,
    exposure: str,
    height: int,
    area: float,
    enclosure: str,
    ground: int,
) -> None:
    edition, roof = kind
    height += 60 if roof == "tall" else 0
    report = wind_report(
        facts(
            standard=edition,
            speed=f"{speed} mph",
            exposure=exposure,
            enclosure=enclosure,
            ground_elevation=f"{ground} ft",
            mean_height=f"{height} ft",
            shape="gable" if roof == "steep" else "flat",
            slope="4:12" if roof == "steep" else "1/4:12",
        ),
        [area],
        drawn=False,
    )
    q = velocity_and_kd(edition, speed, exposure, height, ground)
    curves = CURVES[kind]
    assert {row.zone for row in report.zones} == set(curves) - {"+"}
    for row in report.zones:
        suction = q * (read(curves[row.zone], area) - GCPI[enclosure])
        assert row.net_psf == pytest.approx(suction, rel=2e-4)
        assert row.strength_psf == pytest.approx(min(suction, -16.0), rel=2e-4)
        assert row.allowable_psf == pytest.approx(0.6 * min(suction, -16.0), rel=2e-4)
        inward = q * (read(curves["+"], area) + GCPI[enclosure]) if "+" in curves else 16.0
        assert row.inward_strength_psf == pytest.approx(max(inward, 16.0), rel=2e-4)
        assert row.inward_allowable_psf == pytest.approx(0.6 * max(inward, 16.0), rel=2e-4)


# Zones in plan, counted ------------------------------------------------------------------------------------------

PLANS = {
    "rectangle": ((0, 0, 150, 110),),
    "L": ((0, 0, 140, 80), (0, 80, 70, 150)),
    "T": ((0, 90, 180, 170), (60, 0, 130, 90)),
    "U": ((0, 0, 210, 70), (0, 70, 70, 150), (140, 70, 210, 150)),
    "Z": ((0, 0, 120, 80), (60, 80, 180, 160)),
}


def squares(plan: tuple[tuple[int, int, int, int], ...]) -> set[tuple[int, int]]:
    return {(x, y) for x0, y0, x1, y1 in plan for x in range(x0, x1) for y in range(y0, y1)}


def within(roof: set[tuple[int, int]], strip: int) -> set[tuple[int, int]]:
    """Squares further than a strip from every edge: a square window that reaches the strip's width finds only roof."""
    found = roof
    for dx, dy in ((1, 0), (0, 1)):
        found = {
            (x, y)
            for x, y in found
            if all((x + dx * step, y + dy * step) in found for step in range(-strip, strip + 1))
        }
    return found


def legs(roof: set[tuple[int, int]], width: int, length: int) -> set[tuple[int, int]]:
    """Squares of the corner zones: from each outward corner a leg along either edge."""
    found: set[tuple[int, int]] = set()
    for x, y in roof:
        for sx in (-1, 1):
            for sy in (-1, 1):
                if (x + sx, y) not in roof and (x, y + sy) not in roof:
                    for along in range(length):
                        for across in range(width):
                            found.add((x - sx * along, y - sy * across))
                            found.add((x - sx * across, y - sy * along))
    return found & roof


@pytest.mark.parametrize("name", PLANS)
def test_zones_of_7_16_counted_in_squares(name: str) -> None:
    """h = 25 ft: legs 5 ft wide and 15 ft long, strips to 15 and 30 ft."""
    found = areas(name, standard="ASCE 7-16", mean_height="25 ft")
    roof = squares(PLANS[name])
    corner, edge, inner = legs(roof, 5, 15), within(roof, 15), within(roof, 30)
    assert found == pytest.approx(
        {
            "3": len(corner),
            "2": len(roof - edge - corner),
            "1": len(edge - inner - corner),
            "1'": len(inner - corner),
        }
    )


@pytest.mark.parametrize("name", PLANS)
def test_zones_of_7_10_counted_in_squares(name: str) -> None:
    """h = 20 ft: a = 0.4 h = 8 ft, since a tenth of the least dimension is more: squares at outward corners."""
    found = areas(name, standard="ASCE 7-10", mean_height="20 ft")
    roof = squares(PLANS[name])
    corner, edge = legs(roof, 8, 8), within(roof, 8)
    assert found == pytest.approx({"3": len(corner), "2": len(roof - edge - corner), "1": len(edge - corner)})


def areas(name: str, **changes: str) -> dict[str, float]:
    plan = "; ".join(f"{x1 - x0} ft x {y1 - y0} ft at {x0} ft, {y0} ft" for x0, y0, x1, y1 in PLANS[name])
    report = wind_report(facts(length="", width="", plan=plan, **changes))
    assert report.layout is not None
    return {region.name: region.area_sqft for region in report.layout.regions}
