"""The readings that ship, with the fields they give."""

from __future__ import annotations

from functools import cache
from pathlib import Path

from cleatmark.fields import FieldBook
from cleatmark.language.rulebooks import load_program
from cleatmark.review.reading import readings_of
from cleatmark.spec.reading import Reading


@cache
def shipped_readings() -> tuple[tuple[Reading, ...], FieldBook]:
    """The readings of rules/readings.rules and the declared fields."""
    program = load_program(["readings"], Path.cwd())
    return readings_of(program), program.book
