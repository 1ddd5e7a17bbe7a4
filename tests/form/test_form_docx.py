"""The blank DOCX form, and forms filled in: the same facts as a YAML file, mistakes told by label and row."""

from __future__ import annotations

import copy as copying
import shutil
import subprocess
from collections.abc import Mapping
from pathlib import Path

import pytest
import yaml
from lxml import etree

from cleatmark.facts import Fact
from cleatmark.fields import FieldBook
from cleatmark.forms import tags
from cleatmark.problems import render
from cleatmark.report.form_docx import form_bytes
from cleatmark.review.run import declared_fields
from cleatmark.submittal import Submittal, load_submittal
from cleatmark.units import Quantity

from .filling import Form, W, copy, tag_of, write

ROOT = Path(__file__).resolve().parents[2]
SAMPLES = sorted((ROOT / "samples" / "library" / "submittals").glob("*.yaml"))


@pytest.fixture(scope="module")
def book() -> FieldBook:
    return declared_fields()


@pytest.fixture(scope="module")
def blank(book: FieldBook) -> bytes:
    return form_bytes(book)


def plain(facts: Mapping[str, Fact]) -> dict[str, tuple[object, str]]:
    """Values and texts by path, without where they stand."""
    return {path: (fact.value, fact.text) for path, fact in facts.items()}


def stated(submittal: Submittal) -> object:
    """All that a submittal states, without where it stands."""
    return (
        plain(submittal.facts),
        plain(submittal.proposed),
        {path: plain(zones) for path, zones in submittal.by_zone.items()},
        [(departure.field, departure.text) for departure in submittal.departures],
        [
            (
                document.id,
                plain(document.facts),
                plain(document.specimen),
                [(run.id, plain(run.facts), plain(run.tested), run.own) for run in document.runs],
                [(condition.field, plain(condition.facts)) for condition in document.conditions],
                [claim.text for claim in document.claims],
            )
            for document in submittal.documents
        ],
    )


def filled(blank: bytes, source: Path) -> Form:
    """A form filled in with the values of a YAML file, papers beyond the form's blocks in copied ones."""
    form = Form(blank)
    values = yaml.load(source.read_text("utf-8"), Loader=yaml.BaseLoader)
    for _ in values["documents"][3:]:
        add_paper(form)
    copy(form, values)
    return form


def add_paper(form: Form) -> None:
    """Copies the last block of a document behind itself, as a person copies it on the screen."""
    body = form.root.find(f"{W}body")
    assert body is not None
    heads = [at for at, child in enumerate(body) if "".join(child.itertext()) == "Document"]
    block = [copying.deepcopy(child) for child in body[heads[-1] : -1]]
    for child in block:
        body.insert(len(body) - 1, child)


def test_the_same_declarations_give_the_same_bytes(book: FieldBook, blank: bytes) -> None:
    assert form_bytes(book) == blank


def test_every_field_has_a_control_of_its_kind(book: FieldBook, blank: bytes) -> None:
    form = Form(blank)
    missing = [tag for tag in tags(book) if not form.controls(tag)]
    assert [tag for tag in missing if not tag.startswith(("zoned.", "own."))] == []
    metal, day = form.controls("proposed.panel.material")[0], form.controls("document.date")[0]
    items = [item.get(f"{W}displayText") for item in metal.iter(f"{W}listItem")]
    assert tuple(items) == book.by_path["panel.material"].choices
    assert day.find(f"{W}sdtPr/{W}date") is not None
    assert form.controls("proposed.panel.width")[0].find(f"{W}sdtPr/{W}text") is not None
    assert form.controls("run.failure_mode")[0].find(f"{W}sdtPr/{W}comboBox") is not None
    assert len(form.controls("document.id")) == 3
    assert len(form.controls("zoned.clip.spacing")) == 3


def test_titles_of_controls_are_unique_and_short_enough(book: FieldBook) -> None:
    titles = tags(book)
    assert len(set(titles.values())) == len(titles)
    assert max(map(len, [*titles, *titles.values()])) <= 64


def test_control_numbers_are_unique(blank: bytes) -> None:
    numbers = [number.get(f"{W}val") for number in Form(blank).root.iter(f"{W}id")]
    assert len(numbers) == len(set(numbers))


