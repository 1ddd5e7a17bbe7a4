"""The report as one object and as text, advice on the inputs, hills, and the crosswalk of zone names."""

from __future__ import annotations

import json

import pytest
from msgspec.structs import replace

from cleatmark.units import QuantityError
from cleatmark.wind.area import area_of
from cleatmark.wind.asjson import as_json
from cleatmark.wind.report import wind_report
from cleatmark.wind.text import as_text
from cleatmark.wind.topography import Hill, topographic_factor
from cleatmark.zones import answering

from .given import STANDARD, facts

ZONE_KEYS = {
    "zone",
    "area_sqft",
    "gcp",
    "strength_psf",
    "allowable_psf",
    "inward_strength_psf",
    "inward_allowable_psf",
    "confidence",
    "refused",
    "steps",
}


def test_json_of_one_roof() -> None:
    found = json.loads(json.dumps(as_json([wind_report(facts(), [10, 100])])))
    assert found["standard"] == "ASCE 7-16"
    assert [(row["zone"], row["area_sqft"]) for row in found["zones"]][:3] == [
        ("1'", 10),
        ("1'", 100),
        ("1", 10),
    ]
    assert all(set(row) >= ZONE_KEYS for row in found["zones"])
    assert found["zone_widths_ft"] == pytest.approx({"1": 15, "2": 15, "3": 5, "3 length": 15})
    assert found["zone_areas_sqft"]["3"] == pytest.approx(500)
    assert all(row["strength_psf"] < 0 < row["inward_strength_psf"] for row in found["zones"])
    speed = next(item for item in found["inputs"] if item["path"] == "job.wind.speed")
    assert speed["sources"] == ["job.yaml:9", "Sheet S-001"]


def test_json_of_several_roofs_says_which_roof() -> None:
    found = as_json(
        [wind_report(facts(), roof="hall"), wind_report(facts(mean_height="12 ft"), roof="porch")]
    )
    assert {row["roof"] for row in found["zones"]} == {"hall", "porch"}
    assert set(found["zone_widths_ft"]) == {"hall", "porch"}
    assert found["roofs"][1]["zone_widths_ft"]["2"] == pytest.approx(7.2)


def test_complete_means_that_nothing_is_refused() -> None:
    assert wind_report(facts()).complete
    assert not wind_report(facts(standard="ASCE 7-22", shape="gable", slope="3:12")).complete
    assert not wind_report(facts(shape="gable", slope="5:12")).complete
    assert not wind_report(facts(speed="")).complete


@pytest.mark.parametrize("width", [80, 140])
@pytest.mark.parametrize("units", ["US", "SI"])
def test_text_keeps_to_its_columns(width: int, units: str) -> None:
    for changes in ({}, {"shape": "gable", "slope": "5:12"}, {"speed": ""}, {"overhang": "2 ft"}):
        text = as_text([wind_report(facts(**changes), [10, 100])], "A job", width=width, units=units)
        assert max(len(line) for line in text.splitlines()) <= width


def test_text_shows_both_levels_apart_and_si_units() -> None:
    us, si = (as_text([wind_report(facts())], units=units) for units in ("US", "SI"))
    assert "Suction, psf" in us
    line = next(line.split() for line in us.splitlines() if line.startswith("2 "))
    assert line[-5:] == ["-73.5", "-44.1", "+16.0", "+9.6", "medium"]
    assert "Suction, kPa" in si
    line = next(line.split() for line in si.splitlines() if line.startswith("2 "))
    assert line[-5:] == ["-3.52", "-2.11", "+0.77", "+0.46", "medium"]
    assert "Steps are worked in the units of the standard's formulas" in " ".join(si.split())
    assert "Steps are worked" not in us


def test_an_input_that_several_lines_state_is_cited_once() -> None:
    found = facts(length="", width="", plan="120 ft x 80 ft")
    twice = found["job.roof.plan"]
    found["job.roof.plan"] = replace(twice, citations=(*twice.citations, *twice.citations))
    plan = next(item for item in wind_report(found).inputs if item.path == "job.roof.plan")
    assert plan.sources == ("job.yaml:9", "Sheet S-001")


def test_text_names_the_widths_and_what_they_are_of() -> None:
    text = as_text([wind_report(facts())])
    assert "Widths: zone 1 15 ft, zone 2 15 ft, zone 3 5 ft, zone 3 legs 15 ft long" in text


def test_every_missing_input_has_its_question() -> None:
    nothing = wind_report(facts(**dict.fromkeys(STANDARD, "")))
    hill = wind_report(facts(topographic_factor="", hill_height="80 ft"))
    assert len(nothing.missing) == 8
    assert len(hill.missing) == 4
    assert all(item.question and item.ask for item in (*nothing.missing, *hill.missing))


@pytest.mark.parametrize(
    ("changes", "advice"),
    [
        ({"exposure": "B", "surroundings": "open ground"}, "exposure"),
        ({"exposure": "B", "surroundings": "open water"}, "exposure"),
        ({"exposure": "C", "surroundings": "open water"}, "exposure"),
        ({"large_doors": "yes"}, "large_doors"),
        ({"speed": "90 mph"}, "speed"),
        ({"speed": "105 mph", "standard": "ASCE 7-10"}, "speed"),
        ({"speed": "115 mph", "standard": "ASCE 7-10", "risk_category": "III"}, "speed"),
        ({"speed": "115 mph"}, "speed"),
        ({"speed": "115 mph", "risk_category": "IV"}, "speed"),
        ({"standard": "ASCE 7-22", "risk_category": "IV"}, "tornado"),
    ],
)
def test_advice(changes: dict[str, str], advice: str) -> None:
    plain = facts(**{key: value for key, value in changes.items() if key == "standard"})
    assert advice not in [item.id for item in wind_report(plain).advice]
    found = {item.id: item for item in wind_report(facts(**changes)).advice}
    assert found[advice].question
    assert found[advice].ask == "designer"


