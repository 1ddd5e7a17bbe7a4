"""Layers: what amends what, in which order, from when; each conflict shows both places."""

from __future__ import annotations

import pytest

from cleatmark.language.layers import Dates, in_force, merge
from cleatmark.problems import render

from .small_books import FIELDS, layers, merged, tree, unmet

BASE = """
rulebook base "Base"
  builds on fields

requirement width "Width"
  shall proposed.panel.width at most 18 in
  action resubmit
  source common practice

substitution sub_width for panel.width
  formerly panel_width_change
  allows equal, narrower
  source common practice
"""


def book(name: str, on: str, body: str, head: str = "") -> str:
    return f'\nrulebook {name} "{name}"\n  builds on {on}\n{head}\n{body}'


def told(*texts: str) -> list[str]:
    return [render(problem) for problem in layers(*texts)[1]]


NARROW = "amend width\n  shall proposed.panel.width at most 16 in\n  source common practice\n"
CASES = """
case "16 in"
  with proposed.panel.width 16 in
  expect width complies
case "18 in"
  with proposed.panel.width 18 in
  expect width {}
"""


def test_an_amendment_changes_what_it_states_and_nothing_else() -> None:
    made = merged(BASE, book("county", "base", NARROW))
    rule = made.rules["width"]
    assert rule.statement.clauses.action == "resubmit"
    assert [link.did for link in rule.chain] == ["stated", "amended"]
    assert [str(link.place) for link in rule.chain] == ["base.rules:4:13", "county.rules:4:7"]
    assert unmet(BASE, book("county", "base", NARROW + CASES.format("deviates"))) == []


def test_the_lower_rulebook_is_not_edited() -> None:
    files = [tree(FIELDS, "fields.rules"), tree(BASE, "base.rules")]
    before = files[1]
    made, _ = merge([*files, tree(book("county", "base", NARROW), "county.rules")])
    assert made.files[1] is before
    assert unmet(BASE + CASES.format("complies")) == []


def test_a_waiver_is_kept_with_its_reason_and_the_rule_does_not_apply() -> None:
    waiver = 'waive width\n  because "Not enforced here."\n  source common practice\n'
    made = merged(BASE, book("county", "base", waiver))
    waived = made.rules["width"].waived
    assert waived is not None
    assert str(waived) == "county: waived at county.rules:4: Not enforced here."
    case = 'case "wide"\n  with proposed.panel.width 30 in\n  expect width does not apply\n'
    assert unmet(BASE, book("county", "base", waiver + case)) == []


def test_two_unordered_amendments_are_an_error_that_shows_both_places() -> None:
    found = told(BASE, book("county", "base", NARROW), book("city", "base", NARROW))
    assert len(found) == 1
    assert "two rulebooks change" in found[0]
    assert found[0].startswith("city.rules:4:7")
    assert "county.rules:4:7" in found[0]
    assert "builds on county" in found[0]


def test_an_amendment_of_one_that_it_builds_on_comes_after_it() -> None:
    wide = NARROW.replace("16 in", "20 in")
    body = wide + 'case "20 in"\n  with proposed.panel.width 20 in\n  expect width complies\n'
    assert unmet(BASE, book("county", "base", NARROW), book("city", "county", body)) == []


def test_the_order_of_files_makes_no_difference() -> None:
    wide = tree(book("city", "county", NARROW.replace("16 in", "20 in")), "city.rules")
    county = tree(book("county", "base", NARROW), "county.rules")
    rest = [tree(FIELDS, "fields.rules"), tree(BASE, "base.rules")]
    one, _ = merge([*rest, county, wide])
    other, _ = merge([wide, county, *reversed(rest)])
    assert one.rules["width"].chain == other.rules["width"].chain
    assert one.rules["width"].statement == other.rules["width"].statement


def test_a_circle_of_rulebooks_is_told() -> None:
    found = told(book("a", "b", ""), book("b", "a", ""))
    assert any("circle" in line and "a builds on b builds on a" in line for line in found)


def test_an_amendment_of_nothing_gets_the_near_name() -> None:
    (line,) = told(BASE, book("county", "base", NARROW.replace("amend width", "amend widht")))
    assert "no rule is called so\n" in line or "no rule is called so" in line
    assert 'did you mean "width"?' in line


def test_an_amendment_of_a_rulebook_not_built_on_is_told() -> None:
    (line,) = told(BASE, book("county", "fields", NARROW))
    assert 'on which "county" does not build' in line


def test_an_amendment_of_what_a_layer_below_waives_is_told() -> None:
    waiver = 'waive width\n  because "Not enforced here."\n'
    (line,) = told(BASE, book("county", "base", waiver), book("city", "county", NARROW))
    assert 'which "county" waives: it would change nothing' in line
    assert "county.rules:4:7" in line


