"""The set as a gate: precision, recall, clause accuracy, and none of the wrong answers that are easy to give."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from .build import names
from .measure import Score, expectations, extraction_of, judge

PRECISION, RECALL, CLAUSES = 0.97, 0.95, 0.99
"""Issue 4's floors."""


@cache
def _scores(folder: Path) -> dict[str, Score]:
    return {name: judge(name, extraction_of(name, folder)) for name in names()}


@pytest.fixture(scope="session")
def scores(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Score]:
    """The score of every section of the set."""
    return _scores(tmp_path_factory.mktemp("sections"))


def test_the_set_is_as_wide_as_it_should_be() -> None:
    assert len(names()) >= 12
    assert sum(len(expectations(name)["stated"]) for name in names()) > 500


def test_precision_recall_and_clause_accuracy(scores: dict[str, Score]) -> None:
    total = Score()
    for score in scores.values():
        total.add(score)
    precision, recall, clauses = total.rates()
    assert (precision >= PRECISION, recall >= RECALL, clauses >= CLAUSES) == (True, True, True), total.notes


@pytest.mark.parametrize("name", names())
def test_no_wrong_answer_of_the_easy_kinds(name: str, scores: dict[str, Score]) -> None:
    assert [note for note in scores[name].notes if ": WRONG " in note] == []


@pytest.mark.parametrize("name", names())
def test_standards_that_are_only_listed_are_told(name: str, scores: dict[str, Score]) -> None:
    assert [note for note in scores[name].notes if "NOT REFERENCE ONLY" in note] == []
