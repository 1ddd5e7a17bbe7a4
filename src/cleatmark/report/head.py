"""What identifies a review at the head of everything that is handed over."""

from __future__ import annotations

from cleatmark.report.blocks import Spans, plain
from cleatmark.review.model import Review


def head(review: Review) -> tuple[tuple[str, Spans], ...]:
    """Labelled lines that name the job, the section, the submittal and the rules."""
    job, submittal = review.job, review.submittal
    section = " ".join(part for part in (job.section, job.section_title) if part)
    rows = [
        ("Job", _list(job.name, job.place, job.file)),
        (
            "Section",
            _list(section, job.specification, job.dated and f"dated {job.dated}", _amended(job.addenda)),
        ),
        (
            "Submittal",
            _list(
                submittal.id,
                submittal.title,
                submittal.kind if submittal.kind != "submittal" else "",
                submittal.file,
                submittal.date and f"dated {submittal.date}",
            ),
        ),
        ("Scope", _list(submittal.roof, submittal.scope)),
        ("Sent by", _list(submittal.sent_by)),
        ("For", _list(job.owner, job.designer)),
        ("Insurer", _list(job.insurer)),
        ("Permit date", _list(job.permit_date)),
        ("Rules", _rulebooks(review)),
        ("Reviewed", _list(job.date)),
    ]
    return tuple(row for row in rows if row[1])


def _list(*parts: str) -> Spans:
    return plain(", ".join(part for part in parts if part))


def _amended(addenda: tuple[str, ...]) -> str:
    """ "as amended by Addendum 1 of July 1, 2026 and Addendum 2" """
    return f"as amended by {' and '.join(addenda)}" if addenda else ""


def _rulebooks(review: Review) -> Spans:
    """The rulebooks by edition: "base, practice 2026-11; coastal 2026-10"."""
    editions: dict[str, list[str]] = {}
    for book in review.rulebooks:
        editions.setdefault(book.edition, []).append(book.id)
    return plain("; ".join(f"{', '.join(names)} {edition}".strip() for edition, names in editions.items()))
