"""Writes spec.docx, the roofing section of an invented bus garage, in the federal manner.

    python -m samples.bus_garage.build_spec [FILE]

All names of places, people, firms and products are invented. Headings carry Word's decimal numbers (1.3.5.1),
some of them through a style that another style is based on; requirements stand as text under them. Lettered
lists start again by an override in the paragraph.
"""

from __future__ import annotations

import sys
from datetime import date
from pathlib import Path

from samples.docx_office import Field, Level, Office, margins, paragraph, restart, save, start
from samples.section_text import paragraphs

ISSUED = date(2026, 4, 17)

STYLES = {
    "TITLE": "Title Line",
    "PART": "Level 1",
    "2": "Level 2",
    "3": "Level 3",
    "3k": "Level 3 Kept",
    "4": "Level 4",
    "T": "Text",
    "BODY": "Publisher",
    "P": "Publication",
    "SD": "Submittal",
    "a": "Letter",
    "NOTE": "Note",
    "END": "Title Line",
}

OFFICE = Office(
    font="Courier New",
    points=10,
    styles=(
        Level("Title Line", before=4, after=4, center=True, bold=True, upper=True, keep=True),
        Level("Level 1", "PART %1", before=18, follow="space", bold=True, upper=True, keep=True, outline=0),
        Level("Level 2", "%1.%2", before=14, left=36, hanging=36, upper=True, keep=True, outline=1),
        Level("Level 3", "%1.%2.%3", before=12, left=48, hanging=48, keep=True, outline=2),
        Level("Level 4", "%1.%2.%3.%4", before=12, left=60, hanging=60, keep=True, outline=3),
        Level("Level 3 Kept", based_on="Level 3", before=12, keep=True),
        Level("Text", before=8),
        Level("Publisher", before=10, center=True, upper=True, keep=True),
        Level("Publication", before=4, left=180, hanging=144),
        Level("Submittal", before=6, left=36),
        Level("Letter", "%1.", "lowerLetter", 30, 30, 6),
        Level("Figure", "(%2)", "decimal", 60, 30, 4),
        Level("Note", before=8),
    ),
    lists=(("Level 1", "Level 2", "Level 3", "Level 4"), ("Letter", "Figure")),
)

