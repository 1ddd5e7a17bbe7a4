"""Whose a value is: the part of the roof named nearest to it.

A value belongs to what stands in its own noun phrase ("22 gauge steel deck"), else before it in the sentence, else in
the nearest heading above that names any of the words a reading gives.
"""

from __future__ import annotations

from collections.abc import Sequence
from functools import cached_property

from cleatmark.spec.context import Heading
from cleatmark.spec.lexemes import Lexeme
from cleatmark.spec.lines import Line
from cleatmark.spec.pattern import words_of
from cleatmark.spec.wording import word_set

_BREAKS = frozenset(",;:.()")
_STOPS = word_set(
    "of for with at in on to by from over under above below into per and or and/or as is are be shall will must "
    "that which when where using through between within upon onto may not than without including installed "
    "before after during prior until along across around beyond throughout "
    "against spaced attached fastened located conforming complying consisting having applied provide furnish"
)
_DETERMINERS = word_set("the a an each every all this these")
"""Words with which another noun phrase begins: "deep supports the panels"."""
_PLACES = word_set("over on under above beneath onto upon below against into from to")
_MADE = word_set("made formed form fabricated cut rolled roll")
_AT_EACH = frozenset(["at", "to"])
_TITLE, _NEAR = 8, 4
_OURS = word_set("panel roof roofing pan sheet")
_CLAD = word_set("wall trim flashing soffit fascia coping gutter closure accessory")
"""Work of the same sheet as the roof's panels, which lists name together with them."""
_FOR = frozenset(["for"])
_PURPOSES = frozenset(["for", "on", "against", "by", "from"])
Mentions = list[tuple[int, int, bool]]
"""From which item to which a word stands, and whether it is one that is wanted."""
MOST_KEPT = 256
_COUNTS = word_set("one two three four <number=1> <number=2> <number=3> <number=4>")


