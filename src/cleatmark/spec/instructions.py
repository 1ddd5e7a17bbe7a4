"""One instruction of an addendum: revise, delete, add, change words, and which paragraph it is about."""

from __future__ import annotations

import re

from msgspec import Struct

from cleatmark.spec.clauses import Table
from cleatmark.spec.lazy import lazily

Tokens = tuple[str, ...]
"""An address by its parts, folded: ("1", "3", "b") of 1.03.B."""


class Line(Struct, frozen=True):
    """A paragraph of an addendum, or a table of it, with its number as printed."""

    label: str
    text: str
    table: Table | None = None


class Instruction(Struct, frozen=True):
    """One instruction.

    item     as the addendum numbers it: "3", "2.A"
    kind     revise, delete, replace (delete, and substitute), add, change (words for words), insert (words behind
             words), unread (an instruction that is not understood)
    section  as written, "" where none is named in it or above it
    address  as written ("1.5.B"); `to` ends a stretch of them; `after` is what an addition follows
    lines    the new text
    pairs    of `change` and `insert`: words, and what they become or what comes behind them
    every    the words are changed wherever they stand
    quote    the instruction as written
    """

    item: str
    kind: str
    section: str
    address: str
    quote: str
    to: str = ""
    after: str = ""
    lines: tuple[Line, ...] = ()
    pairs: tuple[tuple[str, str], ...] = ()
    every: bool = False

    @property
    def awaits(self) -> bool:
        """Whether it is about text that has to follow."""
        return self.kind in ("revise", "replace", "add")


_NOUN = r"(?:(?:sub-?)*paragraphs?|para?s?\.?|(?:sub-?)?articles?|clauses?|items?)"
_BELOW = r"(?:[.,]?\s?\(?[A-Z]{1,2}\)?(?![A-Za-z])|[.(][a-z]{1,2}\)?(?![A-Za-z])|[.(]\d{1,3}\)?(?!\d))"
_PLACE = rf"\d{{1,2}}(?:\.\d{{1,3}})+(?:{_BELOW})*"
ADDRESS = lazily(rf"(?<![\d.-])({_PLACE})(?![\d%])")
_RANGE = lazily(rf"({_PLACE})\s*(?:through|thru|to)\s+(?:{_NOUN}\s+)?({_PLACE})", re.I)
_LOW = r"[A-Z](?:\.\d{1,3}(?:\.[a-z])?)?"
_IN_ARTICLE = lazily(rf"\b(?i:article)\s+(\d{{1,2}}\.\d{{1,3}}),?\s+(?i:{_NOUN})\s+({_LOW})(?![\w-])")
_OF_ARTICLE = lazily(rf"\b(?i:{_NOUN})\s+({_LOW})\s+(?:of|in|under)\s+(?i:article)\s+(\d{{1,2}}\.\d{{1,3}})")
SECTION = lazily(r"\bsection\s+(?:no\.?\s*)?(\d{2}[ .-]?\d{2}[ .-]?\d{2}(?:\.\d{2})?|\d{5})(?!\d)", re.I)
QUOTED = lazily(r"[\"“”]([^\"“”]+)[\"“”]|(?<!\w)[‘'](.+?)[’'](?!\w)")
_VERB = r"(?:revise|delete|change|replace|add|insert|substitute|amend|modify|omit|remove|strike|correct|reword|append)"
_STARTS = lazily(
    rf"\W*(?:(?:in|at|after|under)\s+(?:the\s+)?(?:{_NOUN}|section|table|\d+)|{_NOUN}\s+\d|section\s+\d|\d{{1,2}}\.\d+|{_VERB})\b",
    re.I,
)
_HAS_VERB = lazily(rf"\b{_VERB}d?\b", re.I)
NEXT = lazily(rf"(?:(?<=[.;])|(?<=[.;][”\"’']))\s+(?=[A-Z])(?=(?i:{_VERB}|in\s+{_NOUN})\s)")
"""Where a second instruction begins in one line."""
_DELETES = lazily(r"\b(?:delete|omit|remove|strike)d?\b", re.I)
_SUBSTITUTES = lazily(r"\b(?:substitute|replace|insert|in\s+lieu\s+thereof|with\s+the\s+following)\b", re.I)
_ADDS = lazily(r"\b(?:add|insert|append)\b", re.I)
_AFTER = lazily(rf"\b(?:after|following|below|behind)\s+(?:the\s+)?(?:{_NOUN}\s+)?({_PLACE})", re.I)
_READS = lazily(r"\b(?:to\s+read(?:\s+as\s+follows)?|as\s+follows|with\s+the\s+following)\b", re.I)
_EVERY = lazily(r"\b(?:all|every|each|throughout|wherever|both)\b", re.I)
_BECOMES = lazily(
    r"\s*,?\s*(?:to(?:\s+read)?|with|by|and\s+(?:insert|substitute|add|replace\s+(?:it\s+)?with))\s*:?\s*\Z",
    re.I,
)
_FOR = lazily(r"\s*,?\s*(?:for|in\s+lieu\s+of|in\s+place\s+of|instead\s+of)\s*\Z", re.I)
_BEHIND = lazily(r"\s*,?\s*(?:after|following|behind)\s+(?:the\s+)?(?:words?\s+)?\Z", re.I)


