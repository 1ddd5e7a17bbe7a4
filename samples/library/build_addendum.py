"""Writes addendum_1.docx, an addendum to the bidding documents of the invented branch library.

    python -m samples.library.build_addendum [FILE]

All names of places, people, firms and products are invented. Numbers are Word's own.
"""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

from samples.docx_office import Field, Level, Office, margins, paragraph, save, start
from samples.section_text import paragraphs

ISSUED = date(2026, 7, 1)

STYLES = {
    "TITLE": "Addendum Title",
    "LINE": "Addendum Line",
    "PART": "Addendum Part",
    "A": "Addendum Item",
    "NEW": "Addendum New Text",
}

OFFICE = Office(
    font="Arial",
    points=10,
    styles=(
        Level("Addendum Title", before=2, after=8, bold=True, upper=True, keep=True),
        Level("Addendum Line", after=4),
        Level("Addendum Part", "%1.", "decimal", 29, 29, 14, bold=True, keep=True, outline=0),
        Level("Addendum Item", "%2.", "upperLetter", 58, 29, 6, outline=1),
        Level("Addendum New Text", left=86, before=4),
    ),
    lists=(("Addendum Part", "Addendum Item"),),
)

TEXT = """
TITLE Addendum No. 1
LINE  July 1, 2026
LINE  Alder Bay Branch Library
LINE  This addendum is part of the bidding documents. Acknowledge it on the bid form.

PART  Bidding Requirements
A     Bids are due on July 21, 2026, at 2:00 in the afternoon.

PART  Section 07 41 13 - Metal Roof Panels
A     Revise Paragraph 1.03.B to read as follows:
NEW   “B. Uplift Class: Provide roof assembly tested to UL 580, Class 60, over the deck of Article 2.05. A listing
      does not take the place of the test.”
A     Delete Paragraph 1.03.H in its entirety.
A     In Paragraph 2.02.C, change “16 inches” to “18 inches”.
A     Delete Paragraph 1.03.E and substitute the following:
NEW   “E. Safety Factor: Allowable pressure is the last pressure held for its full time divided by not less than
      1.67.”
A     Add Paragraph 2.03.C: “Clip Fasteners, Corners: Three in each clip within the corner zones.”
A     Revise Paragraph 1.09.A to read: “Keep one panel of each length on the site.”

PART  Section 06 16 00 - Sheathing
A     Revise Paragraph 2.01.A to read: “Plywood of Exposure 1, 19/32 inch.”

PART  Drawings
A     Sheet A-131: Revise the width of the corner zones to 8 feet.
"""


def build(target: Path) -> None:
    """Write the addendum to `target`."""
    section = start(OFFICE)
    margins(
        section,
        header=(("Alder Bay Branch Library\tAddendum No. 1",),),
        footer=(
            ("Tarn & Fold Architects\tAddendum No. 1 - ", Field("PAGE", "1")),
            ("Demonstration only: the project, its place, the firms and the products are invented.",),
        ),
        when=ISSUED,
    )
    for key, pieces in paragraphs(TEXT):
        paragraph(section, STYLES[key], *pieces, when=ISSUED)
    save(section, target, title="Addendum No. 1", author="Tarn & Fold Architects", issued=ISSUED)


if __name__ == "__main__":
    build(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_name("addendum_1.docx"))
