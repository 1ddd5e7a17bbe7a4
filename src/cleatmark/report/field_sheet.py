"""The field sheet: a page a roof for the installer, with the parts and spacings as tested, zone by zone."""

from __future__ import annotations

import os
from collections.abc import Iterable

from cleatmark.report import words
from cleatmark.report.blocks import (
    Block,
    Box,
    Bullets,
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
from cleatmark.report.figures import NBSP, NONE, Figures
from cleatmark.report.head import head
from cleatmark.report.saving import save
from cleatmark.review.model import ConditionRow, Difference, Review, RunRow, ZoneRow

FIELD_SHEET = "Field sheet"
ZONES_ABREAST = 5

PARTS = (
    ("Panel", ("panel.profile", "panel.material", "panel.thickness", "panel.width")),
    ("Seam", ("panel.seam_type", "panel.seam_height", "panel.seam_sealant")),
    ("Clip", ("clip.model", "clip.type", "clip.thickness", "clip.length")),
    ("Bearing plate", ("clip.bearing_plate",)),
    ("Screw", ("fastener.size", "fastener.type")),
    ("Screw length", ("fastener.length",)),
    ("Thread", ("fastener.thread",)),
    ("Head", ("fastener.head", "fastener.washer")),
    ("Screws per clip", ("fastener.count",)),
    ("Penetration", ("fastener.penetration",)),
    ("Deck", ("deck.type", "deck.thickness")),
    ("Deck attachment", ("deck.attachment", "deck.fastener_spacing")),
    ("Deck joints", ("deck.joints", "deck.edges")),
    ("Supports", ("support.type", "support.spacing", "support.thickness")),
    ("Insulation", ("insulation.type", "insulation.thickness")),
    ("Underlayment", ("underlayment.type",)),
    ("Air sealing", ("air_seal.type",)),
)
"""What the installer needs of a run, in the order in which it is built up, by field."""

_HIDDEN = (
    ("Deck attachment", "the underlayment"),
    ("Deck joints", "the underlayment"),
    ("Clip", "the next panel"),
    ("Screws per clip", "the next panel"),
    ("Penetration", "the next panel"),
)
"""What the next layer hides. Common practice, no source."""


def field_sheet(review: Review) -> tuple[Block, ...]:
    """The sheet's blocks: each roof begins a page."""
    made: list[Block] = [Heading(FIELD_SHEET, 1, "top")]
    roofs = list(dict.fromkeys(row.roof for row in review.zones))
    if not roofs:
        made += [Pairs(head(review)), Paragraph(plain(words.NO_ZONES))]
    for n, roof in enumerate(roofs):
        made += _roof(review, roof, new_page=n > 0)
    return tuple(made)


def field_sheet_bytes(review: Review, paper: str = "Letter") -> bytes:
    """The field sheet as the bytes of a DOCX; `paper` is Letter or A4."""
    from cleatmark.report.docx_report import bytes_of

    return bytes_of(FIELD_SHEET, field_sheet(review), review, paper)


def write_field_sheet(review: Review, path: str | os.PathLike[str], paper: str = "Letter") -> None:
    """Write the field sheet as DOCX, whole or not at all. InputError where it cannot be written."""
    save(field_sheet_bytes(review, paper), path)


def _roof(review: Review, roof: str, new_page: bool) -> list[Block]:
    zones = [row for row in review.zones if row.roof == roof]
    kept = ("Job", "Section", "Submittal", "Reviewed")
    made: list[Block] = [
        Heading(f"{roof[:1].upper()}{roof[1:]}" or "Roof", 2, "", new_page),
        Pairs(tuple(row for row in head(review) if row[0] in kept)),
    ]
    warning = _warning(review, zones)
    if warning:
        made.append(Box("Do not build from this sheet yet", warning))
    made += [Picture(plan) for plan in review.plans if plan.roof in ("", roof)]
    for start in range(0, len(zones), ZONES_ABREAST):
        made.append(_parts(review, zones[start : start + ZONES_ABREAST]))
    looked_at = _looked_at(review, zones)
    if looked_at.rows:
        made.append(looked_at)
    made += [Heading(words.CAUTIONS, 3), Bullets(tuple(plain(caution) for caution in cautions(review)))]
    return made


def _warning(review: Review, zones: Iterable[ZoneRow]) -> tuple[Spans, ...]:
    """Why the sheet is not to be built from; nothing where both answers are good and every zone is shown."""
    lines = []
    for key, question in (("asked", words.ASKED), ("site", words.SITE)):
        verdict = review.answers.get(key, "not reviewed")
        if verdict not in ("complies", "not reviewed") or (key == "site" and verdict != "complies"):
            lines.append(
                plain(f"{question} {words.ANSWERS.get(verdict, verdict)}. {review.reasons.get(key, '')}")
            )
    held = [row.zone for row in zones if not _shown(row)]
    if held:
        lines.append(plain(f"Not shown to hold: {', '.join(held)}."))
    return tuple(lines)


def _shown(row: ZoneRow) -> bool:
    return not row.refused and row.verdict == "complies" and bool(row.document)


def _run(review: Review, row: ZoneRow) -> RunRow | None:
    for paper in review.evidence:
        if paper.id == row.document:
            return next((run for run in paper.runs if run.run == row.run), None)
    return None


def _as_tested(run: RunRow | None, fields: Iterable[str]) -> str:
    """The run's own values, for what was tested is what holds; the proposal's beside them where it differs."""
    if run is None:
        return ""
    rows = {difference.field: difference for difference in run.differences}
    return ", ".join(_value(rows[field]) for field in fields if field in rows and rows[field].tested)


def _value(row: Difference) -> str:
    apart = row.proposed and row.verdict != "same" and row.proposed != row.tested
    return f"{row.tested} (proposed: {row.proposed})" if apart else row.tested


def _parts(review: Review, zones: list[ZoneRow]) -> Table:
    figures = Figures(review.job.units)
    runs = [_run(review, row) if _shown(row) else None for row in zones]
    rows = [
        _zone_row(
            "Clips at",
            [
                figures.with_unit(figures.length(row.clip_spacing_in), figures.length_unit)
                if _shown(row)
                else "not shown"
                for row in zones
            ],
            "strong",
        )
    ]
    for title, fields in PARTS:
        told = [_as_tested(run, fields) for run in runs]
        if any(told):
            rows.append(_zone_row(title, [one or NONE for one in told]))
    rows.append(_zone_row("Holds", [_holds(row, figures) for row in zones]))
    rows.append(_zone_row("Shown by", [_source(row, run) for row, run in zip(zones, runs, strict=True)]))
    columns = (Column("As tested"), *(Column(row.zone) for row in zones))
    return Table("Parts and spacings by roof zone, as tested", columns, tuple(rows))


def _zone_row(title: str, told: list[str], style: str = "") -> Row:
    return Row(((Span(title, "strong"),), *(plain(one, style) for one in told)))


def _holds(row: ZoneRow, figures: Figures) -> str:
    if not _shown(row):
        return row.refused or "not shown"
    demand = figures.with_unit(figures.pressure(row.required_psf, row.allowable_psf), figures.pressure_unit)
    allowed = figures.with_unit(figures.pressure(row.allowable_psf, row.required_psf), figures.pressure_unit)
    return f"{allowed} for {demand}"


def _source(row: ZoneRow, run: RunRow | None) -> str:
    if run is None:
        return NONE
    page = f", page{NBSP}{run.page}" if run.page else ""
    return f"{row.document}, run{NBSP}{run.run}{page}"


def _looked_at(review: Review, zones: list[ZoneRow]) -> Table:
    columns = (
        Column("To be looked at"),
        Column("Before it is covered by"),
        Column("By whom, and when"),
    )
    rows = []
    documents = {row.document for row in zones if row.document}
    for paper in review.evidence:
        if paper.id in documents or not documents:
            rows += [_condition(paper.id, condition) for condition in paper.conditions]
    fields = dict(PARTS)
    for title, cover in _HIDDEN:
        found = {_as_tested(_run(review, row), fields[title]) for row in zones if _shown(row)} - {""}
        if found:
            text = (
                f"{title}: {' or '.join(sorted(found))}, by zone as above"
                if len(found) > 1
                else f"{title}: {found.pop()}"
            )
            rows.append(Row((plain(text), plain(f"{cover} (common practice)"), plain("\u00a0" * 28))))
    return Table("To be looked at before it is covered", columns, tuple(rows))


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
