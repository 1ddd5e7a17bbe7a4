"""From paragraphs to clauses: headings, body text, notes and tables, each with its address on paper."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import structs

from cleatmark.spec.blocks import Block, Grid, Paragraph
from cleatmark.spec.clauses import Clause, Span, Table
from cleatmark.spec.fitting import fitted
from cleatmark.spec.labels import Label, automatic, typed
from cleatmark.spec.lazy import lazily
from cleatmark.spec.levels import Levels, Open
from cleatmark.spec.notes import is_note, is_row_of_asterisks, opens_note

NOT_USED = lazily(
    r"[\[(]*\s*(?:(?:sub)?paragraph\s+|article\s+|section\s+)?(?:not\s+used|reserved|deleted|omitted|void"
    r"|not\s+applicable|intentionally\s+(?:left\s+blank|omitted|deleted))\s*[\])]*\s*\.?\s*\Z",
    re.I,
)
END = lazily(r"[\s*-]*END\s+OF\s+(?:THE\s+)?SECTION\b", re.I)
_CAPTION = lazily(r"table\s+(?:no\.?\s*)?(?:\d|[A-Z]\b|[IVX]+\b)", re.I)
_CONNECTIVES = frozenset(("OR", "AND", "-OR-", "--OR--", "AND/OR", "EITHER"))
_LONGEST_NOTE = 40


class Outline:
    """Turns the blocks of one section into clauses. `first` is the ordinal of the first."""

    def __init__(self, section: str, first: int = 0) -> None:
        self._section, self._first = section, first
        self._levels = Levels()
        self._clauses: list[Clause] = []
        self._note_until = -1
        self._above: Clause | None = None

    def clauses(self, blocks: Sequence[Block]) -> list[Clause]:
        for at, block in enumerate(blocks):
            if isinstance(block, Grid):
                self._table(block)
            else:
                self._paragraph(block, blocks, at)
        return self._clauses

    def _paragraph(self, paragraph: Paragraph, blocks: Sequence[Block], at: int) -> None:
        words = paragraph.words
        if not words.raw or words.raw.isspace():
            if paragraph.deleted:
                self._gone(paragraph)
            return
        lead = "" if paragraph.hidden else words.raw.lstrip()[0]
        if lead == "*" and is_row_of_asterisks(words.raw):
            self._asterisks(blocks, at)
            return
        if lead and lead in "Ee*-" and END.match(words.raw):
            self._levels.open.clear()
            return
        number = paragraph.number
        counted = number is not None and number.counts
        label: Label | None = None
        if number is not None and counted:
            label = automatic(number.label, number.value)
        elif lead:
            label = typed(words.raw)
            if label is not None and paragraph.centered and label.form != "part" and not label.numeric:
                label = None
            label = fitted(label, self._levels.open, self._levels.part) if label is not None else None
        text, spans = words.folded(label.end if label is not None else 0)
        fixed = number.label if number is not None and not counted else ""
        if fixed:
            text, spans = _prefixed(fixed, text, spans)
        guidance = bool(
            paragraph.hidden
            or at <= self._note_until
            or paragraph.style.note
            or ((paragraph.guide or fixed) and is_note(text, label is not None, paragraph.look))
        )
        left = paragraph.left or 0
        if label is not None and (counted or not guidance):
            place = (number.list, number.level) if number is not None and counted else None
            opened = self._levels.enter(label, place, left, text)
            self._add(opened, label.shown, text, paragraph, spans, guidance, opened.trail[:-1], opened.level)
        elif guidance:
            shown = label.shown if label is not None else ""
            self._add(self._deepest(), shown, text, paragraph, spans, True)
        elif self._is_heading(paragraph, text):
            outline = paragraph.style.outline if paragraph.style.outline is not None else 9
            opened = self._levels.enter_heading(text, left, outline)
            self._add(opened, "", text, paragraph, spans, False, opened.trail[:-1], opened.level)
        else:
            owner = self._levels.owner(paragraph.style.id, left)
            self._levels.stood_under(owner, paragraph.style.id, left)
            self._add(owner, "", text, paragraph, spans)

    def _deepest(self) -> Open | None:
        return self._levels.open[-1] if self._levels.open else None

    def _gone(self, paragraph: Paragraph) -> None:
        """What a tracked deletion took away whole: no text, no number of its own, but told."""
        label = paragraph.number.label if paragraph.number is not None else ""
        self._add(self._deepest(), label, "", paragraph)

    def _asterisks(self, blocks: Sequence[Block], at: int) -> None:
        """A row of asterisks begins a note where one follows, up to the row that closes it."""
        if at <= self._note_until:
            return
        opened = False
        for ahead in range(at + 1, min(at + 1 + _LONGEST_NOTE, len(blocks))):
            block = blocks[ahead]
            if isinstance(block, Grid) or not block.words.raw.strip():
                continue
            if not opened:
                if not opens_note(block.words.raw):
                    return
                opened = True
            elif is_row_of_asterisks(block.words.raw):
                self._note_until = ahead
                return
            elif block.number is not None and block.number.counts and block.style.outline is not None:
                return

    def _is_heading(self, paragraph: Paragraph, text: str) -> bool:
        if len(text) > 90 or text.endswith((".", ":", ";", ",")) or text in _CONNECTIVES:
            return False
        if paragraph.style.outline is not None and not paragraph.style.caption:
            return len(text) > 2
        capitals = sum(sign.isalpha() for sign in text) > 3 and text == text.upper()
        if not capitals or paragraph.number is not None:
            return False
        if paragraph.centered:
            return True
        if any(sign.isdigit() for sign in text):
            return False
        owner = self._levels.owner(paragraph.style.id, paragraph.left or 0)
        return not self._levels.numbered or owner is None or (owner.heads and owner is self._deepest())

    def _add(
        self,
        owner: Open | None,
        label: str,
        text: str,
        paragraph: Paragraph,
        spans: tuple[Span, ...] = (),
        guidance: bool = False,
        trail: tuple[str, ...] | None = None,
        level: int | None = None,
    ) -> None:
        flags: tuple[str, ...] = ("specifier note",) if guidance else ()
        if paragraph.changed:
            flags = (*flags, "tracked change")
        if paragraph.words.marks and any(mark.kind == "struck" for mark in paragraph.words.marks):
            flags = (*flags, "struck")
        if len(text) < 40 and NOT_USED.match(text):
            flags = (*flags, "not used")
        clause = Clause(
            owner.address if owner is not None else "",
            label,
            level if level is not None else (owner.level + 1 if owner is not None else 0),
            text,
            self._first + len(self._clauses),
            trail if trail is not None else (owner.trail if owner is not None else ()),
            self._levels.part,
            owner.article if owner is not None else "",
            guidance or not (text or label),
            flags,
            paragraph.deleted,
            spans,
            None,
            self._section,
            paragraph.style.name,
        )
        captions = paragraph.style.caption or (text[:1] in "Tt" and bool(_CAPTION.match(text)))
        if captions and self._clauses:
            self._captioned(clause)
        titles = not label and not clause.hidden and len(text) <= 120 and not text.endswith((".", ";"))
        self._above = clause if captions or titles else None
        self._clauses.append(clause)

    def _captioned(self, clause: Clause) -> None:
        """A caption below gives its text to the table right above it that has none."""
        before = self._clauses[-1]
        if before.table is not None and not before.table.caption and len(clause.text) <= 200:
            table = structs.replace(before.table, caption=clause.text)
            self._clauses[-1] = structs.replace(before, table=table)

    def _table(self, grid: Grid) -> None:
        owner = self._deepest()
        caption = self._above.text if self._above is not None else ""
        table: Table = structs.replace(grid.table, caption=caption) if caption else grid.table
        flags = ("tracked change",) if grid.changed else ()
        if grid.struck:
            flags = (*flags, "struck")
        self._clauses.append(
            Clause(
                owner.address if owner is not None else "",
                "",
                owner.level + 1 if owner is not None else 0,
                "",
                self._first + len(self._clauses),
                owner.trail if owner is not None else (),
                self._levels.part,
                owner.article if owner is not None else "",
                flags=flags,
                deleted=grid.deleted,
                table=table,
                section=self._section,
            )
        )
        self._above = None


def _prefixed(word: str, text: str, spans: tuple[Span, ...]) -> tuple[str, tuple[Span, ...]]:
    """The text behind a fixed word that the list prints, and the spans moved to fit."""
    by = len(word) + 1
    moved = tuple(structs.replace(span, start=span.start + by, end=span.end + by) for span in spans)
    return f"{word} {text}", moved
