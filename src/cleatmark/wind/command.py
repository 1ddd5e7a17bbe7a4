"""What the `wind` command prints for a job: its roofs one by one, as text and as one object."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from msgspec import Struct

from cleatmark.facts import Fact
from cleatmark.fields import FieldBook
from cleatmark.problems import Place, Problem
from cleatmark.wind.asjson import as_json
from cleatmark.wind.blocks import read_own
from cleatmark.wind.curves import Block
from cleatmark.wind.report import DEFAULT_AREAS, RoofWind, wind_report
from cleatmark.wind.site import word
from cleatmark.wind.tables import render

COEFFICIENTS = "job.wind.coefficients"
"""The job's field that names a file of the user's own coefficient blocks, seen from the job's folder."""


class WindResult(Struct, frozen=True):
    """The command's result. `status` is the exit status: 2 with problems, 1 where a zone is refused, otherwise 0."""

    reports: tuple[RoofWind, ...]
    problems: tuple[Problem, ...]
    job: str = ""

    @property
    def status(self) -> int:
        if self.problems:
            return 2
        return 0 if self.reports and all(report.complete for report in self.reports) else 1

    def json(self) -> dict[str, Any]:
        return as_json(self.reports, self.job)

    def text(self, *, width: int = 80, units: str = "US", working: bool = True) -> str:
        return render(self.reports, width=width, units=units, working=working)


def own_blocks(
    facts: Mapping[str, Fact], folder: Path, file: Path | None = None
) -> tuple[tuple[Block, ...], tuple[Problem, ...]]:
    """The user's own blocks: from `file`, or from the file that the job names, seen from the job's folder."""
    named = word(facts, COEFFICIENTS)
    path = file or (folder / named if named else None)
    return read_own(path) if path is not None else ((), ())


def wind_main(
    roofs: Mapping[str, Mapping[str, Fact]],
    areas: Sequence[float] = DEFAULT_AREAS,
    *,
    job: str = "",
    file: str = "job.yaml",
    places: Mapping[str, Place] | None = None,
    book: FieldBook | None = None,
    coefficients: Path | None = None,
) -> WindResult:
    """The wind on every roof of a job.

    roofs         facts by roof name, each with the job's own (Job.for_roof); a job without a roof gives {"roof": facts}
    areas         effective wind areas, sq ft; each more than zero
    file          the job file, for places and for the folder that a coefficient file is seen from
    coefficients  a file of the user's own blocks, in place of the one that the job names
    """
    asked = tuple(dict.fromkeys(areas)) or DEFAULT_AREAS
    wrong = [area for area in asked if not 0 < area < float("inf")]
    if wrong:
        text = f"an effective wind area is more than zero, and {wrong[0]:g} sq ft is not"
        return WindResult((), (Problem(Place(file), text, ("state it in sq ft, such as 10",)),), job)
    problems: list[Problem] = []
    reports: list[RoofWind] = []
    for name, facts in roofs.items():
        own, found = own_blocks(facts, Path(file).parent, coefficients)
        problems.extend(problem for problem in found if problem not in problems)
        place = (places or {}).get(name, Place(file))
        report = wind_report(facts, asked, roof=name, book=book, own=own, place=place)
        problems.extend(problem for problem in report.problems if problem not in problems)
        reports.append(report)
    return WindResult(tuple(reports), tuple(problems), job)
