"""Demand stated and worked out, the attachment schedule, and what the samples' papers carry."""

from __future__ import annotations

from pathlib import Path

import pytest

from cleatmark.facts import Citation, Stated
from cleatmark.job.load import load_job
from cleatmark.review.model import Review
from cleatmark.review.run import declared_fields, run_reviews
from cleatmark.review.stated_zones import stated_zones
from cleatmark.review.world import settled
from cleatmark.submittal.load import load_submittal
from cleatmark.units import parse
from cleatmark.wind.report import wind_report

SAMPLES = Path(__file__).parents[2] / "samples"


def review_of(sample: str, submittal: str, *, drawn: bool = False, job: Path | None = None) -> Review:
    folder = SAMPLES / sample
    return run_reviews(
        job or folder / "job.yaml", [folder / "submittals" / f"{submittal}.yaml"], drawn=drawn
    )[0]


def test_each_purlin_spacing_stands_on_its_own_run() -> None:
    """Purlins at 60, 48 and 30 in by zone: E1592 runs at 62, 78 and 110 psf, halved (samples/bus_garage/README.md)."""
    review = review_of("bus_garage", "a_tested")
    rows = [(z.zone, z.required_psf, z.allowable_psf, z.run) for z in review.zones]
    assert rows == [
        ("Zone 1'", 14.8, 31.0, "1"),
        ("Zone 1", 25.8, 31.0, "1"),
        ("Zone 2", 34.0, 39.0, "2"),
        ("Zone 3", 46.4, 55.0, "3"),
    ]
    assert review.answers["site"] == "complies"


def test_wide_purlins_do_not_hold_at_edges_and_corners() -> None:
    review = review_of("bus_garage", "c_wide_purlins")
    assert [z.verdict for z in review.zones] == ["complies", "complies", "deviates", "deviates"]
    finding = next(f for f in review.findings if f.rule == "zone_uplift")
    assert finding.verdict == "deviates"
    assert finding.zone == "Zone 3"
    assert "Zone 2: demand 34 psf" in finding.message
    assert finding.margin == "15.4 psf short"


def test_a_strength_level_pressure_is_carried_at_allowable_level_and_says_so() -> None:
    """132.2 psf at strength level times 0.6 is 79.3 psf (ASCE 7, 2.4.1)."""
    review = review_of("coastal_school", "c_corner_clips")
    corner = next(z for z in review.zones if z.zone == "Zone 3r")
    assert corner.level == "allowable"
    assert corner.required_psf == pytest.approx(79.32)
    assert corner.verdict == "deviates"
    finding = next(f for f in review.findings if f.rule == "zone_uplift")
    assert any("0.6 x 132.2 psf" in c.where for c in finding.citations if c.kind == "computed")


def test_without_a_stated_pressure_the_wind_is_worked_out(tmp_path: Path) -> None:
    text = (SAMPLES / "library" / "job.yaml").read_text(encoding="utf-8")
    job = tmp_path / "job.yaml"
    job.write_text(
        "\n".join(line for line in text.splitlines() if not line.startswith("specification")), "utf-8"
    )
    review = review_of("library", "a_tested", job=job)
    assert [z.zone for z in review.zones] == [f"Zone {name}" for name in ("1", "2e", "2n", "2r", "3e", "3r")]
    by_zone = {z.zone: z for z in review.zones}
    assert by_zone["Zone 3r"].required_psf == pytest.approx(56.0, abs=0.05)
    assert by_zone["Zone 3r"].clip_spacing_in == 12.0
    assert any("GCp" in step for step in by_zone["Zone 3r"].steps)
    assert review.answers["site"] == "complies"
    assert review.notices


def test_a_refused_zone_is_not_shown_and_says_the_way_out(tmp_path: Path) -> None:
    text = (SAMPLES / "library" / "job.yaml").read_text(encoding="utf-8").replace("ASCE 7-16", "ASCE 7-22")
    job = tmp_path / "job.yaml"
    job.write_text(
        "\n".join(line for line in text.splitlines() if not line.startswith("specification")), "utf-8"
    )
    review = review_of("library", "a_tested", job=job)
    assert review.answers["site"] == "not shown"
    assert review.zones
    assert all(z.refused for z in review.zones)
    finding = next(f for f in review.findings if f.rule == "zone_uplift")
    assert any("sealed design pressures" in missing.reason for missing in finding.missing)


