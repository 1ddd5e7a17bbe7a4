"""The review on one screen: the answers, what stops fabrication and what is open, the zones; the rest in counts."""

from __future__ import annotations

from collections import Counter
from collections.abc import Iterable, Iterator

from msgspec.structs import replace

from cleatmark.report import proven, words
from cleatmark.report.blocks import Block, Box, Entry, Heading, Pairs, Paragraph, Spans, plain
from cleatmark.review.model import Review

REST = "The rest in short"
ON_REQUEST = "--more prints what is counted here; --full adds the comparison, every citation and the working."
TO_SEND = " --packet FILE.docx writes the questions ready to send."
FOLLOWS = "Follows"
COUNTED = (
    words.REQUESTS,
    words.TESTED,
    words.LISTINGS,
    words.PAPERS,
    words.COMPLIES,
    proven.RESTS_ON,
    words.AMENDED,
    words.ADVICE,
    words.DEPARTURES,
    words.NOTICES,
)
"""Sections that the screen counts and does not print."""
IN_HEAD = ("Job", "Section", "Submittal", "Permit date", "Rules", "Reviewed")


def brief(review: Review, made: Iterable[Block]) -> list[Block]:
    """The blocks of a report without the sections that are only counted; the counts stand before the cautions."""
    kept: list[Block] = []
    counted = False
    for block in made:
        title = _section(block)
        if title == words.CAUTIONS:
            kept += _rest(review)
        if title:
            counted = title in COUNTED
        if not counted:
            kept.append(_short(block))
    return kept


def _section(block: Block) -> str:
    """The title of the section that the block begins; "" where it begins none. A box is a section by itself."""
    if isinstance(block, Heading):
        return block.text if block.level <= 2 else ""
    return block.title if isinstance(block, Box) else ""


def _short(block: Block) -> Block:
    if isinstance(block, Pairs):
        return Pairs(tuple(row for row in block.rows if row[0] in IN_HEAD))
    if isinstance(block, Entry):
        lines = ((label, _named(spans) if label == FOLLOWS else spans) for label, spans in block.lines)
        return replace(block, lines=tuple(lines))
    return block


def _named(spans: Spans) -> Spans:
    """What follows by name: its clauses, papers and rules are told on request."""
    return tuple(span for span in spans if span.style != "where" and span.text.strip())


def _rest(review: Review) -> list[Block]:
    rows = tuple((label, plain(text)) for label, text in _counts(review) if text)
    return (
        [Heading(REST), Pairs(rows), Paragraph(plain(ON_REQUEST + (TO_SEND if review.requests else "")))]
        if rows
        else []
    )


def _counts(review: Review) -> Iterator[tuple[str, str]]:
    papers = [f"{paper.id}, {paper.kind}, {paper.standing}" for paper in review.evidence]
    yield "Documents", "; ".join(papers) or "none was handed in"
    asked = [f"{len(request.questions)} to {words.addressee(request.to)}" for request in review.requests]
    yield "Questions", ", ".join(asked)
    yield "Complies", _number(sum(one.verdict == "complies" for one in review.findings), "requirement")
    yield (
        "Pass rests on",
        _number(
            _passing(review),
            "single change that would turn it",
            "single changes, each of which would turn it",
        ),
    )
    yield (
        "Addenda",
        _number(len(review.amendments), "change to the specification", "changes to the specification"),
    )
    yield "Advice", _advice(review)
    yield "Departures", _departures(review)


def _passing(review: Review) -> int:
    open_ = any(one.verdict in ("deviates", "not shown") for one in review.findings)
    return 0 if open_ else len(review.tipping_points)


def _advice(review: Review) -> str:
    asked = Counter(advice.ask for advice in review.advice if advice.question)
    questions = [
        f"{_number(count, 'question')} to {words.addressee(to) if to else 'ask'}"
        for to, count in asked.items()
    ]
    notes = _number(
        len(review.advice),
        "note on the specification and the input",
        "notes on the specification and the input",
    )
    return f"{notes}, with {', '.join(questions)}" if questions else notes


def _departures(review: Review) -> str:
    declared, found = len(review.departures_declared), len(review.departures_found)
    return f"{declared} declared; {found} found and not declared" if declared or found else ""


def _number(count: int, one: str, many: str = "") -> str:
    return f"{count} {one if count == 1 else many or one + 's'}" if count else ""
