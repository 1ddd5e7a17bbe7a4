"""`cleatmark review`: one or more submittals under a job."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from cleatmark.commands.outputs import check_outputs, named_by, same
from cleatmark.problems import InputError, Place, Problem

if TYPE_CHECKING:
    from cleatmark.review.model import Review


def run(arguments: argparse.Namespace) -> int:
    """Reviews, writes the reports asked for, prints; gives the exit status."""
    from cleatmark.review.run import run_reviews

    if arguments.report:
        from cleatmark.report.files import check_ending

        for path in arguments.report:
            check_ending(path)
    for path in (arguments.packet, arguments.field_sheet):
        if path is not None and path.suffix.casefold() != ".docx":
            message = f'a packet or field sheet ends in .docx; "{path.name}" does not'
            raise InputError([Problem(Place(str(path)), message, ("for example: --packet requests.docx",))])
    _once(arguments.submittals)
    _check_outputs(arguments)
    drawn = bool(arguments.report) or arguments.field_sheet is not None
    reviews = run_reviews(arguments.job, arguments.submittals, arguments.rules, drawn=drawn)
    if arguments.earlier is not None:
        from msgspec.structs import replace

        from cleatmark.review.resubmittal import beside, earlier_findings

        earlier = earlier_findings(arguments.earlier)
        reviews = tuple(replace(one, earlier=beside(one, earlier)) for one in reviews)
    for path in arguments.report:
        write_reports(reviews, path, arguments.paper)
    for number, one in enumerate(reviews):
        if arguments.packet is not None:
            from cleatmark.report.packet import write_packet

            write_packet(one, numbered(arguments.packet, number, len(reviews)), arguments.paper)
        if arguments.field_sheet is not None:
            from cleatmark.report.field_sheet import write_field_sheet

            write_field_sheet(one, numbered(arguments.field_sheet, number, len(reviews)), arguments.paper)
    if arguments.format == "json":
        from cleatmark.report.json_report import dumps

        sys.stdout.write(dumps(reviews))
    else:
        from cleatmark.report.text import print_review

        for number, one in enumerate(reviews):
            if number:
                print()
            print_review(
                one, stream=sys.stdout, full=arguments.full, brief=not (arguments.more or arguments.full)
            )
    return status(reviews)


def _check_outputs(arguments: argparse.Namespace) -> None:
    """InputError where a file to be written cannot be, or is one of those that are read."""
    count = len(arguments.submittals)
    asked = (*arguments.report, *filter(None, (arguments.packet, arguments.field_sheet)))
    if not asked:
        return
    written = [
        numbered(path, number, count)
        for path in asked
        for number in range(1 if path.suffix.casefold() == ".json" else count)
    ]
    read = [
        arguments.job,
        *arguments.submittals,
        *filter(None, (arguments.earlier,)),
        *map(Path, arguments.rules),
    ]
    check_outputs(written, read)

    from cleatmark.job.load import load_job
    from cleatmark.review.run import declared_fields

    job, _ = load_job(arguments.job, declared_fields())
    if job is not None:
        check_outputs(written, named_by(job))


def _once(submittals: Sequence[Path]) -> None:
    """InputError where a submittal is named twice."""
    seen: set[Path] = set()
    for path in submittals:
        if same(path) in seen:
            help_ = ("name each submittal once; to compare with an earlier review: --earlier FILE.json",)
            raise InputError([Problem(Place(str(path)), "this submittal is named twice", help_)])
        seen.add(same(path))


def status(reviews: Sequence[Review]) -> int:
    """0 where nothing deviates and nothing is left not shown, else 1."""
    open_ = any(f.verdict in ("deviates", "not shown") for one in reviews for f in one.findings)
    return 1 if open_ or any(zone.refused for one in reviews for zone in one.zones) else 0


def numbered(path: Path, number: int, count: int) -> Path:
    """The file for one of several reviews: review.docx, review-2.docx, ..."""
    return path if count == 1 or number == 0 else path.with_stem(f"{path.stem}-{number + 1}")


def write_reports(reviews: Sequence[Review], path: Path, paper: str) -> None:
    """Writes the report in the form that the file's ending names; one file for each review, JSON in one."""
    from cleatmark.report.files import write_report

    if path.suffix.casefold() == ".json":
        from cleatmark.report.json_report import dumps
        from cleatmark.report.saving import save

        save(dumps(reviews).encode(), path)
        return
    for number, one in enumerate(reviews):
        write_report(one, numbered(path, number, len(reviews)), paper)
