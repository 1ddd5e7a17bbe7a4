"""Rulebooks as kept between runs: the same tree as parsed anew, with or without the cases, never trusted."""

from __future__ import annotations

from pathlib import Path

import pytest

from cleatmark.language import rulebooks
from cleatmark.language import tree as t
from cleatmark.language.parse import parse
from cleatmark.problems import InputError

BOOK = """\
rulebook county "County"
  edition 2026-11
  builds on fields
  checked on 2026-11-01
  status "example"

requirement width "Panel width"
  shall proposed.panel.width at most 16 in
  action correct
  source common practice

case "a narrow panel"
  with proposed.panel.width 12 in
  expect width complies

requirement deck "Deck"
  shall proposed.deck.type is "plywood"
  action correct
  source common practice

case "a wide panel"
  with proposed.panel.width 18 in
  expect width deviates
"""


@pytest.fixture
def file(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path / "cache"))
    monkeypatch.delenv("CLEATMARK_CACHE", raising=False)
    rulebooks._parsed.cache_clear()
    path = tmp_path / "county.rules"
    path.write_text(BOOK, encoding="utf-8")
    return path


def read(file: Path, *, cases: bool) -> t.RuleFile:
    """The file as a new process would read it."""
    rulebooks._parsed.cache_clear()
    found = rulebooks.read_file(file, "county.rules", rulebooks.cache_folder(), cases=cases)
    assert found.tree is not None
    assert not found.problems
    return found.tree


def kept(file: Path) -> Path:
    folder = rulebooks.cache_folder()
    assert folder is not None
    return max(folder.glob("*.msgpack"), key=lambda path: path.stat().st_size)


def test_a_kept_tree_is_the_one_parsed_cases_in_their_places(file: Path) -> None:
    parsed, _ = parse(BOOK, "county.rules")
    assert read(file, cases=True) == parsed
    assert read(file, cases=True) == parsed


def test_without_its_cases_a_tree_is_else_the_same(file: Path) -> None:
    parsed, _ = parse(BOOK, "county.rules")
    assert parsed is not None
    short = read(file, cases=False)
    assert short.lines == parsed.lines
    assert short.head == parsed.head
    assert short.statements == tuple(one for one in parsed.statements if not isinstance(one, t.Case))


def test_damaged_cases_are_made_anew(file: Path) -> None:
    read(file, cases=False)
    place = kept(file)
    place.write_bytes(place.read_bytes().replace(b"a narrow panel", b"\xff" * 14))
    parsed, _ = parse(BOOK, "county.rules")
    assert read(file, cases=True) == parsed


def test_two_cases_of_one_title_are_told_before_a_review(file: Path) -> None:
    file.write_text(BOOK.replace("a wide panel", "a narrow panel"), encoding="utf-8")
    with pytest.raises(InputError) as told:
        rulebooks.load(["county.rules"], file.parent)
    assert [problem.message for problem in told.value.problems] == ['"a narrow panel" is stated twice']


def test_a_review_takes_rules_without_their_cases(file: Path) -> None:
    rulebooks.load(["county.rules"], file.parent)
    merged = rulebooks.load(["county.rules"], file.parent)
    assert {"width", "deck"} <= set(merged.rules)
    assert not [one for _, one in merged.others if isinstance(one, t.Case)]
