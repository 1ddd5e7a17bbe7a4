"""Inward pressure and screws beside the attachment schedule and on the field sheet, where they are known."""

from __future__ import annotations

from msgspec.structs import replace

from cleatmark.report import tested_parts
from cleatmark.report.attaching import attachment
from cleatmark.report.blocks import Block, Bullets, Table
from cleatmark.review.model import Attachment, AttachmentRow, Evidence, Review, RunRow, ZoneRow

from .fixture import COMPLIES

EDGE = AttachmentRow(
    zone="Zone 2",
    verdict="holds",
    proposed_in=48,
    spacing_in=48,
    area_sqft=8,
    demand_psf=34,
    allowable_psf=39,
    document="S-41",
    run="2",
    inward="not shown",
    inward_demand_psf=9.6,
    screw_check="not shown",
    clip_load_lb=272,
)
KNOWN = replace(
    EDGE,
    inward="holds",
    inward_allowable_psf=25,
    inward_document="S-41",
    inward_run="2",
    screw_check="exceeds",
    screw_capacity_lb=240.4,
    screw_kind="pull-out",
)


def review(*rows: AttachmentRow, units: str = "US") -> Review:
    job = replace(COMPLIES.job, units=units)
    return replace(COMPLIES, job=job, attachment=(Attachment("", rows),))


def tables(blocks: list[Block]) -> list[tuple[list[str], list[list[str]]]]:
    return [
        (
            [column.title for column in block.columns],
            [["".join(span.text for span in cell) for cell in row.cells] for row in block.rows],
        )
        for block in blocks
        if isinstance(block, Table)
    ]


def test_no_table_where_nothing_is_known() -> None:
    assert len(tables(attachment(review(EDGE)))) == 1


def test_inward_and_screws_stand_in_a_table_of_their_own() -> None:
    _, (heads, rows) = tables(attachment(review(KNOWN, replace(EDGE, zone="Zone 3"))))
    assert heads == [
        "Zone",
        "Inward demand, psf",
        "Inward allowable, psf",
        "Inward",
        "Load on a clip, lb",
        "Its screws carry, lb",
        "Screws",
    ]
    assert rows == [
        ["Zone 2", "9.6", "25.0", "holds", "272", "240", "exceeds, by pull-out"],
        ["Zone 3", "9.6", "—", "not shown", "272", "—", "not shown"],
    ]


def test_notes_of_every_roof_are_told_once_below_the_last() -> None:
    roofs = tuple(
        Attachment(name, (EDGE,), notes=("net of waste", *own))
        for name, own in (("A", ("only A",)), ("B", ()))
    )
    made = attachment(replace(COMPLIES, attachment=roofs))
    told = [
        ["".join(span.text for span in item) for item in block.items]
        for block in made
        if isinstance(block, Bullets)
    ]
    assert told == [["only A"], ["net of waste"]]
    assert isinstance(made[-1], Bullets)


def test_columns_only_for_what_is_known() -> None:
    only = replace(EDGE, screw_check="holds", screw_capacity_lb=477.4, screw_kind="pull-out")
    _, (heads, _) = tables(attachment(review(only)))
    assert heads == ["Zone", "Load on a clip, lb", "Its screws carry, lb", "Screws"]


def test_another_run_that_shows_the_inward_pressure_is_named() -> None:
    _, (_, rows) = tables(attachment(review(replace(KNOWN, inward_run="5"))))
    assert rows[0][3] == "holds, S-41, run 5"


def test_amounts_go_by_the_jobs_units() -> None:
    """9.6 psf is 0.460 kPa, 25 psf 1.197; 272 lb is 1.210 kN, 240.4 lb 1.069."""
    _, (heads, rows) = tables(attachment(review(KNOWN, units="SI")))
    assert (heads[1], heads[4]) == ("Inward demand, kPa", "Load on a clip, kN")
    assert rows[0][1:3] + rows[0][4:6] == ["0.46", "1.20", "1.21", "1.07"]


def test_the_field_sheet_tells_them_of_the_spacing_that_it_shows() -> None:
    zone = ZoneRow("", "Zone 2", 8, "allowable", 34, 39, 48, 34 / 39, "S-41", "2", verdict="complies")
    paper = Evidence("S-41", "tested report", "", "stands", (RunRow("2", "3", "ASTM E1592", "", "yes", ()),))
    made = replace(review(KNOWN), zones=(zone,), evidence=(paper,))
    ((_, rows),) = tables(tested_parts.tested_parts(made, [zone]))
    assert ["Inward, holds", "25.0 psf, where 9.6 psf is needed"] in [
        [cell.replace("\u00a0", " ") for cell in row] for row in rows
    ]
    assert ["Screws, advisory", "240 lb by pull-out, where 272 lb comes"] in [
        [cell.replace("\u00a0", " ") for cell in row] for row in rows
    ]
    closer = replace(zone, clip_spacing_in=24)
    ((_, rows),) = tables(tested_parts.tested_parts(made, [closer]))
    assert not [row for row in rows if row[0].startswith(("Inward", "Screws"))]
