"""`rules why` and `rules index`: a rule as it stands, the tree of its evaluation, what rulebooks hold."""

from __future__ import annotations

import argparse
import json
import re
from datetime import date
from pathlib import Path

import pytest
from msgspec.structs import replace

from cleatmark.commands.rules import add_parser
from cleatmark.language import tree as t
from cleatmark.language.expect import Judge, ready
from cleatmark.language.index import standing_of
from cleatmark.language.program import Program
from cleatmark.language.why import Step, explain, explain_value, lines
from cleatmark.language.world import World, permit_date
from cleatmark.problems import InputError

from .small_books import FIELDS, merged, program

BASE = """
rulebook base "Base"
  builds on fields
  checked on 2026-11-24

substitution sub_width for panel.width
  allows equal, narrower
  source common practice

requirement carried "Carried in every zone"
  formerly uplift
  basis demand
  shall every zone be shown by a run where ( it covers proposed in zone ) having ( held at least zone.required )
  action stop
  source "ANSI/UL 1897" at "8.3" confidence high
  because "Corners pull harder."

requirement class_shown "Class"
  applies when spec.uplift.class is stated
  shall be shown by a report where ( standard is "UL 580" and it covers proposed )
    having ( class at least spec.uplift.class )
  action resubmit
  source common practice

define half of run
  as held / 2
  source common practice
"""
COUNTY = """
rulebook county "County"
  builds on base
  in force from 2027-01-01

amend carried
  action record
  source "County ordinance (invented)" at "4"
  because "The county records it."
waive class_shown
  because "The county takes the state's approval."
"""
CASE = """
case "two zones"
  with proposed.panel.width 16 in and spec.uplift.class at least 90 and job.permit_date 2026-09-15
    and a zone "field" having required 45 psf and a zone "corner" having required 60 psf
    and a report "T-1" having standard "UL 580" and class 90 and held 50 psf and tested.panel.width 16 in
    and a report "T-2" having standard "UL 580" and class 60 and tested.panel.width 12 in
  expect carried deviates
"""


def judged(id: str, text: str = BASE + CASE) -> Step:
    made, world = staged(text)
    rule = Judge(made).rules[id]
    outcome, step = explain(made, rule, world, permit_date(world))
    assert step.outcome == outcome.verdict
    return step


def staged(text: str) -> tuple[Program, World]:
    made = program(text)
    file = made.merged.files[-1]
    case = next(s for s in file.statements if isinstance(s, t.Case))
    stage, problems = ready(case, file, Judge(made))
    assert stage is not None, problems
    return made, stage.world


def test_each_zone_names_the_run_by_which_it_was_judged() -> None:
    told = list(lines(judged("carried")))
    assert told[0] == "carried: Carried in every zone: deviates"
    assert "    complies: zone field, judged by tested report T-1, run 1" in told
    assert "    deviates: zone corner, judged by tested report T-1, run 1" in told
    assert any("no: held at least zone.required: 50 psf at least 60 psf" in line for line in told)
    assert any(
        re.search(r"run\.held = 50 psf \[tested report T-1, run 1, base\.rules:\d+\]", line) for line in told
    )
    assert any(re.search(r"zone\.required = 60 psf \[base\.rules:\d+\]", line) for line in told)


def test_coverage_names_each_attribute_that_differs() -> None:
    told = list(lines(judged("class_shown")))
    assert any("judged by tested report T-1, run 1" in line for line in told)
    assert any("yes: class at least spec.uplift.class: 90 at least 90" in line for line in told)
    assert any(
        "no: panel.width: 16 in proposed, 12 in tested (sub_width allows equal, narrower)" in line
        for line in told
    )
    assert any("as tested: panel.width" in line for line in told)


def test_what_was_missing_is_named_with_its_place() -> None:
    text = BASE + CASE.replace(" and held 50 psf", "").replace("proposed.panel.width 16 in and ", "")
    told = list(lines(judged("carried", text)))
    assert told[0].endswith("not shown")
    assert any("not stated as proposed: panel.width" in line for line in told)
    joined = list(lines(judged("carried", BASE + CASE.replace(" and held 50 psf", ""))))
    missing = [line for line in joined if "missing: Held (run.held): not stated" in line]
    assert missing
    assert "[tested report T-1, run 1, base.rules:" in missing[0]


def test_why_a_rule_was_not_judged() -> None:
    _, world = staged(BASE + CASE)
    county = program(BASE + CASE, COUNTY)
    later = world_on(world, "2027-03-01")
    _, step = explain(county, Judge(county).rules["class_shown"], later, permit_date(later))
    assert step.outcome == "does not apply"
    assert "The county takes the state's approval." in step.facts[0]


def world_on(world: World, day: str) -> World:
    fact = world.facts["job.permit_date"]
    changed = replace(fact, value=date.fromisoformat(day), text=day)
    return replace(world, facts={**world.facts, "job.permit_date": changed})


def test_values_and_substitutions_are_explained_run_by_run() -> None:
    made, world = staged(BASE + CASE)
    half = explain_value(made, "half", world)
    assert [(part.text, part.outcome) for part in half.inside] == [
        ("tested report T-1, run 1", "25 psf"),
        ("tested report T-2, run 1", "not shown"),
    ]
    assert any("worked out: 50 psf / 2 = 25 psf" in line for line in half.inside[0].facts)
    width = explain_value(made, "sub_width", world)
    assert [part.outcome for part in width.inside] == ["complies", "deviates"]


# As it stands -----------------------------------------------------------------------------------------------------


