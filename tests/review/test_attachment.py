"""The attachment schedule from files: screws in steel, inward pressure, interpolation by leave of a rulebook."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from cleatmark.language.proofread import proofread
from cleatmark.language.prove import prove
from cleatmark.review.model import Attachment, AttachmentRow
from cleatmark.review.run import run_reviews

SAMPLES = Path(__file__).parents[2] / "samples"

IN_PURLINS = {
    "    thickness: 14 ga\n    spacing: {": "    thickness: 0.060 in\n    tensile_strength: 65 ksi\n    spacing: {",
    "    thickness: 14 ga\n    length": "    thickness: 0.060 in\n    tensile_strength: 45 ksi\n    length",
    "thickness: 14 ga": "thickness: 0.060 in",
}
"""Purlins and clips of 0.060 in, with their steel."""


def attached(
    folder: Path, changes: dict[str, str], *, job: dict[str, str] | None = None, rules: str = ""
) -> Attachment:
    """The schedule of the bus garage with texts of its tested submittal and of its job replaced."""
    sample = SAMPLES / "bus_garage"
    shutil.copy(sample / "spec.docx", folder / "spec.docx")
    for name, texts in (("job.yaml", job or {}), ("submittals/a_tested.yaml", changes)):
        text = (sample / name).read_text(encoding="utf-8")
        for old, new in texts.items():
            assert old in text
            text = text.replace(old, new)
        (folder / Path(name).name).write_text(text, encoding="utf-8")
    if rules:
        (folder / "county.rules").write_text(rules, encoding="utf-8")
    (review,) = run_reviews(folder / "job.yaml", [folder / "a_tested.yaml"])
    (roof,) = review.attachment
    return roof


def zone(roof: Attachment, name: str) -> AttachmentRow:
    return next(row for row in roof.zones if row.zone == name)


def test_screws_in_purlins_are_checked_where_the_steel_is_stated(tmp_path: Path) -> None:
    """By hand, No. 12 is 0.216 in: pull-out 0.85 x 0.060 x 0.216 x 65,000 / 3.0 = 238.7 lb; pull-over
    1.5 x 0.060 x 0.415 x 45,000 / 3.0 = 560.3 lb. Two screws 477.4 lb; load 34.0 psf x 24 x 48 / 144 = 272 lb."""
    roof = attached(tmp_path, IN_PURLINS)
    edge = zone(roof, "Zone 2")
    assert (edge.screw_check, edge.screw_kind) == ("holds", "pull-out")
    assert edge.clip_load_lb == pytest.approx(272.0)
    assert edge.screw_capacity_lb == pytest.approx(477.36, abs=0.01)
    text = " ".join(roof.notes)
    assert "Clip load beside screw pull-out: omega 3.0; AISI S100 E4.4 (2012), J4.4 (2016)." in text
    assert "Exceeded" not in text
    assert "Missing" not in text
    assert any("65 ksi" in step and "a_tested.yaml" in step for step in edge.steps)


def test_the_clip_is_pulled_over_where_it_is_the_weaker(tmp_path: Path) -> None:
    """A clip of 15 ksi: 1.5 x 0.060 x 0.415 x 15,000 / 3.0 = 186.8 lb a screw, below 238.7."""
    soft = {
        old: new.replace("tensile_strength: 45 ksi", "tensile_strength: 15 ksi")
        for old, new in IN_PURLINS.items()
    }
    edge = zone(attached(tmp_path, soft), "Zone 3")
    assert edge.screw_kind == "pull-over"
    assert edge.screw_capacity_lb == pytest.approx(373.5)


def test_what_the_screw_check_lacks_is_asked_for(tmp_path: Path) -> None:
    roof = attached(tmp_path, {})
    assert {row.screw_check for row in roof.zones} == {"not shown"}
    (told,) = [note for note in roof.notes if "screw check is not shown" in note]
    assert "support tensile strength (not stated, ask the designer)" in told
    assert "clip tensile strength (not stated, ask the maker)" in told


def test_a_grade_stands_for_the_tensile_strength_with_its_source(tmp_path: Path) -> None:
    grades = {
        old: new.replace("tensile_strength: 65 ksi", "grade: A653 grade 33").replace(
            "tensile_strength: 45 ksi", "grade: A653 grade 50"
        )
        for old, new in IN_PURLINS.items()
    }
    edge = zone(attached(tmp_path, grades), "Zone 2")
    assert edge.screw_capacity_lb == pytest.approx(2 * 0.85 * 0.060 * 0.216 * 45_000 / 3)
    assert any("A653 grade 33" in step for step in edge.steps)


def test_screws_never_rescue_a_zone_that_no_test_carries(tmp_path: Path) -> None:
    """Screws that hold 477 lb stand beside runs that hold a third of what they held, and the zones stay as they are."""
    weak = {
        **IN_PURLINS,
        "held: 62 psf": "held: 20 psf",
        "held: 78 psf": "held: 26 psf",
        "held: 110 psf": "held: 36 psf",
        "rating: 1-105": "rating: 1-60",
    }
    roof = attached(tmp_path, weak)
    corner = zone(roof, "Zone 3")
    assert corner.verdict == "does not hold"
    assert corner.spacing_in is None
    assert corner.screw_check == ""


def test_inward_capacity_over_purlins(tmp_path: Path) -> None:
    """50 psf held inward by E1592, one test: 25 psf allowable, against the least of 9.6 psf."""
    roof = attached(tmp_path, {"held: 62 psf,": "held: 62 psf, inward_held: 50 psf,"})
    field, edge = zone(roof, "Zone 1'"), zone(roof, "Zone 2")
    assert (field.inward, field.inward_allowable_psf, field.inward_run) == ("holds", 25.0, "1")
    assert field.inward_demand_psf == pytest.approx(9.6)
    assert edge.inward == "holds"


def test_inward_capacity_is_asked_for_over_purlins(tmp_path: Path) -> None:
    roof = attached(tmp_path, {})
    assert {row.inward for row in roof.zones} == {"not shown"}
    assert any(
        "no covering run states a pressure held inward; ask the laboratory" in note for note in roof.notes
    )


def test_a_stated_inward_pressure_goes_before_the_one_worked_out(tmp_path: Path) -> None:
    """30 psf at strength level is 18 psf at allowable level: more than the 15 psf that 30 psf held inward allows."""
    stated = (
        "specification: spec.docx\n"
        "pressures:\n"
        "  - {source: Sheet S-001 (invented), level: strength,\n"
        "     zones: {Zone 1: -40 psf, Zone 2: -50 psf}, inward: {Zone 1: 30 psf, Zone 2: 20 psf}}\n"
    )
    roof = attached(
        tmp_path,
        {"held: 62 psf,": "held: 62 psf, inward_held: 30 psf,"},
        job={"specification: spec.docx\n": stated.replace("specification: spec.docx\n", "")},
    )
    field, edge = zone(roof, "Zone 1"), zone(roof, "Zone 2")
    assert edge.inward_demand_psf == pytest.approx(12.0)
    assert edge.inward == "holds"
    assert field.inward == "not shown"
    assert field.verdict == "does not hold"


LEAVE = """\
rulebook county "Skarra County, attachment (invented)"
  edition 2026-11
  builds on base

