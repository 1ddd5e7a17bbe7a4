"""A consultant adds a local way of writing in a rule file, and sees it work with no Python."""

from __future__ import annotations

from pathlib import Path

import pytest
from reading_build import clause, told

from cleatmark.language.rulebooks import load_program
from cleatmark.review.reading import readings_of
from cleatmark.spec.apply import apply_readings
from cleatmark.spec.clauses import Section, Specification

LOCAL = """rulebook coast "Readings of one coast"
  edition 2026-11
  builds on readings

reading gale_mark gives spec.uplift.class as at least
  from "gale mark {number: 30, 60, 90}"
  not near "door"
  source "County supplement"

reading storm_hook gives spec.clip.type as required
  value "articulating"
  from "storm-hook|gale-hook (anchor)"
  source common practice

reading salt_line flags misuse
  from "within {length} of salt water"
  ask designer "Which finish holds within {length} of salt water?"
  source common practice
"""


@pytest.fixture
def local(tmp_path: Path) -> Path:
    """The consultant's rule file."""
    file = tmp_path / "coast.rules"
    file.write_text(LOCAL, encoding="utf-8")
    return file


def test_a_local_phrase_is_read_beside_the_shipped_ones(local: Path) -> None:
    program = load_program([str(local)], Path.cwd())
    clauses = (
        clause("Roof shall bear Gale-Mark 90 and UL 580."),
        clause("Clips: storm hook anchors at 24 inches on center.", "clips", ordinal=1),
        clause("Doors: gale mark 60.", ordinal=2),
        clause("Within 3000 feet of salt water.", "quality", ordinal=3),
    )
    spec = Specification("spec.docx", (Section("07 41 13", "METAL ROOFING", clauses, True),))
    extraction = apply_readings(spec, readings_of(program), program.book)
    assert extraction.problems == ()
    assert [told(item) for item in extraction.stated] == [
        "uplift.class at least 90",
        "uplift.test required UL 580",
        "clip.type required articulating",
        "clip.spacing at most 24 in",
    ]
    assert [(item.clause, item.flag, item.detail) for item in extraction.flagged] == [
        ("D", "misuse", "Which finish holds within 3000 feet of salt water?")
    ]
