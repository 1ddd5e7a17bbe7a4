"""Zones in plan: widths, areas and shapes, worked by hand."""

from __future__ import annotations

import pytest

from cleatmark.problems import Place
from cleatmark.wind.rectangles import plan_of, rectangle
from cleatmark.wind.report import RoofWind, wind_report

from .given import facts


def areas(report: RoofWind) -> dict[str, float]:
    assert report.layout is not None
    return {region.name: region.area_sqft for region in report.layout.regions}


def zone_widths(report: RoofWind) -> dict[str, float]:
    assert report.widths is not None
    assert report.basis is not None
    return report.widths.by_zone(report.basis.block.zones)


def test_rectangle_by_height() -> None:
    """ASCE 7-16, h = 25 ft: 0.2h = 5, 0.6h = 15, 1.2h = 30 ft on 120 by 80 ft.

    Zone 3: 4 corners, each 2 x 15 x 5 - 5 x 5 = 125. Zone 2: 120 x 80 - 90 x 50 - 500. Zone 1: 90 x 50 - 60 x 20.
    """
    report = wind_report(facts())
    assert areas(report) == pytest.approx({"3": 500, "2": 4600, "1": 3300, "1'": 1200})
    assert zone_widths(report) == pytest.approx({"1": 15, "2": 15, "3": 5, "3 length": 15})


def test_l_shaped_roof_by_height() -> None:
    """ASCE 7-16, h = 20 ft: 0.2h = 4, 0.6h = 12, 1.2h = 24 ft. An L of 120 x 80 ft with 50 x 60 ft on its left end.

    Roof 120 x 80 + 50 x 60 = 12,600. Beyond 12 ft from every edge: (120 - 24) x (80 - 24) below, and above it a strip
    50 - 24 = 26 wide and 60 long (from y = 68 to y = 128): 5,376 + 1,560 = 6,936. Beyond 24 ft: 72 x 32 and a strip
    2 wide and 60 long: 2,304 + 120 = 2,424. Outward corners: 5, each 2 x 12 x 4 - 4 x 4 = 80.
    """
    report = wind_report(
        facts(length="", width="", mean_height="20 ft", plan="120 ft x 80 ft; 50 ft x 60 ft at 0 ft, 80 ft")
    )
    found = areas(report)
    assert found == pytest.approx({"3": 5 * 80, "2": 12_600 - 6_936 - 400, "1": 6_936 - 2_424, "1'": 2_424})
    assert sum(found.values()) == pytest.approx(12_600)
    assert any("re-entrant" in note for note in report.layout_notes)


def test_l_shaped_roof_by_strips() -> None:
    """ASCE 7-10 low slope: enclosing rectangle 120 x 140 ft, h = 20 ft: a = min(12, 8) = 8 ft, squares at 5 corners."""
    report = wind_report(
        facts(
            standard="ASCE 7-10",
            length="",
            width="",
            mean_height="20 ft",
            plan="120 ft x 80 ft; 50 ft x 60 ft at 0 ft, 80 ft",
        )
    )
    inside = (120 - 16) * (80 - 16) + (50 - 16) * 60
    assert areas(report) == pytest.approx({"3": 5 * 64, "2": 12_600 - inside - 320, "1": inside})


def test_t_shaped_roof_by_height() -> None:
    """ASCE 7-16, h = 20 ft: 4, 12 and 24 ft. A bar of 160 x 60 ft, and below its middle a stem of 70 x 80 ft.

    Roof 160 x 60 + 70 x 80 = 15,200. Beyond 12 ft from every edge: 136 x 36 in the bar, and the stem 70 - 24 = 46 wide
    over 80 ft (from y = 12 to y = 92): 4,896 + 3,680 = 8,576. Beyond 24: 112 x 12 + 22 x 80 = 1,344 + 1,760 = 3,104.
    Outward corners: four of the bar, two of the stem, each 2 x 12 x 4 - 4 x 4 = 80; the two re-entrant ones have none.
    """
    report = wind_report(
        facts(
            length="",
            width="",
            mean_height="20 ft",
            plan="160 ft x 60 ft at 0 ft, 80 ft; 70 ft x 80 ft at 45 ft, 0 ft",
        )
    )
    found = areas(report)
    assert found == pytest.approx({"3": 480, "2": 15_200 - 8_576 - 480, "1": 8_576 - 3_104, "1'": 3_104})
    assert sum(found.values()) == pytest.approx(15_200)


def test_u_shaped_roof_by_height() -> None:
    """ASCE 7-16, h = 15 ft: 3, 9 and 18 ft. A base of 120 x 40 ft with two legs of 30 x 60 ft.

    Roof 4,800 + 2 x 1,800 = 8,400. Beyond 9 ft: 102 x 22 in the base, each leg 30 - 18 = 12 wide over 60 ft: 2,244 +
    1,440 = 3,684. Beyond 18 ft: 84 x 4 = 336 in the base, nothing in legs of 30 ft. Six outward corners of 45.
    """
    plan = "120 ft x 40 ft; 30 ft x 60 ft at 0 ft, 40 ft; 30 ft x 60 ft at 90 ft, 40 ft"
    found = areas(wind_report(facts(length="", width="", mean_height="15 ft", plan=plan)))
    assert found == pytest.approx({"3": 270, "2": 8_400 - 3_684 - 270, "1": 3_684 - 336, "1'": 336})


