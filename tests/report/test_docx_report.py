"""The DOCX report: read back as XML, as a word processor would read it."""

from __future__ import annotations

import shutil
import struct
import subprocess
import zlib
from io import BytesIO
from itertools import pairwise
from pathlib import Path
from zipfile import ZipFile

import pytest
from lxml import etree
from msgspec.structs import replace

from cleatmark.facts import Citation
from cleatmark.problems import InputError
from cleatmark.report.docx_report import docx_bytes, write_docx
from cleatmark.review.model import STANDING_CAUTIONS, Plan

from .fixture import COMPLIES, LISTED, STATES, SWAP, WIDTH_OK

W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"


def part(data: bytes, name: str = "word/document.xml") -> etree._Element:
    with ZipFile(BytesIO(data)) as archive:
        return etree.fromstring(archive.read(name))


def text(element: etree._Element) -> str:
    return "".join(element.itertext(f"{W}t"))


def png(width: int, height: int) -> bytes:
    def chunk(tag: bytes, body: bytes) -> bytes:
        return struct.pack(">I", len(body)) + tag + body + struct.pack(">I", zlib.crc32(tag + body))

    head = struct.pack(">IIBBBBB", width, height, 8, 0, 0, 0, 0)
    rows = zlib.compress((b"\0" + b"\xff" * width) * height)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", rows) + chunk(b"IEND", b"")


@pytest.fixture(scope="module", params=STATES)
def document(request: pytest.FixtureRequest) -> etree._Element:
    return part(docx_bytes(STATES[request.param]))


def test_the_same_review_gives_the_same_bytes() -> None:
    assert docx_bytes(SWAP) == docx_bytes(SWAP)


def test_each_link_leads_to_a_bookmark_that_is_there_once(document: etree._Element) -> None:
    names = [mark.get(f"{W}name") for mark in document.iter(f"{W}bookmarkStart")]
    numbers = [mark.get(f"{W}id") for mark in document.iter(f"{W}bookmarkStart")]
    links = {link.get(f"{W}anchor") for link in document.iter(f"{W}hyperlink")}
    assert links
    assert links <= set(names)
    assert len(names) == len(set(names))
    assert numbers == [mark.get(f"{W}id") for mark in document.iter(f"{W}bookmarkEnd")]


def test_a_finding_links_to_its_evidence_row_its_clause_and_its_rule() -> None:
    made = part(docx_bytes(SWAP))
    rows = {}
    for link in made.iter(f"{W}hyperlink"):
        rows.setdefault(text(link).replace("\u00a0", " "), link.get(f"{W}anchor"))
    targets = {mark.get(f"{W}name"): text(mark.getparent()) for mark in made.iter(f"{W}bookmarkStart")}
    assert targets[rows["[report T-118, page 4]"]] == "T-118"
    assert targets[rows["[07 41 13, 2.03.A]"]].replace("\u00a0", " ") == "07 41 13, 2.03.A"
    assert targets[rows["[working]"]] == "Deck: deviates (item 1)"


def test_heads_repeat_and_no_row_is_split(document: etree._Element) -> None:
    tables = list(document.iter(f"{W}tbl"))
    assert tables
    for table in tables:
        rows = table.findall(f"{W}tr")
        heads = [row.find(f"{W}trPr/{W}tblHeader") is not None for row in rows]
        assert heads == [True] + [False] * (len(rows) - 1)
        assert all(row.find(f"{W}trPr/{W}cantSplit") is not None for row in rows)
        assert table.find(f"{W}tblPr/{W}tblCaption").get(f"{W}val")
        assert table.find(f"{W}tblPr/{W}tblLook").get(f"{W}firstRow") == "1"


def test_headings_are_in_order(document: etree._Element) -> None:
    levels = {"Title": 0, "Heading1": 1, "Heading2": 2, "Finding": 2, "Heading3": 3}
    styles = [style.get(f"{W}val") for style in document.iter(f"{W}pStyle")]
    found = [levels[style] for style in styles if style in levels]
    assert found[0] == 0
    assert found.count(0) == 1
    assert all(after - before <= 1 for before, after in pairwise(found))


def test_every_style_used_is_defined(document: etree._Element) -> None:
    styles = part(docx_bytes(COMPLIES), "word/styles.xml")
    known = {style.get(f"{W}styleId") for style in styles.iter(f"{W}style")}
    for tag in ("pStyle", "rStyle", "tblStyle"):
        assert {style.get(f"{W}val") for style in document.iter(f"{W}{tag}")} <= known


def test_numbers_of_items_are_those_that_the_questions_name() -> None:
    made = part(docx_bytes(SWAP))
    findings = [p for p in made.iter(f"{W}p") if _style(p) == "Finding"]
    assert [text(one).split("\u00a0")[0].strip() for one in findings] == [
        "Deck",
        "Panel width",
        "Panel thickness",
    ]
    assert any(text(p) == "To the contractor (item 1)" for p in made.iter(f"{W}p"))


def _style(paragraph: etree._Element) -> str:
    style = paragraph.find(f"{W}pPr/{W}pStyle")
    return "" if style is None else style.get(f"{W}val")


