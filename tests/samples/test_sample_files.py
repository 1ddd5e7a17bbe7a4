"""The jobs and submittals of the samples load without a mistake and say what their READMEs rest on."""

from __future__ import annotations

from pathlib import Path

import pytest

from cleatmark.fields import FieldBook
from cleatmark.job import load_job
from cleatmark.language.parse import parse
from cleatmark.language.program import fields_of
from cleatmark.problems import render
from cleatmark.submittal import load_submittal

ROOT = Path(__file__).resolve().parents[2]
JOBS = sorted((ROOT / "samples").glob("*/job.yaml"))
SUBMITTALS = sorted((ROOT / "samples").glob("*/submittals/*.yaml"))


@pytest.fixture(scope="module")
def book() -> FieldBook:
    """The declared fields."""
    path = ROOT / "rules" / "fields.rules"
    file, problems = parse(path.read_text("utf-8"), path.name)
    assert file is not None
    assert not problems
    return fields_of([file])


def test_three_jobs_with_three_submittals_each():
    assert len(JOBS) == 3
    assert [len(list((job.parent / "submittals").glob("*.yaml"))) for job in JOBS] == [3, 3, 3]


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.parent.name)
def test_a_job_loads(book, path):
    job, problems = load_job(path, book)
    assert [render(problem) for problem in problems] == []
    assert job is not None
    assert "(invented)" in job.name


@pytest.mark.parametrize("path", SUBMITTALS, ids=lambda path: f"{path.parts[-3]}-{path.stem}")
def test_a_submittal_loads(book, path):
    submittal, problems = load_submittal(path, book)
    assert [render(problem) for problem in problems] == []
    assert submittal is not None


def test_the_district_rules_parse():
    path = ROOT / "samples" / "coastal_school" / "district.rules"
    _, problems = parse(path.read_text("utf-8"), path.name)
    assert [render(problem) for problem in problems] == []
