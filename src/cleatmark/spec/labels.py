"""The number or letter before a paragraph: what it is made of, and whether someone typed it there."""

from __future__ import annotations

import re
from functools import lru_cache

from msgspec import Struct

from cleatmark.spec.lazy import lazily
from cleatmark.spec.numerals import from_roman

_PART = lazily(r"PART\s+(\d{1,2}|[IVX]{1,5}|ONE|TWO|THREE|FOUR)\b\s*(?:[.:–—-]\s*)*(?=(.*)\Z)", re.I | re.S)
_PART_WORDS = {"ONE": "1", "TWO": "2", "THREE": "3", "FOUR": "4"}
_KEYWORD = lazily(r"(?:ARTICLE|SECTION|PARAGRAPH|CLAUSE)\s+(?=[\dA-Z(])", re.I)
_DOTTED = lazily(
    r"(\d{1,2}(?:\.\d{1,3}){1,7}(?:\.[A-Za-z]{1,2}(?:\.\d{1,3})?)?)([.:)]?)(\s+[–—-])?(\s+)(?=\S)"
)
_SINGLE = lazily(r"(\(?)([A-Z]{1,2}|[a-z]{1,5}|[IVX]{1,5}|\d{1,3})([.)]|\.\))(\s+)(?=\S)")
_POINTED = lazily(r"\.(\d{1,2})(\s+)(?=\S)")
_BARE = lazily(r"()([A-Z]|[a-z]|\d{1,2})()(\t\s*)(?=\S)")
_UNITS = lazily(
    r"(?:PSF|PSI|KSI|PA|KPA|MPA|MM|CM|M|IN|INCH|INCHES|FT|FEET|FOOT|LB|LBS|LB/SQ|LBF|MPH|GA|GAUGE|GAGE|MIL|MILS|OZ|SQ|SF"
    r"|YEAR|YEARS|PERCENT|KG|KN|KN/M²|N|HOURS?|DAYS?|TIMES|DEGREES?)(?:\b|(?=/))[.,]?(?![-A-Za-z])"
)


class Label(Struct, frozen=True, gc=False):
    """A label by its pieces.

    shown   as printed, trailing dash gone: "PART 1", "1.04", "B.", "(a)"
    tokens  the numbers and letters in it: ("1", "04"), ("B",)
    form    "part"; "joined" for several tokens; else kind of count (1 A a I i) and its signs: "A.", "(a)"
    value   of the last token, None where it counts nothing
    end     characters it takes from the start of the text, 0 for an automatic one
    sure    2 where Word prints it, or a tab or a title in capitals follows it; 1 where another title or a
            capital does; else 0
    numeric it joins two or more numbers, as an article's does ("1.04", "1.2.1")
    """

    shown: str
    tokens: tuple[str, ...]
    form: str
    value: int | None
    end: int = 0
    sure: int = 2
    numeric: bool = False


def _joined(shown: str, tokens: tuple[str, ...], end: int = 0, sure: int = 2) -> Label:
    numeric = len(tokens) > 1 and all(token.isdigit() for token in tokens)
    return Label(shown, tokens, "joined", _value(tokens[-1]) if tokens else None, end, sure, numeric)


def letters(text: str) -> int | None:
    """The count of a letter label: Z is 26, AA and then BB are 27 and 28; AB is read as 28 too."""
    folded = text.casefold()
    if not folded.isalpha() or not folded.isascii():
        return None
    if len(set(folded)) == 1:
        return (len(folded) - 1) * 26 + ord(folded[0]) - 96
    return 26 + ord(folded[1]) - 96 if len(folded) == 2 and folded[0] == "a" else None


@lru_cache(maxsize=8192)
def automatic(text: str, value: int) -> Label:
    """A label that Word prints; `value` its count, which tells the roman I from the letter."""
    part = _PART.match(text)
    if part is not None:
        return _part(part, text[: part.end()])
    shown = text.rstrip(" –—-:").strip() or text
    keyword = _KEYWORD.match(shown)
    core = shown[keyword.end() :] if keyword else shown
    tokens = tuple(token for token in re.split(r"[.\s]+", core.strip(" .()[]:–—-")) if token)
    if len(tokens) != 1:
        return _joined(shown, tokens)
    token = tokens[0]
    kind = _kind(token)
    if kind in "Aa" and from_roman(token) == value and letters(token) != value:
        kind = "I" if kind == "A" else "i"
    return Label(shown, tokens, core.replace(token, kind, 1), value)


