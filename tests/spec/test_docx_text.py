"""What shows on paper and what does not: changes, hidden text, fields, controls, text boxes, signs."""

from __future__ import annotations

from pathlib import Path

import pytest
from docx_build import CSI_STYLES, abstract, build, dele, ins, lvl, num, p, r, raw_run, row, style, t, tbl

from cleatmark.spec.clauses import Clause, Span
from cleatmark.spec.document import read_docx

GONE = '<w:del w:id="5" w:author="x"/>'
VANISH = "<w:vanish/>"


def clauses(tmp_path: Path, *blocks: str, styles: str = CSI_STYLES) -> list[Clause]:
    specification, _ = read_docx(build(tmp_path / "text.docx", blocks, styles=styles))
    return [clause for section in specification.sections for clause in section.clauses]


def text_of(tmp_path: Path, content: str) -> str:
    [clause] = clauses(tmp_path, p(content))
    return clause.text


def field(code: str, result: str) -> str:
    return (
        raw_run('<w:fldChar w:fldCharType="begin"/>') + raw_run(f"<w:instrText> {code} </w:instrText>")
        + raw_run('<w:fldChar w:fldCharType="separate"/>') + result + raw_run('<w:fldChar w:fldCharType="end"/>')
    )  # fmt: skip


def box(*content: str) -> str:
    """A text box as Word writes it: the drawing, and an older copy as fallback."""
    inside = f"<w:txbxContent>{''.join(content)}</w:txbxContent>"
    return raw_run(
        f'<mc:AlternateContent><mc:Choice Requires="wps"><w:drawing><wps:txbx>{inside}</wps:txbx></w:drawing>'
        f"</mc:Choice><mc:Fallback><w:pict><v:textbox>{inside}</v:textbox></w:pict></mc:Fallback>"
        "</mc:AlternateContent>"
    )


@pytest.mark.parametrize(
    ("content", "read"),
    [
        (r("UL ") + r("5") + r("80"), "UL 580"),
        (r("AZ") + raw_run("<w:noBreakHyphen/>" + t("50")), "AZ-50"),
        (r("E\u20111592"), "E-1592"),
        (r("weather") + raw_run("<w:softHyphen/>") + r("tight\u00ad ness"), "weathertight ness"),
        (raw_run(t("2,400") + "<w:br/>" + t("Pa")), "2,400 Pa"),
        (raw_run(t("one") + "<w:cr/>" + t("two") + "<w:tab/>" + t("three")), "one two three"),
        (r("2\u2009400\u00a0Pa"), "2 400 Pa"),
        (r("0.6\u200b0 mm"), "0.60 mm"),
        (r("\u221245 psf"), "\u221245 psf"),
        (raw_run('<w:sym w:font="Symbol" w:char="F0B1"/>') + r("30 psf"), "\u00b130 psf"),
        (raw_run('<w:sym w:font="Wingdings" w:char="F0A8"/>') + r(" Class 60"), "\u2610 Class 60"),
        (raw_run('<w:sym w:font="Odd" w:char="F041"/>') + r("x"), "x"),
        (raw_run('<w:sym w:font="Arial" w:char="00BD"/>') + r(" inch"), "\u00bd inch"),
        (f'<w:hyperlink r:id="r9">{r("ASTM E1592")}</w:hyperlink>', "ASTM E1592"),
        (f'<w:smartTag w:element="x"><w:smartTagPr/>{r("ASTM")}</w:smartTag>{r(" A653")}', "ASTM A653"),
        (f'<w:sdt><w:sdtPr><w:alias w:val="no"/></w:sdtPr><w:sdtContent>{r("24")}</w:sdtContent></w:sdt>', "24"),
        (r("see ") + '<w:fldSimple w:instr=" REF x ">' + r("1.04.B") + "</w:fldSimple>", "see 1.04.B"),
        (r("see ") + field("REF x", r("2.01")) + r("."), "see 2.01."),
        (
            '<w:fldSimple w:instr="REF x">' + r("a") + raw_run('<w:fldChar w:fldCharType="end"/>') + "</w:fldSimple>",
            "a",
        ),
        (field("IF 1 = 1", field("REF y", r("inner")) + r(" outer")), "inner outer"),
        (raw_run('<w:fldChar w:fldCharType="begin"/>') + field("PAGE", r("7")) + r("unended"), None),
        (r("Class 90") + raw_run('<w:footnoteReference w:id="2"/>'), "Class 90"),
        (raw_run("<w:ruby><w:rt>" + r("up") + "</w:rt><w:rubyBase>" + r("base") + "</w:rubyBase></w:ruby>"), "base"),
        (
            "<m:oMath><m:r><m:t>L</m:t></m:r><m:f><m:num><m:r><m:t>1</m:t></m:r></m:num><m:den><m:r><m:t>180"
            "</m:t></m:r></m:den></m:f></m:oMath>",
            "L1/180",
        ),
        (r("Panels, standing seam.", "<w:caps/>"), "Panels, standing seam."),
        (raw_run("<w:t>a</w:t><w:lastRenderedPageBreak/><w:t>b</w:t>"), "ab"),
    ],
)  # fmt: skip
def test_signs_and_wrappers(tmp_path: Path, content: str, read: str | None) -> None:
    if read is None:
        assert clauses(tmp_path, p(content), p("after"))[-1].text == "after"
    else:
        assert text_of(tmp_path, content) == read


