"""Sentences as tokens: sentences cut, standards and ratings named, quantities paired, choices left open."""

from __future__ import annotations

import pytest

from cleatmark.spec import measures, zones
from cleatmark.spec.lexemes import lex, stem
from cleatmark.spec.marks import find_marks
from cleatmark.spec.wording import plain, sentences


def tokens(text: str, kind: str) -> list[str]:
    """The keys of the tokens of one kind."""
    smooth, marks = find_marks(plain(text))
    return [lexeme.key for lexeme in lex(smooth, 0, len(smooth), marks) if lexeme.kind == kind]


def written(text: str, kind: str) -> list[str]:
    """The tokens of one kind as written."""
    smooth, marks = find_marks(plain(text))
    return [smooth[one.start : one.end] for one in lex(smooth, 0, len(smooth), marks) if one.kind == kind]


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("ASTM E 1592-05(2017)", ["ASTM E1592"]),
        ("ASTM A653/A653M", ["ASTM A653"]),
        ("ASTM E\u20111592", ["ASTM E1592"]),
        ("ASTM A653, A792, and E1646", ["ASTM A653", "ASTM A792", "ASTM E1646"]),
        ("E 1592 tests", ["ASTM E1592"]),
        ("UL 580, 790 and 1897", ["UL 580", "UL 790", "UL 1897"]),
        ("Underwriters Laboratories (UL): 580-06 Uplift; 1897-15 Uplift", ["UL 580", "UL 1897"]),
        ("FM Approvals 4471", ["FM 4471"]),
        ("Factory Mutual Research Approval Standard 4470", ["FM 4470"]),
        ("FM approved to 4471", ["FM 4471"]),
        ("ASCE/SEI 7-16", ["ASCE 7-16"]),
        ("ASCE 7.", ["ASCE 7"]),
        ("TAS 100, 110 and 125", ["TAS 100", "TAS 110", "TAS 125"]),
        ("CSA A123.21-14", ["CSA A123.21"]),
        ("AAMA 621", ["AAMA 621"]),
    ],
)
def test_standards_by_their_one_name(text: str, names: list[str]) -> None:
    assert tokens(text, "standard") == names


def test_numbers_that_are_no_standard() -> None:
    assert tokens("UL 580 at 105 psf and 1504 sq ft", "standard") == ["UL 580"]
    assert tokens("Sheet A-501, G90, a 24 gauge panel", "standard") == []


@pytest.mark.parametrize(
    ("text", "ratings"),
    [
        ("FM 1-90", ["1-90"]),
        ("Class 1A-105", ["1-105"]),
        ("1–90", ["1-90"]),
        ("I-90", ["1-90"]),
        ("Data Sheets 1-28 and 1-29", []),
        ("1-1/2 inches", []),
    ],
)
def test_windstorm_ratings(text: str, ratings: list[str]) -> None:
    assert tokens(text, "rating") == ratings


@pytest.mark.parametrize(
    ("text", "kind", "found"),
    [
        ("24 gauge (0.0239 inch) steel", "gauge", ["24 gauge (0.0239 inch)"]),
        ("0.0236 inch nominal (24 gauge)", "gauge", ["0.0236 inch nominal (24 gauge)"]),
        ("60 psf (2.87 kPa)", "pressure", ["60 psf (2.87 kPa)"]),
        ("1.52 mm 0.060 inch", "length", ["1.52 mm 0.060 inch"]),
        ("18 gage, 24 inches on center", "gauge", ["18 gage"]),
        ("20, 30 and 40 psf", "pressure", ["20", "30", "40 psf"]),
        ("field 25; perimeter 42; corner 63 psf", "pressure", ["25", "42", "63 psf"]),
        ("Class 90 and 24 gauge", "gauge", ["24 gauge"]),
        ("twenty (20) years", "duration", ["twenty (20) years"]),
        ("two-year", "duration", ["two-year"]),
        ("305 mm 12 inches to 457 mm 18 inches", "length", ["305 mm 12 inches to 457 mm 18 inches"]),
        ('1-3/4 inches, 1 3/4", 1¾ in.', "length", ["1-3/4 inches", '1 3/4"', "1¾ in."]),
        ("4'-6\" on center", "length", ["4'-6\""]),
        ("minus 45 psf; –45 psf; −45 lb/sq. ft.", "pressure", ["minus 45 psf", "-45 psf", "-45 lb/sq. ft."]),
        ("2 400 Pa", "pressure", ["2 400 Pa"]),
        ("in accordance with Class 90 in zone 2", "length", []),
    ],
)
def test_a_value_in_two_units_is_one(text: str, kind: str, found: list[str]) -> None:
    assert written(text, kind) == found


