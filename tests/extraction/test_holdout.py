"""Sections that the readings are not tuned to: how well the reader does on an office it has not met."""

from __future__ import annotations

from pathlib import Path

import pytest

from .build import HOLDOUT, names
from .measure import extraction_of, judge

FLOORS = {"county_annex_aluminum": (0.95, 0.93), "steel_deck_archive": (0.97, 0.93)}
"""Precision and recall, a little under what was measured when the sections were written."""


def test_every_held_out_section_has_a_floor() -> None:
    assert names(HOLDOUT) == sorted(FLOORS)


@pytest.mark.parametrize("name", sorted(FLOORS))
def test_a_section_that_the_readings_are_not_tuned_to(name: str, tmp_path: Path) -> None:
    score = judge(name, extraction_of(name, tmp_path, HOLDOUT), HOLDOUT)
    precision, recall, clauses = score.rates()
    at_least = FLOORS[name]
    assert (precision >= at_least[0], recall >= at_least[1], clauses >= 0.99) == (True, True, True), (
        score.notes
    )
    assert [note for note in score.notes if ": WRONG " in note or "NOT REFERENCE ONLY" in note] == []
