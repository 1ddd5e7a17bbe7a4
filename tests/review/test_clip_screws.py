"""The advisory check of a clip's screws: what it needs, what it asks for, and what it does not speak of."""

from __future__ import annotations

from pathlib import Path

import pytest

from cleatmark.facts import Citation, Fact
from cleatmark.language.judge import first_frame
from cleatmark.language.program import Program
from cleatmark.language.rulebooks import load_program
from cleatmark.language.world import Frame, World
from cleatmark.review.clip_screws import ScrewRow, screw_row
from cleatmark.units import parse

KINDS = {
    "deck.thickness": "thickness",
    "support.thickness": "thickness",
    "clip.thickness": "thickness",
    "deck.tensile_strength": "stress",
    "support.tensile_strength": "stress",
    "clip.tensile_strength": "stress",
    "fastener.size": "screw size",
    "fastener.head": "length",
    "fastener.penetration": "length",
    "fastener.count": "number",
}
SCREW = {
    "fastener.size": "No. 12",
    "fastener.head": "0.415 in",
    "fastener.penetration": "5/8 in",
    "fastener.count": "2",
}
CLIP = {"clip.thickness": "0.060 in", "clip.tensile_strength": "45 ksi"}
WOOD = {**SCREW, "deck.type": "plywood", "deck.thickness": "19/32 in"}
DECK = {
    **SCREW,
    **CLIP,
    "deck.type": "steel deck",
    "deck.thickness": "0.030 in",
    "deck.tensile_strength": "45 ksi",
}
PURLIN = {
    **SCREW,
    **CLIP,
    "deck.type": "open framing",
    "support.type": "steel purlins",
    "support.thickness": "0.060 in",
    "support.tensile_strength": "65 ksi",
}


@pytest.fixture(scope="module")
def program() -> Program:
    return load_program(("base",), Path())


def checked(program: Program, stated: dict[str, str], demand: float | None = 30.0) -> ScrewRow:
    """At clips 24 in apart on a panel of 16 in: 30 psf x 16 x 24 / 144 = 80 lb."""
    facts = {}
    for path, text in stated.items():
        value = parse(text, KINDS[path]) if path in KINDS else text
        facts[f"proposed.{path}"] = Fact(
            f"proposed.{path}", value, text, (Citation("submittal", "a.yaml:9"),)
        )
    frame: Frame = first_frame(World({}, {"": facts}, {}))
    return screw_row(program, frame, demand, 16, 24)


def test_each_deck_has_its_own_strength(program: Program) -> None:
    """Plywood: 2850 x 0.42² x 0.216 x 19/32 x 1.6 = 103.2 lb. Deck: 0.85 x 0.030 x 0.216 x 45,000 / 3 = 82.6 lb.
    Purlin: 0.85 x 0.060 x 0.216 x 65,000 / 3 = 238.7 lb. Two screws each."""
    for stated, kind, capacity in (
        (WOOD, "withdrawal", 206.3),
        (DECK, "pull-out", 165.2),
        (PURLIN, "pull-out", 477.4),
    ):
        found = checked(program, stated)
        assert found.check is not None
        assert (found.verdict, found.check.governing, found.missing) == ("holds", kind, ())
        assert found.check.capacity_lb == pytest.approx(capacity, abs=0.1)
        assert found.load_lb == pytest.approx(80)


@pytest.mark.parametrize(
    ("stated", "path", "ask"),
    [
        *[(WOOD, path, "maker") for path in ("fastener.size", "fastener.penetration", "fastener.count")],
        (WOOD, "deck.thickness", "designer"),
        *[(DECK, path, "maker") for path in (*SCREW, *CLIP)],
        *[(DECK, path, "designer") for path in ("deck.thickness", "deck.tensile_strength")],
        *[(PURLIN, path, "designer") for path in ("support.thickness", "support.tensile_strength")],
    ],
)
def test_an_input_that_nobody_states_is_asked_for(
    program: Program, stated: dict[str, str], path: str, ask: str
) -> None:
    found = checked(program, {key: text for key, text in stated.items() if key != path})
    assert found.verdict == "not shown"
    assert [(item.path, item.ask) for item in found.missing] == [(f"proposed.{path}", ask)]


def test_one_strength_that_is_exceeded_tells_whatever_else_is_missing(program: Program) -> None:
    """At 70 psf 186.7 lb, above the deck's 165.2, though the clip's steel is not stated."""
    known = {key: text for key, text in DECK.items() if key != "clip.tensile_strength"}
    assert checked(program, known, 70.0).verdict == "exceeds"


def test_on_wood_pull_over_is_checked_where_the_clips_steel_is_stated(program: Program) -> None:
    """A clip of 0.010 in: 1.5 x 0.010 x 0.415 x 45,000 / 3 = 93.4 lb, below 103.2 by withdrawal."""
    thin = checked(program, {**WOOD, **CLIP, "clip.thickness": "0.010 in"})
    assert thin.check is not None
    assert thin.check.governing == "pull-over"


def test_a_gauge_counts_with_the_least_it_may_be(program: Program) -> None:
    """22 ga: 0.0281 in of base metal at least, below the 0.0296 to 0.0336 in of its other columns."""
    found = checked(program, {**DECK, "deck.thickness": "22 ga"})
    assert found.check is not None
    assert found.check.capacity_lb == pytest.approx(2 * 0.85 * 0.0281 * 0.216 * 45_000 / 3)
    heavy = checked(program, {**DECK, "deck.thickness": "8 ga"})
    assert [item.reason for item in heavy.missing] == ["8 ga is not in the gauge table; state it in inches"]


def test_what_the_check_does_not_speak_of(program: Program) -> None:
    for stated in (
        {**WOOD, "deck.type": "concrete"},
        {**WOOD, "deck.type": "wood plank"},
        {**PURLIN, "support.type": "wood trusses"},
    ):
        assert checked(program, stated).verdict == ""
    assert checked(program, WOOD, None).verdict == ""
