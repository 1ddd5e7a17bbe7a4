"""Whatever a paragraph holds, it is read without an error, and every quote and value stands in it."""

from __future__ import annotations

from hypothesis import given, settings
from hypothesis import strategies as st
from reading_build import ARTICLES, clause, read

from cleatmark.spec.clauses import Span
from cleatmark.spec.wording import plain

VOCABULARY = """
    panel clip deck wall roof uplift wind pressure class UL 580 FM 1-90 1A-90 24 gauge ga. 16 inches 0.032 in. psf kPa
    Zone 1' Zones 1, 2 and 3 field corner perimeter (45) -45 +20/-45 ±30 [24] [22] <18> //A// //B// ____ TBD XX minimum
    not more than maximum do not use may is acceptable prohibited warranty years twenty (20) weathertight finish ASTM
    E1592 A653/A653M ASCE 7-16 120 mph Exposure C L/180 3:12 1/4 inch per foot ; : , . ( ) " ' ½ ¾ ° – — − as indicated
    on Drawings as required by engineering 10 sq ft alternate No. 1 base bid in lieu of or and/or steel aluminum
    snap-lock 𝟗𝟎 ９０ İ ß
"""
WORDS = st.sampled_from([*VOCABULARY.split(), "\u00a0", "\u2009", "\u2011", "\u202e"])
PARAGRAPHS = st.one_of(st.lists(WORDS, max_size=40).map(" ".join), st.text(max_size=200))


def rounded(text: str) -> str:
    """With brackets as parentheses: those of a conversion are read as such."""
    return text.replace("[", "(").replace("]", ")")


@given(text=PARAGRAPHS, above=PARAGRAPHS, article=st.sampled_from(sorted(ARTICLES)))
@settings(max_examples=150, deadline=None)
def test_any_paragraph_is_read(text: str, above: str, article: str) -> None:
    extraction = read(clause(text, article, (above,)))
    for item in extraction.stated:
        assert item.quote in text
        assert item.clause == "A"
        assert rounded(item.text) in rounded(" ".join(plain(text + " " + above).split())) or not item.values


@given(text=PARAGRAPHS, start=st.integers(0, 40), length=st.integers(0, 40))
@settings(max_examples=60, deadline=None)
def test_any_struck_or_inserted_span_is_read(text: str, start: int, length: int) -> None:
    end = min(start + length, len(text))
    spans = (Span(min(start, end), end, "struck"), Span(0, min(start, len(text)), "inserted"))
    assert read(clause(text, spans=spans, deleted="60")).problems == ()


def test_a_paragraph_of_nothing_but_numbers_is_read() -> None:
    read(clause("Wind uplift: " + "20, " * 3000 + "and 30 psf at corners."))
    read(clause("(" * 3000 + "[" * 3000 + "Zone 1 " * 500))
