"""Writes spec.docx, the roofing section of an invented branch library.

    python -m samples.library.build_spec [FILE]

All names of places, people, firms and products are invented. Numbers are Word's own: a list of five levels
linked to the office's styles, none of them in the text.
"""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

from samples.docx_office import Cell, Field, Level, Office, margins, paragraph, save, start, table
from samples.section_text import paragraphs

ISSUED = date(2026, 6, 12)
REVISED = date(2026, 6, 9)

STYLES = {
    "TITLE": "Spec Title",
    "PART": "Spec Part",
    "ART": "Spec Article",
    "A": "Spec Paragraph",
    "1": "Spec Item",
    "a": "Spec Subitem",
    "NOTE": "Spec Note",
    "CAPTION": "Spec Caption",
    "END": "Spec End",
}

OFFICE = Office(
    font="Arial",
    points=10,
    styles=(
        Level("Spec Title", before=2, after=2, center=True, bold=True, upper=True, keep=True),
        Level(
            "Spec Part", "PART %1 -", before=18, follow="space", bold=True, upper=True, keep=True, outline=0
        ),
        Level(
            "Spec Article", "%1.%2", "decimalZero", 43, 43, 14, bold=True, upper=True, keep=True, outline=1
        ),
        Level("Spec Paragraph", "%3.", "upperLetter", 72, 29, 8, outline=2),
        Level("Spec Item", "%4.", "decimal", 101, 29, 2, outline=3),
        Level("Spec Subitem", "%5.", "lowerLetter", 130, 29, 2, outline=4),
        Level("Spec Caption", left=72, before=8, after=4, bold=True, keep=True),
        Level("Spec Note", left=43, before=8),
        Level("Spec Cell", before=2, after=2),
        Level("Spec End", before=24, center=True, bold=True, upper=True),
    ),
    lists=(("Spec Part", "Spec Article", "Spec Paragraph", "Spec Item", "Spec Subitem"),),
)

PRESSURES = (
    (Cell("Roof zone", down=2), Cell("Effective wind area", across=2), None),
    (None, Cell("10 sq ft"), Cell("50 sq ft")),
    (Cell("Field"), Cell("-32.3"), Cell("-19.6")),
    (Cell("Perimeter"), Cell("-47.1"), Cell("-32.3")),
    (Cell("Corner"), Cell("-56.0"), Cell("-37.3")),
)

