"""The field sheet: a page a roof for the installer, with the parts and spacings as tested, zone by zone."""

from __future__ import annotations

import os
from collections.abc import Iterable

from cleatmark.report import words
from cleatmark.report.blocks import (
    Block,
    Box,
    Column,
    Heading,
    Pairs,
    Paragraph,
    Picture,
    Row,
    Span,
    Spans,
    Table,
    plain,
)
from cleatmark.report.cautions import cautions
from cleatmark.report.figures import NONE
from cleatmark.report.head import head
from cleatmark.report.saving import save
from cleatmark.report.tested_parts import PARTS, as_tested, run_of, shown, tested_parts
from cleatmark.report.widths import shares
from cleatmark.review.model import ConditionRow, Review, ZoneRow

FIELD_SHEET = "Field sheet"
ROOM, TABLE, ROW, LINE = 168, 11, 4.8, 2.6
"""In mm: what a Letter page leaves beside title and cautions; a table's heads, a row of one line, each further line."""
LOWEST, HIGHEST = 22, 90
"""A plan that would be lower has the next page to itself."""
LETTERS = 100
"""So many letters stand beside each other in a table."""
_HIDDEN = (
    ("Deck fastening", "the underlayment"),
    ("Deck joints", "the underlayment"),
    ("Clip", "the next panel"),
    ("Screws per clip", "the next panel"),
    ("Penetration", "the next panel"),
)
"""What the next layer hides. Common practice, no source."""


def field_sheet(review: Review) -> tuple[Block, ...]:
    """The sheet's blocks: each roof begins a page."""
    roofs = list(dict.fromkeys(row.roof for row in review.zones))
    if not roofs:
        return (
            Heading(FIELD_SHEET),
            Pairs(head(review)),
            Paragraph(plain(words.NO_ZONES)),
            _cautions(review),
        )
    made: list[Block] = []
    for n, roof in enumerate(roofs):
        made += _roof(review, roof, new_page=n > 0, alone=len(roofs) == 1)
    return tuple(made)


def field_sheet_bytes(review: Review, paper: str = "Letter") -> bytes:
    """The field sheet as the bytes of a DOCX; `paper` is Letter or A4."""
    from cleatmark.report.docx_report import bytes_of

    return bytes_of(FIELD_SHEET, field_sheet(review), review, paper)


def write_field_sheet(review: Review, path: str | os.PathLike[str], paper: str = "Letter") -> None:
    """Write the field sheet as DOCX, whole or not at all. InputError where it cannot be written."""
    save(field_sheet_bytes(review, paper), path)


def _roof(review: Review, roof: str, new_page: bool, alone: bool) -> list[Block]:
    zones = [row for row in review.zones if row.roof == roof]
    made: list[Block] = [
        Heading(f"{FIELD_SHEET}: {roof}" if roof else FIELD_SHEET, 2, "", new_page),
        Pairs(tuple(row for row in head(review) if row[0] == "Submittal")),
    ]
    warning = _warning(review, zones)
    if warning:
        made.append(Box("Do not build from this sheet yet", warning))
    made += tested_parts(review, zones)
    looked_at = _looked_at(review, zones)
    if looked_at.rows:
        made.append(looked_at)
    plans = [plan for plan in review.plans if plan.roof == roof]
    high = _left(made)
    high = high if high >= LOWEST else HIGHEST
    made.append(_cautions(review))
    made += [Picture(plan, high, close=True) for plan in plans or (review.plans if alone else ())]
    return made


def _left(made: Iterable[Block]) -> int:
    """About how high a plan may be, in mm, so that the sheet stays on its page."""
    used = 0.0
    for block in made:
        if isinstance(block, Table):
            widths = shares(block, LETTERS)
            used += TABLE + ROW * len(block.rows)
            for row in block.rows:
                lengths = [len("".join(span.text for span in cell).strip()) for cell in row.cells]
                used += LINE * max(n // wide for n, wide in zip(lengths, widths, strict=True))
        elif isinstance(block, Box):
            used += ROW * (
                1 + sum(1 + sum(len(span.text) for span in item) // LETTERS for item in block.items)
            )
    return min(HIGHEST, int(ROOM - used))


def _cautions(review: Review) -> Paragraph:
    """In one paragraph, to leave the page to the sheet."""
    told = (Span(f"{words.CAUTIONS}. ", "strong"), *plain(" ".join(cautions(review))))
    return Paragraph(told, small=True)


def _warning(review: Review, zones: Iterable[ZoneRow]) -> tuple[Spans, ...]:
    """Why the sheet is not to be built from; nothing where both answers are good and every zone is shown."""
    lines = []
    for key, question in (("asked", words.ASKED), ("site", words.SITE)):
        verdict = review.answers.get(key, "not reviewed")
        if verdict not in ("complies", "not reviewed") or (key == "site" and verdict != "complies"):
            lines.append(
                plain(f"{question} {words.ANSWERS.get(verdict, verdict)}. {review.reasons.get(key, '')}")
            )
    held = [row.zone for row in zones if not shown(row)]
    if held:
        lines.append(plain(f"Not shown to hold: {', '.join(held)}."))
    return tuple(lines)


def _looked_at(review: Review, zones: list[ZoneRow]) -> Table:
    columns = (
        Column("To be looked at"),
        Column("Before it is covered by"),
        Column("By whom, and when"),
    )
    rows = []
    documents = {row.document for row in zones if row.document}
    conditioned: set[str] = set()
    for paper in review.evidence:
        if paper.id in documents or not documents:
            rows += [_condition(paper.id, condition) for condition in paper.conditions]
            conditioned |= {condition.field for condition in paper.conditions}
    fields = dict(PARTS)
    for title, cover in _HIDDEN:
        found = {as_tested(run_of(review, row), fields[title]) for row in zones if shown(row)} - {""}
        if found and not conditioned & {path for path, _ in fields[title]}:
            text = (
                f"{title}: {' or '.join(sorted(found))}, by zone as above"
                if len(found) > 1
                else f"{title}: {found.pop()}"
            )
            rows.append(Row((plain(text), plain(f"{cover} *"), plain("\u00a0" * 28))))
    return Table("To be looked at before it is covered (* common practice)", columns, tuple(rows))


def _condition(document: str, condition: ConditionRow) -> Row:
    state = "" if condition.state == "on contract documents" else f" ({condition.state})"
    text = f"{document}: {condition.text}{state}"
    return Row(
        (
            plain(text, "strong" if condition.unusual else ""),
            plain(condition.hidden_after or NONE),
            plain("\u00a0" * 28),
        )
    )
