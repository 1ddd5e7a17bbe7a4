"""The forty systems in a folder, and the sample job's setup, each made once."""

from __future__ import annotations

from pathlib import Path

import pytest

from cleatmark.review.prescreen_setup import Setup, prepare

from .forty import systems

JOB = Path(__file__).resolve().parents[2] / "samples" / "library" / "job.yaml"


@pytest.fixture(scope="session")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The forty systems as files, some in folders of their makers."""
    place = tmp_path_factory.mktemp("systems")
    for name, text in systems().items():
        path = place / name
        path.parent.mkdir(exist_ok=True)
        path.write_text(text, "utf-8")
    return place


@pytest.fixture(scope="session")
def setup() -> Setup:
    """The sample job, its section and its rules."""
    return prepare(JOB)


@pytest.fixture(scope="session")
def job() -> Path:
    """The sample job's file."""
    return JOB
