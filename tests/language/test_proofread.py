"""One small file for each mistake, with the whole of what is told of it beside it; and as many that are right.

Where a message is changed on purpose, `CLEATMARK_WRITE_EXPECTED=1 pytest tests/language/test_proofread.py` writes the
new texts; read the difference before it is committed.
"""

from __future__ import annotations

import os
import re
from pathlib import Path

import pytest

from cleatmark.language.grammar import grammar
from cleatmark.language.proofread import proofread
from cleatmark.problems import render

from .folder import HERE, items, read

BAD = items("bad")
GOOD = items("good")


@pytest.fixture(autouse=True)
def _no_cache(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("CLEATMARK_CACHE", "off")


@pytest.mark.parametrize("item", BAD, ids=lambda item: item.stem)
def test_mistake_is_told_as_expected(item: Path, tmp_path: Path) -> None:
    told = "\n".join(render(problem) for problem in read(item, tmp_path).problems) + "\n"
    expected = item.with_suffix(".txt")
    if os.environ.get("CLEATMARK_WRITE_EXPECTED"):
        expected.write_text(told, encoding="utf-8")
    assert told == expected.read_text(encoding="utf-8")


@pytest.mark.parametrize("item", GOOD, ids=lambda item: item.stem)
def test_right_file_is_clean(item: Path, tmp_path: Path) -> None:
    result = read(item, tmp_path)
    assert [render(problem) for problem in result.problems] == []
    assert result.statements >= 1


def test_there_are_many_kinds_of_mistake_and_as_many_right_files() -> None:
    assert len(BAD) >= 80
    assert len(GOOD) >= 45


@pytest.mark.parametrize("item", BAD, ids=lambda item: item.stem)
def test_every_mistake_has_its_place_and_line(item: Path, tmp_path: Path) -> None:
    for problem in read(item, tmp_path).problems:
        assert problem.place.line >= 1
        assert problem.place.column >= 1
        if item.stem not in ("empty", "encoding"):
            assert problem.source
            assert problem.place.column <= len(problem.source) + 1


def test_no_message_shows_a_name_of_the_grammar() -> None:
    names = {terminal.name for terminal in grammar().terminals if len(terminal.name) > 2}
    for item in BAD:
        lines = item.with_suffix(".txt").read_text(encoding="utf-8").splitlines()
        for line in lines:
            said = line if not line.startswith("    ") else line[4:]
            words = set(re.findall(r"\b_*[A-Z][A-Z_]+\b", re.sub(r'"[^"]*"', "", said)))
            assert not words & names or "AT LEAST" in line or "SHALL" in line or "ACTION" in line, line


def test_mistakes_of_all_files_are_told_in_one_run(tmp_path: Path) -> None:
    for item in BAD:
        if item.is_file() and item.stem in ("clause_misspelt", "unit_missing", "field_misspelt"):
            name = item.stem
            text = item.read_text(encoding="utf-8").replace("rulebook county", f"rulebook {name}")
            (tmp_path / item.name).write_text(re.sub(r"\bseam\b", f"seam_{name}", text), encoding="utf-8")
    (tmp_path / "ground.rules").write_text(
        (HERE / "ground.rules").read_text(encoding="utf-8"), encoding="utf-8"
    )
    files = ["clause_misspelt.rules", "unit_missing.rules", "field_misspelt.rules"]
    told = {problem.place.file for problem in proofread(files, tmp_path).problems}
    assert told == set(files)


def test_the_rulebooks_that_ship_have_no_mistakes() -> None:
    assert [render(problem) for problem in proofread([], Path()).problems] == []
