"""Patterns that wait for a word: each declares words that it cannot match without."""

from __future__ import annotations

import gc
import importlib
import pkgutil
import re

import pytest
from pattern_parts import firsts, is_needed, texts

import cleatmark.spec
from cleatmark.spec import scopes, written_units
from cleatmark.spec.lazy import _Lazy, lazily


def waiting() -> list[_Lazy]:
    """Every pattern of the room that waits for a word."""
    for module in pkgutil.iter_modules(cleatmark.spec.__path__):
        importlib.import_module(f"cleatmark.spec.{module.name}")
    return [one for one in gc.get_objects() if type(one) is _Lazy and one._needs]


def test_no_pattern_waits_for_a_word_that_it_can_do_without() -> None:
    found = waiting()
    assert len(found) > 50
    assert not [
        (one._written, one._needs) for one in found if not is_needed(one._needs, one._written, one._flags)
    ]


@pytest.mark.parametrize(
    ("written", "words", "right"),
    [
        ("a(?:bc|de)f", ("abcf", "adef"), True),
        ("a(?:bc|de)f", ("bc", "de"), True),
        ("a(?:bc|de)f", ("bc",), False),
        ("(?:steel )?roof", ("steel",), False),
        ("(?:steel )+roof", ("steel",), True),
        ("(?!steel)roof", ("steel",), False),
        ("(?=.*steel)roof", ("steel",), True),
        ("[ab]c", ("ac", "bc"), True),
        (r"\d roof", ("9 roof",), False),
        ("(?i:ROOF)", ("roof",), True),
        ("ROOF", ("roof",), False),
        ("roof|", ("roof",), False),
    ],
)
def test_what_a_pattern_needs(written: str, words: tuple[str, ...], right: bool) -> None:
    assert is_needed(words, written) is right


def test_case_is_ignored_where_the_pattern_ignores_it() -> None:
    assert is_needed(("roof",), "ROOF", re.IGNORECASE)
    pattern = lazily("roof (deck)", re.IGNORECASE, needs="deck")
    assert pattern.search("A roof.") is None
    assert list(pattern.finditer("A roof.")) == []
    assert pattern.sub("x", "A roof.") == "A roof."
    assert [found[1] for found in pattern.finditer("A ROOF DECK.")] == ["DECK"]
    assert [one.start() for one in pattern.finditer("roof deck, roof deck")] == [0, 11]


def test_letters_that_stand_for_others_where_case_is_ignored_hide_no_word() -> None:
    assert lazily("deck", re.IGNORECASE, needs="deck").search("dec\u212a")


@pytest.mark.parametrize("row", written_units._UNITS, ids=lambda row: f"{row[0]} {row[1]}")
def test_a_unit_starts_with_a_sign_that_it_is_looked_for_by(row: tuple[str, str, str, str]) -> None:
    assert set(firsts(row[3], re.IGNORECASE)) == set(row[2])


@pytest.mark.parametrize(
    ("written", "words"),
    [
        (scopes._PART, scopes._NAMES),
        (scopes._WING, scopes._NAMES),
        (scopes._PART, scopes._LABELS),
        (scopes._HOUSE, scopes._LABELS),
        ("areas?", scopes._LABELS),
        (scopes._TITLE, scopes._TITLES),
    ],
)
def test_a_roof_is_looked_for_where_a_word_of_its_name_stands(written: str, words: frozenset[str]) -> None:
    found = texts(written)
    assert len(found) > 1
    assert not [text for text in found if words.isdisjoint(re.findall("[a-z]+", text))]