def test_a_question_can_be_sent_as_it_stands() -> None:
    """It names what the job states and why that is asked."""
    sent = {
        item.id: item.question
        for changes in (
            {"exposure": "B", "surroundings": "open water"},
            {"large_doors": "yes"},
            {"speed": "90 mph"},
        )
        for item in wind_report(facts(**changes)).advice
    }
    assert sent["exposure"].startswith("Exposure B is stated for a site beside open water.")
    assert sent["large_doors"].startswith("The building is stated to be enclosed and has large doors.")
    assert sent["speed"] == (
        "The wind speed stated is 90 mph. Is it read from the ASCE 7-16 map for risk category II, at strength level?"
    )


def test_no_advice_without_a_reason() -> None:
    for changes in (
        {},
        {"exposure": "C", "surroundings": "open ground"},
        {"large_doors": "no"},
        {"large_doors": "yes", "enclosure": "partially enclosed"},
        {"speed": "115 mph", "standard": "ASCE 7-10"},
        {"speed": "120 mph", "standard": "ASCE 7-10"},
        {"speed": "105 mph"},
    ):
        assert wind_report(facts(**changes)).advice == ()


def test_ridge_by_hand() -> None:
    """From memory, Fig. 26.8-1: ridge, C, H 100, Lh 400, x 0, z 25: K1 = 1.45 x 0.25 = 0.3625, K2 = 1,
    K3 = e^(-3 x 25/400) = 0.8290; Kzt = (1 + 0.3005)^2 = 1.691."""
    factor, steps = topographic_factor(Hill("ridge", 100, 400, 0, "upwind"), "C", 25)
    assert factor == pytest.approx(1.691, abs=0.001)
    assert len(steps) == 4


def test_steep_escarpment_counts_half() -> None:
    """H/Lh 1.0 counts as 0.5 with Lh as 2H = 200: K1 = 0.425; x 100 downwind: K2 = 1 - 100/(4 x 200) = 0.875;
    K3 = e^(-2.5 x 20/200) = 0.7788; Kzt = (1 + 0.2896)^2 = 1.663."""
    factor, _ = topographic_factor(Hill("escarpment", 100, 100, 100, "downwind"), "C", 20)
    assert factor == pytest.approx(1.663, abs=0.001)


@pytest.mark.parametrize(("height", "half", "exposure"), [(14, 40, "C"), (59, 200, "B"), (100, 501, "C")])
def test_a_hill_below_the_least_gives_one(height: float, half: float, exposure: str) -> None:
    factor, steps = topographic_factor(Hill("hill", height, half, 0, "upwind"), exposure, 20)
    assert factor == 1.0
    assert "is below" in steps[0].result


def test_a_hill_is_worked_into_the_pressure_with_a_notice() -> None:
    report = wind_report(
        facts(
            topographic_factor="",
            hill_shape="ridge",
            hill_height="100 ft",
            hill_half_length="400 ft",
            hill_distance="0 ft",
            hill_side="upwind",
            standard="ASCE 7-10",
        )
    )
    assert report.basis is not None
    assert report.basis.velocity.kzt == pytest.approx(1.691, abs=0.001)
    assert {row.confidence for row in report.zones} == {"medium"}
    assert any("Fig. 26.8-1" in notice for notice in report.notices)


def test_field_answers_to_the_worse_of_the_two_field_zones() -> None:
    assert answering("field", ("1'", "1", "2", "3")) == ("1'", "1")
    assert answering("Zone 1'", ("1'", "1", "2", "3")) == ("1'",)
    assert answering("corner", ("1", "2e", "3e", "3r")) == ("3e", "3r")
    assert answering("2n", ("1", "2", "3")) == ()
    worst = wind_report(facts()).worst("field", 10)
    assert worst is not None
    assert worst.zone == "1"
    refused = wind_report(facts(shape="gable", slope="5:12")).worst("corner", 10)
    assert refused is not None
    assert refused.refused


@pytest.mark.parametrize(
    ("text", "sqft"),
    [
        ("10", 10.0),
        ("5 ft x 2 ft", 10.0),
        ("5 ft x 16 in", 25 / 3),  # 16 in is less than a third of 60 in: 5 ft x 1.667 ft
        ("1.524 m by 609.6 mm", 10.0),
    ],
)
def test_areas_as_they_may_be_asked_for(text: str, sqft: float) -> None:
    assert area_of(text).sqft == pytest.approx(sqft)


@pytest.mark.parametrize("text", ["wide", "0", "-5", "nan", "inf", "5 x 16", "5 ft x", "5 ft x 0 in", "1e9"])
def test_what_is_no_area(text: str) -> None:
    with pytest.raises(QuantityError, match='such as "5 ft x 16 in"'):
        area_of(text)


def test_an_area_by_span_shows_its_working() -> None:
    """The width is taken as a third of the span where it is less."""
    area = area_of("5 ft x 16 in")
    report = wind_report(facts(), [area.sqft])
    text = as_text([report], areas=[area], width=120)
    assert text.startswith(
        "Effective wind area: A = L max(b, L/3) = 5 ft × 1.667 ft (a third of the span) = 8.33"
    )
    assert as_json([report], areas=[area])["areas"][0]["step"].startswith("A = L max(b, L/3)")
    assert as_json([report], areas=[area_of("10")])["areas"] == [{"sqft": 10.0, "step": ""}]
