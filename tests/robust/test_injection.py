"""Text from a specification or a submittal is text in every report: no markup, no fields, no control codes."""

from __future__ import annotations

import json
import re
import shutil
import zipfile
from html.parser import HTMLParser
from pathlib import Path

import pytest
import yaml
from docx import Document
from lxml import etree

from cleatmark.report.clean import clean

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


PAYLOADS = (
    "<script>alert(1)</script>",
    "<img src=x onerror=alert(2)>",
    '" onmouseover="alert(3)',
    "' onfocus=alert(4) autofocus='",
    "javascript:alert(5)",
    "[link](javascript:alert(6)) **bold** [bold]x[/bold]",
    "&lt;script&gt;&#60;b&#62;&amp;",
    "<svg/onload=alert(7)>",
    "</title></style><base href=//x.invalid>",
    "{{7*7}}{% raw %}{# c #}",
    "%s %(x)s {0} ${x} \\1 $(id) `id`",
    '{ INCLUDETEXT "c:/secret.txt" }',
    ']]></w:t></w:r><w:fldSimple w:instr="DDEAUTO"/><w:instrText>DDE</w:instrText>',
    'HYPERLINK "http://x.invalid/" http://x.invalid/a',
    '<!DOCTYPE a [<!ENTITY e SYSTEM "file:///etc/passwd">]>&e;<![CDATA[x]]>',
    "=cmd|' /C calc'!A0",
    "A" * 3_000,
    "\u202egnp.exe\u2066\u200b",
    "\ufffe\u00ad\ufeff",
    "\\x1b]8;;http://x.invalid\\x07",
)
SEEN = re.compile("[\x00-\x08\x0b-\x1f\x7f-\x9f\u200b-\u200f\u202a-\u202e\u2066-\u2069]")
"""What acts in a terminal, or turns the text around it."""

NAMES = {
    "job": ("name", "owner", "designer", "contractor", "insurer", "basis", "city", "county", "state", "where"),
    "submittal": (
        "title", "from", "profile", "manufacturer", "finish", "model", "holder", "laboratory", "accreditation",
        "signed_by", "number", "text", "failure_mode",
    ),
}  # fmt: skip
"""Keys of the sample whose text anybody may write."""


def _with(node: object, names: tuple[str, ...], payload: str) -> object:
    if isinstance(node, dict):
        return {
            key: payload if key in names and isinstance(value, str) else _with(value, names, payload)
            for key, value in node.items()
        }
    return [_with(item, names, payload) for item in node] if isinstance(node, list) else node


def _rewrite(source: Path, target: Path, names: tuple[str, ...], payload: str) -> None:
    node = _with(yaml.load(source.read_text(encoding="utf-8"), yaml.BaseLoader), names, payload)
    target.write_text(
        yaml.safe_dump(node, width=100_000, sort_keys=False, default_style='"'), encoding="utf-8"
    )


@pytest.mark.parametrize("payload", PAYLOADS, ids=range(len(PAYLOADS)))
def test_no_text_acts_wherever_it_stands(payload: str, tmp_path: Path) -> None:
    """In the job, the submittal, the specification and a file's name at once, in every output of a review."""
    folder = tmp_path / "library"
    shutil.copytree(LIBRARY, folder)
    _rewrite(LIBRARY / "job.yaml", folder / "job.yaml", NAMES["job"], payload)
    name = re.sub(r"[/\0]", "_", payload)[:60] + ".yaml"
    _rewrite(SWAP, folder / name, NAMES["submittal"], payload)
    spec = Document(str(folder / "spec.docx"))
    for paragraph in spec.paragraphs:
        if paragraph.runs and len(paragraph.text) > 20:
            paragraph.runs[-1].text += f" {payload[:400]}".replace("\ufffe", "")
    spec.save(str(folder / "spec.docx"))
    files = [folder / f"r.{ending}" for ending in ("docx", "html", "json", "txt")]
    more = ("--packet", folder / "p.docx", "--field-sheet", folder / "f.docx", "--full")
    done = run("review", folder / "job.yaml", "--report", *files, *more, "--", folder / name, folder=folder)
    assert done.returncode == 1, done.stderr[-500:]
    for shown in (
        done.stdout,
        done.stderr,
        files[1].read_bytes(),
        files[2].read_bytes(),
        files[3].read_bytes(),
    ):
        assert not SEEN.search(shown.decode())
    json.loads(files[2].read_bytes())
    _harmless_page(files[1].read_text(encoding="utf-8"), payload)
    for path in (files[0], folder / "p.docx", folder / "f.docx"):
        _harmless_document(path)


def _harmless_page(html: str, payload: str) -> None:
    page = Tags()
    page.feed(html)
    assert not page.tags & {"script", "img", "base", "iframe", "object", "link", "b"}
    assert not {name for name in page.attributes if name.startswith("on") or name in ("src", "autofocus")}
    assert not re.search(r"""(?:href|action)=["']?(?!["']?#)""", re.sub(r">[^<]*<", "><", html))
    assert clean(payload)[:60] in " ".join("".join(page.text).split())


def _harmless_document(path: Path) -> None:
    with zipfile.ZipFile(path) as file:
        parts = {name: file.read(name) for name in file.namelist() if name.endswith((".xml", ".rels"))}
    for name, data in parts.items():
        assert b"<!DOCTYPE" not in data
        root = etree.fromstring(data)
        fields = [element.text or "" for element in root.iter("{*}instrText")]
        fields += [
            value for element in root.iter() for key, value in element.items() if key.endswith("}instr")
        ]
        assert all(re.match(r"\s*(PAGE|NUMPAGES|REF|PAGEREF|STYLEREF|TOC)\b", field) for field in fields), (
            name
        )
        assert not [item for item in root.iter("{*}Relationship") if item.get("TargetMode") == "External"]
        assert not SEEN.search("".join(root.itertext()))


def test_a_title_of_any_length_is_a_title_in_word(tmp_path: Path) -> None:
    """A document property holds 255 characters; a job's name may be longer."""
    folder = tmp_path / "library"
    shutil.copytree(LIBRARY, folder)
    _rewrite(LIBRARY / "job.yaml", folder / "job.yaml", ("name",), "Long name " * 100)
    report = folder / "r.docx"
    assert (
        run("review", folder / "job.yaml", folder / "submittals" / SWAP.name, "--report", report).returncode
        == 1
    )
    assert len(Document(str(report)).core_properties.title) <= 255