def test_each_numbered_list_starts_at_one() -> None:
    data = docx_bytes(LISTED)
    used = {}
    for paragraph in part(data).iter(f"{W}p"):
        if _style(paragraph) == "ListNumber":
            number = paragraph.find(f"{W}pPr/{W}numPr/{W}numId").get(f"{W}val")
            used.setdefault(number, []).append(text(paragraph))
    assert len(used) == 2
    starts = {
        num.get(f"{W}numId"): num.find(f"{W}lvlOverride/{W}startOverride")
        for num in part(data, "word/numbering.xml").iter(f"{W}num")
    }
    assert all(starts[number] is not None for number in used)


def test_header_and_footer_name_job_section_date_and_page_of_pages() -> None:
    data = docx_bytes(SWAP)
    assert (
        text(part(data, "word/header1.xml"))
        == "Alder Bay Branch Library (invented) · 07 41 13 Metal Roof Panels"
    )
    footer = part(data, "word/footer1.xml")
    assert "07 41 13-03 · 2026-11-20" in text(footer)
    assert [field.get(f"{W}instr") for field in footer.iter(f"{W}fldSimple")] == ["PAGE", "NUMPAGES"]


def test_title_language_and_day_are_set() -> None:
    core = etree.tostring(part(docx_bytes(SWAP), "docProps/core.xml"), encoding="unicode")
    assert "Submittal review – Alder Bay Branch Library (invented) – 07 41 13-03</dc:title>" in core
    assert "en-US</dc:language>" in core
    assert "2026-11-20T00:00:00Z" in core


@pytest.mark.parametrize(("paper", "size"), [("Letter", ("12240", "15840")), ("A4", ("11906", "16838"))])
def test_the_paper_asked_for(paper: str, size: tuple[str, str]) -> None:
    page = next(part(docx_bytes(COMPLIES, paper)).iter(f"{W}pgSz"))
    assert (page.get(f"{W}w"), page.get(f"{W}h")) == size


def test_an_unknown_paper_is_an_input_error() -> None:
    with pytest.raises(InputError, match="Letter or A4"):
        docx_bytes(COMPLIES, "foolscap")


def test_every_caution_is_printed(document: etree._Element) -> None:
    paragraphs = [text(p) for p in document.iter(f"{W}p")]
    assert all(caution in paragraphs for caution in STANDING_CAUTIONS)


def test_the_plan_has_its_alt_text_and_fits_the_page() -> None:
    plan = Plan(
        "Main roof", "Corner zones at the four corners, perimeter along the eaves.", "", png(3000, 1500)
    )
    made = part(docx_bytes(replace(COMPLIES, plans=(plan,))))
    picture = next(made.iter("{*}docPr"))
    assert picture.get("descr") == plan.alt
    extent = next(made.iter("{*}extent"))
    assert int(extent.get("cx")) <= 12240 * 635
    assert abs(int(extent.get("cx")) - 2 * int(extent.get("cy"))) <= 2  # EMU


def test_a_plan_without_a_picture_is_told_in_words() -> None:
    plan = Plan("Main roof", "Corner zones at the four corners.")
    made = part(docx_bytes(replace(COMPLIES, plans=(plan,))))
    assert "Main roof: Corner zones at the four corners." in [text(p) for p in made.iter(f"{W}p")]


def test_control_codes_are_written_out() -> None:
    hostile = "\x1b[2J\x00\ud800 <w:p/> \u202e &amp;"
    finding = replace(
        WIDTH_OK, verdict="deviates", message=hostile, citations=(Citation("spec", hostile, hostile),)
    )
    review = replace(SWAP, findings=(finding,), root_causes=(), job=replace(SWAP.job, name=hostile))
    made = part(docx_bytes(review))
    assert any(r"\x1b[2J\x00\ud800 <w:p/> \u202e &amp;" in text(p) for p in made.iter(f"{W}p"))


def test_a_report_is_put_in_place_whole_or_not_at_all(tmp_path: Path) -> None:
    path = tmp_path / "report.docx"
    path.write_text("old")
    write_docx(COMPLIES, path)
    assert path.read_bytes() == docx_bytes(COMPLIES)
    assert list(tmp_path.iterdir()) == [path]
    with pytest.raises(InputError, match="cannot be written here"):
        write_docx(COMPLIES, tmp_path / "missing" / "report.docx")


def test_an_office_program_opens_it(tmp_path: Path) -> None:
    office = shutil.which("soffice")
    if office is None or shutil.which("pdftotext") is None:
        pytest.skip("LibreOffice or pdftotext is not installed")
    path = tmp_path / "report.docx"
    write_docx(SWAP, path)
    profile = f"-env:UserInstallation=file://{tmp_path}/profile"
    command = [office, profile, "--headless", "--convert-to", "pdf", "--outdir", str(tmp_path), str(path)]
    subprocess.run(command, check=True, capture_output=True, timeout=120)
    shown = subprocess.run(
        ["pdftotext", "-layout", str(path.with_suffix(".pdf")), "-"],
        check=True,
        capture_output=True,
        text=True,
    ).stdout
    assert "Page 1 of" in shown
    assert "Item 1" in shown
