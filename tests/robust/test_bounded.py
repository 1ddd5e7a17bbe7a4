"""What a document makes of a few kilobytes is bounded in work, memory and output, and what is not read is told."""

from __future__ import annotations

import json
from pathlib import Path
from xml.sax.saxutils import escape

import pytest

from cleatmark.report.blocks import plain
from cleatmark.report.lines import cells, wrapped

from .running import LIMITED, SPEC, run
from .test_hostile_files import MAIN, WORD, changed

HEAD = (
    *("SECTION 07 41 13", "METAL ROOF PANELS", "PART 1 - GENERAL", "1.01 SUMMARY"),
    *("A. Section includes metal roof panels of steel.", "PART 2 - PRODUCTS", "2.01 PANELS"),
)


def paragraph(text: str) -> str:
    return f'<w:p><w:r><w:t xml:space="preserve">{escape(text)}</w:t></w:r></w:p>'


def written(path: Path, lines: list[str], behind: str = "") -> Path:
    body = "".join(map(paragraph, (*HEAD, *lines))) + behind
    return changed(path, MAIN, f'<w:document xmlns:w="{WORD}"><w:body>{body}</w:body></w:document>'.encode())


def cell(text: str, properties: str = "") -> str:
    return f"<w:tc><w:tcPr>{properties}</w:tcPr>{paragraph(text)}</w:tc>"


def table(*rows: str) -> str:
    return "<w:tbl>" + "".join(f"<w:tr>{row}</w:tr>" for row in rows) + "</w:tbl>"


def joined_by_deleted_marks(text: str, count: int) -> str:
    mark = '<w:pPr><w:rPr><w:del w:id="1" w:author="a"/></w:rPr></w:pPr>'
    return "".join(f"<w:p>{mark}<w:r><w:t>{text} {n} inches </w:t></w:r></w:p>" for n in range(count))


HEADINGS = table(
    cell("Zone " + "uplift pressure psf " * 900) + cell("Corner " * 3_000),
    *[cell("Field") + cell("-45")] * 3_000,
)
MADE: dict[str, tuple[list[str], str]] = {
    "values": (["A. " + "uplift class 90 or " * 1_000] * 50, ""),
    "lead": (
        ["A. " + "Provide panels of metal with clips " * 450 + "as follows:"]
        + [f"{n}. Panel width 16 inches." for n in range(3_000)],
        "",
    ),
    "contradictions": ([f"Paragraph {n}. Panel width: {8 + n / 1000:.3f} inches." for n in range(3_000)], ""),
    "choices": (["A. Panel width: " + "".join(f"[{n} inches] " for n in range(12, 900))] * 20, ""),
    "long headings": ([], HEADINGS),
    "merged rows": ([], table(*[cell("Zone 1", '<w:gridSpan w:val="60"/>')] * 4_000)),
    "runs of one paragraph": ([], "<w:p>" + "<w:r/>" * 600_000 + "</w:p>"),
    "deleted marks": ([], joined_by_deleted_marks("Panel width", 20_000)),
    "numbers of numbers": ([".".join(["1"] * 4_000) + " Panel width 16 inches"] * 50, ""),
}


@pytest.mark.parametrize("name", MADE)
def test_a_small_document_makes_no_large_work(name: str, tmp_path: Path) -> None:
    """Within the processor time, the memory and a readable output; each of these had once broken one of them."""
    path = written(tmp_path / "s.docx", *MADE[name])
    done = run("read", path, "--format", "json", before=LIMITED)
    assert done.returncode in (0, 1), (done.returncode, done.stderr[-300:])
    assert done.stderr == b""
    assert len(done.stdout) < 16_000_000
    assert json.loads(done.stdout)["spec"]


def notices(path: Path) -> str:
    return " ".join(json.loads(run("read", path, "--format", "json").stdout)["notices"])


def test_a_paragraph_that_is_cut_is_told(tmp_path: Path) -> None:
    path = written(tmp_path / "s.docx", ["A. " + "words " * 4_000 + "Panel width: 16 inches.", "B. Width."])
    told = notices(path)
    assert "2.01.A" in told
    assert "20,000 characters" in told
    assert "2.01.B" not in told


def test_contradictions_are_counted_not_listed(tmp_path: Path) -> None:
    path = written(tmp_path / "s.docx", MADE["contradictions"][0][:200])
    read = json.loads(run("read", path, "--format", "json").stdout)
    assert all("conflict" in item["flags"] for item in read["stated"] if item["subject"] == "panel.width")
    assert "panel.width is stated in 200 ways" in " ".join(read["notices"])
    rows = [row for row in read["clauses_flagged"] if row["flag"] == "conflict"]
    assert max(row["detail"].count(" says ") for row in rows) <= 8
    assert any("and 191 more" in row["detail"] for row in rows)


def test_a_table_of_merged_rows_is_read(tmp_path: Path) -> None:
    """Rows of one merged cell are no heading upon heading: the reader once called itself for each."""
    rows = [cell("Zone 1", '<w:gridSpan w:val="2"/>')] * 1_500
    path = written(tmp_path / "s.docx", ["A. Panel width: 16 inches."], table(*rows))
    done = run("read", path)
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"16 inches" in done.stdout


def test_a_long_sentence_is_quoted_about_its_value(tmp_path: Path) -> None:
    """A paragraph without a full stop: each value quotes its own place, not all of it."""
    line = "A. " + "and the other words of it " * 40 + "panel width 16 inches " + "and more words of it " * 20
    read = json.loads(run("read", written(tmp_path / "s.docx", [line]), "--format", "json").stdout)
    (width,) = [item for item in read["stated"] if item["subject"] == "panel.width"]
    assert "panel width 16 inches" in width["quote"]
    assert width["quote"].startswith("… ")
    assert len(width["quote"]) < 900


def test_an_addendum_of_endless_numbers_is_read(tmp_path: Path) -> None:
    lines = ["ADDENDUM NO. 1", "SECTION 07 41 13 - METAL ROOF PANELS", f"Paragraphs {'1.' * 9_000}A: x"]
    path = written(tmp_path / "a.docx", lines * 20)
    done = run("read", SPEC, "--addendum", path, before=LIMITED)
    assert (done.returncode, done.stderr) == (0, b"")


def test_a_word_without_end_is_broken_in_step_with_its_length(tmp_path: Path) -> None:
    """A form's value of one word of 300,000 letters, ASCII and not: it took minutes to lay out."""
    for sign in ("x", "é", "宽"):
        line = wrapped(plain(sign * 300_000), 96)
        assert {cells("".join(piece.text for piece in one)) for one in line[:-1]} == {96}
        assert sum(len(piece.text) for one in line for piece in one) == 300_000
