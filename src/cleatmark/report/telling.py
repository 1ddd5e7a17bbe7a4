"""One item, told: what is wrong, what was found and required, what to do, what it rests on, what follows."""

from __future__ import annotations

from collections.abc import Iterable

from cleatmark.facts import Citation, Missing
from cleatmark.report import citing, words
from cleatmark.report.blocks import Entry, Span, Spans, joined, plain
from cleatmark.report.citing import Links
from cleatmark.report.clean import whole_sentences
from cleatmark.report.items import Item
from cleatmark.review.model import Finding

FOLLOWS = "Follows"
MESSAGE_LIMIT = 320
FEW_AGAIN = 3
FOLLOWER_LIMIT = 160
"""How much of a message is told here: the nearest run's table and the appendix have the rest."""


def entry(item: Item, links: Links, full: bool) -> Entry:
    """The item as a numbered entry. In short all citations flow; in full each kind of source has its line.

    Followers that are not shown are named: their questions and the appendix have the rest.
    """
    head = item.head
    lines = [*_outcome(head), *_sources(head, links, full)]
    cited = _told(head)
    brief = [f for f in item.follows if f.verdict == "not shown"]
    if full:
        lines += [(FOLLOWS, _brief(follower, links)) for follower in brief]
    elif brief:
        told = joined([_brief(follower, links) for follower in brief])
        lines.append((FOLLOWS, (Span("Not shown for this assembly: "), *told, Span("."))))
    for follower in item.follows:
        if follower in brief:
            continue
        lines.append((FOLLOWS, _follower(follower, links, cited)))
        cited += _told(follower)
    lines.extend(_again(item))
    return Entry(
        item.number,
        titled(item.title, head),
        head.verdict,
        words.ACTIONS.get(item.action, item.action),
        plain(whole_sentences(head.message, MESSAGE_LIMIT)),
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


def _sources(finding: Finding, links: Links, full: bool) -> list[tuple[str, Spans]]:
    if not full:
        return [("Rests on", citing.short(finding, links))]
    return [*citing.by_kind(finding, links), ("Basis", citing.basis(finding, links))]


def _told(finding: Finding) -> list[Citation]:
    """Citations that need not be told again below. A clause is told with every finding that rests on it."""
    return [citation for citation in citing.of(finding) if citation.kind != "spec"]


def _again(item: Item) -> list[tuple[str, Spans]]:
    """What follows from the item too and is told under another."""
    by_number: dict[int, list[str]] = {}
    for title, number in item.again:
        by_number.setdefault(number, []).append(title)
    lines = []
    for number, titles in by_number.items():
        named = list(dict.fromkeys(titles))
        if len(named) <= FEW_AGAIN:
            told = f"{'; '.join(named)}: told under item {number}."
        else:
            told = f"the {len(named)} findings told under item {number}."
        lines.append((FOLLOWS, plain(told)))
    return lines


def _brief(finding: Finding, links: Links) -> Spans:
    """A follower that is not shown: its title, the clauses that ask for it, the paper looked at, its rule."""
    cited = citing.of(finding)
    asked = [citation for citation in cited if citation.kind == "spec"]
    papers = [citation for citation in cited if citation.kind == "evidence"]
    place = (Span(" "), *citing.places([*asked, *papers[-1:]], links)) if asked or papers else ()
    rule = () if links.whole else (Span(" "), citing.rule(finding, links))
    verdict = plain(f", {finding.verdict}") if links.whole else ()
    return (Span(titled(finding.title, finding), "strong"), *verdict, *place, *rule)


def _follower(finding: Finding, links: Links, cited: Iterable[Citation]) -> Spans:
    """A follower is told shortly: what is missing stands with the questions, the rest in the appendix."""
    told = [whole_sentences(finding.message, FOLLOWER_LIMIT)]
    told += [finding.remedy] if finding.verdict == "deviates" and finding.remedy else []
    title = (Span(titled(finding.title, finding), "strong"), Span(f", {finding.verdict}. "))
    return (*title, Span(f"{' '.join(told)} "), *citing.short(finding, links, cited))
