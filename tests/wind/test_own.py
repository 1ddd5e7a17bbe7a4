"""A user's own coefficient blocks: used and cited where they are whole, told where they are not."""

from __future__ import annotations

from pathlib import Path

import pytest

from cleatmark.wind.blocks import read_own
from cleatmark.wind.report import wind_report

from .given import facts

OWN = """\
name: Steep gable block of the engineer of record
source: P. Onslet, PE (invented), letter of 2026-03-02
edition: ASCE 7-22
figure: Fig. 30.3-2B
roof: {shapes: [gable], slope_above: 7 deg, slope_to: 20 deg, height_to: 60 ft}
suction:
  "1": {10: -1.5, 100: -0.8}
  "2": {10: -2.5, 100: -1.2}
  "3": {1 m²: -3.0, 100: -1.4}
inward: {all: {10: 0.6, 100: 0.3}}
"""
STEEP = {"standard": "ASCE 7-22", "shape": "gable", "slope": "3:12"}


def problems(text: str) -> list[str]:
    blocks, found = read_own(Path("own.yaml"), text)
    assert bool(blocks) != bool(found)
    return [f"{problem.place.line}: {problem.message}" for problem in found]


def test_an_own_block_gives_pressures_and_is_cited(tmp_path: Path) -> None:
    path = tmp_path / "own.yaml"
    path.write_text(OWN, encoding="utf-8")
    own, told = read_own(path)
    assert told == ()
    report = wind_report(facts(**STEEP), own=own)
    assert report.complete
    rows = {row.zone: row for row in report.zones}
    assert report.basis is not None
    assert rows["2"].strength_psf == pytest.approx(report.basis.velocity.qh * 0.85 * (-2.5 - 0.18))
    assert rows["3"].gcp == -3.0
    assert "letter of 2026-03-02" in rows["2"].figure
    assert any("the user's own" in notice for notice in report.notices)
    assert any("How Steep gable block" in note for note in report.layout_notes)


def test_an_own_block_goes_before_the_file_that_ships() -> None:
    text = OWN.replace("ASCE 7-22", "ASCE 7-16").replace('"2":', '"2n":').replace('"3":', '"3r":')
    own, found = read_own(Path("own.yaml"), text)
    assert found == ()
    report = wind_report(facts(shape="gable", slope="3:12"), own=own)
    assert [row.zone for row in report.zones] == ["1", "2n", "3r"]
    assert report.zones[0].gcp == -1.5


@pytest.mark.parametrize("text", ["[1, 2]", "only words", "- name: x"])
def test_a_file_without_keys_is_told_and_never_passed_over(text: str) -> None:
    assert problems(text) == ['1: a coefficient file holds keys and values, such as "name: ..."']


def test_an_own_block_for_another_roof_is_not_used() -> None:
    own, _ = read_own(Path("own.yaml"), OWN)
    assert wind_report(facts(standard="ASCE 7-22", shape="gable", slope="5:12"), own=own).zones[0].refused


def test_an_own_block_without_inward_refuses_inward_alone() -> None:
    own, _ = read_own(Path("own.yaml"), OWN.replace("inward: {all: {10: 0.6, 100: 0.3}}\n", ""))
    row = wind_report(facts(**STEEP), own=own).zones[0]
    assert not row.refused
    assert row.strength_psf is not None
    assert "gives" in row.inward_refused or "not on file" in row.inward_refused


@pytest.mark.parametrize(
    ("old", "new", "message"),
    [
        ("name: Steep gable block of the engineer of record\n", "", '1: "name" is missing'),
        ("source: P. Onslet, PE (invented), letter of 2026-03-02", "source: ''", "2: source is left blank"),
        ('"2":', '"2x":', '8: "2x" is no roof zone'),
        ('"1": {10: -1.5', '"1": {10: 1.5', "7: suction, zone 1: suction is negative, and 1.5 is not"),
        ("100: -1.2", "100: -3.2", "8: suction, zone 2: GCp does not grow with the area"),
        ('"2": {10: -2.5, 100: -1.2}', '"2": {100: -2.5, 10: -1.2}', "areas go up from point to point"),
        ("10: 0.6", "10: -0.6", "inward, zone all: pressure toward the roof is positive"),
        ("10: -2.5", "10: -52.5", "-52.5 is no pressure coefficient"),
        ("10: -2.5", "10: lots", '"lots" is not a number'),
        ("10: -2.5", "0: -2.5", "an area is more than zero"),
        ("slope_to: 20 deg", "slope_to: 5 deg", "slope_above 7 deg is not below slope_to 5 deg"),
        ("height_to: 60 ft", "height_to: 50 ft", "figures part at 60 ft"),
        ("shapes: [gable]", "shapes: [gabel]", '"gabel" is not one of the choices'),
        ("edition: ASCE 7-22", "edition: ASCE 7-05", '"ASCE 7-05" is not one of the choices'),
        ("figure:", "figur:", 'unknown key "figur"'),
    ],
)
def test_a_broken_block_is_told_at_its_place(old: str, new: str, message: str) -> None:
    assert old in OWN
    assert any(message in problem for problem in problems(OWN.replace(old, new, 1)))


def test_several_blocks_in_one_file() -> None:
    indented = "".join(f"    {line}\n" for line in OWN.splitlines()).replace("    name", "  - name", 1)
    blocks, found = read_own(Path("own.yaml"), f"blocks:\n{indented}")
    assert found == ()
    assert [block.confidence for block in blocks] == ["supplied"]


def test_a_file_that_is_not_there(tmp_path: Path) -> None:
    blocks, found = read_own(tmp_path / "nowhere.yaml")
    assert blocks == ()
    assert "no such file" in found[0].message
