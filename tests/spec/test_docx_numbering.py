"""Automatic numbers in the cases that readers get wrong. Every expected label was worked by hand from the list."""

from __future__ import annotations

from dataclasses import dataclass
from pathlib import Path

import pytest
from docx_build import (
    CSI_NUMBERING,
    CSI_STYLES,
    abstract,
    build,
    cell,
    dele,
    lvl,
    num,
    numbered,
    p,
    r,
    restart,
    row,
    style,
    tbl,
)

from cleatmark.spec.document import read_docx

NORMAL = style("Normal", default=True)
ABC = abstract(1, lvl(0, "upperLetter", "%1."), lvl(1, "decimal", "%2."), lvl(2, "lowerLetter", "%3."))
DECIMAL = abstract(1, lvl(0, "decimal", "%1"), lvl(1, "decimal", "%1.%2"), lvl(2, "decimal", "%1.%2.%3"))


@dataclass(frozen=True)
class Case:
    """`labels` are the numbers printed, in order; `office` False where LibreOffice is known to print others."""

    blocks: list[str]
    labels: list[str]
    numbering: str = CSI_NUMBERING
    styles: str = CSI_STYLES
    office: bool = True


def items(*levels: int, key: int = 1) -> list[str]:
    return [p(f"item{at}", num=(key, level)) for at, level in enumerate(levels)]


def one(fmt: str, text: str = "%1.", *, start: int = 1) -> str:
    return abstract(1, lvl(0, fmt, text, start=start)) + num(1, 1)


