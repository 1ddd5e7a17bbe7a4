"""The blank YAML form: every declared field, clean with its examples, nothing stated until lines are freed."""

from __future__ import annotations

import re

import pytest

from cleatmark.fields import FieldBook
from cleatmark.problems import render
from cleatmark.report.form_yaml import form_yaml, quoted
from cleatmark.review.run import declared_fields
from cleatmark.submittal import load_submittal


@pytest.fixture(scope="module")
def book() -> FieldBook:
    return declared_fields()


def freed(text: str) -> str:
    """The form with the first "# " of each line gone."""
    return re.sub(r"(?m)^# ", "", text)


def test_every_line_is_a_comment(book: FieldBook) -> None:
    assert all(line.startswith("#") for line in form_yaml(book).splitlines() if line)


def test_the_blank_form_states_nothing(book: FieldBook) -> None:
    submittal, problems = load_submittal("form.yaml", book, text=form_yaml(book))
    assert submittal is None
    assert [problem.message for problem in problems] == ["the file is empty"]


def test_freed_lines_state_the_example_of_every_field(book: FieldBook) -> None:
    submittal, problems = load_submittal("form.yaml", book, text=freed(form_yaml(book)))
    assert [render(problem) for problem in problems] == []
    assert submittal is not None
    assert set(submittal.facts) == {f"submittal.{key}" for key in book.block("submittal")}
    assert set(submittal.proposed) == {f"proposed.{key}" for key in book.block("assembly")}
    (document,) = submittal.documents
    stated = set(document.facts) | {claim.path for claim in document.claims}
    assert stated == {f"document.{key}" for key in book.block("document")}
    assert set(document.specimen) == {f"tested.{key}" for key in book.block("assembly")}
    (run,) = document.runs
    assert set(run.facts) == {f"run.{key}" for key in book.block("run")}
    assert run.own == {"tested.clip.spacing"}
    (condition,) = document.conditions
    assert set(condition.facts) == {f"condition.{key}" for key in book.block("condition")}
    assert condition.field == "deck.attachment"
    assert submittal.installed
    assert submittal.departures
    width = submittal.proposed["proposed.panel.width"]
    assert width.text == book.by_path["panel.width"].example


def test_a_line_names_unit_and_choices(book: FieldBook) -> None:
    lines = {line.split(":")[0].strip("# "): line for line in form_yaml(book).splitlines()}
    assert lines["yield_strength"].endswith("# Panel yield strength: ksi")
    assert "plywood | OSB" in next(line for line in form_yaml(book).splitlines() if "Deck:" in line)


@pytest.mark.parametrize(
    ("value", "shown"),
    [
        ("16 in", "16 in"),
        ("#12", '"#12"'),
        ("note: see sheet", '"note: see sheet"'),
        ("a #2", '"a #2"'),
        ("", '""'),
        ('the "A" clip', 'the "A" clip'),
        ("-45 psf", '"-45 psf"'),
    ],
)
def test_a_value_that_yaml_would_take_apart_is_quoted(value: str, shown: str) -> None:
    assert quoted(value) == shown
