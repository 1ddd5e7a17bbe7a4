"""The text of a clause made plain, character for character, and cut into sentences."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cleatmark.spec import abbreviations
from cleatmark.spec.lazy import lazily


def word_set(text: str) -> frozenset[str]:
    """The words of a text as a set."""
    return frozenset(text.split())


_PLAIN = str.maketrans(
    {
        "\u2010": "-", "\u2011": "-", "\u2012": "-", "\u2013": "-", "\u2212": "-", "\u00ad": "-",
        "\u2014": "\u2014", "\u2015": "\u2014",
        "\u00a0": " ", "\u2007": " ", "\u2009": " ", "\u200a": " ", "\u202f": " ", "\u2002": " ", "\u2003": " ",
        "\t": " ", "\n": " ", "\r": " ", "\u000b": " ", "\u200b": " ", "\ufeff": " ",
        "\u2018": "'", "\u2019": "'", "\u2032": "'", "\u02b9": "'", "\u00b4": "'",
        "\u201c": '"', "\u201d": '"', "\u2033": '"', "\u02ba": '"',
        "\u00ba": "\u00b0", "\u00d7": "x", "\u2044": "/", "\u2215": "/",
    }
)  # fmt: skip

_END = lazily(r'[.!?][)\]"\']*\s+(?=["\'(\[<]*[A-Z\[])|(?<=[a-z]{5})\.\s+(?=\.?\d)')
_NEVER_LAST = word_set(
    "no nos sq lb lbs lbf min max approx nom exp cat "
    " e.g i.e vs u.l fig sec par art div dia thk spec st mt dr mr ms ref "
    "ext int galv alum temp dept dwg"
)
_UNIT_LAST = word_set("in ft ga oz o.c psf mil yr yrs mo hr")
_LAST_WORD = lazily(r"([A-Za-z][A-Za-z.]*)$")
_SHORT_NEXT = lazily(
    r"(?P<mark>(?:AZM?|GF?|ZF?)-?\d|(?!THE|ALL|EACH|SEE|USE|NO|DO|ANY|PER)[A-Z]{2,4}\b(?!\s?:|\s[A-Z]{2})|Z(?:one|n)s?\b\.?\s?[\w'()]+(?!\s?[:\w'()]))|(?P<short>[A-Za-z]{2,8})\.(?=\s)"
)
_OPENER = lazily(
    r"(?:The|An?(?=\s(?!(?:per|or|and|in|by|as|to|with|at|for|is|unless|rated|rating)\b)[a-z])|All|Each|Every|These|Those|This|It|They|Provide|Furnish|Install|Submit|Use|Do|Where|When|If|Not)\b"
    r"(?!\.)|(?P<label>[A-Z][\w&/-]*(?:\s[\w&/-]+){0,3}:)"
)
_SAID = lazily(r"[:\d]")
_LOOK = 40
"""Signs on either side that tell whether a text is written in capitals, so that one begins no sentence."""
_AFTER_UNIT = lazily(r"(?:O\.?C\.?\b|[a-z])")


def plain(text: str) -> str:
    """`text` with one kind of hyphen, space and quotation mark. The length does not change."""
    if not text.isascii() or "\t" in text or "\n" in text:
        text = text.translate(_PLAIN)
    return _QUOTED.sub(r" \1 ", text) if '"' in text else text


_QUOTED = lazily(r'(?<![\w"\'/.)\]])"(?=[A-Za-z\d#])([^"]{1,40})"(?![\w"])')
"""Words in quotation marks, whose closing mark is no sign of inches: "Class 90"."""


MOST_SIGNS = 2_000
"""Of one sentence. The longest that are known in specifications have a third of it."""


def sentences(text: str) -> list[tuple[int, int]]:
    """The (start, end) of each sentence of a plain text. A full stop of an abbreviation ends none."""
    found: list[tuple[int, int]] = []
    start = 0
    if ". " in text or "! " in text or "? " in text or '." ' in text or ".) " in text or ".] " in text:
        for match in _END.finditer(text):
            if text[match.start()] == "." and _abbreviation(text, start, match):
                continue
            if (
                "]" in match.group()
                and text[start : max(text.rfind("[", start, match.start()), start)].strip()
            ):
                continue
            found.append((start, match.end()))
            start = match.end()
    if text[start:].strip():
        found.append((start, len(text)))
    if len(text) <= MOST_SIGNS:
        return found
    return [piece for start, end in found for piece in _pieces(text, start, end)]


def _pieces(text: str, start: int, end: int) -> Iterator[tuple[int, int]]:
    """A sentence without end, cut between words: what is read of it grows with its length, not with its square."""
    while end - start > MOST_SIGNS:
        space = text.rfind(" ", start, start + MOST_SIGNS)
        cut = space + 1 if space > start else start + MOST_SIGNS
        yield start, cut
        start = cut
    yield start, end


def _abbreviation(text: str, start: int, match: re.Match[str]) -> bool:
    """Whether the full stop is that of an abbreviation, and what follows it goes on with the sentence."""
    last = _LAST_WORD.search(text, max(start, match.start() - 12), match.start())
    if last is None:
        return False
    word = last.group(1).casefold()
    if word in _UNIT_LAST and text[max(start, match.start() - _LOOK) : match.end() + _LOOK].isupper():
        return not _OPENER.match(text[match.end() : match.end() + _LOOK].capitalize())
    if word in _UNIT_LAST:
        return bool(_AFTER_UNIT.match(text, match.end())) or _short_next(text, match.end())
    if word in _NEVER_LAST or abbreviations.known(word):
        return not _opens(text, start, last.start(), match.end())
    return len(word) == 1 and text[last.start() - 1 : last.start()] != " " and match.start() - start < 4


def _short_next(text: str, at: int) -> bool:
    """Whether an abbreviation with its full stop, a coating's mark or a zone follows, and no label."""
    word = _SHORT_NEXT.match(text, at)
    if word is None:
        return False
    return word["mark"] is not None or abbreviations.known(word["short"])


def _opens(text: str, start: int, short: int, at: int) -> bool:
    """Whether a sentence begins at `at`, behind an abbreviation at `short` that is not the first of its own."""
    opened = _OPENER.match(text, at)
    if opened is None or not text[start:short].strip():
        return False
    return opened["label"] is None or _SAID.search(text, start, short) is not None
