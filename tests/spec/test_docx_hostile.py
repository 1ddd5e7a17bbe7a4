"""Files that are not what they say, or mean harm: each ends in one line with the reason, in bounded time."""

from __future__ import annotations

import io
import struct
import zipfile
from pathlib import Path

import pytest
from docx_build import (
    HEAD,
    MAIN,
    SPACES,
    abstract,
    build,
    lvl,
    num,
    numbered,
    p,
    pack,
    parts,
    r,
    row,
    style,
    tbl,
)

from cleatmark.docxfile.limits import Limits
from cleatmark.problems import InputError
from cleatmark.spec.document import read_docx
from cleatmark.spec.lexemes import lex

BODY = [p("SECTION 07 41 13 - METAL ROOF PANELS"), p("PART 1 GENERAL"), p("1.01 SUMMARY"), p("A. Class 90.")]
DOCUMENT, STYLES = "word/document.xml", "word/styles.xml"
LAUGHS = "".join(
    f'<!ENTITY a{at} "{"&a" + str(at - 1) + ";"}{"&a" + str(at - 1) + ";"}">' for at in range(1, 30)
)


def refusal(path: Path, limits: Limits | None = None) -> str:
    """The one line that the file ends in."""
    with pytest.raises(InputError) as caught:
        read_docx(path, limits or Limits())
    [problem] = caught.value.problems
    assert problem.place.file == str(path)
    assert "\n" not in problem.message
    return problem.message


def changed(tmp_path: Path, part: str, content: str | bytes | None) -> Path:
    made: dict[str, str | bytes] = dict(parts(BODY))
    if content is None:
        del made[part]
    else:
        made[part] = content
    return pack(tmp_path / "bad.docx", made)


def document(body: str, prolog: str = HEAD) -> str:
    return f"{prolog}<w:document {SPACES}><w:body>{body}</w:body></w:document>"


@pytest.mark.parametrize(
    ("content", "reason"),
    [
        (b"", "the file is empty"),
        (b"SECTION 07 41 13", "it is not a ZIP archive at all"),
        (b"%PDF-1.7 text", "it is a PDF"),
        (b"{\\rtf1 text}", "it is an RTF file"),
        (b"<html><body>x</body></html>", "it is an XML or HTML page"),
        (b"PK\x03\x04" + b"\0" * 60, "table of contents is missing"),
        (
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600 + "WordDocument".encode("utf-16-le"),
            "an old .doc file",
        ),
        (
            b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600 + "EncryptedPackage".encode("utf-16-le"),
            "encrypted",
        ),
        (b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600, "an encrypted document or an old .doc file"),
    ],
)
def test_what_is_no_docx_is_named(tmp_path: Path, content: bytes, reason: str) -> None:
    path = tmp_path / "spec.docx"
    path.write_bytes(content)
    assert reason in refusal(path)


def test_what_is_not_there(tmp_path: Path) -> None:
    assert "no such file" in refusal(tmp_path / "absent.docx")
    assert "folder" in refusal(tmp_path)
    assert "cannot be read" in refusal(tmp_path / ("x" * 4_000))


@pytest.mark.parametrize("cut", [0.3, 0.6, 0.95])
def test_a_file_cut_short(tmp_path: Path, cut: float) -> None:
    whole = build(tmp_path / "whole.docx", BODY).read_bytes()
    path = tmp_path / "cut.docx"
    path.write_bytes(whole[: int(len(whole) * cut)])
    assert "damaged ZIP archive" in refusal(path)


def test_bytes_changed_inside_a_part(tmp_path: Path) -> None:
    path = build(tmp_path / "spec.docx", BODY)
    content = bytearray(path.read_bytes())
    with zipfile.ZipFile(path) as archive:
        at = archive.getinfo(DOCUMENT).header_offset + 30 + len(DOCUMENT) + 40
    content[at] ^= 0xFF
    path.write_bytes(content)
    assert DOCUMENT in refusal(path)