def test_the_schedule_offers_the_widest_tested_spacing_and_counts_clips() -> None:
    """A corner at 56.0 psf is carried by the 18 in run: 135 / 2 = 67.5 psf, worked by hand."""
    (roof,) = review_of("library", "a_tested", drawn=True).attachment
    widest = [(z.zone, z.proposed_in, z.spacing_in, z.allowable_psf) for z in roof.zones]
    assert widest == [
        ("Field", 24.0, 24.0, 52.5),
        ("Perimeter", 18.0, 24.0, 52.5),
        ("Corner", 12.0, 18.0, 67.5),
    ]
    assert roof.everywhere_in == 18.0
    assert roof.zones[0].clip_load_lb == pytest.approx(32.3 * 16 * 24 / 144)


def test_supports_that_differ_by_zone_are_laid_out_apart() -> None:
    (roof,) = review_of("bus_garage", "a_tested", drawn=True).attachment
    assert [z.spacing_in for z in roof.zones] == [60.0, 60.0, 48.0, 30.0]
    assert roof.everywhere_in is None


def test_a_plan_is_drawn_only_for_paper() -> None:
    assert review_of("bus_garage", "a_tested").plans == ()
    (plan,) = review_of("bus_garage", "a_tested", drawn=True).plans
    assert plan.svg.startswith("<svg")
    assert plan.png.startswith(b"\x89PNG")
    assert plan.alt


def test_the_site_input_that_would_turn_a_zone_is_named() -> None:
    """Exposure D at 26 ft: Kz 2.01 (26/700)^(2/11.5) = 1.134 against 0.953, so 34.0 x 1.19 = 40.5 psf, over 39.0."""
    points = review_of("bus_garage", "a_tested").tipping_points
    exposure = next(p for p in points if p.what == "Exposure category")
    assert (exposure.now, exposure.then) == ("C", "D")
    assert "Zone 2 40.5 psf" in exposure.message


def test_on_an_insured_roof_the_demand_is_the_insurers_to_give() -> None:
    """Twice 46.4 psf is 92.8, up to the step of 15 psf: 1-105."""
    notices = review_of("bus_garage", "a_tested").notices
    assert any("the insurer's to give" in notice and "Zone 3 1-105" in notice for notice in notices)


OWN = """\
name: Steep corner (invented)
source: Sealed calculation by P. Onslet, PE (invented)
edition: ASCE 7-22
figure: Fig. 30.3-2B
roof: {shapes: [gable], slope_above: 7 deg, slope_to: 20 deg, height_to: 60 ft}
suction: {"1": {10: -1.0, 100: -0.8}, "3": {2: -4.0, 10: -3.0, 100: -2.0}}
"""


def test_a_curve_that_falls_below_10_sq_ft_is_read_at_the_clips_own_area(tmp_path: Path) -> None:
    """A clip at 12 in on a panel of 16 in holds 1.33 sq ft: -4.0 there, not the -3.0 of 10 sq ft. Zone 1 is flat."""
    (tmp_path / "own.yaml").write_text(OWN, encoding="utf-8")
    text = (SAMPLES / "library" / "job.yaml").read_text(encoding="utf-8").replace("ASCE 7-16", "ASCE 7-22")
    lines = [line for line in text.splitlines() if not line.startswith("specification")]
    at = lines.index("wind:")
    lines.insert(at + 1, "  coefficients: own.yaml")
    (tmp_path / "job.yaml").write_text("\n".join(lines), "utf-8")
    review = review_of("library", "a_tested", job=tmp_path / "job.yaml")
    by_zone = {row.zone: row for row in review.zones}
    assert by_zone["Zone 3"].area_sqft == pytest.approx(4 / 3, abs=0.001)
    assert any("-4.000" in step for step in by_zone["Zone 3"].steps)
    assert by_zone["Zone 1"].area_sqft == 10


FROM = Citation("spec", "07 41 13, 1.02.A")


def stated(value: str, clause: str, *flags: str) -> Stated:
    cited = Citation("spec", f"07 41 13, {clause}")
    return Stated(
        "uplift.pressure",
        "at least",
        (parse(value, "pressure"),),
        value,
        clause,
        value,
        cited,
        zone="corner",
        level="allowable",
        flags=flags,
    )


