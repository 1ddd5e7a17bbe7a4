"""A specification as amended: clauses, addresses, citations, and what could not be placed."""

from __future__ import annotations

from pathlib import Path

import pytest
from docx import Document

from cleatmark.problems import InputError
from cleatmark.spec.addenda import Amended, amended
from cleatmark.spec.clauses import Clause, Specification
from cleatmark.spec.document import read_docx

ROOT = Path(__file__).resolve().parents[2]
HEAD = "Section 07 41 13 - Metal Roof Panels"


@pytest.fixture(scope="module")
def library() -> Specification:
    return read_docx(ROOT / "samples" / "library" / "spec.docx")[0]


@pytest.fixture(scope="module")
def garage() -> Specification:
    return read_docx(ROOT / "samples" / "bus_garage" / "spec.docx")[0]


def addendum(path: Path, *lines: str, number: int = 1, table: list[list[str]] | None = None) -> Path:
    """An addendum of plain paragraphs, a table behind the last of them where one is given."""
    document = Document()
    for line in (f"ADDENDUM NO. {number}", f"July {number}, 2026", *lines):
        document.add_paragraph(line)
    if table:
        made = document.add_table(rows=len(table), cols=len(table[0]))
        for row, texts in zip(made.rows, table, strict=True):
            for cell, text in zip(row.cells, texts, strict=True):
                cell.text = text
    file = path / f"addendum_{number}.docx"
    document.save(str(file))
    return file


def clauses(result: Amended, address: str) -> list[Clause]:
    return [c for section in result.specification.sections for c in section.clauses if c.address == address]


def text(result: Amended, address: str) -> str:
    """The paragraph printed with the address."""
    (found,) = [clause for clause in clauses(result, address) if clause.label]
    return found.text


def test_a_revised_paragraph_reads_anew_and_cites_the_item(library: Specification, tmp_path: Path) -> None:
    line = 'Revise paragraph 1.3.B to read: "B. Uplift Class: UL 580, Class 60."'
    result = amended(library, [addendum(tmp_path, HEAD, line)])
    assert text(result, "1.03.B") == "Uplift Class: UL 580, Class 60."
    (clause,) = clauses(result, "1.03.B")
    (citation,) = clause.amended
    assert (citation.where, citation.dated, citation.quote) == ("Addendum 1, item 1", "July 1, 2026", line)
    (made,) = result.amendments
    assert made.change.did == "revised"
    assert made.change.before.startswith("Uplift Class: Provide roof assembly tested to UL 580, Class 90")
    assert [c.where for c in made.citations] == ["Addendum 1, item 1", "07 41 13, 1.03.B"]
    assert result.notices == ()


def test_a_deleted_paragraph_is_gone_and_later_ones_keep_their_letters(
    library: Specification, tmp_path: Path
) -> None:
    result = amended(library, [addendum(tmp_path, HEAD, "Delete paragraph 1.03.F in its entirety.")])
    assert not clauses(result, "1.03.F")
    assert not clauses(result, "1.03.F.2")
    assert text(result, "1.03.G").startswith("Fire Classification")
    assert result.amendments[0].change.before.startswith("Insurer's Approval")


def test_a_stretch_is_deleted(library: Specification, tmp_path: Path) -> None:
    result = amended(library, [addendum(tmp_path, "Delete paragraphs 1.03.F.2 through 1.03.F.3.")])
    assert [len(clauses(result, f"1.03.F.{n}")) for n in (1, 2, 3)] == [1, 0, 0]


def test_an_article_is_deleted_whole(library: Specification, tmp_path: Path) -> None:
    result = amended(library, [addendum(tmp_path, "Delete Article 1.07.")])
    assert not [c for s in result.specification.sections for c in s.clauses if c.address.startswith("1.07")]


def test_words_are_changed(library: Specification, tmp_path: Path) -> None:
    result = amended(library, [addendum(tmp_path, "In paragraph 2.02.C, change “16 inches” to “18 inches”.")])
    assert text(result, "2.02.C") == "Coverage Width: 18 inches maximum."
    assert result.amendments[0].change.did == "changed"


@pytest.mark.parametrize(
    ("line", "why"),
    [
        ('Change "17" to "18" in paragraph 2.02.C.', '"17" does not stand there'),
        ('Change "1" to "2" in paragraph 2.02.C.', '"1" does not stand there'),
        (
            'Change "paragraph 9.09.A" to "x" in paragraph 9.09.A.',
            "there is no paragraph 9.09.A",
        ),
        ("Delete paragraph 1.03.Q.", "there is no paragraph 1.03.Q; 1.03.I is the last before it"),
        ("Revise paragraph 1.03.B to read as follows:", "the instruction is not understood"),
        (
            'Change "Class 90" to "Class 60".',
            'it is not said in which paragraph: "Class 90" stands in 1.03.B, 1.03.D',
        ),
        ("Add paragraph 9.09.A: Clips.", "there is nothing that 9.09.A could stand under"),
    ],
)
def test_what_cannot_be_placed_is_told(line: str, why: str, library: Specification, tmp_path: Path) -> None:
    result = amended(library, [addendum(tmp_path, HEAD, line)])
    assert result.notices == (f"Addendum 1, item 1 could not be placed: {why}",)
    assert result.specification.sections[0].clauses == library.sections[0].clauses
    (made,) = result.amendments
    assert (made.change.did, made.change.why) == ("", why)


