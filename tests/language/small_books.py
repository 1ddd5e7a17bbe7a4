"""Small rulebooks written in a test, merged, checked and compiled."""

from __future__ import annotations

from pathlib import Path
from textwrap import dedent

from cleatmark.language import tree as t
from cleatmark.language.expect import Checked, Judge, ready
from cleatmark.language.layers import Merged, merge
from cleatmark.language.parse import parse
from cleatmark.language.program import Program, compile_program
from cleatmark.language.rulebooks import gather
from cleatmark.problems import Problem, render

FIELDS = """
rulebook fields "Fields"

field panel.material "Panel metal" choice: "steel", "aluminum"
field panel.thickness "Panel thickness" thickness in inches
  words lighter, heavier
field panel.width "Panel width" length in inches
  words narrower, wider
field clip.spacing "Clip spacing" length in inches
  words tighter, farther
field clip.model "Clip" text
field insulation.type "Insulation" text
  may be none
field deck.type "Deck" choice: "plywood", "OSB"
field spec.uplift.class "Class" class: "30", "60", "90"
field spec.approval "Approval" text
field spec.safety_factor "Safety factor" number
field job.permit_date "Permit date" date
field job.insurer "Insurer" text
  may be none
field document.kind "Kind" choice: "tested report", "holder's listing", "insurer approval"
field document.body "Body" text
field document.number "Number" text
field run.standard "Method" text
field run.class "Class" class: "15", "30", "60", "90"
field run.held "Held" pressure in psf
field run.printed "Allowable as printed" pressure in psf
field condition.text "Condition" text
field condition.field "Field" text
field condition.value "Value" text
field condition.state "State" choice: "on contract documents", "claimed only", "contradicted", "not confirmed"
field zone.name "Zone" text
field zone.required "Required" pressure in psf

kind report is "tested report"
kind listing is "holder's listing"
kind approval is "insurer approval"
"""


def tree(text: str, file: str) -> t.RuleFile:
    """A rule file parsed; the test fails where it has mistakes of form."""
    made, problems = parse(dedent(text).lstrip("\n"), file)
    assert not problems, "\n".join(render(problem) for problem in problems)
    assert made is not None
    return made


def layers(*texts: str) -> tuple[Merged, tuple[Problem, ...]]:
    """Rulebooks on the fields above, merged, with what the merge found."""
    files = [tree(FIELDS, "fields.rules")]
    for text in texts:
        body = dedent(text).lstrip("\n")
        files.append(tree(body, f"{body.split()[1]}.rules"))
    return merge(files)


def merged(*texts: str) -> Merged:
    """Rulebooks merged without a problem."""
    made, problems = layers(*texts)
    assert not problems, "\n".join(render(problem) for problem in problems)
    return made


def program(*texts: str) -> Program:
    """Rulebooks ready to run."""
    return compile_program(merged(*texts))


def cases(*texts: str) -> list[Checked]:
    """Every expectation of every case of the last rulebook, judged in order."""
    made = program(*texts)
    judge = Judge(made)
    file = made.merged.files[-1]
    out: list[Checked] = []
    for case in file.statements:
        if isinstance(case, t.Case):
            stage, problems = ready(case, file, judge)
            assert stage is not None, "\n".join(render(problem) for problem in problems)
            out += [judge.check(node, stage.world) for node in case.expectations]
    return out


def unmet(*texts: str) -> list[str]:
    """The expectations that are not met, as "id: expected, got"."""
    return [f"{item.id}: {item.expected}, got {item.got}" for item in cases(*texts) if not item.met]


def shipped() -> Merged:
    """The base review as it ships."""
    files, problems = gather(["base"], Path())
    assert not problems
    made, found = merge(files)
    assert not found
    return made
