"""Nothing phones home, and what a document points to outside itself is never fetched."""

from __future__ import annotations

import zipfile
from pathlib import Path

from .running import JOB, LIBRARY, SPEC, TESTED, run

CLOSED = """
import socket
def refuse(*words, **named):
    sys.stderr.write("the network was asked for\\n")
    raise SystemExit(99)
socket.socket = socket.create_connection = socket.getaddrinfo = refuse
def audit(event, words):
    if event.startswith(("socket.connect", "socket.getaddrinfo", "urllib.")):
        refuse()
sys.addaudithook(audit)
"""


def test_no_command_opens_a_connection(tmp_path: Path) -> None:
    calls = [
        ("review", JOB, TESTED, "--report", tmp_path / "r.docx", tmp_path / "r.html", tmp_path / "r.json"),
        ("read", SPEC, "--format", "json"),
        ("wind", JOB, "--plan", tmp_path / "plan.svg"),
        ("form", tmp_path / "form.docx"),
        ("form", tmp_path / "form.yaml"),
        ("prescreen", JOB, "--systems", LIBRARY / "systems", "--jobs", "1"),
        ("rules", "proofread"),
    ]
    for call in calls:
        done = run(*call, before=CLOSED)
        assert done.returncode in (0, 1), (call, done.stderr[-300:])
        assert b"network" not in done.stderr


def test_what_a_document_points_to_is_not_fetched(tmp_path: Path) -> None:
    """A template, a picture and a sub-document on another machine: the text is read, nothing is asked for."""
    path = tmp_path / "spec.docx"
    kinds = ("attachedTemplate", "image", "subDocument", "hyperlink", "frame")
    base = "http://schemas.openxmlformats.org/officeDocument/2006/relationships"
    links = "".join(
        f'<Relationship Id="x{n}" Type="{base}/{kind}" Target="http://outside.invalid/{n}" TargetMode="External"/>'
        for n, kind in enumerate(kinds)
    )
    with zipfile.ZipFile(SPEC) as source, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            data = source.read(name)
            if name == "word/_rels/document.xml.rels":
                data = data.replace(b"</Relationships>", links.encode() + b"</Relationships>")
            target.writestr(name, data)
    done = run("read", path, "--format", "json", before=CLOSED)
    plain = run("read", SPEC, "--format", "json")
    assert done.returncode == plain.returncode
    assert done.stdout == plain.stdout