def test_words_that_stand_several_times_need_every(library: Specification, tmp_path: Path) -> None:
    line = 'Change "6.24 psf" to "12 psf" in Article 1.03{}.'
    once = amended(library, [addendum(tmp_path, line.format(""))])
    assert "stands there 2 times" in once.notices[0]
    every = amended(library, [addendum(tmp_path, line.format(", wherever it stands"))])
    assert every.notices == ()
    assert "12 psf" in text(every, "1.03.H")
    assert "12 psf" in text(every, "1.03.I")


@pytest.mark.parametrize(
    "lines",
    [
        ("Paragraph 1.03.B:", "Change “Class 90” to “Class 60”."),
        ("1.03.B: Change “Class 90” to “Class 60”.",),
        ("In Article 1.03, Paragraph B, change “Class 90” to “Class 60”.",),
        ("Change “Provide roof assembly tested to UL 580, Class 90” to “UL 580, Class 60”.",),
    ],
)
def test_the_paragraph_may_be_named_above_before_or_not_at_all(
    lines: tuple[str, ...], library: Specification, tmp_path: Path
) -> None:
    result = amended(library, [addendum(tmp_path, *lines)])
    assert result.notices == ()
    assert "UL 580, Class 60" in text(result, "1.03.B")


def test_the_rest_of_a_word_is_not_changed(library: Specification, tmp_path: Path) -> None:
    result = amended(library, [addendum(tmp_path, 'Change "UL 580" to "UL 1897" in paragraph 1.02.A.9.')])
    assert text(result, "1.02.A.9").startswith("UL 1897 -")


def test_an_added_paragraph_stands_in_its_place(library: Specification, tmp_path: Path) -> None:
    result = amended(
        library, [addendum(tmp_path, 'Add paragraph 2.03.C: "Bearing Plates: Under every clip."')]
    )
    assert text(result, "2.03.C") == "Bearing Plates: Under every clip."
    order = [c.address for c in result.specification.sections[0].clauses]
    assert order[order.index("2.03.C") - 1] == "2.03.B"
    assert order[order.index("2.03.C") + 1] == "2.04"
    (made,) = clauses(result, "2.03.C")
    assert made.headings == clauses(result, "2.03.B")[0].headings
    ordinals = [c.ordinal for s in result.specification.sections for c in s.clauses]
    assert ordinals == sorted(set(ordinals))


def test_an_addition_behind_a_paragraph_takes_its_letter_from_the_text(
    library: Specification, tmp_path: Path
) -> None:
    result = amended(
        library, [addendum(tmp_path, "After paragraph 2.03.B, add the following: “C. Bearing Plates.”")]
    )
    assert text(result, "2.03.C") == "Bearing Plates."


def test_a_letter_that_is_taken_is_told(library: Specification, tmp_path: Path) -> None:
    result = amended(library, [addendum(tmp_path, "Add paragraph 1.03.B: “Seams: Folded.”")])
    both = [c.text for c in clauses(result, "1.03.B")]
    assert both[0] == "Seams: Folded."
    assert both[1].startswith("Uplift Class")
    assert "1.03.B stands already" in result.notices[0]


def test_a_new_text_brings_its_own_paragraphs(library: Specification, tmp_path: Path) -> None:
    lines = (
        "Revise paragraph 1.03.F to read as follows:",
        "F. Insurer's Approval: Approved under FM 4471 with windstorm rating not less than:",
        "1. Field: Class 1-75.",
        "a. Eaves: Class 1-90.",
        "2. Corner: Class 1-135.",
        "Delete paragraph 1.03.G.",
    )
    result = amended(library, [addendum(tmp_path, *lines)])
    found = {
        c.address: c.text for c in result.specification.sections[0].clauses if c.address.startswith("1.03.F")
    }
    assert found == {
        "1.03.F": "Insurer's Approval: Approved under FM 4471 with windstorm rating not less than:",
        "1.03.F.1": "Field: Class 1-75.",
        "1.03.F.1.a": "Eaves: Class 1-90.",
        "1.03.F.2": "Corner: Class 1-135.",
    }
    assert clauses(result, "1.03.F.2")[0].headings[-1] == found["1.03.F"]
    assert not clauses(result, "1.03.G")


