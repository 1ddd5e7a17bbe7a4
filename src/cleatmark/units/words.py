"""Words around a number: spelled numbers, the basis of a thickness, the level of a pressure, "on center"."""

from __future__ import annotations

import re
from collections.abc import Mapping

NUMBER_WORDS: Mapping[str, int] = {
    **{"zero": 0, "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8},
    **{"nine": 9, "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15},
    **{"sixteen": 16, "seventeen": 17, "eighteen": 18, "nineteen": 19, "twenty": 20, "thirty": 30},
    **{"forty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80, "ninety": 90},
}

_SHEET_BASES = {
    "nominal": ("nominal", "nom"),
    "minimum base metal": (
        "minimum base metal",
        "min base metal",
        "base metal minimum",
        "base metal min",
        "base metal",
        "base metal thickness",
        "minimum base metal thickness",
        "bare metal",
        "minimum uncoated",
        "uncoated minimum",
        "uncoated",
        "bmt",
    ),
    "minimum coated": (
        "minimum coated",
        "min coated",
        "coated minimum",
        "coated min",
        "minimum coated thickness",
    ),
    "minimum": ("minimum", "min"),
    "measured": ("measured", "as measured", "actual", "as tested", "mean measured"),
}
_YIELD_BASES = {
    "minimum": (
        "minimum",
        "min",
        "specified minimum",
        "nominal",
        "minimum specified",
        "min yield",
        "minimum yield",
    ),
    "measured": ("measured", "as measured", "coupon", "by coupon", "actual", "tested", "as tested"),
}
_LEVELS = {
    "allowable": (
        "allowable",
        "asd",
        "allowable stress",
        "allowable stress level",
        "allowable level",
        "service",
    ),
    "strength": ("strength", "lrfd", "ultimate", "strength level", "factored", "ultimate level"),
}


def _turned(table: Mapping[str, tuple[str, ...]]) -> dict[str, str]:
    return {word: meaning for meaning, written in table.items() for word in written}


BASIS_WORDS = {
    "thickness": _turned(_SHEET_BASES),
    "gauge": _turned(_SHEET_BASES),
    "stress": _turned(_YIELD_BASES),
}
LEVEL_WORDS = _turned(_LEVELS)
_ON_CENTER = re.compile(r"\b(?:o\.? ?c\b\.?|on cent(?:er|re)s?|c(?:\.|/) ?c\b\.?)", re.IGNORECASE)


def spelled(text: str) -> tuple[int, str] | None:
    """The number spelled at the start of a text, and the rest; None where there is none."""
    match = re.match(r"([a-z]+)(?:[- ]([a-z]+))?", text, re.IGNORECASE)
    if not match or match[1].casefold() not in NUMBER_WORDS:
        return None
    value = NUMBER_WORDS[match[1].casefold()]
    second = (match[2] or "").casefold()
    if value >= 20 and 0 < NUMBER_WORDS.get(second, 0) < 10:
        return value + NUMBER_WORDS[second], text[match.end() :]
    if value < 10 and second == "hundred":
        return value * 100, text[match.end() :]
    return value, text[match.end(1) :]


def qualifiers(tail: str, kind: str) -> tuple[str, str, str]:
    """Basis, level, and the words that are neither, of what follows a unit."""
    if not tail.strip(" .,;()"):
        return "", "", ""
    left = _ON_CENTER.sub(" ", tail) if kind == "length" else tail
    folded = re.sub(r"[\s.,;()\[\]-]+", " ", left).strip()
    known = folded.casefold()
    basis = BASIS_WORDS.get(kind, {}).get(known, "")
    level = LEVEL_WORDS.get(known, "") if kind == "pressure" else ""
    return basis, level, "" if basis or level else folded


def bare(text: str) -> str:
    """A piece of text without the brackets and spaces around it."""
    return text.strip(" ()[],;")
