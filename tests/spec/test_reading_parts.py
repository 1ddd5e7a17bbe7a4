"""Ribs and their pitch, clips told by what they do, and who guarantees the work."""

from __future__ import annotations

import pytest
from reading_build import found


@pytest.mark.parametrize(
    "text",
    [
        "Ribs 3 inches high at 24 inches on center.",
        "Ribs 3 inches high, spaced 24 inches apart.",
        "Panel profile: 3 inch high ribs at 24 inches o.c., with minor ribs at 6 inches on center.",
    ],
)
def test_the_pitch_of_ribs_is_the_panels_width(text: str) -> None:
    assert found(text, "panels") == {"panel.seam_height equal 3 in", "panel.width equal 24 in"}


def test_minor_ribs_tell_no_width() -> None:
    assert found("Minor ribs at 6 inches on center.", "panels") == set()


@pytest.mark.parametrize("seam", ["snap-together", "double-lock", "snap-lock"])
def test_the_height_before_a_kind_of_seam_is_no_width(seam: str) -> None:
    assert {"panel.width equal 16 in", "panel.seam_height equal 1.75 in"} <= found(
        f'16" net coverage, 1-3/4" {seam} seams.', "panels"
    )


@pytest.mark.parametrize(
    "text",
    [
        "Two-piece clips with a moving tab.",
        "Two-piece clips, the upper part free to slide.",
        "Clips: two-piece with 2 inches of travel.",
        "Clips: two-piece, base and movable top.",
    ],
)
def test_a_clip_of_two_pieces_that_moves_is_a_floating_one(text: str) -> None:
    assert found(text, "clips") == {"clip.type required two-piece floating"}


def test_a_clip_of_two_pieces_of_which_nothing_more_is_told_may_be_either() -> None:
    assert found("Two-piece clips of stainless steel.", "clips") == {
        "clip.type required two-piece fixed or two-piece floating"
    }


@pytest.mark.parametrize(
    "text",
    [
        "The erector shall guarantee the work for two years.",
        "The roofing subcontractor shall guarantee the work for two years.",
        "Installer shall warrant the work for two years.",
    ],
)
def test_whoever_puts_the_roof_up_guarantees_it(text: str) -> None:
    assert found(text, "warranty") == {"warranty.installer at least 2 years"}


def test_years_of_the_erectors_experience_are_no_guarantee() -> None:
    assert found("The erector shall have ten years of experience.", "warranty") == set()
