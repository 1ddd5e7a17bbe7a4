"""What a full report adds: the specification's requirements, the comparison, each rule's working."""

from __future__ import annotations

from cleatmark.facts import Stated
from cleatmark.report import words
from cleatmark.report.blocks import (
    Block,
    Bullets,
    Column,
    Heading,
    Row,
    Span,
    Table,
    joined,
    plain,
)
from cleatmark.report.citing import Links, distinct, flow
from cleatmark.report.papers import run_differences
from cleatmark.report.telling import titled
from cleatmark.review.model import Finding, Review


def comparison(review: Review) -> list[Block]:
    """Specified, proposed and tested beside each other."""
    if not review.comparison:
        return []
    installed = any(row.installed for row in review.comparison)
    columns = [
        Column("Property"),
        Column("Specified"),
        Column("Proposed"),
        Column("Tested"),
        *([Column("Installed")] if installed else []),
        Column("To specified"),
        Column("To tested"),
    ]
    rows = []
    for row in review.comparison:
        clause = f" [{row.clause}]" if row.clause else ""
        standing = f"{row.to_specified} (declared)" if row.declared else row.to_specified
        cells = [
            plain(row.title),
            (*plain(row.specified or "—"), *plain(clause, "where")),
            plain(row.proposed or "not shown"),
            plain(row.tested or "—"),
            *([plain(row.installed or "—")] if installed else []),
            plain(standing or "—", _weight(row.to_specified)),
            plain(row.to_tested or "—", _weight(row.to_tested)),
        ]
        rows.append(Row(tuple(cells)))
    table = Table("Tested stands for the nearest run", tuple(columns), tuple(rows))
    return [Heading(words.COMPARISON), table]


def _weight(standing: str) -> str:
    return "strong" if standing in ("unsafe side", "different kind") else ""


def stated(review: Review, links: Links) -> list[Block]:
    """Every requirement that the specification states, with its address and its words."""
    if not review.stated:
        return []
    columns = (
        Column("Clause"),
        Column("Subject"),
        Column("Requirement"),
        Column("For"),
        Column("Words"),
        Column("Flags"),
    )
    rows = []
    for n, one in enumerate(review.stated, 1):
        limits = ", ".join(part for part in (one.zone, one.scope, one.roof, one.level) if part)
        cells = (
            plain(one.citation.where or one.clause, "where"),
            plain(one.subject),
            plain(f"{one.relation} {one.text}".strip() or "—"),
            plain(limits or "all"),
            plain("as above") if n > 1 and _told(review.stated[n - 2], one) else plain(one.quote, "quote"),
            plain(", ".join(one.flags) or "—"),
        )
        anchor = f"stated-{n}" if links.stated.get(one.citation.where) == f"stated-{n}" else ""
        rows.append(Row(cells, anchor))
    table = Table("", columns, tuple(rows))
    return [Heading(words.STATED), table]


def _told(before: Stated, one: Stated) -> bool:
    return bool(one.quote) and (before.citation.where, before.quote) == (one.citation.where, one.quote)


def appendix(review: Review, links: Links) -> list[Block]:
    """Rulebooks, every rule with its chain and working, every run's differences, the zones' steps."""
    made: list[Block] = [Heading(words.APPENDIX, 2, "appendix", new_page=True)]
    if review.rulebooks:
        made += [Heading(words.RULEBOOKS, 3), _rulebooks(review)]
    if review.findings:
        made.append(Heading(words.RULES, 3))
        for n, finding in enumerate(review.findings, 1):
            made += _finding(finding, links, f"rule-{n}")
    runs = [(paper, run) for paper in review.evidence for run in paper.runs if run.differences]
    if runs:
        made.append(Heading(words.RUNS, 3))
    for paper, run in runs:
        made += run_differences(paper, run)
    worked = [row for row in review.zones if row.steps]
    if worked:
        made.append(Heading(words.STEPS, 3))
        for row in worked:
            name = ", ".join(part for part in (row.roof, row.zone, row.source) if part)
            made.append(Heading(name, 4))
            made.append(Bullets(tuple(plain(step) for step in row.steps), numbered=True))
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


def _finding(finding: Finding, links: Links, anchor: str) -> list[Block]:
    name = f"{finding.rule}: {finding.verdict}; {titled(finding.title, finding)}; basis {finding.basis}"
    lines = [plain(finding.message)] if finding.message else []
    lines += [(Span("Rule: "), *plain(step)) for step in finding.rulebook]
    lines += [(Span("Because: "), *plain(finding.because))] if finding.because else []
    cited = flow(distinct(finding.citations), links)
    lines += [(Span("Rests on: "), *joined(cited))] if cited else []
    lines += [(Span("Working: "), *plain(step)) for step in finding.trace]
    made: list[Block] = [Heading(name, 4, anchor)]
    return [*made, Bullets(tuple(lines))] if lines else made
