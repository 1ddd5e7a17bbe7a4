"""The library's section: what prints, and what only Word holds."""

from __future__ import annotations

import re

from section_checks import W, addresses, visible

NAME = "library"

PRINTED = {
    "1.01.B.2": "Section 06 16 00",
    "1.02.A.5": "ASTM E1592",
    "1.02.A.11": "UL 1897",
    "1.03": "Performance Requirements",
    "1.03.B": "Uplift Class: Provide roof assembly tested to UL 580, Class 90",
    "1.03.C": "Design Wind Pressures",
    "1.03.C.2": "Wind Data: Basic wind speed 110 mph",
    "1.03.E": "Safety Factor",
    "1.03.F": "Insurer's Approval",
    "1.03.F.1": "Field: Class 1-90.",
    "1.03.F.2": "Perimeter: Class 1-105.",
    "1.03.F.3": "Corner: Class 1-120.",
    "1.03.G": "Fire Classification: Class A by UL 790",
    "1.03.H": "Air Leakage",
    "1.03.I": "Water Penetration",
    "1.04.C.3": "A listing, a load table or a letter",
    "1.05.C.4": "Screws of the same type",
    "1.05.D": "No other change",
    "1.07.A": "Weathertightness",
    "2.01.B": "Substitutions",
    "2.02.B": "Sheet: Steel",
    "2.02.C": "Coverage Width: 16 inches maximum.",
    "2.02.D": "Seam: 1-3/4 inches high",
    "2.03.A.1.a": "Field: 24 inches on center.",
    "2.03.A.1.b": "Perimeter: 18 inches on center.",
    "2.03.A.1.c": "Corner: 12 inches on center.",
    "2.03.B": "Clip Fasteners: Not smaller than No. 10",
    "2.04.A": "Self-adhered",
    "2.05.A": "Deck: 19/32 inch plywood",
    "2.05.B": "Deck attachment and deck joints",
    "3.03.B": "Allow Architect to check clip spacing",
}


def test_the_readme_cites_what_prints(printed):
    found = addresses(printed(NAME))
    assert {address: found.get(address, "")[: len(start)] for address, start in PRINTED.items()} == PRINTED


def test_numbers_come_from_the_styles_alone(xml):
    document, styles = xml(NAME), xml(NAME, "word/styles.xml")
    assert not list(document.iter(f"{W}numPr"))
    numbered = [
        s.get(f"{W}styleId") for s in styles.iter(f"{W}style") if s.find(f"{W}pPr/{W}numPr") is not None
    ]
    assert numbered == ["SpecPart", "SpecArticle", "SpecParagraph", "SpecItem", "SpecSubitem"]
    texts = [
        visible(p) for p in document.iter(f"{W}p") if p.find(f"{W}pPr/{W}pStyle").get(f"{W}val") in numbered
    ]
    assert 60 <= len(texts) <= 100
    assert not [text for text in texts if re.match(r"\s*(?:\d+\.|[A-Za-z]\.|PART)", text)]


def test_twenty_years_replace_ten(xml):
    document = xml(NAME)
    deleted = [node.text for node in document.iter(f"{W}delText")]
    changed = [p for p in document.iter(f"{W}p") if p.find(f"{W}ins") is not None]
    assert deleted == ["ten (1"]
    assert [visible(p) for p in changed] == [
        "Weathertightness: Manufacturer and installer shall warrant the roof weathertight for twenty (20) "
        "years from Substantial Completion."
    ]


def test_the_tempting_class_and_gauge_are_hidden(xml):
    document = xml(NAME)
    hidden = [
        "".join(run.itertext()) for run in document.iter(f"{W}r") if run.find(f"{W}rPr/{W}vanish") is not None
    ]
    assert len(hidden) == 1
    assert "Class 60" in hidden[0]
    assert "26 gauge" in hidden[0]
    seen = "\n".join(visible(p) for p in document.iter(f"{W}p"))
    assert "Class 60" not in seen
    assert "26 gauge" not in seen


def test_e1592_is_listed_and_never_asked_for(printed):
    found = addresses(printed(NAME))
    assert [address for address, text in found.items() if "E1592" in text] == ["1.02.A.5"]


def test_the_pressure_table_has_a_merged_head(xml):
    (table,) = xml(NAME).iter(f"{W}tbl")
    rows = [[visible(p) for p in row.iter(f"{W}p")] for row in table.iter(f"{W}tr")]
    assert rows == [
        ["Roof zone", "Effective wind area"],
        ["", "10 sq ft", "50 sq ft"],
        ["Field", "-32.3", "-19.6"],
        ["Perimeter", "-47.1", "-32.3"],
        ["Corner", "-56.0", "-37.3"],
    ]
    assert [span.get(f"{W}val") for span in table.iter(f"{W}gridSpan")] == ["2"]
    assert [merge.get(f"{W}val") for merge in table.iter(f"{W}vMerge")] == ["restart", None]
