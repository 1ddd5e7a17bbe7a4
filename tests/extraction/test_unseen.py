"""Sections that others wrote without knowing the reader. No longer blind; what was mended for them stays so."""

from __future__ import annotations

import pytest

from .build import UNSEEN, names
from .measure import Score, measure


@pytest.fixture(scope="module")
def score() -> Score:
    return measure(names(UNSEEN), UNSEEN)


def test_precision_recall_and_clauses_stay_where_they_were_brought(score: Score) -> None:
    precision, recall, clauses = score.rates()
    assert (precision >= 0.96, recall >= 0.96, clauses >= 0.99) == (True, True, True), score.notes


def test_wrong_answers_of_the_kinds_that_are_easy_to_give_stay_few(score: Score) -> None:
    wrong = [note for note in score.notes if ": WRONG " in note]
    assert len(wrong) <= 12, wrong
