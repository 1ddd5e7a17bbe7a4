"""What each sample's README says comes of it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from cleatmark.cli import main

SAMPLES = Path(__file__).parents[2] / "samples"
OUTCOMES = {
    "library/a_tested": (0, "complies", "complies", set()),
    "library/b_listing": (1, "not shown", "not shown", {"evidence_kind"}),
    "library/c_quiet_swap": (
        1,
        "deviates",
        "not shown",
        {"panel_thickness", "panel_width", "clip_spacing", "deck_type"},
    ),
    "bus_garage/a_tested": (0, "complies", "complies", set()),
    "bus_garage/b_wrong_method": (
        1,
        "deviates",
        "not shown",
        {"letter_complete", "evidence_kind", "fm_by_the_body"},
    ),
    "bus_garage/c_wide_purlins": (
        1,
        "deviates",
        "deviates",
        {"uplift_rating", "zone_uplift", "fm_zone_rating"},
    ),
    "coastal_school/a_current": (0, "complies", "complies", set()),
    "coastal_school/b_expired": (
        1,
        "deviates",
        "not shown",
        {"letter_complete", "paper_in_force", "approval_named", "evidence_kind", "board_approval"},
    ),
    "coastal_school/c_corner_clips": (1, "complies", "deviates", {"zone_uplift"}),
}


@pytest.mark.parametrize("name", sorted(OUTCOMES))
def test_a_sample_comes_out_as_its_readme_says(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    folder, _, submittal = name.partition("/")
    job = SAMPLES / folder / "job.yaml"
    status = main(
        ["review", str(job), str(SAMPLES / folder / "submittals" / f"{submittal}.yaml"), "--format", "json"]
    )
    told = json.loads(capsys.readouterr().out)
    deviating = {finding["rule"] for finding in told["findings"] if finding["verdict"] == "deviates"}
    got = (status, told["answers"]["asked"], told["answers"]["site"], deviating)
    assert got == OUTCOMES[name]
