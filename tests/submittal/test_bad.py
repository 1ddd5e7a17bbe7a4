"""One broken submittal file per mistake. What is told stands in the file, in lines that start with `#|`."""

from pathlib import Path

import pytest

from cleatmark.problems import render
from cleatmark.submittal import load_submittal

from .book import book

FOLDER = Path(__file__).parent / "bad"


@pytest.mark.parametrize("name", sorted(path.name for path in FOLDER.glob("*.yaml")))
def test_mistake_is_told(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(FOLDER)
    lines = Path(name).read_text().splitlines()
    text = "\n".join(line for line in lines if not line.startswith("#|")) + "\n"
    expected = [line[3:] for line in lines if line.startswith("#|")]
    _, problems = load_submittal(name, book(), text=text)
    assert [line for problem in problems for line in render(problem).splitlines()] == expected
