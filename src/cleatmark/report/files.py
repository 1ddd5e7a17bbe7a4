"""A report as a file: its kind follows from the name's ending."""

from __future__ import annotations

import os
from pathlib import Path

from cleatmark.problems import InputError, Place, Problem
from cleatmark.report.saving import save
from cleatmark.review.model import Review

ENDINGS = (".docx", ".html", ".json", ".txt")


def check_ending(path: str | os.PathLike[str]) -> None:
    """InputError where the name ends in none of ENDINGS: to be asked before the work is done."""
    if Path(path).suffix.casefold() not in ENDINGS:
        message = (
            f'"{Path(path).name}" ends in none of {", ".join(ENDINGS)}, so the kind of report is not known'
        )
        raise InputError([Problem(Place(str(path)), message, ("for example report.docx",))])


def write_report(review: Review, path: str | os.PathLike[str], paper: str = "Letter") -> None:
    """Write the full report as DOCX, HTML, JSON or plain text, whole or not at all.

    `paper` is the DOCX's: Letter or A4. InputError where the ending is unknown or the folder refuses.
    """
    check_ending(path)
    match Path(path).suffix.casefold():
        case ".docx":
            from cleatmark.report.docx_report import write_docx

            write_docx(review, path, paper)
        case ".html":
            from cleatmark.report.html_report import write_html

            write_html(review, path)
        case ".json":
            from cleatmark.report.json_report import dumps

            save(dumps([review]).encode("utf-8"), path)
        case _:
            from cleatmark.report.text import review_text

            save(review_text(review, full=True).encode("utf-8"), path)
