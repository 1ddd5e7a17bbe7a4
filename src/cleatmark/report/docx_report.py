"""The review as a DOCX, to hand over and to edit."""

from __future__ import annotations

import os
from collections.abc import Iterable

from cleatmark.report.blocks import Block, anchors_of
from cleatmark.report.content import blocks
from cleatmark.report.docx_base import head_and_foot, new_document, to_bytes
from cleatmark.report.docx_writer import Writer
from cleatmark.report.saving import save
from cleatmark.report.words import TITLE
from cleatmark.review.model import Review


def docx_bytes(review: Review, paper: str = "Letter") -> bytes:
    """The full report as the bytes of a DOCX; `paper` is Letter or A4."""
    return bytes_of(TITLE, blocks(review, full=True), review, paper)


def write_docx(review: Review, path: str | os.PathLike[str], paper: str = "Letter") -> None:
    """Write the full report to `path`, whole or not at all. InputError where it cannot be written."""
    save(docx_bytes(review, paper), path)


def bytes_of(title: str, made: Iterable[Block], review: Review, paper: str) -> bytes:
    """The blocks as a DOCX whose header and footer name the review's job, section, submittal and date."""
    made = tuple(made)
    job, submittal = review.job, review.submittal
    section = " ".join(part for part in (job.section, job.section_title) if part)
    day = job.date or submittal.date
    whole = " – ".join(part for part in (title, job.name, submittal.id) if part)
    document = new_document(whole, section, day, paper)
    head_and_foot(
        document,
        " · ".join(part for part in (job.name, section) if part),
        " · ".join(part for part in (f"{title} {submittal.id}".strip(), day) if part),
    )
    Writer(document, anchors_of(made)).add(made)
    return to_bytes(document)
