"""The library job, reviewed end to end: what a reviewer who reads the section and the papers would say.

The expectations stand in samples/library/README.md and were written from the trade before the program ran.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from cleatmark.review.model import Finding, Review
from cleatmark.review.run import run_reviews

LIBRARY = Path(__file__).parents[2] / "samples" / "library"


@pytest.fixture(scope="module")
def reviews() -> dict[str, Review]:
    names = ("a_tested", "b_listing", "c_quiet_swap")
    files = [LIBRARY / "submittals" / f"{name}.yaml" for name in names]
    return dict(zip(names, run_reviews(LIBRARY / "job.yaml", files), strict=True))


def found(review: Review, rule: str) -> Finding:
    return next(f for f in review.findings if f.rule == rule)


def cited(finding: Finding) -> set[str]:
    return {citation.where for citation in finding.citations}


def test_the_tested_assembly_meets_what_was_asked_and_holds(reviews: dict[str, Review]) -> None:
    review = reviews["a_tested"]
    assert review.answers == {"asked": "complies", "site": "complies"}
    assert review.disposition == "No exceptions are recommended"
    assert not review.root_causes
    assert found(review, "uplift_class").document == "T-118"
    assert "07 41 13, 1.03.B" in cited(found(review, "uplift_class"))
    assert "tested report T-118, page 9, run 1" in cited(found(review, "uplift_class"))


def test_each_zone_stands_on_its_own_run(reviews: dict[str, Review]) -> None:
    rows = [
        (z.zone.casefold(), z.required_psf, z.allowable_psf, z.clip_spacing_in, z.document, z.run)
        for z in reviews["a_tested"].zones
    ]
    assert rows == [
        ("field", 32.3, 52.5, 24.0, "T-118", "1"),
        ("perimeter", 47.1, 67.5, 18.0, "T-118", "3"),
        ("corner", 56.0, 82.5, 12.0, "T-118", "4"),
    ]


def test_the_four_kinds_that_the_job_turns_on_are_judged(reviews: dict[str, Review]) -> None:
    review = reviews["a_tested"]
    verdicts = {f.rule: f.verdict for f in review.findings}
    assert verdicts["uplift_class"] == verdicts["insurer_fm"] == verdicts["ul"] == "complies"
    assert {row.covers for paper in review.evidence if paper.id == "T-118" for row in paper.runs} == {
        "yes",
        "no",
    }


def test_a_blanket_listing_never_passes_for_a_report(reviews: dict[str, Review]) -> None:
    review = reviews["b_listing"]
    assert review.answers["site"] == "not shown"
    assert found(review, "uplift_class").verdict == "not shown"
    assert found(review, "evidence_kind").verdict == "deviates"
    assert found(review, "zone_uplift").verdict == "not shown"
    paper = next(p for p in review.evidence if p.id == "L-90")
    assert (paper.kind, paper.offered_as) == ("blanket listing", "tested report")
    states = [(c.state, c.unusual) for c in paper.conditions]
    assert states == [
        ("contradicted", True),
        ("on contract documents", False),
        ("contradicted", True),
        ("claimed only", True),
        ("contradicted", True),
        ("not confirmed", True),
    ]
    assert set(paper.claims) == {"good to 150 mph", "UL 90 rated"}


def test_the_quiet_swap_is_told_by_root_cause(reviews: dict[str, Review]) -> None:
    review = reviews["c_quiet_swap"]
    assert review.answers == {"asked": "deviates", "site": "not shown"}
    heads = {cause.cause for cause in review.root_causes if cause.head.verdict == "deviates"}
    assert {"panel.thickness", "panel.width", "clip.spacing", "deck.type"} <= heads
    deck = next(cause for cause in review.root_causes if cause.cause == "deck.type")
    assert review.root_causes[0] is deck
    assert {"uplift_class", "zone_uplift", "ul"} <= {f.rule for f in deck.follows}
    assert "07 41 13, 2.05.A" in cited(deck.head)
    assert "does not accept" in deck.head.message
    assert "asks for" in deck.head.message


def test_departures_declared_and_found_are_two_lists(reviews: dict[str, Review]) -> None:
    review = reviews["c_quiet_swap"]
    assert review.departures_declared == ("Panels are 18 in wide for fewer seams. All else as tested.",)
    text = "\n".join(review.departures_found)
    for words in ("26 ga", "No. 9", "OSB", "30 in"):
        assert words in text
    assert (
        "18 in proposed"
        not in text.replace("Clip spacing, corner: at most 12 inches specified", "").split("Clip spacing")[0]
    )


def test_remedies_are_proven_and_the_largest_opens_nothing(reviews: dict[str, Review]) -> None:
    review = reviews["c_quiet_swap"]
    assert review.remedies
    whole = [remedy for remedy in review.remedies if not remedy.leaves]
    assert whole
    fields = {change.field for change in whole[0].changes}
    assert fields == {"panel.thickness", "panel.width", "clip.spacing", "fastener.size", "deck.type"}
    assert not reviews["a_tested"].remedies


def test_what_a_pass_rests_on_is_said(reviews: dict[str, Review]) -> None:
    points = reviews["a_tested"].tipping_points
    assert any("Corner" in point.what and "82.5 psf" in point.then for point in points)
    assert any("not built" in point.then and "ul" in point.turns for point in points)


def test_every_finding_cites(reviews: dict[str, Review]) -> None:
    for review in reviews.values():
        for finding in review.findings:
            assert finding.citations, finding.rule
            assert finding.rulebook, finding.rule
            if finding.verdict == "not shown":
                assert finding.missing, finding.rule


def test_a_job_without_a_specification_is_reviewed_for_the_site_alone(tmp_path: Path) -> None:
    text = (LIBRARY / "job.yaml").read_text(encoding="utf-8")
    without = "\n".join(line for line in text.splitlines() if not line.startswith("specification"))
    pressures = (
        "\npressures:\n  - source: Sheet S-001, note 4\n    level: allowable\n    area: 10 sq ft\n"
        "    zones: {field: -32.3 psf, perimeter: -47.1 psf, corner: -56 psf}\n"
    )
    job = tmp_path / "job.yaml"
    job.write_text(without + pressures, encoding="utf-8")
    (review,) = run_reviews(job, [LIBRARY / "submittals" / "a_tested.yaml"])
    assert review.answers == {"asked": "not reviewed", "site": "complies"}
    assert [z.source for z in review.zones] == ["Sheet S-001, note 4"] * 3


def test_a_condition_that_the_drawings_contradict_is_named_where_the_listing_does_not_cover(
    tmp_path: Path,
) -> None:
    """The proposal is silent on it: what the contract documents show decides."""
    text = (LIBRARY / "submittals" / "a_tested.yaml").read_text(encoding="utf-8")
    first = "      - text: Plywood deck\n"
    sealed = "      - {text: Joints of the deck sealed, field: deck.joints, value: sealed}\n"
    file = tmp_path / "sealed.yaml"
    file.write_text(text.replace("    joints: open\n", "").replace(first, sealed + first), encoding="utf-8")
    (review,) = run_reviews(LIBRARY / "job.yaml", [file])
    listing = next(paper for paper in review.evidence if paper.id == "UL-PC175")
    assert [condition.state for condition in listing.conditions][:1] == ["contradicted"]
    fire = next(standing for standing in listing.standings if standing.rule == "fire_class")
    assert (fire.standing, fire.because) == (
        "does not cover",
        ('condition "Joints of the deck sealed": contradicted',),
    )
