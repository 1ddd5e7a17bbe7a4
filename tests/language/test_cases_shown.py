"""`shall be shown by`: complies if one document meets both, deviates if all that qualify fail, else not shown."""

from __future__ import annotations

import pytest

from .small_books import unmet

RULES = """
rulebook small "Small"
  builds on fields
substitution sub_width for panel.width
  allows equal, narrower
  source common practice
requirement class_shown "Class"
  shall be shown by a report where ( standard is "UL 580" and it covers proposed ) having ( class at least 90 )
  action resubmit
  source common practice
approval insurer by "FM"
  needed when job.insurer is "FM"
  action resubmit
  source common practice
"""


def check(given: str, expected: str, id: str = "class_shown") -> None:
    body = f'\ncase "x"\n  with proposed.panel.width 16 in{given}\n  expect {id} {expected}\n'
    assert unmet(RULES + body) == []


COVERS = ' and a report "{}" having standard "UL 580" and class {} and tested.panel.width 16 in'
ELSE = ' and a report "{}" having standard "UL 580" and class {} and tested.panel.width 12 in'
OPEN = ' and a report "{}" having standard "UL 580" and class {}'


@pytest.mark.parametrize(
    ("given", "expected"),
    [
        ("", "not shown"),
        (COVERS.format("A", 90), "complies"),
        (COVERS.format("A", 60), "deviates"),
        (ELSE.format("A", 90), "not shown"),
        (OPEN.format("A", 90), "not shown"),
        (COVERS.format("A", 60) + COVERS.format("B", 90), "complies"),
        (COVERS.format("A", 60) + COVERS.format("B", 30), "deviates"),
        (COVERS.format("A", 60) + ELSE.format("B", 90), "deviates"),
        (COVERS.format("A", 60) + OPEN.format("B", 90), "not shown"),
        (OPEN.format("A", 60) + COVERS.format("B", 90), "complies"),
    ],
)
def test_what_documents_show_together(given: str, expected: str) -> None:
    check(given, expected)


def test_one_coverage_is_never_put_together_from_two_runs_or_papers() -> None:
    two_runs = (
        ' and a report "A" having standard "UL 580"'
        ' and a run "1" having class 60 and tested.panel.width 16 in'
        ' and a run "2" having class 90 and tested.panel.width 12 in'
    )
    check(two_runs, "deviates")
    check(ELSE.format("A", 90) + COVERS.format("B", 60), "deviates")


def test_a_run_of_a_document_may_be_the_one() -> None:
    two_runs = (
        ' and a report "A" having standard "UL 580"'
        ' and a run "1" having class 60 and tested.panel.width 16 in'
        ' and a run "2" having class 90 and tested.panel.width 16 in'
    )
    check(two_runs, "complies")


def test_a_paper_of_another_kind_does_not_qualify() -> None:
    listing = COVERS.format("A", 90).replace("a report", "a listing")
    check(listing, "not shown")


def test_the_class_that_a_paper_leaves_out_is_not_a_failure() -> None:
    check(COVERS.format("A", 90).replace(" and class 90", ""), "not shown")


def test_an_approval_needs_its_body_s_paper_for_the_assembly() -> None:
    paper = ' and an approval "F" having body "{}" and tested.panel.width {}'
    fm = ' and job.insurer "FM"'
    check(fm + paper.format("FM", "16 in"), "complies", "insurer")
    check(fm + paper.format("UL", "16 in"), "not shown", "insurer")
    check(fm + paper.format("FM", "12 in"), "not shown", "insurer")
    check(" and job.insurer none" + paper.format("FM", "16 in"), "does not apply", "insurer")
    check(paper.format("FM", "16 in"), "not shown", "insurer")