TEXT = """
TITLE Section 07 41 13.16
TITLE Structural Standing Seam Metal Roof Panels
TITLE 04/26

PART General

2   References
T   The publications listed below form a part of this section to the extent referenced. The publications are
    referred to in the text by basic designation only.
BODY American Society of Civil Engineers (ASCE)
P   ASCE 7-16{>}(2017) Minimum Design Loads and Associated Criteria for Buildings and Other Structures
BODY ASTM International (ASTM)
P   ASTM A792/A792M{>}(2022) Steel Sheet, 55% Aluminum-Zinc Alloy-Coated by the Hot-Dip Process
P   ASTM E1592{>}(2005; R 2017) Structural Performance of Sheet Metal Roof and Siding Systems by Uniform
    Static Air Pressure Difference
P   ASTM E1646{>}(1995; R 2018) Water Penetration of Exterior Metal Roof Panel Systems
P   ASTM E1680{>}(2016) Rate of Air Leakage Through Exterior Metal Roof Panel Systems
BODY FM Approvals (FM)
P   FM 4471{>}(2010) Class 1 Panel Roofs
BODY Underwriters Laboratories (UL)
P   UL 580{>}(2006; R 2018) Uplift Resistance of Roof Assemblies, Class 90

2   Submittals
T   Authority approval is required for submittals with an "A" designation. Submit the following in
    accordance with Section 01 33 00 SUBMITTAL PROCEDURES:
SD  SD-02 Shop Drawings
SD  Roof panel layout with clips at every purlin and purlin spacing in each zone; A
SD  SD-03 Product Data
SD  Roof panels, clips and fasteners; A
SD  SD-06 Test Reports
SD  Structural performance, ASTM E1592; A
SD  Air leakage and water penetration; A
SD  SD-07 Certificates
SD  FM approval, with the page for each windstorm rating; A

2   Performance Requirements
3   Structural Panels
T   Panels span from purlin to purlin without a deck. Provide panels, clips, fasteners, insulation and
    purlins that together have been tested in accordance with ASTM E1592. Linear interpolation between two
    tested spans is permitted where both failed in the same manner. Extrapolation is not permitted.
3   Wind Uplift
T   Resist the following uplift pressures, which are at allowable-stress level for an effective wind area of
    10 square feet:
a:  Zone 1': 14.8 psf (0.71 kPa).
a   Zone 1: 25.8 psf (1.23 kPa).
a   Zone 2: 34.0 psf (1.63 kPa).
a   Zone 3: 46.4 psf (2.22 kPa).
T   The pressures follow ASCE 7-16 for a basic wind speed of 105 miles per hour, Exposure C and Risk
    Category II. Zones are shaded on Sheet S-101.
3k  Factor of Safety
T   Divide the greatest pressure that the specimen sustained by a factor of safety of not less than 2.0.
3   Approval by the Insurer
T   The building is insured by FM. Provide a panel roof approved by FM Approvals to FM 4471 with windstorm
    ratings not less than:
a:  Zone 1': Class 1{_}60.
a   Zone 1: Class 1{_}60.
a   Zone 2: Class 1{_}75.
a   Zone 3: Class 1{_}105.
3   Weather Tests
4   Air Leakage
T   Not more than 0.04 cfm per square foot at 6.24 psf (300 Pa) in accordance with ASTM E1680.
4   Water Penetration
T   No penetration at 6.24 psf (300 Pa) in accordance with ASTM E1646.

2   Quality Assurance
3   Laboratory
T   Laboratory accredited to ISO/IEC 17025 for the test method.
3k  Changes from the Tested Construction
T   The construction installed is the construction tested. Only these changes are permitted without a new
    test:
a:  Narrower panels of the same profile.
a   Heavier panel sheet of the same metal.
a   Purlins closer together, with a clip at every purlin.
a   Larger fasteners of the same type, or more of them at each clip.

2   Warranty
3   Weathertightness
T   Furnish the manufacturer's 20-year weathertightness warranty, without dollar limit.
3   Finish
T   Furnish the manufacturer's 20-year warranty of the finish.

PART Products

2   Roof Panels
NOTE ***************************************************************************
NOTE NOTE: 26 gauge panels may be used on canopies and shelters. Delete this note before issue.
NOTE ***************************************************************************
3   Sheet
T   Steel, aluminum-zinc alloy coated, ASTM A792/A792M, coating AZ50, Grade 50, not lighter than 24 gauge
    (0.0236 inch, 0.60 mm) nominal. Two-coat PVDF finish outside.
3   Profile
T   Trapezoidal ribs 3 inches high, seamed by machine, with sealant applied at the factory. Coverage of each
    panel is not more than 24 inches.
3   Length
T   Single length from eave to ridge, rolled at the site where too long to ship. End laps are not permitted.

2   Clips and Fasteners
3   Clips
T   Articulating clips, one at every purlin.
3   Fasteners
T   Two self-drilling screws, No. 12 or larger, at each clip.

2   Insulation
T   Glass fiber blanket, 4 inches thick, laid over the purlins, with thermal blocks between clips.

2   Purlins
T   Steel purlins by Section 05 40 00, 14 gauge, spaced not more than:
a:  Zone 1': 60 inches.
a   Zone 1: 60 inches.
a   Zone 2: 48 inches.
a   Zone 3: 30 inches.
T   Extra purlins of Zones 2 and 3 are shown on Sheet S-301.

PART Execution

2   Examination
T   Verify purlin spacing in every zone before panels are delivered. Do not cover misplaced purlins.

2   Installation
3   Panels
T   Lay panels from the downwind end. Seam the same day. Panels that are not seamed are not to be left
    overnight.
3   Clips
T   Fasten both screws of every clip through the insulation to the purlin.

2   Field Sample
T   Install a sample area of [10][20] feet along the eave for acceptance.

END End of Section
"""


def build(target: Path) -> None:
    """Write the section to `target`."""
    section = start(OFFICE)
    margins(
        section,
        header=(
            ("Tolmere Bus Garage\tContract VVTA-26-014",),
            ("Vetch Valley Transit Authority\t17 April 2026",),
        ),
        footer=(
            ("SECTION 07 41 13.16\tPage ", Field("PAGE", "1")),
            ("Demonstration only: project, place, firms and products are invented.",),
        ),
        when=ISSUED,
    )
    number = 0
    for key, pieces in paragraphs(TEXT):
        if key == "a:":
            number = restart(section, 2)
        style = STYLES[key.rstrip(":")]
        own = number if style == "Letter" else 0
        paragraph(section, style, *pieces, when=ISSUED, number=own)
    save(section, target, title="07 41 13.16 Roof Panels", author="Brindle Marsh Engineers", issued=ISSUED)


if __name__ == "__main__":
    build(Path(sys.argv[1]) if len(sys.argv) > 1 else Path(__file__).with_name("spec.docx"))
