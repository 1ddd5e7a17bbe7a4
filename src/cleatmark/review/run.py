"""From files to reviews: the main job. Problems of all inputs are told together."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path

from msgspec.structs import replace

from cleatmark.facts import Citation
from cleatmark.fields import FieldBook
from cleatmark.job.load import load_job
from cleatmark.job.model import Job
from cleatmark.language.program import Program, fields_of
from cleatmark.language.rulebooks import gather, load_program
from cleatmark.language.world import World
from cleatmark.problems import InputError, Place, Problem
from cleatmark.review.advice import advise
from cleatmark.review.clauses import clause_items
from cleatmark.review.engine import SpecificationRead, review
from cleatmark.review.model import FlaggedRow, ReadResult, Review
from cleatmark.review.world import by_subject
from cleatmark.submittal.load import load_submittal

DEFAULT_RULES = ("base",)


def run_reviews(
    job_file: Path, submittal_files: Sequence[Path], rules: Sequence[str] = (), *, drawn: bool = False
) -> tuple[Review, ...]:
    """Reviews of the submittals under the job, with roof plans where `drawn`. Raises InputError with every problem
    found."""
    book = declared_fields()
    problems: list[Problem] = []
    job, found = load_job(job_file, book)
    problems.extend(found)
    submittals = []
    for file in submittal_files:
        submittal, found = load_submittal(file, book)
        problems.extend(found)
        if submittal is not None:
            submittals.append(submittal)
    program: Program | None = None
    try:
        program = program_for(job, job_file.parent, rules)
    except InputError as error:
        problems.extend(error.problems)
    read: SpecificationRead | None = None
    if job is not None and program is not None:
        try:
            read = read_specification(job, job_file.parent, program)
        except InputError as error:
            problems.extend(error.problems)
    if problems or job is None or program is None:
        raise InputError(problems)
    return tuple(review(job, submittal, read, program, drawn=drawn) for submittal in submittals)


def declared_fields() -> FieldBook:
    """The fields that ship, declared in rules/fields.rules."""
    files, problems = gather(["fields"], Path(), cases=False)
    if problems:
        raise InputError(problems)
    return fields_of(files)


def program_for(job: Job | None, base: Path, rules: Sequence[str]) -> Program:
    """The program of the rulebooks asked for on the command line, else those of the job, else the base review."""
    named = {rule.text: rule.place for rule in (job.rules if job and not rules else ())}
    wanted = rules or list(named) or DEFAULT_RULES
    try:
        return load_program(wanted, Path() if rules else base)
    except InputError as error:
        raise InputError(_where_named(problem, named) for problem in error.problems) from None


def _where_named(problem: Problem, named: Mapping[str, Place]) -> Problem:
    """A problem of a whole rulebook stands where the job names it."""
    place = problem.place if problem.place.line else named.get(problem.place.file, problem.place)
    if place is problem.place:
        return problem
    return replace(problem, place=place, message=f'"{problem.place.file}": {problem.message}')


def read_specification(job: Job, base: Path, program: Program) -> SpecificationRead | None:
    """What the job's specification states, read with the program's readings; None without a specification."""
    reference = job.specification
    if reference is None:
        return None
    addenda = [base / addendum.text for addendum in job.addenda]
    return read_clauses(base / reference.text, reference.text, program, addenda)


def read_clauses(path: Path, shown: str, program: Program, addenda: Sequence[Path] = ()) -> SpecificationRead:
    """A specification read for a review, as amended by its addenda: its head, what it states, and its clauses as
    things that advice judges."""
    from cleatmark.review.reading import read_file

    file = read_file(path, program, addenda)
    extraction, specification = file.extraction, file.specification
    section = next((s for s in specification.sections if s.roof), None)
    flagged = extraction.flagged
    return SpecificationRead(
        file=shown,
        section=section.number if section else "",
        title=section.title if section else "",
        dated=specification.dated,
        stated=extraction.stated,
        clauses=clause_items(extraction, program.book),
        flagged=tuple(FlaggedRow(item.clause, item.flag, item.quote, item.detail) for item in flagged),
        notices=file.notices,
        amendments=file.amendments,
        addenda=file.addenda,
    )


def read_alone(path: Path, program: Program, addenda: Sequence[Path] = ()) -> ReadResult:
    """A specification read without a job, as amended by its addenda in their order: what it asks for, what is open,
    the advice on it."""
    read = read_clauses(path, path.name, program, addenda)
    spec = by_subject(read.stated)
    world = World({}, {"": {}}, spec, clauses=read.clauses, files={"spec": Citation("spec", read.file)})
    return ReadResult(
        spec=read.file,
        section=read.section,
        title=read.title,
        dated=read.dated,
        stated=read.stated,
        clauses_flagged=read.flagged,
        advice=advise(program, world),
        notices=read.notices,
        amendments=read.amendments,
        addenda=read.addenda,
    )