def test_a_change_inside_a_number(tmp_path: Path) -> None:
    [clause] = clauses(tmp_path, p(r("Warranty of ") + dele("ten") + ins("twenty") + r(" years"), "PR1"))
    assert clause.text == "Warranty of twenty years"
    assert clause.spans == (Span(12, 18, "inserted"),)
    assert (clause.deleted, clause.flags) == ("ten", ("tracked change",))


def test_a_digit_changed_inside_a_word(tmp_path: Path) -> None:
    [clause] = clauses(tmp_path, p(r("1-") + dele("6") + ins("9") + r("0")))
    assert (clause.text, clause.spans, clause.deleted) == ("1-90", (Span(2, 3, "inserted"),), "6")


def test_moved_text_is_read_where_it_went(tmp_path: Path) -> None:
    moved = '<w:moveFrom w:id="1" w:author="x">' + r("Class 90") + "</w:moveFrom>"
    here = '<w:moveTo w:id="2" w:author="x">' + r("Class 90") + "</w:moveTo>"
    first, second = clauses(tmp_path, p(r("From: ") + moved), p(r("To: ") + here))
    assert (first.text, first.deleted, first.flags) == ("From:", "Class 90", ("tracked change",))
    assert (second.text, second.spans) == ("To: Class 90", (Span(4, 12, "inserted"),))


def test_a_change_of_formatting_alone_changes_nothing(tmp_path: Path) -> None:
    old = '<w:rPrChange w:id="4" w:author="x"><w:rPr><w:vanish/><w:strike/></w:rPr></w:rPrChange>'
    [clause] = clauses(tmp_path, p(r("Class 90", f"<w:b/>{old}")))
    assert (clause.text, clause.flags, clause.hidden) == ("Class 90", (), False)


def test_a_paragraph_deleted_whole_is_told_and_not_numbered(tmp_path: Path) -> None:
    read = clauses(
        tmp_path, p("PANELS", "ART"), p("a", "PR1"), p(dele("Class 60."), "PR1", mark=GONE), p("c", "PR1")
    )
    assert [(one.address, one.text, one.deleted, one.hidden) for one in read[2:]] == [
        ("1.01.A", "", "Class 60.", True),
        ("1.01.B", "c", "", False),
    ]
    assert read[2].flags == ("tracked change",)
    assert read[3].flags == ()


def test_a_deleted_mark_joins_two_paragraphs(tmp_path: Path) -> None:
    read = clauses(
        tmp_path,
        p("x", "ART"),
        p(r("Class 90 "), "PR1", mark=GONE),
        p(r("over plywood."), "PR1"),
        p("z", "PR1"),
    )
    assert [(one.address, one.text) for one in read[1:]] == [
        ("1.01.A", "Class 90 over plywood."),
        ("1.01.B", "z"),
    ]


def test_a_deleted_mark_before_a_table_leaves_the_paragraph(tmp_path: Path) -> None:
    read = clauses(tmp_path, p(r("Pressures:"), mark=GONE), tbl(row("a", "b")), p("after"))
    assert [(one.text, one.table is not None) for one in read] == [
        ("Pressures:", False),
        ("", True),
        ("after", False),
    ]


