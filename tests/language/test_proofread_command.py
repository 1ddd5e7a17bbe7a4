"""`cleatmark rules proofread` as it is called."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from cleatmark.cli import main

from .folder import HERE


@pytest.fixture(autouse=True)
def _here(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    for name in ("ground.rules", "bad/unit_missing.rules", "good/cases.rules"):
        shutil.copy(HERE / name, tmp_path)
    monkeypatch.chdir(tmp_path)


def test_mistakes_go_to_standard_error_and_the_count_to_standard_output(
    capsys: pytest.CaptureFixture[str],
) -> None:
    assert main(["rules", "proofread", "unit_missing.rules"]) == 2
    out, err = capsys.readouterr()
    assert out == "2 files, 43 statements, 2 mistakes\n"
    assert err == (HERE / "bad" / "unit_missing.txt").read_text(encoding="utf-8")


def test_a_clean_file(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "proofread", "cases.rules"]) == 0
    out, err = capsys.readouterr()
    assert out == "2 files, 47 statements, no mistakes\n"
    assert err == ""


def test_json(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "proofread", "unit_missing.rules", "--format", "json"]) == 2
    out, err = capsys.readouterr()
    assert err == ""
    data = json.loads(out)
    assert data["files"] == ["ground.rules", "unit_missing.rules"]
    assert data["statements"] == 43
    assert data["mistakes"][0] == {
        "file": "unit_missing.rules",
        "line": 5,
        "column": 48,
        "message": '"24" has no unit',
        "help": ["expected a length with its unit (in, ft, mm, m), such as 24 in"],
        "source": "  applies when proposed.clip.spacing more than 24",
        "span": 2,
    }


def test_a_file_that_is_not_there(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["rules", "proofread", "county.rules"]) == 2
    out, err = capsys.readouterr()
    assert out == "0 files, 0 statements, 1 mistake\n"
    assert err.splitlines()[0] == "county.rules:0:0: no such rulebook"


def test_tidy_and_proofread_are_told_apart_in_the_help(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        main(["rules", "--help"])
    assert stop.value.code == 0
    out = capsys.readouterr().out
    for action in ("proofread", "tidy", "editor", "prove", "why", "index"):
        assert action in out
