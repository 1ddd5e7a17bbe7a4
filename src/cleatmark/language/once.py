"""What rests on a run's paper and on the job alone, worked out once for every run.

A requirement asks the same of a run in every zone, in every variant of the proposal, and again for each change that
is tried. What reads neither the proposal nor a zone gives the same answer each time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable
from itertools import count
from typing import Any, TypeVar

from cleatmark.language.world import NO_FACTS, Facts, Frame

PAPER = ("run.", "document.", "tested.", "job.", "submittal.")
"""Scopes whose facts stay as they are while one submittal is judged."""

R = TypeVar("R")


class Once:
    """Results by run, for as long as the facts of one job and submittal are judged."""

    def __init__(self) -> None:
        self._facts: Facts = NO_FACTS
        self._kept: dict[tuple[int, int, int], tuple[Any, Facts, Facts]] = {}
        self._numbers = count()

    def may_keep(self, paths: Iterable[str]) -> bool:
        """Whether what reads these paths is the same for a run wherever it is judged."""
        return all(path.startswith(PAPER) for path in paths)

    def of(self, get: Callable[[Frame], R]) -> Callable[[Frame], R]:
        """The same closure, which remembers its result for each run. The facts are held beside the result, so that
        no others can take their place in memory."""
        number, kept = next(self._numbers), self._kept

        def remembered(frame: Frame) -> R:
            facts = frame.world.facts
            if facts is not self._facts:
                kept.clear()
                self._facts = facts
            run, document = frame.run, frame.document
            own = run.facts if run is not None else NO_FACTS
            paper = document.facts if document is not None else NO_FACTS
            key = (number, id(own), id(paper))
            found = kept.get(key)
            if found is None:
                found = kept[key] = (get(frame), own, paper)
            result: R = found[0]
            return result

        return remembered
