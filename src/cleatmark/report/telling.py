"""One item, told: what is wrong, what was found and required, what to do, what it rests on, what follows."""

from __future__ import annotations

from collections.abc import Iterable

from cleatmark.facts import Citation, Missing
from cleatmark.report import citing, words
from cleatmark.report.blocks import Entry, Span, Spans, joined, plain
from cleatmark.report.citing import Links
from cleatmark.report.items import Item
from cleatmark.review.model import Finding


def entry(item: Item, links: Links, full: bool) -> Entry:
    """The item as a numbered entry. In short all citations flow; in full each kind of source has its line."""
    head = item.head
    lines = [*_outcome(head), *_sources(head, links, full)]
    cited = list(citing.of(head))
    for follower in item.follows:
        lines.append(("Follows", _follower(follower, links, full, cited)))
        cited.extend(citing.of(follower))
    lines.extend(("Follows", plain(f"{title}: told as item {number}.")) for title, number in item.again)
    return Entry(
        item.number,
        titled(item.title, head),
        head.verdict,
        words.ACTIONS.get(item.action, item.action),
        plain(head.message),
        tuple(lines),
        f"item-{item.number}",
    )


def titled(title: str, finding: Finding) -> str:
    """The title with the roof and the zone where the finding is about one."""
    place = ", ".join(part for part in (finding.roof, finding.zone) if part)
    return f"{title} ({place})" if place and place not in title else title


def _outcome(finding: Finding) -> list[tuple[str, Spans]]:
    lines = []
    if finding.found.text and finding.required.text:
        margin = f"; {finding.margin}" if finding.margin else ""
        lines.append(("Found", plain(f"{finding.found.text}; required {finding.required.text}{margin}.")))
    if finding.missing:
        lines.append(("Missing", (*joined([_missing(missing) for missing in finding.missing]), Span("."))))
    if finding.remedy:
        lines.append(("To do", plain(finding.remedy)))
    return lines


def _missing(missing: Missing) -> Spans:
    ask = f", ask {words.addressee(missing.ask)}" if missing.ask else ""
    return plain(f"{missing.title or missing.path} ({missing.reason}{ask})")


def _sources(
    finding: Finding, links: Links, full: bool, but: Iterable[Citation] = ()
) -> list[tuple[str, Spans]]:
    if not full:
        return [("Rests on", citing.short(finding, links, but))]
    lines = citing.by_kind(finding, links, but)
    lines.append(
        ("Basis", (Span(f"{finding.basis}. {finding.because}".strip() + " "), citing.rule(finding, links)))
    )
    return lines


def _follower(finding: Finding, links: Links, full: bool, cited: Iterable[Citation]) -> Spans:
    spans = [Span(titled(finding.title, finding), "strong"), Span(f", {finding.verdict}. {finding.message} ")]
    if finding.missing:
        spans += [Span("Missing: "), *joined([_missing(missing) for missing in finding.missing]), Span(". ")]
    if finding.remedy:
        spans.append(Span(f"{finding.remedy} "))
    if not full:
        return (*spans, *citing.short(finding, links, cited))
    sources = [told for _, told in citing.by_kind(finding, links, cited)]
    return (*spans, *joined([*sources, (citing.rule(finding, links),)]))
