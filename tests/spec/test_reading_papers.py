"""Papers and samples asked for in prose, under any title: common practice, no source."""

from __future__ import annotations

import pytest
from reading_build import found


def asked(text: str, article: str = "performance") -> set[str]:
    """The submittals that a paragraph asks for."""
    return {
        one.removeprefix("submittal required ") for one in found(text, article) if one.startswith("submittal")
    }


@pytest.mark.parametrize(
    ("text", "papers"),
    [
        ("Send shop drawings that show every clip, manufacturer's literature, and two samples of the color.",
         {"shop drawings", "product data", "samples"}),
        ("Together with the shop drawings, send calculations bearing the seal of an engineer.", {"calculations"}),
        ("Furnish to the Architect six copies of shop drawings.", {"shop drawings"}),
        ("Calculations sealed by a professional engineer shall be sent to the Architect.", {"calculations"}),
        ("The Contractor shall furnish test reports by an independent laboratory.", {"test reports"}),
        ("Send a draft of each warranty before the work begins.", {"warranty"}),
        ("Give the City the maintenance manual.", {"maintenance data"}),
        ("Provide a 20-year weathertight warranty, signed by the manufacturer.", set()),
        ("Furnish panels that match the approved samples.", set()),
        ("Provide panels as shown on the shop drawings.", set()),
        ("Install clips at the spacing given in the calculations.", set()),
        ("Keep a copy of the shop drawings at the site.", set()),
    ],
)  # fmt: skip
def test_papers_are_asked_for_in_prose(text: str, papers: set[str]) -> None:
    assert asked(text) == papers


def test_what_a_report_must_show_is_still_read() -> None:
    assert "uplift.class at least 90" in found("Provide certified test reports showing UL 580 Class 90.")


@pytest.mark.parametrize(
    ("text", "stated"),
    [
        (
            "Design-Builder: correct defective work for a period of 36 months.",
            {"warranty.installer at least 3 years"},
        ),
        (
            "The installer shall make good defects that appear within one year.",
            {"warranty.installer at least 1 years"},
        ),
        ("Contractor shall repair leaks for a period of two years.", {"warranty.installer at least 2 years"}),
        ("The roofing contractor shall have corrected leaks in the past five years.", set()),
        ("Repair defective panels at once.", set()),
    ],
)
def test_a_guarantee_told_by_what_the_contractor_does(text: str, stated: set[str]) -> None:
    assert found(text, "quality") == stated
