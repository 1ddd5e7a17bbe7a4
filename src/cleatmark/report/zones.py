"""Roof zones: demand beside what was shown, or why a zone is refused."""

from __future__ import annotations

from cleatmark.report import words
from cleatmark.report.blocks import Block, Column, Heading, Paragraph, Picture, Row, Span, Spans, Table, plain
from cleatmark.report.figures import LEVELS, NBSP, Figures, percent
from cleatmark.review.model import Review, ZoneRow


def zones(review: Review) -> list[Block]:
    """The zones table, below it the zone that is used most, and the plans."""
    plans = [Picture(plan) for plan in review.plans]
    made: list[Block] = [Heading(words.ZONES)]
    if not review.zones:
        return [*made, Paragraph(plain(words.NO_ZONES)), *plans]
    figures = Figures(review.job.units)
    levels = {row.level for row in review.zones}
    roofs = {row.roof for row in review.zones}
    shared = LEVELS.get(*levels, *levels) if len(levels) == 1 else ""
    columns = [
        *([Column("Roof")] if len(roofs) > 1 else []),
        Column("Zone"),
        Column(f"Area, {figures.area_unit}", True),
        *([Column("Level")] if not shared else []),
        Column(f"Demand, {figures.pressure_unit}", True),
        Column(f"Allowable, {figures.pressure_unit}", True),
        Column("Used", True),
        Column(f"Clips at, {figures.length_unit}", True),
        Column("Shown by"),
    ]
    rows = []
    for n, row in enumerate(review.zones, 1):
        cells = [
            *([plain(row.roof)] if len(roofs) > 1 else []),
            plain(row.zone),
            plain(figures.area(row.area_sqft)),
            *([plain(LEVELS.get(row.level, row.level) or "not stated")] if not shared else []),
            plain(figures.pressure(row.required_psf, row.allowable_psf)),
            plain(figures.pressure(row.allowable_psf, row.required_psf)),
            plain(percent(row.ratio), "strong" if row.ratio is not None and row.ratio > 1 else ""),
            plain(figures.length(row.clip_spacing_in)),
            _shown_by(row),
        ]
        rows.append(Row(tuple(cells), f"zone-{n}"))
    roof = next(iter(roofs)) if len(roofs) == 1 else ""
    caption = ", ".join(part for part in (roof, "uplift as positive magnitudes", shared) if part)
    made.append(Table(caption[:1].upper() + caption[1:], tuple(columns), tuple(rows)))
    rated = [row for row in review.zones if row.ratio is not None]
    if rated:
        worst = max(rated, key=lambda row: row.ratio or 0.0)
        place = ", ".join(part for part in (worst.roof, worst.zone) if part)
        made.append(Paragraph(plain(f"Most used: {place}: {figures.zone(worst)}.")))
    return [*made, *plans]


def _shown_by(row: ZoneRow) -> Spans:
    run = f", run{NBSP}{row.run}" if row.run else ""
    shown = f"{row.document}{run}" if row.document else ""
    if row.refused:
        return (Span("Refused: ", "strong"), Span(row.refused))
    if row.verdict == "deviates":
        return (*plain("Deviates", "strong"), *plain(f": {shown}" if shown else ""))
    return plain(shown) or plain("not shown")
