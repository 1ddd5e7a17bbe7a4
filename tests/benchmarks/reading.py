"""Reading a long specification with its numbers and tables, beside python-docx and docx2python."""

from __future__ import annotations

import tempfile
from pathlib import Path

from .making import manual
from .timing import line, process, title, version

OURS = """
import sys; from pathlib import Path
from cleatmark.spec.document import read_docx
spec, _ = read_docx(Path(sys.argv[1]))
assert sum(len(s.clauses) for s in spec.sections) > 100
"""
PYTHON_DOCX = """
import sys, docx
document = docx.Document(sys.argv[1])
seen = [(paragraph.text, paragraph.style.name) for paragraph in document.paragraphs]
cells = [cell.text for table in document.tables for line in table.rows for cell in line.cells]
assert len(seen) > 100
"""
DOCX2PYTHON = """
import sys
from docx2python import docx2python
with docx2python(sys.argv[1]) as document:
    assert len(document.text) > 1000
"""


def main(sizes: tuple[int, ...] = (400, 5_000, 20_000)) -> None:
    bare, _ = process("-c", "pass")
    names = "python-docx", "docx2python", "lxml"
    title(
        "Reading DOCX, new process (" + ", ".join(f"{name} {version(name)}" for name in names) + ")",
        *("ms", "x bare", "x ours", "MiB", "us each"),
    )
    ways = {"this reader": OURS, "python-docx, text and style": PYTHON_DOCX}
    if version("docx2python") != "not installed":
        ways["docx2python, text"] = DOCX2PYTHON
    with tempfile.TemporaryDirectory() as folder:
        for size in sizes:
            for wordy in (False, True):
                path = str(manual(Path(folder) / "manual.docx", size, wordy))
                ours = 0.0
                for name, code in ways.items():
                    taken, peak = process("-c", code, path, times=3)
                    ours = ours or taken
                    each = (taken - bare) * 1000 / size
                    written = "as Word writes it" if wordy else "plain"
                    line(f"{size:,} {written}: {name}", taken, taken / bare, taken / ours, peak, each)
