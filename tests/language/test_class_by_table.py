"""A table gives the class that a county asks for: a class of a report is set beside the number it holds."""

from __future__ import annotations

from .small_books import unmet

RULES = """
    rulebook county "County"
      builds on fields

    field job.place.county "County" text

    table class_needed by county
      "Skarra"  90
      "Ancrum"  60
      source "County ordinance" at "2"

    requirement county_class "Class by county"
      shall some run has ( class at least class_needed for ( job.place.county ) )
      action resubmit
      source "County ordinance" at "2"
"""
CASE = """
    case "{shown} in {county}"
      with job.place.county "{county}" and a report "T-1" having class {shown}
      expect county_class {verdict}
"""


def test_a_class_is_compared_with_a_number_of_a_table() -> None:
    text = RULES
    for shown, county, verdict in (
        ("90", "Skarra", "complies"),
        ("60", "Skarra", "deviates"),
        ("60", "Ancrum", "complies"),
        ("30", "Ancrum", "deviates"),
        ("90", "Corran", "not shown"),
    ):
        text += CASE.format(shown=shown, county=county, verdict=verdict)
    assert unmet(text) == []
