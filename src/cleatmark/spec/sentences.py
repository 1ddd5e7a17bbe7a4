"""A clause as the sentences and table rows that readings are applied to, each with what stands above it."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping
from functools import lru_cache

from msgspec import Struct

from cleatmark.spec.clauses import Clause, Section
from cleatmark.spec.context import Heading, article_kinds, heading, lists_standards, said_kinds, title_of
from cleatmark.spec.lazy import lazily
from cleatmark.spec.lexemes import Lexeme, lex, with_unit
from cleatmark.spec.lines import Line, line_of
from cleatmark.spec.marks import Mark, find_marks
from cleatmark.spec.wording import plain, sentences
from cleatmark.spec.written_units import kind_of_unit, unit_given

LONGEST = 20_000
"""Characters of one paragraph that are read. More is not a paragraph of a specification."""


class Sentence(Struct, frozen=True):
    """One sentence, or one table row as a sentence, with its tokens and what it stands under.

    text   the plain text that the tokens index; `quote` the sentence as written
    kinds  article kinds by the titles it stands under; `said` those that its own words tell, with the items first and
           last for which they do
    roof   the roof that a table's column is for, "" elsewhere
    first  the token with which the sentence's own words begin: those before it are of the words that lead to it
           ("Clips, spaced not more than:" above "Corners: 12 inches")
    """

    clause: Clause
    section: Section
    text: str
    quote: str
    lexemes: tuple[Lexeme, ...]
    line: Line
    kinds: frozenset[str]
    headings: tuple[Heading, ...]
    marks: tuple[Mark, ...] = ()
    tracked: bool = False
    start: int = 0
    first: int = 0
    roof: str = ""
    said: Mapping[str, tuple[int, int]] = {}


class Leads:
    """The paragraph that leads to a list, as a reader carries it in mind: "Resist the following pressures:".

    unit  that a paragraph of the same article gives the bare numbers beside it: "Uplift pressures are in psf."
    """

    def __init__(self) -> None:
        self.unit = ""
        self._article = ""
        self._text = ""
        self._under: tuple[str, ...] = ()
        self._last = ""
        self._listed = False

    def of(self, clause: Clause) -> str:
        """What leads to a clause, "" where nothing but its headings does. Called for every clause in order."""
        self._carry_unit(clause)
        listed, self._listed = self._listed, bool(clause.label) and clause.table is None
        last, self._last = self._last, ("" if clause.hidden or clause.table else clause.text)
        if clause.table is not None and last not in clause.headings:
            return self._text or last
        under = clause.headings[: len(self._under)] == self._under
        if not under:
            self._text = ""
        if not clause.label and clause.table is None:
            if listed:
                self._text = ""
            ends = clause.text.rstrip().endswith(":")
            long = len(clause.text.split()) > _ITEM
            if ends or long or clause.hidden:
                self._text, self._under = (clause.text if ends and not clause.hidden else ""), clause.headings
                return ""
        return self._text

    def _carry_unit(self, clause: Clause) -> None:
        if clause.article != self._article:
            self.unit, self._article = "", clause.article
        text = clause.text
        if (
            not clause.hidden
            and clause.table is None
            and len(text) <= _LONGEST_NOTE
            and _OF_PRESSURES.search(text)
        ):
            unit = unit_given(plain(text).rstrip(" ."))
            self.unit = unit if kind_of_unit(unit) == "pressure" else self.unit


_LONGEST_NOTE = 200
"""Characters of a paragraph that says the unit of those beside it."""
_OF_PRESSURES = lazily(
    r"^(?:(?:net|design|wind|uplift|roof|all|the|these|zone|values?|figures?|of|and|allowable|ultimate)\s){0,5}"
    r"(?:pressures?|loads?|uplift|values?|figures?)\b[^.\d]*\bin\s",
    re.IGNORECASE,
)
_NUMBER = lazily(r"\d")
_TERM = lazily(
    r"\W*(?:warranty\s|guarantee\s)?(?:term|period|duration|length)\b\s?(?:[:=-]|is\b|of\b)",
    re.IGNORECASE,
    needs="duration|length|period|term",
)
"""A sentence of how long what the one before it names lasts: "Type: Weathertight. Term: 20 years."."""
_BY_SUBJECT = frozenset(["parts"])
"""Kinds that a paragraph's own title gives its later sentences; in the first its subject tells them."""
_LONGEST_LABEL = 80
_ITEM, _LEAD, _BARE = 16, 45, 6
"""Words: at most in an item that is read with what leads to it; in the words that lead; in an item that is read
with its article's title alone."""


