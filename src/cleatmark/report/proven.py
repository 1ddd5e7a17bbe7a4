"""What would make it comply, what a pass rests on, and what came of an earlier review."""

from __future__ import annotations

from cleatmark.report.blocks import Block, Bullets, Heading, Paragraph, Span, Spans, plain
from cleatmark.review.model import Remedy, Review

REMEDIES = "What would make it comply"
ASK_FIRST = (
    "Ask first for the report that covers the assembly as proposed: it may exist. Otherwise the smallest sets of "
    "changes that turn a finding follow, each proven by judging the changed submittal again."
)
RESTS_ON = "What the pass rests on"
EARLIER = "Since the earlier review"
STATES = {
    "answered": "Answered",
    "stands": "Stands",
    "changed": "Changed",
    "new": "New",
    "no longer reviewed": "No longer reviewed",
}
FEW = 3
"""So many still open findings are named; more are counted."""


def remedies(review: Review) -> list[Block]:
    """The proven sets of changes, smallest first."""
    if not review.remedies:
        return []
    titles = {finding.rule: finding.title for finding in review.findings}
    sets = tuple(_set(remedy, titles) for remedy in review.remedies)
    made: list[Block] = [Heading(REMEDIES), Paragraph(plain(ASK_FIRST)), Bullets(sets, numbered=True)]
    steer = _steer(review)
    return [*made, Paragraph(plain(steer))] if steer else made


STEER = {
    "seam opened": "the seam opened: larger or more screws would not raise what was shown; seam and clip spacing would",
    "clip released": "the clip let go of the seam: another clip or a tighter spacing would raise what was shown",
    "fastener pulled out": "the fastener pulled out: size, penetration and count would raise what was shown",
    "fastener pulled over": "the fastener pulled over: head, washer and clip thickness would raise what was shown",
    "panel buckled": "the panel buckled: thickness and a narrower panel would raise what was shown",
    "deck failed": "the deck failed: a stronger deck or its attachment would raise what was shown, the panel would not",
}


def _steer(review: Review) -> str:
    """What the failure modes of the tested reports say of the way to more resistance."""
    modes = dict.fromkeys(
        run.failure_mode for paper in review.evidence if paper.kind == "tested report" for run in paper.runs
    )
    told = [STEER[mode] for mode in modes if mode in STEER]
    return (
        f"By the tests at hand {'; '.join(told)}. Another specimen has to be tested to show it."
        if told
        else ""
    )


def _set(remedy: Remedy, titles: dict[str, str]) -> Spans:
    changes = []
    for change in remedy.changes:
        zones = f" ({', '.join(change.zones)})" if len(change.zones) == 1 else ""
        if change.to == "on contract documents":
            changes.append(f"confirm: {change.title}")
        else:
            changes.append(f"{change.title} {change.to}{zones}, now {change.before}")
    open_ = [titles.get(rule, rule) for rule in remedy.leaves]
    turned = ", ".join(titles.get(rule, rule) for rule in remedy.turns)
    if not open_:
        rest = "Nothing is left open."
    elif len(open_) <= FEW:
        rest = f"Still open: {', '.join(open_)}."
    else:
        rest = f"Still open: {len(open_)} others."
    return (Span(f"{'; '.join(changes)}.", "strong"), Span(f" Then these comply: {turned}. {rest}"))


def rests_on(review: Review, full: bool) -> list[Block]:
    """The single changes that would turn what complies now. In short only where nothing is open."""
    open_ = any(finding.verdict in ("deviates", "not shown") for finding in review.findings)
    if not review.tipping_points or (open_ and not full):
        return []
    return [Heading(RESTS_ON), Bullets(tuple(plain(point.message) for point in review.tipping_points))]


def earlier(review: Review) -> list[Block]:
    """What was answered, what stands, what is new."""
    if not review.earlier:
        return []
    lines = []
    for row in review.earlier:
        change = f": {row.before}, now {row.now}" if row.before != row.now else f": {row.now}"
        lines.append((Span(f"{STATES.get(row.state, row.state)}: ", "strong"), Span(f"{row.title}{change}.")))
    return [Heading(EARLIER), Bullets(tuple(lines))]
