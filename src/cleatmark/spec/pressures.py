"""Pressures found: whose they are beside a test's name, which way they act, at which level."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec.structs import replace

from cleatmark.spec import sense, values
from cleatmark.spec.clauses import Clause
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
    level = sense.level(line.items, first) or _by_factor(item.sentence.text) or _level_above(item.sentence)
    head = item.sentence.lexemes[item.first]
    signs = _SIGNED.match(item.sentence.text, head.start)
    if not signs and _beside_suction(item):
        ways: tuple[str, ...] = ("down",)
    elif signs:
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


def _beside_suction(item: Found) -> bool:
    """Whether a value without a sign stands before a negative one: "16.0/-41.2 psf"."""
    lexemes = item.sentence.lexemes
    behind = lexemes[item.last + 1 : item.last + 3]
    if len(behind) < 2 or behind[0].key != "/" or behind[1].kind != "pressure":
        return False
    return item.sentence.text[behind[1].start] == "-"


def toward_the_roof(found: Sequence[Found], clauses: Sequence[Clause]) -> list[Found]:
    """Where an article speaks of suction, what it calls pressure alone acts toward the roof: "Corners: 2.85 kPa
    suction; over all of the roof: 0.75 kPa pressure"."""
    articles = {clause.article for clause in clauses if "suction" in clause.text.casefold()}
    if not articles:
        return list(found)
    return [_toward(item) if item.sentence.clause.article in articles else item for item in found]


def _toward(item: Found) -> Found:
    if item.subject != "uplift.pressure" or not item.values or not _is_push(item):
        return item
    return replace(item, values=tuple(values.signed(value, "down", item.level) for value in item.values))


_WAY_TOLD = word_set("suction uplift outward negative upward away")


def _is_push(item: Found) -> bool:
    """Whether a pressure is called so and nothing else: "0.75 kPa pressure", "; pressure 0.6 kPa"."""
    line = item.sentence.line
    first, last = line.item_of(item.first), line.item_of(item.last)
    start = line.item_of(item.sentence.first) if item.sentence.first else 0
    before = first
    while before > start and line.items[before - 1] != ";" and line.items[before - 1][:2] != "<p":
        before -= 1
    after = last + 1
    while after < len(line.items) and line.items[after] != ";" and line.items[after][:2] != "<p":
        after += 1
    ahead, behind = line.items[before:first], line.items[last + 1 : after]
    if not _WAY_TOLD.isdisjoint(ahead) or not _WAY_TOLD.isdisjoint(behind):
        return False
    return "pressure" in (*behind[:1], *ahead[:1])


_FACTOR = lazily(r"(?<![\w.])(?:(?P<allowable>0?\.60?)|(?P<strength>1\.[06]0?))\s?W\b", needs=".6|1.0")


def _by_factor(text: str) -> str:
    """The level that a factor on the wind load tells: 0.6W is of allowable stress design, 1.0W and 1.6W of strength."""
    found = _FACTOR.search(text)
    return str(found.lastgroup) if found else ""


def _level_above(sentence: Sentence) -> str:
    for head in reversed(sentence.headings):
        if found := _level_stated(head.line.items) or _by_factor(head.text):
            return found
    return ""


_CONVERTS = word_set("multiply multiplied multiplying divide divided convert converted conversion")


def _level_stated(items: Sequence[str]) -> str:
    """The level that a text gives its pressures, before that to which it tells how to convert them: "Pressures are
    strength level; multiply by 0.6 for comparison with allowable loads"."""
    cut = next((at for at, item in enumerate(items) if item.rstrip(";") in _CONVERTS), len(items))
    return sense.level(items[:cut]) or sense.level(items)


def _direction_above(sentence: Sentence) -> tuple[str, ...]:
    for head in reversed(sentence.headings[1:]):
        if found := sense.directions(head.line.items, len(head.line.items), len(head.line.items)):
            return found
    return ()
