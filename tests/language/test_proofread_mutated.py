"""Rule files spoilt at random never end in a traceback, and every mistake told has a place in its file."""

from __future__ import annotations

import random
import re
from pathlib import Path

import pytest

from cleatmark.language.check import check
from cleatmark.language.layers import merge
from cleatmark.language.parse import parse
from cleatmark.language.tree import RuleFile
from cleatmark.problems import render

from .folder import HERE, items

TEXTS = [
    path.read_text(encoding="utf-8")
    for item in items("good")
    for path in ([item] if item.is_file() else sorted(item.glob("*.rules")))
]
INSERTS = ['"', "(", ")", "\n", "\n  ", " and ", " not ", " is ", "{", "}", ",", "--", " 16 in ", "\t", "="]


def ground() -> RuleFile:
    tree, problems = parse((HERE / "ground.rules").read_text(encoding="utf-8"), "ground.rules")
    assert tree is not None
    assert not problems
    return tree


def spoil(text: str, rng: random.Random) -> str:
    """The text with one to four pieces taken out, doubled, moved or put in."""
    for _ in range(rng.randint(1, 4)):
        pieces = re.findall(r"\s+|\"[^\"\n]*\"|[\w.]+|.", text)
        at = rng.randrange(len(pieces))
        what = rng.randrange(5)
        if what == 0:
            del pieces[at]
        elif what == 1:
            pieces.insert(at, pieces[rng.randrange(len(pieces))])
        elif what == 2:
            other = rng.randrange(len(pieces))
            pieces[at], pieces[other] = pieces[other], pieces[at]
        elif what == 3:
            pieces.insert(at, rng.choice(INSERTS))
        elif len(pieces[at]) > 1:
            cut = rng.randrange(len(pieces[at]))
            pieces[at] = pieces[at][:cut] + pieces[at][cut + 1 :]
        text = "".join(pieces)
    return text


@pytest.mark.parametrize("seed", range(60))
def test_spoilt_files_end_in_problems(seed: int) -> None:
    rng = random.Random(seed)
    for text in rng.sample(TEXTS, 6):
        spoilt = spoil(text, rng)
        tree, problems = parse(spoilt, "county.rules")
        assert tree is not None
        merged, found = merge([ground(), tree])
        lines = spoilt.splitlines()
        for problem in (*problems, *found, *check(merged)):
            assert render(problem)
            if problem.place.file == "county.rules":
                assert 1 <= problem.place.line <= len(lines) + 1, spoilt
                assert problem.place.column >= 1, spoilt
                assert "\n" not in problem.message, spoilt


def test_every_prefix_of_a_file_is_read() -> None:
    text = (HERE / "good" / "requirement_plain.rules").read_text(encoding="utf-8")
    for end in range(0, len(text), 3):
        tree, _ = parse(text[:end], "county.rules")
        assert tree is not None


def test_a_file_of_another_kind_is_told_and_not_read(tmp_path: Path) -> None:
    source = Path(__file__).read_text(encoding="utf-8")
    tree, problems = parse(source, "county.rules")
    assert tree is not None
    assert tree.statements == ()
    assert problems
