"""A text that the specification states piece by piece, proposed whole."""

from __future__ import annotations

from pathlib import Path

from cleatmark.review.prescreen import files_in, prescreen
from cleatmark.review.prescreen_setup import Setup

PELL_CREEK = Path(__file__).resolve().parents[2] / "samples" / "library" / "systems" / "pell_creek"


def test_another_finish_alone_is_a_change_and_not_a_refusal(setup: Setup, tmp_path: Path) -> None:
    """PVDF and AAMA 621 are asked for in 2.02.E: a polyester finish is proposed, and all else as in PC-175."""
    text = (PELL_CREEK / "pc_175.yaml").read_text(encoding="utf-8")
    finish = "finish: 'two-coat PVDF, AAMA 621'"
    assert finish in text
    (tmp_path / "smp.yaml").write_text(text.replace(finish, "finish: SMP", 1), encoding="utf-8")
    (one,) = prescreen(setup, files_in(tmp_path), folder=tmp_path)
    assert one.outcome == "with changes"
    (change,) = one.changes
    assert (change.title, change.before, change.to) == ("Panel finish", "SMP", "PVDF, AAMA 621")