def tokens(address: str) -> Tokens:
    """The parts of an address, folded so that 1.05.B and 1.5.b are one."""
    parts = re.findall(r"\d+|[A-Za-z]+", address)
    return tuple(str(int(part)) if part.isdigit() else part.casefold() for part in parts)


def is_instruction(text: str) -> bool:
    """Whether a line tells to change something: it begins so, and names a paragraph, words, or a new text."""
    bare = _without_quotes(text)
    if not _STARTS.match(bare) or not _HAS_VERB.search(bare):
        return False
    return bool(
        ADDRESS.search(bare) or _IN_ARTICLE.search(bare) or QUOTED.search(text) or _READS.search(bare)
    )


HEADED = lazily(rf"\W*(?:{_NOUN}\s+)?({_PLACE})\W*\Z", re.I)
"""A line that only names a paragraph: those below it are about that one."""


def read(text: str, item: str, section: str, under: str = "") -> list[Instruction]:
    """The instructions of one line; several where it names several paragraphs to delete.

    under  the address that a line above names, for a line that names none
    """
    bare = _without_quotes(text)
    named = SECTION.search(bare)
    if named is not None:
        section = named[1]
        bare = bare[: named.start()] + " " * len(named[0]) + bare[named.end() :]
    quotes = list(QUOTED.finditer(text))
    pairs, kind = _pairs(text, quotes)
    if pairs:
        every = bool(_EVERY.search(bare))
        return [Instruction(item, kind, section, _address(bare) or under, text, pairs=pairs, every=every)]
    verb = _HAS_VERB.search(bare)
    colon = bare.find(":", verb.start() if verb is not None else 0)
    head = bare if colon < 0 else bare[:colon]
    rest = text[colon + 1 :] if colon >= 0 else _after_reads(text, bare)
    if _DELETES.search(head):
        if _SUBSTITUTES.search(head):
            return [_with_text("replace", item, section, _address(head) or under, text, rest)]
        if len(quotes) == 1:
            words = _words(quotes[0])
            return [Instruction(item, "change", section, _address(bare) or under, text, pairs=((words, ""),))]
        return _deletions(bare, item, section, text, under)
    if _ADDS.search(head):
        after = _AFTER.search(head)
        place = _address(head if after is None else head[: after.start()] + head[after.end() :])
        added = _with_text("add", item, section, place, text, rest, after[1] if after is not None else "")
        return [added]
    return [_with_text("revise", item, section, _address(head) or under, text, rest)]


def _with_text(
    kind: str, item: str, section: str, address: str, quote: str, rest: str, after: str = ""
) -> Instruction:
    text = stripped(rest)
    lines = (Line("", text),) if text else ()
    return Instruction(
        item, kind if address or after else "unread", section, address, quote, after=after, lines=lines
    )


def _deletions(bare: str, item: str, section: str, text: str, under: str) -> list[Instruction]:
    stretch = _RANGE.search(bare)
    if stretch is not None:
        return [Instruction(item, "delete", section, stretch[1], text, to=stretch[2])]
    article = _joined(bare)
    places = [article] if article else [match[1] for match in ADDRESS.finditer(bare)]
    places = places or ([under] if under else [])
    found = [Instruction(item, "delete", section, place, text) for place in places]
    return found or [Instruction(item, "unread", section, "", text)]


def _pairs(text: str, quotes: list[re.Match[str]]) -> tuple[tuple[tuple[str, str], ...], str]:
    """Words and what they become, where quotes stand in twos with the right word between."""
    pairs: list[tuple[str, str]] = []
    kind = "change"
    at = 0
    while at + 1 < len(quotes):
        first, second = quotes[at], quotes[at + 1]
        between = text[first.end() : second.start()]
        if _BECOMES.match(between):
            pairs.append((_words(first), _words(second)))
        elif _FOR.match(between):
            pairs.append((_words(second), _words(first)))
        elif _BEHIND.match(between):
            pairs.append((_words(second), _words(first)))
            kind = "insert"
        else:
            at += 1
            continue
        at += 2
    return tuple(pairs), kind


def _address(bare: str) -> str:
    match = ADDRESS.search(bare)
    return _joined(bare) or (match[1] if match is not None else "")


def _joined(bare: str) -> str:
    """ "Article 1.03, Paragraph B" and "Paragraph B of Article 1.03" as one address."""
    match = _IN_ARTICLE.search(bare)
    if match is not None:
        return f"{match[1]}.{match[2]}"
    match = _OF_ARTICLE.search(bare)
    return f"{match[2]}.{match[1]}" if match is not None else ""


def _after_reads(text: str, bare: str) -> str:
    match = _READS.search(bare)
    return text[match.end() :] if match is not None else ""


def _words(quote: re.Match[str]) -> str:
    return " ".join((quote[1] or quote[2]).split())


def stripped(text: str) -> str:
    """A text without the quotation marks around it, white space folded."""
    folded = " ".join(text.split()).lstrip(" .")
    if folded[:1] in "\"“'‘":
        folded = folded[1:]
        folded = folded[:-1] if folded[-1:] in "\"”'’" else folded
    elif folded[-1:] in '”"' and folded.count("“") == folded.count('"') % 2 == 0:
        folded = folded[:-1]
    return folded.strip()


def _without_quotes(text: str) -> str:
    """The text with what is quoted blanked out, its length kept."""
    return QUOTED.sub(lambda match: " " * len(match[0]), text)