CASES = {
    "style linked": Case(
        [
            p("GENERAL", "PRT"), p("SUMMARY", "ART"), p("a", "PR1"), p("b", "PR1"), p("c", "PR2"), p("d", "PR3"),
            p("e", "PR4"), p("f", "PR5"), p("g", "PR5"), p("h", "PR1"), p("REFERENCES", "ART"), p("i", "PR1"),
            p("PRODUCTS", "PRT"), p("PANELS", "ART"), p("j", "PR1"),
        ],
        ["PART 1", "1.01", "A.", "B.", "1.", "a.", "1)", "a)", "b)", "C.", "1.02", "A.", "PART 2", "2.01", "A."],
    ),
    "style based on a numbered style": Case(
        [p("a", "PR1"), p("b", "MINE"), p("c", "YOURS"), p("d", "PR1")],
        ["A.", "B.", "C.", "D."],
        styles=CSI_STYLES + style("MINE", based="PR1") + style("YOURS", based="MINE"),
    ),
    "level stated by a style, list by its ancestor": Case(
        [p("a", "H1"), p("b", "H2"), p("c", "H3"), p("d", "H2"), p("e", "H1"), p("f", "H2")],
        ["1", "1.1", "1.1.1", "1.2", "2", "2.1"],
        abstract(1, *(lvl(at, "decimal", text, style=f"H{at + 1}")
                      for at, text in enumerate(("%1", "%1.%2", "%1.%2.%3")))) + num(1, 1),
        NORMAL + style("H1", ppr=numbered(1)) + style("H2", based="H1", ppr=numbered(None, 1))
        + style("H3", based="H2", ppr=numbered(None, 2)),
    ),
    "level only through the list's link to the style": Case(
        [p("a", "X"), p("b", "Y"), p("c", "Y"), p("d", "X")],
        ["A.", "1.", "2.", "B."],
        abstract(1, lvl(0, "upperLetter", "%1.", style="X"), lvl(1, "decimal", "%2.", style="Y")) + num(1, 1),
        NORMAL + style("X", ppr=numbered(1)) + style("Y", ppr=numbered(1)), office=False,
    ),
    "number cancelled in the paragraph": Case(
        [p("a", "PR1"), p("b", "PR1", num=0), p("c", "PR1")], ["A.", "", "B."],
    ),
    "number cancelled by a style": Case(
        [p("a", "PR1"), p("b", "BARE"), p("c", "BARER"), p("d", "PR1")],
        ["A.", "", "", "B."],
        styles=CSI_STYLES + style("BARE", based="PR1", ppr=numbered(0)) + style("BARER", based="BARE"),
    ),
    "direct number over a style's": Case(
        [p("a", "PR1"), p("b", "PR1", num=(1, 3)), p("c", "PR1", num=(1, 3)), p("d", "PR1")],
        ["A.", "1.", "2.", "B."],
    ),
    "direct list, level by the style": Case(
        [p("a", "PR1", num=1), p("b", "PR2", num=1), p("c", "PR2", num=1), p("d", "PR1", num=1)],
        ["A.", "1.", "2.", "B."],
    ),
    "levels begin anew": Case(
        items(0, 1, 1, 2, 2, 1, 2, 0, 1, 2),
        ["A.", "1.", "2.", "a.", "b.", "3.", "a.", "B.", "1.", "a."],
        ABC + num(1, 1), NORMAL,
    ),
    "a skipped level counts as used": Case(
        items(0, 2, 1, 2, 1, 0, 2, 2, 1),
        ["1", "1.1.1", "1.2", "1.2.1", "1.3", "2", "2.1.1", "2.1.2", "2.2"],
        DECIMAL + num(1, 1), NORMAL,
    ),
    "the first paragraph skips the outer level": Case(
        items(1, 1, 0, 1), ["1.1", "1.2", "2", "2.1"], DECIMAL + num(1, 1), NORMAL,
    ),
    "two lists share one counter": Case(
        [*items(0, 0), *items(0, key=2), *items(0)], ["A.", "B.", "C.", "D."], ABC + num(1, 1) + num(2, 1), NORMAL,
    ),
    "restart by an override": Case(
        [*items(0, 0), *items(0, 0, key=2)], ["A.", "B.", "A.", "B."], ABC + num(1, 1) + num(2, 1, restart(0)), NORMAL,
    ),
    "restart at five": Case(
        [*items(0, 0), *items(0, 0, key=2)], ["A.", "B.", "E.", "F."],
        ABC + num(1, 1) + num(2, 1, restart(0, 5)), NORMAL,
    ),
    "restart of an inner level only": Case(
        [*items(0, 1, 1), *items(1, 1, key=2), *items(0, 1, key=2)],
        ["A.", "1.", "2.", "1.", "2.", "B.", "1."],
        ABC + num(1, 1) + num(2, 1, restart(1)), NORMAL,
    ),
    "an override counts once": Case(
        [*items(0, 0), *items(0, key=2), *items(0), *items(0, key=2)],
        ["A.", "B.", "A.", "B.", "C."],
        ABC + num(1, 1) + num(2, 1, restart(0)), NORMAL,
    ),
    "a level replaced in one list": Case(
        items(0, 1, 1, key=2), ["A.", "i)", "ii)"],
        ABC + num(2, 1, f'<w:lvlOverride w:ilvl="1">{lvl(1, "lowerRoman", "%2)")}</w:lvlOverride>'), NORMAL,
    ),
    "separate lists count apart": Case(
        [*items(0, 0), *items(0, key=2), *items(0)], ["A.", "B.", "1)", "C."],
        ABC + abstract(2, lvl(0, "decimal", "%1)")) + num(1, 1) + num(2, 2), NORMAL,
    ),
    "never restarts": Case(
        items(0, 1, 1, 0, 1, 0, 1), ["A.", "1.", "2.", "B.", "3.", "C.", "4."],
        abstract(1, lvl(0, "upperLetter", "%1."), lvl(1, "decimal", "%2.", more='<w:lvlRestart w:val="0"/>'))
        + num(1, 1), NORMAL, office=False,
    ),
    "restarts only after the outermost level": Case(
        items(0, 1, 2, 1, 2, 0, 1, 2), ["A.", "1.", "a.", "2.", "b.", "B.", "1.", "a."],
        abstract(1, lvl(0, "upperLetter", "%1."), lvl(1, "decimal", "%2."),
                 lvl(2, "lowerLetter", "%3.", more='<w:lvlRestart w:val="1"/>')) + num(1, 1), NORMAL, office=False,
    ),
    "legal numbering of roman parents": Case(
        items(0, 0, 1, 1, 2), ["I.", "II.", "2.1", "2.2", "2.2.1"],
        abstract(1, lvl(0, "upperRoman", "%1."), lvl(1, "decimal", "%1.%2", more="<w:isLgl/>"),
                 lvl(2, "decimal", "%1.%2.%3", more="<w:isLgl/>")) + num(1, 1), NORMAL, office=False,
    ),
    "legal numbering keeps a leading zero": Case(
        items(0, 1, 1), ["Article I.", "Section 1.01", "Section 1.02"],
        abstract(1, lvl(0, "upperRoman", "Article %1."), lvl(1, "decimalZero", "Section %1.%2", more="<w:isLgl/>"))
        + num(1, 1), NORMAL, office=False,
    ),
    "a list through a numbering style": Case(
        [*items(0, 1, key=1), *items(0, 1, key=2)], ["A.", "1.", "B.", "1."],
        abstract(1, '<w:numStyleLink w:val="OFFICE"/>')
        + abstract(2, '<w:styleLink w:val="OFFICE"/>', lvl(0, "upperLetter", "%1."), lvl(1, "decimal", "%2."))
        + num(1, 1) + num(2, 2),
        NORMAL + style("OFFICE", kind="numbering", ppr=numbered(2)),
    ),
    "letters past Z": Case(
        items(*[0] * 54), [*(f"{chr(65 + at)}." for at in range(26)), *(f"{chr(65 + at) * 2}." for at in range(26)),
                           "AAA.", "BBB."],
        one("upperLetter"), NORMAL,
    ),
    "leading zero up to nine": Case(
        items(*[0] * 10), [*(f"0{at}" for at in range(1, 10)), "10"], one("decimalZero", "%1"), NORMAL,
    ),
    "roman": Case(
        items(*[0] * 10), ["i.", "ii.", "iii.", "iv.", "v.", "vi.", "vii.", "viii.", "ix.", "x."],
        one("lowerRoman"), NORMAL,
    ),
    "ordinal": Case(
        items(0, 0, 0, 0), ["1st", "2nd", "3rd", "4th"], one("ordinal", "%1"), NORMAL,
    ),
    "number words": Case(
        items(0, 0, 0), ["One", "Two", "Three"], one("cardinalText", "%1"), NORMAL, office=False,
    ),
    "starts at eleven": Case(items(0, 0), ["11.", "12."], one("decimal", start=11), NORMAL),
    "starts at zero": Case(items(0, 0), ["0.", "1."], one("decimal", start=0), NORMAL),
    "three places": Case(
        items(0, 0), ["001", "002"],
        abstract(1, '<w:lvl w:ilvl="0"><w:start w:val="1"/><mc:AlternateContent><mc:Choice Requires="w14">'
                    '<w:numFmt w:val="custom" w:format="001, 002, 003, ..."/></mc:Choice><mc:Fallback>'
                    '<w:numFmt w:val="decimal"/></mc:Fallback></mc:AlternateContent><w:lvlText w:val="%1"/></w:lvl>')
        + num(1, 1), NORMAL, office=False,
    ),
    "bullets have no number and count nothing": Case(
        [*items(0), *items(0, 0, key=2), *items(0)], ["A.", "", "", "B."],
        ABC + abstract(2, lvl(0, "bullet", "\uf0b7")) + num(1, 1) + num(2, 2), NORMAL, office=False,
    ),
    "empty paragraphs count": Case(
        [p("a", "PR1"), p("", "PR1"), p("c", "PR1")], ["A.", "C."], office=False,
    ),
    "table cells count": Case(
        [p("a", "PR1"), tbl(row(cell(p("b", "PR1")), cell(p("c", "PR1")))), p("d", "PR1")], ["A.", "", "D."],
        office=False,
    ),
    "a deleted paragraph takes no number": Case(
        [p("a", "PR1"), p(dele("gone"), "PR1", mark='<w:del w:id="5" w:author="x"/>'), p("c", "PR1")],
        ["A.", "", "B."], office=False,
    ),
    "a paragraph joined to the next takes one number": Case(
        [p("a", "PR1"), p(r("b ") + dele("gone"), "PR1", mark='<w:del w:id="5" w:author="x"/>'), p("c", "PR1"),
         p("d", "PR1")],
        ["A.", "B.", "C."], office=False,
    ),
    "a hidden paragraph takes no number": Case(
        [p("a", "PR1"), p(r("b", "<w:vanish/>"), "PR1", mark="<w:vanish/>"), p("c", "PR1")], ["A.", "", "B."],
        office=False,
    ),
    "the number before a tracked change of numbering": Case(
        [p("a", "PR1"), p("b", "PR1", props='<w:pPrChange w:id="3" w:author="x"><w:pPr><w:numPr><w:ilvl w:val="4"/>'
                                            '<w:numId w:val="1"/></w:numPr></w:pPr></w:pPrChange>'), p("c", "PR1")],
        ["A.", "B.", "C."],
    ),
    "only the own level in the text": Case(
        items(0, 1, 2, 2, 1), ["I", "A", "(1)", "(2)", "B"],
        abstract(1, lvl(0, "upperRoman", "%1"), lvl(1, "upperLetter", "%2"), lvl(2, "decimal", "(%3)")) + num(1, 1),
        NORMAL,
    ),
    "numbers inside a content control": Case(
        [p("a", "PR1"), f"<w:sdt><w:sdtPr/><w:sdtContent>{p('b', 'PR1')}{p('c', 'PR2')}</w:sdtContent></w:sdt>",
         p("d", "PR1")],
        ["A.", "B.", "1.", "C."],
    ),
    "a list that is not defined": Case([*items(0), *items(0, key=9)], ["A.", ""], ABC + num(1, 1), NORMAL),
    "a level beyond the ninth": Case(
        [p("a", num=(1, 99)), p("b", num=(1, 8))], ["A.1.1.1.1.1.1.1.1", "A.1.1.1.1.1.1.1.2"],
        abstract(1, lvl(0, "upperLetter", "%1"), *(lvl(at, "decimal", ".".join(f"%{up + 1}" for up in range(at + 1)))
                                                   for at in range(1, 9))) + num(1, 1), NORMAL, office=False,
    ),
}  # fmt: skip