class Nearness:
    """The words of one reading's `near` and `not near`: the nearest of them to a value decides.

    Where none of them stands in the sentence or above it, a reading whose `near` names a zone takes a value that a
    zone stands beside. A standard that a heading names takes no value away.
    """

    def __init__(self, near: Sequence[str], not_near: Sequence[str]) -> None:
        self.wanted = bool(near)
        self.empty = not near and not not_near
        self._phrases = ((near, True), (not_near, False))
        self._kept: dict[int, tuple[Line, Mentions]] = {}

    @cached_property
    def zoned(self) -> bool:
        """Whether `near` names a zone."""
        return any("<@>" in words_of(phrase) for phrase in self._phrases[0][0])

    @cached_property
    def _by_word(self) -> dict[str, list[tuple[tuple[str, ...], bool]]]:
        by_word: dict[str, list[tuple[tuple[str, ...], bool]]] = {}
        for phrases, good in self._phrases:
            for phrase in phrases:
                words = words_of(phrase)
                if words and "<@>" not in words:
                    by_word.setdefault(words[0], []).append((words, good))
        for listed in by_word.values():
            listed.sort(key=lambda item: -len(item[0]))
        return by_word

    def accepts(
        self,
        line: Line,
        lexemes: Sequence[Lexeme],
        first: int,
        last: int,
        headings: Sequence[Heading],
        own: int = 0,
    ) -> bool:
        """Whether the value at tokens first..last belongs to what the reading is about.

        `own` is the token with which the sentence's own words begin: those before it are a heading's.
        """
        if self.empty:
            return True
        start = line.item_of(own) if own else 0
        decided = self._in_sentence(line, lexemes, line.item_of(first), line.item_of(last), start)
        if decided is None:
            decided = self._above(headings)
        if decided is None and self.wanted:
            mentions = [m for m in self._mentions(line, lexemes) if m[0] >= start]
            decided = self._later(line, mentions, line.item_of(last))
        if decided is None:
            return not self.wanted or (self.zoned and "<@" in line.atoms)
        return decided

    def _mentions(self, line: Line, lexemes: Sequence[Lexeme]) -> Mentions:
        """Where a sentence or a heading names one of the words. Kept for a while, each beside its line: headings stand
        above many sentences, and a sentence has many values."""
        kept = self._kept.get(id(line))
        if kept is None:
            if len(self._kept) >= MOST_KEPT:
                self._kept.clear()
            kept = self._kept[id(line)] = (line, self._mentioned(line, lexemes))
        return kept[1]

    def _mentioned(self, line: Line, lexemes: Sequence[Lexeme]) -> Mentions:
        items = line.items
        if self._by_word.keys().isdisjoint(items):
            return []
        found: Mentions = []
        at, ours = 0, -1
        while at < len(items):
            if items[at] in _OURS:
                ours = at + 1
            for words, good in self._by_word.get(items[at], ()):
                if tuple(items[at : at + len(words)]) == words and not _titled(line, lexemes, at, len(words)):
                    if good and found and _qualifies(line, lexemes, found[-1], at):
                        good = False
                    if not good and words[0] in _CLAD and _joined(line, lexemes, ours, at):
                        ours = at + len(words)
                    else:
                        found.append((at, at + len(words), good))
                        if words[-1] in _OURS:
                            ours = at + len(words)
                    at += len(words) - 1
                    break
            at += 1
        return found

    def _in_sentence(
        self, line: Line, lexemes: Sequence[Lexeme], first: int, last: int, start: int
    ) -> bool | None:
        mentions = [m for m in self._mentions(line, lexemes) if m[0] >= start]
        if not mentions:
            return None
        low, high = _clause(line.items, first)
        beside = [m for m in mentions if low <= m[0] < high]
        if any(m[0] <= last + _NEAR for m in beside):
            mentions = beside
        inside = [m for m in mentions if m[0] <= last and m[1] > first]
        if any(not good for _, _, good in inside):
            return False
        after = self._noun_phrase(line, lexemes, last + 1, mentions)
        if after is not None:
            return after
        before = [
            m
            for m in mentions
            if m[1] <= first
            and not _is_share(line.items, m[0])
            and (line.items[m[0] - 1] != "per" or line.items[m[0]][:1] == "§")
        ]
        if (
            before
            and before[-1][1] == first
            and not before[-1][2]
            and line.items[last + 1 : last + 2] == ("apart",)
        ):
            return False
        topic = [
            m
            for m in before
            if not _is_object(line.items, m[0]) and not _is_taken(line, lexemes, m[0], first)
        ]
        purpose = self._purpose(line, lexemes, last + 1, mentions)
        if purpose is not None and not (topic and purpose):
            return purpose
        segment = _segment_start(line, lexemes, first)
        close = [m for m in before if m[0] >= segment]
        title = [m for m in before if m[1] <= _title_end(line, lexemes, start)]
        if title and not close:
            return next((m[2] for m in reversed(title) if not _is_placed(line.items, m[0])), title[-1][2])
        for group in (close, before):
            free = [m for m in group if not _is_placed(line.items, m[0])]
            if free:
                return free[-1][2]
        if inside:
            return inside[-1][2]
        if before and self.wanted:
            return before[-1][2]
        later = self._later(line, mentions, last)
        return later if later is not None and not _broken_between(line, lexemes, last, mentions) else None

    def _later(self, line: Line, mentions: Mentions, last: int) -> bool | None:
        """The first word behind the value, where none stands before it."""
        behind = [m for m in mentions if m[0] > last and not _is_placed(line.items, m[0])]
        return behind[0][2] if behind else None

    def _noun_phrase(self, line: Line, lexemes: Sequence[Lexeme], at: int, mentions: Mentions) -> bool | None:
        """What the value is the attribute of: "22 gauge steel deck"."""
        if _opens(line, lexemes, at):
            close = _phrase_end(line, lexemes, at + 1)
            within = [m for m in mentions if at <= m[0] and m[1] <= close]
            return within[-1][2] if within else None
        end = _phrase_end(line, lexemes, at)
        within = [m for m in mentions if at <= m[0] and m[1] <= end]
        if not within:
            return None
        if within[-1][2] and end < len(line.items) and line.items[end] in ("at", "for"):
            where = [m for m in mentions if end < m[0] and m[1] <= _phrase_end(line, lexemes, end + 1)]
            return not where or where[-1][2]
        return within[-1][2]

    def _purpose(self, line: Line, lexemes: Sequence[Lexeme], at: int, mentions: Mentions) -> bool | None:
        """What the value is for: "22 gauge for clips", "20 years on weathertightness"."""
        end = _phrase_end(line, lexemes, at)
        if line.items[at - 1].startswith("<d") and at < len(line.items) and _broken(line, lexemes, at):
            stop = _phrase_end(line, lexemes, at + 1)
            if stop < len(line.items) or stop - at > _NEAR:
                return None
            within = [m for m in mentions if at <= m[0]]
            return within[-1][2] if within else None
        purposes = _PURPOSES if line.items[at - 1].startswith(("<duration", "<number")) else _FOR
        if end < len(line.items) and line.items[end] in purposes:
            stop = _phrase_end(line, lexemes, end + 1)
            within = [m for m in mentions if end < m[0] and m[1] <= stop]
            return within[-1][2] if within else None
        return None

    def _above(self, headings: Sequence[Heading]) -> bool | None:
        for head in reversed(headings if self.wanted else headings[1:]):
            items = head.line.items
            mentions = [m for m in self._mentions(head.line, head.lexemes) if m[2] or items[m[0]][:1] != "§"]
            if not mentions:
                continue
            first = [m for m in mentions if m[1] <= head.head]
            if first:
                return first[-1][2] or (self.wanted and _leads_list(head, first))
            if self.wanted or len(head.line.items) <= _TITLE:
                return mentions[0][2]
        return None


