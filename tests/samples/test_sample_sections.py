"""All sample sections: the builder still writes the committed file, and the reader sees what prints."""

from __future__ import annotations

import re
import zipfile

import pytest
from section_checks import addresses

from cleatmark.spec.document import read_docx

NAMES = ("library", "bus_garage", "coastal_school")

CITED = re.compile(r"(?<![\w.])[123]\.\d{1,2}(?:\.\d){0,2}(?:\.[A-Z])?(?:\.\d+)?(?:\.[a-z])?(?![\w.]*\d)")
"""An address in a table of a README: the first column, before the words of what is asked."""

FEDERAL = (r"PART (\d)", r"(\d\.\d+)", r"\d\.\d+\.(\d+)", r"\d\.\d+\.\d+\.(\d+)", r"([a-z])\.")
TYPED = (r"PART (\d) -", r"(\d\.\d+)", r"([A-Z])\.", r"(\d+)\.", r"([a-z])\.")
RANKS = {"bus_garage": FEDERAL, "coastal_school": TYPED}


@pytest.fixture
def printed_addresses(printed):
    """Texts by the address that prints."""

    def find(name: str) -> dict[str, str]:
        return addresses(printed(name), RANKS[name]) if name in RANKS else addresses(printed(name))

    return find


@pytest.mark.parametrize("name", NAMES)
def test_the_builder_writes_the_committed_file(folder, rebuilt, name):
    again = rebuilt(name)
    with zipfile.ZipFile(folder(name) / "spec.docx") as kept, zipfile.ZipFile(again) as new:
        assert [(e.filename, e.date_time) for e in kept.infolist()] == [
            (e.filename, e.date_time) for e in new.infolist()
        ]
        for part in kept.namelist():
            assert kept.read(part) == new.read(part), f"{part} differs: run the builder, commit spec.docx"


@pytest.mark.parametrize("name", NAMES)
def test_two_builds_give_the_same_bytes(rebuilt, name):
    first = rebuilt(name).read_bytes()
    assert rebuilt(name).read_bytes() == first


@pytest.mark.parametrize("name", NAMES)
def test_every_clause_that_the_readme_names_prints(folder, printed_addresses, name):
    found = printed_addresses(name)
    readme = (folder(name) / "README.md").read_text("utf-8")
    asked = readme.split("| where | asked |")[1].split("\n\n")[0]
    named = [address for row in asked.splitlines()[2:] for address in CITED.findall(row.split("|")[1])]
    assert len(named) >= 12
    assert not [address for address in named if address not in found]


@pytest.mark.parametrize("name", NAMES)
def test_the_reader_gives_the_addresses_that_print(folder, printed_addresses, name):
    specification, problems = read_docx(folder(name) / "spec.docx")
    assert problems == ()
    (section,) = specification.sections
    read = {clause.address: clause for clause in section.clauses if clause.label}
    expected = printed_addresses(name)
    assert list(read) == list(expected)
    for address, clause in read.items():
        if not clause.deleted:
            assert clause.text == " ".join(expected[address].split()), address


@pytest.mark.parametrize(
    ("name", "number", "dated"),
    [
        ("library", "07 41 13", "June 12, 2026"),
        ("bus_garage", "07 41 13.16", "17 April 2026"),
        ("coastal_school", "07411", "March 5, 2026"),
    ],
)
def test_number_and_date_as_the_office_writes_them(folder, name, number, dated):
    specification, _ = read_docx(folder(name) / "spec.docx")
    assert (specification.sections[0].number, specification.dated) == (number, dated)


def test_federal_headings_get_numbers_through_a_base_style_and_lists_start_again(printed_addresses):
    found = printed_addresses("bus_garage")
    assert found["1.3.3"] == "Factor of Safety"
    assert found["1.3.4.a"] == "Zone 1': Class 1-60."
    assert found["1.4.2"] == "Changes from the Tested Construction"
    assert found["2.4.d"] == "Zone 3: 30 inches."


def test_federal_text_belongs_to_its_heading_before_and_after_a_list(folder):
    specification, _ = read_docx(folder("bus_garage") / "spec.docx")
    body = [c.text for c in specification.sections[0].clauses if c.address == "1.3.2" and not c.label]
    assert [text.split()[0] for text in body] == ["Resist", "The"]


def test_the_school_types_its_numbers(folder, xml):
    assert not [node for node in xml("coastal_school").iter() if node.tag.endswith("}numPr")]
    specification, _ = read_docx(folder("coastal_school") / "spec.docx")
    (flagged,) = [c for c in specification.sections[0].clauses if "not used" in c.flags]
    assert flagged.address == "1.6.B"