def test_an_inserted_paragraph_is_read(tmp_path: Path) -> None:
    [clause] = clauses(tmp_path, p(ins("Class 90."), mark='<w:ins w:id="3" w:author="x"/>'))
    assert (clause.text, clause.flags, clause.spans) == (
        "Class 90.",
        ("tracked change",),
        (Span(0, 9, "inserted"),),
    )


def test_hidden_runs_are_taken_out(tmp_path: Path) -> None:
    [clause] = clauses(tmp_path, p(r("Class ") + r("60 or ", VANISH) + r("90")))
    assert (clause.text, clause.hidden) == ("Class 90", False)


@pytest.mark.parametrize(
    ("blocks", "styles"),
    [
        ([p(r("Retain 60.", VANISH), mark=VANISH)], ""),
        ([p("Retain 60.", "NOTE1")], style("NOTE1", rpr=VANISH)),
        ([p("Retain 60.", "NOTE2")], style("NOTE1", rpr=VANISH) + style("NOTE2", based="NOTE1")),
        (
            [p(r("Retain 60.", '<w:rStyle w:val="HID"/>'), mark=VANISH)],
            style("HID", kind="character", rpr=VANISH),
        ),
        ([p(ins(r("Retain 60.", VANISH)), mark=VANISH)], ""),
    ],
)
def test_a_hidden_paragraph_stands_apart(tmp_path: Path, blocks: list[str], styles: str) -> None:
    read = clauses(tmp_path, p("a", "PR1"), *blocks, p("b", "PR1"), styles=CSI_STYLES + styles)
    assert [(one.label, one.text, one.hidden) for one in read] == [
        ("A.", "a", False),
        ("", "Retain 60.", True),
        ("B.", "b", False),
    ]
    assert "specifier note" in read[1].flags


def test_hidden_text_before_a_mark_that_shows_prints_the_number_alone(tmp_path: Path) -> None:
    read = clauses(tmp_path, p("x", "ART"), p(r("Retain 60.", VANISH), "PR1"), p("b", "PR1"))
    assert [(one.address, one.label, one.hidden) for one in read[1:]] == [
        ("1.01.A", "A.", True),
        ("1.01.B", "B.", False),
    ]


@pytest.mark.parametrize(
    ("content", "styles"),
    [
        (r("Class 90", '<w:vanish w:val="0"/>'), style("S", rpr=VANISH)),
        (
            r("Class 90", '<w:rStyle w:val="C"/>'),
            style("S", rpr=VANISH) + style("C", kind="character", rpr=VANISH),
        ),
        (r("Class 90", '<w:vanish w:val="false"/>'), style("S")),
    ],
)
def test_text_that_a_run_shows_again(tmp_path: Path, content: str, styles: str) -> None:
    [clause] = clauses(tmp_path, p(content, "S"), styles=CSI_STYLES + styles)
    assert (clause.text, clause.hidden) == ("Class 90", False)


@pytest.mark.parametrize("struck", ["<w:strike/>", "<w:dstrike/>", '<w:rStyle w:val="OUT"/>'])
def test_struck_text_is_marked(tmp_path: Path, struck: str) -> None:
    styles = CSI_STYLES + style("OUT", kind="character", rpr="<w:strike/>")
    [clause] = clauses(tmp_path, p(r("Class ") + r("60 ", struck) + r("90")), styles=styles)
    assert (clause.text, clause.spans, clause.flags) == ("Class 60 90", (Span(6, 8, "struck"),), ("struck",))


def test_spans_of_two_kinds_overlap(tmp_path: Path) -> None:
    [clause] = clauses(tmp_path, p(r("a ") + ins(r("b ") + r("c", "<w:strike/>")) + r(" d")))
    assert clause.text == "a b c d"
    assert clause.spans == (Span(2, 5, "inserted"), Span(4, 5, "struck"))


def test_a_field_result_is_marked(tmp_path: Path) -> None:
    [clause] = clauses(tmp_path, p(r("Provide  ") + field("DOCPROPERTY class", r("Class 90")) + r(" panels")))
    assert (clause.text, clause.spans) == ("Provide Class 90 panels", (Span(8, 16, "field"),))