def test_other_archives(tmp_path: Path) -> None:
    assert "no [Content_Types].xml" in refusal(pack(tmp_path / "photos.docx", {"roof.jpg": b"x"}))
    sheet = parts(BODY, main_type=MAIN.replace("wordprocessingml.document", "spreadsheetml.sheet"))
    assert "a spreadsheet, not a Word document" in refusal(pack(tmp_path / "sheet.docx", sheet))


@pytest.mark.parametrize("part", ["[Content_Types].xml", "_rels/.rels", DOCUMENT])
def test_missing_parts(tmp_path: Path, part: str) -> None:
    message = refusal(changed(tmp_path, part, None))
    assert "DOCX" in message


def test_a_missing_numbering_part_is_told_and_read_around(tmp_path: Path) -> None:
    made = parts([p("SECTION 07 41 13 - METAL ROOF PANELS"), p("GENERAL", "PRT"), p("a", "PR1")])
    del made["word/numbering.xml"]
    specification, problems = read_docx(pack(tmp_path / "spec.docx", made))
    assert [clause.text for clause in specification.sections[0].clauses] == ["GENERAL", "a"]
    assert any("does not define" in problem.message for problem in problems)


@pytest.mark.parametrize(
    "part", [DOCUMENT, STYLES, "word/numbering.xml", "_rels/.rels", "[Content_Types].xml"]
)
@pytest.mark.parametrize(
    "content", ["<w:p>", "not xml", "", '<?xml version="1.0"?><a><b></a>', "<a>&undefined;</a>"]
)
def test_broken_xml(tmp_path: Path, part: str, content: str) -> None:
    message = refusal(changed(tmp_path, part, content))
    assert part in message or "DOCX" in message


@pytest.mark.parametrize("part", [DOCUMENT, STYLES, "word/_rels/document.xml.rels"])
@pytest.mark.parametrize(
    "prolog",
    [
        '<?xml version="1.0"?><!DOCTYPE w [<!ENTITY a "b">]>',
        f'<?xml version="1.0"?><!DOCTYPE w [<!ENTITY a0 "ha">{LAUGHS}]>',
        '<?xml version="1.0"?><!DOCTYPE w SYSTEM "file:///etc/passwd">',
        f'<?xml version="1.0"?><!-- {"x" * 2_000} -->\n<?pi x?><!DOCTYPE w>',
        '<!DOCTYPE w [<!ENTITY a SYSTEM "http://localhost:1/x">]>',
    ],
)
def test_document_types_and_entities_are_refused(tmp_path: Path, part: str, prolog: str) -> None:
    assert "document type (DTD)" in refusal(changed(tmp_path, part, document(p("&a;"), prolog)))


def test_a_document_type_in_utf_16_or_behind_a_long_comment(tmp_path: Path) -> None:
    wide = document(p("x"), '<?xml version="1.0" encoding="UTF-16"?><!DOCTYPE w>').encode("utf-16")
    assert "document type" in refusal(changed(tmp_path, DOCUMENT, wide))
    far = document(p("x"), f'<?xml version="1.0"?><!-- {"x" * 100_000} --><!DOCTYPE w [<!ENTITY a "b">]>')
    assert "does not begin within its first 64 KiB" in refusal(changed(tmp_path, DOCUMENT, far))


def test_an_encoding_that_could_hide_a_document_type(tmp_path: Path) -> None:
    hidden = document(p("x"), '<?xml version="1.0" encoding="UTF-7"?>')
    assert "encoded as 'UTF-7'" in refusal(changed(tmp_path, DOCUMENT, hidden))


def test_a_bomb_is_refused_by_ratio_and_by_size(tmp_path: Path) -> None:
    path = changed(tmp_path, DOCUMENT, document(p("x" * 40_000_000)))
    assert "times its packed size, over the limit of 250" in refusal(path)
    assert "over the limit of 1 MiB" in refusal(path, Limits(part_bytes=1024 * 1024))
    pictures = {**parts(BODY), **{f"word/media/p{at}.png": b"\0" * 3_000_000 for at in range(4)}}
    assert "over the limit of 9.537 MiB" in refusal(
        pack(tmp_path / "p.docx", pictures), Limits(total_bytes=10_000_000)
    )


