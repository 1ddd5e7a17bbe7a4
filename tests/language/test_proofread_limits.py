"""What no author writes is refused in one line, before it can cost time."""

from __future__ import annotations

import time
from pathlib import Path

import pytest

from cleatmark.language.parse import MOST_CHARACTERS, MOST_LINE, MOST_MISTAKES, parse
from cleatmark.language.proofread import proofread

HEAD = 'rulebook county "County"\n'


def messages(text: str) -> list[str]:
    return [problem.message for problem in parse(text, "county.rules")[1]]


def test_line_too_long() -> None:
    long = "x" * MOST_LINE
    assert messages(f'{HEAD}caution a "{long}"\n') == ["the line has 2,012 characters; a line may have 2,000"]


def test_statement_too_long() -> None:
    rows = "\n".join(f'  "{number}"   2.0' for number in range(10_000))
    told = messages(f"{HEAD}table many by number\n{rows}\n  source common practice\n")
    assert told == ["the statement is longer than 100,000 characters"]


def test_nested_too_deep() -> None:
    nested = "( " * 60 + 'a.b is "c"' + " )" * 60
    told = messages(f'{HEAD}requirement deep "Deep"\n  shall {nested}\n')
    assert told == ["parentheses are nested more than 40 deep"]


def test_nested_over_many_lines() -> None:
    lines = "\n".join("    (" for _ in range(60))
    assert messages(f'{HEAD}requirement deep "Deep"\n  shall\n{lines}\n') == [
        "parentheses are nested more than 40 deep"
    ]


def test_file_too_large() -> None:
    tree, problems = parse("-" * (MOST_CHARACTERS + 1), "county.rules")
    assert tree is None
    assert [problem.message for problem in problems] == [
        "the file has 2,000,001 characters; a rule file may have 2,000,000"
    ]


def test_too_many_mistakes_are_cut_off() -> None:
    told = messages(HEAD + "foo\n" * (MOST_MISTAKES + 50))
    assert len(told) == MOST_MISTAKES + 1
    assert told[-1] == "too many mistakes: those from here on are not told"


@pytest.mark.parametrize(
    "text",
    [
        "\x00\x01\x02",
        '"' * 5_000,
        "requirement " * 200,
        HEAD + 'requirement x "x"\n  shall ' + "not " * 400 + "a.b is 1\n",
        HEAD + 'requirement x "x"\n' + "  shall\n" * 400,
        "\n" * 50_000 + "x",
        HEAD + "define a of run\n  as b" + " + b" * 300 + "\n",
        "()" * 900,
        "rulebook",
        "rulebook\n" * 300,
        HEAD + "table t by a\n  1,1,1,1,1,1 1 1 1 1 1\n" * 50,
    ],
    ids=lambda text: repr(text[:20]),
)
def test_hostile_text_ends_in_problems(text: str) -> None:
    start = time.perf_counter()
    _, problems = parse(text, "hostile.rules")
    assert problems
    assert all(problem.place.line >= 1 for problem in problems)
    assert time.perf_counter() - start < 30


def test_a_file_that_is_not_there_is_told(tmp_path: Path) -> None:
    told = proofread(["county.rules"], tmp_path).problems
    assert [str(problem) for problem in told] == ["county.rules:0:0: no such rulebook"]


def test_a_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "county.rules").mkdir()
    told = proofread(["county.rules"], tmp_path).problems
    assert [problem.message for problem in told] == ["the rule file cannot be read: is a directory"]


def test_utf_16_is_told(tmp_path: Path) -> None:
    (tmp_path / "county.rules").write_bytes(HEAD.encode("utf-16"))
    told = proofread(["county.rules"], tmp_path).problems
    assert [problem.message for problem in told] == ["the rule file is UTF-16 text"]
