"""The layout of rule files, and the command that puts it in place."""

from __future__ import annotations

import argparse
import os
from pathlib import Path

import pytest

from cleatmark.commands.rules_files import tidy as tidy_command
from cleatmark.language.format import layout, meaning, tidy
from cleatmark.language.parse import parse
from cleatmark.language.rulebooks import shipped

from .folder import HERE, items

UNTIDY = (HERE / "untidy.rules").read_text(encoding="utf-8")
TIDIED = (HERE / "tidied.rules").read_text(encoding="utf-8")


def run(*files: Path, check: bool = False) -> int:
    return tidy_command(argparse.Namespace(files=[str(file) for file in files], check=check))


def test_layout_as_expected() -> None:
    assert tidy(UNTIDY, "county.rules").text == TIDIED


def test_what_is_laid_out_stays() -> None:
    assert tidy(TIDIED, "county.rules").text == TIDIED


def test_a_row_keeps_both_its_dates() -> None:
    """They are wider than a column, and stand beside no narrower ones."""
    dates = "in force from 2024-01-31 in force until 2026-11-30"
    text = f'rulebook county "County"\n\ntable t by x gives y\n  source from memory\n  "a"  "b"  {dates}\n'
    assert layout(text) == text


def test_line_ends_and_a_byte_order_mark_make_no_difference(tmp_path: Path) -> None:
    file = tmp_path / "county.rules"
    file.write_bytes(b"\xef\xbb\xbf" + UNTIDY.replace("\n", "\r\n").encode())
    assert run(file) == 0
    assert file.read_bytes() == TIDIED.encode()


@pytest.mark.parametrize("item", items("good"), ids=lambda item: item.stem)
def test_right_files_keep_what_they_say(item: Path) -> None:
    for file in [item] if item.is_file() else sorted(item.glob("*.rules")):
        text = file.read_text(encoding="utf-8-sig")
        result = tidy(text, file.name)
        assert result.problems == ()
        assert result.text is not None
        assert tidy(result.text, file.name).text == result.text


@pytest.mark.parametrize("name", sorted(shipped()))
def test_rulebooks_that_ship_keep_what_they_say(name: str) -> None:
    text = shipped()[name].read_text(encoding="utf-8")
    laid = layout(text)
    before, after = parse(text, name)[0], parse(laid, name)[0]
    assert before is not None
    assert after is not None
    assert meaning(before) == meaning(after)
    assert layout(laid) == laid


@pytest.mark.parametrize("name", ["capitals", "clause_misspelt", "empty", "no_rulebook", "second_rulebook"])
def test_a_file_with_mistakes_is_left_and_told(
    name: str, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    file = tmp_path / "county.rules"
    file.write_bytes((HERE / "bad" / f"{name}.rules").read_bytes())
    before = file.read_bytes()
    assert run(file) == 2
    assert file.read_bytes() == before
    out, err = capsys.readouterr()
    assert out.endswith("county.rules: left as it is\n")
    assert "county.rules:1:" in err or "county.rules:2:" in err or "county.rules:4:" in err


def test_check_only_says(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    untidy, tidied = tmp_path / "a.rules", tmp_path / "b.rules"
    untidy.write_text(UNTIDY, encoding="utf-8")
    tidied.write_text(TIDIED, encoding="utf-8")
    assert run(tidied, check=True) == 0
    assert run(untidy, tidied, check=True) == 1
    assert untidy.read_text(encoding="utf-8") == UNTIDY
    said = capsys.readouterr().out.splitlines()
    assert [line.rsplit(": ", 1)[1] for line in said] == [
        "laid out already",
        "would be laid out anew",
        "laid out already",
    ]


def test_rights_and_links_are_kept(tmp_path: Path) -> None:
    file, link = tmp_path / "county.rules", tmp_path / "link.rules"
    file.write_text(UNTIDY, encoding="utf-8")
    file.chmod(0o640)
    link.symlink_to(file)
    assert run(link) == 0
    assert link.is_symlink()
    assert file.read_text(encoding="utf-8") == TIDIED
    assert file.stat().st_mode & 0o777 == 0o640
    assert sorted(path.name for path in tmp_path.iterdir()) == ["county.rules", "link.rules"]


@pytest.mark.skipif(os.geteuid() == 0, reason="root may write anywhere")
def test_a_folder_that_refuses_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = tmp_path / "county.rules"
    file.write_text(UNTIDY, encoding="utf-8")
    tmp_path.chmod(0o500)
    try:
        assert run(file) == 2
    finally:
        tmp_path.chmod(0o700)
    assert file.read_text(encoding="utf-8") == UNTIDY
    assert "cannot be written" in capsys.readouterr().err


def test_a_file_that_is_not_there_is_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(tmp_path / "county.rules") == 2
    assert "cannot be read: no such file or directory" in capsys.readouterr().err
