"""What is not known is refused by name, with the ways out; what is medium has a notice; nothing is filled in."""

from __future__ import annotations

import pytest

from cleatmark.wind.curves import CONFIDENCES
from cleatmark.wind.library import EDITIONS, figure, figures
from cleatmark.wind.report import wind_report

from .given import facts


@pytest.mark.parametrize(
    ("changes", "figure"),
    [
        ({"standard": "ASCE 7-22", "shape": "gable", "slope": "3:12"}, "Fig. 30.3-2B"),
        ({"standard": "ASCE 7-22", "shape": "hip", "slope": "5:12"}, "Fig. 30.3-2F"),
        ({"shape": "gable", "slope": "8:12"}, "Fig. 30.3-2D"),
        ({"shape": "hip", "slope": "3:12"}, "7 to 20 degrees"),
        ({"shape": "hip", "slope": "8:12"}, "27 to 45 degrees"),
        ({"standard": "ASCE 7-22", "mean_height": "100 ft"}, "h > 60 ft"),
        ({"standard": "ASCE 7-22", "shape": "monoslope", "slope": "2:12"}, "Fig. 30.3-5A"),
    ],
)
def test_low_and_none_are_refused_with_both_ways_out(changes: dict[str, str], figure: str) -> None:
    report = wind_report(facts(**changes))
    assert report.zones
    for row in report.zones:
        assert figure in row.refused
        assert "state the sealed design pressures in the job file" in row.refused
        assert "supply" in row.refused
        assert "with a name and a source" in row.refused
        assert row.strength_psf is row.allowable_psf is row.gcp is None
        assert row.inward_strength_psf is None
    assert not report.complete


@pytest.mark.parametrize(
    "changes",
    [
        {"shape": "hip", "slope": "8:12", "standard": "ASCE 7-10"},
        {"shape": "flat", "slope": "3:12"},
        {"shape": "gable", "slope": "13:12"},
        {"shape": "monoslope", "slope": "8:12"},
    ],
)
def test_a_roof_without_a_figure(changes: dict[str, str]) -> None:
    report = wind_report(facts(**changes))
    assert "no figure on file" in report.refused
    assert "Two ways out" in report.refused


def test_confidence_by_zone_and_area() -> None:
    """7-16 gable 20-27 is low; zones at up to 10 sq ft have medium maxima, 3r has not."""
    report = wind_report(facts(shape="gable", slope="5:12"), [10, 20])
    known = {(row.zone, row.area_sqft): row.confidence for row in report.zones if not row.refused}
    assert known == {(zone, 10): "medium" for zone in ("1", "2e", "2n", "2r", "3e")}
    assert all(row.inward_refused and row.inward_strength_psf is None for row in report.zones)


def test_beyond_100_sq_ft_the_gable_curves_are_refused() -> None:
    report = wind_report(facts(shape="gable", slope="3:12"), [50, 100, 101])
    assert [row.confidence for row in report.zones if row.zone == "1"] == ["high", "medium", "low"]


def test_medium_has_a_notice_that_names_the_figure_and_the_zones() -> None:
    report = wind_report(facts())
    assert any("Fig. 30.3-2A: suction in zones 1', 1, 2;" in notice for notice in report.notices)
    assert not any(
        "Confirm in ASCE 7-10" in text for text in wind_report(facts(standard="ASCE 7-10")).notices
    )
    newer = wind_report(facts(standard="ASCE 7-22"))
    assert {row.confidence for row in newer.zones} == {"medium"}
    assert any("Table 26.10-1" in notice for notice in newer.notices)


def test_hip_curves_are_known_up_to_half_of_h_over_b() -> None:
    """h/B 25/80 is confirmed; 45/80 is of the other set of curves."""
    assert not wind_report(facts(shape="hip", slope="5:12")).zones[0].refused
    tall = wind_report(facts(shape="hip", slope="5:12", mean_height="45 ft"))
    assert all("h/B is 0.56" in row.refused for row in tall.zones)
    unknown = wind_report(facts(shape="hip", slope="5:12", width=""))
    assert "length and width of the roof are not both stated" in unknown.refused


def test_open_building_is_not_computed_with_another_figure() -> None:
    report = wind_report(facts(enclosure="open"))
    assert "Figs. 30.7-1 to 30.7-3" in report.refused
    assert all(row.strength_psf is None for row in report.zones)


def test_partially_open_is_no_class_of_7_10() -> None:
    report = wind_report(facts(standard="ASCE 7-10", enclosure="partially open"))
    assert 'no enclosure class "partially open"' in report.refused


@pytest.mark.parametrize(
    "path",
    ["standard", "speed", "exposure", "enclosure", "topographic_factor", "shape", "slope", "mean_height"],
)
def test_a_missing_input_is_named_with_whom_to_ask(path: str) -> None:
    report = wind_report(facts(**{path: ""}))
    assert [item.path.rpartition(".")[2] for item in report.missing] == [path]
    assert report.missing[0].ask == "designer"
    assert report.missing[0].question
    assert report.zones == ()
    assert not report.complete


def test_all_missing_inputs_are_told_at_once() -> None:
    report = wind_report({})
    assert len(report.missing) == 8
    assert not report.complete


def test_a_topographic_factor_below_one_cannot_be_used() -> None:
    report = wind_report(facts(topographic_factor="0.9"))
    assert report.missing[0].reason == "is below 1.0, which no hill gives"


def test_parts_of_a_hill_that_are_missing_are_named() -> None:
    report = wind_report(facts(topographic_factor="", hill_shape="ridge", hill_height="60 ft"))
    assert [item.path for item in report.missing] == [
        "job.wind.hill.half_length",
        "job.wind.hill.distance",
        "job.wind.hill.side",
    ]


@pytest.mark.parametrize("edition", EDITIONS)
def test_the_files_that_ship_are_whole(edition: str) -> None:
    for block in figures(edition):
        assert block.figure
        assert block.confidence in CONFIDENCES
        assert block.confidence == "none" or block.suction
        assert set(block.suction) in (set(), set(block.zones))
        for entry in block.by_zone:
            assert set(entry.zones) <= set(block.zones)


def test_a_figure_taken_from_another_edition_inherits_no_confidence() -> None:
    assert figure("ASCE 7-22/low slope").suction_confidence("3", 10)[0] == "medium"
    assert figure("ASCE 7-16/low slope").suction_confidence("3", 10)[0] == "high"
    assert figure("ASCE 7-16/above 60 ft").suction_confidence("1", 10)[0] == "medium"
    assert figure("ASCE 7-22/monoslope 3-10").confidence == "low"
    assert figure("ASCE 7-22/low slope").overhang == {}
