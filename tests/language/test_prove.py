"""Proof: failing cases, verdicts without a case, changes that no case notices; what is declared to mean the same."""

from __future__ import annotations

import argparse
import json
import re
from pathlib import Path

import pytest
from msgspec.structs import replace

from cleatmark.commands.rules import add_parser
from cleatmark.language import tree as t
from cleatmark.language.changes import moved
from cleatmark.language.layers import merge
from cleatmark.language.prove import Proof, each, prove_file
from cleatmark.language.rulebooks import gather, rules_folder
from cleatmark.problems import InputError

from .small_books import FIELDS, merged

RULE = """
rulebook small "Small"
  builds on fields

requirement strong "Strong enough"
  applies when spec.uplift.class is stated
  shall be shown by a report where ( standard is "UL 580" and it covers proposed )
    having ( class at least spec.uplift.class )
  action resubmit
  source common practice
"""
SUB = """
substitution sub_width for panel.width
  allows equal, narrower
  source common practice
"""
STRONG = """
case "nothing is asked"
  with proposed.panel.width 16 in
    and a report "T-1" having standard "UL 580" and class 90 and tested.panel.width 16 in
  expect strong does not apply
case "90 for 90"
  with proposed.panel.width 16 in and spec.uplift.class at least 90
    and a report "T-1" having standard "UL 580" and class 90 and tested.panel.width 16 in
  expect strong complies
case "60 for 90"
  with proposed.panel.width 16 in and spec.uplift.class at least 90
    and a report "T-1" having standard "UL 580" and class 60 and tested.panel.width 16 in
  expect strong deviates
case "90 for 60"
  with proposed.panel.width 16 in and spec.uplift.class at least 60
    and a report "T-1" having standard "UL 580" and class 90 and tested.panel.width 16 in
  expect strong complies
case "another method"
  with proposed.panel.width 16 in and spec.uplift.class at least 90
    and a report "T-1" having standard "UL 1897" and class 90 and tested.panel.width 16 in
  expect strong not shown
case "another panel"
  with proposed.panel.width 16 in and spec.uplift.class at least 90
    and a report "T-1" having standard "UL 580" and class 90 and tested.panel.width 12 in
  expect strong not shown
case "a listing"
  with proposed.panel.width 16 in and spec.uplift.class at least 90
    and a listing "L-1" having standard "UL 580" and class 90 and tested.panel.width 16 in
  expect strong not shown
"""
WIDTH = """
case "as tested"
  with proposed.panel.width 16 in and tested.panel.width 16 in
  expect sub_width complies
case "narrower"
  with proposed.panel.width 12 in and tested.panel.width 16 in
  expect sub_width complies
case "wider"
  with proposed.panel.width 18 in and tested.panel.width 16 in
  expect sub_width deviates
"""
WHOLE = RULE + SUB + STRONG + WIDTH


def proof(*texts: str) -> Proof:
    return prove_file(merged(*texts))


def told(found: Proof) -> list[str]:
    return [problem.message for _, problem in (*found.lacking, *found.unnoticed)]


def without_case(text: str, title: str) -> str:
    return re.sub(rf'case "{re.escape(title)}"\n(?:  .*\n)*', "", text)


def test_a_rulebook_whose_cases_notice_everything_is_proven() -> None:
    found = proof(WHOLE)
    assert found.proven
    assert (found.units, found.cases) == (("strong", "sub_width"), 10)
    assert found.changes > 10
    assert found.stands("strong")


@pytest.mark.parametrize("title", re.findall(r'case "(.*)"', WHOLE))
def test_each_case_deleted_is_missed(title: str) -> None:
    assert not proof(without_case(WHOLE, title)).proven


@pytest.mark.parametrize(
    ("title", "message"),
    [
        ("60 for 90", 'strong: no case expects "deviates"'),
        ("nothing is asked", "strong: `when spec.uplift.class is stated` left out, and no case noticed"),
        ("another method", 'strong: `standard is "UL 580"` left out, and no case noticed'),
        ("another panel", "strong: `it covers proposed` left out, and no case noticed"),
        ("a listing", "strong: `by a report` read as `by a document`, and no case noticed"),
        ("narrower", "sub_width: `narrower` left out of `allows`, and no case noticed"),
        ("wider", "sub_width: `wider` allowed too, and no case noticed"),
    ],
)
def test_what_a_deleted_case_leaves_unproven(title: str, message: str) -> None:
    found = proof(without_case(WHOLE, title))
    assert message in told(found)


