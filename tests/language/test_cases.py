"""A case's world: values read as a submittal's are, places cited, mistakes told."""

from __future__ import annotations

import pytest

from cleatmark.facts import NONE
from cleatmark.language import tree as t
from cleatmark.language.cases import Vocabulary, world_of
from cleatmark.language.expectations import assemblies_of, check_cases
from cleatmark.language.world import World
from cleatmark.problems import render
from cleatmark.units import Quantity

from .small_books import merged, program, unmet

HEAD = """
rulebook small "Small"
  builds on fields
requirement width "Width"
  shall proposed.panel.width meets spec.panel.width
  action record
  source common practice
substitution sub_width for panel.width
  allows equal, narrower
  source common practice
practice usual_deck for deck.type
  usual "plywood"
  source common practice
advice note "A note"
  when clause.flags includes "misuse"
  message "A note."
  source common practice
define half of run
  as held / 2
  at allowable level
  source common practice
table pressure by class gives psf_held, name
  90  105 psf  "ninety"  source common practice
assembly steel
  panel.material "steel"
  panel.width 16 in
"""


LINE = HEAD.count("\n") + 1
"""Of the first line of what is given, below the title of the case."""


def world(given: str) -> World:
    made = program(HEAD + f'case "x"\n  with {given}\n  expect width complies\n')
    file = made.merged.files[-1]
    case = next(s for s in file.statements if isinstance(s, t.Case))
    words = Vocabulary(made.names, made.kinds, assemblies_of(made.merged))
    found, problems = world_of(case, file, words)
    assert not problems, [render(problem) for problem in problems]
    return found


def test_values_are_read_by_the_field_and_cite_the_line() -> None:
    made = world(
        'proposed.panel.width 406.4 mm and proposed.insulation.type none and job.insurer "FM"\n'
        "    and job.permit_date 2026-09-15"
    )
    facts = made.variants[""]
    width = facts["proposed.panel.width"]
    assert isinstance(width.value, Quantity)
    assert (width.value.kind, width.value.value) == ("length", 16)
    assert width.text == "406.4 mm"
    assert width.citations[0].where == f"small.rules:{LINE}"
    assert width.citations[0].quote.startswith("with proposed.panel.width 406.4 mm")
    assert facts["proposed.insulation.type"].value is NONE
    assert made.facts["job.permit_date"].citations[0].where == f"small.rules:{LINE + 1}"


def test_a_later_setting_overrides_what_it_is_like() -> None:
    made = world("proposed like steel and proposed.panel.width 12 in")
    assert made.variants[""]["proposed.panel.width"].text == "12 in"
    assert made.variants[""]["proposed.panel.material"].text == "steel"


def test_what_a_document_says_holds_for_its_runs() -> None:
    made = world(
        'a report "T-1" having standard "UL 580" and tested like steel'
        ' and a run "1" having class 90 and a run "2" having class 60 and tested.panel.width 12 in'
    )
    (document,) = made.documents
    assert document.facts["document.kind"].value == "tested report"
    assert [run.label for run in document.runs] == ["tested report T-1, run 1", "tested report T-1, run 2"]
    assert [run.facts["run.standard"].text for run in document.runs] == ["UL 580", "UL 580"]
    assert [run.facts["tested.panel.width"].text for run in document.runs] == ["16 in", "12 in"]
    assert all(run.parent is document for run in document.runs)


def test_tested_values_without_a_paper_put_up_a_report() -> None:
    made = world("tested.panel.width 16 in")
    assert made.documents[0].facts["document.kind"].value == "tested report"


def test_what_is_specified_carries_relation_zone_level_and_flags() -> None:
    made = world(
        'spec.panel.width at most 16 in in "corner" and spec.clip.spacing flagged "blank", "conflict"'
        ' and spec.deck.type one of "plywood", "OSB"'
    )
    (width,) = made.spec["panel.width"]
    assert (width.relation, width.zone, width.clause) == ("at most", "corner", f"line {LINE}")
    assert made.spec["clip.spacing"][0].flags == ("blank", "conflict")
    assert made.spec["deck.type"][0].values == ("plywood", "OSB")


def test_a_condition_s_value_is_read_by_the_field_that_it_is_about() -> None:
    made = world('a condition having field "insulation.type" and value "none"')
    (condition,) = made.documents[0].conditions
    assert condition.facts["condition.value"].value is NONE
    assert condition.facts["condition.state"].value == "not confirmed"
    assert made.documents[0].facts["document.kind"].value == "holder's listing"