def test_one_paragraph_that_fills_the_memory(tmp_path: Path) -> None:
    path = changed(tmp_path, DOCUMENT, document(f"<w:p>{'<w:r><w:t>abcdefgh</w:t></w:r>' * 400_000}</w:p>"))
    assert "one paragraph or table" in refusal(path, Limits(ratio=10_000))


def test_a_size_that_lies(tmp_path: Path) -> None:
    """The directory says that the part has 200 bytes; what lies there unpacks to more."""
    path = build(tmp_path / "spec.docx", BODY * 200)
    content = path.read_bytes()
    at = content.rfind(DOCUMENT.encode(), 0, content.rfind(b"PK\x05\x06")) - 46
    assert content[at : at + 4] == b"PK\x01\x02"
    path.write_bytes(content[: at + 24] + struct.pack("<L", 200) + content[at + 28 :])
    assert DOCUMENT in refusal(path)


@pytest.mark.parametrize("name", ["../evil.txt", "/etc/evil", "word/../../evil", "C:evil", "a\\..\\b"])
def test_names_that_climb_out(tmp_path: Path, name: str) -> None:
    path = pack(tmp_path / "spec.docx", parts(BODY))
    with zipfile.ZipFile(path, "a") as archive:
        info = zipfile.ZipInfo("x")
        info.filename = name
        archive.writestr(info, b"x")
    assert "name that leaves it" in refusal(path)
    assert not (tmp_path.parent / "evil.txt").exists()


def test_one_name_twice(tmp_path: Path) -> None:
    path = pack(tmp_path / "spec.docx", parts(BODY))
    with pytest.warns(UserWarning, match="Duplicate"), zipfile.ZipFile(path, "a") as archive:
        archive.writestr(DOCUMENT, document(p("another")))
    assert "twice" in refusal(path)


def test_too_many_members(tmp_path: Path) -> None:
    made = {**parts(BODY), **{f"word/media/{at}": b"" for at in range(200)}}
    assert "over the limit of 100" in refusal(pack(tmp_path / "spec.docx", made), Limits(entries=100))


def test_a_table_of_contents_that_lies_about_its_length(tmp_path: Path) -> None:
    path = build(tmp_path / "spec.docx", BODY)
    content = path.read_bytes()
    at = content.rfind(b"PK\x05\x06")
    path.write_bytes(content[: at + 12] + struct.pack("<L", 2**31) + content[at + 16 :])
    assert "members" in refusal(path)


def test_an_encrypted_member(tmp_path: Path) -> None:
    path = build(tmp_path / "spec.docx", BODY)
    content = bytearray(path.read_bytes())
    for sign, offset in ((b"PK\x03\x04", 6), (b"PK\x01\x02", 8)):
        at = -1
        while (at := content.find(sign, at + 1)) >= 0:
            content[at + offset] |= 1
    path.write_bytes(content)
    assert "encrypted" in refusal(path)


@pytest.mark.parametrize("kind", ["document.macroEnabled", "template.macroEnabledTemplate"])
def test_a_document_with_macros_is_refused(tmp_path: Path, kind: str) -> None:
    made: dict[str, str | bytes] = dict(parts(BODY, main_type=f"application/vnd.ms-word.{kind}.main+xml"))
    made["word/vbaProject.bin"] = b"\xd0\xcf\x11\xe0"
    assert "carries macros" in refusal(pack(tmp_path / "spec.docx", made))


def test_an_endless_number_is_passed_over_in_one_step() -> None:
    text = "uplift pressure " + "9" * 8_000 + " psf"
    assert len(lex(text, 0, len(text))) < 8


