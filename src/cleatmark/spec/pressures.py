"""Pressures found: whose they are beside a test's name, which way they act, at which level."""

from __future__ import annotations

import re

from msgspec.structs import replace

from cleatmark.spec import sense, values
from cleatmark.spec.found import Found
from cleatmark.spec.lazy import lazily
from cleatmark.spec.sentences import Sentence
from cleatmark.spec.wording import word_set

_SIGNED = lazily(r"[-+±(]|minus\b|negative\b|plus\b", re.IGNORECASE)
_WAYS: dict[str, tuple[str, ...]] = {
    "-": ("up",), "(": ("up",), "minus": ("up",), "negative": ("up",), "+": ("down",), "plus": ("down",),
    "±": ("down", "up"),
}  # fmt: skip
_DESIGN = word_set("design wind resist withstand load resisting withstanding support sustain")


def of_a_test(item: Found) -> bool:
    """A pressure beside a test's name, without a word of design, is how far that test goes."""
    lexemes = item.sentence.lexemes
    at = item.first - 1
    named = False
    while at >= item.sentence.first and lexemes[at].key not in ",;:.":
        lexeme = lexemes[at]
        if lexeme.kind == "standard" and not lexeme.key.startswith("ASCE"):
            named = True
        elif lexeme.key in _DESIGN:
            return False
        at -= 1
    return named


def directed(item: Found) -> list[Found]:
    """Signed pressures: one for each direction that the words give, uplift where none does."""
    line = item.sentence.line
    first, last = line.item_of(item.first), line.item_of(item.last)
    level = sense.level(line.items, first) or _level_above(item.sentence)
    head = item.sentence.lexemes[item.first]
    signs = _SIGNED.match(item.sentence.text, head.start)
    if signs:
        ways = _WAYS[signs.group().strip().casefold()]
    else:
        start = line.item_of(item.sentence.first) if item.sentence.first else 0
        ways = sense.directions(line.items, first, last, start) or _direction_above(item.sentence)
    if not item.values:
        return [replace(item, level=level)]
    out = []
    for way in ways or ("up",):
        got = tuple(values.signed(value, way, level) for value in item.values)
        out.append(replace(item, values=got, level=level))
    return out


def _level_above(sentence: Sentence) -> str:
    for head in reversed(sentence.headings):
        if found := sense.level(head.line.items):
            return found
    return ""


def _direction_above(sentence: Sentence) -> tuple[str, ...]:
    for head in reversed(sentence.headings[1:]):
        if found := sense.directions(head.line.items, len(head.line.items), len(head.line.items)):
            return found
    return ()
