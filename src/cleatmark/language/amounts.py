"""Quantities of rule texts: the same words are read once."""

from __future__ import annotations

from functools import lru_cache

from cleatmark.units import Quantity, parse


@lru_cache(maxsize=4096)
def amount(text: str, kind: str = "") -> Quantity:
    """As `units.parse`, which it asks once for the same text and kind."""
    return parse(text, kind)
