"""What a clause shows of its document's state, and values that cannot all stand."""

from __future__ import annotations

from reading_build import clause, found, read, told

from cleatmark.spec.clauses import Section, Span, Specification


def flagged(*texts: str, article: str = "performance") -> set[tuple[str, str]]:
    """(clause, flag) of what is flagged in paragraphs of one article."""
    clauses = [clause(text, article, ordinal=index) for index, text in enumerate(texts)]
    return {(item.clause, item.flag) for item in read(*clauses).flagged}


def in_order(*texts: str, article: str = "panels") -> list[str]:
    """What paragraphs of one article state."""
    return [told(item) for item in read(*(clause(t, article, ordinal=i) for i, t in enumerate(texts))).stated]


def test_hidden_text_gives_nothing_but_a_flag() -> None:
    hidden = clause("UL 580 Class 60 serves at canopies.", hidden=True)
    extraction = read(hidden)
    assert extraction.stated == ()
    assert [(item.flag, item.clause) for item in extraction.flagged] == [("specifier note", "A")]


def test_a_tracked_insertion_is_read_and_marked_where_it_stands() -> None:
    text = "Provide UL 580, Class 90. Wind speed is 120 mph."
    start = text.index("90")
    changed = clause(
        text, flags=("tracked change",), deleted="60", spans=(Span(start, start + 2, "inserted"),)
    )
    extraction = read(changed)
    assert [told(item) for item in extraction.stated] == [
        "uplift.test required UL 580 !tracked change",
        "uplift.class at least 90 !tracked change",
        "wind.speed equal 120 mph",
    ]
    assert [(item.flag, item.detail) for item in extraction.flagged] == [
        ("tracked change", 'deleted: "60"; inserted: "90"')
    ]


def test_struck_text_gives_nothing() -> None:
    text = "Panels: 26 gauge 24 gauge."
    struck = clause(text, "panels", spans=(Span(8, 16, "struck"),))
    assert [told(item) for item in read(struck).stated] == ["panel.thickness equal 24 ga"]
    assert read(clause("Panels: 26 gauge.", "panels", flags=("struck",))).stated == ()


def test_choices_and_blanks_are_flagged_with_their_options() -> None:
    extraction = read(clause("Uplift: UL Class [60] [90]; corners ____ psf wind uplift."))
    assert {(item.flag, item.detail) for item in extraction.flagged} == {
        ("unedited choice", "choose one: 60 / 90"),
        ("blank", "a value is left blank"),
    }
    assert all(not item.values for item in extraction.stated)


def test_two_values_in_one_place_are_a_conflict_that_names_both_clauses() -> None:
    extraction = read(
        clause("Panels: 24 gauge.", "panels"), clause("Panels: 22 gauge.", "installation", ordinal=1)
    )
    assert [told(item) for item in extraction.stated] == [
        "panel.thickness equal 24 ga !conflict",
        "panel.thickness equal 22 ga !conflict",
    ]
    details = {item.clause: item.detail for item in extraction.flagged}
    assert "B says 22 gauge" in details["A"]
    assert "A says 24 gauge" in details["B"]


def test_the_same_value_in_two_clauses_is_agreement() -> None:
    assert in_order("Panels: 24 gauge.", "Panel thickness: 24 ga.") == ["panel.thickness equal 24 ga"] * 2


def test_what_keeps_two_values_apart() -> None:
    apart = (
        ("Clip spacing: 24 inches in the field.", "Clip spacing: 12 inches at corners."),
        ("Panels: 24 gauge.", "Alternate No. 1: Panels: 22 gauge."),
        ("Roof Type A: Panels 16 inches wide.", "Roof Type B: Panels 12 inches wide."),
        ("Building A: Panels 24 gauge.", "Building B: Panels 22 gauge."),
    )
    for texts in apart:
        assert not any("!conflict" in one for one in in_order(*texts)), texts