def test_a_number_text_longer_than_a_line_is_cut(tmp_path: Path) -> None:
    endless = abstract(1, lvl(0, "decimal", "%1." * 50_000)) + num(1, 1)
    made = parts([*BODY, p("Sheet", num=(1, 0))], numbering=endless)
    specification, _ = read_docx(pack(tmp_path / "spec.docx", made))
    assert specification.sections[0].clauses[-1].text == "Sheet"
    assert len(specification.sections[0].clauses[-1].address) < 200


def test_nothing_outside_is_followed(tmp_path: Path) -> None:
    made = parts([*BODY, f'<w:altChunk r:id="rX"/>{p("after")}'], headers=[p("x")])
    made["word/_rels/document.xml.rels"] = made["word/_rels/document.xml.rels"].replace(
        'Target="header0.xml"', 'Target="http://localhost:1/header.xml" TargetMode="External"'
    )
    specification, problems = read_docx(pack(tmp_path / "spec.docx", made))
    assert specification.header == ()
    assert specification.sections[0].clauses[-1].text == "after"
    assert any("embedded" in problem.message for problem in problems)
    made["_rels/.rels"] = made["_rels/.rels"].replace(
        'Target="word/document.xml"', 'Target="http://localhost:1/d.xml" TargetMode="External"'
    )
    assert "no Word document in it" in refusal(pack(tmp_path / "outside.docx", made))


def test_a_link_that_climbs_out_of_the_package(tmp_path: Path) -> None:
    made = parts(BODY)
    made["_rels/.rels"] = made["_rels/.rels"].replace('"word/document.xml"', '"../../../etc/passwd"')
    assert "DOCX" in refusal(pack(tmp_path / "spec.docx", made))


def test_deep_nesting(tmp_path: Path) -> None:
    deep = "<w:smartTag>" * 3_000 + r("x") + "</w:smartTag>" * 3_000
    assert "deeper than 256 levels" in refusal(changed(tmp_path, DOCUMENT, document(f"<w:p>{deep}</w:p>")))
    nested = p("core")
    for _ in range(30):
        nested = tbl(row(f"<w:tc>{nested}{p()}</w:tc>", "<w:tc><w:p/></w:tc>"))
    assert "deeper than 20" in refusal(changed(tmp_path, DOCUMENT, document(nested)))


def test_too_many_paragraphs(tmp_path: Path) -> None:
    path = changed(tmp_path, DOCUMENT, document("<w:p/>" * 2_000))
    assert "more than 1,000 paragraphs" in refusal(path, Limits(paragraphs=1_000))


def test_a_limit_can_be_raised(tmp_path: Path) -> None:
    path = changed(tmp_path, DOCUMENT, document(BODY[0] + "<w:p/>" * 2_000 + "".join(BODY[1:])))
    refusal(path, Limits(paragraphs=1_000))
    assert read_docx(path, Limits(paragraphs=10_000))[0].sections[0].roof


def test_lists_and_styles_of_absurd_size_and_depth(tmp_path: Path) -> None:
    """100,000 list levels, a chain of 5,000 styles, and numbers past what an integer holds."""
    levels = "".join(lvl(at, "decimal", "%1.") for at in range(100_000))
    chain = "".join(style(f"S{at}", based=f"S{at + 1}") for at in range(5_000)) + style(
        "S5000", ppr=numbered(1)
    )
    blocks = [
        *BODY,
        p("a", num=(1, 99_999)), p("b", "S0"), p("c", num=(10**30, 5)), p("d", num=(1, -7)),
        p("e", props=f'<w:numPr><w:ilvl w:val="x"/><w:numId w:val="{"9" * 5_000}"/></w:numPr>'),
        p("f", props=f'<w:ind w:left="{"9" * 500}"/>'),
    ]  # fmt: skip
    path = build(tmp_path / "spec.docx", blocks, numbering=abstract(1, levels) + num(1, 1), styles=chain)
    texts = [clause.text for clause in read_docx(path)[0].sections[0].clauses]
    assert texts[-6:] == ["a", "b", "c", "d", "e", "f"]