def _titled(line: Line, lexemes: Sequence[Lexeme], at: int, count: int) -> bool:
    """Whether a colon parts the words: a title and what stands under it are not one thing ("Panels: Clips at")."""
    return any(lexemes[token].key == ":" for token in range(line.tokens[at] + 1, line.tokens[at + count - 1]))


def _leads_list(head: Heading, mentions: Mentions) -> bool:
    """Whether a title names what is wanted first and something else beside it: "Clips and Fasteners"."""
    if not mentions[0][2]:
        return False
    after = mentions[0][1]
    if after < len(head.line.items) and head.line.items[after] in ("and", "or"):
        return True
    token = head.line.tokens[after - 1] + 1
    return token < len(head.lexemes) and head.lexemes[token].key in ("&", ",", "/")


def _joined(line: Line, lexemes: Sequence[Lexeme], ours: int, at: int) -> bool:
    """Whether cladding named at an item only goes with the roof's panels: "panels, flashings and trim"."""
    if not 0 < ours <= at:
        return False
    between = line.items[ours:at]
    if not between:
        return _broken(line, lexemes, at) and lexemes[line.tokens[at] - 1].key == ","
    return all(item in ("and", "or", "and/or") for item in between)


def _broken_between(
    line: Line, lexemes: Sequence[Lexeme], last: int, mentions: Sequence[tuple[int, int, bool]]
) -> bool:
    """Whether punctuation stands between the value and the first word behind it."""
    first = min((m[0] for m in mentions if m[0] > last), default=last)
    return any(
        line.items[index] == ";" or _broken(line, lexemes, index) for index in range(last + 1, first + 1)
    )


def _qualifies(line: Line, lexemes: Sequence[Lexeme], before: tuple[int, int, bool], at: int) -> bool:
    """Whether a word that is not wanted stands right before and makes one thing with it: "wall" and "panel"."""
    if before[2] or before[1] != at or line.items[before[0]][:1] == "§":
        return False
    return not _broken(line, lexemes, at)


