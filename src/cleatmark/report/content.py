"""A finished review as blocks, in the order in which a reviewer needs them."""

from __future__ import annotations

from collections.abc import Iterable

from cleatmark.report import proven, words
from cleatmark.report.amended import amendments
from cleatmark.report.appendix import appendix
from cleatmark.report.attaching import attachment
from cleatmark.report.blocks import (
    Answer,
    Block,
    Box,
    Bullets,
    Column,
    Heading,
    Pairs,
    Paragraph,
    Row,
    Span,
    Spans,
    Table,
    joined,
    plain,
)
from cleatmark.report.cautions import cautions
from cleatmark.report.citing import Links, places, where
from cleatmark.report.comparing import comparison, stated
from cleatmark.report.head import head
from cleatmark.report.items import DEVIATES, NOT_SHOWN, STOPS, Item, items, numbers_of
from cleatmark.report.opening import opening
from cleatmark.report.papers import evidence
from cleatmark.report.telling import entry, titled
from cleatmark.report.zones import zones
from cleatmark.review.model import Finding, Review

FEW_PLACES = 2
"""So many places are named beside what complies; the appendix has all of them."""


def blocks(review: Review, full: bool) -> tuple[Block, ...]:
    """The report. Full has a part to act on, then the record that it rests on, then the appendix."""
    links = Links(review, whole=full)
    told = items(review)
    made: list[Block] = [Heading(words.TITLE, 1, "top"), Pairs(head(review)), *_answers(review)]
    made += opening(review)
    made += proven.earlier(review)
    made += _items(told, links, full)
    made += _whole(review, told, links) if full else _short(review, told, links)
    return tuple(made)


def _short(review: Review, told: tuple[Item, ...], links: Links) -> list[Block]:
    """What follows the items on a terminal."""
    return [
        *proven.remedies(review),
        *_requests(review, told),
        *zones(review),
        *evidence(review, links, full=False),
        *_complies(review, links, full=False),
        *proven.rests_on(review, full=False),
        *amendments(review, links, full=False),
        *_advice(review, links),
        *_departures(review),
        *_notices(review),
        *_cautions(review),
    ]


def _whole(review: Review, told: tuple[Item, ...], links: Links) -> list[Block]:
    """What follows the items on paper: to act on, the record, the appendix."""
    return [
        *_requests(review, told),
        *proven.remedies(review),
        *zones(review),
        *attachment(review),
        *_departures(review),
        *_cautions(review),
        *_notices(review, full=True),
        *_advice(review, links),
        *amendments(review, links, full=True),
        *evidence(review, links, full=True),
        *_complies(review, links, full=True),
        *proven.rests_on(review, full=True),
        *comparison(review),
        *stated(review, links),
        *appendix(review, told, links),
    ]


def _cautions(review: Review) -> list[Block]:
    return [Heading(words.CAUTIONS), Bullets(tuple(plain(caution) for caution in cautions(review)))]


def _answers(review: Review) -> list[Block]:
    made: list[Block] = []
    for key, question in (("asked", words.ASKED), ("site", words.SITE)):
        verdict = review.answers.get(key, "not reviewed")
        answer = words.ANSWERS.get(verdict, verdict)
        if verdict in ("complies", "deviates"):
            answer = f"{answer}, it {verdict}" if key == "asked" else answer
        reason = review.reasons.get(key) or words.REASONS.get(verdict, "")
        made.append(Answer(question, answer, plain(reason), verdict))
    if review.disposition:
        made.append(Answer(words.RECOMMENDED, review.disposition, plain(words.RECOMMENDS)))
    return made


def _items(told: tuple[Item, ...], links: Links, full: bool) -> list[Block]:
    made: list[Block] = []
    for part, title in ((STOPS, words.STOPS), (DEVIATES, words.DEVIATES), (NOT_SHOWN, words.NOT_SHOWN)):
        here = [item for item in told if item.part == part]
        if here:
            made += [Heading(title), *(entry(item, links, full) for item in here)]
        elif part == STOPS:
            made += [Heading(title), Paragraph(plain(words.NO_STOP))]
    return made


