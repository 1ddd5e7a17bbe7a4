"""What is kept of readings' phrases: made once, taken up after, made anew where it is damaged."""

from __future__ import annotations

from pathlib import Path

import msgspec
import pytest

from cleatmark.review.kept_phrases import learn_phrases
from cleatmark.spec import pattern
from cleatmark.spec.reading import Reading

READING = Reading(
    "width", "panel.width", ("panel|pan not-more-than {length} wide", "half {a brace"), near=("roof panel",)
)


@pytest.fixture
def kept(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.delenv("CLEATMARK_CACHE", raising=False)
    learn_phrases((READING,))
    return next(tmp_path.rglob("phrases-*.msgpack"))


def words(file: Path) -> dict[str, tuple[str, ...]]:
    return msgspec.msgpack.decode(file.read_bytes(), type=dict[str, tuple[str, ...]])


def test_what_is_kept_is_what_is_made(kept: Path) -> None:
    assert words(kept) == pattern.words_in(READING.patterns, READING.near)
    assert words(kept)["roof panel"] == ("roof", "panel")


def test_what_is_kept_is_taken_up(kept: Path) -> None:
    kept.write_bytes(msgspec.msgpack.encode({**words(kept), "roof panel": ("roof", "sheet")}))
    pattern.words_in((), ())
    learn_phrases((READING,))
    try:
        assert pattern.words_in(("panel",), ()) == {"panel": ("panel",)}
        learn_phrases((READING,))
        assert pattern._words("roof panel") == ("roof", "sheet")
    finally:
        pattern.words_in((), ())


@pytest.mark.parametrize("damaged", [b"", b"\x00\x01", msgspec.msgpack.encode({"roof panel": 5})])
def test_a_damaged_one_is_made_anew(kept: Path, damaged: bytes) -> None:
    whole = kept.read_bytes()
    kept.write_bytes(damaged)
    learn_phrases((READING,))
    assert kept.read_bytes() == whole


def test_another_phrase_is_kept_apart(kept: Path) -> None:
    learn_phrases((msgspec.structs.replace(READING, near=("deck",)),))
    assert len(list(kept.parent.glob("phrases-*.msgpack"))) == 2