def typed(text: str) -> Label | None:
    """A label that stands typed at the start of the text, tabs kept; whether it fits, the outline says."""
    at = len(text) - len(text.lstrip())
    first = text[at : at + 1]
    if first == ".":
        return _pointed(text, at)
    if not first or not (first.isalnum() or first == "("):
        return None
    if first in "Pp":
        part = _PART.match(text, at)
        if part is not None and _is_title(part[2]):
            return _part(part, text[at : part.end()], part.end())
    body = _KEYWORD.match(text, at)
    start = body.end() if body else at
    match = _DOTTED.match(text, start)
    if match is not None:
        rest = text[match.end() :]
        tab = "\t" in match[4]
        if _UNITS.match(rest) or not (tab or rest[:1].isupper() or rest[:1] in '[(/<“"'):
            return None
        tokens = tuple(match[1].split("."))
        return _joined(
            match[1] + match[2], tokens, match.end(), 2 if tab or _is_capitals(rest) else int(_is_title(rest))
        )
    if body is not None:
        return None
    match = _SINGLE.match(text, at) or _BARE.match(text, at)
    if match is None:
        return None
    opening, token, closing, space = match.groups()
    if opening and ")" not in closing:
        return None
    kind = _kind(token)
    value = int(token) if kind == "1" else letters(token)
    if value is None:
        value = from_roman(token)
        kind = "I" if kind == "A" else "i"
    if value is None:
        return None
    capital = text[match.end() : match.end() + 1].isupper()
    sure = 2 if "\t" in space else int(capital and bool(closing))
    return Label(opening + token + closing, (token,), opening + kind + closing, value, match.end(), sure)


def _pointed(text: str, at: int) -> Label | None:
    """A number behind a point (".1"), as Canadian sections have at every level under an article. ".5 mm" is none."""
    match = _POINTED.match(text, at)
    if match is None:
        return None
    rest = text[match.end() :]
    if _UNITS.match(rest.upper()) or not ("\t" in match[2] or rest[:1].isupper() or rest[:1] in '[(/<“"'):
        return None
    return Label(f".{match[1]}", (match[1],), POINTED, int(match[1]), match.end(), 2)


POINTED = ".1"
"""The form of a number behind a point."""


def as_roman(label: Label) -> Label | None:
    """The same label read as a roman numeral ("i." as 1, not 9), or None where it is none."""
    if len(label.tokens) != 1 or not any(kind in label.form for kind in "Aa"):
        return None
    value = from_roman(label.tokens[0])
    if value is None:
        return None
    form = label.form.replace("A", "I").replace("a", "i")
    return Label(label.shown, label.tokens, form, value, label.end, label.sure)


def part_number(token: str) -> int:
    """1, 2 or 3 for a part's number, word or numeral; 0 where it is none of them."""
    value = int(token) if token.isdigit() else from_roman(token) or 0
    return value if value in (1, 2, 3) else 0


def _part(match: re.Match[str], shown: str, end: int = 0) -> Label:
    token = _PART_WORDS.get(match[1].upper(), match[1])
    value = int(token) if token.isdigit() else from_roman(token)
    return Label(shown.strip(" \t.:–—-"), (token,), "part", value, end)


def _is_title(rest: str) -> bool:
    """What follows "PART 1" in a heading: nothing, or a short title and no sentence."""
    shown = " ".join(rest.split())
    if not shown:
        return True
    return len(shown) <= 60 and shown[0].isupper() and not shown.endswith((".", ";", ","))


def _is_capitals(rest: str) -> bool:
    return rest.isupper() and len(rest.strip()) > 4 and len(rest) <= 120


def _kind(token: str) -> str:
    if token.isdigit():
        return "1"
    return "A" if token.isupper() else "a"


def _value(token: str) -> int | None:
    return int(token) if token.isdigit() else letters(token)
