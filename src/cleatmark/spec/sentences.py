"""A clause as the sentences and table rows that readings are applied to, each with what stands above it."""

from __future__ import annotations

from collections.abc import Iterator
from functools import lru_cache

from msgspec import Struct

from cleatmark.spec.clauses import Clause, Section
from cleatmark.spec.context import Heading, article_kinds, heading, said_kinds, title_of
from cleatmark.spec.lexemes import Lexeme, lex
from cleatmark.spec.marks import Mark, find_marks
from cleatmark.spec.pattern import Line, line_of
from cleatmark.spec.wording import plain, sentences

LONGEST = 20_000
"""Characters of one paragraph that are read. More is not a paragraph of a specification."""


class Sentence(Struct, frozen=True):
    """One sentence, or one table row as a sentence, with its tokens and what it stands under.

    text  the clause's plain text that the tokens index; `quote` the sentence as written
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
    own: str = ""


def sentences_of(section: Section, clause: Clause) -> Iterator[Sentence]:
    """The sentences of a paragraph."""
    written = clause.text[:LONGEST]
    text, marks = find_marks(_without_struck(plain(written), clause))
    above = headings_of(section, clause)
    body = _body_above(above)
    own = title_of(text)
    kinds = kinds_of(section, clause, own)
    for start, end in sentences(text):
        lexemes = lex(text, start, end, marks, body)
        line = line_of(lexemes)
        if not line.items:
            continue
        first = line.items[0]
        now = kinds | said_kinds(line.atoms)
        if first in ("submit", "submission"):
            now |= {"submittals"}
        yield Sentence(
            clause, section, text, written[start:end].strip(), tuple(lexemes), line, now, above, marks,
            _tracked(clause, start, end), start, own,
        )  # fmt: skip


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


def _body_above(above: tuple[Heading, ...]) -> str:
    """The standards body that a heading names alone ("ASTM INTERNATIONAL (ASTM)")."""
    for head in reversed(above[-2:]):
        if len(head.line.items) <= 6 and "astm" in head.line.items:
            return "ASTM"
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
