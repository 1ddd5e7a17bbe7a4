"""Phrases of readings, made into patterns that match a sentence's tokens in linear time.

words            regardless of case, number (clip, clips), hyphen and white space; "UL 580" is the standard
…                a gap of a few words, inside the sentence; never across another standard's name or a
                 semicolon; two gaps are a longer one
(a)              optional
a|b              either of two words; hyphens join what belongs together: `not-more-than|maximum`
{KIND}           the value: one of slots.NAMES
{KIND: A, B}     only these values
{text: x, y}     one of these phrases
{open}           a choice left open, a blank, or words that leave the value to drawings or to others
{zone}           the sentence's zones go with the values found; it stands for itself, or for nothing
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from contextlib import suppress
from functools import cached_property, lru_cache
from typing import Any

from msgspec import Struct

from cleatmark.spec import abbreviations, deferrals, measures, slots, zones
from cleatmark.spec.designations import STARTS as STANDARD_STARTS
from cleatmark.spec.lazy import lazily
from cleatmark.spec.lexemes import lex, stem
from cleatmark.spec.lines import ZONE, Line, atom
from cleatmark.spec.wording import plain, word_set

GAP = 10
"""Tokens that a gap may hold."""

MOST_KNOWN = 20_000
MOST = 100
"""Values of one phrase in one sentence. No sentence of a specification has so many."""

_GAP_SIGN, _SLOT_SIGN = "\ue000", "\ue001"
_SIGNS = lazily(r"[()|\ue000]|\ue001.")
_SLOT = lazily(r"\{\s*([a-z][a-z_ ]*?)\s*(?::\s*([^}]*?)\s*)?\}")
_COMMON = word_set("panel metal roof system wind steel sheet clip standard class")
_SPECIAL = STANDARD_STARTS | zones.STARTS | measures.STARTS | deferrals.STARTS | {"and", "i", "o"}
_WORDS_ONLY = lazily(r"[a-z]+(?:[ -][a-z]+)*")


class PhraseError(ValueError):
    """A phrase that is none: what is wrong in it, and an example of the right form."""


class Hit(Struct, frozen=True):
    """Where a phrase matched: tokens first..last of the sentence, and value_first..value_last of its value."""

    first: int
    last: int
    value_first: int
    value_last: int


class Parsed(Struct, frozen=True):
    """What a phrase says.

    source  the pattern that matches it in a line
    slot    the value it names, None where the phrase itself is the value
    zones   whether the sentence's zones go with the values
    needs   sets of atoms, of each of which a line must have one
    anchor  the set of the rarest that it needs; empty where it needs none
    """

    source: str
    slot: slots.Slot | None
    zones: bool
    needs: tuple[frozenset[str], ...]
    anchor: frozenset[str]


class Phrase:
    """One phrase of a reading, as `Parsed` tells it, and where it matches."""

    def __init__(self, written: str) -> None:
        found = _parsed.get(written)
        if found is None:
            found = _parse(written)
        self.written = written
        self.source, self.slot, self.zones = found.source, found.slot, found.zones
        self.needs, self.anchor = found.needs, found.anchor

    @property
    def kind(self) -> str:
        """The name of the value, "" where the phrase itself is the value."""
        return self.slot.name if self.slot else ""

    @cached_property
    def regex(self) -> Any:
        """The compiled pattern; RE2 matches in linear time."""
        import re2

        return re2.compile(self.source.encode("latin-1", "replace"), _options())

    def search(self, line: Line) -> list[Hit]:
        """Every place where the phrase matches, by its value's place, left to right."""
        found: list[Hit] = []
        position = 0
        group = 1 if self.slot else 0
        while len(found) < MOST and (match := self.regex.search(line.string, position)):
            start, end = match.span()
            inner = match.span(1) if group and match.group(1) is not None else (start + 1, end - 1)
            found.append(
                Hit(
                    line.token_at(start + 1),
                    line.token_at(end - 2),
                    line.token_at(inner[0]),
                    line.token_at(inner[1] - 1),
                )
            )
            position = max(inner[1] - 1 if group else end - 1, start + 1)
        return found


