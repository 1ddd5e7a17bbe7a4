"""The packet, sent out after a review: requests by addressee, comments to the submitter, proposed text."""

from __future__ import annotations

import os
from collections.abc import Iterable

from cleatmark.facts import Citation, Missing
from cleatmark.report import citing, words
from cleatmark.report.blocks import (
    Block,
    Bullets,
    Column,
    Heading,
    Pairs,
    Paragraph,
    Row,
    Span,
    Spans,
    Table,
    plain,
)
from cleatmark.report.cautions import cautions
from cleatmark.report.citing import Links
from cleatmark.report.clean import whole_sentences
from cleatmark.report.head import head
from cleatmark.report.items import Item, items, numbers_of
from cleatmark.report.saving import save
from cleatmark.report.telling import FOLLOWER_LIMIT, MESSAGE_LIMIT, titled
from cleatmark.review.model import Advice, Finding, Request, Review

PACKET = "Requests and comments"


def packet(review: Review) -> tuple[Block, ...]:
    """The packet's blocks: each request and the comments begin a page of their own, to be sent apart."""
    told = items(review)
    links = Links(review, whole=False)
    made: list[Block] = []
    for n, request in enumerate(review.requests, 1):
        made += _request(request, told, review, links, f"request-{n}")
    made += _comments(review, told, links)
    made += _proposed_text(review)
    sheets = [block for block in made if isinstance(block, Heading) and block.level == 2]
    contents = tuple((Span(sheet.text, link=sheet.anchor),) for sheet in sheets)
    return (
        Heading(PACKET, 1, "top"),
        Pairs(head(review)),
        Paragraph(plain(words.PACKET_USE)),
        Bullets(contents),
        Heading(words.CAUTIONS),
        Bullets(tuple(plain(caution) for caution in cautions(review))),
        *made,
    )


def _about(review: Review, to: str) -> Pairs:
    """What each sheet needs to be sent by itself."""
    kept = ("Job", "Section", "Submittal", "Sent by", "Reviewed")
    return Pairs((("To", plain(to)), *(row for row in head(review) if row[0] in kept)))


def packet_bytes(review: Review, paper: str = "Letter") -> bytes:
    """The packet as the bytes of a DOCX; `paper` is Letter or A4."""
    from cleatmark.report.docx_report import bytes_of

    return bytes_of(PACKET, packet(review), review, paper)


def write_packet(review: Review, path: str | os.PathLike[str], paper: str = "Letter") -> None:
    """Write the packet as DOCX, whole or not at all. InputError where it cannot be written."""
    save(packet_bytes(review, paper), path)


def _request(
    request: Request, told: tuple[Item, ...], review: Review, links: Links, anchor: str
) -> list[Block]:
    columns = (Column("No."), Column("Question"), Column("Concerns"), Column("Answer, with date and name"))
    rows = []
    cited: list[Citation] = []
    for n, question in enumerate(request.questions, 1):
        rules = _rules(request, n - 1, review)
        clauses = _clauses(rules, review)
        cited += clauses
        numbers = numbers_of(rules, told)
        noun = "item" if len(numbers) == 1 else "items"
        concerns = f"{noun} {', '.join(map(str, numbers))}" if numbers else ""
        addresses = " ".join(dict.fromkeys(citing.where(clause, links).text for clause in clauses))
        spans = plain(" ".join(part for part in (concerns, addresses) if part) or "—")
        rows.append(Row((plain(str(n)), plain(question), spans, plain("\u00a0" * 28)), tall=True))
    made: list[Block] = [
        Heading(f"Request to {words.addressee(request.to)}", 2, anchor, new_page=True),
        _about(review, _addressed(request.to, review)),
        Paragraph(plain(words.REQUEST_INTRODUCTION)),
        Table("Questions and answers", columns, tuple(rows)),
    ]
    return [*made, *_quoted(cited, links)]


def _addressed(to: str, review: Review) -> str:
    """The addressee, by name where the job or the submittal names one: "the designer, Tarn & Fold Architects"."""
    names = {"designer": review.job.designer, "insurer": review.job.insurer}
    name = names.get(to) or (review.submittal.sent_by if to == "contractor" else "")
    return ", ".join(part for part in (words.addressee(to), name) if part)


def _rules(request: Request, at: int, review: Review) -> tuple[str, ...]:
    """The rules that the question at this place comes from, or else all that the request comes from."""
    if len(request.concerns) == len(request.questions):
        return request.concerns[at]
    question = request.questions[at]
    matched = [
        finding.rule
        for finding in review.findings
        if finding.rule in request.rules
        and (finding.remedy == question or any(_asks(missing, question) for missing in finding.missing))
    ]
    return tuple(matched) or request.rules