def test_the_chain_of_layers_with_dates_and_reasons() -> None:
    rule = standing_of("carried", merged(BASE + CASE, COUNTY))
    assert rule is not None
    assert rule.chain == (
        "base: stated at base.rules:9",
        "county: amended at county.rules:5, in force from 2027-01-01: The county records it.",
    )
    assert [version.in_force for version in rule.versions] == ["from 2027-01-01", ""]
    assert "action record" in rule.versions[0].lines
    assert "action stop" in rule.versions[1].lines
    assert rule.sources == ("County ordinance (invented), 4",)
    assert [(title, expected) for _, title, expected in rule.cases] == [("two zones", "deviates")]
    waived = standing_of("class_shown", merged(BASE + CASE, COUNTY))
    assert waived is not None
    assert "waived at county.rules:9" in waived.versions[0].waived
    assert waived.versions[1].waived == ""


def test_an_old_id_answers() -> None:
    rule = standing_of("uplift", merged(BASE))
    assert rule is not None
    assert rule.id == "carried"
    assert rule.formerly == ("uplift",)


def run(*words: str) -> int:
    parser = argparse.ArgumentParser()
    add_parser(parser.add_subparsers().add_parser)
    arguments = parser.parse_args(["rules", *words])
    status: int = arguments.run(arguments)
    return status


@pytest.fixture
def folder(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.chdir(tmp_path)
    monkeypatch.setenv("COLUMNS", "80")
    (tmp_path / "ground.rules").write_text(FIELDS.replace("rulebook fields", "rulebook ground"))
    (tmp_path / "town.rules").write_text(
        (BASE + CASE)
        .replace("builds on fields", "builds on ground")
        .replace("rulebook base", "rulebook town")
    )
    return tmp_path


def test_the_command_shows_a_rule_whole(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("why", "uplift", "--rules", "town.rules") == 0
    out = capsys.readouterr().out
    assert out.startswith('requirement carried "Carried in every zone"\n  basis demand\n')
    assert "how it came to stand so:\n  town: stated at town.rules:10\n" in out
    assert "source:\n  ANSI/UL 1897, 8.3 (confidence high)\n" in out
    assert "formerly:\n  uplift\n" in out
    assert "cases:\n  deviates: two zones (town.rules:" in out
    assert all(len(line) <= 80 for line in out.splitlines())


def test_an_unknown_id_gets_the_near_name(folder: Path) -> None:
    with pytest.raises(InputError) as caught:
        run("why", "carreid", "--rules", "town.rules")
    (problem,) = caught.value.problems
    assert problem.message == 'no rule is called "carreid"'
    assert problem.help == ('did you mean "carried"?',)


def test_a_job_alone_is_not_enough(folder: Path) -> None:
    with pytest.raises(InputError) as caught:
        run("why", "carried", "--job", "job.yaml")
    assert "--submittal" in caught.value.problems[0].help[0]


def test_a_shipped_rule_names_the_rulebooks_that_change_it(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("why", "zone_uplift", "--format", "json") == 0
    made = json.loads(capsys.readouterr().out)
    assert made["chain"][0].startswith("base: stated at rules/base.rules:")
    assert made["cases"]
    assert all(item["place"].startswith("rules/") for item in made["changed_by"])


def test_a_rule_is_judged_in_a_job(capsys: pytest.CaptureFixture[str]) -> None:
    sample = Path(__file__).parent.parent.parent / "samples" / "library"
    words = (
        "--job",
        str(sample / "job.yaml"),
        "--submittal",
        str(sample / "submittals" / "c_quiet_swap.yaml"),
    )
    assert run("why", "zone_uplift", *words) == 0
    out = capsys.readouterr().out
    assert out.startswith("zone_uplift: Uplift resistance in every roof zone: not shown\n")
    assert "no: panel.width: 18 in proposed, 16 in tested" in out
    assert "c_quiet_swap.yaml:" in out
    assert run("why", "sub_panel_width", *words, "--format", "json") == 0
    made = json.loads(capsys.readouterr().out)
    assert "deviates" in {part["outcome"] for part in made["judged"]["inside"]}


# Index ------------------------------------------------------------------------------------------------------------


def test_the_index_lists_ids_sources_dates_and_proof(
    folder: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert run("index", "town.rules") == 0
    out = capsys.readouterr().out
    assert out.startswith("town: Base (town.rules)\n  builds on ground; checked on 2026-11-24; not proven\n")
    assert re.search(r"^  carried +requirement +not proven$", out, re.MULTILINE)
    assert "Carried in every zone; ANSI/UL 1897, 8.3 (high)" in out
    assert all(len(line) <= 80 for line in out.splitlines())


def test_a_wide_index_has_a_line_a_statement(
    folder: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.setenv("COLUMNS", "140")
    assert run("index", "town.rules") == 0
    out = capsys.readouterr().out
    row = r"^  carried +requirement +not proven +Carried in every zone; ANSI/UL 1897, 8\.3 \(high\)$"
    assert re.search(row, out, re.MULTILINE)


def test_the_index_as_data(capsys: pytest.CaptureFixture[str]) -> None:
    assert run("index", "allowables", "--format", "json") == 0
    (book,) = json.loads(capsys.readouterr().out)["rulebooks"]
    assert (book["rulebook"], book["proven"], book["checked_on"]) == ("allowables", True, "2026-11-24")
    entry = next(item for item in book["statements"] if item["id"] == "class_pressure")
    assert entry["kind"] == "table"
    assert entry["proven"] == "proven"
    assert entry["confidence"] == "high"
    assert entry["place"].startswith("rules/allowables.rules:")
    assert "ANSI/UL 580, largest static total of class 90" in entry["sources"]