def test_the_blank_form_states_nothing(blank: bytes, book: FieldBook, tmp_path: Path) -> None:
    submittal, problems = load_submittal(Form(blank).save(tmp_path / "blank.docx"), book)
    assert [problem.message for problem in problems] == ["the proposed assembly is not filled in"]
    assert submittal is not None
    assert not submittal.facts
    assert not submittal.proposed
    assert not submittal.documents


@pytest.mark.parametrize("source", SAMPLES, ids=lambda path: path.stem)
def test_a_filled_form_states_what_the_yaml_file_states(
    source: Path, blank: bytes, book: FieldBook, tmp_path: Path
) -> None:
    submittal, problems = load_submittal(filled(blank, source).save(tmp_path / "filled.docx"), book)
    expected, _ = load_submittal(source, book)
    assert [render(problem) for problem in problems] == []
    assert submittal is not None
    assert expected is not None
    assert stated(submittal) == stated(expected)


def test_a_fact_cites_its_row(blank: bytes, book: FieldBook, tmp_path: Path) -> None:
    form = Form(blank)
    form.fill("proposed.panel.width", "16 in")
    submittal, _ = load_submittal(form.save(tmp_path / "filled.docx"), book)
    assert submittal is not None
    (citation,) = submittal.proposed["proposed.panel.width"].citations
    row = row_of(form, "proposed.panel.width")
    assert citation.where == f"filled.docx:{row}"
    assert citation.quote == "Panel width (proposed): 16 in"


@pytest.mark.parametrize("text", ["two", "Two (2)", "2"])
def test_a_number_in_words_is_the_number(text: str, blank: bytes, book: FieldBook, tmp_path: Path) -> None:
    form = Form(blank)
    form.fill("proposed.panel.profile", "PC-175")
    form.fill("proposed.fastener.count", text)
    submittal, problems = load_submittal(form.save(tmp_path / "filled.docx"), book)
    assert not problems
    assert submittal is not None
    count = submittal.proposed["proposed.fastener.count"]
    assert isinstance(count.value, Quantity)
    assert (count.value.value, count.text) == (2, text)


def row_of(form: Form, tag: str, number: int = 0) -> int:
    """The number that prints at the row of a control."""
    control = form.controls(tag)[number]
    row = next(above for above in control.iterancestors() if above.tag == f"{W}tr")
    numbered = [tr for tr in form.root.iter(f"{W}tr") if is_numbered(tr)]
    return numbered.index(row) + 1


def is_numbered(row: etree._Element) -> bool:
    return any(style.get(f"{W}val") == "FormRow" for style in row.iter(f"{W}pStyle"))


MISTAKES = [
    (
        "proposed.panel.width",
        "16",
        'Panel width (proposed): "16" has no unit; expected a length with its unit (in, ft, mm, m), such as "16 in"',
        (),
    ),
    (
        "proposed.panel.material",
        "stel",
        'Panel metal (proposed): "stel" is not one of the choices; '
        "expected steel, aluminum, stainless steel, copper or zinc",
        ('did you mean "steel"?',),
    ),
    (
        "submittal.date",
        "10/02/2026",
        'Date of the submittal (submittal): "10/02/2026" is not a date as year-month-day; '
        'expected four, two and two digits, such as "2026-10-02"',
        ("write 2026-02-10 or 2026-10-02, whichever is meant",),
    ),
    (
        "proposed.clip.model",
        "n/a",
        'Clip (proposed): "n/a" is not a value; leave the field empty where nothing is known',
        (),
    ),
    (
        "proposed.fastener.count",
        "two per clip",
        'Fasteners per clip (proposed): "two per clip": "per clip" is not a unit of a number; '
        'expected a number, such as "2"',
        (),
    ),
    (
        "zoned.clip.spacing",
        "12",
        'Clip spacing (field): "12" has no unit; expected a length with its unit (in, ft, mm, m), such as "24 in"',
        (),
    ),
]


@pytest.mark.parametrize(("tag", "text", "message", "help"), MISTAKES, ids=[item[0] for item in MISTAKES])
def test_a_mistake_is_told_by_label_and_row(
    tag: str, text: str, message: str, help: tuple[str, ...], blank: bytes, book: FieldBook, tmp_path: Path
) -> None:
    form = Form(blank)
    form.fill("proposed.panel.profile", "PC-175")
    form.fill(tag, text)
    _, problems = load_submittal(form.save(tmp_path / "filled.docx"), book)
    (problem,) = problems
    assert (problem.message, problem.help) == (message, help)
    assert problem.place.line == row_of(form, tag)
    label = message.split(":")[0]
    assert problem.source == f"{label}: {text}"
    assert problem.source[problem.place.column - 1 :] == text


