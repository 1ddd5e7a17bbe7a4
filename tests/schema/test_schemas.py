"""JSON Schemas of job and submittal files: every declared field stands in them, and what people write fits."""

from __future__ import annotations

import argparse
import json
from pathlib import Path
from typing import Any

import pytest
import yaml

from cleatmark.commands.editor import run, schemas
from cleatmark.fields import FieldBook
from cleatmark.language.program import fields_of
from cleatmark.language.rulebooks import load

from .validator import errors

SAMPLES = Path(__file__).parents[2] / "samples"


class Texts(yaml.SafeLoader):
    """YAML whose scalars stay texts, as this program reads them."""


Texts.yaml_implicit_resolvers = {}


@pytest.fixture(scope="module")
def book() -> FieldBook:
    return fields_of(load(["base"], Path()).files)


@pytest.fixture(scope="module")
def both(book: FieldBook) -> dict[str, dict[str, Any]]:
    return schemas(book)


def test_every_declared_field_is_there(book: FieldBook, both: dict[str, dict[str, Any]]) -> None:
    job = {field.path for field in book if field.block == "job"}
    submittal = {
        field.path
        for field in book
        if field.block in ("submittal", "document", "run", "condition", "assembly")
    }
    assert set(both["job"]["definitions"]) == job
    assert set(both["submittal"]["definitions"]) == submittal


@pytest.mark.parametrize("path", sorted(SAMPLES.glob("*/job.yaml")), ids=lambda path: path.parent.name)
def test_sample_jobs_fit(path: Path, both: dict[str, dict[str, Any]]) -> None:
    assert errors(both["job"], yaml.load(path.read_text(encoding="utf-8"), Texts)) == []


@pytest.mark.parametrize(
    "path", sorted(SAMPLES.glob("*/submittals/*.yaml")), ids=lambda path: f"{path.parts[-3]}-{path.stem}"
)
def test_sample_submittals_fit(path: Path, both: dict[str, dict[str, Any]]) -> None:
    assert errors(both["submittal"], yaml.load(path.read_text(encoding="utf-8"), Texts)) == []


def test_numbers_and_answers_as_an_editor_reads_them_fit(both: dict[str, dict[str, Any]]) -> None:
    data = yaml.safe_load(
        "id: 12\ncontractor_stamp: yes\nproposed: {fastener: {count: 2}, panel.width: 16 in}\n"
    )
    assert errors(both["submittal"], data) == []


@pytest.mark.parametrize(
    ("text", "told"),
    [
        ("proposed: {panel: {widht: 16 in}}", "/proposed/panel/widht: no such key"),
        ("proposed: {panel: {width: 16}}", "where ['string'] is wanted"),
        ("proposed: {panel: {width: wide}}", "fits none"),
        ("proposed: {deck: {type: plywod}}", "/proposed/deck/type: fits none"),
        ("proposed: {panel.widht: 16 in}", "/proposed/panel.widht: no such key"),
        ("id: a", ": proposed is missing"),
        ("proposed: {}\ndate: 10/02/2026", "/date: '10/02/2026' does not match"),
        ("proposed: {}\ndocuments: [{kind: tested report}]", "/documents/0: id is missing"),
        ("proposed: {}\ndocuments: [{id: a, runs: [{class: '95'}]}]", "/documents/0/runs/0/class"),
        (
            "proposed: {}\ndocuments: [{id: a, runs: [{specimen: {deck: {type: turf}}}]}]",
            "'turf' is not among",
        ),
    ],
)
def test_mistakes_do_not_fit(text: str, told: str, both: dict[str, dict[str, Any]]) -> None:
    found = errors(both["submittal"], yaml.safe_load(text))
    assert found
    assert told in "\n".join(found) or "fits none" in "\n".join(found)


def test_a_value_by_roof_zone_fits_where_it_may_stand(both: dict[str, dict[str, Any]]) -> None:
    by_zone = {"clip": {"spacing": {"corner": "12 in", "field": "24 in"}}}
    assert errors(both["submittal"], {"proposed": by_zone}) == []
    assert errors(both["submittal"], {"proposed": {}, "documents": [{"id": "a", "specimen": by_zone}]}) != []


def test_examples_fit_their_own_schemas(both: dict[str, dict[str, Any]]) -> None:
    for schema in both.values():
        for path, one in schema["definitions"].items():
            assert one["description"], path
            for example in one.get("examples", []):
                assert errors(one, example, schema) == [], path


def test_the_command_writes_them(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(argparse.Namespace(folder=tmp_path / "editor", rules=[])) == 0
    written = sorted(path.name for path in (tmp_path / "editor").iterdir())
    assert written == ["cleatmark-rules.tmLanguage.json", "job.schema.json", "submittal.schema.json"]
    assert len(capsys.readouterr().out.splitlines()) == 3
    job = json.loads((tmp_path / "editor" / "job.schema.json").read_text(encoding="utf-8"))
    assert job["properties"]["wind"]["properties"]["exposure"] == {"$ref": "#/definitions/job.wind.exposure"}
    assert job["definitions"]["job.wind.exposure"]["enum"] == ["B", "C", "D"]


def test_a_field_of_an_own_rulebook_is_there_without_any_program(tmp_path: Path) -> None:
    (tmp_path / "county.rules").write_text(
        'rulebook county "County"\n  builds on fields\n\n'
        'field deck.moisture "Deck moisture" choice: "dry", "wet"\n  example "dry"\n',
        encoding="utf-8",
    )
    own = fields_of(load([str(tmp_path / "county.rules")], tmp_path).files)
    submittal = schemas(own)["submittal"]
    assert errors(submittal, {"proposed": {"deck": {"moisture": "dry"}}}) == []
    assert errors(submittal, {"proposed": {"deck": {"moisture": "damp"}}}) != []
