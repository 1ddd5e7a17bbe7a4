"""Whether a number typed at the start of a paragraph is its label, or the sentence merely begins with a number."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Protocol

from cleatmark.spec.labels import Label, as_roman

_FURTHEST = 3
_LAST_FIRST = 26


class Level(Protocol):
    """An open level, as far as a label has to fit it."""

    @property
    def form(self) -> str: ...
    @property
    def value(self) -> int | None: ...
    @property
    def path(self) -> tuple[str, ...]: ...
    @property
    def numeric(self) -> bool: ...


def fitted(label: Label, levels: Sequence[Level], part: int) -> Label | None:
    """The label as it continues or begins a level among the open ones, or None where it does neither.

    A step over one or two numbers, and a list that begins in the middle, are taken only where the label is set off
    from the text. A letter that may be a roman numeral is read as what continues a list, else as the roman i.
    """
    if label.form == "part":
        return label
    if label.numeric:
        return label if _fits_article(label, levels, part) else None
    if label.form == "joined":
        return label if levels else None
    readings = [reading for reading in (label, as_roman(label)) if reading is not None]
    for reading in readings:
        before = next((level for level in reversed(levels) if level.form == reading.form), None)
        if before is not None and before.value is not None and reading.value is not None:
            step = reading.value - before.value
            if step == 1 or (label.sure and 0 < step <= _FURTHEST):
                return reading
    for reading in reversed(readings):
        if reading.value == 1:
            return reading
    return label if label.sure == 2 and (label.value or 0) <= _LAST_FIRST else None


def _fits_article(label: Label, levels: Sequence[Level], part: int) -> bool:
    """Whether a joined number ("1.04", "1.2.1") goes on from the last one, or opens the level below or a part."""
    sure, depth = label.sure > 0, len(label.tokens)
    first, last = int(label.tokens[0]), int(label.tokens[-1])
    known = next((level for level in reversed(levels) if level.numeric), None)
    if known is None:
        return sure or (last <= 1 and part in (0, first))
    if label.tokens[:-1] == known.path[: depth - 1] and len(known.path) >= depth:
        step = last - int(known.path[depth - 1])
        return step == 1 or (sure and step > 0)
    if label.tokens[: len(known.path)] == known.path:
        return sure or last <= 1
    if depth > 2:
        return sure
    if first != part and levels[0].form == "part" and label.sure < 2:
        return False
    return first in (part, int(known.path[0]) + 1) and (sure or last <= 1)
