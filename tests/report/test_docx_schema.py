"""What a word processor that reads strictly would refuse: order of children, ids, relationships, cells."""

from __future__ import annotations

from collections.abc import Callable
from io import BytesIO
from zipfile import ZipFile

import pytest
from lxml import etree
from msgspec.structs import replace

from cleatmark.report.docx_report import docx_bytes
from cleatmark.report.field_sheet import field_sheet_bytes
from cleatmark.report.form_docx import form_bytes
from cleatmark.report.packet import packet_bytes
from cleatmark.review.model import Plan, Review
from cleatmark.review.run import declared_fields

from .docx_order import W, bad_ids, bad_tables, loose_ends, misplaced, parts
from .fixture import STATES
from .test_docx_report import png

SVG = (
    '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 400 200"><rect width="400" height="200"/>'
    '<path d="M100 50 L300 50 L300 150 L100 150 Z"/></svg>'
)
PLANS = (
    Plan("Main roof", "Corners at the corners.", SVG, png(400, 200)),
    Plan("Porch", "One zone.", "", png(40, 20)),
)


def drawn(state: str) -> Review:
    return replace(STATES[state], plans=PLANS)


MADE: dict[str, Callable[[], bytes]] = {"form": lambda: form_bytes(declared_fields())}
for state in STATES:
    MADE[f"report of {state}"] = lambda state=state: docx_bytes(drawn(state))
    MADE[f"report of {state}, A4"] = lambda state=state: docx_bytes(drawn(state), "A4")
    MADE[f"packet of {state}"] = lambda state=state: packet_bytes(drawn(state))
    MADE[f"field sheet of {state}"] = lambda state=state: field_sheet_bytes(drawn(state))


@pytest.fixture(scope="module", params=MADE)
def data(request: pytest.FixtureRequest) -> bytes:
    return MADE[request.param]()


def test_children_stand_in_the_order_of_the_schema(data: bytes) -> None:
    package = parts(data)
    found = {name: sorted(set(misplaced(root))) for name, root in package.items()}
    assert {name: told for name, told in found.items() if told} == {}


def test_ids_relationships_and_types_are_whole(data: bytes) -> None:
    package = parts(data)
    with ZipFile(BytesIO(data)) as archive:
        assert list(loose_ends(package, set(archive.namelist()))) == []
    assert list(bad_ids(package["word/document.xml"])) == []


def test_every_cell_has_its_paragraph_and_every_row_its_cells(data: bytes) -> None:
    for name, root in parts(data).items():
        if name.startswith("word/"):
            assert list(bad_tables(root)) == [], name


def test_no_text_outside_a_run_and_every_space_at_an_end_is_kept(data: bytes) -> None:
    document = parts(data)["word/document.xml"]
    for text in document.iter(f"{W}t"):
        assert text.getparent().tag == f"{W}r"
        held = text.text or ""
        if held != held.strip(" "):
            assert text.get("{http://www.w3.org/XML/1998/namespace}space") == "preserve"


def test_every_style_and_number_used_is_defined(data: bytes) -> None:
    package = parts(data)
    styles = {one.get(f"{W}styleId") for one in package["word/styles.xml"].iter(f"{W}style")}
    numbers = {one.get(f"{W}numId") for one in package["word/numbering.xml"].iter(f"{W}num")}
    for name, root in package.items():
        if not name.startswith("word/"):
            continue
        for tag in ("pStyle", "rStyle", "tblStyle", "basedOn", "next"):
            assert {one.get(f"{W}val") for one in root.iter(f"{W}{tag}")} <= styles, name
        assert {one.get(f"{W}val") for one in root.iter(f"{W}numId")} <= numbers, name


def test_the_check_sees_what_stands_out_of_order() -> None:
    wrong = (
        '<w:p xmlns:w="{0}"><w:pPr><w:jc w:val="left"/><w:pStyle w:val="x"/></w:pPr>'
        "<w:r><w:rPr><w:sz/><w:b/></w:rPr></w:r></w:p>"
    )
    root = etree.fromstring(wrong.format(W.strip("{}")))
    assert sorted(misplaced(root)) == ["pPr has its children as jc pStyle", "rPr has its children as sz b"]
    empty = etree.fromstring(
        f'<w:body xmlns:w="{W.strip("{}")}"><w:tbl><w:tblGrid><w:gridCol w:w="9"/></w:tblGrid>'
        "<w:tr><w:tc/></w:tr></w:tbl></w:body>"
    )
    assert sorted(bad_tables(empty)) == [
        "a cell does not end with a paragraph",
        "a table is not followed by a paragraph",
    ]
