"""Rule text to the tree. A file is cut where a line starts in column 1, so that one mistake hides no other."""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import cache
from importlib.resources import files
from typing import TYPE_CHECKING

from cleatmark.language import tree as t
from cleatmark.language.syntax import explain
from cleatmark.problems import Place, Problem
from cleatmark.units import QUANTITY_PATTERN

if TYPE_CHECKING:
    from lark import Lark

MOST_CHARACTERS = 2_000_000
MOST_DEPTH = 40
MOST_LINE = 2_000


@cache
def grammar() -> Lark:
    """The parser, built once a process. `strict` finds ambiguities; it needs no other state."""
    from lark import Lark

    from cleatmark.language.build import Builder

    text = files("cleatmark.language").joinpath("grammar.lark").read_text(encoding="utf-8")
    quantity = re.sub(r"(?<!\\)/", r"\/", QUANTITY_PATTERN)
    return Lark(
        text.replace("@QUANTITY@", quantity),
        parser="lalr",
        start="start",
        propagate_positions=True,
        transformer=Builder(),
        maybe_placeholders=False,
    )


def chunks(lines: list[str]) -> Iterator[tuple[int, int]]:
    """Line ranges (from 0, end excluded) of the statements: each starts with a line whose first column is used."""
    start: int | None = None
    for number, line in enumerate(lines):
        if line[:1].strip() and not line.startswith("--"):
            if start is not None:
                yield start, number
            start = number
        elif line.strip() and not line.lstrip().startswith("--") and start is None:
            start = number
    if start is not None:
        yield start, len(lines)


def parse(text: str, file: str) -> tuple[t.RuleFile | None, tuple[Problem, ...]]:
    """The tree of one rule file, and everything that is wrong with its form. None where no rulebook heads it."""
    if len(text) > MOST_CHARACTERS:
        message = f"the file has {len(text):,} characters; a rule file may have {MOST_CHARACTERS:,}"
        return None, (Problem(Place(file), message, ("split it into several rulebooks",)),)
    lines = text.splitlines()
    problems: list[Problem] = []
    statements: list[t.AnyStatement] = []
    for start, end in chunks(lines):
        hostile = _too_much(lines, start, end, file)
        if hostile:
            problems.append(hostile)
            continue
        statement, found = _statement(lines, start, end, file)
        problems.extend(found)
        if statement is not None:
            statements.append(statement)
    heads = [s for s in statements if isinstance(s, t.RulebookHead)]
    problems.extend(
        Problem(
            Place(file, other.pos.line, 1),
            "a file holds one rulebook; a second one starts here",
            (
                f'the first is "{heads[0].id}", line {heads[0].pos.line}',
                "put each rulebook into a file of its own",
            ),
            lines[other.pos.line - 1],
            8,
        )
        for other in heads[1:]
    )
    if not heads:
        message = "the file names no rulebook; its first statement must be one"
        help_ = ('for example: rulebook coastal "Coastal county amendments"',)
        problems.insert(0, Problem(Place(file, 1, 1), message, help_))
        return None, tuple(problems)
    rest = tuple(s for s in statements if not isinstance(s, t.RulebookHead))
    return t.RuleFile(file, heads[0], rest, tuple(lines)), tuple(problems)


def _too_much(lines: list[str], start: int, end: int, file: str) -> Problem | None:
    depth = 0
    for number in range(start, end):
        line = lines[number]
        if len(line) > MOST_LINE:
            message = f"the line has {len(line):,} characters; a line may have {MOST_LINE:,}"
            return Problem(Place(file, number + 1, 1), message)
        for column, character in enumerate(line):
            depth += (character == "(") - (character == ")")
            if depth > MOST_DEPTH:
                message = f"parentheses are nested more than {MOST_DEPTH} deep"
                help_ = ("give parts of the condition names of their own with `define`",)
                return Problem(Place(file, number + 1, column + 1), message, help_)
    return None


def _statement(
    lines: list[str], start: int, end: int, file: str
) -> tuple[t.AnyStatement | None, list[Problem]]:
    from lark import UnexpectedInput

    from cleatmark.language.build import Built

    text = "\n" * start + "\n".join(lines[start:end])
    try:
        built = grammar().parse(text)
    except UnexpectedInput as error:
        return None, [explain(error, lines, start, end, file)]
    assert isinstance(built, Built)
    problems = [
        Problem(
            Place(file, doubled.pos.line, doubled.pos.column),
            f"`{doubled.name}` stands twice in one statement",
            (f"the first is in line {doubled.first.line}; keep one of them",),
            lines[doubled.pos.line - 1],
            doubled.pos.span,
        )
        for doubled in built.doubled
    ]
    return built.statement, problems
