"""The program and the world of one submittal under a job, as a review has them, for `rules why`."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cleatmark.language.program import Program
    from cleatmark.language.world import World


def world_for(job_file: Path, submittal_file: Path, rules: Sequence[str]) -> tuple[Program, World]:
    """Rulebooks compiled, and what they are judged over. Raises InputError with every problem found."""
    from cleatmark.job.load import load_job
    from cleatmark.problems import InputError
    from cleatmark.review.demand import demand
    from cleatmark.review.engine import SpecificationRead
    from cleatmark.review.run import declared_fields, program_for, read_specification
    from cleatmark.review.world import build
    from cleatmark.submittal.load import load_submittal

    book = declared_fields()
    job, problems = load_job(job_file, book)
    submittal, found = load_submittal(submittal_file, book)
    told = [*problems, *found]
    try:
        program = program_for(job, job_file.parent, rules)
    except InputError as error:
        raise InputError([*told, *error.problems]) from None
    if told or job is None or submittal is None:
        raise InputError(told)
    read = read_specification(job, job_file.parent, program) or SpecificationRead()
    zones = demand(job, submittal, read.stated, program.book).zones
    return program, build(job, submittal, read.stated, zones, read.clauses, read.file)
