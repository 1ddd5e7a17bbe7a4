"""Readings ready to match, and where their phrases match in a sentence that they apply to."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

from cleatmark.fields import Field
from cleatmark.spec.nearness import Nearness
from cleatmark.spec.pattern import Hit, Phrase
from cleatmark.spec.reading import Reading
from cleatmark.spec.sentences import Sentence


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


def matches(compiled: Compiled, indexes: Sequence[int], sentence: Sentence) -> list[tuple[Phrase, Hit]]:
    """The phrases that match, each where its value belongs to what the reading is about."""
    whole = compiled.reading.value != "" and "{" not in compiled.reading.value
    found: list[tuple[Phrase, Hit]] = []
    for index in indexes:
        phrase = compiled.phrases[index]
        for hit in phrase.search(sentence.line):
            if whole:
                hit = Hit(hit.first, hit.last, hit.first, hit.last)
            if sentence.said and _put_off(compiled, sentence, sentence.line.item_of(hit.value_first)):
                continue
            if hit.last < sentence.first or (phrase.slot and not whole and hit.value_first < sentence.first):
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
