"""From files to reviews: the main job. Problems of all inputs are told together."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from pathlib import Path

from cleatmark.facts import Citation, Fact
from cleatmark.fields import FieldBook
from cleatmark.job.load import load_job
from cleatmark.job.model import Job
from cleatmark.language.program import Program, compile_program, fields_of
from cleatmark.language.rulebooks import gather, load
from cleatmark.language.world import Item
from cleatmark.problems import InputError, Problem
from cleatmark.review.engine import SpecificationRead, review
from cleatmark.review.model import Review
from cleatmark.submittal.load import load_submittal

DEFAULT_RULES = ("base",)


def run_reviews(
    job_file: Path, submittal_files: Sequence[Path], rules: Sequence[str] = ()
) -> tuple[Review, ...]:
    """Reviews of the submittals under the job. Raises InputError with every problem found."""
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
    return tuple(review(job, submittal, read, program) for submittal in submittals)


def declared_fields() -> FieldBook:
    """The fields that ship, declared in rules/fields.rules."""
    files, problems = gather(["fields"], Path())
    if problems:
        raise InputError(problems)
    return fields_of(files)


def program_for(job: Job | None, base: Path, rules: Sequence[str]) -> Program:
    """The program of the rulebooks asked for on the command line, else those of the job, else the base review."""
    wanted: Iterable[str] = rules or [rule.text for rule in (job.rules if job else ())] or DEFAULT_RULES
    return compile_program(load(wanted, Path() if rules else base))


def read_specification(job: Job, base: Path, program: Program) -> SpecificationRead | None:
    """What the job's specification states, read with the program's readings; None without a specification."""
    reference = job.specification
    if reference is None:
        return None
    from cleatmark.review.reading import read_file

    extraction, specification = read_file(base / reference.text, program)
    section = next((s for s in specification.sections if s.roof), None)
    clauses = tuple(
        clause_item(f"{n}", flagged.clause, flagged.flag, flagged.quote, flagged.detail, flagged.citation)
        for n, flagged in enumerate(extraction.flagged)
    )
    clauses += tuple(
        clause_item(
            f"s{n}",
            s.clause,
            s.flags,
            s.quote,
            s.text,
            s.citation,
            subject=s.subject,
            relation=s.relation,
            verb=s.verb,
            level=s.level,
        )
        for n, s in enumerate(extraction.stated)
    )
    return SpecificationRead(
        file=reference.text,
        section=section.number if section else "",
        title=section.title if section else "",
        dated=specification.dated,
        stated=extraction.stated,
        clauses=clauses,
    )


def clause_item(
    id: str,
    address: str,
    flags: str | tuple[str, ...],
    quote: str,
    detail: str,
    citation: Citation,
    **more: str,
) -> Item:
    """A flagged clause or a stated requirement as a thing that advice can speak about."""
    own = (flags,) if isinstance(flags, str) else flags
    values = {"address": address, "text": quote, "detail": detail, "level": "", **more}
    facts = {
        f"clause.{key}": Fact(f"clause.{key}", value, value, (citation,)) for key, value in values.items()
    }
    facts["clause.flags"] = Fact("clause.flags", own, ", ".join(own), (citation,))
    return Item("clause", id, address, facts, citation)
