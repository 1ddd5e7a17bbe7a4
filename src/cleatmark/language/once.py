"""What a run's paper, the job and the specification answer alone, worked out once.

A requirement asks the same of a run in every zone, in every variant of the proposal, and again for each change that
is tried. What does not read the proposal gives the same answer each time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import count
from typing import Any, TypeVar

from cleatmark.language.world import NO_FACTS, Facts, Frame

PAPER = ("run.", "document.", "tested.", "job.", "submittal.")
"""Scopes whose facts are the same wherever a run is judged."""
PLACED = (*PAPER, "spec.", "zone.")
"""Scopes whose facts are the same for a run in one zone and variant, whatever is proposed there."""
ALL = (*PLACED, "proposed.")
"""Scopes whose facts are the same for a run in one zone and variant under one proposal."""

R = TypeVar("R")


class Once:
    """Results by run, for as long as one job, submittal and specification are judged."""

    def __init__(self) -> None:
        self._facts: Facts = NO_FACTS
        self._spec: Mapping[str, Any] = {}
        self._kept: dict[tuple[object, ...], tuple[Any, tuple[object, ...]]] = {}
        self._numbers = count()

    def keep(self, get: Callable[[Frame], R], paths: Iterable[str]) -> Callable[[Frame], R]:
        """The closure, which reads these paths; one that remembers its results where they do not change."""
        read = tuple(paths)
        if all(path.startswith(PAPER) for path in read):
            return self._remembering(get, placed=False, proposed=False)
        if all(path.startswith(ALL) for path in read):
            return self._remembering(get, placed=True, proposed=not all(map(_is_placed, read)))
        return get

    def _remembering(
        self, get: Callable[[Frame], R], *, placed: bool, proposed: bool
    ) -> Callable[[Frame], R]:
        """What a result rests on is held beside it, so that nothing else can take its place in memory."""
        number, kept = next(self._numbers), self._kept

        def remembered(frame: Frame) -> R:
            world, offered, variant, zone, document, run, _, _ = frame
            if world.facts is not self._facts or world.spec is not self._spec:
                kept.clear()
                self._facts, self._spec = world.facts, world.spec
            own = run.facts if run is not None else NO_FACTS
            paper = document.facts if document is not None else NO_FACTS
            key: tuple[object, ...] = (number, id(own), id(paper))
            if placed:
                key = (*key, variant, id(zone), id(offered) if proposed else 0)
            found = kept.get(key)
            if found is None:
                found = kept[key] = (get(frame), (own, paper, zone, offered))
            result: R = found[0]
            return result

        return remembered


def _is_placed(path: str) -> bool:
    return path.startswith(PLACED)
