"""The roof zone that a paper prints beside a result: a field's result is not a corner's."""

from __future__ import annotations

from cleatmark.language.logic import NO, YES, Mark, Res
from cleatmark.language.world import Frame
from cleatmark.zones import family

OUTWARD = ("field", "perimeter", "corner")
"""Zones in the order in which the wind pulls harder."""


def printed_zone(frame: Frame) -> Res | None:
    """Whether the run may stand in the frame's zone: NO where it is printed for a zone farther in. None where the
    paper prints no zone, or none of the three families."""
    printed = frame.run.facts.get("run.zone") if frame.run is not None else None
    name = frame.zone.facts.get("zone.name") if frame.zone is not None else None
    if printed is None or name is None:
        return None
    own, asked = family(printed.text), family(name.text)
    if own not in OUTWARD or asked not in OUTWARD:
        return None
    truth = YES if OUTWARD.index(own) >= OUTWARD.index(asked) else NO
    mark = Mark(printed.text, "printed for", name.text, truth, printed.value, name.value, "run.zone")
    return Res(truth, (printed, name), (), (mark,))
