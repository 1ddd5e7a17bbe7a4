"""A rulebook that a job names, and that is not there, is told at the line of the job."""

from pathlib import Path

import pytest

from cleatmark.job.load import load_job
from cleatmark.problems import InputError
from cleatmark.review.run import declared_fields, program_for


def test_a_rulebook_that_is_not_there_is_told_where_the_job_names_it(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text("name: Tollgate (invented)\nrules: [base, modelcode]\n", encoding="utf-8")
    job, _ = load_job(path, declared_fields())
    with pytest.raises(InputError) as told:
        program_for(job, tmp_path, ())
    assert str(told.value) == f'{path}:2:15: "modelcode": no such rulebook'


def test_one_of_the_command_line_is_told_by_its_name(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="modelcode:0:0: no such rulebook"):
        program_for(None, tmp_path, ["modelcode"])