def test_amounts_of_a_range_and_of_a_pair() -> None:
    ranged = measures.amounts("16 to 18 inches")
    assert (ranged.value, ranged.high) == ("16 in", "18 in")
    paired = measures.amounts("60 psf (2.87 kPa)")
    assert (paired.value, paired.second) == ("60 psf", "2.87 kPa")


@pytest.mark.parametrize(
    ("text", "kind", "options"),
    [
        ("[24] [22] gauge", "choice", ("24", "22")),
        ("[24][22] gauge", "choice", ("24", "22")),
        ("[24 or 22] gauge", "choice", ("24", "22")),
        ("<24> <22> gauge", "choice", ("24", "22")),
        ("// 10 // 20 // years", "choice", ("10", "20")),
        ("//Class 60// //Class 90//", "choice", ("Class 60", "Class 90")),
        ("[____] psf", "blank", ()),
        ("<Insert pressure> psf", "blank", ()),
        ("XX inches", "blank", ()),
        ("TBD", "blank", ()),
    ],
)
def test_what_a_master_left_open(text: str, kind: str, options: tuple[str, ...]) -> None:
    _, marks = find_marks(plain(text))
    assert [(mark.kind, mark.options) for mark in marks] == [(kind, options)]


@pytest.mark.parametrize(
    "text", ["24 gauge [0.61 mm]", "16 inches [406 mm] wide", "see [Section 07 62 00]", "http://x"]
)
def test_brackets_that_leave_nothing_open(text: str) -> None:
    assert find_marks(plain(text))[1] == ()


@pytest.mark.parametrize(
    ("text", "names"),
    [
        ("Zones 1, 2 and 3", ("Zone 1", "Zone 2", "Zone 3")),
        ("Zone 1 (field)", ("Zone 1 (field)",)),
        ("Zone 1'", ("Zone 1'",)),
        ("Zone 2e", ("Zone 2e",)),
        ("Overhang, Zones 2 and 3", ("Overhang, Zones 2 and 3",)),
        ("Corner Zone", ("Corner Zone",)),
        ("Zones 1 through 3", ("Zone 1", "Zone 2", "Zone 3")),
    ],
)
def test_zones_keep_their_names(text: str, names: tuple[str, ...]) -> None:
    found = zones.zone_at(text, 0, len(text))
    assert found is not None
    assert found.end == len(text)
    assert zones.each(text) == names


@pytest.mark.parametrize(
    "text", ["field seamed", "field verify dimensions", "ridge cap", "eave trim", "center"]
)
def test_words_that_are_no_zone(text: str) -> None:
    assert zones.zone_at(text, 0, len(text)) is None


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ("Provide No. 12 screws. Space at 16 in. O.C. maximum.", 2),
        ("Comply with U.L. 580. Class 90.", 2),
        ("Exp. C, min. 24 ga. steel, 16 sq. ft. max.", 1),
        ("Panels are 16 in. Clips are 24 in. apart.", 2),
    ],
)
def test_full_stops_of_abbreviations_end_no_sentence(text: str, count: int) -> None:
    assert len(sentences(text)) == count


def test_stems() -> None:
    assert [stem(word) for word in ("Clips", "gages", "classes", "assemblies", "glass", "feet", "is")] == [
        "clip", "gauge", "class", "assembly", "glass", "foot", "is",
    ]  # fmt: skip
