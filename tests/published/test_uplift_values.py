"""Uplift figures of the trade, each beside its source: what a class, a rating or a test allows.

The rulebooks hold the figures; these checks work them out through the rules, as a review does.
"""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from cleatmark.facts import Citation, Fact
from cleatmark.language.judge import first_frame
from cleatmark.language.program import Program
from cleatmark.language.rulebooks import load_program
from cleatmark.language.world import Item, World
from cleatmark.units import Quantity, parse, to

HERE = Citation("evidence", "report T-1, run 1", "")
KINDS = {
    "class": "class",
    "rating": "rating",
    "held": "pressure",
    "failed_at": "pressure",
    "tests": "number",
    "statistical_factor": "number",
    "printed_allowable": "pressure",
}


@pytest.fixture(scope="module")
def program() -> Program:
    return load_program(("base", "fm_insured"), Path())


def worked(program: Program, define: str, metal: str = "steel", **run: str) -> Quantity | None:
    """What is defined of a run of a tested report with these results."""
    document = Item("document", "T-1", "tested report T-1", {}, HERE)
    facts = {"tested.panel.material": Fact("tested.panel.material", metal, metal, (HERE,))}
    for name, text in run.items():
        value = parse(text, KINDS[name]) if name in KINDS else text
        facts[f"run.{name}"] = Fact(f"run.{name}", value, text, (HERE,))
    item = Item("run", "1", "tested report T-1, run 1", facts, HERE, parent=document)
    get = program.get(define)
    assert get is not None
    value = get(first_frame(World({}, {"": {}}, {})).enter(item)).value
    assert value is None or isinstance(value, Quantity)
    return value


def psf(value: Quantity | None) -> Fraction | None:
    return None if value is None else to(value, "psf")


# UL 580, 5th edition: table of test pressures by class and phase. The totals are on UL's own page on roof deck
# constructions (code-authorities.ul.com); the split of suction and pressure is from memory, and adds up to them.


@pytest.mark.parametrize(
    ("name", "phase", "total"),
    [("30", "2", 30), ("30", "5", 45), ("60", "2", 60), ("60", "5", 75), ("90", "2", 90), ("90", "5", 105)],
)
def test_static_phases_add_up_to_the_totals(program: Program, name: str, phase: str, total: int) -> None:
    _, suction, _, pressure = _phase(program, name, phase)
    assert suction + pressure == total


@pytest.mark.parametrize(
    ("name", "low", "high"), [("30", "21.9", "41.5"), ("60", "43.9", "83.1"), ("90", "65.7", "90.0")]
)
def test_the_third_phase_swings_between_its_totals(program: Program, name: str, low: str, high: str) -> None:
    """UL's page rounds them to 22 to 42, 44 to 83 and 66 to 90 psf."""
    minutes, suction, suction_to, pressure = _phase(program, name, "3")
    assert (minutes, suction + pressure, suction_to + pressure) == (60, Fraction(low), Fraction(high))


@pytest.mark.parametrize("name", ["30", "60", "90"])
def test_a_class_takes_eighty_minutes(program: Program, name: str) -> None:
    """From memory: five phases of 5, 5, 60, 5 and 5 minutes."""
    assert sum(_phase(program, name, str(phase))[0] for phase in range(1, 6)) == 80


def _phase(program: Program, name: str, phase: str) -> tuple[Fraction, ...]:
    rows = program.tables["ul580_phase"].rows
    (row,) = [r for r in rows if [key.text for key in r.keys if key is not None] == [name, phase]]
    return tuple(parse(value.text).value for value in row.values)


# What a class allows at a factor of 2.0: the worked figure 105 to 52.5 psf is in an IIBEC paper of 2015
# (iibec.org, 2015-07); the others follow from the totals above.


