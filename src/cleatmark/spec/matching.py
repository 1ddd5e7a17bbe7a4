"""Readings ready to match, and where their phrases match in a sentence that they apply to."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from cleatmark.fields import Field
from cleatmark.spec.lexemes import Lexeme
from cleatmark.spec.nearness import Nearness
from cleatmark.spec.pattern import Hit, Phrase
from cleatmark.spec.reach import Spent
from cleatmark.spec.reading import Reading
from cleatmark.spec.sentences import Sentence
from cleatmark.spec.wording import word_set


class Compiled(Struct, frozen=True):
    """A reading with its phrases ready to match. `field` is None for one that only flags."""

    reading: Reading
    field: Field | None
    phrases: tuple[Phrase, ...]
    nearness: Nearness
    zones: bool


def applies(compiled: Compiled, sentence: Sentence) -> bool:
    """Whether a reading applies in the article kinds that the sentence stands in."""
    reading = compiled.reading
    if (
        reading.kinds
        and sentence.kinds.isdisjoint(reading.kinds)
        and sentence.said.keys().isdisjoint(reading.kinds)
    ):
        return False
    return sentence.kinds.isdisjoint(reading.not_in)


def _put_off(compiled: Compiled, sentence: Sentence, item: int) -> bool:
    """Whether the words before the value make the sentence of a kind that the reading leaves alone."""
    return any(
        kind in compiled.reading.not_in and first <= item < last
        for kind, (first, last) in sentence.said.items()
    )


def _wanted(compiled: Compiled, sentence: Sentence, item: int) -> bool:
    """Whether a word stands where a reading applies, in a sentence whose own words alone make it apply."""
    kinds = compiled.reading.kinds
    if not kinds or not sentence.kinds.isdisjoint(kinds):
        return True
    return (
        any(first <= item < last for kind, (first, last) in sentence.said.items() if kind in kinds)
        or "papers" not in kinds
    )


def matches(
    compiled: Compiled, indexes: Sequence[int], sentence: Sentence, spent: Spent
) -> list[tuple[Phrase, Hit]]:
    """The phrases that match, each where its value belongs to what the reading is about."""
    whole = compiled.reading.value != "" and "{" not in compiled.reading.value
    found: list[tuple[Phrase, Hit]] = []
    for index in indexes:
        phrase = compiled.phrases[index]
        for hit in phrase.search(sentence.line):
            spent.values += 1
            if whole:
                hit = Hit(hit.first, hit.last, hit.first, hit.last)
            if sentence.said and _put_off(compiled, sentence, sentence.line.item_of(hit.value_first)):
                continue
            if sentence.said and not _wanted(compiled, sentence, sentence.line.item_of(hit.value_first)):
                continue
            if hit.last < sentence.first or (phrase.slot and not whole and hit.value_first < sentence.first):
                continue
            if phrase.slot and not whole and _another_owns(sentence.lexemes, hit):
                continue
            if compiled.nearness.accepts(
                sentence.line,
                sentence.lexemes,
                hit.value_first,
                hit.value_last,
                sentence.headings,
                sentence.first,
            ):
                found.append((phrase, hit))
    return found


_ATTRIBUTES = word_set("height high tall deep depth width wide coverage thick thickness module long length")


def _another_owns(lexemes: Sequence[Lexeme], hit: Hit) -> bool:
    """Whether the phrase joins a value to a word that has a value of its own: "16 inch coverage 2 inch height", where
    no coverage is 2 inches, and "coverage 16 inches, seam 2 inches high", where no seam is 16."""
    kind = lexemes[hit.value_first].kind
    if hit.first < hit.value_first and hit.value_last + 1 < len(lexemes) and hit.first > 0:
        before, after = lexemes[hit.first - 1], lexemes[hit.value_last + 1]
        if before.kind == kind and lexemes[hit.first].key in _ATTRIBUTES and after.key in _ATTRIBUTES:
            return True
    if (
        hit.last > hit.value_last
        and lexemes[hit.value_last + 1].key == ","
        and lexemes[hit.last].kind == "word"
    ):
        behind = hit.last + 1
        while behind < len(lexemes) and lexemes[behind].key in _BETWEEN:
            behind += 1
        return behind < len(lexemes) and lexemes[behind].kind == kind
    return False


_BETWEEN = word_set("height high of is minimum : =")
