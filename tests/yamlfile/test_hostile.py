"""Files made to harm: each ends in a plain line, after a bounded part of it was read."""

import os
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cleatmark.yamlfile import LIMITS, Limits, Mapping, load
from cleatmark.yamlfile.structure import ANY_KEYS, TEXT, check, keys, list_of

HOSTILE = [
    ("brackets", "[" * 100_000, "too many brackets inside one another"),
    ("dashes", "- " * 100_000, "more than 20 levels inside one another"),
    ("question marks", "? " * 100_000, "more than 20 levels inside one another"),
    ("indents", "\n".join(" " * i + "a:" for i in range(500)), "more than 20 levels inside one another"),
    ("huge text", "a: " + "x" * 50_000, "one value of 50,000 characters; at most 20,000"),
    ("many values", "a: [" + "a," * 150_000 + "]", "more than 100,000 values in one file"),
    ("many mistakes", "a: 1\n" * 50_000, "too many mistakes: the rest of the file is not read"),
    (
        "many anchors",
        "".join(f"k{i}: &a v\n" for i in range(50_000)),
        "too many mistakes: the rest of the file is not read",
    ),
]


@pytest.mark.parametrize(("text", "last"), [case[1:] for case in HOSTILE], ids=[case[0] for case in HOSTILE])
def test_reading_stops_at_a_limit(text: str, last: str) -> None:
    root, problems = load("f.yaml", text=text)
    assert root is None
    assert problems[-1].message == last
    assert len(problems) <= LIMITS.told + 1


def test_an_alias_bomb_is_not_expanded() -> None:
    levels = "".join(f"l{i}: &l{i} [{', '.join([f'*l{i - 1}'] * 9)}]\n" for i in range(1, 9))
    _, problems = load("f.yaml", text=f"l0: &l0 [lol]\n{levels}")
    assert {problem.message.split(" ", 1)[1] for problem in problems} == {
        "is a YAML anchor",
        "refers to another place of the file (a YAML alias)",
    }


def test_limits_can_be_raised() -> None:
    deep = "".join(" " * i + f"k{i}:\n" for i in range(30)) + " " * 30 + "a: b\n"
    assert load("f.yaml", text=deep)[0] is None
    assert load("f.yaml", text=deep, limits=Limits(depth=40))[1] == ()


FILES = [
    (b"a" * 2_000_001, "the file is larger than 2,000,000 bytes"),
    (b"PK\x03\x04....", "this is a ZIP or Word file; a YAML text file is expected"),
    (b"%PDF-1.7", "this is a PDF; a YAML text file is expected"),
    (b"a: 1\nb: \xff\n", "the file is not UTF-8 text"),
    (b"a: \x00\n", "a control character (0x00); the file must be plain text"),
    (b"", "the file is empty"),
]


@pytest.mark.parametrize(("data", "message"), FILES)
def test_what_is_not_a_text_file(tmp_path: Path, data: bytes, message: str) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(data)
    root, problems = load(path)
    assert root is None
    assert [problem.message for problem in problems] == [message]


def test_the_line_that_is_not_utf8_is_named(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_bytes(b"a: 1\nb: \xff\n")
    assert load(path)[1][0].place.line == 2


def test_missing_files_and_folders(tmp_path: Path) -> None:
    (tmp_path / "job.yaml").write_text("a: 1\n")
    _, (missing,) = load(tmp_path / "jobs.yaml")
    assert (missing.message, missing.help, missing.place.line) == (
        "there is no such file",
        ('did you mean "job.yaml"?',),
        0,
    )
    _, (folder,) = load(tmp_path)
    assert folder.message == "this is a folder; a file is expected"
    _, (bad_name,) = load("a\0b.yaml")
    assert bad_name.message.startswith("the file cannot be read")


def test_a_pipe_is_not_waited_for(tmp_path: Path) -> None:
    os.mkfifo(tmp_path / "job.yaml")
    _, (problem,) = load(tmp_path / "job.yaml")
    assert problem.message == "this is not a file"


SHAPE = keys({"a": TEXT}, {"b": list_of(keys({}, {"c": ANY_KEYS})), "d": ANY_KEYS})
YAML_LIKE = st.text(alphabet="ab: \n-[]{}#'\"&*!|>?,0\t%@", max_size=80)


@given(st.one_of(YAML_LIKE, st.text(max_size=80)))
def test_any_text_is_a_tree_or_plain_problems(text: str) -> None:
    root, problems = load("f.yaml", text=text)
    assert root is not None or problems
    for problem in problems:
        assert problem.message
        assert "\n" not in problem.message
    if isinstance(root, Mapping):
        check(root, SHAPE)