def test_what_stands_below_a_revised_paragraph_stays_and_is_read_under_the_new_words(
    library: Specification, tmp_path: Path
) -> None:
    line = "Revise paragraph 1.03.F to read: Approval: FM 4471, with ratings as follows:"
    result = amended(library, [addendum(tmp_path, line)])
    (below,) = clauses(result, "1.03.F.1")
    assert below.headings[-1] == "Approval: FM 4471, with ratings as follows:"
    assert [c.where for c in below.amended] == ["Addendum 1, item 1"]
    assert "from 1.03.F.1 on, is read as it stands" in result.notices[0]


def test_delete_and_substitute_takes_what_stands_below(library: Specification, tmp_path: Path) -> None:
    line = "Delete paragraph 1.03.F and substitute the following: Approval: Not required."
    result = amended(library, [addendum(tmp_path, line)])
    assert text(result, "1.03.F") == "Approval: Not required."
    assert not clauses(result, "1.03.F.1")


def test_a_table_is_changed_by_its_words_and_as_a_whole(library: Specification, tmp_path: Path) -> None:
    result = amended(library, [addendum(tmp_path, 'In paragraph 1.03.C, change "-56.0" to "-60.0".')])
    (table,) = [c.table for c in clauses(result, "1.03.C") if c.table is not None]
    assert "-60.0" in [cell.text for cell in table.cells]
    assert "-56.0" not in [cell.text for cell in table.cells]
    rows = [["Roof zone", "10 sq ft"], ["Field", "-40.0"], ["Corner", "-70.0"]]
    line = "Revise the table of paragraph 1.03.C to read as follows:"
    result = amended(library, [addendum(tmp_path, line, table=rows)])
    (table,) = [c.table for c in clauses(result, "1.03.C") if c.table is not None]
    assert [cell.text for cell in table.cells] == [text for row in rows for text in row]
    assert table.caption == "Design uplift pressures, psf, allowable-stress level"
    assert text(result, "1.03.C").startswith("Design Wind Pressures")


def test_a_numbered_title_keeps_over_its_revised_text(garage: Specification, tmp_path: Path) -> None:
    line = "Revise paragraph 1.3.3 to read: Divide the greatest pressure by 1.67."
    result = amended(garage, [addendum(tmp_path, line)])
    assert [c.text for c in clauses(result, "1.3.3")] == [
        "Factor of Safety",
        "Divide the greatest pressure by 1.67.",
    ]


def test_addenda_are_carried_out_in_their_order(library: Specification, tmp_path: Path) -> None:
    first = addendum(tmp_path, 'In paragraph 1.03.B, change "Class 90" to "Class 60".')
    second = addendum(tmp_path, 'In paragraph 1.03.B, change "Class 60" to "Class 30".', number=2)
    result = amended(library, [first, second])
    assert "Class 30" in text(result, "1.03.B")
    cited = [c.where for c in clauses(result, "1.03.B")[0].amended]
    assert cited == ["Addendum 1, item 1", "Addendum 2, item 1"]
    backwards = amended(library, [second, first])
    assert "Class 60" in text(backwards, "1.03.B")
    assert '"Class 60" does not stand there' in backwards.notices[0]


def test_other_sections_and_drawings_are_left(library: Specification, tmp_path: Path) -> None:
    lines = (
        "Section 07 62 00 - Sheet Metal Flashing",
        "Delete paragraph 1.03.B.",
        "In Section 06 16 00, delete paragraph 2.01.A.",
        "Drawings",
        "Delete paragraph 1.03.C of the notes.",
        "Sheet A-131: Revise detail 3 as follows: see sketch.",
    )
    result = amended(library, [addendum(tmp_path, *lines)])
    assert result.notices == ("Addendum 1: 2 items are about other sections, and not read",)
    assert result.amendments == ()


def test_items_are_named_as_they_are_numbered(library: Specification, tmp_path: Path) -> None:
    lines = (
        "2. Section 07 41 13 - Metal Roof Panels",
        "A. Delete paragraph 1.03.D.",
        "B. Delete paragraph 1.03.E.",
    )
    result = amended(library, [addendum(tmp_path, *lines)])
    assert [made.change.item for made in result.amendments] == ["2.A", "2.B"]


def test_an_addendum_without_an_instruction_is_told(library: Specification, tmp_path: Path) -> None:
    result = amended(library, [addendum(tmp_path, "Bids are due on July 21, 2026.")])
    assert result.notices == ("Addendum 1 (addendum_1.docx): no instruction was found in it",)


def test_a_file_that_is_no_docx_is_an_error(library: Specification, tmp_path: Path) -> None:
    path = tmp_path / "addendum.docx"
    path.write_text("Delete paragraph 1.03.B.")
    with pytest.raises(InputError):
        amended(library, [path])


def test_the_specification_itself_is_not_touched(library: Specification, tmp_path: Path) -> None:
    before = library.sections[0].clauses
    amended(library, [addendum(tmp_path, "Delete paragraph 1.03.B.")])
    assert library.sections[0].clauses is before
