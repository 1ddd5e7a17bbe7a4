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


def known(file: Path) -> pattern.Known:
    return msgspec.msgpack.decode(file.read_bytes(), type=pattern.Known)


def test_what_is_kept_is_what_is_made(kept: Path) -> None:
    assert known(kept) == pattern.known_of(READING.patterns, READING.near)
    assert list(known(kept).phrases) == list(READING.patterns[:1])
    assert known(kept).plain == {"roof panel": ("roof", "panel")}


def test_what_is_kept_is_taken_up(kept: Path) -> None:
    phrase = READING.patterns[0]
    was = pattern.Phrase(phrase)
    other = msgspec.structs.replace(known(kept).phrases[phrase], anchor=frozenset(["sheet"]))
    kept.write_bytes(
        msgspec.msgpack.encode(pattern.Known({phrase: other}, {"roof panel": ("roof", "sheet")}))
    )
    try:
        assert pattern.known_of((phrase,), ("roof panel",)).plain == {"roof panel": ("roof", "panel")}
        assert pattern.Phrase(phrase).anchor == was.anchor
        learn_phrases((READING,))
        assert pattern.words_of("roof panel") == ("roof", "sheet")
        assert pattern.Phrase(phrase).anchor == {"sheet"}
    finally:
        pattern.known_of((), ())


@pytest.mark.parametrize(
    "damaged", [b"", b"\x00\x01", msgspec.msgpack.encode({"phrases": {}, "plain": {"roof panel": 5}})]
)
def test_a_damaged_one_is_made_anew(kept: Path, damaged: bytes) -> None:
    whole = kept.read_bytes()
    kept.write_bytes(damaged)
    learn_phrases((READING,))
    assert kept.read_bytes() == whole


def test_another_phrase_is_kept_apart(kept: Path) -> None:
    learn_phrases((msgspec.structs.replace(READING, near=("deck",)),))
    assert len(list(kept.parent.glob("phrases-*.msgpack"))) == 2
