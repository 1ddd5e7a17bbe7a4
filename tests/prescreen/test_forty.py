"""Forty systems screened, each beside what was worked out by hand for it."""

from __future__ import annotations

from pathlib import Path

import pytest

from cleatmark.review.prescreen import files_in, prescreen
from cleatmark.review.prescreen_model import Screened
from cleatmark.review.prescreen_setup import Setup

from .forty import BROKEN, CASES, Case


@pytest.fixture(scope="module")
def screened(folder: Path, setup: Setup) -> dict[str, Screened]:
    """The results by name of the file, without its ending."""
    return {Path(one.file).stem: one for one in prescreen(setup, files_in(folder), folder=folder)}


def test_there_are_forty(screened: dict[str, Screened]) -> None:
    assert len(screened) == len(CASES) + len(BROKEN) == 40


@pytest.mark.parametrize("case", CASES, ids=lambda case: case.name)
def test_a_system_is_told_as_worked_by_hand(case: Case, screened: dict[str, Screened]) -> None:
    one = screened[case.name]
    assert one.outcome == case.outcome
    if case.rule:
        assert one.rule == case.rule
    if case.headroom is not None:
        assert one.headroom is not None
        assert round(one.headroom * 100) == case.headroom
    assert tuple((change.title, change.to) for change in one.changes) == case.changes


def test_a_change_in_some_zones_names_them(screened: dict[str, Screened]) -> None:
    zones = [(change.to, change.zones) for change in screened["even_clips"].changes]
    assert zones == [("18 inches", ("Perimeter",)), ("12 inches", ("Corner",))]


def test_what_decides_is_cited_and_the_rest_named(screened: dict[str, Screened]) -> None:
    wide = screened["wide_and_tested"]
    assert wide.where == ("07 41 13, 2.02.C",)
    assert wide.margin == "2 in over"
    assert "Approval by FM" in screened["no_insurer"].also
    assert screened["weak_corner"].verdict == "deviates"
    assert screened["no_insurer"].verdict == "not shown"


def test_a_system_that_fits_says_which_zone_comes_closest(screened: dict[str, Screened]) -> None:
    one = screened["as_tested"]
    assert (one.asked, one.site, one.zone) == ("complies", "complies", "Perimeter")
    assert one.told == "Perimeter: demand 47.1 psf, allowable 67.5 psf by T-118, run 3"


def test_what_cannot_be_read_is_listed_with_its_error(screened: dict[str, Screened]) -> None:
    unit = screened["no_unit"]
    assert unit.outcome == "not read"
    assert unit.problems[0].startswith('no_unit.yaml:3:12: panel.width: "16" has no unit')
    assert screened["not_yaml"].outcome == "not read"
    assert screened["not_yaml"].problems


def test_no_set_of_changes_swaps_the_panel_itself(screened: dict[str, Screened]) -> None:
    assert screened["another_profile"].outcome == "not"