define interpolates of run
  as yes when failure_mode is one of "seam opened", "clip released" and standard is "ASTM E1592"
  as no
  source "Skarra County roofing ordinance (invented)" at "6.2"

case "two seams that opened"
  with a report "T-1" having standard "ASTM E1592" and failure_mode "seam opened"
  expect interpolates yes

case "two clips that let go"
  with a report "T-1" having standard "ASTM E1592" and failure_mode "clip released"
  expect interpolates yes

case "a fastener that pulled out"
  with a report "T-1" having standard "ASTM E1592" and failure_mode "fastener pulled out"
  expect interpolates no

case "another method"
  with a report "T-1" having standard "UL 580" and failure_mode "seam opened"
  expect interpolates no
"""

AT_40 = {"Zone 2: 48 in, Zone 3: 30 in}": "Zone 2: 40 in, Zone 3: 30 in}"}
"""Purlins of the edge zone at 40 in, between the runs at 30 and 48 in."""
BY_COUNTY = {"rules: [base, model_code, fm_insured]": "rules: [base, model_code, fm_insured, county.rules]"}


def test_the_leave_is_proven_by_its_cases(tmp_path: Path) -> None:
    (tmp_path / "county.rules").write_text(LEAVE, encoding="utf-8")
    assert proofread(["county.rules"], tmp_path).problems == ()
    (proof,) = [proof for proof in prove(["county.rules"], tmp_path) if "interpolates" in proof.units]
    assert (proof.failing, proof.lacking, proof.unnoticed) == ((), (), ())


def test_interpolation_by_leave_of_a_rulebook(tmp_path: Path) -> None:
    """Between 55 psf at 30 in and 39 psf at 48 in, both seams opened: 55 - 16 x 10/18 = 46.11 psf at 40 in."""
    without = zone(attached(tmp_path, AT_40), "Zone 2")
    assert (without.spacing_in, without.allowable_psf, without.run) == (40.0, 39.0, "2")
    with_leave = zone(attached(tmp_path, AT_40, job=BY_COUNTY, rules=LEAVE), "Zone 2")
    assert with_leave.allowable_psf == pytest.approx(55 - 16 * 10 / 18)
    assert (with_leave.document, with_leave.run) == ("S-41", "3 and 2")
    assert "by leave of county; Skarra County roofing ordinance (invented), 6.2" in with_leave.message


def test_interpolation_stays_within_one_failure_mode(tmp_path: Path) -> None:
    other = {
        **AT_40,
        "failed_at: 116 psf, failure_mode: seam opened": "failed_at: 116 psf, failure_mode: clip released",
    }
    edge = zone(attached(tmp_path, other, job=BY_COUNTY, rules=LEAVE), "Zone 2")
    assert (edge.allowable_psf, edge.run) == (39.0, "2")


def test_interpolation_never_goes_beyond_the_widest_run(tmp_path: Path) -> None:
    wide = {"Zone 1: 60 in, Zone 2: 48 in": "Zone 1: 72 in, Zone 2: 48 in"}
    roof = attached(tmp_path, wide, job=BY_COUNTY, rules=LEAVE)
    assert "Zone 1" not in [row.zone for row in roof.zones if row.spacing_in is not None]


def test_clips_on_a_steel_deck_land_on_its_ribs_where_their_spacing_is_stated(tmp_path: Path) -> None:
    """Ribs at 9 in: of the runs at 60, 48 and 30 in the widest multiples that they show, 54 in in the field of
    62/2 = 31 psf and 45 in at the edge; the screws hold in the deck."""
    deck = "thickness: 0.060 in, joints: open, fastener_spacing: 12 in"
    by_zone = '    spacing: {"Zone 1\'": 60 in, Zone 1: 60 in, Zone 2: 48 in, Zone 3: 30 in}\n  insulation'
    on_deck = {
        "    type: open framing\n": (
            "    type: steel deck\n    rib_spacing: 9 in\n    thickness: 0.060 in\n    tensile_strength: 45 ksi\n"
            "    joints: open\n    fastener_spacing: 12 in\n"
        ),
        "type: open framing": f"type: steel deck, {deck}",
        "standard: ASTM E1592": "standard: UL 1897",
        "support: {spacing: 48 in}": "support: {spacing: 60 in}",
        "support: {spacing: 30 in}": "support: {spacing: 60 in}",
        by_zone: "    spacing: 60 in\n  insulation",
        "    thickness: 14 ga\n    length": IN_PURLINS["    thickness: 14 ga\n    length"],
        "thickness: 14 ga": "thickness: 0.060 in",
    }
    roof = attached(tmp_path, on_deck)
    assert [(row.zone, row.spacing_in) for row in roof.zones][:2] == [("Zone 1'", 54.0), ("Zone 1", 54.0)]
    assert zone(roof, "Zone 2").spacing_in == 45.0
    assert zone(roof, "Zone 2").screw_kind == "pull-out"