class _Parser:
    """Reads one phrase, token by token."""

    def __init__(self, written: str) -> None:
        if any("\ue000" <= sign <= "\uf8ff" for sign in written):
            raise PhraseError(f'"{written}" has a sign that no specification has; type the words anew')
        self.written = written
        self.slot: slots.Slot | None = None
        self.zones = False
        self.needs: list[frozenset[str]] = []
        self._given: list[tuple[str, str]] = []
        self._items = self._tokens()
        self._at = 0
        self._literal = any(item[0] not in "()|\ue000\ue001" for item in self._items)

    def whole(self) -> Parsed:
        """What the whole phrase says."""
        source = self._sequence(required=True) + "[ ;]"
        if self._at < len(self._items):
            raise PhraseError(f'"{self.written}" closes a parenthesis that it does not open')
        anchor = min(
            self.needs,
            key=lambda atoms: len(atoms) + 4 * (not _COMMON.isdisjoint(atoms)),
            default=frozenset[str](),
        )
        return Parsed(source, self.slot, self.zones, tuple(self.needs), anchor)

    def _tokens(self) -> list[str]:
        """The phrase as signs, slots and words; words that hyphens join are one, "not more than"."""

        def keep(match: re.Match[str]) -> str:
            self._given.append((match.group(1).strip(), match.group(2) or ""))
            return f" {_SLOT_SIGN}{chr(0xE100 + len(self._given) - 1)} "

        text = _SLOT.sub(keep, self.written).replace("...", _GAP_SIGN).replace("…", _GAP_SIGN)
        if "{" in text or "}" in text:
            raise PhraseError(
                f'"{self.written}" has half a pair of braces; write {{length}} or {{number: 30, 60}}'
            )
        items: list[str] = []
        position = 0
        for match in _SIGNS.finditer(text):
            items.extend(_words(text[position : match.start()]))
            items.append(match.group())
            position = match.end()
        items.extend(_words(text[position:]))
        return items

    def _sequence(self, *, required: bool) -> str:
        out: list[str] = []
        gap = 0
        while self._at < len(self._items) and self._items[self._at] != ")":
            if self._items[self._at] == _GAP_SIGN:
                gap += GAP
                self._at += 1
                continue
            listed = bool(out) and out[-1].rstrip(")").rpartition(" ")[2].startswith("§")
            lead = ";? " if listed and not gap else " "
            if self._is_zone():
                out.append(f"(?:{lead}<{ZONE}>)?")
                continue
            optional = self._items[self._at] == "("
            body = self._optional() if optional else self._either(required=required)
            if gap:
                skip = f"(?: [^ ;§][^ ;]*){{0,{gap}}}?"
                out.append(f"(?:;|{skip})" if listed else skip)
            out.append(f"(?:{lead}{body})?" if optional else lead + body)
            gap = 0
        if not out:
            raise PhraseError(f'"{self.written}" has nothing to match; write "panel width {{length}}"')
        return "".join(out)

    def _is_zone(self) -> bool:
        """Takes a `{zone}` where one stands next."""
        item = self._items[self._at]
        if item[0] != _SLOT_SIGN or self._given[ord(item[1]) - 0xE100][0] != "zone":
            return False
        self._at += 1
        self.zones = True
        return True

    def _optional(self) -> str:
        self._at += 1
        inner = self._sequence(required=False)
        if self._at >= len(self._items):
            raise PhraseError(f'"{self.written}" opens a parenthesis that it does not close')
        self._at += 1
        return inner[1:]

    def _either(self, *, required: bool) -> str:
        pieces: list[str] = []
        atoms: set[str] = set()
        while self._at < len(self._items):
            item = self._items[self._at]
            if item in ("|", ")", "(") or item == _GAP_SIGN:
                raise PhraseError(f'"{self.written}" has "|" without a word on both sides; write clip|anchor')
            self._at += 1
            piece, needed = self._piece(item)
            pieces.append(piece)
            atoms |= needed
            if self._at < len(self._items) and self._items[self._at] == "|":
                self._at += 1
                continue
            break
        if required and atoms and "" not in atoms:
            self.needs.append(frozenset(atoms))
        return pieces[0] if len(pieces) == 1 else f"(?:{'|'.join(pieces)})"

    def _piece(self, item: str) -> tuple[str, frozenset[str]]:
        if item[0] != _SLOT_SIGN:
            words = item.split(" ")
            first = words[0][:2] if words[0][0] == "<" else words[0]
            return " ".join(re.escape(word) for word in words), frozenset([first])
        name, allowed = self._given[ord(item[1]) - 0xE100]
        if name not in slots.NAMES:
            raise PhraseError(f"there is no value {{{name}}}; there are {', '.join(slots.NAMES)}")
        if name == "zone":
            raise PhraseError(f'"{self.written}": {{zone}} stands by itself, beside no `|`')
        given = [part.strip() for part in allowed.split(",") if part.strip()]
        if self.slot:
            raise PhraseError(f'"{self.written}" has two values; a phrase gives one')
        if name == "text" and not given:
            raise PhraseError(f'"{self.written}" names no words; write {{text: plywood, OSB}}')
        bodies = [" ".join(" ".join(_words(phrase)).split()) for phrase in given] if name == "text" else []
        self.slot = slots.slot(name, given, bodies, self._literal)
        return f"({self.slot.source})", self.slot.atoms


