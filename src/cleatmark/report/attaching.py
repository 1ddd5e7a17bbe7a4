"""The attachment schedule: per zone the widest clip spacing that a test supports, with counts."""

from __future__ import annotations

from collections.abc import Sequence

from cleatmark.report.blocks import Block, Bullets, Column, Heading, Row, Spans, Table, plain
from cleatmark.report.figures import NONE, Figures
from cleatmark.review.model import Attachment, AttachmentRow, Review

TITLE = "Attachment by zone"


def attachment(review: Review) -> list[Block]:
    """A table for each roof, with one spacing everywhere beside it and what the counts leave out."""
    if not review.attachment:
        return []
    figures = Figures(review.job.units)
    made: list[Block] = [Heading(TITLE)]
    shared = _shared(review.attachment)
    for roof in review.attachment:
        made.append(_table(roof, figures))
        made += _beside(roof, figures)
        own = [note for note in roof.notes if note not in shared]
        lines = [*_everywhere(roof, figures), *own]
        made += [Bullets(tuple(plain(line) for line in lines))] if lines else []
    return [*made, Bullets(tuple(plain(note) for note in shared))] if shared else made


def _shared(roofs: Sequence[Attachment]) -> list[str]:
    """The notes that stand below every roof's schedule: they are told once, below the last."""
    return [note for note in roofs[0].notes if all(note in roof.notes for roof in roofs[1:])]


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


def _beside(roof: Attachment, figures: Figures) -> list[Table]:
    """The inward pressure and the screws of each clip, in columns where they are known in some zone."""
    inward = any(row.inward_allowable_psf is not None for row in roof.zones)
    screws = any(row.screw_capacity_lb is not None for row in roof.zones)
    columns, cells = [Column("Zone")], [[plain(row.zone)] for row in roof.zones]
    if inward:
        columns += [
            Column(f"Inward demand, {figures.pressure_unit}", True),
            Column(f"Inward allowable, {figures.pressure_unit}", True),
            Column("Inward"),
        ]
        for made, row in zip(cells, roof.zones, strict=True):
            made += [
                plain(figures.pressure(row.inward_demand_psf, row.inward_allowable_psf)),
                plain(figures.pressure(row.inward_allowable_psf, row.inward_demand_psf)),
                _verdict(row.inward, _other_run(row)),
            ]
    if screws:
        columns += [
            Column(f"Load on a clip, {figures.force_unit}", True),
            Column(f"Its screws carry, {figures.force_unit}", True),
            Column("Screws"),
        ]
        for made, row in zip(cells, roof.zones, strict=True):
            made += [
                plain(figures.force(row.clip_load_lb)),
                plain(figures.force(row.screw_capacity_lb)),
                _verdict(row.screw_check, f"by {row.screw_kind}" if row.screw_kind else ""),
            ]
    if not inward and not screws:
        return []
    shown = " and ".join(
        part for part, there in (("inward pressure", inward), ("screws, advisory", screws)) if there
    )
    caption = f"At the widest spacing: {shown}, allowable-stress level"
    named = f"{roof.roof}: {caption[0].lower()}{caption[1:]}" if roof.roof else caption
    return [Table(named, tuple(columns), tuple(Row(tuple(made)) for made in cells))]


def _verdict(verdict: str, how: str) -> Spans:
    """The verdict, with what it rests on; one that is not good stands out."""
    good = verdict in ("holds", "not shown", "")
    return plain(", ".join(part for part in (verdict or NONE, how) if part), "" if good else "strong")


def _other_run(row: AttachmentRow) -> str:
    """The run that shows the inward pressure, where it is not the one that the uplift is shown by."""
    same = (row.inward_document, row.inward_run) == (row.document, row.run)
    return f"{row.inward_document}, run {row.inward_run}" if row.inward_document and not same else ""


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