def test_mistakes_of_a_run_name_document_and_run(blank: bytes, book: FieldBook, tmp_path: Path) -> None:
    form = Form(blank)
    form.fill("proposed.panel.profile", "PC-175")
    form.fill("document.id", "T-118", 1)
    form.fill("document.kind", "tested report", 1)
    form.fill("run.held", "105", 4)
    form.fill("own.property", "Dekc", 2)
    form.fill("own.value", "OSB", 8)
    form.fill("condition.field", "Deck attachment", 6)
    _, problems = load_submittal(form.save(tmp_path / "filled.docx"), book)
    assert [problem.message.split(";")[0] for problem in problems] == [
        'Last pressure step held (document T-118, run 1): "105" has no unit',
        'Property: no property is called "Dekc"',
        "Condition (document T-118, condition 1): it is left empty",
    ]
    assert problems[1].help == ('did you mean "Deck"?',)


def test_a_mistake_beside_other_runs_of_the_row_names_its_own_run(
    blank: bytes, book: FieldBook, tmp_path: Path
) -> None:
    form = Form(blank)
    form.fill("proposed.panel.profile", "PC-175")
    form.fill("document.id", "T-118")
    form.fill("document.kind", "tested report")
    for number, held in enumerate(("105", "120 psf", "135", "150 psf")):
        form.fill("run.id", str(number + 1), number)
        form.fill("run.held", held, number)
    _, problems = load_submittal(form.save(tmp_path / "filled.docx"), book)
    assert [problem.message.split(";")[0] for problem in problems] == [
        'Last pressure step held (document T-118, run 1): "105" has no unit',
        'Last pressure step held (document T-118, run 3): "135" has no unit',
    ]


def test_a_property_chosen_by_title_stands_under_its_path(
    blank: bytes, book: FieldBook, tmp_path: Path
) -> None:
    form = Form(blank)
    form.fill("zoned.property", "Fasteners per clip")
    for number, count in enumerate(("2", "2", "3")):
        form.fill("zoned.value", count, number)
    form.fill("zone.name", "Zone 3", 2)
    form.fill("installed.property", "Deck")
    form.fill("installed.value", "OSB")
    form.fill("own.property", "Panel width")
    form.fill("own.value", "18 in", 1)
    form.fill("document.id", "T-1")
    form.fill("run.id", "7", 1)
    submittal, problems = load_submittal(form.save(tmp_path / "filled.docx"), book)
    assert [render(problem) for problem in problems] == []
    assert submittal is not None
    by_zone = submittal.by_zone["proposed.fastener.count"]
    assert {zone: fact.text for zone, fact in by_zone.items()} == {
        "field": "2",
        "perimeter": "2",
        "Zone 3": "3",
    }
    assert submittal.installed["installed.deck.type"].value == "OSB"
    (run,) = submittal.documents[0].runs
    assert (run.id, run.tested["tested.panel.width"].text) == ("7", "18 in")


@pytest.mark.parametrize(
    ("tag", "expected"),
    [
        ("zoned.clip.spacing", "Clip spacing is stated for the whole roof and by zone"),
        ("departure.field", "it is not said in words what departs"),
        ("document.laboratory", "it is left empty; name the paper"),
        ("zoned.value", "a value is given, and it is not chosen what the row is about"),
    ],
)
def test_what_does_not_fit_together_is_told(
    tag: str, expected: str, blank: bytes, book: FieldBook, tmp_path: Path
) -> None:
    form = Form(blank)
    form.fill("proposed.clip.spacing", "24 in")
    form.fill(tag, {"departure.field": "Panel width", "zoned.clip.spacing": "12 in"}.get(tag, "Dunmarrow"))
    _, problems = load_submittal(form.save(tmp_path / "filled.docx"), book)
    assert any(expected in problem.message for problem in problems), problems


def test_text_beside_a_field_in_its_cell_counts(blank: bytes, book: FieldBook, tmp_path: Path) -> None:
    form = Form(blank)
    form.fill("proposed.panel.width", "16")
    typed = etree.SubElement(form.controls("proposed.panel.width")[0].getparent(), f"{W}r")
    etree.SubElement(typed, f"{W}t").text = " in"
    hinted = etree.SubElement(form.controls("proposed.panel.length")[0].getparent(), f"{W}r")
    etree.SubElement(hinted, f"{W}t").text = "38 ft"
    submittal, problems = load_submittal(form.save(tmp_path / "filled.docx"), book)
    assert problems == ()
    assert submittal is not None
    assert submittal.proposed["proposed.panel.width"].text == "16 in"
    assert submittal.proposed["proposed.panel.length"].text == "38 ft"


