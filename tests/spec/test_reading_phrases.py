"""The pattern language of readings: what a phrase matches, what it never crosses, and what is no phrase."""

from __future__ import annotations

import pytest

from cleatmark.spec.lexemes import lex
from cleatmark.spec.lines import line_of
from cleatmark.spec.marks import find_marks
from cleatmark.spec.pattern import GAP, Phrase, PhraseError
from cleatmark.spec.wording import plain


def values(phrase: str, text: str) -> list[str]:
    """The values that a phrase finds in a sentence, as written."""
    smooth, marks = find_marks(plain(text))
    lexemes = lex(smooth, 0, len(smooth), marks)
    hits = Phrase(phrase).search(line_of(lexemes))
    return [smooth[lexemes[hit.value_first].start : lexemes[hit.value_last].end] for hit in hits]


@pytest.mark.parametrize(
    "text",
    [
        "UL 580, Class 90",
        "U.L. 580 Class 90",
        "UL580 - class 90",
        "ANSI/UL\u00a0580 for wind uplift resistance class 90",
        "Underwriters Laboratories 580; Class 90",
        "UL 580-06 (Class 90)",
    ],
)
def test_one_phrase_reads_every_way_to_write_a_standard(text: str) -> None:
    assert values("UL 580 … class {number: 30, 60, 90}", text) == ["90"]


def test_a_value_must_be_one_of_those_named() -> None:
    assert values("class {number: 30, 60, 90}", "Class 75") == []
    assert values("class {number: 30, 60, 90}", "Class 4 and Class 60") == ["60"]


def test_words_match_in_any_number_case_and_hyphenation() -> None:
    assert values("snap-lock panel", "SNAP LOCK panels") == ["SNAP LOCK panels"]
    assert values("snap-lock panel", "snap-lock\u2011panel") == ["snap-lock-panel"]
    assert values("gauge {number: 24}", "Gages 24") == ["24"]


def test_a_gap_is_a_few_words_and_stays_within_the_clause() -> None:
    near, far = "word " * GAP, "word " * (GAP + 1)
    assert values("clip … {length}", f"clip {near}24 inches") == ["24 inches"]
    assert values("clip … {length}", f"clip {far}24 inches") == []
    assert values("clip … … {length}", f"clip {far}24 inches") == ["24 inches"]
    assert values("clip … {length}", "clips of steel; fasteners at 24 inches") == []


def test_a_gap_never_crosses_another_standard() -> None:
    assert values("UL 580 … class {number: 60}", "UL 580 and ASTM E108, Class 60") == []
    assert values("UL 580 … class {number: 60}", "UL 580 for Class 60") == ["60"]


def test_either_word_and_optional_words() -> None:
    for text in ("panel width 16 in.", "panel coverage of 16 in.", "panel width (nominal) of 16 in."):
        assert values("panel width|coverage (nominal) (of) {length}", text) == ["16 in."], text
    assert values("panel width|coverage (nominal) (of) {length}", "panel depth 16 in.") == []


def test_hyphens_join_the_words_of_an_alternative() -> None:
    assert values("not-more-than|maximum {length}", "not more than 24 inches") == ["24 inches"]
    assert values("not-more-than|maximum {length}", "not 24 inches") == []


def test_each_kind_of_value_takes_its_own() -> None:
    text = "24 gauge, 16 inches, 0.032 inch, 45 psf, 120 mph, 20 years, L/180, 3:12, FM 1-90, AZ50, 50 ksi"
    for slot, expected in (
        ("thickness", ["24 gauge", "0.032 inch"]),
        ("length", ["16 inches", "0.032 inch"]),
        ("pressure", ["45 psf"]),
        ("speed", ["120 mph"]),
        ("years", ["20 years"]),
        ("ratio", ["L/180"]),
        ("slope", ["3:12"]),
        ("rating", ["1-90"]),
        ("coating", ["AZ50"]),
        ("stress", ["50 ksi"]),
    ):
        assert values("{" + slot + "}", text) == expected, slot


def test_a_blank_or_deferral_counts_only_beside_words() -> None:
    text = "Panel thickness as indicated on Drawings, clips as indicated on Drawings"
    assert values("thickness {thickness}", text) == ["as indicated on Drawings"]
    assert values("{thickness}", text) == []


def test_words_of_a_rule_file_cannot_make_a_slow_pattern() -> None:
    phrase = Phrase("a … … … … b|c … … … (d) (e) (f) {length}")
    assert type(phrase.regex).__module__.startswith("re2")
    assert values("panel … … width … … {length}", "panel " * 4000 + "16 in") == []


@pytest.mark.parametrize(
    ("phrase", "message"),
    [
        ("width {lenght}", "there is no value {lenght}"),
        ("width {length} or {length}", "a phrase gives one"),
        ("width {length", "braces"),
        ("width (of {length}", "parenthesis that it does not close"),
        ("width of) {length}", "parenthesis that it does not open"),
        ("|width {length}", "without a word on both sides"),
        ("panel {text: }", "names no words"),
    ],
)
def test_what_is_no_phrase_is_told(phrase: str, message: str) -> None:
    with pytest.raises(PhraseError, match=message):
        Phrase(phrase)
