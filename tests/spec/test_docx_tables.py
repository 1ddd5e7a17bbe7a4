"""Tables: each cell once at its grid place, in the clause the table follows."""

from __future__ import annotations

from pathlib import Path

import pytest
from docx_build import CSI_STYLES, build, cell, dele, ins, p, r, row, style, tbl

from cleatmark.spec.clauses import Clause, Span, Table
from cleatmark.spec.document import read_docx

HEADER = "<w:tblHeader/>"
DOWN, ON = '<w:vMerge w:val="restart"/>', "<w:vMerge/>"


def clauses(tmp_path: Path, *blocks: str, styles: str = CSI_STYLES) -> list[Clause]:
    specification, _ = read_docx(build(tmp_path / "table.docx", blocks, styles=styles))
    return [clause for section in specification.sections for clause in section.clauses]


def table_of(tmp_path: Path, block: str) -> Table:
    [clause] = clauses(tmp_path, block)
    assert clause.table is not None
    return clause.table


def grid(table: Table) -> list[tuple[str, int, int, int, int]]:
    return [(one.text, one.row, one.column, one.row_span, one.column_span) for one in table.cells]


def wide(columns: int) -> str:
    return f'<w:gridSpan w:val="{columns}"/>'


def test_merged_cells_stand_once_with_their_spans(tmp_path: Path) -> None:
    """The pressure table as offices draw it: zones down, areas across, a unit over both columns."""
    table = table_of(
        tmp_path,
        tbl(
            row(cell("Zone", props=DOWN), cell("Uplift, psf", props=wide(2)), props=HEADER),
            row(cell("", props=ON), "10 sq ft", "100 sq ft", props=HEADER),
            row("Field", "-28", "-24"),
            row(cell("Corner", props=DOWN), "-60", "-48"),
            row(cell("", props=ON), cell("as shown", props=wide(2))),
        ),
    )
    assert (table.rows, table.columns) == (5, 3)
    assert grid(table) == [
        ("Zone", 0, 0, 2, 1), ("Uplift, psf", 0, 1, 1, 2),
        ("10 sq ft", 1, 1, 1, 1), ("100 sq ft", 1, 2, 1, 1),
        ("Field", 2, 0, 1, 1), ("-28", 2, 1, 1, 1), ("-24", 2, 2, 1, 1),
        ("Corner", 3, 0, 2, 1), ("-60", 3, 1, 1, 1), ("-48", 3, 2, 1, 1),
        ("as shown", 4, 1, 1, 2),
    ]  # fmt: skip
    assert [one.text for one in table.cells if one.header] == ["Zone", "Uplift, psf", "10 sq ft", "100 sq ft"]


def test_a_merge_of_three_rows_and_one_after_it(tmp_path: Path) -> None:
    table = table_of(
        tmp_path,
        tbl(row(cell("a", props=DOWN), "1"), row(cell("", props=ON), "2"), row(cell("", props=ON), "3"),
            row(cell("b", props=DOWN), "4"), row(cell("", props=ON), "5")),
    )  # fmt: skip
    assert [one for one in grid(table) if one[0] in "ab"] == [("a", 0, 0, 3, 1), ("b", 3, 0, 2, 1)]


def test_a_row_that_begins_further_in(tmp_path: Path) -> None:
    table = table_of(tmp_path, tbl(row("a", "b", "c"), row("d", "e", props='<w:gridBefore w:val="1"/>')))
    assert grid(table)[3:] == [("d", 1, 1, 1, 1), ("e", 1, 2, 1, 1)]


def test_a_nested_table_stays_in_its_cell(tmp_path: Path) -> None:
    table = table_of(tmp_path, tbl(row(cell("outer", tbl(row("x", "y")), p("after")), "beside")))
    assert [one.text for one in table.cells] == ["outer\nafter", "beside"]
    assert [grid(inner) for inner in table.cells[0].tables] == [[("x", 0, 0, 1, 1), ("y", 0, 1, 1, 1)]]


def test_two_zones_in_one_cell_are_two_lines(tmp_path: Path) -> None:
    table = table_of(tmp_path, tbl(row(cell(p("Zone 2"), p(), p("Zone 3")), "-60 psf")))
    assert table.cells[0].text == "Zone 2\nZone 3"


def test_changes_inside_a_cell(tmp_path: Path) -> None:
    content = p(r("-") + dele("45") + ins("60") + r(" psf"))
    [clause] = clauses(tmp_path, tbl(row(cell(p("Zone 3"), content), "x")))
    assert clause.table is not None
    assert clause.table.cells[0].text == "Zone 3\n-60 psf"
    assert clause.table.cells[0].spans == (Span(8, 10, "inserted"),)
    assert (clause.deleted, clause.flags) == ("45", ("tracked change",))


def test_a_deleted_and_an_inserted_row(tmp_path: Path) -> None:
    gone, new = '<w:del w:id="1" w:author="x"/>', '<w:ins w:id="2" w:author="x"/>'
    [clause] = clauses(
        tmp_path, tbl(row("Field", "-28"), row("Old", "-45", props=gone), row("Corner", "-60", props=new))
    )
    assert clause.table is not None
    assert grid(clause.table) == [
        ("Field", 0, 0, 1, 1), ("-28", 0, 1, 1, 1), ("Corner", 1, 0, 1, 1), ("-60", 1, 1, 1, 1),
    ]  # fmt: skip
    assert clause.table.cells[3].spans == (Span(0, 3, "inserted"),)
    assert (clause.deleted, clause.flags) == ("Old -45", ("tracked change",))


