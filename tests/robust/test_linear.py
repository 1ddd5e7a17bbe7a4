"""Phrases with gaps match in linear time: shown by counting steps, not by a clock."""

from __future__ import annotations

import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from cleatmark.review.reading import readings_of
from cleatmark.review.run import program_for
from cleatmark.spec.apply import apply_readings
from cleatmark.spec.clauses import Clause, Section, Specification
from cleatmark.spec.pattern import Phrase

WORDS = "panel width of the metal roof panel shall be 16 inches wide clips at 24 inches UL 580 class 90 "


def steps(work: Callable[[], object]) -> int:
    """Calls of Python and C functions that the work makes."""
    count = 0

    def seen(*_: object) -> None:
        nonlocal count
        count += 1

    sys.setprofile(seen)
    try:
        work()
    finally:
        sys.setprofile(None)
    return count


def reading(text: str) -> Callable[[], object]:
    program = program_for(None, Path(), ())
    clause = Clause(address="1.01.A", label="A.", level=3, text=text, ordinal=0)
    spec = Specification("s.docx", (Section("07 41 13", "METAL ROOF PANELS", (clause,), True),))
    return lambda: apply_readings(spec, readings_of(program), program.book)


@pytest.mark.parametrize("words", [WORDS, "class ", "width … ", "16 inches ", "24 gauge 16 inches UL 580 "])
def test_a_sentence_twice_as_long_takes_twice_the_steps(words: str) -> None:
    lengths = [4_000, 8_000, 16_000]
    texts = [(words * (length // len(words) + 1))[:length] + "." for length in lengths]
    for text in texts:
        reading(text)()
    counts = [steps(reading(text)) for text in texts]
    first, second = counts[1] - counts[0], counts[2] - counts[1]
    assert second <= 2.6 * max(first, 200), counts


@pytest.mark.parametrize("gaps", [1, 3, 6])
def test_the_pattern_of_a_phrase_does_not_backtrack(gaps: int) -> None:
    """A gap is a bounded repeat in RE2, which compiles to an automaton: no step is taken twice for one sign of the
    text. What grows is the automaton, by the gaps."""
    import re2

    phrase = Phrase(" … ".join(["class"] * (gaps + 1)) + " {number: 30, 60, 90}")
    assert re2.compile(phrase.source).search("class " * 5_000) is None
    assert len(phrase.source) < 200 * (gaps + 1)