def labels(path: Path) -> list[str]:
    specification, _ = read_docx(path)
    return [clause.label for section in specification.sections for clause in section.clauses]


@pytest.mark.parametrize("name", CASES)
def test_labels_are_the_printed_ones(name: str, tmp_path: Path) -> None:
    case = CASES[name]
    path = build(tmp_path / "case.docx", case.blocks, numbering=case.numbering, styles=case.styles)
    assert labels(path) == case.labels


def test_cyclic_styles_and_lists_end(tmp_path: Path) -> None:
    styles = (
        style("A1", based="B1", ppr=numbered(1)) + style("B1", based="A1")
        + style("LOOP", kind="numbering", ppr=numbered(2))
    )  # fmt: skip
    numbering = (
        abstract(1, '<w:numStyleLink w:val="LOOP"/>')
        + abstract(2, '<w:numStyleLink w:val="LOOP"/>')
        + num(1, 1)
        + num(2, 2)
    )
    path = build(tmp_path / "cycle.docx", [p("a", "A1"), p("b", "B1")], styles=styles, numbering=numbering)
    assert [clause.text for clause in read_docx(path)[0].sections[0].clauses] == ["a", "b"]


def test_an_undefined_list_is_told(tmp_path: Path) -> None:
    path = build(tmp_path / "gap.docx", [p("a", num=(7, 0)), p("Metal roof panels", "PR1")])
    _, problems = read_docx(path)
    assert any("list that the file does not define" in problem.message for problem in problems)
