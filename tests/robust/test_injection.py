"""Text from a specification or a submittal is text in every report: no markup, no fields, no control codes."""

from __future__ import annotations

import re
import shutil
import zipfile
from html.parser import HTMLParser
from pathlib import Path

import pytest
import yaml

from .running import LIBRARY, SWAP, run

MARKUP = "<script>alert(1)</script><img src=x onerror=alert(2)>\"&amp;'{{ 7*7 }}{% raw %}"
FIELD = 'INCLUDETEXT "c:/secret.txt" \\* MERGEFORMAT {= 2 + 2} ]]> <w:instrText>DDEAUTO</w:instrText>'
CODES = "\x1b[2J\x1b]0;title\x07\x9b31m\u202egnp.exe\u2066\u200b"


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> dict[str, bytes]:
    """Reports on a submittal whose texts try each of them, and what the terminal shows."""
    folder = tmp_path_factory.mktemp("hostile") / "library"
    shutil.copytree(LIBRARY, folder)
    path = folder / "submittals" / SWAP.name
    text = path.read_text(encoding="utf-8")
    name = re.search(r"(?m)^( +)manufacturer: .*$", text)
    assert name is not None
    hostile = (
        yaml.safe_dump(MARKUP + FIELD, width=10_000, allow_unicode=True).strip().removesuffix("...").strip()
    )
    text = text.replace(name.group(), f"{name.group(1)}manufacturer: {hostile}")
    path.write_text(text, encoding="utf-8")
    out: dict[str, bytes] = {}
    for ending in ("docx", "html", "json", "txt"):
        report = folder / f"r.{ending}"
        done = run("review", folder / "job.yaml", path, "--report", report)
        assert done.returncode == 1, done.stderr
        out[ending] = report.read_bytes()
    out["terminal"] = run("review", folder / "job.yaml", path, "--full").stdout
    return out


class Tags(HTMLParser):
    """Every tag and attribute of a page."""

    def __init__(self) -> None:
        super().__init__()
        self.tags: set[str] = set()
        self.attributes: set[str] = set()
        self.text: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        self.tags.add(tag)
        self.attributes |= {name for name, _ in attrs}

    def handle_data(self, data: str) -> None:
        self.text.append(data)


def test_a_page_shows_markup_as_text(made: dict[str, bytes]) -> None:
    page = Tags()
    page.feed(made["html"].decode())
    assert "script" not in page.tags
    assert not {name for name in page.attributes if name.startswith("on")}
    assert "alert(1)" in "".join(page.text)
    assert "{{ 7*7 }}" in "".join(page.text)


def test_a_document_has_no_field_of_theirs(made: dict[str, bytes], tmp_path: Path) -> None:
    path = tmp_path / "r.docx"
    path.write_bytes(made["docx"])
    with zipfile.ZipFile(path) as file:
        document = file.read("word/document.xml").decode()
        links = file.read("word/_rels/document.xml.rels").decode()
    fields = re.findall(r"<w:instrText[^>]*>([^<]*)", document) + re.findall(r'w:instr="([^"]*)"', document)
    assert not [field for field in fields if re.search(r"INCLUDE|DDE|=", field)]
    assert "&lt;w:instrText&gt;DDEAUTO" in document
    assert "External" not in links


def test_json_carries_the_text_as_it_is(made: dict[str, bytes]) -> None:
    assert b"<script>alert(1)" in made["json"] or b"\\u003cscript" in made["json"]


@pytest.mark.parametrize("where", ["manufacturer", "seam_type"])
def test_control_codes_are_refused_or_never_reach_a_terminal(where: str, tmp_path: Path) -> None:
    """In double quotes YAML makes control codes of escapes, which no text editor shows."""
    folder = tmp_path / "library"
    shutil.copytree(LIBRARY, folder)
    path = folder / "submittals" / SWAP.name
    text = path.read_text(encoding="utf-8")
    escaped = "".join(f"\\u{ord(sign):04x}" for sign in CODES)
    text, count = re.subn(
        rf"(?m)^( +){where}: .*$", lambda m: f'{m[1]}{where}: "A {escaped} B"', text, count=1
    )
    assert count
    path.write_text(text, encoding="utf-8")
    done = run("review", folder / "job.yaml", path, "--full")
    shown = (done.stdout + done.stderr).decode()
    assert done.returncode in (1, 2)
    assert not set(CODES) - set("[]0;title2J31mgnp.exe") & set(shown)


def test_control_codes_in_a_file_name_never_reach_a_terminal(tmp_path: Path) -> None:
    path = tmp_path / "a\x1b[2Jb.yaml"
    path.write_text("nothing: here\n", encoding="utf-8")
    done = run("review", LIBRARY / "job.yaml", path)
    assert done.returncode == 2
    assert b"\x1b" not in done.stderr