def test_every_form_of_expectation() -> None:
    body = """
case "a value, a table, a practice, an advice"
  with a clause "1.04" having flags "misuse", "blank"
    and a report "T-1" having held 105 psf
    and a condition having field "deck.type" and value "OSB"
  expect half 52.5 psf allowable
  expect pressure for ( 90 ) 105 psf, "ninety"
  expect pressure.name for ( 90 ) "ninety"
  expect pressure for ( 60 ) not shown
  expect usual_deck unusual
  expect note raised
case "nothing put up"
  with proposed.panel.width 16 in
  expect half not shown
  expect usual_deck not shown
  expect note not raised
  expect sub_width not shown
"""
    assert unmet(HEAD + body) == []


def test_an_expected_value_is_compared_to_as_many_decimals_as_it_has() -> None:
    third = HEAD.replace("held / 2", "held / 3")
    body = 'case "x"\n  with a report "T-1" having held 100 psf\n  expect half {}\n'
    assert unmet(third + body.format("33.3 psf")) == []
    assert unmet(third + body.format("33.33 psf")) == []
    assert unmet(third + body.format("33.4 psf")) == ["half: 33.4 psf, got 33.3 psf allowable level"]
    assert len(unmet(third + body.format("33 psf"))) == 1
    assert len(unmet(third + body.format("33.3 psf strength"))) == 1


@pytest.mark.parametrize(
    ("given", "message", "help"),
    [
        ("proposed.panel.widht 16 in", "no field is called `proposed.panel.widht`", "proposed.panel.width"),
        ('proposed.panel.material "stel"', '"stel" is not one of the choices', "steel"),
        ("proposed.panel.width 16 psf", "is a pressure, and a length is asked for", ""),
        ("proposed.panel.width none", '"none" cannot be stated for Panel width', ""),
        ("proposed like stell", 'no assembly is called "stell"', "steel"),
        ('a reprt "T-1" having class 90', 'a case cannot put up a "reprt"', "report"),
        ("proposed.panel.width at most 16 in", "stands behind what is specified", ""),
        ('job.insurer "FM" in "corner"', "stands behind what is proposed or specified", ""),
        ("run.half 52.5 psf", "is worked out from other values", ""),
        ('a condition having field "deck.tipe" and value "OSB"', "no field is called", ""),
        ('clause.flags "misuse"', "can be read only where a clause is spoken of", ""),
    ],
)
def test_mistakes_in_settings_are_told(given: str, message: str, help: str) -> None:
    told = mistakes(f'case "x"\n  with {given}\n  expect width complies\n')
    assert len(told) == 1, told
    assert message in told[0]
    assert help in told[0]
    assert told[0].startswith(f"small.rules:{LINE}:")


@pytest.mark.parametrize(
    ("expected", "message", "help"),
    [
        ("widht complies", 'no rule is called "widht"', 'did you mean "width"?'),
        ("width raised", 'a rule is never "raised"', "complies, deviates, not shown, does not apply"),
        ("note complies", 'an advice is never "complies"', "raised, not raised"),
        ("usual_deck complies", 'a practice is never "complies"', "usual, unusual"),
        ("width 16 in", "a rule has a verdict, not a value", "complies"),
        ("half complies", 'a value is never "complies"', "not shown"),
        ("presure for ( 90 ) 105 psf", 'no table is called "presure"', 'did you mean "pressure"?'),
    ],
)
def test_mistakes_in_expectations_are_told(expected: str, message: str, help: str) -> None:
    told = mistakes(f'case "x"\n  with proposed.panel.width 16 in\n  expect {expected}\n')
    assert len(told) == 1, told
    assert message in told[0]
    assert help in told[0]


def test_a_case_without_an_expectation_is_told() -> None:
    (line,) = mistakes('case "x"\n  with proposed.panel.width 16 in\n')
    assert "a case expects something" in line


def test_assemblies_are_read_too() -> None:
    (line,) = mistakes("assembly other\n  panel.width 16 psf\n")
    assert "is a pressure, and a length is asked for" in line


def mistakes(body: str) -> list[str]:
    made = merged(HEAD + body)
    names = program(HEAD).names
    return [render(problem) for problem in check_cases(made.files[-1], made, names)]