def test_a_boundary_is_noticed_only_at_the_limit() -> None:
    rule = """
rulebook small "Small"
  builds on fields
requirement width "Width"
  shall proposed.panel.width at most 16 in
  action record
  source common practice
case "{}"
  with proposed.panel.width {}
  expect width complies
case "{}"
  with proposed.panel.width {}
  expect width deviates
"""
    assert told(proof(rule.format("a", "12 in", "b", "30 in"))) == [
        "width: `proposed.panel.width at most 16 in` read as `less than`, and no case noticed",
        "width: 16 in read as 17 in, and no case noticed",
        "width: 16 in read as 15 in, and no case noticed",
    ]
    at = rule.format("at", "16 in", "above", "17 in")
    assert told(proof(at)) == [
        "width: `proposed.panel.width at most 16 in` read as `is`, and no case noticed"
    ]
    below = 'case "below"\n  with proposed.panel.width 12 in\n  expect width complies\n'
    assert proof(at + below).proven


def test_quantifiers_choices_and_parts() -> None:
    rule = """
rulebook small "Small"
  builds on fields
requirement held "Held"
  applies when job.insurer is one of "FM", "FM Global" or spec.approval includes "FM"
  shall every run where ( standard is "UL 580" ) has ( held at least 90 psf )
  action record
  source common practice
case "complies"
  with job.insurer "FM"
    and a report "T-1" having standard "UL 580"
    and a run "1" having held 90 psf
  expect held complies
case "deviates"
  with job.insurer "FM"
    and a report "T-1" having standard "UL 580"
    and a run "1" having held 89 psf
  expect held deviates
"""
    found = told(proof(rule))
    assert "held: `every run` read as `some run`, and no case noticed" in found
    assert 'held: "FM Global" left out of the choices, and no case noticed' in found
    assert 'held: `spec.approval includes "FM"` left out, and no case noticed' in found
    assert 'held: `where ( standard is "UL 580" )` left out, and no case noticed' in found
    assert "held: `every run` read as `no run`, and no case noticed" not in found


def test_tables_and_defines_row_by_row() -> None:
    book = """
rulebook small "Small"
  builds on fields
table pressure by class
  60   75 psf  source common practice
  90  105 psf  source common practice
define allowable of run
  as first stated of ( printed, held / 2 )
  at allowable level
  source common practice
case "90"
  expect pressure for ( 90 ) 105 psf
case "half"
  with a report "T-1" having held 90 psf
  expect allowable 45 psf
"""
    assert told(proof(book)) == [
        "pressure: row 60: 75 psf read as 76 psf, and no case noticed",
        "allowable: in `first stated of ( printed, held / 2 )` held / 2 put first, and no case noticed",
        "allowable: printed left out of `first stated of ( printed, held / 2 )`, and no case noticed",
        "allowable: `at allowable level` left out, and no case noticed",
    ]
    more = """
case "60"
  expect pressure for ( 60 ) 75 psf
case "printed"
  with a report "T-1" having held 90 psf and printed 40 psf
  expect allowable 40 psf allowable
"""
    assert proof(book + more).proven


def test_a_failing_case_says_what_came_and_why() -> None:
    found = proof(WHOLE.replace("expect strong deviates", "expect strong complies"))
    (failing,) = found.failing
    assert (failing.case, failing.rule, failing.expected, failing.got) == (
        "60 for 90",
        "strong",
        "complies",
        "deviates",
    )
    assert str(failing.place).startswith("small.rules:")
    assert any("class at least spec.uplift.class: 60 at least 90" in line for line in failing.why)
    assert any("run.class = 60 [tested report T-1, run 1, small.rules:" in line for line in failing.why)
    assert not found.stands("strong")
    assert found.stands("sub_width")