def test_a_field_runs_over_paragraphs(tmp_path: Path) -> None:
    begin = raw_run('<w:fldChar w:fldCharType="begin"/>') + raw_run("<w:instrText>INCLUDETEXT</w:instrText>")
    begin += raw_run('<w:fldChar w:fldCharType="separate"/>') + r("first")
    read = clauses(tmp_path, p(begin), p(r("last") + raw_run('<w:fldChar w:fldCharType="end"/>')), p("out"))
    assert [one.text for one in read] == ["first", "last", "out"]
    assert [bool(one.spans) for one in read] == [True, True, False]


def test_a_text_box_is_read_once_after_its_paragraph(tmp_path: Path) -> None:
    read = clauses(tmp_path, p(r("anchor") + box(p("Class 90"), p("in a box"))), p("after"))
    assert [one.text for one in read] == ["anchor", "Class 90", "in a box", "after"]


def test_an_old_text_box_and_a_box_in_a_box(tmp_path: Path) -> None:
    old = raw_run(
        f"<w:pict><v:textbox><w:txbxContent>{p(r('outer') + box(p('inner')))}</w:txbxContent></v:textbox></w:pict>"
    )
    assert [one.text for one in clauses(tmp_path, p(old), p("after"))] == ["outer", "inner", "after"]


def test_a_deleted_or_hidden_text_box_is_not_read(tmp_path: Path) -> None:
    gone = '<w:del w:id="1" w:author="x">' + box(p("gone")) + "</w:del>"
    veiled = box(p("veiled")).replace("<w:r>", "<w:r><w:rPr><w:vanish/></w:rPr>", 1)
    assert [one.text for one in clauses(tmp_path, p(r("a") + gone + veiled), p("b"))] == ["a", "b"]


def test_a_block_fallback_is_not_read_twice(tmp_path: Path) -> None:
    both = (
        f'<mc:AlternateContent><mc:Choice Requires="x">{p("new")}</mc:Choice>'
        f"<mc:Fallback>{p('old')}</mc:Fallback></mc:AlternateContent>"
    )
    assert [one.text for one in clauses(tmp_path, both, p("after"))] == ["new", "after"]


def test_a_fixed_word_printed_by_a_list_is_part_of_the_text(tmp_path: Path) -> None:
    numbering = abstract(1, lvl(0, "none", "SPECIFIER NOTE:")) + num(1, 1)
    path = build(tmp_path / "n.docx", [p("Class 60 or 90.", num=(1, 0))], numbering=numbering, styles="")
    [clause] = read_docx(path)[0].sections[0].clauses
    assert (clause.text, clause.label, clause.hidden) == ("SPECIFIER NOTE: Class 60 or 90.", "", True)


def test_the_document_says_that_changes_are_left_in(tmp_path: Path) -> None:
    assert read_docx(build(tmp_path / "a.docx", [p(r("a") + ins("b"))]))[0].tracked
    assert not read_docx(build(tmp_path / "b.docx", [p("ab")]))[0].tracked


def test_a_strict_file_reads_the_same(tmp_path: Path) -> None:
    from docx_build import pack, parts

    made = {
        name: content.replace("http://schemas.openxmlformats.org/wordprocessingml/2006/main", "http://purl.oclc.org/ooxml/wordprocessingml/main")
        .replace("http://schemas.openxmlformats.org/officeDocument/2006/relationships", "http://purl.oclc.org/ooxml/officeDocument/relationships")
        for name, content in parts([p("GENERAL", "PRT"), p("SUMMARY", "ART")]).items()
    }  # fmt: skip
    read = read_docx(pack(tmp_path / "strict.docx", made))[0].sections[0].clauses
    assert [(one.address, one.text) for one in read] == [("PART 1", "GENERAL"), ("1.01", "SUMMARY")]


def test_a_file_in_utf_16_reads_the_same(tmp_path: Path) -> None:
    from docx_build import pack, parts

    made: dict[str, str | bytes] = dict(parts([p("Class 90 \u2264")]))
    made["word/document.xml"] = str(made["word/document.xml"]).replace("UTF-8", "UTF-16").encode("utf-16")
    assert read_docx(pack(tmp_path / "wide.docx", made))[0].sections[0].clauses[0].text == "Class 90 \u2264"
