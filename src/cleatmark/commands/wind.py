"""`cleatmark wind`: the uplift on each roof zone of a job, with its working."""

from __future__ import annotations

import argparse
import shutil
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from cleatmark.facts import Fact
    from cleatmark.wind.report import RoofWind


def run(arguments: argparse.Namespace) -> int:
    """Works the wind out and prints it; status 1 where a zone is refused or a roof asked for cannot be drawn."""
    from cleatmark.job.load import load_job
    from cleatmark.problems import InputError
    from cleatmark.review.demand import own_blocks
    from cleatmark.review.run import declared_fields
    from cleatmark.wind.report import DEFAULT_AREAS, wind_report

    book = declared_fields()
    job, problems = load_job(arguments.job, book)
    if problems or job is None:
        raise InputError(problems)
    areas = [area.sqft for area in arguments.area] or list(DEFAULT_AREAS)
    own = own_blocks(job)
    reports = tuple(
        wind_report(job.for_roof(roof.name), areas, roof=roof.name, book=book, own=own, place=roof.place)
        for roof in job.roofs
    )
    found = [problem for report in reports for problem in report.problems]
    if found:
        raise InputError(found)
    undrawn: tuple[str, ...] = ()
    if arguments.plan is not None:
        undrawn = write_plans(reports, arguments.plan, _units(job.facts.get("job.units")))
    if arguments.format == "json":
        from cleatmark.report.json_report import write_json
        from cleatmark.wind.asjson import as_json

        sys.stdout.write(write_json(as_json(reports, job.name, arguments.area)))
    else:
        from cleatmark.report.plain import write
        from cleatmark.wind.text import as_text

        width = shutil.get_terminal_size((100, 24)).columns
        units = _units(job.facts.get("job.units"))
        write(as_text(reports, job.name, units=units, width=width, areas=arguments.area), sys.stdout)
    for line in undrawn:
        sys.stderr.write(f"{line}\n")
    return 0 if reports and not undrawn and all(report.complete for report in reports) else 1


def _units(fact: Fact | None) -> str:
    return fact.text if fact is not None else "US"


def write_plans(reports: Sequence[RoofWind], path: Path, units: str) -> tuple[str, ...]:
    """Writes the roof plans as .svg or .png, a file for each roof, numbered as the job lists them from the second on.

    Gives a line for each roof that cannot be drawn, with the reason; the others are written.
    """
    from cleatmark.problems import InputError, Place, Problem
    from cleatmark.report.saving import save
    from cleatmark.wind.plan import plan_drawing

    ending = path.suffix.casefold()
    if ending not in (".svg", ".png"):
        message = f'a roof plan ends in .svg or .png; "{path.name}" does not'
        raise InputError([Problem(Place(str(path)), message, ("for example: --plan roof.svg",))])
    undrawn: list[str] = []
    for number, report in enumerate(reports, 1):
        target = path if number == 1 else path.with_stem(f"{path.stem}-{number}")
        drawing = plan_drawing(report, units=units, png=ending == ".png")
        if drawing is None:
            reason = "; ".join(report.layout_notes) or report.refused or "the roof's zones cannot be laid out"
            named = "the roof" if report.roof == "roof" else report.roof
            undrawn.append(f"{target}: no plan of {named} is drawn. {reason}")
            continue
        save(drawing.png if ending == ".png" else drawing.svg.encode(), target)
    return tuple(undrawn)
