"""Tables: what a row, its headings and the caption say together, with units, signs and levels that stand apart."""

from __future__ import annotations

from reading_build import clause, read, told

from cleatmark.spec.clauses import Cell, Clause, Table


def table(
    rows: list[list[object]], caption: str = "", article: str = "performance", above: str = ""
) -> Clause:
    """A table clause. A cell is a text, (text, across, down), or None where another covers it."""
    cells = []
    for row, line in enumerate(rows):
        for column, cell in enumerate(line):
            if cell is None:
                continue
            text, across, down = cell if isinstance(cell, tuple) else (cell, 1, 1)
            cells.append(Cell(text, row, column, down, across))
    built = Table(tuple(cells), len(rows), len(rows[0]), caption)
    return clause("", article, (above,) if above else (), table=built)


def stated(*clauses: Clause) -> list[str]:
    """What the clauses state, in short and in order."""
    return [told(item) for item in read(*clauses).stated]


def test_merged_headings_unit_and_level_in_the_caption() -> None:
    rows = [
        [("Zone", 1, 2), ("Effective wind area", 2, 1), None],
        [None, "10 sq ft", "100 sq ft"],
        ["1", "-22.0", "-19.5"],
        ["3e", "(58)", "\u221240"],
    ]
    assert stated(table(rows, "Roof wind pressures, psf, ASD")) == [
        "uplift.pressure equal -22 psf @zone 1 10sf allowable",
        "uplift.pressure equal -19.5 psf @zone 1 100sf allowable",
        "uplift.pressure equal -58 psf @zone 3e 10sf allowable",
        "uplift.pressure equal -40 psf @zone 3e 100sf allowable",
    ]


def test_columns_for_directions() -> None:
    rows = [["Zone", "Inward (psf)", "Uplift (psf)"], ["Field", "12", "28"], ["Corner", "12", "61"]]
    assert stated(table(rows, "Wind pressures")) == [
        "uplift.pressure equal 12 psf @field",
        "uplift.pressure equal -28 psf @field",
        "uplift.pressure equal 12 psf @corner",
        "uplift.pressure equal -61 psf @corner",
    ]


def test_zones_across_and_areas_down() -> None:
    rows = [["Effective wind area", "Zone 1", "Zone 2"], ["10 sq ft", "-1,450", "-2 150"]]
    found = stated(table(rows, "Ultimate wind pressures, Pa"))
    assert found == [
        "uplift.pressure equal -30.28 psf @zone 1 10sf strength",
        "uplift.pressure equal -44.9 psf @zone 2 10sf strength",
    ]


def test_two_directions_and_two_zones_in_one_cell() -> None:
    rows = [["Zone", "Design wind pressure, psf"], ["Zones 1 and 2", "+16 / -38"]]
    assert set(stated(table(rows))) == {
        "uplift.pressure equal 16 psf @zone 1",
        "uplift.pressure equal -38 psf @zone 1",
        "uplift.pressure equal 16 psf @zone 2",
        "uplift.pressure equal -38 psf @zone 2",
    }


def test_rows_of_walls_are_not_the_roofs() -> None:
    rows = [["Zone", "Wind pressure (psf)"], ["3", "-61"], ["4", "-31"], ["5 (wall)", "-38"]]
    assert stated(table(rows)) == ["uplift.pressure equal -61 psf @zone 3"]


def test_unit_in_the_paragraph_above() -> None:
    rows = [["Zone", "Uplift"], ["Field", "25"], ["Corner", "55"]]
    above = "Roof uplift pressures in pounds per square foot, strength level:"
    assert stated(table(rows, above=above)) == [
        "uplift.pressure equal -25 psf @field strength",
        "uplift.pressure equal -55 psf @corner strength",
    ]


def test_a_row_that_a_cell_spans_keeps_its_zone() -> None:
    rows = [
        ["Zone", "Effective wind area", "Wind uplift, psf"],
        [("Corner", 1, 2), "10 sq ft", "-60"],
        [None, "50 sq ft", "-48"],
    ]
    assert stated(table(rows)) == [
        "uplift.pressure equal -60 psf @corner 10sf",
        "uplift.pressure equal -48 psf @corner 50sf",
    ]


def test_snow_in_the_next_column_is_no_uplift() -> None:
    rows = [["Zone", "Wind uplift, psf", "Snow, psf"], ["Field", "25", "30"]]
    assert stated(table(rows)) == ["uplift.pressure equal -25 psf @field"]


def test_a_schedule_of_properties() -> None:
    rows = [
        ["Property", "Requirement"],
        ["Thickness", "24 gauge minimum"],
        ["Coverage", "16 in. maximum"],
        ["Seam height", "2 in."],
    ]
    assert stated(table(rows, article="panels")) == [
        "panel.thickness at least 24 ga",
        "panel.width at most 16 in",
        "panel.seam_height equal 2 in",
    ]


def test_clip_spacing_by_zone() -> None:
    rows = [["Roof zone", "Clip spacing (in.)"], ["Field", "24"], ["Corners", "12"]]
    assert stated(table(rows, article="clips")) == [
        "clip.spacing at most 24 in @field",
        "clip.spacing at most 12 in @corners",
    ]


def test_a_table_in_a_cell_is_read_in_place() -> None:
    inner = Table((Cell("Zone 1", 0, 0), Cell("-30 psf", 0, 1)), 1, 2)
    outer = Table((Cell("Wind uplift", 0, 0, tables=(inner,)),), 1, 1, "Wind uplift")
    assert stated(clause("", table=outer)) == ["uplift.pressure equal -30 psf @zone 1"]


def test_the_quote_is_the_row() -> None:
    found = read(table([["Zone", "Wind uplift, psf"], ["Corner", "-60"]])).stated
    assert [item.quote for item in found] == ["Corner | -60"]
