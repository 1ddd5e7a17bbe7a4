"""The appendix: rulebooks, every rule with its chain and working, each paper's runs, the zones' steps."""

from __future__ import annotations

import re
from collections.abc import Iterable
from itertools import groupby

from cleatmark.facts import Citation
from cleatmark.report import matrix, words
from cleatmark.report.blocks import Block, Column, Heading, Paragraph, Row, Span, Spans, Table, joined, plain
from cleatmark.report.citing import Links, distinct, flow, where
from cleatmark.report.items import Item, in_reading_order
from cleatmark.report.telling import titled
from cleatmark.review.model import Finding, Review, ZoneRow

LONG_SENTENCE = 140
_SENTENCE = re.compile(r"(?<=[.]) (?=[A-Z])")


def appendix(review: Review, told: tuple[Item, ...], links: Links) -> list[Block]:
    """Everything that a finding rests on, to be looked up from it."""
    made: list[Block] = [Heading(words.APPENDIX, 2, "appendix", new_page=True)]
    if review.rulebooks:
        made += [Heading(words.RULEBOOKS, 3), _rulebooks(review)]
    if review.findings:
        made.append(Heading(words.RULES, 3))
        before: dict[str, str] = {}
        for finding, number in in_reading_order(review.findings, told):
            made += _finding(finding, number, links, _message(finding, before))
    papers = [block for paper in review.evidence for block in matrix.beside(paper)]
    if papers:
        made += [Heading(words.RUNS, 3), *papers]
    worked = [row for row in review.zones if row.steps]
    if worked:
        made += [Heading(words.STEPS, 3), *_steps(worked)]
    return made


def _rulebooks(review: Review) -> Table:
    columns = (Column("Rulebook"), Column("Title"), Column("Edition"), Column("Checked on"))
    rows = [
        Row(
            (
                plain(head.id),
                plain(head.title),
                plain(head.edition or "—"),
                plain(head.checked_on or "—"),
                plain(head.status or "—"),
            )
        )
        for head in review.rulebooks
    ]
    return Table("", (*columns, Column("Status")), tuple(rows))


def _message(finding: Finding, before: dict[str, str]) -> str:
    """The finding's message; a long sentence that another rule told already is told by that rule's name.

    `before` has those sentences, and takes up the new ones.
    """
    told = []
    for sentence in _SENTENCE.split(finding.message):
        known = before.get(sentence, "")
        told.append(f"(The rest as under {known}.)" if known else sentence)
        if len(sentence) > LONG_SENTENCE:
            before.setdefault(sentence, titled(finding.title, finding))
    return " ".join(dict.fromkeys(told))


def _finding(finding: Finding, number: int, links: Links, message: str) -> list[Block]:
    """A heading and its lines; what does not apply, and is told nowhere else, in one paragraph."""
    name = titled(finding.title, finding)
    chain = f"{finding.rule}, basis {finding.basis}; {'; '.join(finding.rulebook)}".rstrip("; ")
    because = "" if finding.because in chain else finding.because
    rule = (Span("Rule: ", "strong"), Span(f"{chain.rstrip('.')}. {because}".strip()))
    told = (Span(f"{message} "), *rule) if message else rule
    steps = tuple(dict.fromkeys(finding.trace))
    cited = joined(flow(_untold(finding, steps), links))
    working = joined([_step(step, finding, links) for step in steps])
    more = [(label, spans) for label, spans in (("Rests on", cited), ("Working", working)) if spans]
    if finding.verdict == "does not apply":
        flowing = [span for label, spans in more for span in (Span(f" {label}: ", "strong"), *spans)]
        return [Paragraph((Span(f"{name}: {finding.verdict}. ", "strong"), *told, *flowing), small=True)]
    item = f" (item {number})" if number else ""
    return [
        Heading(f"{name}: {finding.verdict}{item}", 4, links.rule(finding)),
        Paragraph(told, small=True),
        *(_line(label, spans) for label, spans in more),
    ]


def _line(label: str, spans: Spans) -> Paragraph:
    return Paragraph((Span(f"{label}: ", "strong"), *spans), small=True)


def _untold(finding: Finding, steps: Iterable[str]) -> tuple[Citation, ...]:
    """The citations without those whose words and place stand in a step of the working."""
    steps = tuple(steps)
    return tuple(
        one
        for one in distinct(finding.citations)
        if not any(f"[{one.where}]" in step and one.quote in step for step in steps)
    )


def _step(step: str, finding: Finding, links: Links) -> Spans:
    """A step of the working; the place that it ends with leads to where that is told."""
    for one in finding.citations:
        if step.endswith(f" [{one.where}]"):
            return (*plain(step.removesuffix(f"[{one.where}]")), where(one, links))
    return plain(step)


def _steps(rows: list[ZoneRow]) -> list[Block]:
    """Zone by zone; steps that all zones of one source share are told once, before them."""
    made: list[Block] = []
    for (roof, source), group in groupby(rows, key=lambda row: (row.roof, row.source)):
        zones = list(group)
        shared = [step for step in zones[0].steps if all(step in row.steps for row in zones)]
        name = ", ".join(part for part in (roof, source) if part)
        if len(zones) > 1 and shared:
            label = f"{name[:1].upper()}{name[1:]}, every zone" if name else "Every zone"
            made.append(_line(label, plain("; ".join(shared))))
        else:
            shared = []
        for row in zones:
            own = [step for step in row.steps if step not in shared]
            label = ", ".join(part for part in (roof, row.zone, source) if part)
            if own:
                made.append(_line(label, plain("; ".join(own))))
    return made
