"""How the parts of a report are laid out: widths, the plan's edge, runs beside each other, requirements in words."""

from __future__ import annotations

from fractions import Fraction

import pytest
from lxml import etree
from msgspec.structs import replace

from cleatmark.facts import Citation, Stated
from cleatmark.report import matrix
from cleatmark.report.blocks import Box, Column, Heading, Paragraph, Row, Table, plain
from cleatmark.report.content import blocks
from cleatmark.report.drawn import DIMENSIONS, EDGE, drawn_box
from cleatmark.report.figures import share
from cleatmark.report.requirement import by_clause
from cleatmark.report.svg import safe_svg
from cleatmark.report.widths import broken, shares
from cleatmark.review.model import Difference, Evidence, RunRow
from cleatmark.units import Quantity

from .fixture import COMPLIES, SWAP, WIDTH_OK

SVG = '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 1000 800">{}</svg>'
GROUND = '<rect width="1000" height="800" fill="#fff"/>'


def table(*rows: tuple[str, ...]) -> Table:
    columns = tuple(Column(f"C{n}") for n in range(len(rows[0])))
    return Table("", columns, tuple(Row(tuple(plain(cell) for cell in row)) for row in rows))


def test_a_table_whose_words_fit_is_set_without_a_break() -> None:
    widths = shares(table(("insurer approval", "FM", "Pell Creek Roof Works")), 60)
    assert sum(widths) <= 60
    assert all(wide > len(text) for wide, text in zip(widths, ("insurer approval", "FM"), strict=False))


def test_a_long_column_gets_the_room_and_no_word_is_broken() -> None:
    long = "07 41 13, 2.03.A asks for two-piece floating clips, 16 gauge base, as tested " * 2
    widths = shares(table(("Underlayment", long, "[2.03.A]")), 80)
    assert widths[0] >= len("Underlayment")
    assert widths[1] > 2 * max(widths[0], widths[2])
    assert sum(widths) <= 80


def test_words_that_do_not_fit_share_what_there_is() -> None:
    widths = shares(table(("x" * 90, "y" * 90)), 40)
    assert sum(widths) <= 40
    assert min(widths) >= 15


def test_an_address_is_held_together_as_long_as_a_column_can_hold_it() -> None:
    assert broken("[07\u00a041\u00a013,\u00a02.03.A] x") == "[07\u00a041\u00a013,\u00a02.03.A] x"
    assert "\u00a0" not in broken("[Sheet\u00a0S-001,\u00a0structural\u00a0design\u00a0criteria]")
    assert broken("\u00a0" * 28) == "\u00a0" * 28


def test_the_edge_of_a_drawing_is_cut_and_its_ids_are_its_own() -> None:
    shapes = '<defs><pattern id="p"/></defs>' + GROUND
    shapes += '<path d="M300 200 L700 200 L700 500 Z" fill="url(#p)"/><text x="720" y="300" font-size="10">ab</text>'
    root = etree.fromstring(safe_svg(SVG.format(shapes), "Zones", "plan-1-"))
    left, top, wide, high = map(float, root.get("viewBox").split())
    assert (left, top) == (300 - EDGE, 200 - EDGE)
    assert top + high == 500 + EDGE
    assert 720 + 2 * 5 + EDGE <= left + wide <= 760
    assert root.find("{*}defs/{*}pattern").get("id") == "plan-1-p"
    assert root.find("{*}path").get("fill") == "url(#plan-1-p)"


def test_a_close_picture_is_the_outline_with_its_dimensions() -> None:
    shapes = (
        GROUND + '<path d="M300 200 L700 200 L700 500 Z"/><text x="40" y="40" font-size="22">TITLE</text>'
    )
    box = drawn_box(etree.fromstring(SVG.format(shapes)), close=True)
    assert box == (300 - DIMENSIONS, 200 - DIMENSIONS, 400 + 2 * DIMENSIONS, 300 + 2 * DIMENSIONS)


@pytest.mark.parametrize("shapes", ["", GROUND, '<path d="M1 1 Q2 2 3 3"/>'])
def test_a_drawing_that_cannot_be_told_keeps_its_sheet(shapes: str) -> None:
    assert drawn_box(etree.fromstring(SVG.format(shapes))) == (0, 0, 1000, 800)


