"""The pattern for a quantity in running text: what it takes, and where it stops."""

import re

import pytest
import re2
from lark import Lark

from cleatmark.units import KINDS, QUANTITY_PATTERN, parse, pattern_for

from .test_parse import ASKED, WRITTEN

SPELLED = ("twenty", "two", "minus")


@pytest.mark.parametrize("text", [row[0] for row in WRITTEN if not row[0].startswith(SPELLED)])
def test_what_parse_reads_is_one_match(text: str) -> None:
    match = re.match(QUANTITY_PATTERN, text)
    assert match is not None
    assert re.sub(r"\s*(o\.c\.|on center)$", "", text).startswith(match[0])
    assert parse(match[0]) == parse(text) or "o.c." in text or "center" in text


STOPS = [
    ("16 in wide", "16 in"),
    ("5/8 inline", "5/8"),
    ("24 gallons", "24"),
    ("60 miles", "60"),
    ("90 zone", "90"),
    ("45 psf at corners", "45 psf"),
    ("16 in. Provide", "16 in."),
    ("1-90 rating", "1-90"),
    ("1-11/16 in", "1-11/16 in"),
    ('30 "text"', "30"),
    ("30, 60, 90", "30"),
    ("16 in, then", "16 in"),
]


@pytest.mark.parametrize(("text", "taken"), STOPS)
def test_a_word_that_is_no_unit_is_left_alone(text: str, taken: str) -> None:
    match = re.match(QUANTITY_PATTERN, text)
    assert match is not None
    assert match[0] == taken


@pytest.mark.parametrize("text", ["2024-01-01", "1504.3.1", "2x4", "3rd", "8d nails", "0,0236 in"])
def test_dates_and_section_numbers_are_no_quantities(text: str) -> None:
    assert re.match(QUANTITY_PATTERN, text) is None


def test_it_serves_as_a_token_of_a_grammar() -> None:
    grammar = rf"""
        start: (QUANTITY | DATE | WORD | STRING)+
        QUANTITY.2: /{QUANTITY_PATTERN}/
        DATE: /[0-9]{{4}}-[0-9]{{2}}-[0-9]{{2}}/
        WORD: /[a-z]+/
        STRING: /"[^"]*"/
        %ignore " "
    """
    text = 'at least 1-3/4 in from 2024-01-01 in zone 90 "text" 16" wide -45 psf'
    tree = Lark(grammar, parser="lalr").parse(text)
    found = [(token.type[0], str(token)) for token in tree.children if token.type in ("QUANTITY", "DATE")]
    assert found == [("Q", "1-3/4 in"), ("D", "2024-01-01"), ("Q", "90"), ("Q", '16"'), ("Q", "-45 psf")]


@pytest.mark.parametrize("kind", sorted(KINDS))
def test_every_kind_has_a_pattern_that_re2_takes(kind: str) -> None:
    match = re2.compile(pattern_for(kind, guards=False)).fullmatch(KINDS[kind].example)
    assert match is not None


def test_the_pattern_of_a_class_leaves_a_following_unit_alone() -> None:
    match = re.match(pattern_for("class"), "90 in accordance")
    assert match is not None
    assert match[0] == "90"


@pytest.mark.parametrize(("text", "asked"), [row[:2] for row in ASKED if row[0][0].isdigit()])
def test_a_form_of_one_kind_is_matched_by_its_pattern(text: str, asked: str) -> None:
    if (text, asked) in (("3/12", "slope"), ("12-14", "screw size")):
        return
    match = re.match(pattern_for(asked), text)
    assert match is not None
    assert match[0] == text


def test_matching_takes_a_bounded_number_of_steps_at_a_place() -> None:
    """A run of digits, or of unit words, of any length is left after the same few characters."""
    for text in ("1" * 100_000, "1,111" * 20_000, "4 ft " * 20_000, "1 1/" * 20_000):
        match = re.match(QUANTITY_PATTERN, text)
        assert match is None or len(match[0]) < 40
