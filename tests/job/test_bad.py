"""One broken job file per mistake. What is told stands in the file, in lines that start with `#|`."""

import json
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from cleatmark.job import load_job
from cleatmark.problems import render

from .book import book

FOLDER = Path(__file__).parent / "bad"


@pytest.mark.parametrize("name", sorted(path.name for path in FOLDER.glob("*.yaml")))
def test_mistake_is_told(name: str, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(FOLDER)
    lines = Path(name).read_text().splitlines()
    text = "\n".join(line for line in lines if not line.startswith("#|")) + "\n"
    expected = [line[3:] for line in lines if line.startswith("#|")]
    _, problems = load_job(name, book(), text=text)
    assert [line for problem in problems for line in render(problem).splitlines()] == expected


KEYS = [
    "name",
    "pressures",
    "zones",
    "source",
    "roofs",
    "roof",
    "slope",
    "wind",
    "basis",
    "contract_documents",
    "x",
]
TREES = st.recursive(
    st.sampled_from(["", "3:12", "none", "2024-01-01", "deck.type", "strength", "-45 psf", "base"]),
    lambda inner: st.one_of(
        st.lists(inner, max_size=4), st.dictionaries(st.sampled_from(KEYS), inner, max_size=5)
    ),
    max_leaves=25,
)


@given(st.dictionaries(st.sampled_from(KEYS), TREES, max_size=5))
def test_any_tree_is_a_job_or_plain_problems(tree: dict[str, object]) -> None:
    job, problems = load_job("f.yaml", book(), text=json.dumps(tree))
    assert job is not None
    for problem in problems:
        assert problem.message
        assert problem.place.line == 1
    assert problems or all(isinstance(fact.text, str) for fact in job.facts.values())
