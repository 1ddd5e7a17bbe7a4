"""Judging a proposal that differs by zone, and what a result rests on: gathered when asked for, nothing left out."""

from __future__ import annotations

from cleatmark.facts import Citation, Fact, Stated
from cleatmark.language.judge import Outcome, judge_all, verdicts_after
from cleatmark.language.world import World
from cleatmark.units import parse

from .small_books import program

RULES = """
rulebook small "Small"

requirement specified "Width as specified"
  shall proposed.panel.width meets spec.panel.width
  action correct
  source common practice

requirement fixed "Width and deck"
  shall proposed.panel.width at most 18 in and ( proposed.deck.type is one of "plywood", "OSB" or job.insurer is "FM" )
    and not proposed.panel.material is "aluminum"
  action correct
  source common practice

requirement width_or_deck "A width asked for goes with plywood"
  shall proposed.deck.type is "plywood" or not spec.panel.width is stated
  action correct
  source common practice

requirement spaced "Clips as specified"
  shall proposed.clip.spacing meets spec.clip.spacing
  action correct
  source common practice

reading clips_as_wide
  gives spec.clip.spacing as at most
  like panel.width
  from "clips no farther apart than the panel is wide"
  source common practice
"""
PROGRAM = program(RULES)


def fact(path: str, text: str, line: int) -> Fact:
    value = parse(text) if text[0].isdigit() else text
    return Fact(path, value, text, (Citation("submittal", f"s.yaml:{line}", text),))


WIDTH = fact("proposed.panel.width", "16 in", 1)
DECK = fact("proposed.deck.type", "OSB", 2)
METAL = fact("proposed.panel.material", "steel", 3)
OFFERED = {one.path: one for one in (WIDTH, DECK, METAL)}


def asked(most: str, zone: str) -> Stated:
    cited = Citation("spec", f"2.02.{zone}", f"not over {most}")
    return Stated("panel.width", "at most", (parse(most),), most, "2.02", cited.quote, cited, zone=zone)


def judged(world: World, rule: str) -> Outcome:
    return next(one for one in judge_all(PROGRAM, world, None) if one.rule.id == rule)


def test_what_is_asked_of_one_zone_is_asked_there_though_the_proposal_is_alike_in_all() -> None:
    variants = {"field": OFFERED, "corner": dict(OFFERED)}
    spec = {"panel.width": (asked("18 in", "field"), asked("12 in", "corner"))}
    outcome = judged(World({}, variants, spec), "specified")
    assert [(part.frame.variant, part.verdict) for part in outcome.shown] == [
        ("field", "complies"),
        ("corner", "deviates"),
    ]
    assert outcome.verdict == "deviates"


def test_whether_anything_is_asked_is_a_matter_of_each_zone() -> None:
    variants = {"field": OFFERED, "corner": dict(OFFERED)}
    outcome = judged(World({}, variants, {"panel.width": (asked("12 in", "corner"),)}), "width_or_deck")
    assert [part.verdict for part in outcome.shown] == ["complies", "deviates"]
    assert outcome.verdict == "deviates"


def test_a_result_gives_all_that_it_rests_on_in_the_order_in_which_it_was_read() -> None:
    insurer = Fact("job.insurer", "FM", "FM", (Citation("job", "job.yaml:9", "insurer: FM"),))
    res = judged(World({insurer.path: insurer}, {"": OFFERED}, {}), "fixed").res
    assert res.reads == (WIDTH, DECK, insurer, METAL)
    assert [(m.left, m.words, m.right, m.truth.value) for m in res.marks] == [
        ("16 in", "at most", "18 in", "yes"),
        ("OSB", "is one of", "plywood, OSB", "yes"),
        ("FM", "is", "FM", "yes"),
        ("steel", "is", "aluminum", "no"),
    ]


def test_a_result_that_fails_rests_on_what_fails_alone() -> None:
    wide = fact("proposed.panel.width", "24 in", 1)
    res = judged(World({}, {"": {**OFFERED, wide.path: wide}}, {}), "fixed").res
    assert (res.reads, res.missing) == ((wide,), ())
    assert [mark.left for mark in res.marks] == ["24 in"]


def test_an_open_result_keeps_what_was_read_and_says_what_is_missing() -> None:
    offered = {path: one for path, one in OFFERED.items() if one is not METAL}
    res = judged(World({}, {"": offered}, {}), "fixed").res
    assert res.reads == (WIDTH, DECK)
    assert [one.path for one in res.missing] == ["proposed.panel.material"]


def test_what_is_asked_by_another_field_is_judged_again_where_that_field_changes() -> None:
    cited = Citation("spec", "2.03.A", "clips no farther apart than the panel is wide")
    asked = Stated("clip.spacing", "at most", (), "", "2.03", cited.quote, cited, like="panel.width")
    clips, narrow = fact("proposed.clip.spacing", "14 in", 4), fact("proposed.panel.width", "12 in", 1)
    world, spec = {**OFFERED, clips.path: clips}, {"clip.spacing": (asked,)}
    outcome = judged(World({}, {"": world}, spec), "spaced")
    assert outcome.verdict == "complies"
    changed = World({}, {"": {**world, narrow.path: narrow}}, spec)
    assert verdicts_after(PROGRAM, [outcome], changed, None, [narrow.path]) == {"spaced": "deviates"}
