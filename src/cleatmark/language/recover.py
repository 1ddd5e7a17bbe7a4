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
    its first line is spoilt."""
    problems: list[Problem] = []
    hidden = [*lines[:end]]
    whole = True
    wrong = head_problem(lines, start, file)
    if wrong is not None:
        problems.append(wrong)
        word = re.split(r'[\s"(]', lines[start].lstrip(), maxsplit=1)[0]
        right = meant(word)
        if not right:
            return None, problems
        hidden[start] = right + lines[start].lstrip()[len(word) :]
        whole = right == word.rstrip(":").casefold()
    parts = pieces(lines, start, end)
    told: set[int] = set()
    while len(problems) < MOST_IN_ONE:
        got = read(lines, hidden, start, end, parts, file)
        if isinstance(got, Built):
            problems.extend(doubled(got, lines, file))
            return (_with_foundations(got.statement, lines, parts) if whole else None), problems
        problem = explain(got)
        problems.append(problem)
        index = piece_at(parts, problem.place.line - 1)
        if index in told:
            return None, problems
        told.add(index)
        first, last = parts[index]
        for number in range(first, last):
            hidden[number] = ""
        if index == 0:
            hidden[start] = STATEMENTS[meant(got.word)]
            whole = False
    return None, problems


def _with_foundations(
    statement: t.AnyStatement, lines: list[str], parts: list[tuple[int, int]]
) -> t.AnyStatement:
    """A rulebook's head keeps what it builds on, as far as names can be told from a spoilt clause."""
    if not isinstance(statement, t.RulebookHead) or statement.builds_on:
        return statement
    for first, last in parts[1:]:
        text = " ".join(code_of(line) for line in lines[first:last])
        words = re.findall(r"[A-Za-z_]\w*", text)
        if words and near_name(words[0], CLAUSES) == "builds":
            names = words[2:] if words[1:2] == ["on"] else words[1:]
            return replace(statement, builds_on=tuple(names))
    return statement
