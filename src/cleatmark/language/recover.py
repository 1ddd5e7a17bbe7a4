"""Going on after a mistake of form: the clause that has it is set aside, and the rest of the statement is read."""

from __future__ import annotations

import re

from msgspec.structs import replace

from cleatmark.language import tree as t
from cleatmark.language.build import Built
from cleatmark.language.cuts import code_of, piece_at, pieces
from cleatmark.language.examples import CLAUSES, STATEMENTS
from cleatmark.language.heads import head_problem, meant
from cleatmark.language.parse import doubled
from cleatmark.language.syntax import explain
from cleatmark.language.trouble import read
from cleatmark.problems import Problem, near_name

MOST_IN_ONE = 25
"""Mistakes told of one statement."""


def recover(lines: list[str], start: int, end: int, file: str) -> tuple[t.AnyStatement | None, list[Problem]]:
    """Every mistake of form in a statement, and what of it stands: without its spoilt clauses, and not at all where
    its first line is spoilt. Of a rulebook's head the rest always stands."""
    problems: list[Problem] = []
    hidden = [*lines[:end]]
    first_line = lines[start].lstrip()
    first = re.split(r'[\s"(]', first_line, maxsplit=1)[0]
    word = meant(first)
    wrong = head_problem(lines, start, file)
    if wrong is not None:
        problems.append(wrong)
        if not word:
            return None, problems
        hidden[start] = word + first_line[len(first) :]
    whole = word == first.rstrip(":").casefold()
    parts = pieces(lines, start, end)
    told: set[int] = set()
    while len(problems) < MOST_IN_ONE:
        got = read(lines, hidden, start, end, parts, file)
        if isinstance(got, Built):
            problems.extend(doubled(got, lines, file))
            return _standing(got.statement, lines, parts, whole), problems
        problem = explain(got)
        problems.append(problem)
        index = piece_at(parts, problem.place.line - 1)
        if index in told:
            break
        told.add(index)
        for number in range(*parts[index]):
            hidden[number] = ""
        if index == 0:
            hidden[start] = STATEMENTS[word]
            whole = False
    return None, problems


def _standing(
    statement: t.AnyStatement, lines: list[str], parts: list[tuple[int, int]], whole: bool
) -> t.AnyStatement | None:
    """What of a statement can be used. A rulebook keeps its name and what it builds on, as far as they can be told."""
    if not isinstance(statement, t.RulebookHead):
        return statement if whole else None
    if not whole:
        names = re.findall(r"\w+", lines[parts[0][0]])
        statement = replace(statement, id=names[1] if len(names) > 1 else statement.id)
    return _with_foundations(statement, lines, parts)


def _with_foundations(
    statement: t.RulebookHead, lines: list[str], parts: list[tuple[int, int]]
) -> t.RulebookHead:
    """The head with what it builds on, from a spoilt clause where there is one."""
    if statement.builds_on:
        return statement
    for first, last in parts[1:]:
        text = " ".join(code_of(line) for line in lines[first:last])
        words = re.findall(r"[A-Za-z_]\w*", text)
        if words and near_name(words[0], CLAUSES) == "builds":
            names = words[2:] if words[1:2] == ["on"] else words[1:]
            line = lines[first]
            at = t.Pos(first + 1, len(line) - len(line.lstrip()) + 1, len(words[0]))
            places = {**statement.places, "builds_on": at}
            return replace(statement, builds_on=tuple(names), places=places)
    return statement
