"""Method against use before any number, by code edition; scopes of methods; factors and allowables.

Method lists by edition are from memory, as rules/model_code.rules says.
"""

from __future__ import annotations

from typing import Any

import pytest

from .stage import (
    PURLINS,
    ROOF,
    Tree,
    because,
    changed,
    finding,
    paper,
    report,
    reviewed,
    standing,
    stated,
    verdict,
)

CODE = ("base", "model_code")
LAPPED = changed(ROOF, panel__seam_type="through-fastened lap", panel__seam_sealant="field applied")
LAPPED_PURLINS = changed(
    PURLINS, panel__seam_type="through-fastened lap", panel__seam_sealant="field applied"
)


def run(method: str, **facts: str) -> Tree:
    """A run that held 150 psf, far above what any zone here needs."""
    return {
        "id": "1",
        "standard": method,
        "edition": "as printed",
        "held": "150 psf",
        "failure_mode": "seam opened",
        "tests": "1",
        **facts,
    }


def by(method: str, roof: Tree = ROOF, code: str = "IBC 2021", **facts: str) -> Any:
    return reviewed(roof, report(roof, run(method, **facts)), rules=CODE, job={"code": code})


TAKEN = [
    ("IBC 2009", ROOF, {"UL 580"}),
    ("IBC 2015", ROOF, {"UL 580", "UL 1897", "FM 4474"}),
    ("IBC 2018", ROOF, {"UL 580", "UL 1897", "FM 4474"}),
    ("IBC 2021", ROOF, {"UL 580", "UL 1897", "FM 4474"}),
    ("IBC 2024", ROOF, {"UL 580", "UL 1897", "FM 4474"}),
    ("2018 International Building Code", ROOF, {"UL 580", "UL 1897", "FM 4474"}),
    ("IBC 2009", LAPPED, {"UL 580", "UL 1897", "FM 4474"}),
    ("IBC 2018", LAPPED, {"UL 580", "UL 1897", "FM 4474"}),
    ("IBC 2009", PURLINS, {"UL 580", "ASTM E1592"}),
    ("IBC 2018", PURLINS, {"ASTM E1592", "FM 4474"}),
    ("IBC 2021", PURLINS, {"ASTM E1592", "FM 4474"}),
    ("IBC 2018", LAPPED_PURLINS, {"ASTM E1592", "FM 4474", "UL 580"}),
    ("IBC 2021", LAPPED_PURLINS, {"ASTM E1592", "FM 4474", "UL 580"}),
    ("IBC 2012", ROOF, set()),
    ("IRC 2021", ROOF, {"UL 580", "UL 1897", "FM 4474"}),
]


@pytest.mark.parametrize("method", ["UL 580", "UL 1897", "FM 4474", "ASTM E1592"])
@pytest.mark.parametrize(("code", "roof", "taken"), TAKEN)
def test_methods_by_use_and_edition(code: str, roof: Tree, taken: set[str], method: str) -> None:
    """ASTM E1592 on a deck is outside its own scope, also where the 2009 code names it."""
    review = by(method, roof, code)
    wanted = "complies" if method in taken else "not shown"
    assert verdict(review, "code_method") == wanted
    assert verdict(review, "zone_uplift") == wanted


def test_the_finding_names_section_use_and_methods() -> None:
    found = finding(by("UL 580", PURLINS, "IBC 2018"), "code_method")
    assert "IBC 2018, 1504.3.2: structural standing seam on open framing" in found.message
    assert "ASTM E1592, FM 4474" in found.message
    assert "by UL 580, a method that the code does not name for this use" in found.message
    assert finding(by("ASTM E1592", PURLINS, "IBC 2021"), "code_method").message.startswith(
        "IBC 2021, 1504.4.2"
    )


def test_what_is_remembered_is_to_be_checked() -> None:
    review = by("UL 580")
    assert any("check against the adopted text" in notice for notice in review.notices)
    assert any("check against the adopted text" in head.status for head in review.rulebooks)


def test_the_2012_edition_is_asked_about() -> None:
    review = by("UL 580", code="IBC 2012")
    assert any(advice.id == "code_2012" and advice.ask == "building department" for advice in review.advice)


def test_a_code_that_nobody_states_is_a_question() -> None:
    review = reviewed(ROOF, report(ROOF), rules=CODE, job={"code": None})
    found = finding(review, "code_method")
    assert found.verdict == "not shown"
    assert {item.ask for item in found.missing if item.path == "job.code"} == {"building department"}


# What a method shows, and of what ---------------------------------------------------------------------------------


@pytest.mark.parametrize(
    "method",
    [
        "AISI S901",
        "AISI S908",
        "CSA A123.21",
        "ASTM E330",
        "ASTM D3161",
        "TAS 100",
        "ASTM E455",
        "ASTM E1646",
    ],
)
def test_a_method_that_shows_no_uplift_of_a_panel_carries_no_zone(method: str) -> None:
    assert verdict(reviewed(ROOF, report(ROOF, run(method))), "zone_uplift") == "not shown"


