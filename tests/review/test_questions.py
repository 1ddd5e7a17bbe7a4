"""What is not shown names what is missing and whom to ask, and comes with a question; what deviates, with a remedy."""

from __future__ import annotations

from functools import cache
from pathlib import Path

import pytest

from cleatmark.review.model import Review
from cleatmark.review.run import run_reviews

SAMPLES = Path(__file__).resolve().parents[2] / "samples"
SENT = sorted(SAMPLES.glob("*/submittals/*.yaml"))


@cache
def reviewed(submittal: Path) -> Review:
    return run_reviews(submittal.parents[1] / "job.yaml", [submittal])[0]


@pytest.mark.parametrize("submittal", SENT, ids=lambda path: f"{path.parents[1].name}-{path.stem}")
def test_what_is_open_says_what_to_do(submittal: Path) -> None:
    review = reviewed(submittal)
    questions = {
        (rule, request.to): question
        for request in review.requests
        for question, rules in zip(request.questions, request.concerns, strict=True)
        for rule in rules
    }
    for finding in review.findings:
        if finding.verdict == "not shown":
            assert finding.missing, finding.rule
            assert all(item.title and item.reason and (item.ask or finding.ask) for item in finding.missing)
            assert any(rule == finding.rule for rule, _ in questions), finding.rule
        if finding.verdict in ("deviates", "not shown"):
            assert finding.message
            assert finding.remedy, finding.rule
            assert finding.because, finding.rule


@pytest.mark.parametrize("submittal", SENT, ids=lambda path: f"{path.parents[1].name}-{path.stem}")
def test_a_question_can_be_sent_as_it_stands(submittal: Path) -> None:
    for request in reviewed(submittal).requests:
        for question in request.questions:
            assert question[0].isupper() or question[0].isdigit()
            assert question.rstrip().endswith((".", "?"))
            assert "{" not in question
            assert "None" not in question


def test_a_condition_that_no_drawing_shows_is_asked_for_by_drawing() -> None:
    review = reviewed(SAMPLES / "library" / "submittals" / "b_listing.yaml")
    asked = next(request for request in review.requests if request.to == "contractor")
    assert any("The contract documents show otherwise" in question for question in asked.questions)
    assert any("On which drawing does it stand?" in question for question in asked.questions)
    assert any("on which drawing is it shown?" in question for question in asked.questions)