def _asks(missing: Missing, question: str) -> bool:
    return missing.question == question or (bool(missing.title) and question.startswith(missing.title))


def _clauses(rules: Iterable[str], review: Review) -> tuple[Citation, ...]:
    """The specification's clauses that the rules' open findings rest on."""
    wanted = set(rules)
    findings = [one for one in review.findings if one.rule in wanted and one.verdict != "complies"]
    return citing.distinct(c for one in findings for c in citing.of(one) if c.kind == "spec")


def _quoted(cited: Iterable[Citation], links: Links) -> list[Block]:
    clauses = [citation for citation in citing.distinct(cited) if citation.quote]
    if not clauses:
        return []
    quotes = tuple((citing.where(one, links), Span(" "), Span(f"“{one.quote}”", "quote")) for one in clauses)
    return [Heading("Clauses referred to", 3), Bullets(quotes)]


def _comments(review: Review, told: tuple[Item, ...], links: Links) -> list[Block]:
    made: list[Block] = [
        Heading("Comments on the submittal", 2, "comments", new_page=True),
        _about(review, review.submittal.sent_by or words.addressee("contractor")),
    ]
    if review.disposition:
        recommended = f"{words.RECOMMENDED}: {review.disposition}. {words.RECOMMENDS}"
        made.append(Paragraph(plain(recommended)))
    if not told:
        return [*made, Paragraph(plain("No comment: nothing deviates and nothing is left not shown."))]
    columns = (Column("Item"), Column("Comment"), Column("Clause"), Column("Action"))
    rows = []
    cited: list[Citation] = []
    for item in told:
        clauses = [
            one for finding in (item.head, *item.follows) for one in finding.citations if one.kind == "spec"
        ]
        clauses = list(citing.distinct(clauses))
        cited += clauses
        addresses = " ".join(dict.fromkeys(citing.where(clause, links).text for clause in clauses))
        rows.append(
            Row(
                (
                    plain(str(item.number)),
                    _comment(item),
                    plain(addresses or "—"),
                    plain(words.ACTIONS.get(item.action, item.action)),
                )
            )
        )
    return [*made, Table("Comments", columns, tuple(rows)), *_quoted(cited, links)]


def _comment(item: Item) -> Spans:
    """The head told, what follows and deviates told shortly, what follows and is not shown named."""
    spans = [Span(f"{titled(item.title, item.head)}. ", "strong"), Span(_told(item.head, MESSAGE_LIMIT))]
    for follower in item.follows:
        if follower.verdict != "not shown":
            spans.append(Span(f" Follows, {follower.verdict}: {titled(follower.title, follower)}. "))
            spans.append(Span(_told(follower, FOLLOWER_LIMIT)))
    named = [titled(one.title, one) for one in item.follows if one.verdict == "not shown"]
    if named:
        spans.append(Span(f" Not shown for this assembly, and asked for apart: {'; '.join(named)}."))
    return tuple(spans)


def _told(finding: Finding, limit: int) -> str:
    message = whole_sentences(finding.message, limit)
    return " ".join(part for part in (message, finding.remedy) if part)


def _proposed_text(review: Review) -> list[Block]:
    touched = [a for a in review.advice if a.clause and a.quote and (a.question or a.replacement)]
    if not touched:
        return []
    made: list[Block] = [
        Heading("Proposed text for the specification", 2, "proposed-text", new_page=True),
        _about(review, review.job.designer or words.addressee("designer")),
        Paragraph(plain(words.PROPOSED_USE)),
    ]
    for advice in touched:
        made += [Heading(_address(advice, review), 3), Pairs(_proposal(advice))]
    return made


def _address(advice: Advice, review: Review) -> str:
    section = review.job.section
    return advice.clause if not section or section in advice.clause else f"{section}, {advice.clause}"


def _proposal(advice: Advice) -> tuple[tuple[str, tuple[Span, ...]], ...]:
    rows = [
        ("Reads now", plain(f"“{advice.quote}”", "quote")),
        ("Proposed", plain(advice.replacement or words.TO_BE_WRITTEN)),
        ("Because", plain(advice.message)),
        ("Ask", plain(f"{words.addressee(advice.ask)}: {advice.question}" if advice.question else "")),
    ]
    return tuple(row for row in rows if row[1])
