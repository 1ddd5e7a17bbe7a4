"""A pre-screen told: text and JSON line by line, DOCX and HTML with as many systems as a reader can use."""

from __future__ import annotations

import os
from collections.abc import Iterable, Iterator, Mapping
from itertools import groupby, islice
from pathlib import Path
from typing import Protocol

from msgspec import to_builtins
from msgspec.structs import asdict

from cleatmark.report import prescreen_blocks as told
from cleatmark.report.blocks import Block, anchors_of
from cleatmark.report.json_report import Json, stated_json, write_json
from cleatmark.report.page import page
from cleatmark.report.plain import text_of
from cleatmark.report.saving import save, save_parts
from cleatmark.review.model import STANDING_CAUTIONS
from cleatmark.review.prescreen_model import PrescreenHead, Screened

_CHUNK = 50
"""Systems set as one block of text."""


class Systems(Protocol):
    """The systems in their order, to be gone through more than once, and how many there are of each outcome."""

    def __iter__(self) -> Iterator[Screened]: ...

    def counts(self) -> dict[str, int]: ...


def text_parts(head: PrescreenHead, systems: Systems, folder: str, width: int = 100) -> Iterator[str]:
    """The pre-screen as plain text, in parts."""
    counts = systems.counts()
    yield text_of(page([*told.opening(head, counts, folder), *told.asked(head)], width))
    for name, ones in groupby(systems, key=lambda one: one.outcome):
        first = True
        while chunk := list(islice(ones, _CHUNK)):
            shown = text_of(page(told.outcome(name, chunk, counts[name], first=first), width))
            yield f"\n{shown}" if first else shown
            first = False
    yield "\n" + text_of(page(told.closing(head), width))


def json_parts(head: PrescreenHead, systems: Systems) -> Iterator[str]:
    """The pre-screen as one JSON object, in parts; `systems` stands last."""
    opening = write_json(head_json(head, systems.counts())).rstrip()
    yield opening.removesuffix("}").rstrip() + ',\n  "systems": ['
    between = "\n"
    for one in systems:
        yield between + "    " + write_json(to_builtins(one)).rstrip().replace("\n", "\n    ")
        between = ",\n"
    yield "\n  ]\n}\n" if between == ",\n" else "]\n}\n"


def head_json(head: PrescreenHead, counts: Mapping[str, int]) -> Json:
    """All but the systems as plain dictionaries and lists."""
    return {
        "job": asdict(head.job),
        "rulebooks": [asdict(book) for book in head.rulebooks],
        "asked": [
            {
                "title": group.title,
                "subjects": [
                    {"title": title, "stated": [stated_json(item) for item in items]}
                    for title, items in group.subjects
                ],
            }
            for group in head.asked
        ],
        "questions": [{"to": request.to, "questions": list(request.questions)} for request in head.questions],
        "advice": [to_builtins(item) for item in head.advice],
        "amendments": [to_builtins(item) for item in head.amendments],
        "notices": list(head.notices),
        "cautions": list(dict.fromkeys([*STANDING_CAUTIONS, *head.cautions])),
        "counts": dict(counts),
    }


def blocks(head: PrescreenHead, systems: Systems, folder: str) -> tuple[Block, ...]:
    """The pre-screen for paper: of each outcome the first systems, and how many there are beyond them."""
    counts = systems.counts()
    made = [*told.opening(head, counts, folder), *told.asked(head)]
    for name, ones in groupby(systems, key=lambda one: one.outcome):
        made += told.outcome(name, list(islice(ones, told.SHOWN_LIMIT)), counts[name])
        more = counts[name] - told.SHOWN_LIMIT
        if more > 0:
            made.append(told.left_out(more))
    return (*made, *told.closing(head))


def write(head: PrescreenHead, systems: Systems, folder: str, path: Path, paper: str = "Letter") -> None:
    """Write the pre-screen in the form that the file's ending names. InputError where it cannot be written."""
    match path.suffix.casefold():
        case ".docx":
            save(docx_bytes(head, systems, folder, paper), path)
        case ".html":
            save(html_text(head, systems, folder).encode("utf-8"), path)
        case ".json":
            save_parts(_encoded(json_parts(head, systems)), path)
        case _:
            save_parts(_encoded(text_parts(head, systems, folder)), path)


def _encoded(parts: Iterable[str]) -> Iterator[bytes]:
    return (part.encode("utf-8") for part in parts)


def docx_bytes(head: PrescreenHead, systems: Systems, folder: str, paper: str = "Letter") -> bytes:
    """The pre-screen as the bytes of a DOCX; `paper` is Letter or A4."""
    from cleatmark.report.docx_base import head_and_foot, new_document, to_bytes
    from cleatmark.report.docx_writer import Writer

    job = head.job
    made = blocks(head, systems, folder)
    section = " ".join(part for part in (job.section, job.section_title) if part)
    document = new_document(f"{told.TITLE} – {job.name}", section, job.date, paper)
    left = " · ".join(part for part in (job.name, section) if part)
    head_and_foot(document, left, " · ".join(part for part in (told.TITLE, job.date) if part))
    Writer(document, anchors_of(made)).add(made)
    return to_bytes(document)


def html_text(head: PrescreenHead, systems: Systems, folder: str) -> str:
    """The pre-screen as the text of one HTML file that loads and runs nothing."""
    from cleatmark.report.html_report import page_text

    job = head.job
    foot = " · ".join(part for part in (job.name, job.section, job.date) if part)
    return page_text(f"{told.TITLE} – {job.name}", foot, blocks(head, systems, folder))


def check_endings(paths: Iterable[str | os.PathLike[str]]) -> None:
    """InputError where a report's kind is not known by its name."""
    from cleatmark.report.files import check_ending

    for path in paths:
        check_ending(path)
