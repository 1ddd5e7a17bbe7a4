"""Reading a specification with the readings of a set of rulebooks."""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.language import tree as t
from cleatmark.language.program import Program
from cleatmark.problems import InputError
from cleatmark.review.kept_phrases import learn_phrases
from cleatmark.review.model import Amendment
from cleatmark.spec.apply import apply_readings
from cleatmark.spec.clauses import Specification
from cleatmark.spec.document import read_docx
from cleatmark.spec.reading import Extraction, Reading

if TYPE_CHECKING:
    from cleatmark.spec.addenda import Amendment as AmendmentMade

CONDITIONS = ("listing_conditions",)
"""What a reading of a listing's conditions says after `in`, where a reading of specifications names articles."""


def readings_of(program: Program) -> tuple[Reading, ...]:
    """The rulebooks' `reading` statements as the specification room applies them."""
    return tuple(
        reading_of(file, statement, program)
        for file, statement in program.readings
        if statement.kinds != CONDITIONS
    )


def condition_readings(program: Program) -> tuple[Reading, ...]:
    """The readings for the conditions of listings: `in listing_conditions`."""
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
        like=statement.like,
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


class FileRead(Struct, frozen=True, eq=False):
    """A specification file read: what it states, its clauses as amended, what was odd in the files."""

    extraction: Extraction
    specification: Specification
    notices: tuple[str, ...]
    amendments: tuple[Amendment, ...] = ()
    addenda: tuple[str, ...] = ()


def read_file(path: Path, program: Program, addenda: Sequence[Path] = ()) -> FileRead:
    """The requirements that a DOCX states as its addenda amend it, in their order.

    Raises InputError where a file cannot be read, or where a reading of the rulebooks is wrong.
    """
    specification, problems = read_docx(path)
    notices = tuple(problem.message for problem in problems)
    amendments: tuple[Amendment, ...] = ()
    names: tuple[str, ...] = ()
    if addenda:
        from cleatmark.spec.addenda import amended

        after = amended(specification, addenda)
        specification, notices = after.specification, (*notices, *after.notices)
        amendments = tuple(amendment(item) for item in after.amendments)
        names = tuple(f"{one.name} of {one.dated}" if one.dated else one.name for one in after.addenda)
    readings = readings_of(program)
    learn_phrases(readings)
    extraction = apply_readings(specification, readings, program.book)
    if extraction.problems:
        raise InputError(extraction.problems)
    notices = (*notices, *extraction.notices)
    return FileRead(extraction, specification, notices, amendments, names)


def amendment(item: AmendmentMade) -> Amendment:
    """An addendum's item as a report shows it."""
    change = item.change
    return Amendment(
        addendum=item.addendum,
        item=change.item,
        dated=item.dated,
        clause=change.clause,
        did=change.did,
        before=change.before,
        after=change.after,
        note=change.note if change.did else change.why,
        quote=change.quote,
        citations=item.citations,
    )