TEXT = """
TITLE Section 07 41 13
TITLE Metal Roof Panels

PART General

ART Summary
A   Section includes factory-formed, concealed-clip standing seam roof panels of coated steel sheet over a
    plywood roof deck, with clips, fasteners, underlayment and roof trim.
A   Related Requirements:
1   Section 01 25 00 - Substitution Procedures.
1   Section 06 16 00 - Sheathing: Roof deck of plywood on wood trusses.
1   Section 07 62 00 - Sheet Metal Flashing and Trim: Gutters and downspouts.

ART References
A   The following apply to the extent referenced in this Section:
1   AAMA 621 - High Performance Organic Coatings on Coil Coated Architectural Metallic-Coated Steel.
1   ASCE 7-16 - Minimum Design Loads and Associated Criteria for Buildings and Other Structures.
1   ASTM A792/A792M - Steel Sheet, 55 % Aluminum-Zinc Alloy-Coated by the Hot-Dip Process.
1   ASTM D1970/D1970M - Self-Adhering Polymer Modified Bituminous Sheet Materials.
1   ASTM E1592 - Structural Performance of Sheet Metal Roof and Siding Systems by Uniform Static Air
    Pressure Difference.
1   ASTM E1646 - Water Penetration of Exterior Metal Roof Panel Systems.
1   ASTM E1680 - Rate of Air Leakage Through Exterior Metal Roof Panel Systems.
1   FM 4471 - Class 1 Panel Roofs.
1   UL 580 - Uplift Resistance of Roof Assemblies.
1   UL 790 - Fire Tests of Roof Coverings.
1   UL 1897 - Uplift Tests for Roof Covering Systems.

ART Performance Requirements
A   General: Panels, clips, fasteners, underlayment and deck together shall resist the loads of this Article
    without failure of seams or attachment and without permanent distortion.
A   Uplift Class: Provide roof assembly tested to UL 5{|}80, Class 90, over the deck of Article 2.05. A
    listing does not take the place of the test.
A   Design Wind Pressures: Assembly shall resist the uplift pressures of the following table, acting normal
    to the roof surface, in pounds per square foot at allowable-stress level.
CAPTION Design uplift pressures, psf, allowable-stress level
TABLE
1   Field is Zones 1 and 2e, perimeter is Zones 2n, 2r and 3e, and corner is Zone 3r of ASCE 7-16, as shaded
    on Sheet A-131.
1   Wind Data: Basic wind speed {=110 mph=}, Exposure C, Risk Category II, enclosed building.
1   Inward Pressure: 13.0 psf in every zone.
A   Pressures Beyond the Class: Where a zone needs more than Class 90 allows, continue the test by UL 1897
    on the same construction at the clip spacing of that zone.
A   Safety Factor: Allowable pressure is the last pressure held for its full time divided by not less than
    2.0.
A   Insurer's Approval: Owner's property insurer accepts panel roofs approved by FM Approvals. Provide panel
    roof approved under FM 4471 with windstorm rating not less than the following:
1   Field: Class 1{_}90.
1   Perimeter: Class 1{_}105.
1   Corner: Class 1{_}120.
A   Fire Classification: Class A by UL 790. Roof assembly shall be listed by UL in the panel manufacturer's
    own name.
A   Air Leakage: Not more than 0.06 cfm/sq ft at 6.24 psf when tested to ASTM E1680.
A   Water Penetration: None at 6.24 psf when tested to ASTM E1646.

ART Submittals
A   Product Data: For panels, clips, fasteners, underlayment and finish.
A   Shop Drawings: Roof plan with zones, clip spacing in each zone, seams, panel lengths and details.
A   Test Reports:
1   Complete UL 580 and UL 1897 reports signed by the laboratory. Describe the specimen in full: panel,
    seam, clip, clip spacing, fasteners, underlayment, deck, deck attachment and deck joints. State the last
    pressure held and the mode of failure.
1   ASTM E1646 and ASTM E1680 reports.
1   A listing, a load table or a letter will not be accepted as a test report.
A   Approval and Listing: Pages of the FM approval and of the UL listing, current when submitted.
A   Departures: Written list of every departure from this Section and from the tested specimen.

ART Quality Assurance
A   Laboratory: Accredited to ISO/IEC 17025 with the test method in its published scope.
A   Installer: Not less than 5 years of experience with mechanically seamed roofs.
A   Tested Construction: Furnish and install the construction that was tested. The following changes from
    the tested specimen are permitted without further testing:
1   Panels of the same profile and narrower coverage.
1   Heavier sheet of the same metal.
1   Clips of the same model set closer together.
1   Screws of the same type that are larger or longer, or more of them in each clip.
A   No other change is permitted, and one change does not make up for another.

ART Delivery, Storage and Handling
A   Keep panels dry, sloped to drain and clear of the ground. Do not lift by the seam.

ART Warranty
A   Weathertightness: Manufacturer and installer shall warrant the roof weathertight for {-ten (1-}{+twenty
    (2+}0) years from Substantial Completion.
A   Finish: Manufacturer shall warrant the finish for 30 years against peeling and checking.
A   Installer: Two-year warranty on workmanship.

PART Products

ART Manufacturers
A   Basis of Design: Pell Creek Roof Works, panel PC-175 with clip PC-2F.
A   Substitutions: Under Section 01 25 00. A panel, clip or deck other than specified is a substitution.

ART Roof Panels
NOTE {~Note to specifier: UL 580 Class 60 and 26 gauge serve for canopies and bicycle shelters. Retain Class
    90 and 24 gauge for buildings.~}
A   Panel: Vertical-leg profile, factory formed, on concealed clips, for mechanical seaming.
A   Sheet: Steel, 55 % aluminum-zinc alloy coated, ASTM A792/A792M, AZ50, Grade 50, not less than 24 gauge
    (0.0236 inch) nominal.
A   Coverage Width: 16 inches maximum.
A   Seam: 1{_}3/4 inches high, folded 180 degrees by powered seaming machine, with factory-applied sealant.
A   Finish: Two-coat PVDF, 70 percent resin, to AAMA 621. Color from manufacturer's full range.
A   Length: One piece from eave to ridge. End laps are not permitted.

ART Clips and Fasteners
A   Clips: Two-piece floating clips, 16 gauge base, as tested.
1   Spacing: As tested for the pressure of the zone, and not more than the following:
a   Field: 24 inches on center.
a   Perimeter: 18 inches on center.
a   Corner: 12 inches on center.
A   Clip Fasteners: Not smaller than No. 10, pancake head wood screws, two in each clip, threaded full depth
    through the deck.

ART Underlayment
A   Self-adhered, high-temperature sheet, ASTM D1970/D1970M, not less than 40 mils, over the whole deck.

ART Roof Deck
A   Deck: 19/32 inch plywood by Section 06 16 00, nailed to trusses at 24 inches on center. Oriented strand
    board is not acceptable.
A   Deck attachment and deck joints are shown on Sheet S-201.

ART Accessories
A   Trim: Same sheet and finish as panels, 22 gauge at eaves and rakes.

PART Execution

ART Examination
A   Verify that deck, deck attachment and deck joints are those of the tested specimen.

ART Installation
A   Set clips at the spacing of each zone marked on the reviewed shop drawings.
A   Seam panels the day they are laid. Do not leave unseamed panels overnight.

ART Field Quality Control
A   Before underlayment is laid, leave deck fastening open for inspection.
A   Allow Architect to check clip spacing in each zone before seaming.

END End of Section
"""


def build(target: Path) -> None:
    """Write the section to `target`."""
    section = start(OFFICE)
    margins(
        section,
        header=(
            ("Alder Bay Branch Library\tIssued for Construction",),
            ("Alder Bay Library District\tJune 12, 2026",),
        ),
        footer=(
            ("Tarn & Fold Architects\tMetal Roof Panels  07 41 13 - ", Field("PAGE", "1")),
            ("Demonstration only: the project, its place, the firms and the products are invented.",),
        ),
        when=ISSUED,
    )
    for key, pieces in paragraphs(TEXT):
        if key == "TABLE":
            table(section, PRESSURES, (150, 90, 90), style="Spec Cell", left=78, when=REVISED, headers=2)
        else:
            paragraph(section, STYLES[key], *pieces, when=REVISED)
    save(section, target, title="07 41 13 Metal Roof Panels", author="Tarn & Fold Architects", issued=ISSUED)


if __name__ == "__main__":
    build(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_name("spec.docx"))
