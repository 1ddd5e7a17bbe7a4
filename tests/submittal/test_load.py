"""What a submittal file states: zones, documents, runs over their document, and where facts cite from."""

from datetime import date
from fractions import Fraction

from cleatmark.facts import NONE, Citation
from cleatmark.submittal import Submittal, load_submittal

from .book import book


def submittal_of(text: str) -> Submittal:
    submittal, problems = load_submittal("a.yaml", book(), text=text)
    assert [str(problem) for problem in problems] == []
    assert submittal is not None
    return submittal


PROPOSED = """\
id: 07 41 13-01
date: 2026-10-02
contractor_stamp: yes
proposed:
  panel:
    material: Steel
    thickness: 24 ga, nominal
    width: 16 in
    seam_sealant: none
    end_laps: no
  clip:
    spacing: {field: 24 in, perimeter: 18 in, corner: 12 in}
  fastener: {size: "#10"}
  insulation: {type: none}
"""


def test_values_are_read_by_their_declared_kind() -> None:
    submittal = submittal_of(PROPOSED)
    values = {path: fact.value for path, fact in submittal.proposed.items()}
    assert submittal.id == "07 41 13-01"
    assert submittal.facts["submittal.date"].value == date(2026, 10, 2)
    assert submittal.facts["submittal.contractor_stamp"].value is True
    assert values["proposed.panel.material"] == "steel"
    assert values["proposed.panel.end_laps"] is False
    assert values["proposed.panel.thickness"].kind == "gauge"
    assert values["proposed.panel.thickness"].basis == "nominal"
    assert values["proposed.fastener.size"].value == Fraction("0.190")


def test_none_is_a_value_where_it_may_be_stated_and_a_choice_where_it_is_one() -> None:
    proposed = submittal_of(PROPOSED).proposed
    assert proposed["proposed.insulation.type"].value == NONE
    assert proposed["proposed.panel.seam_sealant"].value == "none"


def test_a_proposed_fact_cites_its_line() -> None:
    width = submittal_of(PROPOSED).proposed["proposed.panel.width"]
    assert width.citations == (Citation("submittal", "a.yaml:8", "width: 16 in"),)


def test_zone_variants_are_kept_apart() -> None:
    submittal = submittal_of(PROPOSED)
    assert submittal.zones == ("field", "perimeter", "corner")
    assert "proposed.clip.spacing" not in submittal.proposed
    assert submittal.in_zone("corner")["proposed.clip.spacing"].value.value == 12
    assert submittal.in_zone("corner")["proposed.panel.width"].value.value == 16
    assert "proposed.clip.spacing" not in submittal.in_zone("ridge")


DOCUMENTS = """\
proposed: {}
documents:
  - id: T-118
    kind: tested report
    laboratory: Stillwater Testing (invented)
    pages: 14
    specimen:
      panel: {material: copper, thickness: 20 oz}
      clip: {spacing: 24 in}
      deck: {thickness: 19/32 in}
    runs:
      - {page: "6", held: -105 psf, class: 90}
      - id: B
        failure_mode: panel tore at a clip
        specimen:
          clip: {spacing: 12 in}
          panel: {thickness: 16 oz}
    claims: [good to 150 mph, meets code]
  - id: L-9
    kind: blanket listing
    conditions:
      - {text: Two screws a clip, field: fastener.count, value: two, state: not confirmed}
      - text: Follow the drawings
"""


def test_a_run_overrides_what_the_document_says_of_all() -> None:
    first, second = submittal_of(DOCUMENTS).documents[0].runs
    assert (first.id, second.id) == ("1", "B")
    assert first.own == frozenset()
    assert second.own == {"tested.clip.spacing", "tested.panel.thickness"}
    assert first.tested["tested.clip.spacing"].value.value == 24
    assert second.tested["tested.clip.spacing"].value.value == 12
    assert second.tested["tested.panel.material"].value == "copper"
    assert second.tested["tested.panel.thickness"].value.value == Fraction("0.0216")


def test_the_fact_of_a_run_cites_document_page_and_run_then_the_line() -> None:
    first, second = submittal_of(DOCUMENTS).documents[0].runs
    assert first.facts["run.held"].citations == (
        Citation("evidence", "tested report T-118, page 6, run 1", "-105 psf"),
        Citation("submittal", "a.yaml:12", '- {page: "6", held: -105 psf, class: 90}'),
    )
    assert first.tested["tested.clip.spacing"].citations == (
        Citation("evidence", "tested report T-118, specimen", "24 in"),
        Citation("submittal", "a.yaml:9", "clip: {spacing: 24 in}"),
    )
    assert second.tested["tested.clip.spacing"].citations[0].where == "tested report T-118, run B"


def test_pressures_are_magnitudes_with_the_text_as_written() -> None:
    held = submittal_of(DOCUMENTS).documents[0].runs[0].facts["run.held"]
    assert (held.value.value, held.text) == (105, "-105 psf")


def test_an_open_choice_takes_other_words() -> None:
    run = submittal_of(DOCUMENTS).documents[0].runs[1]
    assert run.facts["run.failure_mode"].value == "panel tore at a clip"


def test_claims_are_facts_of_their_own() -> None:
    claims = submittal_of(DOCUMENTS).documents[0].claims
    assert [(claim.value, claim.citations[1].where) for claim in claims] == [
        ("good to 150 mph", "a.yaml:18"),
        ("meets code", "a.yaml:18"),
    ]


def test_a_condition_is_read_by_the_field_it_is_about() -> None:
    about, open_one = submittal_of(DOCUMENTS).documents[1].conditions
    assert about.field == "fastener.count"
    assert about.facts["condition.value"].value.value == 2
    assert about.facts["condition.value"].text == "two"
    assert about.facts["condition.text"].citations[0].where == "blanket listing L-9, condition 1"
    assert (open_one.field, "condition.value" in open_one.facts) == ("", False)


def test_departures_and_changes_in_the_field() -> None:
    submittal = submittal_of(
        "proposed: {panel: {width: 16 in}}\n"
        "installed: {panel: {width: 18 in}}\n"
        "departures:\n  - {field: panel.width, text: wider panels}\n  - text: another clip\n"
    )
    assert submittal.installed["installed.panel.width"].value.value == 18
    assert [(item.field, item.text, item.citation.where) for item in submittal.departures] == [
        ("panel.width", "wider panels", "a.yaml:4"),
        ("", "another clip", "a.yaml:5"),
    ]


def test_the_file_names_a_submittal_without_an_id() -> None:
    assert submittal_of("proposed: {}\n").id == "a"


def test_deck_thickness_is_not_the_panels_metal() -> None:
    submittal = submittal_of("proposed: {panel: {material: copper}, deck: {thickness: 19/32 in}}\n")
    assert submittal.proposed["proposed.deck.thickness"].value.value == Fraction(19, 32)