def test_of_two_pressures_in_a_specification_the_larger_governs_unless_they_conflict() -> None:
    """Where the specification says that the more stringent governs, `settled` takes the flag off."""
    book = declared_fields()
    job, _ = load_job(SAMPLES / "library" / "job.yaml", book)
    submittal, _ = load_submittal(SAMPLES / "library" / "submittals" / "a_tested.yaml", book)
    assert job is not None
    assert submittal is not None
    both = [stated("-45 psf", "1.04.C", "conflict"), stated("-52 psf", "1.06.B", "conflict")]
    says = Stated(
        "precedence", "required", ("more stringent governs",), "more stringent governs", "1.02.A", "", FROM
    )
    words = Stated("clip.type", "required", ("fixed",), "fixed", "2.02.A", "", FROM, flags=("conflict",))
    *amounts, told, _ = settled([*both, words, says])
    assert told.flags == ("conflict",)
    (plain,) = stated_zones(job, amounts, submittal)
    assert plain.facts["zone.required"].text == "52 psf"
    (open_,) = stated_zones(job, both, submittal)
    assert "zone.required" not in open_.facts
    assert open_.facts["zone.required?"].text == (
        "conflict: 45 psf (07 41 13, 1.04.C) and 52 psf (07 41 13, 1.06.B)"
    )


TWO_SHEETS = """\
pressures:
  - {source: Sheet S-001 (invented), level: allowable, area: 10 sq ft, zones: {field: -30 psf, corner: -45 psf}}
  - {source: Sheet A-101 (invented), level: allowable, area: 10 sq ft, zones: {field: -30 psf, corner: -52 psf}}
  - {source: Sheet A-102 (invented), level: allowable, area: 50 sq ft, zones: {field: -28 psf}}
"""


def test_two_pressures_for_one_zone_are_a_question_and_not_the_first_of_them(tmp_path: Path) -> None:
    text = (SAMPLES / "library" / "job.yaml").read_text(encoding="utf-8")
    lines = [line for line in text.splitlines() if not line.startswith("specification")]
    (tmp_path / "job.yaml").write_text("\n".join(lines) + "\n" + TWO_SHEETS, "utf-8")
    review = review_of("library", "a_tested", job=tmp_path / "job.yaml")
    by_zone = {row.zone: row for row in review.zones}
    assert (by_zone["field"].required_psf, by_zone["field"].verdict) == (30.0, "complies")
    assert (by_zone["corner"].required_psf, by_zone["corner"].verdict) == (None, "not shown")
    refused = by_zone["corner"].refused
    assert refused.startswith("conflict: 45 psf (job.yaml:")
    assert "; Sheet S-001 (invented)) and 52 psf (job.yaml:" in refused
    assert review.answers["site"] == "not shown"


FLAT = """
name: Depot (invented)
code: IBC 2021
permit_date: 2026-07-01
rules: [base, model_code]
wind: {standard: ASCE 7-16, speed: 115 mph, exposure: C, risk_category: II, enclosure: enclosed,
       topographic_factor: 1.0, ground_elevation: 0 ft}
roof: {shape: flat, slope: 1/2:12, mean_height: 26 ft, length: 180 ft, width: 100 ft, parapet: 0 ft}
"""


@pytest.mark.parametrize(
    ("change", "area", "strength", "reason"),
    [
        ({}, 10, True, "strength level (times 0.6 it agrees)"),
        ({"7-16": "7-10"}, 10, False, "the edition ASCE 7-10"),
        ({}, 100, False, "an effective wind area of 100 sq ft"),
        ({"enclosure: e": "enclosure: partially e"}, 10, False, "the enclosure partially enclosed"),
    ],
)
def test_stated_pressures_name_the_one_change_that_explains_every_zone(
    tmp_path: Path, change: dict[str, str], area: float, strength: bool, reason: str
) -> None:
    """Pressures are worked out with one input changed and stated as they are. Single zones agree with other changes
    too (zone 3 of 7-10 with 20 sq ft of 7-16); all of them agree with the one that was made."""
    other = FLAT
    for old, new in change.items():
        other = other.replace(old, new)
    job = tmp_path / "job.yaml"
    job.write_text(other, encoding="utf-8")
    loaded, problems = load_job(job, declared_fields())
    assert loaded is not None
    assert not problems
    wind = wind_report(loaded.for_roof("roof"), [area])
    stated = {
        f"Zone {row.zone}": abs((row.strength_psf if strength else row.allowable_psf) or 0)
        for row in wind.zones
        if row.zone != "1'"
    }
    zones = ", ".join(f"{zone}: -{psf:.2f} psf" for zone, psf in stated.items())
    source = f"pressures:\n  - {{source: Sheet S-9 (invented), level: allowable, zones: {{{zones}}}}}\n"
    job.write_text(FLAT + source, encoding="utf-8")
    advice = [
        item for item in review_of("bus_garage", "a_tested", job=job).advice if item.id.startswith("stated_")
    ]
    assert len(advice) == 3
    for item in advice:
        assert f"Likely reason: {reason}; it agrees in every zone that differs." in item.message
        assert item.question.endswith("it agrees in every zone that differs.")
        assert item.ask == "designer"


