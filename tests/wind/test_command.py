"""`cleatmark wind` from a file: plans that can be drawn, those that cannot, areas, status, messages."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cleatmark.cli import main

WIND = (
    "wind: {standard: ASCE 7-16, speed: 120 mph, exposure: C, risk_category: II, enclosure: enclosed,\n"
    "       topographic_factor: 1.0, ground_elevation: 0 ft}\n"
)
TWO = (
    WIND + "roofs:\n"
    "  hall: {shape: flat, slope: 1/4:12, mean_height: 25 ft}\n"
    "  porch: {shape: flat, slope: 1/4:12, mean_height: 20 ft, length: 60 ft, width: 40 ft}\n"
)


def job(folder: Path, text: str) -> str:
    path = folder / "job.yaml"
    path.write_text("name: A job (invented)\n" + text, encoding="utf-8")
    return str(path)


def test_a_roof_that_cannot_be_drawn_does_not_hold_up_the_others(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    """The hall has no length and width. Its pressures are told all the same."""
    status = main(["wind", job(tmp_path, TWO), "--plan", str(tmp_path / "roof.svg"), "--format", "json"])
    told = capsys.readouterr()
    assert status == 1
    assert sorted(path.name for path in tmp_path.glob("*.svg")) == ["roof-2.svg"]
    assert told.err.count("\n") == 1
    assert "roof.svg: no plan of hall is drawn. The roof's length and width are not both stated" in told.err
    assert all(not row["refused"] for row in json.loads(told.out)["zones"])


def test_all_drawn_and_nothing_refused(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    whole = TWO.replace("mean_height: 25 ft}", "mean_height: 25 ft, length: 120 ft, width: 80 ft}")
    assert main(["wind", job(tmp_path, whole), "--plan", str(tmp_path / "roof.png")]) == 0
    assert sorted(path.name for path in tmp_path.glob("*.png")) == ["roof-2.png", "roof.png"]
    assert capsys.readouterr().err == ""


def test_areas_in_sq_ft_and_by_span_and_width(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    """A panel of 16 in over purlins at 6 ft: 6 ft x 2 ft, a third of the span, 12 sq ft."""
    main(["wind", job(tmp_path, TWO), "--area", "50", "6 ft x 16 in", "--format", "json"])
    found = json.loads(capsys.readouterr().out)
    assert [area["sqft"] for area in found["areas"]] == pytest.approx([50, 12])
    assert {row["area_sqft"] for row in found["zones"]} == {50.0, 12.0}


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("ASCE 7-16", "ASCE 7-61", 'did you mean "ASCE 7-16"?'),
        ("speed: 120 mph", "speed: 120", 'such as "120 mph"'),
        ("exposure: C", "exposure: E", "expected B, C or D"),
        ("enclosure: enclosed", "enclosur: enclosed", 'did you mean "enclosure"?'),
        ("shape: flat", "shape: flatt", 'did you mean "flat"?'),
        ("length: 60 ft", "length: 0 ft", "length and width are more than zero"),
    ],
)
def test_a_wrong_value_is_told_with_the_right_form(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], old: str, new: str, message: str
) -> None:
    status = main(["wind", job(tmp_path, TWO.replace(old, new))])
    told = capsys.readouterr()
    assert status == 2
    assert message in told.err
    assert told.out == ""