@pytest.mark.parametrize(
    ("name", "held", "allowed"), [("30", 45, "22.5"), ("60", 75, "37.5"), ("90", 105, "52.5")]
)
def test_what_a_class_allows(program: Program, name: str, held: int, allowed: str) -> None:
    run = {"standard": "UL 580", "class": name}
    assert psf(worked(program, "test_pressure", **run)) == held
    value = worked(program, "allowable", **run)
    assert psf(value) == Fraction(allowed)
    assert value is not None
    assert value.level == "allowable"


def test_there_is_no_class_above_90(program: Program) -> None:
    """UL 580, class table: 15, 30, 60 and 90."""
    classes = [row.keys[0].text for row in program.tables["class_pressure"].rows if row.keys[0] is not None]
    assert classes == ["15", "30", "60", "90"]


def test_a_class_belongs_to_ul_580_alone(program: Program) -> None:
    """UL 1897, 8: the result is the highest step held, in psf; there is no class."""
    assert worked(program, "allowable", standard="UL 1897", **{"class": "90"}) is None


# UL 1897, 7th edition, 8.3: the last step held for the full minute, not the step of failure.


@pytest.mark.parametrize(
    ("held", "failed", "allowed"), [("165 psf", "180 psf", "82.5"), ("120 psf", "127 psf", "60")]
)
def test_the_last_step_held(program: Program, held: str, failed: str, allowed: str) -> None:
    run = {"standard": "UL 1897", "held": held, "failed_at": failed}
    assert psf(worked(program, "allowable", **run)) == Fraction(allowed)


def test_a_step_of_90_psf_in_kilopascals() -> None:
    """UL 1897, 8.4: 90 psf is 4.3 kPa."""
    assert float(to(parse("90 psf"), "kPa")) == pytest.approx(4.3, abs=0.05)


# FM: a rating 1-N held N psf and serves N/2 (FM Loss Prevention Data Sheets 1-28 and 1-29, from memory). A load
# between steps takes the next step of 15 psf: 41 psf needs 1-90, 45.1 psf needs 1-105.


@pytest.mark.parametrize(
    ("rating", "serves"),
    [
        ("1-60", "30"),
        ("1-75", "37.5"),
        ("1-90", "45"),
        ("1-105", "52.5"),
        ("1-120", "60"),
        ("1-135", "67.5"),
        ("1-150", "75"),
    ],
)
def test_what_a_rating_serves(program: Program, rating: str, serves: str) -> None:
    assert psf(worked(program, "fm_serves", standard="FM 4471", rating=rating)) == Fraction(serves)
    assert psf(worked(program, "allowable", standard="FM 4471", rating=rating)) == Fraction(serves)


@pytest.mark.parametrize(
    ("demand", "needed"), [("41", "1-90"), ("45", "1-90"), ("45.1", "1-105"), ("30", "1-60")]
)
def test_the_rating_that_a_demand_needs(program: Program, demand: str, needed: str) -> None:
    rows = [row.keys[0].text for row in program.tables["rating_pressure"].rows if row.keys[0] is not None]
    serving = [r for r in rows if (psf(worked(program, "fm_serves", rating=r)) or 0) >= Fraction(demand)]
    assert serving[0] == needed


# AISI S100, I6.3.1, from memory: fewer than three like tests 2.0; three or more by statistics, never below 1.67.


@pytest.mark.parametrize(
    ("held", "tests", "statistical", "allowed"),
    [("104 psf", "1", None, 52.0), ("118 psf", "6", "1.60", 70.66), ("118 psf", "5", "1.82", 64.84)],
)
def test_astm_e1592_by_number_of_tests(
    program: Program, held: str, tests: str, statistical: str | None, allowed: float
) -> None:
    run = {"standard": "ASTM E1592", "held": held, "tests": tests}
    run |= {"statistical_factor": statistical} if statistical else {}
    value = psf(worked(program, "allowable", **run))
    assert value is not None
    assert float(value) == pytest.approx(allowed, abs=0.01)


def test_a_printed_allowable_is_not_divided_again(program: Program) -> None:
    """Common practice, no source: an evaluation's figure is an allowable already."""
    assert psf(worked(program, "allowable", standard="UL 1897", printed_allowable="60 psf")) == 60
