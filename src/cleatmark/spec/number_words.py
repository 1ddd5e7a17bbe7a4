"""Numbers in words: "one hundred fifteen", "two and three-eighths", "one one-hundred-eightieth", "twice"."""

from __future__ import annotations

import re

_ONES = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9,
}  # fmt: skip
_TEENS = {
    "ten": 10, "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16,
    "seventeen": 17, "eighteen": 18, "nineteen": 19,
}  # fmt: skip
_TENS = {
    "twenty": 20, "thirty": 30, "forty": 40, "fourty": 40, "fifty": 50, "sixty": 60, "seventy": 70, "eighty": 80,
    "ninety": 90,
}  # fmt: skip
_PARTS = {
    "half": 2, "halves": 2, "third": 3, "thirds": 3, "quarter": 4, "quarters": 4, "fourth": 4, "fourths": 4,
    "eighth": 8, "eighths": 8, "sixteenth": 16, "sixteenths": 16, "thirty-second": 32, "thirty-seconds": 32,
}  # fmt: skip
_ORDINALS = {
    "twentieth": 20, "fortieth": 40, "fiftieth": 50, "sixtieth": 60, "eightieth": 80, "ninetieth": 90,
}  # fmt: skip
_VALUES = {**_ONES, **_TEENS, **_TENS}


def _either(words: dict[str, int]) -> str:
    return "|".join(sorted(words, key=len, reverse=True))


_SMALL = rf"(?:(?:{_either(_TENS)})(?:[-\s](?:{_either(_ONES)})\b)?|{_either(_TEENS)}|{_either(_ONES)})\b"
_BELOW = rf"(?:[-\s](?:and[-\s])?{_SMALL})?"
_HUNDREDS = rf"(?:(?:{_either({**_ONES, **_TEENS})})[-\s]hundred\b{_BELOW})"
_BIG = rf"(?:(?:{_HUNDREDS}|{_SMALL})[-\s]thousand\b(?:[-\s](?:and[-\s])?(?:{_HUNDREDS}|{_SMALL}))?)"
WHOLE = rf"(?:{_BIG}|{_HUNDREDS}|{_SMALL})"
_PART = rf"(?:{_either({**_ONES, **_TEENS})})[-\s](?:{_either(_PARTS)})\b"
_HALF = r"(?:half|quarter)\b(?:\san?\b)?"
SPELLED = rf"(?:{WHOLE}(?:\sand\s|\s|-)(?:and[-\s])?(?:an?[-\s]half\b|{_PART})|{_PART}|{_HALF}|{WHOLE})"
"""A number in words, as a pattern: case is to be ignored."""
RATIO = (
    rf"(?:one|1)[-\s](?:over[-\s](?P<over>{WHOLE})|(?P<hundreds>(?:{_either(_ONES)})[-\s])?hundred[-\s](?:and[-\s])?"
    rf"(?P<ordinal>{_either(_ORDINALS)})\b)"
)
"""A part of a span in words: "one two-hundred-fortieth"."""
STARTS = frozenset([*_VALUES, "half", "quarter"])

_SPLIT = re.compile(r"[-\s]+")


def digits(words: str) -> str:
    """A number in words as digits: "2-3/8" of "two and three-eighths"."""
    parts = [part for part in _SPLIT.split(words.casefold()) if part]
    if parts and parts[-1] in ("a", "an"):
        parts.pop()
    bottom = _PARTS.get(parts[-1], 0) if parts else 0
    if not bottom:
        return str(_whole(parts))
    if parts[-2:-1] == ["thirty"] and parts[-1].startswith("second"):
        parts[-2:] = ["thirty-second"]
        bottom = 32
    above = parts[:-1]
    top = _VALUES.get(above[-1], 1) if above else 1
    whole = _whole(above[:-1])
    return f"{whole}-{top}/{bottom}" if whole else f"{top}/{bottom}"


def span(hundreds: str, ordinal: str, over: str) -> int:
    """What a span is divided by: 240 of "one two-hundred-fortieth"."""
    if over:
        return _whole(_SPLIT.split(over.casefold()))
    return 100 * _VALUES.get(hundreds.strip(" -").casefold(), 1) + _ORDINALS[ordinal.casefold()]


def _whole(parts: list[str]) -> int:
    total = below = 0
    for part in parts:
        if part == "hundred":
            below *= 100
        elif part == "thousand":
            total, below = total + below * 1000, 0
        else:
            below += _VALUES.get(part, 0)
    return total + below
