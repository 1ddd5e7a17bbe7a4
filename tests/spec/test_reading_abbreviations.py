"""Abbreviations of small offices read as their words, and full stops that end no sentence: common practice, no
source."""

from __future__ import annotations

import pytest
from reading_build import found

from cleatmark.spec.lexemes import lex
from cleatmark.spec.wording import sentences


def words(text: str) -> str:
    """The words of a text as readings compare them."""
    return " ".join(one.key for one in lex(text, 0, len(text)) if one.kind == "word")


@pytest.mark.parametrize(
    ("short", "long"),
    [
        ("galv. alum. plywd. deck", "galvanized aluminum plywood deck"),
        ("std. seam mtl. roofing w/ S.S. clips", "standing seam metal roofing with stainless steel clip"),
        ("S.S. metal roof w/o sealant", "standing seam metal roof without sealant"),
        ("S.A. hi-temp underlay.", "self adhered high temperature underlayment"),
        ("shop dwgs. and calcs. by struct. engr.", "shop drawing and calculation by structural engineer"),
        ("mfr.'s std. fin. wty.", "manufacturer standard finish warranty"),
        ("R.C. III, Exp. C, Cl. A", "risk category iii exposure c class a"),
        ("Risk Cat. II", "risk category ii"),
        ("min. thk. x max. ht.", "minimum thick x maximum height"),
        ("2-pc. fl. clips, Gr. 50", "piece fl clip grade"),
        ("S.F. of two", "safety factor two"),
    ],
)
def test_an_abbreviation_is_read_as_its_words(short: str, long: str) -> None:
    assert words(short) == long


def test_words_that_only_look_like_abbreviations_stay_what_they_are() -> None:
    assert words("a fin of the sheet, a scored head, SS Grade") == "a fin of the sheet a scored head ss grade"
    assert words("installer with 5 yrs. exp. in roofing") == "installer with experience in roofing"


@pytest.mark.parametrize(
    ("text", "count"),
    [
        ('Clips 24" o.c. max. Zone 1; 16" o.c. Zone 2.', 1),
        ('Panels: 24 ga. Galv. steel, 16" cov. 2" ht.', 1),
        ("Comply with mfr. Std. Details and approved shop dwgs. for S.S. Roofs.", 1),
        ("Min. Thickness: 24 ga. AZ50 coating.", 1),
        ('Panels: 24 ga. galv. Clips: 16" o.c. in perim.', 2),
        ("Wty. by mfr. Provide 20 yr. NDL.", 2),
        ("Finish 20 yr. Contractor shall guarantee for 2 yr.", 2),
    ],
)
def test_full_stops_of_abbreviations_end_no_sentence(text: str, count: int) -> None:
    assert len(sentences(text)) == count


@pytest.mark.parametrize(
    ("text", "article", "stated"),
    [
        ("Panels: 24 ga. alum., 16\" cov.", "panels", {"panel.width equal 16 in", "panel.material required aluminum"}),
        ("Std. seam pnls. 18\" covg., seam ht. 2\".", "panels",
         {"panel.width equal 18 in", "panel.seam_height equal 2 in"}),
        ("Vult 120 mph, Exp. C, R.C. III.", "performance", {"wind.exposure equal C", "wind.risk_category equal III"}),
        ("Fire: Cl. A per UL 790. Hail: UL 2218 Cl. 4.", "performance",
         {"fire.class required Class A", "impact.class at least 4"}),
        ("Uplift (ASD): fld. -22 psf, perim. -38 psf.", "performance",
         {"uplift.pressure equal -22 psf @fld. allowable", "uplift.pressure equal -38 psf @perim. allowable"}),
        ("Shop dwgs. and calcs. sealed by P.E.", "submittals",
         {"submittal required shop drawings", "submittal required calculations"}),
        ("Clip spacing per dwgs.", "clips", {"clip.spacing at most - !defers to drawings"}),
        ("5/8\" CDX roof deck.", "substrate", {"deck.type required plywood"}),
        ("Weathertight wty.: 20 yr. NDL by mfr.", "warranty", {"warranty.weathertight at least 20 years"}),
    ],
)  # fmt: skip
def test_what_a_small_office_writes_is_stated(text: str, article: str, stated: set[str]) -> None:
    assert stated <= found(text, article)