def test_an_old_id_answers_for_the_new_one() -> None:
    body = """
amend panel_width_change
  allows equal
  source common practice
case "narrower than tested"
  with proposed.panel.width 12 in
    and a report "T-1" having tested.panel.width 16 in
  expect panel_width_change deviates
"""
    assert unmet(BASE, book("county", "base", body)) == []


def test_an_old_id_that_is_taken_is_told_with_its_place() -> None:
    other = BASE.replace("formerly panel_width_change", "formerly width")
    (line,) = told(other)
    assert 'was formerly "width", and that id is taken' in line
    assert "base.rules:4" in line


# Dates ------------------------------------------------------------------------------------------------------------

DATED = book("county", "base", NARROW + "{}", "  in force from 2027-01-01\n  in force until 2029-12-31\n")
EIGHTEEN = """
case "on {on}"
  with proposed.panel.width 18 in{permit}
  expect width {verdict}
"""


@pytest.mark.parametrize(
    ("on", "verdict"),
    [
        ("2026-12-31", "complies"),
        ("2027-01-01", "deviates"),
        ("2029-12-31", "deviates"),
        ("2030-01-01", "complies"),
        ("", "not shown"),
    ],
)
def test_a_dated_amendment_leaves_the_rule_beneath_it_outside_its_dates(on: str, verdict: str) -> None:
    permit = f" and job.permit_date {on}" if on else ""
    case = EIGHTEEN.format(on=on or "no day", permit=permit, verdict=verdict)
    assert unmet(BASE, DATED.format(case)) == []


@pytest.mark.parametrize(
    ("on", "verdict"), [("2026-12-31", "does not apply"), ("2027-01-01", "complies"), ("", "not shown")]
)
def test_a_dated_rule_by_permit_date(on: str, verdict: str) -> None:
    permit = f" and job.permit_date {on}" if on else ""
    rule = """
requirement spacing "Spacing"
  shall proposed.clip.spacing at most 24 in
  action resubmit
  in force from 2027-01
  source common practice
case "on the day"
  with proposed.clip.spacing 24 in{}
  expect spacing {}
"""
    assert unmet(BASE, book("county", "base", rule.format(permit, verdict))) == []


def test_a_dated_waiver_waives_from_its_day() -> None:
    waiver = 'waive width\n  in force from 2027-01-01\n  because "Repealed."\n'
    case = EIGHTEEN.format(on="before", permit=" and job.permit_date 2026-01-01", verdict="complies")
    case += EIGHTEEN.format(on="after", permit=" and job.permit_date 2027-01-01", verdict="does not apply")
    assert unmet(BASE, book("county", "base", waiver + case)) == []


def test_an_undated_amendment_changes_every_dated_version() -> None:
    stop = "amend width\n  action stop\n  source common practice\n"
    made = merged(BASE, DATED.format(""), book("city", "county", stop))
    rule = made.rules["width"]
    assert rule.statement.clauses.action == "stop"
    assert rule.below is not None
    assert rule.below.statement.clauses.action == "stop"
    assert [link.rulebook for link in rule.below.chain] == ["base", "city"]


def test_a_dated_substitution_by_permit_date() -> None:
    body = """
amend sub_width
  allows equal
  source common practice
case "before"
  with proposed.panel.width 12 in and job.permit_date 2026-06-01
    and a report "T-1" having tested.panel.width 16 in
  expect sub_width complies
case "after"
  with proposed.panel.width 12 in and job.permit_date 2027-06-01
    and a report "T-1" having tested.panel.width 16 in
  expect sub_width deviates
case "no day"
  with proposed.panel.width 12 in
    and a report "T-1" having tested.panel.width 16 in
  expect sub_width not shown
"""
    assert unmet(BASE, book("county", "base", body, "  in force from 2027-01-01\n")) == []


def test_a_dated_row_of_a_table_by_permit_date() -> None:
    body = """
table factor by method
  "UL 580"  1.67  in force until 2026-12-31  source common practice
  "UL 580"  2.0   in force from 2027-01-01   source common practice
define factor_here of run
  as factor for ( standard )
  source common practice
case "before"
  with job.permit_date 2026-12-31 and a report "T-1" having standard "UL 580"
  expect factor_here 1.67
case "after"
  with job.permit_date 2027-01-01 and a report "T-1" having standard "UL 580"
  expect factor_here 2.0
case "no day"
  with a report "T-1" having standard "UL 580"
  expect factor_here not shown
"""
    assert unmet(BASE, book("county", "base", body)) == []


def test_dates_without_bounds_are_always_in_force() -> None:
    assert in_force(Dates(), None) == "yes"
    assert str(Dates("2027-01", "2029-12-31")) == "from 2027-01 until 2029-12-31"
