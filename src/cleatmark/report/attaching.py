"""The attachment schedule: per zone the widest clip spacing that a test supports, with counts."""

from __future__ import annotations

from cleatmark.report.blocks import Block, Bullets, Column, Heading, Row, Spans, Table, plain
from cleatmark.report.figures import Figures
from cleatmark.review.model import Attachment, AttachmentRow, Review

TITLE = "Attachment by zone"


def attachment(review: Review) -> list[Block]:
    """A table for each roof, with one spacing everywhere beside it and what the counts leave out."""
    if not review.attachment:
        return []
    figures = Figures(review.job.units)
    made: list[Block] = [Heading(TITLE)]
    for roof in review.attachment:
        made.append(_table(roof, figures))
        made.append(Bullets(tuple(plain(line) for line in (*_everywhere(roof, figures), *roof.notes))))
    return made


def _table(roof: Attachment, figures: Figures) -> Table:
    columns = (
        Column("Zone"),
        Column(f"Proposed, {figures.length_unit}", True),
        Column(f"Widest, {figures.length_unit}", True),
        Column(f"Demand, {figures.pressure_unit}", True),
        Column(f"Allowable, {figures.pressure_unit}", True),
        Column("Clips", True),
        Column("Screws", True),
        Column("Shown by"),
    )
    rows = tuple(Row(_cells(row, figures)) for row in roof.zones)
    caption = "Widest clip spacing that can be built and that a test supports, allowable-stress level"
    return Table(f"{roof.roof}: {caption[0].lower()}{caption[1:]}" if roof.roof else caption, columns, rows)


def _cells(row: AttachmentRow, figures: Figures) -> tuple[Spans, ...]:
    shown = f"{row.document}, run {row.run}" if row.document else row.verdict
    return (
        plain(row.zone),
        plain(figures.length(row.proposed_in)),
        plain(figures.length(row.spacing_in)),
        plain(figures.pressure(row.demand_psf, row.allowable_psf)),
        plain(figures.pressure(row.allowable_psf, row.demand_psf)),
        plain(_count(row.clips)),
        plain(_count(row.screws)),
        plain(shown),
    )


def _count(number: int | None) -> str:
    return f"{number:,}" if number is not None else "—"


def _everywhere(roof: Attachment, figures: Figures) -> list[str]:
    if roof.everywhere_in is None:
        return []
    spacing = f"{figures.length(roof.everywhere_in)} {figures.length_unit}"
    text = f"One spacing everywhere: clips at {spacing} hold in every zone"
    if roof.everywhere_clips is not None and roof.clips is not None:
        text += f", {roof.everywhere_clips:,} clips in place of {roof.clips:,}"
    return [f"{text}."]