def test_tracked_changes_are_read_as_accepted(blank: bytes, book: FieldBook, tmp_path: Path) -> None:
    form = Form(blank)
    control = form.controls("proposed.panel.width")[0]
    write(control, "")
    content = control.find(f"{W}sdtContent")
    assert content is not None
    for tag, inner, text in (("del", "delText", "18 in"), ("ins", "t", "16 in")):
        change = etree.SubElement(content, f"{W}{tag}")
        run = etree.SubElement(change, f"{W}r")
        etree.SubElement(run, f"{W}{inner}").text = text
    submittal, _ = load_submittal(form.save(tmp_path / "filled.docx"), book)
    assert submittal is not None
    assert submittal.proposed["proposed.panel.width"].text == "16 in"


def test_a_hint_of_the_word_processor_and_an_unknown_tag_are_passed_over(
    blank: bytes, book: FieldBook, tmp_path: Path
) -> None:
    form = Form(blank)
    form.fill("proposed.panel.profile", "PC-175")
    properties = form.controls("proposed.panel.width")[0].find(f"{W}sdtPr")
    write(form.controls("proposed.panel.width")[0], "Klicken oder tippen Sie hier, um Text einzugeben.")
    assert properties is not None
    etree.SubElement(properties, f"{W}showingPlcHdr")
    run = form.controls("proposed.panel.width")[0].find(f".//{W}sdtContent/{W}r")
    assert run is not None
    looks = etree.Element(f"{W}rPr")
    etree.SubElement(looks, f"{W}rStyle").set(f"{W}val", "PlaceholderText")
    run.insert(0, looks)
    form.fill("proposed.clip.model", "PC-2F")
    tag = form.controls("proposed.clip.model")[0].find(f"{W}sdtPr/{W}tag")
    assert tag is not None
    tag.set(f"{W}val", "proposed.clip.colour")
    submittal, problems = load_submittal(form.save(tmp_path / "filled.docx"), book)
    assert problems == ()
    assert submittal is not None
    assert set(submittal.proposed) == {"proposed.panel.profile"}


def test_a_docx_that_is_no_form_is_told(book: FieldBook) -> None:
    spec = ROOT / "samples" / "bus_garage" / "spec.docx"
    submittal, problems = load_submittal(spec, book)
    assert submittal is None
    assert [problem.message for problem in problems] == [
        "this DOCX is not a submittal form: it has none of its fields"
    ]


def test_a_file_that_is_no_docx_is_told(book: FieldBook, tmp_path: Path) -> None:
    path = tmp_path / "form.docx"
    path.write_text("id: 07 41 13-01")
    submittal, problems = load_submittal(path, book)
    assert submittal is None
    assert len(problems) == 1


def test_a_form_saved_by_libreoffice_states_the_same(blank: bytes, book: FieldBook, tmp_path: Path) -> None:
    """LibreOffice 7.4 drops the tags of all controls, and the titles of lists and days too."""
    office = shutil.which("soffice")
    if office is None:
        pytest.skip("LibreOffice is not installed: a form that it saved cannot be read")
    source = SAMPLES[1]
    path = filled(blank, source).save(tmp_path / "filled.docx")
    saved = tmp_path / "saved"
    profile = f"-env:UserInstallation={(tmp_path / 'profile').as_uri()}"
    order = [office, profile, "--headless", "--convert-to", "docx", "--outdir", str(saved), str(path)]
    subprocess.run(order, check=True, capture_output=True, timeout=240)
    submittal, problems = load_submittal(saved / "filled.docx", book)
    expected, _ = load_submittal(source, book)
    assert [render(problem) for problem in problems] == []
    assert submittal is not None
    assert expected is not None
    assert stated(submittal) == stated(expected)


def test_fields_by_tag_are_those_that_stand_there(blank: bytes) -> None:
    form = Form(blank)
    scopes = {tag_of(control).split(".")[0] for control in form.root.iter(f"{W}sdt")}
    assert scopes == {
        "submittal", "proposed", "zone", "zoned", "departure", "installed",
        "document", "specimen", "run", "own", "condition",
    }  # fmt: skip
