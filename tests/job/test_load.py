"""What a job file states, and where each fact cites it from."""

from datetime import date
from fractions import Fraction
from pathlib import Path

from cleatmark.facts import NONE, Citation
from cleatmark.job import Job, load_job

from .book import book


def job_of(text: str) -> Job:
    job, problems = load_job("job.yaml", book(), text=text)
    assert [str(problem) for problem in problems] == []
    assert job is not None
    return job


def test_values_are_read_by_their_declared_kind_and_cite_their_line() -> None:
    job = job_of("name: Hall (invented)\npermit_date: 2026-09-15\ninsurer: none\nwind:\n  speed: 120 mph\n")
    assert job.name == "Hall (invented)"
    assert job.facts["job.permit_date"].value == date(2026, 9, 15)
    assert job.facts["job.insurer"].value == NONE
    speed = job.facts["job.wind.speed"]
    assert (speed.value.kind, speed.value.value, speed.text) == ("speed", 120, "120 mph")
    assert speed.citations == (Citation("job", "job.yaml:5", "speed: 120 mph"),)


def test_yaml_types_do_not_touch_values() -> None:
    """YAML 1.1 would read 3:12 as 192, and the city of No as false."""
    job = job_of("roof: {slope: 3:12}\nplace: {city: No}\nname: 0123\n")
    assert job.facts["job.roof.slope"].value.value == Fraction(1, 4)
    assert job.facts["job.place.city"].value == "No"
    assert job.facts["job.name"].value == "0123"


def test_dotted_keys_say_the_same_as_nested_ones() -> None:
    assert job_of("wind.speed: 120 mph\n").facts.keys() == job_of("wind: {speed: 120 mph}\n").facts.keys()


def test_a_missing_fact_is_absent() -> None:
    job = job_of("name: Hall (invented)\n")
    assert list(job.facts) == ["job.name"]
    assert job.roofs == ()


def test_one_roof_is_part_of_the_job() -> None:
    job = job_of("roof: {slope: 3:12}\n")
    assert [roof.name for roof in job.roofs] == ["roof"]
    assert job.facts["job.roof.slope"] == job.roofs[0].facts["job.roof.slope"]


def test_several_roofs_keep_their_own_facts() -> None:
    job = job_of("name: Hall (invented)\nroofs:\n  main roof: {slope: 3:12}\n  canopy: {slope: 1/4:12}\n")
    assert "job.roof.slope" not in job.facts
    assert job.for_roof("canopy")["job.roof.slope"].value.value == Fraction(1, 48)
    assert job.for_roof("canopy")["job.roof.slope"].citations[0].where == "job.yaml:4"
    assert job.for_roof("canopy")["job.name"].text == "Hall (invented)"


def test_basis_of_a_field_is_its_second_source() -> None:
    job = job_of("wind: {speed: 120 mph, exposure: C}\nbasis: {wind.exposure: 'Structural notes, S-001'}\n")
    assert [cite.where for cite in job.facts["job.wind.exposure"].citations] == [
        "job.yaml:1",
        "Structural notes, S-001",
    ]
    assert len(job.facts["job.wind.speed"].citations) == 1


def test_basis_as_one_text_stands_for_wind_and_roof_only() -> None:
    job = job_of("name: Hall (invented)\nwind: {speed: 120 mph}\nroof: {slope: 3:12}\nbasis: Sheet S-001\n")
    sources = {path: [cite.where for cite in fact.citations] for path, fact in job.facts.items()}
    assert sources == {
        "job.name": ["job.yaml:1"],
        "job.wind.speed": ["job.yaml:2", "Sheet S-001"],
        "job.roof.slope": ["job.yaml:3", "Sheet S-001"],
    }


PRESSURES = """\
pressures:
  - source: Sheet S-001, note 4, sealed by an engineer (invented)
    dated: 2026-08-01
    level: strength
    area: 10 sq ft
    zones: {field: -52 psf, corner: 125 psf}
    inward: {field: +16 psf}
"""


def test_stated_pressures_are_magnitudes_at_their_level() -> None:
    (stated,) = job_of(PRESSURES).pressures
    assert (stated.level, stated.dated, stated.roof) == ("strength", "2026-08-01", "")
    assert stated.area is not None
    assert stated.area.value == 10
    field, corner = stated.uplift["field"], stated.uplift["corner"]
    assert (field.path, field.text, field.value.value, field.value.level) == (
        "zone.required",
        "-52 psf",
        52,
        "strength",
    )
    assert corner.value.value == 125
    assert stated.inward["field"].value.value == 16
    assert [cite.where for cite in field.citations] == [
        "job.yaml:6",
        "Sheet S-001, note 4, sealed by an engineer (invented)",
    ]


def test_a_level_that_is_not_stated_stays_open() -> None:
    text = "pressures: [{source: Sheet S-001, zones: {field: 31.2 psf, corner: 40 psf ASD}}]\n"
    (stated,) = job_of(text).pressures
    assert (stated.level, stated.uplift["field"].value.level) == ("", "")
    assert stated.uplift["corner"].value.level == "allowable"


def test_contract_documents_are_read_by_the_field_they_state() -> None:
    job = job_of(
        "contract_documents:\n"
        "  - {field: deck.attachment, value: none, where: 'Sheet S-201, note 3'}\n"
        "  - {field: clip.spacing, value: 12 in, where: 'Sheet A-1', zone: corner}\n"
    )
    deck, clip = job.contract
    assert (deck.field, deck.fact.path, deck.fact.value) == (
        "deck.attachment",
        "contract.deck.attachment",
        NONE,
    )
    assert [cite.where for cite in deck.fact.citations] == ["Sheet S-201, note 3", "job.yaml:2"]
    assert (clip.zone, clip.fact.value.value) == ("corner", 12)


def test_files_are_seen_from_the_folder_of_the_job(tmp_path: Path) -> None:
    (tmp_path / "spec.docx").write_bytes(b"")
    (tmp_path / "owner.rules").write_text("")
    (tmp_path / "job.yaml").write_text("specification: spec.docx\nrules: [base, owner.rules]\n")
    job, problems = load_job(tmp_path / "job.yaml", book())
    assert problems == ()
    assert job is not None
    assert job.specification is not None
    assert job.specification.path == tmp_path / "spec.docx"
    assert [(rule.text, rule.path) for rule in job.rules] == [
        ("base", None),
        ("owner.rules", tmp_path / "owner.rules"),
    ]


def test_a_missing_specification_gets_the_near_name(tmp_path: Path) -> None:
    (tmp_path / "section_07_41_13.docx").write_bytes(b"")
    (tmp_path / "job.yaml").write_text("specification: section_07_4113.docx\n")
    _, problems = load_job(tmp_path / "job.yaml", book())
    assert [problem.help for problem in problems] == [('did you mean "section_07_41_13.docx"?',)]


def test_what_can_be_read_is_read_beside_mistakes() -> None:
    job, problems = load_job("job.yaml", book(), text="name: Hall (invented)\nwind: {speed: fast}\n")
    assert len(problems) == 1
    assert job is not None
    assert list(job.facts) == ["job.name"]
