"""`cleatmark read` with the addenda that amend a specification: what they change is read as changed, and cites both."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

import pytest

from cleatmark.cli import main

LIBRARY = Path(__file__).resolve().parents[2] / "samples" / "library"
SPEC, ADDENDUM = str(LIBRARY / "spec.docx"), str(LIBRARY / "addendum_1.docx")


def read(capsys: pytest.CaptureFixture[str], *more: str) -> Any:
    """The JSON of `read` on the sample's specification."""
    main(["read", SPEC, *more, "--format", "json"])
    return json.loads(capsys.readouterr().out)


def stated(told: Any, subject: str) -> list[Any]:
    return [item for item in told["stated"] if item["subject"] == subject]


def test_a_revised_clause_states_what_the_addendum_says(capsys: pytest.CaptureFixture[str]) -> None:
    (before,) = stated(read(capsys), "uplift.class")
    (after,) = stated(read(capsys, "--addendum", ADDENDUM), "uplift.class")
    assert (before["value"], before["also"]) == (90, [])
    assert (after["value"], after["clause"]) == (60, "1.03.B")
    assert after["citation"]["where"] == "07 41 13, 1.03.B"
    assert [citation["where"] for citation in after["also"]] == ["Addendum 1, item 2.A"]
    assert after["also"][0]["dated"] == "July 1, 2026"


def test_a_deleted_clause_states_nothing_and_the_change_is_listed(capsys: pytest.CaptureFixture[str]) -> None:
    told = read(capsys, "--addendum", ADDENDUM)
    assert stated(told, "air.test") == []
    assert [(item["did"], item["clause"]) for item in told["amendments"]][1] == ("deleted", "1.03.H")
    assert told["addenda"] == ["Addendum 1 of July 1, 2026"]
    assert read(capsys)["amendments"] == []


def test_the_list_for_a_reader_says_what_was_changed(capsys: pytest.CaptureFixture[str]) -> None:
    main(["read", SPEC, "--addendum", ADDENDUM])
    out = " ".join(capsys.readouterr().out.split())
    assert "as amended by Addendum 1 of July 1, 2026" in out
    assert "Addendum 1, item 2.B deletes 1.03.H." in out


def test_an_addendum_that_is_not_there_is_named(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["read", SPEC, "--addendum", "no_such.docx"]) == 2
    assert "no_such.docx" in capsys.readouterr().err
