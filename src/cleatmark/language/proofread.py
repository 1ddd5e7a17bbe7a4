"""Proofreading: every mistake of form and meaning in rule files and in what they build on, in one go."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from msgspec import Struct

from cleatmark.language import tree as t
from cleatmark.language.check import check
from cleatmark.language.layers import merge
from cleatmark.language.rulebooks import gather, shipped
from cleatmark.problems import Problem


class Proofread(Struct, frozen=True):
    """What was read, and what is wrong in it, by file and line."""

    files: tuple[str, ...]
    statements: int
    problems: tuple[Problem, ...]


def proofread(wanted: Iterable[str], base: Path) -> Proofread:
    """Proofreads rulebooks by name, or files relative to `base`, taken together with all that they build on. With
    none wanted, each rulebook that ships is taken by itself."""
    names = tuple(wanted)
    sets = [names] if names else [(name,) for name in _apart()]
    files: dict[str, t.RuleFile] = {}
    known: set[str] = set()
    problems: list[Problem] = []
    for together in sets:
        found, told = gather(together, base)
        files.update({file.file: file for file in found})
        problems.extend(told)
        if found:
            merged, told_ = merge(found)
            problems.extend((*told_, *check(merged, known=known)))
            known |= set(files)
    once = {(problem.place, problem.message): problem for problem in reversed(problems)}
    ordered = sorted(once.values(), key=lambda problem: (problem.place, problem.message))
    count = sum(len(file.statements) + 1 for file in files.values())
    return Proofread(tuple(sorted(files)), count, tuple(ordered))


def _apart() -> tuple[str, ...]:
    """The rulebooks that ship, each by one name."""
    return tuple({path: name for name, path in reversed(shipped().items())}.values())
