"""What would have to be done in the field for a listing to hold: told before anything else."""

from __future__ import annotations

from cleatmark.report.blocks import Block, Bullets, Heading, Paragraph, Span, Spans, plain
from cleatmark.report.papers import FEW_USUAL
from cleatmark.review.model import ConditionRow, Evidence, Review

TITLE = "For the listing to hold, in the field"
BUILT = "on contract documents"
LISTINGS = ("holder's listing", "blanket listing")


def opening(review: Review) -> list[Block]:
    """For each listing the conditions that no contract document shows, with quantities, and what covers them up."""
    made: list[Block] = []
    for paper in review.evidence:
        open_ = [row for row in paper.conditions if row.state != BUILT]
        if paper.kind in LISTINGS and open_:
            made += [Paragraph(plain(_lead(paper, len(open_)))), Bullets(tuple(_line(row) for row in open_))]
    return [Heading(TITLE), *made] if made else []


def _lead(paper: Evidence, count: int) -> str:
    offered = f", offered as {_article(paper.offered_as)}" if paper.offered_as not in ("", paper.kind) else ""
    conditions = "one condition" if count == 1 else f"{count} conditions"
    return (
        f"{paper.id} is a {paper.kind}{offered}. It holds only if it is built as listed; {conditions} of "
        f"{len(paper.conditions)} {'is' if count == 1 else 'are'} not on the contract documents:"
    )


def _article(words: str) -> str:
    return f"{'an' if words[:1] in 'aeiou' else 'a'} {words}"


def _line(row: ConditionRow) -> Spans:
    where = f" ({row.where})" if row.where else ""
    parts = [f"{row.state}{where}"]
    if row.unusual:
        few = " or ".join(row.usual.split(", ")[:FEW_USUAL])
        parts.append(f"unusual: {few} is usual" if few else "unusual")
    if row.trade:
        parts.append(
            f"by the {row.trade} trade" if row.trade in ("deck", "insulation") else f"by the {row.trade}"
        )
    if row.quantity:
        parts.append(row.quantity)
    if row.hidden_after:
        parts.append(f"covered by the {row.hidden_after}: to be looked at before")
    return (Span(f"{row.text.rstrip('.')}: ", "strong"), Span(f"{'; '.join(parts)}."))
