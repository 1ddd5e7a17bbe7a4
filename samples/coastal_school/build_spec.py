"""Writes spec.docx, the roofing section of an invented coastal school, from an office that types its numbers.

    python -m samples.coastal_school.build_spec [FILE]

All names of places, people, firms and products are invented. Every number stands in the text with a tab after
it; Word knows of no list. The pressure table is at strength level, with true minus signs.
"""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

from samples.docx_office import Cell, Field, Level, Office, margins, paragraph, save, start, table
from samples.section_text import paragraphs

ISSUED = date(2026, 3, 5)

STYLES = {
    "TITLE": "Center",
    "PART": "Part Head",
    "ART": "Article Head",
    "A": "Indent A",
    "1": "Indent B",
    "a": "Indent C",
    "CAPTION": "Table Head",
    "END": "Center",
}

OFFICE = Office(
    font="Times New Roman",
    points=11,
    styles=(
        Level("Center", before=4, after=4, center=True, bold=True, keep=True),
        Level("Part Head", before=16, bold=True, keep=True),
        Level("Article Head", left=36, hanging=36, before=12, keep=True),
        Level("Indent A", left=64, hanging=28, before=6),
        Level("Indent B", left=92, hanging=28, before=3),
        Level("Indent C", left=120, hanging=28, before=3),
        Level("Table Head", left=64, before=8, after=4, keep=True),
        Level("Table Text", before=1, after=1),
    ),
)

AREAS = ("10 sq ft", "20 sq ft", "50 sq ft", "100 sq ft")
ZONES = {
    "Zone 1": (76.3, 76.3, 46.4, 23.8),
    "Zone 2e": (76.3, 76.3, 46.4, 23.8),
    "Zone 2n": (111.2, 96.2, 76.3, 61.2),
    "Zone 2r": (111.2, 96.2, 76.3, 61.2),
    "Zone 3e": (111.2, 96.2, 76.3, 61.2),
    "Zone 3r": (132.2, 113.3, 88.2, 69.3),
}
INWARD = (25.5, 22.9, 19.4, 16.8)

PRESSURES = (
    (Cell("Roof zone", down=2), Cell("Effective wind area", across=4), None, None, None),
    (None, *(Cell(area) for area in AREAS)),
    *((Cell(zone), *(Cell(f"\N{MINUS SIGN}{psf}") for psf in row)) for zone, row in ZONES.items()),
    (Cell("All zones,\ninward"), *(Cell(f"+{psf}") for psf in INWARD)),
)