def run(name: str, covers: str, **tested: str) -> RunRow:
    proposed = {"clip.spacing": "30 in", "deck.type": "plywood", "panel.width": "16 in"}
    verdicts = {"30 in": "same", "24 in": "unsafe side", "": "not shown"}
    rows = tuple(
        Difference(
            field,
            field.split(".")[1].capitalize(),
            tested.get(field.split(".")[0], ""),
            value,
            verdicts.get(tested.get(field.split(".")[0], ""), "same"),
        )
        for field, value in proposed.items()
    )
    return RunRow(name, "", "UL 580", "class 90", covers, rows)


def test_runs_stand_beside_each_other_and_tell_what_differs() -> None:
    runs = (run("1", "no", clip="24 in", panel="16 in"), run("2", "yes", clip="30 in", panel="16 in"))
    made = matrix.beside(Evidence("T-118", "tested report", "", "", runs))
    beside, rest = made
    assert isinstance(beside, Table)
    assert isinstance(rest, Paragraph)
    told = [["".join(span.text for span in cell) for cell in row.cells] for row in beside.rows]
    assert told == [
        ["Spacing", "30 in", "24 in, unsafe side", "30 in"],
        ["Covers the proposal", "", "no", "yes"],
    ]
    assert rest.spans[0].text == (
        "Not stated by T-118, and so not shown: Type. 1 property is proposed the same as tested."
    )


PRESSURE = Stated(
    "uplift.pressure", "equal", (), "-56.0 psf", "1.03.C", "", Citation("spec", "1.03.C", ""), "Corner"
)


def square(feet: int) -> Quantity:
    return Quantity("area", Fraction(feet), "sq ft", f"{feet} sq ft")


def test_a_table_of_pressures_is_told_zone_by_zone() -> None:
    items = [
        replace(PRESSURE, zone=zone, text=text, area=square(area), level="allowable")
        for zone, text, area in (
            ("Field", "-32.3 psf", 10),
            ("Field", "-19.6 psf", 50),
            ("Corner", "-56.0 psf", 10),
            ("Corner", "-37.3 psf", 50),
        )
    ]
    assert by_clause(items) == [
        ("Field, allowable level: -32.3 psf at 10 sq ft, -19.6 psf at 50 sq ft", "1.03.C"),
        ("Corner, allowable level: -56.0 psf at 10 sq ft, -37.3 psf at 50 sq ft", "1.03.C"),
    ]
    assert by_clause(items[:1]) == [("-32.3 psf (Field, 10 sq ft, allowable level)", "1.03.C")]


def test_a_headroom_that_is_hardly_there_does_not_read_as_none() -> None:
    told = [share(part).replace("\u00a0", " ") for part in (0.301, 0.0031, 0.0003, 0.00001, 0.0)]
    assert told == ["30 %", "0.3 %", "0.03 %", "under 0.01 %", "0 %"]


def test_notices_that_say_the_same_are_told_once_in_full() -> None:
    notices = (
        "IBC: check against the adopted text",
        "FM 4471: check against the adopted text",
        "Mind the gap.",
    )
    review = replace(COMPLIES, notices=notices, rulebooks=())
    (box,) = [block for block in blocks(review, full=True) if isinstance(block, Box)]
    told = ["".join(span.text for span in item) for item in box.items]
    assert told[:2] == ["IBC, FM 4471: check against the adopted text", "Mind the gap."]


def test_a_long_sentence_stands_once_in_the_appendix() -> None:
    differs = "Tested report T-118, run 1 differs: " + ", ".join(
        f"part {n} proposed otherwise" for n in range(9)
    )
    first = replace(
        WIDTH_OK, rule="one", title="First", message=f"First is asked. {differs}.", verdict="not shown"
    )
    second = replace(first, rule="two", title="Second", message=f"Second is asked. {differs}.")
    review = replace(SWAP, findings=(first, second), root_causes=())
    made = blocks(review, full=True)
    start = next(
        n for n, block in enumerate(made) if isinstance(block, Heading) and block.anchor == "appendix"
    )
    told = " ".join(
        span.text for block in made[start:] if isinstance(block, Paragraph) for span in block.spans
    )
    assert told.count(differs) == 1
    assert "Second is asked. (The rest as under First.)" in told


def test_to_act_on_stands_before_the_record_and_the_appendix_last() -> None:
    headings = [
        block.text for block in blocks(SWAP, full=True) if isinstance(block, Heading) and block.level == 2
    ]
    told = [
        *("What stops fabrication", "Questions, by whom they go to", "Roof zones", "Departures", "Cautions"),
        *("Tested reports", "What complies", "What the specification asks", "Appendix: rules and working"),
    ]
    assert [heading for heading in headings if heading in told] == told
    assert headings[-1] == told[-1]