def test_a_wrong_method_is_named_for_what_it_shows() -> None:
    document = paper(reviewed(PURLINS, report(PURLINS, run("AISI S901"))))
    assert standing(document, "zone_uplift") == "does not cover"
    assert because(document, "zone_uplift") == "the stiffness that a panel gives its purlin, not uplift"


def test_astm_e1592_is_not_for_a_panel_on_a_deck() -> None:
    review = reviewed(ROOF, report(ROOF, run("ASTM E1592")))
    assert verdict(review, "zone_uplift") == "not shown"
    assert paper(review).standing == "does not cover, because for open framing, not for a panel on a deck"


@pytest.mark.parametrize(
    ("sheet", "wanted"), [("0.050 in", "complies"), ("0.063 in", "not shown"), ("0.010 in", "not shown")]
)
def test_astm_e1592_has_a_range_of_sheets(sheet: str, wanted: str) -> None:
    aluminum = changed(
        PURLINS, panel__material="aluminum", panel__thickness=sheet, panel__yield_strength="20 ksi"
    )
    assert verdict(reviewed(aluminum, report(aluminum, run("ASTM E1592"))), "zone_uplift") == wanted


@pytest.mark.parametrize(
    "written", ["ASTM E1592", "ASTM E 1592", "ASTM E1592-05(2017)", "E1592-05", "ASTM E1592-05 (2012)"]
)
def test_a_method_is_known_however_it_is_written(written: str) -> None:
    assert verdict(reviewed(PURLINS, report(PURLINS, run(written))), "zone_uplift") == "complies"


@pytest.mark.parametrize("written", ["UL 580", "ANSI/UL 580", "UL580", "U.L. 580"])
def test_ul_580_however_it_is_written(written: str) -> None:
    spec = [stated("uplift.class", "90", relation="at least", kind="class", verb="tested")]
    made = report(ROOF, {"id": "1", "standard": written, "class": "90"})
    assert verdict(reviewed(ROOF, made, spec=spec), "uplift_class") == "complies"


def test_a_class_under_ul_1897_is_no_pressure() -> None:
    review = reviewed(ROOF, report(ROOF, {"id": "1", "standard": "UL 1897", "class": "90"}))
    assert verdict(review, "zone_uplift") == "not shown"
    assert paper(review).runs[0].allowable_psf is None
    assert any(advice.id == "claim_class_1897" for advice in review.advice)


# Allowables ------------------------------------------------------------------------------------------------------


def allowable(
    method: str, roof: Tree = ROOF, spec: Any = None, job: Any = None, **facts: str
) -> float | None:
    made = {"id": "1", "standard": method, **facts}
    return paper(reviewed(roof, report(roof, made), spec=spec, job=job)).runs[0].allowable_psf


def test_the_last_step_held_and_not_the_step_of_failure() -> None:
    assert allowable("UL 1897", held="165 psf", failed_at="180 psf") == 82.5
    assert allowable("UL 1897", failed_at="180 psf") is None


@pytest.mark.parametrize(
    ("tests", "statistical", "factor"),
    [("1", None, 2.0), ("2", "1.7", 2.0), ("6", "1.60", 1.67), ("5", "1.82", 1.82), ("3", "2.3", 2.3)],
)
def test_steel_panels_under_astm_e1592_by_number_of_tests(
    tests: str, statistical: str | None, factor: float
) -> None:
    """AISI S100, I6.3.1, from memory."""
    facts = {
        "held": "118 psf",
        "tests": tests,
        **({"statistical_factor": statistical} if statistical else {}),
    }
    assert allowable("ASTM E1592", PURLINS, **facts) == pytest.approx(118 / factor)


@pytest.mark.parametrize("facts", [{"held": "118 psf"}, {"held": "118 psf", "tests": "6"}])
def test_a_factor_that_the_report_does_not_support_is_not_assumed(facts: dict[str, str]) -> None:
    """The number of tests is not stated, or three or more were run and no factor is worked out."""
    assert allowable("ASTM E1592", PURLINS, **facts) is None


def test_the_largest_of_specification_code_and_method_governs() -> None:
    held = {"held": "120 psf"}
    asked = [stated("safety_factor", "3.0", relation="at least", kind="number")]
    less = [stated("safety_factor", "1.5", relation="at least", kind="number")]
    assert allowable("UL 1897", **held) == 60
    assert allowable("UL 1897", spec=asked, **held) == 40
    assert allowable("UL 1897", spec=less, **held) == 60
    statistical = {"held": "120 psf", "tests": "6", "statistical_factor": "1.70"}
    florida = {"place": {"state": "Florida", "county": "Duval"}}
    assert allowable("ASTM E1592", PURLINS, job=florida, **statistical) == 60


def test_an_allowable_as_printed_is_not_divided_again() -> None:
    printed = report(
        ROOF,
        {"id": "1", "standard": "UL 1897", "printed_allowable": "60 psf"},
        kind="evaluation",
        offered_as="evaluation",
        body="An evaluation service (invented)",
        expires="2028-01-31",
    )
    review = reviewed(ROOF, printed)
    assert paper(review).runs[0].allowable_psf == 60
    assert verdict(review, "zone_uplift") == "complies"
