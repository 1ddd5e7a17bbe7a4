"""Pressures worked by hand, each edition's own rules, and the minimum as the last step."""

from __future__ import annotations

import math

import pytest

from cleatmark.wind.pressure import ZonePressure
from cleatmark.wind.report import RoofWind, wind_report

from .given import facts


def row(report: RoofWind, zone: str, area: float = 10.0) -> ZonePressure:
    found = report.zone(zone, area)
    assert found is not None
    return found


def at(zone: str, area: float = 10.0, **changes: str) -> ZonePressure:
    return row(wind_report(facts(**changes)), zone, area)


def test_7_16_low_slope_by_hand() -> None:
    """120 mph, C, 25 ft: Kz = 2.01 (25/900)^(2/9.5) = 0.9450; qh = 0.00256 x 0.9450 x 0.85 x 14400 = 29.62 psf.

    Zone 2 at 10 sq ft: 29.62 x (-2.3 - 0.18) = -73.5; inward 29.62 x (0.3 + 0.18) = 14.2, below the minimum of 16.
    """
    kz = 2.01 * (25 / 900) ** (2 / 9.5)
    qh = 0.00256 * kz * 0.85 * 120**2
    found = at("2")
    assert found.strength_psf == pytest.approx(qh * -2.48)
    assert found.allowable_psf == pytest.approx(0.6 * qh * -2.48)
    assert found.inward_net_psf == pytest.approx(qh * 0.48)
    assert (found.inward_strength_psf, found.inward_allowable_psf) == pytest.approx((16.0, 9.6))


def test_7_22_has_kd_in_the_pressure() -> None:
    """Kz = 2.41 (25/2460)^(2/9.8); Kd 0.85 once, in p and not in qh."""
    report = wind_report(facts(standard="ASCE 7-22"))
    kz = 2.41 * (25 / 2460) ** (2 / 9.8)
    assert report.basis is not None
    assert report.basis.velocity.qh == pytest.approx(0.00256 * kz * 120**2)
    assert row(report, "3").strength_psf == pytest.approx(0.00256 * kz * 120**2 * 0.85 * (-3.2 - 0.18))


def test_kz_floor_of_7_10_holds_in_exposure_b_below_30_ft_alone() -> None:
    def kz(**changes: str) -> float:
        basis = wind_report(facts(**changes)).basis
        assert basis is not None
        return basis.velocity.kz

    assert kz(standard="ASCE 7-10", exposure="B", mean_height="15 ft") == 0.70
    assert kz(standard="ASCE 7-16", exposure="B", mean_height="15 ft") == pytest.approx(0.575, abs=0.001)
    assert kz(standard="ASCE 7-10", exposure="C", mean_height="5 ft") == pytest.approx(
        kz(standard="ASCE 7-10", exposure="C", mean_height="15 ft")
    )


def test_ground_elevation() -> None:
    """Ke = e^(-0.0000362 x 5000) = 0.834; none in ASCE 7-10; 1.0, with a notice, where it is not stated."""
    low, high = at("2"), at("2", ground_elevation="5000 ft")
    assert high.net_psf == pytest.approx((low.net_psf or 0) * math.exp(-0.181))
    assert (
        at("2", standard="ASCE 7-10", ground_elevation="5000 ft").net_psf
        == at("2", standard="ASCE 7-10").net_psf
    )
    unstated = wind_report(facts(ground_elevation=""))
    assert row(unstated, "2").net_psf == low.net_psf
    assert any("Ke is taken as 1.0" in notice for notice in unstated.notices)


@pytest.mark.parametrize(
    ("enclosure", "gcpi"), [("enclosed", 0.18), ("partially enclosed", 0.55), ("partially open", 0.18)]
)
def test_internal_pressure_adds_to_both_cases(enclosure: str, gcpi: float) -> None:
    report = wind_report(facts(enclosure=enclosure))
    assert report.basis is not None
    qh = report.basis.velocity.qh
    found = row(report, "2")
    assert found.net_psf == pytest.approx(qh * (-2.3 - gcpi))
    assert found.inward_net_psf == pytest.approx(qh * (0.3 + gcpi))


def test_minimum_governs_suction_too_and_comes_last() -> None:
    found = at("1'", speed="60 mph")
    assert found.net_psf is not None
    assert found.net_psf > -16
    assert (found.strength_psf, found.allowable_psf) == pytest.approx((-16.0, -9.6))
    texts = [str(step) for step in found.steps]
    where = next(index for index, text in enumerate(texts) if "minimum" in text)
    assert "governs: -16.00 psf (Sec. 30.2.2)" in texts[where]
    assert texts[where - 1].startswith("p = qh")
    assert texts[where + 1].startswith("suction: allowable = 0.6")


def test_interpolation_is_in_the_logarithm_of_the_area() -> None:
    """7-16 zone 3: -3.2 at 10 to -1.4 at 500 sq ft: at 50 sq ft -3.2 + 1.8 log10(5)/log10(50) = -2.459."""
    assert at("3", 50).gcp == pytest.approx(-3.2 + 1.8 * math.log10(5) / math.log10(50))
    assert at("3", 2).gcp == -3.2
    assert at("3", 900).gcp == -1.4
    assert at("1'", 100).gcp == -0.9


def test_steps_show_symbols_numbers_result_and_section() -> None:
    texts = [str(step) for step in at("3", 50).steps]
    assert texts[0] == (
        "GCp = -3.2 + 1.8 × log10(50/10)/log10(500/10) = -2.459 (ASCE 7-16, Fig. 30.3-2A, zone 3, 50 sq ft)"
    )
    assert texts[1] == (
        "p = qh (GCp - GCpi) = 29.62 × (-2.459 - (+0.18)) = -78.18 psf (Eq. 30.3-1; GCpi by Table 26.13-1, enclosed)"
    )