def test_a_change_that_means_the_same_is_declared_and_shown() -> None:
    rule = """
rulebook small "Small"
  builds on fields
requirement kind "Kind"
  applies when some report has ( kind is "tested report" )
  shall every report has ( number is not none )
  action record
  source common practice
{}
case "complies"
  with a report "T-1" having number "1"
    and a listing "L-1" having body "UL"
  expect kind complies
case "not shown"
  with a report "T-1" having number "1"
    and a report "T-2" having body "UL"
  expect kind not shown
case "does not apply"
  with a listing "L-1" having body "UL"
  expect kind does not apply
"""
    same = '  same meaning "A report is a tested report by its kind."'
    open_ = proof(rule.format(""))
    changed = "`some report` read as `some document`"
    assert f"kind: {changed}, and no case noticed" in told(open_)
    found = proof(rule.format(same))
    (declared,) = found.declared
    assert declared.changes == (changed,)
    assert declared.why == ("A report is a tested report by its kind.",)
    assert changed not in " ".join(told(found))
    twice = proof(rule.format(same + '\n  same meaning "Another."'))
    assert any("2 changes are declared" in line for _, p in twice.unnoticed for line in p.help)


def test_same_meaning_without_a_change_is_told() -> None:
    text = WHOLE.replace(
        "  allows equal, narrower\n", '  allows equal, narrower\n  same meaning "Nothing."\n'
    )
    assert told(proof(text)) == ["sub_width: `same meaning` is declared, and every change was noticed"]


COUNTY = """
rulebook county "County"
  builds on small
"""


def test_an_amendment_that_changes_no_meaning_needs_no_case() -> None:
    assert proof(WHOLE, COUNTY + "amend strong\n  action stop\n  source common practice\n").proven


def test_an_amendment_is_proven_by_its_own_cases_in_what_it_changes() -> None:
    amend = COUNTY + "amend sub_width\n  allows equal\n  source common practice\n"
    found = proof(WHOLE, amend)
    assert 'sub_width: no case expects "complies"' in told(found)
    cases = """
case "as tested here"
  with proposed.panel.width 16 in and tested.panel.width 16 in
  expect sub_width complies
case "narrower here"
  with proposed.panel.width 12 in and tested.panel.width 16 in
  expect sub_width deviates
case "wider here"
  with proposed.panel.width 18 in and tested.panel.width 16 in
  expect sub_width deviates
"""
    assert proof(WHOLE, amend + cases).proven


def test_what_a_lower_rulebook_proves_is_left_to_it() -> None:
    amend = """
amend strong
  shall be shown by a report where ( standard is "UL 580" and document.body is "UL" and it covers proposed )
    having ( class at least spec.uplift.class )
  source common practice
"""
    said = told(proof(WHOLE, COUNTY + amend))
    assert 'strong: `document.body is "UL"` left out, and no case noticed' in said
    assert not any("`standard is" in line for line in said)


def test_waivers_and_dates_are_proven_too() -> None:
    waive = COUNTY + 'waive strong\n  because "Not here."\n'
    assert told(proof(WHOLE, waive)) == [
        'strong: no case expects "does not apply"',
        "strong: the waiver left out, and no case noticed",
    ]
    dated = COUNTY + '  in force from 2027-01-01\nwaive strong\n  because "Repealed."\n'
    case = """
case "after"
  with proposed.panel.width 16 in and spec.uplift.class at least 90 and job.permit_date 2027-01-01
    and a report "T-1" having standard "UL 580" and class 90 and tested.panel.width 16 in
  expect strong does not apply
"""
    assert told(proof(WHOLE, dated + case)) == [
        "rulebook county: `in force from 2027-01-01` left out, and no case noticed"
    ]
    before = case.replace("after", "before").replace("2027-01-01", "2026-12-31")
    assert proof(WHOLE, dated + case + before.replace("does not apply", "complies")).proven