def test_a_table_deleted_whole(tmp_path: Path) -> None:
    gone = '<w:del w:id="1" w:author="x"/>'
    [clause] = clauses(tmp_path, tbl(row("Field", "-28", props=gone), row("Corner", "-60", props=gone)))
    assert (clause.table, clause.text, clause.deleted) == (None, "", "Field -28 Corner -60")


def test_struck_and_hidden_text_in_cells(tmp_path: Path) -> None:
    [clause] = clauses(
        tmp_path,
        tbl(row(cell(p(r("-45 ", "<w:strike/>") + r("-60"))), cell(p(r("note", "<w:vanish/>")))),
            row("a", "b", props="<w:hidden/>")),
    )  # fmt: skip
    assert clause.table is not None
    assert [one.text for one in clause.table.cells] == ["-45 -60", ""]
    assert (clause.table.cells[0].spans, clause.flags) == ((Span(0, 3, "struck"),), ("struck",))


def test_numbers_in_cells_are_printed_and_count(tmp_path: Path) -> None:
    read = clauses(
        tmp_path,
        p("PANELS", "ART"), p("a", "PR1"), tbl(row(cell(p("in a cell", "PR1")), cell(p("", "PR1")))), p("d", "PR1"),
    )  # fmt: skip
    assert read[2].table is not None
    assert [one.text for one in read[2].table.cells] == ["B. in a cell", "C."]
    assert read[3].address == "1.01.D"


def test_cells_in_content_controls(tmp_path: Path) -> None:
    wrapped = f"<w:sdt><w:sdtPr/><w:sdtContent>{cell('b')}</w:sdtContent></w:sdt>"
    rows = f"<w:sdt><w:sdtPr/><w:sdtContent>{row('c', 'd')}</w:sdtContent></w:sdt>"
    table = table_of(tmp_path, tbl(f"<w:tr>{cell('a')}{wrapped}</w:tr>", rows))
    assert [one.text for one in table.cells] == ["a", "b", "c", "d"]


@pytest.mark.parametrize(
    ("look", "headers"),
    [
        ('<w:tblLook w:val="04A0" w:firstRow="1"/>', ["Zone", "psf"]),
        ('<w:tblLook w:val="0020"/>', ["Zone", "psf"]),
        ('<w:tblLook w:val="0480" w:firstRow="0"/>', []),
        ("", []),
    ],
)
def test_the_first_row_is_the_header_where_the_table_says_so(
    tmp_path: Path, look: str, headers: list[str]
) -> None:
    table = table_of(tmp_path, tbl(row("Zone", "psf"), row("1", "-28"), props=look))
    assert [one.text for one in table.cells if one.header] == headers


def test_a_table_belongs_to_the_clause_it_follows(tmp_path: Path) -> None:
    read = clauses(
        tmp_path,
        p("DESIGN", "ART"),
        p("Pressures", "PR1"),
        p("Uplift, psf:", "PR2"),
        tbl(row("a", "b")),
        p("x", "PR1"),
    )
    assert (read[3].address, read[3].headings) == ("1.01.A.1", ("DESIGN", "Pressures", "Uplift, psf:"))
    assert (read[3].article, read[4].address) == ("DESIGN", "1.01.B")


@pytest.mark.parametrize(
    ("blocks", "caption"),
    [
        ([p("Table 1: Uplift, psf"), tbl(row("a", "b"))], "Table 1: Uplift, psf"),
        ([tbl(row("a", "b")), p("TABLE 2 - UPLIFT")], "TABLE 2 - UPLIFT"),
        ([p("Uplift", "CAP"), tbl(row("a", "b"))], "Uplift"),
        (
            [p("Table 1: above"), tbl(row("a", "b")), p("Table 2: below"), tbl(row("c", "d"))],
            "Table 1: above",
        ),
        ([p("Table 1: apart"), p("Between."), tbl(row("a", "b"))], ""),
        ([p("Tables follow."), tbl(row("a", "b"))], ""),
        ([p("Design uplift pressures, psf"), tbl(row("a", "b"))], "Design uplift pressures, psf"),
        ([p("Design uplift pressures, psf:", "PR1"), tbl(row("a", "b"))], ""),
        ([tbl(row("a", "b")), p("Pressures are at allowable level")], ""),
    ],
)
def test_captions(tmp_path: Path, blocks: list[str], caption: str) -> None:
    read = clauses(tmp_path, *blocks, styles=CSI_STYLES + style("CAP", name="caption"))
    table = next(clause.table for clause in read if clause.table is not None)
    assert table.caption == caption


def test_a_frame_of_one_cell_is_no_table(tmp_path: Path) -> None:
    read = clauses(tmp_path, p("S", "ART"), tbl(row(cell(p("a", "PR1"), p("b", "PR1")))), p("c", "PR1"))
    assert [(one.address, one.text, one.hidden) for one in read[1:]] == [
        ("1.01.A", "a", False), ("1.01.B", "b", False), ("1.01.C", "c", False),
    ]  # fmt: skip


def test_empty_tables_and_odd_spans(tmp_path: Path) -> None:
    read = clauses(
        tmp_path,
        tbl(), tbl("<w:tr></w:tr>"), tbl(row(cell("a", props=ON), "b"), row(cell("c", props=ON), "d")),
        tbl(row(cell("x", props='<w:gridSpan w:val="-3"/>'), cell("y", props='<w:gridSpan w:val="99999999"/>'))),
    )  # fmt: skip
    tables = [clause.table for clause in read if clause.table is not None]
    assert [[one.text for one in table.cells] for table in tables] == [["a", "b", "d"], ["x", "y"]]
    assert tables[1].columns <= 1_000