def test_parapet_relieves_the_corner_and_raises_inward() -> None:
    """3 ft all round: zone 3 as zone 2; inward as wall 4 and 5, 1.0 x 0.9 at 10 sq ft."""
    low, high = at("3", parapet="2.9 ft"), at("3", parapet="3 ft")
    assert (low.gcp, high.gcp) == (-3.2, -2.3)
    assert high.inward_gcp == pytest.approx(0.9)
    assert low.inward_gcp == pytest.approx(0.3)
    assert any("whole perimeter" in notice for notice in wind_report(facts(parapet="3 ft")).notices)
    assert at("3r", parapet="4 ft", shape="gable", slope="3:12").gcp == -3.6


def test_hip_of_7_10_up_to_25_degrees_takes_zone_2_at_the_corner() -> None:
    """5.5:12 is 24.6 degrees, 5.75:12 is 25.6."""
    assert at("3", standard="ASCE 7-10", shape="hip", slope="5.5:12").gcp == -1.7
    assert at("3", standard="ASCE 7-10", shape="hip", slope="5.75:12").gcp == -2.6
    assert at("3", standard="ASCE 7-10", shape="gable", slope="5.5:12").gcp == -2.6


@pytest.mark.parametrize(
    ("slope", "figure"),
    [
        ("0:12", "30.3-2A"),
        ("1.47:12", "30.3-2A"),
        ("1.48:12", "30.3-2B"),
        ("4.36:12", "30.3-2B"),
        ("4.37:12", "30.3-2C"),
        ("6:12", "30.3-2C"),
        ("6.12:12", "30.3-2D"),
        ("12:12", "30.3-2D"),
    ],
)
def test_slope_classes_are_open_below_and_closed_above(slope: str, figure: str) -> None:
    basis = wind_report(facts(shape="gable", slope=slope)).basis
    assert basis is not None
    assert basis.block.figure == f"Fig. {figure}"


@pytest.mark.parametrize(
    ("slope", "figure"),
    [
        ("0.628:12", "30.3-2A"),  # tan 3 deg is 0.6289 in 12
        ("0.63:12", "30.3-5A"),
        ("2.115:12", "30.3-5A"),  # tan 10 deg is 2.1159 in 12
        ("2.117:12", "30.3-5B"),
        ("6.928:12", "30.3-5B"),  # tan 30 deg is 6.9282 in 12
        ("6.93:12", ""),
    ],
)
def test_slope_classes_of_monoslopes(slope: str, figure: str) -> None:
    report = wind_report(facts(shape="monoslope", slope=slope))
    if report.basis is None:
        assert not figure
        assert "no figure on file for a monoslope roof" in report.refused
    else:
        assert report.basis.block.figure == f"Fig. {figure}"


@pytest.mark.parametrize(
    ("height", "figure"), [("60.0 ft", "30.3-2A"), ("60.1 ft", "30.5-1"), ("18.288 m", "30.3-2A")]
)
def test_60_ft_itself_is_low_rise(height: str, figure: str) -> None:
    basis = wind_report(facts(mean_height=height)).basis
    assert basis is not None
    assert basis.block.figure == f"Fig. {figure}"


def test_above_60_ft_has_its_own_figure() -> None:
    assert at("1", standard="ASCE 7-10", mean_height="60 ft").gcp == -1.0
    high = at("1", standard="ASCE 7-10", mean_height="61 ft")
    assert high.gcp == -1.4
    assert high.inward_gcp is None
    assert high.inward_strength_psf == 16.0


def test_steep_roof_above_60_ft_takes_the_low_rise_curve_at_medium() -> None:
    found = at("1", standard="ASCE 7-10", shape="gable", slope="4:12", mean_height="80 ft")
    assert (found.gcp, found.confidence) == (-0.9, "medium")


def test_alternative_below_90_ft_only_where_it_is_asked_for() -> None:
    changes = {"standard": "ASCE 7-10", "mean_height": "80 ft", "width": "90 ft"}
    assert at("1", **changes).gcp == -1.4
    assert at("1", low_rise_alternative="yes", **changes).gcp == -1.0
    assert at("1", low_rise_alternative="yes", **{**changes, "width": "70 ft"}).gcp == -1.4
    assert at("1", low_rise_alternative="yes", **{**changes, "mean_height": "90 ft"}).gcp == -1.4
    assert "low_rise_alternative" in [item.id for item in wind_report(facts(**changes)).advice]


def test_overhangs() -> None:
    """7-16: net of both faces, no GCpi: qh x -3.2 in the corner. 7-22: roof less wall, with GCpi."""
    report = wind_report(facts(overhang="2 ft"))
    assert report.basis is not None
    corner = next(item for item in report.overhangs if item.zone == "3")
    assert corner.strength_psf == pytest.approx(report.basis.velocity.qh * -3.2)
    newer = wind_report(facts(overhang="2 ft", standard="ASCE 7-22"))
    assert newer.basis is not None
    corner = next(item for item in newer.overhangs if item.zone == "3")
    assert corner.gcp == pytest.approx(-3.2 - 0.9)
    assert corner.strength_psf == pytest.approx(newer.basis.velocity.qh * 0.85 * (-4.1 - 0.18))
    steep = wind_report(facts(overhang="2 ft", shape="gable", slope="3:12"))
    assert all(item.refused and item.strength_psf is None for item in steep.overhangs)
    assert wind_report(facts()).overhangs == ()
