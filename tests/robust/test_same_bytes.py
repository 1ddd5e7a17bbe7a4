"""The same inputs give the same bytes in every form, whatever the hash seed, the clock and the folder order."""

from __future__ import annotations

from pathlib import Path

import pytest

from .running import JOB, LIBRARY, SPEC, SWAP, TESTED, run

SEEDS = ("0", "1", "random")


def bytes_of(folder: Path, seed: str) -> dict[str, bytes]:
    folder.mkdir()
    environment = {"PYTHONHASHSEED": seed, "TZ": "Asia/Tokyo" if seed == "1" else "UTC"}
    out: dict[str, bytes] = {}
    for name in ("r.docx", "r.html", "r.json", "r.txt"):
        run("review", JOB, SWAP, "--report", folder / name, environment=environment)
        out[name] = (folder / name).read_bytes()
    calls = {
        "text": ("review", JOB, SWAP, "--full"),
        "several": ("review", JOB, TESTED, SWAP, "--format", "json"),
        "read": ("read", SPEC, "--format", "json"),
        "wind": ("wind", JOB, "--format", "json"),
        "prescreen": ("prescreen", JOB, "--systems", LIBRARY / "systems", "--format", "json", "--jobs", "2"),
    }
    for name, call in calls.items():
        done = run(*call, environment=environment)
        assert done.stderr == b"", done.stderr[-300:]
        out[name] = done.stdout
    for name in ("form.docx", "form.yaml"):
        run("form", folder / name, environment=environment)
        out[name] = (folder / name).read_bytes()
    return out


@pytest.fixture(scope="module")
def runs(tmp_path_factory: pytest.TempPathFactory) -> list[dict[str, bytes]]:
    base = tmp_path_factory.mktemp("same")
    return [bytes_of(base / f"{n}", seed) for n, seed in enumerate(SEEDS)]


NAMES = (
    *("r.docx", "r.html", "r.json", "r.txt", "text", "several", "read", "wind", "prescreen"),
    *("form.docx", "form.yaml"),
)


@pytest.mark.parametrize("name", NAMES)
def test_every_form_comes_out_the_same(runs: list[dict[str, bytes]], name: str) -> None:
    first = runs[0][name]
    assert first
    for other in runs[1:]:
        assert other[name] == first
