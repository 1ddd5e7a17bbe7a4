"""The samples load without a mistake under the fields that rules/fields.rules declares."""

from pathlib import Path

import pytest

from cleatmark.fields import FieldBook
from cleatmark.job import load_job
from cleatmark.language.parse import parse
from cleatmark.language.program import fields_of
from cleatmark.problems import render
from cleatmark.submittal import load_submittal

ROOT = Path(__file__).parents[2]
SUBMITTALS = sorted(ROOT.glob("samples/*/submittals/*.yaml"))
JOBS = sorted(ROOT.glob("samples/*/job.yaml"))


@pytest.fixture(scope="module")
def declared() -> FieldBook:
    path = ROOT / "rules" / "fields.rules"
    file, problems = parse(path.read_text(), str(path))
    assert file is not None
    assert problems == ()
    return fields_of([file])


@pytest.mark.parametrize("path", SUBMITTALS, ids=lambda path: f"{path.parts[-3]}-{path.stem}")
def test_a_submittal_of_a_sample(path: Path, declared: FieldBook) -> None:
    submittal, problems = load_submittal(path, declared)
    assert [render(problem) for problem in problems] == []
    assert submittal is not None
    assert submittal.proposed
    assert submittal.documents


@pytest.mark.parametrize("path", JOBS, ids=lambda path: path.parts[-2])
def test_the_job_of_a_sample(path: Path, declared: FieldBook) -> None:
    job, problems = load_job(path, declared)
    assert [render(problem) for problem in problems] == []
    assert job is not None
    assert job.facts["job.name"].text


def test_there_are_samples() -> None:
    assert JOBS
    assert SUBMITTALS


def test_every_example_of_a_field_is_a_value_of_it(declared: FieldBook) -> None:
    from cleatmark.yamlfile import read_value

    for field in declared:
        if field.example:
            assert read_value(field, field.example) is not None, field.path
