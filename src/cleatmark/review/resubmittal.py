"""A review beside an earlier one of the same job: what was answered, what stands, what is new."""

from __future__ import annotations

import json
import stat
from collections.abc import Mapping
from pathlib import Path
from typing import Any

from cleatmark.problems import InputError, Place, Problem
from cleatmark.review.model import Finding, Resubmitted, Review

OPEN = ("deviates", "not shown")
MOST_BYTES = 64_000_000


def earlier_findings(path: Path) -> tuple[tuple[str, Mapping[str, Any]], ...]:
    """The findings of an earlier review's JSON, with the submittal's id. Raises InputError where it is none."""
    try:
        found = path.stat()
        if not stat.S_ISREG(found.st_mode) and not stat.S_ISDIR(found.st_mode):
            raise InputError([Problem(Place(str(path)), "the earlier review is not an ordinary file")])
        if found.st_size > MOST_BYTES:
            raise InputError(
                [Problem(Place(str(path)), f"the earlier review is larger than {MOST_BYTES:,} bytes")]
            )
        data = json.loads(path.read_bytes())
    except OSError as error:
        reason = (error.strerror or "it cannot be read").lower()
        raise InputError(
            [Problem(Place(str(path)), f"the earlier review cannot be read: {reason}")]
        ) from error
    except (ValueError, RecursionError) as error:
        place = Place(str(path), getattr(error, "lineno", 0), getattr(error, "colno", 0))
        help_ = ("give the file that an earlier run wrote with --report NAME.json",)
        raise InputError([Problem(place, "the earlier review is not JSON", help_)]) from error
    reviews = data if isinstance(data, list) else [data]
    out: list[tuple[str, Mapping[str, Any]]] = []
    for review in reviews:
        findings = review.get("findings") if isinstance(review, dict) else None
        if not isinstance(findings, list):
            help_ = ("give the file that an earlier run wrote with --report NAME.json",)
            raise InputError(
                [Problem(Place(str(path)), "the JSON is not a review: it has no findings", help_)]
            )
        head = review.get("submittal")
        name = str(head.get("id", "")) if isinstance(head, dict) else ""
        out += [(name, finding) for finding in findings if isinstance(finding, dict)]
    return tuple(out)


def beside(review: Review, earlier: tuple[tuple[str, Mapping[str, Any]], ...]) -> tuple[Resubmitted, ...]:
    """Every finding that is open now or was open then. Where the earlier file holds several submittals, the one of
    the same number counts, else all."""
    own = [finding for name, finding in earlier if name == review.submittal.id] or [f for _, f in earlier]
    before = {str(finding.get("rule", "")): finding for finding in own}
    out: list[Resubmitted] = []
    for finding in review.findings:
        old = before.pop(finding.rule, None)
        was = str(old.get("verdict", "")) if old is not None else ""
        state = _state(was, finding)
        if state:
            out.append(
                Resubmitted(
                    finding.rule,
                    finding.title,
                    state,
                    was or "not reviewed",
                    finding.verdict,
                    finding.message,
                )
            )
    for rule, old in before.items():
        if old.get("verdict") in OPEN:
            title = str(old.get("title", rule))
            out.append(Resubmitted(rule, title, "no longer reviewed", str(old["verdict"]), "not reviewed"))
    order = ("stands", "new", "changed", "no longer reviewed", "answered")
    return tuple(sorted(out, key=lambda row: order.index(row.state)))


def _state(was: str, now: Finding) -> str:
    if was in OPEN and now.verdict in OPEN:
        return "stands" if was == now.verdict else "changed"
    if was in OPEN:
        return "answered"
    return "new" if now.verdict in OPEN else ""
