"""Reading a specification with the readings of a set of rulebooks."""

from __future__ import annotations

from pathlib import Path

from msgspec.structs import replace

from cleatmark.language import tree as t
from cleatmark.language.program import Program
from cleatmark.problems import InputError
from cleatmark.spec.apply import apply_readings
from cleatmark.spec.clauses import Specification
from cleatmark.spec.document import read_docx
from cleatmark.spec.reading import Extraction, Reading

CONDITIONS = ("conditions",)
"""What a reading of a listing's conditions says after `in`, where a reading of specifications names articles."""


def readings_of(program: Program) -> tuple[Reading, ...]:
    """The rulebooks' `reading` statements as the specification room applies them."""
    return tuple(
        reading_of(file, statement, program)
        for file, statement in program.readings
        if statement.kinds != CONDITIONS
    )


def condition_readings(program: Program) -> tuple[Reading, ...]:
    """The readings for the conditions of listings: `in conditions`."""
    return tuple(
        replace(reading_of(file, statement, program), kinds=())
        for file, statement in program.readings
        if statement.kinds == CONDITIONS
    )


def reading_of(file: t.RuleFile, statement: t.ReadingStatement, program: Program) -> Reading:
    """One statement; the subject's field gives kind and unit."""
    subject = statement.gives.removeprefix("spec.")
    field = program.book.block("spec").get(subject)
    return Reading(
        id=statement.id,
        gives=subject,
        patterns=statement.patterns,
        relation=statement.relation,
        value=statement.value,
        flags=statement.flags,
        kinds=statement.kinds,
        not_in=statement.not_in,
        near=statement.near,
        not_near=statement.not_near,
        ask=statement.ask.to if statement.ask else "",
        question=statement.ask.question if statement.ask else "",
        kind=field.kind if field else "",
        unit=field.unit if field else "",
        rulebook=file.head.id,
    )


def read_file(path: Path, program: Program) -> tuple[Extraction, Specification, tuple[str, ...]]:
    """The requirements that a DOCX states, the specification itself, and notices of what was odd in the file.

    Raises InputError where the file cannot be read, or where a reading of the rulebooks is wrong.
    """
    specification, problems = read_docx(path)
    extraction = apply_readings(specification, readings_of(program), program.book)
    if extraction.problems:
        raise InputError(extraction.problems)
    return extraction, specification, tuple(problem.message for problem in problems)
