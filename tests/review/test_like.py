"""A requirement told by another field: "one at every purlin" is a clip spacing like the purlins'."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from cleatmark.review.run import run_reviews

GARAGE = Path(__file__).parents[2] / "samples" / "bus_garage"
CLIPS = '    spacing: {"Zone 1\'": 60 in, Zone 1: 60 in, Zone 2: 48 in, Zone 3: 30 in}\n    bearing_plate'
PURLINS = '    spacing: {"Zone 1\'": 60 in, Zone 1: 60 in, Zone 2: 48 in, Zone 3: 30 in}\n  insulation'


@pytest.mark.parametrize(
    ("old", "new", "verdict", "missing"),
    [
        ("", "", "complies", []),
        (CLIPS, CLIPS.replace("60 in", "120 in"), "deviates", []),
        (PURLINS, "  insulation", "not shown", ["proposed.support.spacing"]),
    ],
    ids=["one at each", "at every other", "purlins not stated"],
)
def test_a_clip_at_every_purlin(tmp_path: Path, old: str, new: str, verdict: str, missing: list[str]) -> None:
    shutil.copytree(GARAGE, tmp_path / "job")
    file = tmp_path / "job" / "submittals" / "a_tested.yaml"
    text = file.read_text(encoding="utf-8")
    assert text.count(old) == 1 or not old
    file.write_text(text.replace(old, new) if old else text, encoding="utf-8")
    (review,) = run_reviews(tmp_path / "job" / "job.yaml", [file])
    found = next(item for item in review.findings if item.rule == "clip_spacing")
    assert found.verdict == verdict
    assert [item.path for item in found.missing] == missing