def test_a_practice_s_limit() -> None:
    book = """
rulebook small "Small"
  builds on fields
practice wide for panel.width
  when deck.type is "plywood"
  usual "16 in or wider"
  source common practice
case "usual"
  with proposed.deck.type "plywood"
    and a condition having field "panel.width" and value "18 in"
  expect wide usual
case "unusual"
  with proposed.deck.type "plywood"
    and a condition having field "panel.width" and value "12 in"
  expect wide unusual
case "not here"
  with proposed.deck.type "OSB"
    and a condition having field "panel.width" and value "12 in"
  expect wide does not apply
"""
    assert told(proof(book)) == [
        'wide: "16 in or wider" read as "17 in or wider", and no case noticed',
        'wide: "16 in or wider" read as "15 in or wider", and no case noticed',
    ]


@pytest.mark.parametrize(
    ("text", "steps"),
    [
        ("16 in", ("17 in", "15 in")),
        ("0.050 in", ("0.051 in", "0.049 in")),
        ("2.0", ("2.1", "1.9")),
        ("3:12", ("4:12", "2:12")),
        ("1-3/4 in", ()),
    ],
)
def test_one_step_of_an_amount(text: str, steps: tuple[str, ...]) -> None:
    assert moved(text, None) == steps


# The rulebooks that ship ------------------------------------------------------------------------------------------


def test_the_rulebooks_that_ship_are_proven() -> None:
    proofs = [prove_file(one) for one in each((), Path())]
    assert {Path(found.file).stem for found in proofs} == {
        path.stem for path in rules_folder().rglob("*.rules")
    }
    open_ = [(found.file, told(found), found.failing) for found in proofs if not found.proven]
    assert open_ == []
    assert sum(found.changes for found in proofs) > 1000


def test_nearly_every_case_of_trade_practice_is_missed_when_deleted() -> None:
    files, problems = gather(["practice"], Path())
    assert not problems
    file, rest = files[0], files[1:]
    titles = [s.id for s in file.statements if isinstance(s, t.Case)]
    spare = []
    for title in titles:
        kept = tuple(s for s in file.statements if not (isinstance(s, t.Case) and s.id == title))
        less = replace(file, statements=kept)
        if prove_file(merge([less, *rest])[0]).proven:
            spare.append(title)
    assert len(spare) <= 2, spare


# The command ------------------------------------------------------------------------------------------------------


def run(*words: str) -> int:
    parser = argparse.ArgumentParser()
    add_parser(parser.add_subparsers().add_parser)
    arguments = parser.parse_args(["rules", *words])
    status: int = arguments.run(arguments)
    return status


def write(folder: Path, text: str) -> None:
    (folder / "ground.rules").write_text(FIELDS.replace("rulebook fields", "rulebook ground"))
    (folder / "small.rules").write_text(text.replace("builds on fields", "builds on ground"))


def test_prove_tells_and_ends_with_a_status(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    monkeypatch.chdir(tmp_path)
    write(tmp_path, WHOLE)
    assert run("prove", "ground.rules", "small.rules") == 0
    assert "small.rules: proven: 2 rules, 10 cases," in capsys.readouterr().out
    write(tmp_path, without_case(WHOLE, "wider").replace("strong deviates", "strong complies"))
    assert run("prove", "small.rules", "--format", "json") == 1
    made = json.loads(capsys.readouterr().out)
    (book,) = made["rulebooks"]
    assert made["proven"] is False
    assert book["failing"][0]["got"] == "deviates"
    assert {item["rule"] for item in book["lacking"]} == {"strong", "sub_width"}
    assert any("`wider` allowed too" in item["message"] for item in book["unnoticed"])
    assert run("prove", "small.rules") == 1
    out = capsys.readouterr().out
    assert re.search(r"^small\.rules:\d+:\d+: sub_width: `wider` allowed too", out, re.MULTILINE)
    assert "    substitution sub_width for panel.width\n                 ^^^^^^^^^" in out


def test_a_case_that_means_nothing_is_bad_input(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    write(tmp_path, WHOLE.replace("expect sub_width deviates", "expect sub_widht deviates"))
    with pytest.raises(InputError) as caught:
        run("prove", "small.rules")
    assert 'no rule is called "sub_widht"' in str(caught.value)
    with pytest.raises(InputError) as caught:
        run("prove", "no_such.rules")
    assert "no such rulebook" in str(caught.value)
