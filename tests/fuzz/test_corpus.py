"""The kept corpus and a short run of changes of it: no input makes a reader raise anything but its own refusal."""

from __future__ import annotations

import pytest

from .changing import changed, corpus
from .targets import CORPUS, TARGETS

SHORT = {"quantity": 600, "yaml": 400, "rules": 60, "phrase": 600, "clause": 60, "docx": 80}


@pytest.mark.parametrize("name", TARGETS)
def test_the_kept_corpus(name: str) -> None:
    kept = corpus(CORPUS / name)
    assert len(kept) >= 4
    for data in kept:
        TARGETS[name](data)


@pytest.mark.parametrize("name", TARGETS)
def test_changes_of_the_corpus(name: str) -> None:
    for data in changed(corpus(CORPUS / name), SHORT[name]):
        try:
            TARGETS[name](data)
        except Exception as error:
            raise AssertionError(f"{name} on {data!r}") from error
