"""The evidence: tested reports and listings in tables of their own, and a listing's conditions."""

from __future__ import annotations

from collections.abc import Iterable

from cleatmark.report import words
from cleatmark.report.blocks import Block, Bullets, Column, Heading, Paragraph, Row, Span, Table, plain
from cleatmark.report.citing import Links
from cleatmark.report.figures import NBSP, Figures
from cleatmark.review.model import Difference, Evidence, Review, RunRow

FEW_USUAL = 2
"""So many usual ways are named."""
_RUN_COLUMNS = ("Run", "Method", "Result", "Allowable", "Clips at", "Failure", "Covers")


def evidence(review: Review, links: Links, full: bool) -> list[Block]:
    """Every paper, by kind. Where no run covers the proposal, the nearest run's differences."""
    figures = Figures(review.job.units)
    blocks: list[Block] = []
    tested = [paper for paper in review.evidence if paper.kind in words.TESTED_KINDS]
    listings = [paper for paper in review.evidence if paper.kind in words.LISTING_KINDS]
    others = [paper for paper in review.evidence if paper not in tested and paper not in listings]
    if not review.evidence:
        return [Heading(words.TESTED), Paragraph(plain("No document was handed in."))]
    if tested:
        blocks += [Heading(words.TESTED), _runs(tested, links, figures, "Report"), _notes(tested)]
    elif listings:
        blocks += [Heading(words.TESTED), Paragraph(plain("None was handed in."))]
    if listings:
        blocks += [Heading(words.LISTINGS), _listings(listings, links)]
        if any(paper.runs for paper in listings):
            blocks.append(_runs(listings, links, figures, "Listing", anchors=False))
        blocks.append(_notes(listings))
    if any(paper.conditions for paper in review.evidence):
        blocks.append(_conditions(review.evidence))
    if others:
        blocks += [Heading(words.PAPERS), _listings(others, links), _notes(others)]
    nearest = nearest_run(review.evidence)
    if nearest and not full:
        blocks += _differences(*nearest)
    return [block for block in blocks if not (isinstance(block, Bullets) and not block.items)]


def offered(paper: Evidence) -> str:
    """What the paper was offered as, with what it is where that is another kind."""
    if paper.offered_as and paper.offered_as != paper.kind:
        return f"offered as {words.a(paper.offered_as)}; it is {words.a(paper.kind)}"
    return paper.offered_as or "—"


def _runs(papers: list[Evidence], links: Links, figures: Figures, name: str, anchors: bool = True) -> Table:
    rows: list[Row] = []
    for paper in papers:
        anchor = links.evidence[paper.id] if anchors else ""
        for run in paper.runs:
            page = f",{NBSP}page{NBSP}{run.page}" if run.page else ""
            cells = [
                paper.id,
                f"{run.run}{page}",
                run.standard,
                run.result,
                figures.with_unit(figures.pressure(run.allowable_psf), figures.pressure_unit),
                figures.with_unit(figures.length(run.clip_spacing_in), figures.length_unit),
                run.failure_mode or "—",
                covers(run),
            ]
            rows.append(Row(tuple(plain(cell) for cell in cells), anchor))
            anchor = ""
        if not paper.runs:
            cells = [paper.id, "no run stated", *["—"] * (len(_RUN_COLUMNS) - 1)]
            rows.append(Row(tuple(plain(cell) for cell in cells), anchor))
    columns = (Column(name), *(Column(title, title in ("Allowable", "Clips at")) for title in _RUN_COLUMNS))
    caption = "" if anchors else "Runs of the listings"
    return Table(caption, columns, tuple(rows))


def covers(run: RunRow) -> str:
    """Whether the run covers the proposal, by zone where the zones differ."""
    if len(set(run.covers_zones.values())) < 2:
        return run.covers
    zones = ", ".join(f"{zone}: {said}" for zone, said in sorted(run.covers_zones.items()))
    return f"{run.covers} ({zones})"


