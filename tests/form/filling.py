"""Fills a blank form as a person does with a word processor: the hint goes, the text stands in its place."""

from __future__ import annotations

import zipfile
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path

from lxml import etree

W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
DOCUMENT = "word/document.xml"


class Form:
    """A form being filled in."""

    def __init__(self, data: bytes) -> None:
        with zipfile.ZipFile(BytesIO(data)) as package:
            self.parts = {name: package.read(name) for name in package.namelist()}
        self.root = etree.fromstring(self.parts[DOCUMENT])

    def controls(self, tag: str) -> list[etree._Element]:
        """The controls with a tag, in the order of the document."""
        return [control for control in self.root.iter(f"{W}sdt") if tag_of(control) == tag]

    def fill(self, tag: str, text: str, number: int = 0) -> None:
        """Write into the control of that tag; `number` where the form has several."""
        write(self.controls(tag)[number], text)

    def save(self, path: Path) -> Path:
        """The filled form as a file."""
        self.parts[DOCUMENT] = etree.tostring(
            self.root, xml_declaration=True, encoding="UTF-8", standalone=True
        )
        with zipfile.ZipFile(path, "w") as package:
            for name, data in self.parts.items():
                package.writestr(name, data)
        return path


def tag_of(control: etree._Element) -> str:
    tag = control.find(f"{W}sdtPr/{W}tag")
    return "" if tag is None else tag.get(f"{W}val", "")


def write(control: etree._Element, text: str) -> None:
    """Replace what a control shows by a text."""
    properties, content = control.find(f"{W}sdtPr"), control.find(f"{W}sdtContent")
    assert properties is not None
    assert content is not None
    for flag in properties.findall(f"{W}showingPlcHdr"):
        properties.remove(flag)
    for child in list(content):
        content.remove(child)
    run = etree.SubElement(content, f"{W}r")
    etree.SubElement(run, f"{W}t").text = text


def leaves(node: object, path: str = "") -> Iterator[tuple[str, str]]:
    """The values of nested keys by dotted path, as a person would copy them."""
    assert isinstance(node, dict)
    for key, value in node.items():
        here = f"{path}.{key}" if path else key
        if isinstance(value, dict):
            yield from leaves(value, here)
        else:
            yield here, value


ZONES = ("field", "perimeter", "corner")
RUNS = 4
CONDITIONS = 6


def copy(form: Form, submittal: dict[str, object]) -> None:
    """Copies a submittal's values into the form, field by field."""
    for key, value in submittal.items():
        if isinstance(value, str):
            form.fill(f"submittal.{key}", value)
    for path, value in leaves(submittal["proposed"]):
        above, _, last = path.rpartition(".")
        if last in ZONES:
            form.fill(f"zoned.{above}", value, ZONES.index(last))
        else:
            form.fill(f"proposed.{path}", value)
    departures = submittal.get("departures") or []
    assert isinstance(departures, list)
    titles = titles_in(form)
    for number, departure in enumerate(departures):
        form.fill("departure.text", departure["text"], number)
        if "field" in departure:
            form.fill("departure.field", titles[departure["field"]], number)
    documents = submittal.get("documents") or []
    assert isinstance(documents, list)
    for number, document in enumerate(documents):
        paper(form, document, number, titles)


def titles_in(form: Form) -> dict[str, str]:
    """Titles of the assembly's fields by path, as the form prints them."""
    found = {}
    for control in form.root.iter(f"{W}sdt"):
        alias = control.find(f"{W}sdtPr/{W}alias")
        if tag_of(control).startswith("proposed.") and alias is not None:
            found[tag_of(control).removeprefix("proposed.")] = alias.get(f"{W}val", "").removesuffix(
                " (proposed)"
            )
    return found


def paper(form: Form, document: dict[str, object], number: int, titles: dict[str, str]) -> None:
    """Copies one document into the block of that number, from 0."""
    for key, value in document.items():
        if isinstance(value, str):
            form.fill(f"document.{key}", value, number)
    claims = document.get("claims")
    if isinstance(claims, list):
        form.fill("document.claims", "; ".join(claims), number)
    for path, value in leaves(document.get("specimen") or {}):
        form.fill(f"specimen.{path}", value, number)
    runs = document.get("runs") or []
    assert isinstance(runs, list)
    for at, run in enumerate(runs):
        column = number * RUNS + at
        for path, value in leaves({key: value for key, value in run.items() if key != "specimen"}):
            form.fill(f"run.{path}", value, column)
        for path, value in leaves(run.get("specimen") or {}):
            form.fill(f"own.{path}", value, column)
    conditions = document.get("conditions") or []
    assert isinstance(conditions, list)
    for at, condition in enumerate(conditions):
        column = number * CONDITIONS + at
        for key, value in condition.items():
            form.fill(f"condition.{key}", titles.get(value, value) if key == "field" else value, column)