def _clause(items: Sequence[str], at: int) -> tuple[int, int]:
    """The part between semicolons that an item stands in."""
    low = next((index + 1 for index in range(at - 1, -1, -1) if items[index] == ";"), 0)
    high = next((index for index in range(at, len(items)) if items[index] == ";"), len(items))
    return low, high


def _title_end(line: Line, lexemes: Sequence[Lexeme], start: int) -> int:
    """How many items stand before the sentence's first colon; 0 where a title would be too long."""
    own = line.tokens[start]
    colon = next((at for at in range(own, min(own + 24, len(lexemes))) if lexemes[at].key == ":"), -1)
    return sum(1 for token in line.tokens if token < colon) if colon > 0 else 0


def _phrase_end(line: Line, lexemes: Sequence[Lexeme], at: int) -> int:
    index = at
    while index < len(line.items):
        item = line.items[index]
        if item in _STOPS or item[:1] in ("<", "§", ";") or (index > at and item in _DETERMINERS):
            break
        if index and _broken(line, lexemes, index):
            break
        index += 1
    return index


def _broken(line: Line, lexemes: Sequence[Lexeme], index: int) -> bool:
    """Whether a comma or the like stands between an item and the one before it."""
    between, here = line.tokens[index - 1] + 1, line.tokens[index]
    return between < here and any(lexemes[token].key in _BREAKS for token in range(between, here))


def _segment_start(line: Line, lexemes: Sequence[Lexeme], first: int) -> int:
    index = first
    while index > 0 and not _broken(line, lexemes, index):
        index -= 1
    return index


def _is_share(items: Sequence[str], at: int) -> bool:
    """ "20 percent of design wind pressure" is not about the wind pressure."""
    before = items[max(at - 5, 0) : at]
    return any(item.startswith("<percent") for item in before) and "of" in before


def _is_object(items: Sequence[str], at: int) -> bool:
    """The purpose of an earlier value: "24 gauge for panels and ..."."""
    back = at - 1
    while back >= 0 and at - back <= 4 and items[back] != "for":
        back -= 1
    if back < 1 or items[back] != "for":
        return False
    return any(item[:1] == "<" for item in items[max(back - 3, 0) : back])


def _is_taken(line: Line, lexemes: Sequence[Lexeme], at: int, value: int) -> bool:
    """Whether a word is of another value of the same kind before it: "15 year weathertight warranty and two-year"."""
    kind = line.items[value].split("=")[0]
    for index in range(at - 1, max(at - 5, -1), -1):
        if line.items[index].split("=")[0] == kind:
            return _phrase_end(line, lexemes, index + 1) > at
    return False


def _opens(line: Line, lexemes: Sequence[Lexeme], at: int) -> bool:
    """Whether a parenthesis opens right before an item: "L/360 (deck)"."""
    if not 0 < at < len(line.items):
        return False
    return any(lexemes[token].key == "(" for token in range(line.tokens[at - 1] + 1, line.tokens[at]))


def _is_placed(items: Sequence[str], at: int) -> bool:
    """The object of a preposition of place ("panels over steel deck"), a means ("with two screws") or a measure
    ("two per clip")."""
    if items[at][:1] == "§":
        return False
    back = at - 1
    per = back > 0 and items[back] == "per" and items[at][:1] != "§"
    if back > 0 and (per or (items[back] in _COUNTS and items[back - 1] == "with")):
        return True
    while back >= 0 and at - back <= 5 and items[back] not in _STOPS:
        back -= 1
    if back > 0 and at - back == 2 and items[back] in _AT_EACH and items[back + 1] in ("each", "every"):
        return True
    if back > 0 and items[back] == "from":
        return items[at] != "contact" and not _MADE.intersection(items[max(back - 6, 0) : back])
    return back > 0 and items[back] in _PLACES
