"""Each paper's runs beside the proposal: what differs, run by run, and how much is the same."""

from __future__ import annotations

from collections.abc import Iterable

from cleatmark.report.blocks import Block, Column, Paragraph, Row, Spans, Table, plain
from cleatmark.report.papers import UNTOLD, covers, verdict_weight
from cleatmark.review.model import Difference, Evidence, RunRow

ABREAST = 5
"""So many runs stand beside each other."""

_Key = tuple[str, str]


def beside(paper: Evidence) -> list[Block]:
    """A table of the properties that differ or are not shown, the runs beside each other; the rest in a line."""
    made: list[Block] = []
    runs = [run for run in paper.runs if run.differences]
    for start in range(0, len(runs), ABREAST):
        made += _beside(paper, runs[start : start + ABREAST])
    return made


def _beside(paper: Evidence, runs: list[RunRow]) -> list[Block]:
    by_run = [{(one.field, one.zone): one for one in run.differences} for run in runs]
    order = dict.fromkeys(key for rows in by_run for key in rows)
    apart = [key for key in order if any(_apart(rows.get(key)) for rows in by_run)]
    silent = [key for key in apart if all(_silent(rows.get(key)) for rows in by_run)]
    told = [key for key in apart if key not in silent]
    made: list[Block] = [Paragraph(plain(_covered(paper, runs), "strong"))] if not told else []
    if told:
        made.append(_table(paper, runs, by_run, told))
    lines = []
    if silent:
        listed = "; ".join(_named(next(rows[key] for rows in by_run if key in rows)) for key in silent)
        lines.append(f"Not stated by {paper.id}, and so not shown: {listed}.")
    same = {key[0] for key in order} - {key[0] for key in apart}
    if same:
        noun = "property is" if len(same) == 1 else "properties are"
        lines.append(f"{len(same)} {noun} proposed the same as tested.")
    return [*made, *([Paragraph(plain(" ".join(lines)), small=True)] if lines else [])]


def _table(
    paper: Evidence, runs: list[RunRow], by_run: list[dict[_Key, Difference]], told: Iterable[_Key]
) -> Table:
    columns = [Column("Property"), Column("Proposed"), *(Column(_run(paper, run)) for run in runs)]
    rows = []
    for key in told:
        named = next(rows[key] for rows in by_run if key in rows)
        cells = [plain(_named(named)), plain(named.proposed or "not shown")]
        rows.append(Row((*cells, *(_cell(rows.get(key)) for rows in by_run))))
    rows.append(Row((plain("Covers the proposal", "strong"), (), *(plain(covers(run)) for run in runs))))
    return Table(f"{paper.id}, as tested", tuple(columns), tuple(rows))


def _cell(row: Difference | None) -> Spans:
    if row is None:
        return plain("—")
    tested = row.tested or "not shown"
    if row.verdict == "same":
        return plain(tested)
    return (*plain(f"{tested}, "), *plain(row.verdict, verdict_weight(row.verdict)))


def _apart(row: Difference | None) -> bool:
    """Whether there is something to tell: a property of which neither side is stated says nothing."""
    return row is not None and row.verdict != "same" and {row.tested, row.proposed} - UNTOLD != set()


def _silent(row: Difference | None) -> bool:
    return row is None or row.tested in UNTOLD


def _named(row: Difference) -> str:
    return f"{row.title} ({row.zone})" if row.zone else row.title


def _run(paper: Evidence, run: RunRow) -> str:
    return f"Run {run.run}" if run.run else paper.id


def _covered(paper: Evidence, runs: list[RunRow]) -> str:
    said = dict.fromkeys(covers(run) for run in runs)
    names = ", ".join(run.run for run in runs if run.run)
    noun = f", run{'s' if len(runs) > 1 else ''} {names}" if names else ""
    return f"{paper.id}{noun}: covers the proposal: {'; '.join(said)}"