def test_bounds_that_hold_together_are_no_conflict() -> None:
    assert in_order("Panel width: 16 inches.", "Panel width: 18 inches maximum.") == [
        "panel.width equal 16 in",
        "panel.width at most 18 in",
    ]
    assert "panel.width equal 20 in !conflict" in in_order(
        "Panel width: 20 inches.", "Panel width: 18 inches maximum."
    )


def test_a_conflict_is_told_also_where_the_more_stringent_governs() -> None:
    told_ = in_order("Panels: 24 gauge.", "Panels: 22 gauge.", "The more stringent requirement shall govern.")
    assert sum("!conflict" in one for one in told_) == 2
    assert "precedence required more stringent governs" in told_


def test_sheets_of_two_metals_have_each_their_thickness() -> None:
    told_ = in_order("Steel roof panels: 24 gauge.", "Aluminum roof panels: 0.040 inch.")
    assert not any(one.startswith("panel.thickness") and "!conflict" in one for one in told_)


def test_two_units_that_differ_are_told() -> None:
    extraction = read(clause("Wind uplift of 45 psf (3.1 kPa)."))
    assert [item.flags for item in extraction.stated] == [("conflict",)]
    assert ("A", "conflict") in {(item.clause, item.flag) for item in extraction.flagged}
    assert found("Wind uplift of 2.87 kPa (60 psf).") == {"uplift.pressure equal -60 psf"}


def test_a_standard_only_listed_is_reference_only() -> None:
    listed = clause("ASTM E1592; UL 580; ASTM E1646.", "references")
    used = clause("Uplift tested to UL 580.", ordinal=1)
    extraction = read(listed, used)
    assert [told(item) for item in extraction.stated] == [
        "uplift.test required ASTM E1592 !reference only",
        "water.test required ASTM E1646 !reference only",
        "uplift.test required UL 580",
    ]
    assert [item.detail.split()[1] for item in extraction.flagged] == ["E1592", "E1646"]


def test_obsolete_and_misplaced_standards_say_what_to_ask() -> None:
    assert ("A", "obsolete standard") in flagged(
        "Steel to ASTM A446, coating to ASTM A525.", article="panels"
    )
    assert ("A", "obsolete standard") in flagged(
        "Wind loads by the Uniform Building Code, Occupancy Category II."
    )
    asked = read(clause("Uplift tested to ASTM E330.")).flagged
    assert [(item.flag, item.ask) for item in asked] == [("misuse", "designer")]
    assert "ASTM E330" in asked[0].detail


def test_a_class_taken_for_a_speed_or_a_pressure() -> None:
    for text in ("Provide UL 90 mph rated roof.", "UL 580 uplift pressure of 90 psf."):
        assert "uplift.class at least 90 !misuse" in found(text), text
        assert not any(one.startswith(("wind.speed", "uplift.pressure")) for one in found(text)), text


def test_only_roof_sections_are_read() -> None:
    from reading_build import shipped_readings

    from cleatmark.spec.apply import apply_readings

    readings, book = shipped_readings()
    walls = Section("07 42 13", "METAL WALL PANELS", (clause("Panels: 24 gauge.", "panels"),), False)
    assert apply_readings(Specification("x.docx", (walls,)), readings, book).stated == ()


def test_citation_says_section_and_paragraph_and_quotes_the_sentence() -> None:
    (item,) = read(clause("General: None. Panel width: 16 inches.", "panels", ordinal=2)).stated
    assert item.citation.where == "07 41 13, C"
    assert item.quote == item.citation.quote == "Panel width: 16 inches."


def test_what_is_left_to_the_drawings_is_flagged_once() -> None:
    left = read(clause("Panel layout: as shown on Sheet A-201.", "panels"))
    assert [item.flag for item in left.flagged] == ["defers to drawings"]
    stated = read(clause("Wind uplift loads: as indicated on Drawings."))
    assert stated.stated[0].flags == ("defers to drawings",)
    assert not [item for item in stated.flagged if item.flag == "defers to drawings"]