TEXT = """
TITLE SECTION 07411
TITLE PREFORMED METAL ROOF PANELS

PART PART 1 - GENERAL

ART 1.1{>}SUMMARY
A   A.{>}This section covers aluminum standing seam roof panels over plywood sheathing at the classroom
    building.
A   B.{>}Related sections: 01600 Product Requirements; 06160 Sheathing; 07620 Sheet Metal Flashing and Trim.
A   C.{>}Alternate No. 1: In place of aluminum panels, furnish 24 gauge steel panels with the same finish.

ART 1.2{>}REFERENCES
A   A.{>}AAMA 2605, Superior Performing Organic Coatings on Aluminum; ASCE 7-16, Minimum Design Loads; ASTM
    B209, Aluminum Sheet and Plate; ASTM E330, Windows, Doors and Curtain Walls by Uniform Static Air
    Pressure Difference; UL 1897, Uplift Tests for Roof Covering Systems.

ART 1.3{>}DESIGN REQUIREMENTS
A   A.{>}Panels, clips and fasteners shall resist the wind pressures of Table 1.3. Pressures in the table
    are at strength level by ASCE 7-16 and are multiplied by 0.6 for comparison with allowable pressures.
CAPTION Table 1.3 - Components and cladding pressures, psf, strength level
TABLE
A   B.{>}Wind criteria: ultimate wind speed 135 mph, Exposure C, Risk Category III, enclosed.
A   C.{>}Where a test pressure is used, divide it by a safety factor of 2.0. Allowable pressures printed in
    a product approval are not divided again.

ART 1.4{>}PRODUCT APPROVAL
A   A.{>}Roof panels shall have a product approval issued by the Ostrand Coastal Building Board, in force on
    the date of the building permit.
A   B.{>}Follow every limit of use that the approval prints, including:
1   1.{>}Deck type, thickness and nailing.
1   2.{>}Clip spacing for the pressure of each zone.
1   3.{>}Least slope.
A   C.{>}An approval issued to another manufacturer is not acceptable.

ART 1.5{>}SUBMITTALS
A   A.{>}Product data for panels, clips, fasteners, underlayment and finish.
A   B.{>}Shop drawings with clip spacing in each zone of Table 1.3.
A   C.{>}Product approval, complete, with its limits of use and its date of expiration.
A   D.{>}List of departures from this section.

ART 1.6{>}QUALITY ASSURANCE
A   A.{>}Installer shall have 10 years of experience with metal roofs within 3 miles of salt water.
A   B.{>}Not used.

ART 1.7{>}WARRANTY
A   A.{>}Finish: 20 years, with no exclusion for salt water.
A   B.{>}Weathertightness: 20 years, no dollar limit.
A   C.{>}Installer's guarantee: 2 years.

PART PART 2 - PRODUCTS

ART 2.1{>}MANUFACTURERS
A   A.{>}Kestrel Cove Panels, KC-200, or approved equal.
A   B.{>}Requests for approval of equals are due 10 days before bids under Section 01600.

ART 2.2{>}PANELS
A   A.{>}Aluminum sheet, ASTM B209, alloy 3004 or 3105, 0.040 inch thick or heavier.
A   B.{>}Coverage not more than 16 inches.
A   C.{>}Ribs 2 inches high, mechanically seamed 180 degrees.
A   D.{>}PVDF finish, AAMA 2605.
A   E.{>}Full length from ridge to eave, without end laps.

ART 2.3{>}CLIPS AND FASTENERS
A   A.{>}Two-piece floating clips of stainless steel, spaced as the product approval requires in each zone.
A   B.{>}Stainless steel wood screws, No. 12 or larger, two per clip.

ART 2.4{>}UNDERLAYMENT
A   A.{>}Self-adhered high-temperature sheet over the entire deck.

ART 2.5{>}ROOF SHEATHING
A   A.{>}Sheathing by Section 06160:
1   1.{>}5/8 inch plywood.
1   2.{>}Fastening:
a   a.{>}Ring-shank nails at 4 inches.
a   b.{>}Trusses at 24 inches.

PART PART 3 - EXECUTION

ART 3.1{>}INSTALLATION
A   A.{>}Mark zones on the deck before clips are set.
A   B.{>}Set clips at the spacing of the approved shop drawings. Two screws in every clip.
A   C.{>}Isolate aluminum from pressure-treated wood and from other metals.

ART 3.2{>}INSPECTION
A   A.{>}District will inspect nailing of the deck before underlayment and clips before seaming.

END END OF SECTION
"""


def build(target: Path) -> None:
    """Write the section to `target`."""
    section = start(OFFICE)
    margins(
        section,
        header=(("Sandrel Point Elementary School\tBid Set, March 5, 2026",),),
        footer=(
            ("07411 - ", Field("PAGE", "1"), "\tSandrel Point School District"),
            ("Demonstration only: project, place, board, firms and products are invented.",),
        ),
        when=ISSUED,
    )
    for key, pieces in paragraphs(TEXT):
        if key == "TABLE":
            widths = (110, 72, 72, 72, 72)
            table(section, PRESSURES, widths, style="Table Text", left=70, when=ISSUED, headers=2)
        else:
            paragraph(section, STYLES[key], *pieces, when=ISSUED)
    save(section, target, title="07411 Metal Roof Panels", author="Wick & Loom Architects", issued=ISSUED)


if __name__ == "__main__":
    build(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_name("spec.docx"))
