"""Abbreviations of the trade and the words they stand for, as rules/abbreviations.txt lists them."""

from __future__ import annotations

import re
from functools import lru_cache
from pathlib import Path

from msgspec import Struct

from cleatmark.spec.lazy import lazily


class Short(Struct, frozen=True, gc=False):
    """An abbreviation found: the words it is read as, and where it ends with its full stop."""

    words: tuple[str, ...]
    end: int


class _Entry(Struct, frozen=True, gc=False):
    """words  what is read
    stop   whether it counts only with a full stop
    rest   the further words that it must have behind it, "" for none
    """

    words: tuple[str, ...]
    stop: bool
    rest: str


def _file() -> Path:
    package = Path(__file__).resolve().parent.parent
    inside = package / "rules"
    return (inside if inside.is_dir() else package.parent.parent / "rules") / "abbreviations.txt"


def _table(text: str) -> dict[str, tuple[_Entry, ...]]:
    """By first word, the longest first. A line that is no entry is passed over."""
    table: dict[str, list[_Entry]] = {}
    for line in text.splitlines():
        given, equals, words = line.partition("=")
        if not equals or line.startswith("#"):
            continue
        for written in given.split(","):
            first, _, rest = written.strip().casefold().partition(" ")
            entry = _Entry(tuple(words.split()), written.strip().endswith(".") and not rest, rest.strip())
            table.setdefault(_bare(first), []).append(entry)
    return {key: tuple(sorted(entries, key=lambda e: -len(e.rest))) for key, entries in table.items()}


def _bare(word: str) -> str:
    return word.replace(".", "")


try:
    TABLE = _table(_file().read_text(encoding="utf-8"))
except OSError:
    TABLE = {}

_SLASHED = lazily(r"/[A-Za-z]?(?![A-Za-z])")


def known(word: str) -> bool:
    """Whether a word, with or without its full stops, is an abbreviation of the table."""
    low = _bare(word.casefold())
    return low in TABLE or (low.endswith("s") and low[:-1] in TABLE)


def short_at(text: str, word: str, stop: int) -> Short | None:
    """The abbreviation that `word`, which ends at `stop`, begins."""
    low = _bare(word.casefold())
    if text[stop : stop + 1] == "/" and (slashed := _SLASHED.match(text, stop)):
        for end in (slashed.end(), stop + 1):
            if entries := TABLE.get(low + text[stop:end].casefold()):
                return Short(entries[0].words, end)
    entries = TABLE.get(low) or (TABLE.get(low[:-1]) if low.endswith("s") else None)
    for entry in entries or ():
        dotted = word.endswith(".") or text[stop : stop + 1] == "."
        end = stop + (dotted and not word.endswith("."))
        if entry.rest:
            if followed := _rest(entry.rest).match(text, end):
                return Short(entry.words, followed.end())
        elif dotted or not entry.stop:
            return Short(entry.words, end + 2 * text.startswith("'s", end))
    return None


@lru_cache(maxsize=64)
def _rest(words: str) -> re.Pattern[str]:
    parts = (rf"{re.escape(part.rstrip('.'))}s?\b\.?" for part in words.split())
    return re.compile(r"[\s-]" + r"[\s-]".join(parts), re.IGNORECASE)
