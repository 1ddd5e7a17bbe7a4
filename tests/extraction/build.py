"""Builds the sections of this set to DOCX.

    python -m tests.extraction.build FOLDER [SECTIONS]

A section's text starts with its office. Each paragraph starts in column 1 with the word for its style and goes on
in indented lines; `ROW` and `HEAD` make a table, its cells parted by bars, with `>2` and `^2` behind a text for the
columns and rows it covers and `<` for a covered place.
"""

from __future__ import annotations

import re
import sys
from collections.abc import Iterator
from datetime import date
from pathlib import Path

from docx.document import Document as Section
from samples.docx_office import Cell, paragraph, restart, save, start, table
from samples.section_text import paragraphs

from .offices import OFFICES, STYLES

SECTIONS = Path(__file__).with_name("sections")
HOLDOUT = Path(__file__).with_name("holdout")
"""Sections that the readings are not tuned to."""
UNSEEN = Path(__file__).with_name("unseen")
"""Sections written by others, blind, with the first figures at the head of each; their misses were mended since."""
ISSUED = date(2026, 5, 4)
_SPAN = re.compile(r"\s*(?:>(\d+))?\s*(?:\^(\d+))?\s*$")


def names(sections: Path = SECTIONS) -> list[str]:
    """The sections of the set."""
    return sorted(path.stem for path in sections.glob("*.txt"))


def build(name: str, folder: Path, sections: Path = SECTIONS) -> Path:
    """Write one section to `folder`."""
    head, _, text = (sections / f"{name}.txt").read_text(encoding="utf-8").partition("\n\n")
    office = OFFICES[head.removeprefix("office:").strip()]
    section = start(office)
    rows: list[tuple[bool, str]] = []
    number = 0
    for key, pieces in paragraphs(text):
        if key in ("ROW", "HEAD"):
            rows.append((key == "HEAD", "".join(piece for piece in pieces if isinstance(piece, str))))
            continue
        _table(section, rows)
        if key == "L:":
            number = restart(section, 2)
        style = STYLES[key]
        paragraph(section, style, *pieces, when=ISSUED, number=number if style == "Letter" else 0)
    _table(section, rows)
    target = folder / f"{name}.docx"
    save(section, target, title=name, author="Invented office", issued=ISSUED)
    return target


def _table(section: Section, rows: list[tuple[bool, str]]) -> None:
    if not rows:
        return
    cells = [tuple(_cells(text)) for _, text in rows]
    widths = tuple(400 / len(cells[0]) for _ in cells[0])
    heads = sum(1 for head, _ in rows if head)
    table(section, cells, widths, style="Cell", left=60, when=ISSUED, headers=heads)
    rows.clear()


def _cells(text: str) -> Iterator[Cell | None]:
    for written in text.split("|"):
        cell = written.strip()
        if cell == "<":
            yield None
            continue
        span = _SPAN.search(cell)
        across, down = (span[1], span[2]) if span else (None, None)
        yield Cell(_SPAN.sub("", cell), int(across or 1), int(down or 1))


if __name__ == "__main__":
    target = Path(sys.argv[1])
    target.mkdir(parents=True, exist_ok=True)
    sections = Path(sys.argv[2]) if len(sys.argv) > 2 else SECTIONS
    for each in names(sections):
        print(build(each, target, sections))
