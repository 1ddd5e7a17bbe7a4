"""Numbers in words: "one hundred fifteen", "two and three-eighths", "one one-hundred-eightieth", "twice"."""

from __future__ import annotations

import re
from collections.abc import Iterator

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
_BELOW_TWENTY = _ONES.keys() | _TEENS.keys()
_WORD = re.compile(r"\w+")


def ends(text: str, at: int, end: int) -> Iterator[int]:
    """Where the number in words that starts at `at` may end, the likeliest first: "two and one-half", then "two".

    Words are parted by one space or hyphen.
    """
    for stop in whole_ends(text, at, end):
        for start in _links(text, stop, end):
            yield from _halves(text, start, end)
            yield from _part(text, start, end)
    yield from _part(text, at, end)
    word, stop = _word(text, at, end)
    if word in _HALF:
        if text[stop : stop + 1].isspace() and (article := _word(text, stop + 1, end))[0] in _ARTICLES:
            yield article[1]
        yield stop
    yield from whole_ends(text, at, end)


def whole_ends(text: str, at: int, end: int) -> Iterator[int]:
    """As `ends`, of a number without a fraction."""
    if _word(text, at, end)[0] not in _VALUES:
        return
    for stop in (*_hundreds(text, at, end), *_small(text, at, end)):
        word, thousand = _word(text, stop + 1, end)
        if word == "thousand" and _parts(text, stop):
            start = thousand + 1 if _parts(text, thousand) else -1
            for more in _behind_and(text, start, end) if start > 0 else ():
                yield from _hundreds(text, more, end)
                yield from _small(text, more, end)
            yield thousand
    yield from _hundreds(text, at, end)
    yield from _small(text, at, end)


def _hundreds(text: str, at: int, end: int) -> Iterator[int]:
    """ "one hundred and fifteen", "one hundred fifteen", "one hundred"."""
    word, stop = _word(text, at, end)
    if word not in _BELOW_TWENTY or not _parts(text, stop):
        return
    word, stop = _word(text, stop + 1, end)
    if word == "hundred":
        if _parts(text, stop):
            for more in _behind_and(text, stop + 1, end):
                yield from _small(text, more, end)
        yield stop


def _small(text: str, at: int, end: int) -> Iterator[int]:
    """ "thirty-five", "thirty"."""
    word, stop = _word(text, at, end)
    if word not in _VALUES:
        return
    if word in _TENS and _parts(text, stop):
        ones, further = _word(text, stop + 1, end)
        if ones in _ONES:
            yield further
    yield stop


def _part(text: str, at: int, end: int) -> Iterator[int]:
    """ "three-eighths"."""
    word, stop = _word(text, at, end)
    if word not in _BELOW_TWENTY or not _parts(text, stop):
        return
    word, stop = _word(text, stop + 1, end)
    if word == "thirty" and text[stop : stop + 1] == "-":
        word, stop = _word(text, stop + 1, end)
        word = f"thirty-{word}"
    if word in _PARTS:
        yield stop


def _halves(text: str, at: int, end: int) -> Iterator[int]:
    """ "a half"."""
    word, stop = _word(text, at, end)
    if word in _ARTICLES and _parts(text, stop):
        half, stop = _word(text, stop + 1, end)
        if half == "half":
            yield stop


def _links(text: str, at: int, end: int) -> Iterator[int]:
    """Where the fraction behind a whole number may start: "two and one-half", "two one-half", "two-one-half"."""
    if not _parts(text, at):
        return
    word, stop = _word(text, at + 1, end)
    if word == "and" and text[at].isspace() and text[stop : stop + 1].isspace():
        yield from _behind_and(text, stop + 1, end)
    yield from _behind_and(text, at + 1, end)


def _behind_and(text: str, at: int, end: int) -> Iterator[int]:
    """Behind an "and" that stands at `at`; at `at`."""
    word, stop = _word(text, at, end)
    if word == "and" and _parts(text, stop):
        yield stop + 1
    yield at


def _word(text: str, at: int, end: int) -> tuple[str, int]:
    """The whole word that starts at `at`, and its end; "" where none does."""
    found = _WORD.match(text, at, end)
    return (found[0].casefold(), found.end()) if found else ("", at)


def _parts(text: str, at: int) -> bool:
    """Whether a space or a hyphen stands at `at`."""
    sign = text[at : at + 1]
    return sign == "-" or sign.isspace()


_HALF = frozenset(["half", "quarter"])
_ARTICLES = frozenset(["a", "an"])
ORDINAL = (
    rf"(?:one|1)[-\s](?P<hundreds>(?:{'|'.join(_ONES)})[-\s])?hundred[-\s](?:and[-\s])?"
    rf"(?P<ordinal>{'|'.join(_ORDINALS)})\b"
)
"""A part of a span in words, as a pattern whose case is to be ignored: "one two-hundred-fortieth"."""
STARTS = frozenset([*_VALUES, *_HALF])

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


def whole(words: str) -> int:
    """A number in words without a fraction."""
    return _whole(_SPLIT.split(words.casefold()))


def span(hundreds: str, ordinal: str) -> int:
    """What a span is divided by: 240 of "one two-hundred-fortieth"."""
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
