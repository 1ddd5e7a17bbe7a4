"""Which changes from a tested specimen keep it: directions, bases and metals of sheets, zones, conditions."""

from __future__ import annotations

import pytest

from .small_books import unmet

RULES = """
rulebook small "Small"
  builds on fields

substitution sub_material for panel.material
  allows equal
  source common practice
substitution sub_thickness for panel.thickness
  allows equal, heavier
  source common practice
substitution sub_width for panel.width
  allows equal, narrower
  source common practice
substitution sub_spacing for clip.spacing
  allows equal, tighter
  source common practice
substitution sub_insulation for insulation.type
  allows equal
  source common practice

requirement covered "Covered"
  shall be shown by a report where ( it covers proposed )
  action resubmit
  source common practice
requirement covered_listing "Covered by a listing"
  shall be shown by a listing where ( it covers proposed )
  action resubmit
  source common practice
requirement carried "Carried in every zone"
  shall every zone be shown by a run where ( it covers proposed in zone ) having ( held at least zone.required )
  action stop
  source common practice
requirement carried_whole "Carried by one specimen everywhere"
  shall every zone be shown by a run where ( it covers proposed ) having ( held at least zone.required )
  action stop
  source common practice

assembly steel
  panel.material "steel"
  panel.thickness 24 ga nominal
  panel.width 16 in
  clip.spacing 24 in
  insulation.type none
"""


def check(given: str, expected: str) -> None:
    body = f'\ncase "x"\n  with {given}\n' + "".join(f"  expect {line}\n" for line in expected.split("; "))
    assert unmet(RULES + body) == []


def sub(proposed: str, tested: str, expected: str) -> None:
    check(f'{proposed} and a report "T-1" having {tested}', expected)


@pytest.mark.parametrize(
    ("proposed", "tested", "verdict"),
    [
        ("16 in", "16 in", "complies"),
        ("12 in", "16 in", "complies"),
        ("18 in", "16 in", "deviates"),
        ("406.4 mm", "16 in", "complies"),
        ("1 ft 4 in", "16 in", "complies"),
    ],
)
def test_directions_of_a_width(proposed: str, tested: str, verdict: str) -> None:
    sub(f"proposed.panel.width {proposed}", f"tested.panel.width {tested}", f"sub_width {verdict}")


# A decimal without a basis may be nominal, coated or base metal; a gauge has another figure on each (common practice).
@pytest.mark.parametrize(
    ("proposed", "tested", "verdict"),
    [
        ("22 ga nominal", "24 ga nominal", "complies"),
        ("26 ga nominal", "24 ga nominal", "deviates"),
        ("24 ga", "24 ga nominal", "complies"),
        ('"0.0236 in"', "24 ga", "not shown"),
        ('"0.0236 in, minimum coated"', '"0.0236 in, minimum coated"', "complies"),
        ('"0.018 in"', "24 ga", "deviates"),
        ('"0.024 in, measured"', '"0.0276 in, nominal"', "not shown"),
    ],
)
def test_thickness_compares_like_with_like(proposed: str, tested: str, verdict: str) -> None:
    steel = 'panel.material "steel"'
    sub(
        f"proposed.{steel} and proposed.panel.thickness {proposed}",
        f"tested.{steel} and tested.panel.thickness {tested}",
        f"sub_thickness {verdict}",
    )


def test_a_change_of_metal_makes_the_comparison_meaningless() -> None:
    sub(
        'proposed.panel.material "aluminum" and proposed.panel.thickness 0.040 in',
        'tested.panel.material "steel" and tested.panel.thickness 0.024 in',
        "sub_material deviates; sub_thickness not shown",
    )


def test_none_is_a_value_and_absence_is_not() -> None:
    sub("proposed.insulation.type none", "tested.insulation.type none", "sub_insulation complies")
    sub("proposed.insulation.type none", 'tested.insulation.type "board"', "sub_insulation deviates")
    sub("proposed.panel.width 16 in", "tested.insulation.type none", "sub_insulation not shown")


def test_opposing_changes_are_never_netted() -> None:
    check(
        "proposed like steel and proposed.panel.width 12 in and proposed.panel.thickness 26 ga nominal"
        ' and a report "T-1" having tested like steel',
        "sub_width complies; sub_thickness deviates; covered not shown",
    )


def test_one_missing_attribute_leaves_coverage_open() -> None:
    check(
        'proposed like steel and a report "T-1" having tested.panel.material "steel" and tested.panel.width 16 in',
        "covered not shown",
    )


ZONED = (
    'proposed like steel and proposed.clip.spacing 24 in in "field" and proposed.clip.spacing 12 in in "corner"'
    ' and a zone "field" having required 30 psf and a zone "corner" having required 60 psf'
)


def test_each_zone_is_judged_by_the_run_that_covers_it() -> None:
    runs = (
        ' and a report "T-1" having tested like steel'
        ' and a run "1" having held 45 psf'
        ' and a run "2" having held 60 psf and tested.clip.spacing 12 in'
    )
    check(ZONED + runs, "carried complies; sub_spacing deviates")


def test_a_run_for_the_corner_carries_no_field() -> None:
    run = ' and a report "T-1" having tested like steel and a run "2" having held 60 psf and tested.clip.spacing 12 in'
    check(ZONED + run, "carried not shown")


def test_without_in_zone_one_specimen_must_stand_everywhere() -> None:
    runs = (
        ' and a report "T-1" having tested like steel'
        ' and a run "1" having held 75 psf'
        ' and a run "2" having held 60 psf and tested.clip.spacing 12 in'
    )
    check(ZONED + runs, "carried_whole complies")
    weak = runs.replace("75 psf", "45 psf")
    check(ZONED + weak, "carried_whole deviates; carried complies")


def test_a_field_not_stated_in_a_zone_is_not_known_there() -> None:
    given = (
        'proposed like steel and proposed.clip.spacing 24 in in "field" and proposed.panel.width 12 in in "corner"'
        ' and a zone "corner" having required 30 psf'
        ' and a report "T-1" having held 45 psf and tested like steel'
    )
    check(given, "carried not shown")


def test_everyday_names_of_zones_answer_to_the_figures() -> None:
    given = (
        'proposed like steel and proposed.clip.spacing 24 in in "field" and proposed.clip.spacing 12 in in "corner"'
        ' and a zone "Zone 3" having required 60 psf'
        ' and a report "T-1" having held 60 psf and tested like steel and tested.clip.spacing 12 in'
    )
    check(given, "carried complies")


@pytest.mark.parametrize(
    ("state", "verdict"),
    [
        ('and state "on contract documents"', "complies"),
        ('and state "claimed only"', "not shown"),
        ('and state "not confirmed"', "not shown"),
        ('and state "contradicted"', "not shown"),
        ("", "not shown"),
    ],
)
def test_a_listing_covers_where_every_condition_is_on_contract_documents(state: str, verdict: str) -> None:
    given = (
        'proposed like steel and a listing "L-1" having tested like steel'
        f' and a condition "Plywood deck" having field "deck.type" and value "plywood" {state}'
    )
    check(given, f"covered_listing {verdict}")


def test_the_conditions_of_one_listing_are_not_another_s() -> None:
    given = (
        'proposed like steel and a listing "L-1" having tested like steel'
        ' and a listing "L-2" having tested like steel and tested.panel.width 12 in'
        ' and a condition having field "deck.type" and value "plywood"'
    )
    check(given, "covered_listing complies")
