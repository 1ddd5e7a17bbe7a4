"""Three-valued logic: Kleene's tables, what a result rests on, and that knowing less never makes a thing comply."""

from __future__ import annotations

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from cleatmark.facts import Citation, Fact, Missing, Tri
from cleatmark.language import tree as t
from cleatmark.language.cases import Vocabulary, world_of
from cleatmark.language.expectations import assemblies_of
from cleatmark.language.judge import judge_all
from cleatmark.language.logic import NO, UNKNOWN, YES, Res, all_of, any_of, negate
from cleatmark.language.program import compile_program
from cleatmark.language.world import Item, World, permit_date

from .small_books import shipped, unmet

ORDER = {NO: 0, UNKNOWN: 1, YES: 2}
FACT = Fact("a", "x", "x", (Citation("job", "job.yaml:1"),))
LACK = Missing("b", "B")


def res(truth: Tri) -> Res:
    return Res(truth, (FACT,), (LACK,) if truth is UNKNOWN else ())


# S. C. Kleene, Introduction to Metamathematics, section 64: the strong tables.
@pytest.mark.parametrize(("a", "b"), list(product(Tri, Tri)))
def test_and_is_the_least_and_or_the_greatest(a: Tri, b: Tri) -> None:
    least = min(a, b, key=ORDER.__getitem__)
    greatest = max(a, b, key=ORDER.__getitem__)
    assert all_of([res(a), res(b)]).truth is least
    assert any_of([res(a), res(b)]).truth is greatest


@pytest.mark.parametrize(("a", "b"), [(YES, NO), (NO, YES), (UNKNOWN, UNKNOWN)])
def test_not_turns_what_is_known(a: Tri, b: Tri) -> None:
    assert negate(res(a)).truth is b


@given(st.lists(st.sampled_from(list(Tri)), min_size=1, max_size=6))
def test_de_morgan(truths: list[Tri]) -> None:
    parts = [res(truth) for truth in truths]
    assert negate(all_of(parts)).truth is any_of([negate(part) for part in parts]).truth


def test_what_is_missing_is_listed_only_where_the_outcome_is_open() -> None:
    assert all_of([res(NO), res(UNKNOWN)]).missing == ()
    assert any_of([res(YES), res(UNKNOWN)]).missing == ()
    assert all_of([res(YES), res(UNKNOWN)]).missing == (LACK,)


def test_a_truth_has_no_two_valued_reading() -> None:
    with pytest.raises(TypeError):
        bool(UNKNOWN)


BOOK = """
rulebook small "Small"
  builds on fields

requirement every_run "Every run"
  shall every run has ( held at least 90 psf )
  action record
  source common practice
requirement some_run "Some run"
  shall some run has ( held at least 90 psf )
  action record
  source common practice
requirement no_run "No run"
  shall no run has ( held less than 90 psf )
  action record
  source common practice
requirement stated "Stated"
  applies when spec.uplift.class is stated
  shall proposed.panel.width at most 18 in
  action record
  source common practice
requirement known "Known"
  applies when spec.uplift.class is known
  shall proposed.panel.width at most 18 in
  action record
  source common practice

case "no run at all"
  with proposed.panel.width 16 in
  expect every_run not shown
  expect some_run deviates
  expect no_run complies
  expect stated does not apply
  expect known does not apply
case "one run of two is known to hold"
  with a report "T-1"
    and a run "1" having held 90 psf
    and a run "2" having standard "UL 580"
  expect every_run not shown
  expect some_run complies
  expect no_run not shown
case "one run of two is known not to"
  with a report "T-1"
    and a run "1" having held 89 psf
    and a run "2" having standard "UL 580"
  expect every_run deviates
  expect some_run not shown
  expect no_run deviates
case "a blank is stated and not known"
  with spec.uplift.class flagged "blank" and proposed.panel.width 16 in
  expect stated complies
  expect known does not apply
"""


def test_quantifiers_and_what_is_stated() -> None:
    assert unmet(BOOK) == []


def test_largest_stated_passes_over_the_specification_and_never_over_a_paper() -> None:
    body = """
rulebook small "Small"
  builds on fields
define factor of run
  as largest stated of ( spec.safety_factor, number_of_method for ( standard ) )
  source common practice
table number_of_method by method
  "UL 580"  2.0  source common practice
case "the specification is silent"
  with a report "T-1" having standard "UL 580"
  expect factor 2.0
case "the report does not name its method"
  with spec.safety_factor at least 1.5 and a report "T-1" having class 90
  expect factor not shown
"""
    assert unmet(body) == []


# Knowing less -----------------------------------------------------------------------------------------------------

PROGRAM = compile_program(shipped())
BASE_FILE = PROGRAM.merged.files[-1]
WORDS = Vocabulary(PROGRAM.names, PROGRAM.kinds, assemblies_of(PROGRAM.merged))
WHOLE = {"document.kind", "zone.name"}
"""What makes a thing the thing that it is; a submittal cannot leave it out."""
ABSENCE_READ = {
    "document.superseded_by",
    "document.expires",
    "run.printed_allowable",
    "run.held",
    "run.rating",
}
"""Facts whose absence says something by the rules' own words: `is stated`, `first stated of`."""
ASKED = {"offered_as"}


def paths(world: World) -> list[tuple[str, str]]:
    found = [("proposed", path) for facts in world.variants.values() for path in facts]
    for document in world.documents:
        for item in (document, *document.runs, *document.conditions):
            found += [(item.label, path) for path in item.facts]
    kept = WHOLE | ABSENCE_READ | {f"document.{name}" for name in ASKED}
    return sorted({(where, path) for where, path in found if path not in kept})


def without(world: World, where: str, path: str) -> World:
    def less(item: Item, parent: Item | None = None) -> Item:
        facts = {k: v for k, v in item.facts.items() if (item.label, k) != (where, path)}
        copy = Item(item.block, item.id, item.label, facts, item.citation, parent=parent)
        copy.runs = tuple(less(run, copy) for run in item.runs)
        copy.conditions = tuple(less(condition, copy) for condition in item.conditions)
        return copy

    variants = {
        name: {k: v for k, v in facts.items() if (where, k) != ("proposed", path)}
        for name, facts in world.variants.items()
    }
    return replace(world, variants=variants, documents=tuple(less(item) for item in world.documents))


OPEN = ("deviates", "not shown")
WORLDS = [
    (case.title, world, names)
    for case in BASE_FILE.statements
    if isinstance(case, t.Case) and any(item.verdict in OPEN for item in case.expectations)
    for world in [world_of(case, BASE_FILE, WORDS)[0]]
    if (names := paths(world))
]


@settings(max_examples=150, deadline=None)
@given(st.data())
def test_leaving_a_fact_out_never_makes_a_rule_comply(data: st.DataObject) -> None:
    title, world, names = data.draw(st.sampled_from(WORLDS))
    where, path = data.draw(st.sampled_from(names))
    before = verdicts(world)
    after = verdicts(without(world, where, path))
    turned = [rule for rule in before if before[rule] in OPEN and after[rule] == "complies"]
    assert not turned, (title, where, path)


def verdicts(world: World) -> dict[str, str]:
    return {o.rule.id: o.verdict for o in judge_all(PROGRAM, world, permit_date(world))}
