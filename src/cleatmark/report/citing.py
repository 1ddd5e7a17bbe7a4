"""Citations as a report prints them, and the places in the report that they lead to."""

from __future__ import annotations

import re
from collections.abc import Iterable

from msgspec.structs import replace

from cleatmark.facts import Citation
from cleatmark.report.blocks import Span, Spans, joined, plain
from cleatmark.report.clean import clean, shortened
from cleatmark.report.figures import NBSP
from cleatmark.report.words import CITED, WORKING
from cleatmark.review.model import Finding, Review

QUOTE_LIMIT = 96
FEW = 3
"""So many lines of an input file are quoted in the short report."""
MOST = 8
"""So many line numbers of one file are named in the short report."""
INPUTS = ("job", "submittal")


class Links:
    """Anchors that a citation can lead to: an evidence row, a requirement of the specification, a rule.

    `dated` is the specification's own date: a citation says its date only where that is another.
    `whole` tells whether the report has the specification's requirements and the appendix at all.
    """

    def __init__(self, review: Review, whole: bool) -> None:
        self.dated = review.job.dated
        self.whole = whole
        self.evidence = {paper.id: f"evidence-{n}" for n, paper in enumerate(review.evidence, 1)}
        self.stated: dict[str, str] = {}
        self._rules: dict[tuple[str, ...], str] = {}
        if whole:
            for n, finding in enumerate(review.findings, 1):
                self._rules.setdefault(_names(finding), f"rule-{n}")
            for n, stated in enumerate(review.stated, 1):
                self.stated.setdefault(stated.citation.where, f"stated-{n}")

    def rule(self, finding: Finding) -> str:
        """The anchor of the finding's rule and working in the appendix, or ""."""
        return self._rules.get(_names(finding), "")

    def to(self, citation: Citation) -> str:
        """The anchor that the citation leads to, or ""."""
        if citation.kind == "spec":
            return self.stated.get(citation.where, "")
        if citation.kind == "evidence":
            for name in sorted(self.evidence, key=len, reverse=True):
                if name and re.search(rf"(?<!\w){re.escape(name)}(?!\w)", citation.where):
                    return self.evidence[name]
        return ""


def _names(finding: Finding) -> tuple[str, ...]:
    return finding.rule, finding.roof, finding.zone, finding.document, finding.run


def unbroken(text: str) -> str:
    """The text with spaces that a line does not break at."""
    return clean(text).replace(" ", NBSP)


def where(citation: Citation, links: Links) -> Span:
    """[07 41 13, 1.04.B.2]"""
    return Span(f"[{unbroken(citation.where)}]", "where", links.to(citation))


def _merged(citations: list[Citation], links: Links, limit: int) -> Spans:
    """Citations of one place: their quotes, cut to `limit` where one is given, then the address once."""
    spans: list[Span] = []
    for citation in citations:
        if citation.quote:
            shown = shortened(citation.quote, limit) if limit else clean(citation.quote)
            spans += [Span(f"“{shown}”", "quote"), Span(" " if citation is citations[-1] else ", ")]
    spans.append(where(citations[-1], links))
    dated = citations[-1].dated
    if dated and dated != links.dated:
        spans.append(Span(f" of {dated}", "where"))
    return tuple(spans)


def distinct(citations: Iterable[Citation], but: Iterable[Citation] = ()) -> tuple[Citation, ...]:
    """The citations in order, once each, without those in `but`."""
    seen = {(citation.kind, citation.where, citation.quote) for citation in but}
    kept = []
    for citation in citations:
        key = (citation.kind, citation.where, citation.quote)
        if key not in seen:
            seen.add(key)
            kept.append(citation)
    return tuple(kept)


def of(finding: Finding) -> tuple[Citation, ...]:
    """All that the finding rests on: its own citations and those of what is missing."""
    return distinct([*finding.citations, *(c for missing in finding.missing for c in missing.citations)])


def rule(finding: Finding, links: Links) -> Span:
    """[rule uplift_class]"""
    return Span(f"[rule{NBSP}{unbroken(finding.rule)}]", "where", links.rule(finding))


