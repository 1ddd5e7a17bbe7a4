"""What a run's paper, the job and the specification answer alone, worked out once.

A requirement asks the same of a run in every zone, in every variant of the proposal, and again for each change that
is tried. What does not read anything that differs there gives the same answer each time.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from itertools import count
from typing import Any, TypeVar

from cleatmark.language.world import NO_FACTS, Facts, Frame

PAPER = ("run.", "document.", "tested.", "job.", "submittal.")
"""Scopes whose facts are the same wherever a run is judged."""
ALL = (*PAPER, "spec.", "zone.", "proposed.")
"""Scopes that a result can be remembered for: what a frame holds beside them is never read."""

R = TypeVar("R")
Key = tuple[object, ...]


class Once:
    """Results by run, for as long as one job, submittal and specification are judged."""

    def __init__(self) -> None:
        self._facts: Facts = NO_FACTS
        self._spec: Mapping[str, Any] = {}
        self._kept: dict[Key, tuple[Any, Key]] = {}
        self._numbers = count()
        self._zoned: frozenset[str] = frozenset()

    def keep(self, get: Callable[[Frame], R], paths: Iterable[str]) -> Callable[[Frame], R]:
        """The closure, which reads these paths; one that remembers its results where they do not change."""
        read = tuple(paths)
        if not all(path.startswith(ALL) for path in read):
            return get
        proposed = tuple(path for path in read if path.startswith("proposed."))
        in_zone = any(path.startswith("zone.") for path in read)
        asked = tuple(path for path in read if path.startswith("spec."))
        return self._remembering(get, proposed, asked, in_zone)

    def _remembering(
        self, get: Callable[[Frame], R], proposed: tuple[str, ...], asked: tuple[str, ...], in_zone: bool
    ) -> Callable[[Frame], R]:
        """What a result rests on is held beside it, so that nothing else can take its place in memory."""
        number, kept = next(self._numbers), self._kept

        def remembered(frame: Frame) -> R:
            world, offered, variant, zone, document, run, _, _ = frame
            if world.facts is not self._facts or world.spec is not self._spec:
                self._begin(world.facts, world.spec)
            own = run.facts if run is not None else NO_FACTS
            paper = document.facts if document is not None else NO_FACTS
            key: Key = (number, id(own), id(paper))
            if proposed:
                key += tuple(map(id, map(offered.get, proposed)))
            apart = in_zone or (asked and not self._zoned.isdisjoint(asked))
            if apart:
                key += (variant, id(zone))
            found = kept.get(key)
            if found is None:
                rests_on = (own, paper, *map(offered.get, proposed), zone)
                found = kept[key] = (get(frame), rests_on)
            result: R = found[0]
            return result

        return remembered

    def _begin(self, facts: Facts, spec: Mapping[str, Any]) -> None:
        """Another job, submittal or specification: nothing of the last one holds."""
        self._kept.clear()
        self._facts, self._spec = facts, spec
        zoned = [f"spec.{subject}" for subject, items in spec.items() if any(item.zone for item in items)]
        self._zoned = frozenset(path for subject in zoned for path in (subject, f"{subject}.verb"))