def _requests(review: Review, told: tuple[Item, ...]) -> list[Block]:
    if not review.requests:
        return []
    made: list[Block] = [Heading(words.REQUESTS)]
    for request in review.requests:
        numbers = numbers_of(request.rules, told)
        noun = "item" if len(numbers) == 1 else "items"
        about = f" ({noun} {', '.join(map(str, numbers))})" if numbers else ""
        made.append(Heading(f"To {words.addressee(request.to)}{about}", 3))
        made.append(Bullets(tuple(plain(question) for question in request.questions), numbered=True))
    return made


def _complies(review: Review, links: Links, full: bool) -> list[Block]:
    made: list[Block] = []
    good = [finding for finding in review.findings if finding.verdict == "complies"]
    if good:
        made.append(Heading(words.COMPLIES))
        if full:
            made.append(_complying(good, links))
        else:
            told = [(Span(titled(one.title, one)), *_one_source(one, links)) for one in good]
            made.append(Paragraph((*joined(told), Span("."))))
    waived = [finding for finding in review.findings if _waiver(finding)]
    if waived:
        told = [(Span(finding.title, "strong"), Span(f": {_waiver(finding)}.")) for finding in waived]
        made += [Heading(words.WAIVED), Bullets(tuple(told))]
    return made


def _complying(good: list[Finding], links: Links) -> Table:
    columns = (Column("Requirement"), Column("What was found"), Column("Where"))
    rows = tuple(
        Row(
            (
                (Span(titled(finding.title, finding), link=links.rule(finding)),),
                plain(finding.message or words.FOUND_SO),
                places(finding.citations, links, few=FEW_PLACES),
            )
        )
        for finding in good
    )
    return Table("", columns, rows)


def _one_source(finding: Finding, links: Links) -> Spans:
    for kind in ("spec", "evidence", "published", "computed"):
        for citation in finding.citations:
            if citation.kind == kind:
                return (Span(" "), where(citation, links))
    return ()


def _waiver(finding: Finding) -> str:
    return "; ".join(step for step in finding.rulebook if "waived" in step)


def _advice(review: Review, links: Links) -> list[Block]:
    if not review.advice:
        return []
    told = []
    for advice in review.advice:
        spans = [Span(f"{advice.message} ")]
        if advice.quote:
            spans.append(Span(f"“{advice.quote}” ", "quote"))
        if advice.citations:
            spans += [span for one in advice.citations for span in (where(one, links), Span(" "))]
        elif advice.clause:
            spans.append(Span(f"[{advice.clause}] ", "where"))
        if advice.question:
            ask = f"Ask {words.addressee(advice.ask)}: " if advice.ask else "Ask: "
            spans.append(Span(f"{ask}{advice.question}"))
        told.append(tuple(spans))
    return [Heading(words.ADVICE), Bullets(tuple(told))]


def _departures(review: Review) -> list[Block]:
    if not review.departures_declared and not review.departures_found:
        return []
    made: list[Block] = [Heading(words.DEPARTURES)]
    for title, listed in (
        (words.DECLARED, review.departures_declared),
        (words.FOUND, review.departures_found),
    ):
        made.append(Heading(title, 3))
        made.append(Bullets(tuple(plain(one) for one in listed) or (plain("None."),)))
    return made


def _notices(review: Review, full: bool = False) -> list[Block]:
    """Notices in one box; in full those that say the same of several things are told once."""
    statuses = [f"Rulebook {book.id}: {book.status}" for book in review.rulebooks if book.status]
    own = [notice for finding in review.findings for notice in finding.notices]
    notices = dict.fromkeys([*review.notices, *own, *statuses])
    told = _together(notices) if full else list(notices)
    return [Box(words.NOTICES, tuple(plain(notice) for notice in told))] if notices else []


def _together(notices: Iterable[str]) -> list[str]:
    """ "FM 4471, IBC: check against the adopted text" """
    said: dict[str, list[str]] = {}
    for notice in notices:
        about, mark, text = notice.partition(": ")
        said.setdefault(text if mark else notice, []).append(about if mark else "")
    return [f"{', '.join(about)}: {text}" if all(about) else text for text, about in said.items()]
