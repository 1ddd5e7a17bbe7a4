"""The part of a sentence that a value stands in: between semicolons and "but"."""

from __future__ import annotations

from collections.abc import Sequence

_BUT_THAT = frozenset(["nothing", "none"])


def segment(items: Sequence[str], first: int) -> int:
    """The item with which the part begins that an item stands in."""
    for index in range(first - 1, -1, -1):
        if items[index] == ";" or (items[index] == "but" and items[max(index - 1, 0)] not in _BUT_THAT):
            return index + 1
    return 0


def segment_end(items: Sequence[str], last: int) -> int:
    """The item before which the part ends that an item stands in."""
    for index in range(last + 1, len(items)):
        if items[index] in (";", "but"):
            return index
    return len(items)
