"""Proof of rulebooks: of those named, or of all that ship, each with all below it."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path

from cleatmark.language import tree as t
from cleatmark.language.layers import Merged, merge
from cleatmark.language.prover import Failing, Proof, Prover, Same
from cleatmark.language.rulebooks import gather, shipped
from cleatmark.problems import InputError

__all__ = ["Failing", "Proof", "Same", "each", "prove", "prove_file"]


def prove(wanted: Iterable[str], base: Path) -> tuple[Proof, ...]:
    """The proofs of the rulebooks named, or of all that ship. Raises InputError where one cannot be read."""
    return tuple(prove_file(merged) for merged in each(wanted, base))


def each(wanted: Iterable[str], base: Path) -> tuple[Merged, ...]:
    """For each rulebook named, or each that ships, it and all below it, checked; it stands last."""
    from cleatmark.language.check import check

    names = tuple(wanted) or tuple(key for key, path in shipped().items() if path.stem == key.split("/")[-1])
    known = shipped()
    names = tuple({(known.get(name) or base / name).resolve(): name for name in names}.values())
    files, problems = gather(names, base)
    by_id = {file.head.id: file for file in files}
    out: list[Merged] = []
    for file in files[: len(names)]:
        below = [other for other in by_id.values() if other.head.id in _below(file.head.id, by_id)]
        merged, found = merge([file, *(other for other in below if other is not file)])
        problems.extend(found)
        problems.extend(check(merged, cases=False))
        out.append(merged)
    if problems:
        raise InputError(sorted(dict.fromkeys(problems), key=lambda problem: problem.place))
    return tuple(out)


def _below(id: str, by_id: dict[str, t.RuleFile]) -> set[str]:
    found: set[str] = set()
    queue = [id]
    while queue:
        name = queue.pop()
        if name in by_id and name not in found:
            found.add(name)
            queue.extend(by_id[name].head.builds_on)
    return found


def prove_file(merged: Merged) -> Proof:
    """The proof of the last rulebook of a merged set by its own cases."""
    return Prover(merged).proof()