def test_a_start_far_out_and_very_long_numbers(tmp_path: Path) -> None:
    numbering = abstract(
        1, lvl(0, "upperRoman", "%1.", start=2_000_000_000), lvl(1, "upperLetter", "%2.", start=2_000_000_000)
    )
    blocks = [*BODY, *(p("x", num=(1, at % 2)) for at in range(50))]
    clauses = (
        read_docx(build(tmp_path / "spec.docx", blocks, numbering=numbering + num(1, 1)))[0]
        .sections[0]
        .clauses
    )
    assert max(len(clause.label) for clause in clauses) < 100


def test_prologs_that_would_keep_a_pattern_busy(tmp_path: Path) -> None:
    for prolog in (" " * 60_000, "<?x?>" * 12_000, "<!---->" * 9_000, "<!--" * 15_000):
        assert DOCUMENT in refusal(changed(tmp_path, DOCUMENT, prolog + "&"))


def test_paragraphs_joined_without_end(tmp_path: Path) -> None:
    gone = '<w:del w:id="1" w:author="x"/>'
    path = build(tmp_path / "s.docx", [*BODY, *[p("joined text", mark=gone)] * 20_000, p("after")])
    clauses = read_docx(path)[0].sections[0].clauses
    assert clauses[-1].text.endswith("after")
    assert max(len(clause.text) for clause in clauses) < 60_000


def test_lists_ever_further_in(tmp_path: Path) -> None:
    blocks = [p(f"1. deeper {at}", left=at * 100) for at in range(3_000)]
    clauses = read_docx(build(tmp_path / "s.docx", [*BODY, *blocks]))[0].sections[0].clauses
    assert max(len(clause.headings) for clause in clauses) <= 32


def test_many_tables_in_one_cell_and_many_headers(tmp_path: Path) -> None:
    cell_of_tables = "<w:tc>" + tbl(row("a", "b")) * 3_000 + "<w:p/></w:tc>"
    made = parts([*BODY, tbl(row(cell_of_tables, "x"))], headers=[p("x" * 200_000) for _ in range(20)])
    table = read_docx(pack(tmp_path / "s.docx", made))[0].sections[0].clauses[-1].table
    assert table is not None
    assert len(table.cells[0].tables) == 3_000
    assert "the parts that are read unpack to more than" in refusal(
        tmp_path / "s.docx", Limits(read_bytes=2_000_000)
    )


def test_fields_that_never_end(tmp_path: Path) -> None:
    begun = '<w:r><w:fldChar w:fldCharType="begin"/></w:r>' * 10_000
    ends = '<w:r><w:fldChar w:fldCharType="end"/></w:r>' * 10
    specification, _ = read_docx(build(tmp_path / "s.docx", [*BODY, p(ends), p(begun), p("after")]))
    assert specification.sections[0].clauses[-1].text == "after"


def test_a_long_document_of_notes_and_rows_stays_linear(tmp_path: Path) -> None:
    blocks = [p("*" * 20), p("NOTE: x")] * 3_000 + [p("Section 07 62 00 - Flashing")] * 3_000
    assert read_docx(build(tmp_path / "s.docx", [*BODY, *blocks]))[0].sections


@pytest.mark.parametrize(
    "text", ["Retain " + "a " * 50_000, "A" * 100_000, "(" * 50_000, "1." * 50_000, "* " * 50_000]
)
def test_one_long_line(tmp_path: Path, text: str) -> None:
    assert read_docx(build(tmp_path / "s.docx", [*BODY, p(text)]))[0].sections[0].clauses


def test_control_signs_never_reach_the_text(tmp_path: Path) -> None:
    path = changed(tmp_path, DOCUMENT, document("".join(BODY) + p("A\x1b[31m")))
    assert DOCUMENT in refusal(path)


def test_a_bad_archive_in_memory_is_closed(tmp_path: Path) -> None:
    """A refused file is left free to be replaced."""
    path = changed(tmp_path, DOCUMENT, "<w:p>")
    refusal(path)
    buffer = io.BytesIO(path.read_bytes())
    path.unlink()
    assert zipfile.ZipFile(buffer).namelist()
