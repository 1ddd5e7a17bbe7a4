"""The coverage table in DEVELOPERS.md says of each roof and edition what the code does: done, notice, refused."""

from __future__ import annotations

from pathlib import Path

import pytest

from cleatmark.wind.report import wind_report

from .given import facts

EDITIONS = ("ASCE 7-10", "ASCE 7-16", "ASCE 7-22")
ROOFS = {
    "low slope to 7 deg (monoslope to 3)": {},
    "gable 7-20": {"shape": "gable", "slope": "3:12"},
    "gable 20-27": {"shape": "gable", "slope": "5.3:12"},
    "gable 27-45": {"shape": "gable", "slope": "8:12"},
    "hip 7-20": {"shape": "hip", "slope": "3:12"},
    "hip 20-27": {"shape": "hip", "slope": "5.3:12"},
    "hip 27-45": {"shape": "hip", "slope": "8:12"},
    "monoslope 3-10, 10-30": {"shape": "monoslope", "slope": "1:12"},
    "h over 60 ft, to 10 deg": {"mean_height": "100 ft"},
    "h over 60 ft, over 10 deg": {"mean_height": "100 ft", "shape": "gable", "slope": "3:12"},
    "free roof of an open building": {"enclosure": "open"},
    "partially open": {"enclosure": "partially open"},
}
AREAS = (10.0, 50.0, 200.0)


def table() -> dict[str, tuple[str, ...]]:
    text = (Path(__file__).parents[2] / "DEVELOPERS.md").read_text(encoding="utf-8")
    rows = [
        tuple(cell.strip() for cell in line.strip("|").split("|"))
        for line in text.splitlines()
        if line.startswith("| ")
    ]
    start = next(index for index, row in enumerate(rows) if row[0] == "Roof")
    return {row[0]: row[1:] for row in rows[start + 1 :] if len(row) == 4}


def grades(edition: str, changes: dict[str, str]) -> set[str]:
    report = wind_report(facts(standard=edition, **changes), AREAS, drawn=False)
    if report.refused:
        return {"refused"}
    names = {"high": "done", "medium": "notice"}
    found = set()
    for row in report.zones:
        found.add("refused" if row.refused else names[row.confidence])
        found.add("refused" if row.inward_refused else names[row.inward_confidence])
    return found


@pytest.mark.parametrize("roof", ROOFS)
@pytest.mark.parametrize("edition", EDITIONS)
def test_the_coverage_table_says_what_is_done(roof: str, edition: str) -> None:
    cell = table()[roof][EDITIONS.index(edition)]
    if cell.startswith("as ") or ", as gable" in cell:
        return
    said = {word for word in ("done", "notice", "refused") if word in cell}
    assert grades(edition, ROOFS[roof]) == said, cell


def test_a_cell_that_points_to_another_has_the_same_grades() -> None:
    rows = table()
    assert rows["gable 20-27"][0] == "as 7-20"
    assert grades("ASCE 7-10", ROOFS["gable 20-27"]) == grades("ASCE 7-10", ROOFS["gable 7-20"])
    for roof in ("hip 7-20", "hip 20-27"):
        assert "as gable" in rows[roof][0]
        assert grades("ASCE 7-10", ROOFS[roof]) == grades("ASCE 7-10", ROOFS["gable 7-20"])
    for number in (1, 2):
        assert rows["partially open"][number] == "as enclosed"
        assert grades(EDITIONS[number], ROOFS["partially open"]) == grades(EDITIONS[number], {})