def test_a_t_shaped_roof_worked_by_hand_from_the_wind_to_the_clips(tmp_path: Path) -> None:
    """ASCE 7-10, 120 mph, Exposure C, h = 20 ft, a bar of 160 x 60 ft with a stem of 70 x 80 ft below it, 1/4:12.

    Kz = 2.01 (20/900)^(2/9.5) = 2.01 x 0.4487 = 0.9019; qh = 0.00256 x 0.9019 x 0.85 x 120^2 = 28.26 psf.
    Times 0.6: zone 1 28.26 x 1.18 x 0.6 = 20.01, zone 2 28.26 x 1.98 x 0.6 = 33.57, zone 3 28.26 x 2.98 x 0.6 = 50.53
    psf, the same at 10 sq ft and below. Runs of panels 2 ft wide on purlins 30 in apart: 62/2 = 31 psf at 60 in,
    110/2 = 55 psf at 30 in; 48 in is no multiple of 30. So zone 1 takes 60 in (10 sq ft), zones 2 and 3 30 in (5).
    a = max(min(0.1 x 140, 0.4 x 20), 0.04 x 140, 3) = 8 ft. Roof 9,600 + 5,600 = 15,200; beyond 8 ft of every edge
    144 x 44 in the bar and 54 x 80 in the stem: 6,336 + 4,320 = 10,656; six outward corners of 8 x 8: 384; zone 2 the
    rest, 4,160. Along the slope times sqrt(1 + (1/48)^2) = 1.000217.
    Clips: 10,658.3/10 = 1,066; 4,160.9/5 = 833; 384.08/5 = 77; in all 1,976. Everywhere 30 in: 10,658.3/5 = 2,132 in
    place of 1,066, 3,042 in all.
    """
    job = tmp_path / "job.yaml"
    plan = 'plan: ["160 ft x 60 ft at 0 ft, 80 ft", "70 ft x 80 ft at 45 ft, 0 ft"]'
    text = FLAT.replace("ASCE 7-16", "ASCE 7-10").replace("115 mph", "120 mph").replace("1/2:12", "1/4:12")
    text = text.replace("length: 180 ft, width: 100 ft", plan).replace("26 ft", "20 ft")
    job.write_text(text, encoding="utf-8")
    submittal = tmp_path / "submittal.yaml"
    text = (SAMPLES / "bus_garage" / "submittals" / "a_tested.yaml").read_text(encoding="utf-8")
    by_zone = """spacing: {"Zone 1'": 60 in, Zone 1: 60 in, Zone 2: 48 in, Zone 3: 30 in}"""
    assert text.count(by_zone) == 2
    submittal.write_text(text.replace(by_zone, "spacing: 30 in"), encoding="utf-8")
    (roof,) = run_reviews(job, [submittal], drawn=True)[0].attachment
    told = [(row.zone, row.spacing_in, row.area_sqft, row.clips, row.screws) for row in roof.zones]
    assert told == [
        ("Zone 1", 60, 10, 1066, 2132),
        ("Zone 2", 30, 5, 833, 1666),
        ("Zone 3", 30, 5, 77, 154),
    ]
    assert [row.demand_psf for row in roof.zones] == pytest.approx([20.01, 33.57, 50.53], abs=0.005)
    assert [row.allowable_psf for row in roof.zones] == [31, 55, 55]
    assert (roof.everywhere_in, roof.clips, roof.everywhere_clips) == (30, 1976, 3042)
    assert "Clip counts are net of waste, edges and splices." in roof.notes
    (undrawn,) = run_reviews(job, [submittal], drawn=False)[0].attachment
    assert undrawn.clips is None
    assert undrawn.notes[0].startswith("Zones are laid out in plan, and clips counted, where a report")


def test_zones_that_a_figure_does_not_draw_say_why_their_clips_are_not_counted(tmp_path: Path) -> None:
    job = tmp_path / "job.yaml"
    job.write_text(FLAT.replace("flat, slope: 1/2:12", "monoslope, slope: 14 deg"), encoding="utf-8")
    submittal = SAMPLES / "bus_garage" / "submittals" / "a_tested.yaml"
    (review,) = run_reviews(job, [submittal], drawn=True)
    why = "How ASCE 7-16, Fig. 30.3-5B draws its zones is not on file: their widths and areas are not given."
    (roof,) = review.attachment
    assert any(note.startswith("Clips are not counted in") and note.endswith(why) for note in roof.notes)
    assert [(plan.alt, plan.svg, plan.png) for plan in review.plans] == [
        (f"No plan is drawn. {why}", "", b"")
    ]