def test_u_shape_has_six_outward_corners() -> None:
    plan = "120 ft x 40 ft; 30 ft x 60 ft at 0 ft, 40 ft; 30 ft x 60 ft at 90 ft, 40 ft"
    report = wind_report(facts(length="", width="", mean_height="15 ft", plan=plan))
    assert report.layout is not None
    corner = next(region for region in report.layout.regions if region.name == "3")
    assert len(corner.parts) == 6
    assert corner.area_sqft == pytest.approx(6 * (2 * 9 * 3 - 9))


def test_no_zone_one_prime_where_the_roof_is_narrow() -> None:
    """Least dimension up to 2.4h: no zone 1'; up to 1.2h: zones 2 and 3 alone."""
    assert "1'" not in areas(wind_report(facts(mean_height="34 ft", width="80 ft")))
    assert set(areas(wind_report(facts(mean_height="60 ft", width="70 ft", length="70 ft")))) == {"2", "3"}


@pytest.mark.parametrize(
    ("width", "height", "expected"),
    [
        ("80 ft", "25 ft", 8.0),  # 0.1 x 80 below 0.4 x 25
        ("80 ft", "15 ft", 6.0),  # 0.4 x 15
        ("20 ft", "15 ft", 3.0),  # 3 ft
        ("200 ft", "15 ft", 8.0),  # 0.04 x 200 above 0.4 x 15
    ],
)
def test_strip_width(width: str, height: str, expected: float) -> None:
    report = wind_report(facts(standard="ASCE 7-10", length="400 ft", width=width, mean_height=height))
    assert report.widths is not None
    assert report.widths.strip == pytest.approx(expected)


def test_gable_of_7_10_has_corners_at_the_ridge_too() -> None:
    """120 x 80 ft, a = 8: corners 4 x 64 at eaves and 4 x 64 at the ridge; zone 1 two fields of 104 x 24."""
    found = areas(wind_report(facts(standard="ASCE 7-10", shape="gable", slope="3:12")))
    assert found["3"] == pytest.approx(8 * 64)
    assert found["1"] == pytest.approx(2 * 104 * 24)


def test_hip_of_7_10() -> None:
    """120 x 80 ft, a = 8: the field is two triangles and two trapezoids between hip strips and eave strips.

    Each hip strip is 8 ft wide square to the hip, 8 x sqrt(2) along an eave. The triangle's base is measured at the
    inner edge of the eave strip; its height is half of it.
    """
    found = areas(wind_report(facts(standard="ASCE 7-10", shape="hip", slope="3:12")))
    along = 8 * 2**0.5
    base = 64 - 2 * along
    triangle = base * base / 4
    low, high = 104 - 2 * along, 40 + 2 * (8 - along)
    depth = 32 - 8
    trapezoid = (low + (low - 2 * depth)) / 2 * depth
    assert low - 2 * depth == pytest.approx(high)
    assert found["1"] == pytest.approx(2 * triangle + 2 * trapezoid)
    assert found["3"] == pytest.approx(4 * 64)


def test_above_60_ft_corner_legs_reach_twice_the_strip() -> None:
    """a = 0.1 x 80 = 8 ft; corner: 2 x 16 x 8 - 64 = 192."""
    report = wind_report(facts(standard="ASCE 7-10", mean_height="100 ft"))
    assert areas(report)["3"] == pytest.approx(4 * 192)
    assert zone_widths(report) == pytest.approx({"2": 8, "3": 8, "3 length": 16})


def test_corner_lengths_that_are_not_on_file_are_not_made_up() -> None:
    report = wind_report(facts(shape="gable", slope="3:12"))
    assert set(areas(report)) == {"1", "2e, 2n, 2r, 3e, 3r"}
    assert any("not on file" in note for note in report.layout_notes)


def test_unknown_layout_gives_a_width_and_no_areas() -> None:
    report = wind_report(facts(standard="ASCE 7-22", shape="gable", slope="4:12"))
    assert report.layout is None
    assert report.widths is not None
    assert report.widths.strip == pytest.approx(8)
    assert "not on file" in report.layout_notes[0]
    shed = wind_report(facts(shape="monoslope", slope="1:12"))
    assert zone_widths(shed) == {}


def test_ridges_of_several_rectangles_are_not_guessed() -> None:
    plan = "120 ft x 80 ft; 50 ft x 60 ft at 0 ft, 80 ft"
    report = wind_report(
        facts(standard="ASCE 7-10", shape="gable", slope="3:12", length="", width="", plan=plan)
    )
    assert report.layout is None
    assert "do not follow from the plan" in report.layout_notes[0]


def test_rectangles_that_do_not_touch() -> None:
    report = wind_report(facts(length="", width="", plan="40 ft x 40 ft; 40 ft x 40 ft at 100 ft, 0 ft"))
    assert report.layout is None
    assert "do not touch" in report.layout_notes[0]


def test_plan_against_stated_sides() -> None:
    report = wind_report(facts(length="130 ft", width="80 ft", plan="120 ft x 80 ft"))
    assert [problem.message for problem in report.problems] == [
        "roof.length is 130 ft, and the plan's rectangles reach over 120 ft"
    ]


def test_rectangle_in_metres() -> None:
    found = rectangle("30.48 m x 6.096 m at 3.048 m, 0 m")
    assert (found.x0, found.y0, found.x1, found.y1) == pytest.approx((10, 0, 110, 20))


def test_a_wrong_rectangle_is_told_with_the_right_form() -> None:
    _, problems = plan_of(facts(plan="120 x 80"), Place("job.yaml", 4, 3))
    assert str(problems[0]).startswith("job.yaml:4:3: job.roof.plan: ")
    _, problems = plan_of(facts(plan="L-shaped"), Place("job.yaml", 4, 3))
    assert 'such as "80 ft x 40 ft at 0 ft, 60 ft"' in problems[0].message