def short(finding: Finding, links: Links, but: Iterable[Citation] = ()) -> Spans:
    """Every citation of the finding and its rule, in one flow, quotes cut to QUOTE_LIMIT.

    Where the report has an appendix the rule stands there.
    """
    named = () if links.whole else (rule(finding, links),)
    return joined([*flow(distinct(of(finding), but), links, QUOTE_LIMIT), named])


def flow(citations: Iterable[Citation], links: Links, limit: int = 0) -> list[Spans]:
    """The citations place by place, quotes cut to `limit` where one is given.

    A computation and a publication are named without a quote, and so are lines of an input file where there
    are many: "[c.yaml:19, 21, 40]".
    """
    citations = tuple(citations)
    lines = [citation for citation in citations if citation.kind in INPUTS]
    many = len(lines) > FEW
    parts: list[Spans] = []
    for here in _by_place(citations):
        kind = here[0].kind
        if many and kind in INPUTS:
            continue
        if kind in ("computed", "published"):
            here = [replace(here[0], quote="")]
        parts.append(_merged(here, links, limit))
    return parts + (_lines(lines) if many else [])


def places(citations: Iterable[Citation], links: Links, few: int = 0) -> Spans:
    """Where the citations stand, without their words; publications only where nothing else is cited.

    With `few`, so many places at most: clauses first, then papers, lines of an input file only where there are
    none of these.
    """
    bare = distinct(replace(citation, quote="") for citation in citations)
    kept = [citation for citation in bare if citation.kind != "published"] or list(bare)
    if not few:
        return joined(flow(kept, links), " ")
    first = [citation for kind in ("spec", "evidence") for citation in kept if citation.kind == kind]
    told = flow(first or kept, links)
    more = (plain(f"and {len(told) - few} more"),) if len(told) > few else ()
    return joined([*told[:few], *more], " ")


def _by_place(citations: Iterable[Citation]) -> list[list[Citation]]:
    places: dict[tuple[str, str], list[Citation]] = {}
    for citation in citations:
        places.setdefault((citation.kind, citation.where), []).append(citation)
    return list(places.values())


def _lines(citations: Iterable[Citation]) -> list[Spans]:
    """The places of one file in one bracket."""
    files: dict[str, list[str]] = {}
    for citation in citations:
        file, _, line = citation.where.rpartition(":")
        if not line.isdigit():
            file, line = citation.where, ""
        files.setdefault(file, []).append(line)
    told: list[Spans] = []
    for file, found in files.items():
        told_lines = sorted({line for line in found if line}, key=int)
        more = len(told_lines) - MOST
        numbers = ", ".join(told_lines[:MOST]) + (f" and {more} more" if more > 0 else "")
        told.append(plain(f"[{unbroken(file)}:{numbers}]" if numbers else f"[{unbroken(file)}]", "where"))
    return told


def by_kind(finding: Finding, links: Links) -> list[tuple[str, Spans]]:
    """A labelled line for each kind of source, quotes in full; publications are left to the basis.

    Where so many lines of an input file were read that only their numbers would be told, the appendix has them.
    """
    grouped: dict[str, list[Citation]] = {}
    for citation in of(finding):
        if citation.kind != "published":
            grouped.setdefault(citation.kind, []).append(citation)
    if sum(len(grouped.get(kind, ())) for kind in INPUTS) > FEW and len(grouped) > 1:
        grouped = {kind: cited for kind, cited in grouped.items() if kind not in INPUTS}
    kinds = [*CITED, *(kind for kind in grouped if kind not in CITED)]
    return [
        (CITED.get(kind, kind.capitalize()), joined(flow(grouped[kind], links)))
        for kind in kinds
        if kind in grouped
    ]


def basis(finding: Finding, links: Links) -> Spans:
    """On which basis the finding stands, why, by which published source; and the way to its working."""
    published = [citation for citation in of(finding) if citation.kind == "published"]
    words = (Span(f"{finding.basis}. {finding.because}".strip()),)
    anchor = links.rule(finding)
    working = (Span(f"[{WORKING}]", "where", anchor),) if anchor else ()
    return joined([words, *flow(published, links), working], " ")