def sentences_of(section: Section, clause: Clause, lead: str = "", carried: str = "") -> Iterator[Sentence]:
    """The sentences of a paragraph. `lead` is the text that leads to the list it is an item of; `carried` the unit that
    a paragraph beside it gives to the numbers behind its zones."""
    written = clause.text[:LONGEST]
    text, marks = find_marks(_without_struck(plain(written), clause))
    above = headings_of(section, clause)
    if lead:
        above = (*above, heading(lead))
    body = _body_above(above)
    title = title_of(text) if ":" in text else ""
    submit = frozenset(["submittals"]) if lead.lstrip().casefold().startswith("submit") else frozenset()
    last: tuple[int, int] | None = None
    for start, end in sentences(text):
        own = title_of(text[start:end].strip()) if start else ""
        kinds = kinds_of(section, clause, own if ":" in text[start:end] and own else title_of(text)) | submit
        if not start:
            kinds -= _BY_SUBJECT - kinds_of(section, clause, "")
        under = (*above, heading(title)) if title and start else above
        if last and _TERM.match(text, start, end):
            under = (*under, heading(text[last[0] : last[1]].strip()))
        last = (start, end)
        before = _lead_words(clause, lead) if start == 0 and text.count(" ", start, end) < _ITEM else ""
        whole, shift, all_marks = text, 0, marks
        if before:
            whole, all_marks = find_marks(before + text[start:end])
            shift = len(before)
        lead_lexemes = _lead_lexemes(before, body) if before else ()
        first = len(lead_lexemes)
        lexemes = [*lead_lexemes]
        lexemes += lex(whole, shift or start, len(whole) if before else end, all_marks, body)
        if (named := _ZONE_NAMED.match(whole, shift or start)) and _BY_ZONE.search(before):
            lexemes[first:] = _named_zone(lexemes[first:], named)
        unit = unit_given(before) if before and _NUMBER.search(text, start, end) else ""
        if not unit and carried and any(lexeme.kind == "zone" for lexeme in lexemes[first:]):
            unit = carried
        if unit:
            lexemes = with_unit(whole, lexemes, first, unit)
        elif (label := _label(whole, shift or start)) and (unit := unit_given(label, labelled=True)):
            begin = (shift or start) + len(label)
            own_first = next((at for at, one in enumerate(lexemes) if one.start > begin), len(lexemes))
            lexemes = with_unit(whole, lexemes, own_first, unit)
        line = line_of(lexemes)
        if not line.items:
            continue
        if "standards" in kinds and lists_standards(line):
            kinds |= {"references"}
        said = said_kinds(line, lexemes, line.item_of(first) if first else 0)
        yield Sentence(
            clause,
            section,
            whole,
            written[start:end].strip(),
            tuple(lexemes),
            line,
            kinds,
            under,
            all_marks,
            _tracked(clause, start, end),
            start,
            first,
            said=said,
        )


_BY_ZONE = lazily(r"\bzones?\b(?![^:]*\d)", re.IGNORECASE)
_ZONE_NAMED = lazily(r"(?:[A-EP]|[1-5]\s?(?:'|prime)?\s?(?:[enr]|oh)?)(?=\s?(?::|=|-\s|,))", re.IGNORECASE)


def _named_zone(lexemes: list[Lexeme], named: re.Match[str]) -> list[Lexeme]:
    """An item's tokens, of which the first are the name of a zone in a list by zone: "A: 31 psf"."""
    rest = [lexeme for lexeme in lexemes if lexeme.start >= named.end()]
    return [Lexeme("zone", f"zone {named.group().casefold()}", named.start(), named.end()), *rest]


def _label(text: str, at: int) -> str:
    """A sentence's label before its colon, where a number stands behind it: "Clip spacing, in inches"."""
    colon = text.find(":", at, at + _LONGEST_LABEL)
    if colon < 0 or not _NUMBER.search(text, colon):
        return ""
    return text[at:colon]


@lru_cache(maxsize=256)
def _lead_lexemes(words: str, body: str) -> tuple[Lexeme, ...]:
    text, marks = find_marks(words)
    return tuple(lex(text, 0, len(text), marks, body))


def _lead_words(clause: Clause, lead: str) -> str:
    """The last sentence of what stands right above an item, to be read together with it."""
    last = lead or (clause.headings[-1] if len(clause.headings) > 1 else "")
    if not last or (not lead and len(clause.headings) == 2 and len(clause.text.split()) > _BARE):
        return ""
    smooth = plain(last)
    cut = sentences(smooth)
    words = smooth[cut[-1][0] : cut[-1][1]].strip().rstrip(":;.,- ") if cut else ""
    return f"{words}: " if 0 < len(words.split()) <= _LEAD else ""


def headings_of(section: Section, clause: Clause) -> tuple[Heading, ...]:
    """What stands above a clause, the section's title first."""
    return _headings((section.title, *clause.headings))


@lru_cache(maxsize=1024)
def _headings(texts: tuple[str, ...]) -> tuple[Heading, ...]:
    return tuple(heading(text) for text in texts if text)


def kinds_of(section: Section, clause: Clause, own: str) -> frozenset[str]:
    """The article kinds of a clause."""
    return _kinds(clause.article, clause.headings, own, clause.part)


@lru_cache(maxsize=4096)
def _kinds(article: str, headings: tuple[str, ...], own: str, part: int) -> frozenset[str]:
    return article_kinds(article, headings, own, part)


_BODIES: Mapping[tuple[str, ...], str] = {("underwriter", "laboratory"): "UL", ("factory", "mutual"): "FM"}


def _body_above(above: tuple[Heading, ...]) -> str:
    """The standards body that a heading names alone ("ASTM INTERNATIONAL (ASTM)")."""
    for head in reversed(above[-2:]):
        if len(head.line.items) <= 12:
            for body in ("astm", "ul", "fm", "aama", "tas"):
                if body in head.line.items:
                    return body.upper()
            if head.line.items[:2] in _BODIES:
                return _BODIES[head.line.items[:2]]
    return ""


def _without_struck(text: str, clause: Clause) -> str:
    for span in clause.spans:
        if span.kind == "struck":
            text = text[: span.start] + " " * (span.end - span.start) + text[span.end :]
    return text


def _tracked(clause: Clause, start: int, end: int) -> bool:
    inserted = [span for span in clause.spans if span.kind == "inserted"]
    if inserted:
        return any(span.start < end and span.end > start for span in inserted)
    return bool(clause.deleted) or "tracked change" in clause.flags