def _listings(papers: list[Evidence], links: Links) -> Table:
    columns = (Column("Document"), Column("Kind"), Column("Offered as"))
    rows = [
        Row(
            (
                plain(paper.id),
                plain(paper.kind),
                plain(offered(paper), "strong" if paper.offered_as not in ("", paper.kind) else ""),
                plain(paper.body or "—"),
                plain(paper.holder or "—"),
                plain(paper.expires or "—"),
            ),
            links.evidence[paper.id],
        )
        for paper in papers
    ]
    return Table(
        "",
        (*columns, Column("Body"), Column("Holder"), Column("Expires")),
        tuple(rows),
    )


def _notes(papers: Iterable[Evidence]) -> Bullets:
    items = []
    for paper in papers:
        parts = [paper.title, paper.laboratory, paper.date]
        text = f": {', '.join(part for part in parts if part)}."
        if paper.standing:
            text += f" Standing: {paper.standing}."
        if paper.lacks:
            text += f" Lacks: {', '.join(paper.lacks)}."
        if paper.claims:
            quoted = ", ".join(f"“{claim}”" for claim in paper.claims)
            text += f" A claim, not a result: {quoted}."
        items.append((Span(paper.id, "strong"), Span(text)))
    return Bullets(tuple(items))


def _conditions(papers: Iterable[Evidence]) -> Table:
    columns = (
        Column("Listing"),
        Column("Condition"),
        Column("Trade"),
        Column("State"),
        Column("Usual here"),
    )
    rows = []
    for paper in papers:
        for condition in paper.conditions:
            state = f"{condition.state} ({condition.where})" if condition.where else condition.state
            usual = " or ".join(condition.usual.split(", ")[:FEW_USUAL])
            unusual = f"unusual; usual is {usual}" if usual else "unusual"
            cells = (
                plain(paper.id),
                plain(condition.text),
                plain(condition.trade or "—"),
                plain(state),
                plain(unusual, "strong") if condition.unusual else plain("usual" if condition.usual else "—"),
            )
            rows.append(Row(cells))
    return Table(words.CONDITIONS, columns, tuple(rows))


UNTOLD = frozenset(("", "not shown", "not stated"))
_FAILS = ("unsafe side", "different kind")


def nearest_run(papers: Iterable[Evidence]) -> tuple[Evidence, RunRow] | None:
    """Where no run covers the proposal: the run with fewest failing, then fewest unknown differences.

    Tested reports come before listings; a data sheet or a letter is no run to be near to.
    """
    papers = [paper for paper in papers if paper.kind in words.TESTED_KINDS + words.LISTING_KINDS]
    tested = [paper for paper in papers if paper.kind in words.TESTED_KINDS]
    if any(run.covers == "yes" for paper in papers for run in paper.runs):
        return None
    runs = [(paper, run) for paper in tested or papers for run in paper.runs]
    if not runs:
        return None

    def distance(pair: tuple[Evidence, RunRow]) -> tuple[int, int]:
        verdicts = [difference.verdict for difference in pair[1].differences]
        return sum(verdict in _FAILS for verdict in verdicts), verdicts.count("not shown")

    return min(runs, key=distance)


def _differences(paper: Evidence, run: RunRow) -> list[Block]:
    told = [row for row in run.differences if row.verdict in _FAILS or row.verdict == "not shown"]
    rows = [row for row in told if any(side not in UNTOLD for side in (row.tested, row.proposed))]
    title = f"No run covers the proposal. Nearest: {paper.id}, run {run.run}"
    return [differences(title, rows)] if rows else []


def differences(caption: str, rows: Iterable[Difference]) -> Table:
    """Tested beside proposed, field by field."""
    columns = (Column("Property"), Column("Tested"), Column("Proposed"), Column("Standing"))
    made = [
        Row(
            (
                plain(f"{row.title} ({row.zone})" if row.zone else row.title),
                plain(row.tested or "not shown"),
                plain(row.proposed or "not shown"),
                plain(row.verdict, verdict_weight(row.verdict)),
            )
        )
        for row in rows
    ]
    return Table(caption, columns, tuple(made))


def verdict_weight(verdict: str) -> str:
    """Strong for a difference that voids what was tested."""
    return "strong" if verdict in _FAILS else ""