class Known(Struct, frozen=True):
    """Phrases as they were parsed, and plain words as atoms."""

    phrases: dict[str, Parsed]
    plain: dict[str, tuple[str, ...]]


_parsed: dict[str, Parsed] = {}
_plain: dict[str, tuple[str, ...]] = {}
"""Filled as phrases and words are met, or from what was kept of an earlier run."""


def known_of(phrases: Iterable[str], plain: Iterable[str]) -> Known:
    """What phrases say and plain words are made of, as `learn` takes it. A phrase that is none is left out."""
    _parsed.clear()
    _plain.clear()
    for written in phrases:
        with suppress(PhraseError):
            Phrase(written)
    return Known(dict(_parsed), {text: words_of(text) for text in plain})


def learn(known: Known) -> None:
    """Takes up what `known_of` gave for the same text and the same program."""
    _parsed.update(known.phrases)
    _plain.update(known.plain)


def _parse(written: str) -> Parsed:
    found = _Parser(written).whole()
    if len(_parsed) < MOST_KNOWN:
        _parsed[written] = found
    return found


def words_of(text: str) -> tuple[str, ...]:
    """A plain phrase ("bearing plate", "UL 580") as the atoms that a line has."""
    found = _plain.get(text)
    if found is None:
        found = tuple(" ".join(_words(text)).split())
        if len(_plain) < MOST_KNOWN:
            _plain[text] = found
    return found


@lru_cache(maxsize=4096)
def _words(text: str) -> tuple[str, ...]:
    text = text.strip()
    words = re.split("[ -]", text)
    if (
        _WORDS_ONLY.fullmatch(text)
        and _SPECIAL.isdisjoint(words)
        and not any(abbreviations.known(word) for word in words)
    ):
        return tuple(" ".join(map(stem, word.split("-"))) for word in text.split(" "))
    out: list[str] = []
    smooth = plain(text)
    joined = False
    last = -1
    for lexeme in lex(smooth, 0, len(smooth)):
        word = atom(lexeme)
        if lexeme.kind == "punct" and lexeme.key in "-/&":
            joined = lexeme.start == last
        elif word and joined and out and lexeme.start == last:
            out[-1] += " " + word
            joined = False
        elif word:
            out.append(word)
            joined = False
        else:
            joined = False
        last = lexeme.end
    return tuple(out)


@lru_cache(maxsize=1)
def _options() -> Any:
    import re2

    options = re2.Options()
    options.encoding = re2.Options.Encoding.LATIN1
    return options
