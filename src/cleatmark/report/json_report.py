"""The review as JSON, in the shape that programs read. Numbers are not rounded."""

from __future__ import annotations

import json
import re
from collections.abc import Iterable
from datetime import date
from fractions import Fraction
from math import isfinite
from typing import Any

from msgspec import to_builtins
from msgspec.structs import asdict

from cleatmark.facts import Citation, Missing, Nothing, Stated, Value
from cleatmark.report.cautions import cautions
from cleatmark.review.model import Advice, Amount, Evidence, Finding, Review, RootCause, RunRow, ZoneRow
from cleatmark.units import Quantity
from cleatmark.units.quantity import BASE_UNITS

Json = dict[str, Any]

# Valid inside a JSON string, but a terminal acts on them.
_UNSAFE = re.compile("[\x7f-\x9f\u200b-\u200f\u2028-\u202e\u2060-\u2069\ufeff\ud800-\udfff]")


def to_json(review: Review) -> Json:
    """The review as plain dictionaries and lists."""
    return {
        "job": asdict(review.job),
        "submittal": asdict(review.submittal),
        "rulebooks": [asdict(head) for head in review.rulebooks],
        "answers": {key: review.answers.get(key, "not reviewed") for key in ("asked", "site")},
        "reasons": {key: review.reasons.get(key, "") for key in ("asked", "site")},
        "disposition": review.disposition,
        "stated": [stated_json(stated) for stated in review.stated],
        "zones": [_zone(row) for row in review.zones],
        "evidence": [_evidence(paper) for paper in review.evidence],
        "findings": [_finding(finding) for finding in review.findings],
        "root_causes": [_root(root, review.findings) for root in review.root_causes],
        "requests": [to_builtins(request) for request in review.requests],
        "comparison": [asdict(row) for row in review.comparison],
        "advice": [_advice(advice) for advice in review.advice],
        "departures": {
            "declared": list(review.departures_declared),
            "found": list(review.departures_found),
        },
        "remedies": [to_builtins(remedy) for remedy in review.remedies],
        "tipping_points": [to_builtins(point) for point in review.tipping_points],
        "earlier": [to_builtins(row) for row in review.earlier],
        "amendments": [to_builtins(item) for item in review.amendments],
        "attachment": [to_builtins(roof) for roof in review.attachment],
        "notices": list(review.notices),
        "cautions": list(cautions(review)),
    }


def dumps(reviews: Iterable[Review]) -> str:
    """One object for one review, a list for several; indented, closed by a newline."""
    made = [to_json(review) for review in reviews]
    return write_json(made[0] if len(made) == 1 else made)


def write_json(made: Json | list[Json]) -> str:
    """JSON text for a file or a terminal: indented, safe to print, closed by a newline."""
    text = json.dumps(made, ensure_ascii=False, indent=2, allow_nan=False)
    return _UNSAFE.sub(lambda match: f"\\u{ord(match[0]):04x}", text) + "\n"


def _number(value: float | Fraction | None) -> float | None:
    """The number as JSON can carry it: whole numbers stay whole, what is not finite is null."""
    if value is None or not isfinite(value):
        return None
    return int(value) if value == int(value) else float(value)


def _citation(citation: Citation) -> Json:
    made: Json = {"kind": citation.kind, "where": citation.where, "quote": citation.quote}
    return {**made, "dated": citation.dated} if citation.dated else made


def _missing(missing: Missing) -> Json:
    return {**asdict(missing), "citations": [_citation(citation) for citation in missing.citations]}


def _amount(amount: Amount) -> Json:
    return {"text": amount.text, "value": _number(amount.value), "unit": amount.unit}


def _finding(finding: Finding) -> Json:
    return {
        **asdict(finding),
        "found": _amount(finding.found),
        "required": _amount(finding.required),
        "missing": [_missing(missing) for missing in finding.missing],
        "causes": list(finding.causes),
        "rulebook": list(finding.rulebook),
        "citations": [_citation(citation) for citation in finding.citations],
        "trace": list(finding.trace),
        "notices": list(finding.notices),
    }


AS_WRITTEN = frozenset({"rating", "slope", "ratio", "screw size"})


def _value(value: Value) -> tuple[Any, str]:
    if isinstance(value, Quantity):
        if value.kind in AS_WRITTEN:
            return value.text, ""
        return _number(value.value), BASE_UNITS.get(value.kind, value.unit)
    if isinstance(value, Nothing):
        return "none", ""
    if isinstance(value, date):
        return value.isoformat(), ""
    return list(value) if isinstance(value, tuple) else value, ""


def stated_json(stated: Stated) -> Json:
    """A stated requirement as programs read it; `value` a number in `unit`, text, or a list of several."""
    values = [_value(value) for value in stated.values]
    return {
        "subject": stated.subject,
        "relation": stated.relation,
        "value": None if not values else values[0][0] if len(values) == 1 else [value for value, _ in values],
        "unit": values[0][1] if values else "",
        "text": stated.text,
        "zone": stated.zone,
        "area_sqft": _number(stated.area.value) if stated.area else None,
        "scope": stated.scope,
        "roof": stated.roof,
        "level": stated.level,
        "verb": stated.verb,
        "clause": stated.clause,
        "quote": stated.quote,
        "flags": list(stated.flags),
        "reading": stated.reading,
        "citation": _citation(stated.citation),
        "also": [_citation(citation) for citation in stated.also],
    }


def _zone(row: ZoneRow) -> Json:
    figures = ("area_sqft", "required_psf", "allowable_psf", "clip_spacing_in", "ratio")
    return {
        **asdict(row),
        **{name: _number(getattr(row, name)) for name in figures},
        "steps": list(row.steps),
    }


def _run(run: RunRow) -> Json:
    return {
        **asdict(run),
        "allowable_psf": _number(run.allowable_psf),
        "clip_spacing_in": _number(run.clip_spacing_in),
        "covers_zones": dict(sorted(run.covers_zones.items())),
        "differences": [asdict(difference) for difference in run.differences],
    }


def _evidence(paper: Evidence) -> Json:
    return {
        **asdict(paper),
        "runs": [_run(run) for run in paper.runs],
        "conditions": [asdict(condition) for condition in paper.conditions],
        "lacks": list(paper.lacks),
        "claims": list(paper.claims),
        "standings": [asdict(standing) for standing in paper.standings],
    }


def _advice(advice: Advice) -> Json:
    return {**asdict(advice), "citations": [_citation(citation) for citation in advice.citations]}


def _root(root: RootCause, findings: tuple[Finding, ...]) -> Json:
    """The cause, with the findings told by rule and by their index among the review's findings."""

    def told(finding: Finding) -> Json:
        at = next((n for n, other in enumerate(findings) if other == finding), None)
        return {"rule": finding.rule, "finding": at}

    return {
        "cause": root.cause,
        "title": root.title,
        "head": told(root.head),
        "follows": [told(finding) for finding in root.follows],
    }
