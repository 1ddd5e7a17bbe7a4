"""Phrases of readings: what the proofreader tells, and that it agrees with the room that matches them."""

from __future__ import annotations

import re

import pytest

from cleatmark.language import phrases
from cleatmark.language.parse import parse
from cleatmark.language.rulebooks import shipped
from cleatmark.language.tree import ReadingStatement
from cleatmark.review.reading import CONDITIONS
from cleatmark.spec import slots
from cleatmark.spec.context import KINDS
from cleatmark.spec.pattern import Phrase, PhraseError


def messages(phrase: str) -> list[str]:
    return [fault.message for fault in phrases.faults(phrase)]


def test_value_kinds_are_those_of_the_room_that_matches() -> None:
    assert set(phrases.SLOTS) == set(slots.NAMES)


def test_article_kinds_are_those_of_the_room_that_matches() -> None:
    assert set(phrases.ARTICLES) == {*KINDS, *CONDITIONS}


def shipped_phrases() -> list[str]:
    found = []
    for path in shipped().values():
        tree, _ = parse(path.read_text(encoding="utf-8"), path.name)
        assert tree is not None
        found += [p for s in tree.statements if isinstance(s, ReadingStatement) for p in s.patterns]
    return sorted(set(found))


def test_phrases_that_ship_are_right_for_both() -> None:
    found = shipped_phrases()
    assert len(found) > 100
    for phrase in found:
        assert messages(phrase) == [], phrase
        assert Phrase(phrase).source


@pytest.mark.parametrize(
    "phrase",
    [
        "class {numbr}",
        "(about {length}",
        "about) {length}",
        "{length} {length}",
        "{text} wide",
        "wide {length",
    ],
)
def test_what_the_matching_room_refuses_is_told(phrase: str) -> None:
    with pytest.raises(PhraseError):
        Phrase(phrase)
    assert messages(phrase)


@pytest.mark.parametrize(
    ("phrase", "message"),
    [
        ("", "the phrase has no words"),
        ("a | ", "`|` stands between two words of which either will do"),
        (
            "UL 580 … ASTM E1592 {number}",
            "the gap runs from UL 580 to another standard, ASTM E1592: whose value is it?",
        ),
        (
            "UL 580 … {standard}",
            "the gap runs from UL 580 to another standard, {standard}: whose value is it?",
        ),
        (
            "UL 580 … (FM 4474) … {number}",
            "the gap runs from UL 580 to another standard, FM 4474: whose value is it?",
        ),
        ("class … … … {number}", "3 gaps with nothing certain between them take in 30 words: too wide, "),
        (
            "a … b … c … d … e … {number}",
            "the phrase has 5 gaps: so loose a phrase may take another thing's value",
        ),
        ("… class {number}", "a gap at the start of a phrase takes in nothing"),
        ("class {number} ...", "a gap at the end of a phrase takes in nothing"),
        ("class {30, 60}", "{30, 60} is no value"),
    ],
)
def test_each_fault(phrase: str, message: str) -> None:
    assert messages(phrase)[0].startswith(message)


@pytest.mark.parametrize(
    "phrase",
    [
        "UL 580 … class {number: 30, 60, 90}",
        "UL-580|UL-1897 … class {number}",
        "UL 580 … UL 580 {number}",
        "UL 580 {number} … ASTM E1592",
        "class (of) {number} … … {zone}",
        "{pressure} {zone}",
    ],
)
def test_right_phrases(phrase: str) -> None:
    assert messages(phrase) == []


def test_places_point_at_the_part() -> None:
    phrase = "class (of) {numbr: 30}"
    (fault,) = phrases.faults(phrase)
    assert phrase[fault.at : fault.at + fault.span] == "{numbr: 30}"
    assert re.match(r"there is no value kind", fault.message)
