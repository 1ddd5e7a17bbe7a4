"""A review made by hand in several states. The library, its place, its makers and its papers are invented."""

from __future__ import annotations

from fractions import Fraction

from msgspec.structs import replace

from cleatmark.facts import Citation, Missing, Stated
from cleatmark.review.model import (
    Advice,
    Amount,
    Compared,
    ConditionRow,
    Difference,
    Evidence,
    Finding,
    JobHead,
    Request,
    Review,
    RootCause,
    RulebookHead,
    RunRow,
    SubmittalHead,
    ZoneRow,
)
from cleatmark.units import Quantity

JOB = JobHead(
    name="Alder Bay Branch Library (invented)",
    file="job.yaml",
    specification="spec.docx",
    section="07 41 13",
    section_title="Metal Roof Panels",
    dated="2026-08-14",
    place="Alder Bay, Skarra County, Marrow",
    permit_date="2026-09-15",
    date="2026-11-20",
    owner="Alder Bay Library District (invented)",
    designer="Tarn & Fold Architects (invented)",
    contractor="Oxbow Builders (invented)",
)
RULEBOOKS = (
    RulebookHead("base", "Base review", "2026-11", "", "2026-11-01"),
    RulebookHead("practice", "Usual practice by deck", "2026-11", "common practice", "2026-11-01"),
)


def spec(address: str, quote: str) -> Citation:
    return Citation("spec", f"07 41 13, {address}", quote, "2026-08-14")


CLASS = spec("1.04.B.2", "Uplift: Tested to UL 580 for Class 90 on the specified deck.")
THICKNESS = spec("2.02.A.1", "Thickness: 24 gauge, nominal.")
WIDTH = spec("2.02.A.2", "Panel width: 16 inches, maximum.")
DECK = spec("2.03.A", "Deck: 19/32 inch plywood, nailed, as indicated.")
SCREW = spec("2.04.C", "Clip fasteners: No. 12 pancake head, two per clip.")
TABLE = spec("1.04.C", "Corner: 48.2 psf; perimeter: 39.5 psf; field: 28.0 psf, allowable stress.")
SUBSTITUTE = spec("1.06.A", "Substitutions: Section 01 25 00.")
UL580 = Citation("published", "ANSI/UL 580, table of classes", "Class 90: 105 psf")


def page(where: str, quote: str = "") -> Citation:
    return Citation("evidence", where, quote)


def stated(subject: str, relation: str, text: str, where: Citation, **more: object) -> Stated:
    address = where.where.split(", ", 1)[1]
    return replace(Stated(subject, relation, (text,), text, address, where.quote, where), **more)


STATED = (
    stated("uplift.class", "at least", "90", CLASS, verb="tested"),
    stated(
        "panel.thickness",
        "at least",
        "24 ga",
        THICKNESS,
        values=(Quantity("thickness", Fraction(239, 10_000), "in", "24 ga", "nominal"),),
    ),
    stated(
        "panel.width", "at most", "16 in", WIDTH, values=(Quantity("length", Fraction(16), "in", "16 in"),)
    ),
    stated("deck.type", "equal", "plywood", DECK),
    stated("fastener.size", "at least", "No. 12", SCREW),
    stated(
        "uplift.pressure",
        "at least",
        "48.2 psf",
        TABLE,
        values=(Quantity("pressure", Fraction(241, 5), "psf", "48.2 psf", "", "allowable"),),
        zone="corner",
        level="allowable",
        area=Quantity("area", Fraction(10), "sq ft", "10 sq ft"),
    ),
    stated("substitution", "required", "01 25 00", SUBSTITUTE, flags=("reference only",)),
)

CLASS_OK = Finding(
    rule="uplift_class",
    title="Uplift class",
    basis="specification",
    verdict="complies",
    action="resubmit",
    message="Class 90 is specified; T-118 shows class 90 on every run.",
    because="A class not shown for this assembly has not been shown to hold.",
    found=Amount("class 90", 90.0),
    required=Amount("at least class 90", 90.0),
    document="T-118",
    rulebook=("base: stated at rules/base.rules:12",),
    citations=(CLASS, page("report T-118, page 6, run 1", "Class 90"), UL580),
    trace=("spec.uplift.class = 90", "T-118 run 1: class 90", "90 at least 90: yes"),
)
WIDTH_OK = Finding(
    rule="width",
    title="Panel width",
    basis="specification",
    verdict="complies",
    action="correct",
    message="16 in is specified as a maximum; 16 in is proposed.",
    found=Amount("16 in", 16.0, "in"),
    required=Amount("at most 16 in", 16.0, "in"),
    rulebook=("base: stated at rules/base.rules:44",),
    citations=(WIDTH, Citation("submittal", "a-tested.yaml:11", "16 in")),
    trace=("proposed.panel.width = 16 in", "spec.panel.width at most 16 in: yes"),
)
ZONES_OK = Finding(
    rule="zone_uplift",
    title="Uplift resistance in every roof zone",
    basis="demand",
    verdict="complies",
    action="stop",
    message="Every zone is shown by a run of T-118.",
    document="T-118",
    rulebook=("base: stated at rules/base.rules:28",),
    citations=(TABLE, page("report T-118, page 6, run 3", "105 psf held; clips at 12 in")),
)


def difference(field: str, title: str, tested: str, proposed: str, verdict: str = "same") -> Difference:
    return Difference(field, title, tested, proposed, verdict)


SAME = (
    difference("panel.thickness", "Panel thickness", "24 ga, nominal", "24 ga, nominal"),
    difference("panel.width", "Panel width", "16 in", "16 in"),
    difference("deck.type", "Deck", "plywood", "plywood"),
    difference("fastener.size", "Fastener size", "No. 12", "No. 12"),
    difference("panel.material", "Panel metal", "steel", "steel"),
    difference("panel.seam_type", "Seam type", "180 degree mechanical", "180 degree mechanical"),
    difference("panel.seam_height", "Seam height", "1-3/4 in", "2 in", "safe side"),
    difference("clip.model", "Clip", "PC-2F", "PC-2F"),
    difference("clip.type", "Clip type", "two-piece floating", "two-piece floating"),
    difference("fastener.type", "Fastener type", "pancake head wood screw", "pancake head wood screw"),
    difference("fastener.length", "Fastener length", "1-1/2 in", "1-1/2 in"),
    difference("fastener.thread", "Fastener thread", "Type 17, coarse", "Type 17, coarse"),
    difference("fastener.head", "Fastener head diameter", "0.435 in", "0.435 in"),
    difference("fastener.count", "Fasteners per clip", "2", "2"),
    difference("deck.thickness", "Deck thickness", "19/32 in", "19/32 in"),
    difference("deck.attachment", "Deck attachment", "nailed", "nailed"),
    difference("deck.fastener_spacing", "Deck fastener spacing", "6 in", "6 in"),
    difference("deck.joints", "Deck joint treatment", "open", "open"),
    difference("insulation.type", "Insulation", "none", "none"),
)
REPORT = Evidence(
    id="T-118",
    kind="tested report",
    title="Uplift test of PC-175 over plywood",
    standing="complete",
    runs=(
        RunRow(
            "1", "6", "UL 580", "class 90, 105 psf held", "yes", SAME, 52.5, 24.0, failure_mode="seam opened"
        ),
        RunRow(
            "2", "8", "UL 580", "class 90, 120 psf held", "yes", SAME, 60.0, 16.5, failure_mode="seam opened"
        ),
    ),
    offered_as="tested report",
    holder="Pell Creek Roof Works (invented)",
    laboratory="Stillwater Testing (invented)",
    date="2024-03-08",
)


def zone(name: str, required: float, allowable: float | None, spacing: float | None, run: str) -> ZoneRow:
    ratio = None if allowable is None else required / allowable
    verdict = "not shown" if ratio is None else "complies" if ratio <= 1 else "deviates"
    document = "T-118" if run else ""
    steps = (f"specification: {required} psf", "allowable = 105 psf / 2.0 = 52.5 psf") if run else ()
    return ZoneRow(
        roof="main roof",
        zone=name,
        area_sqft=10.0,
        level="allowable",
        required_psf=required,
        allowable_psf=allowable,
        clip_spacing_in=spacing,
        ratio=ratio,
        document=document,
        run=run,
        steps=steps,
        verdict=verdict,
        source="specification",
    )


ZONES = (
    zone("field", 28.0, 52.5, 24.0, "1"),
    zone("perimeter", 39.5, 52.5, 24.0, "1"),
    zone("corner", 48.2, 52.5, 24.0, "1"),
)
COMPARISON = (
    Compared("panel.thickness", "Panel thickness", "24 ga", "24 ga", "24 ga", "same", "same", "", "2.02.A.1"),
    Compared("panel.width", "Panel width", "16 in", "16 in", "16 in", "same", "same", "", "2.02.A.2"),
    Compared("deck.type", "Deck", "plywood", "plywood", "plywood", "same", "same", "", "2.03.A"),
)

COMPLIES = Review(
    job=JOB,
    submittal=SubmittalHead(
        "07 41 13-01",
        "Standing seam roof panels",
        "submittals/a-tested.yaml",
        "Oxbow Builders (invented)",
        "2026-10-02",
        "submittal",
        "main roof",
        "base bid",
    ),
    rulebooks=RULEBOOKS,
    answers={"asked": "complies", "site": "complies"},
    reasons={
        "asked": "Every requirement that the section states and that applies is met.",
        "site": "Every zone is shown by a run of T-118; the corner is used most, at 92 %.",
    },
    disposition="No exceptions taken",
    stated=STATED,
    zones=ZONES,
    evidence=(REPORT,),
    findings=(CLASS_OK, WIDTH_OK, ZONES_OK),
    root_causes=(),
    requests=(),
    comparison=COMPARISON,
    advice=(
        Advice(
            "class_and_pressure",
            "Class 90 and 48.2 psf in the corner ask for two things; the greater governs.",
            "07 41 13, 1.04.C",
            TABLE.quote,
            "designer",
            "Is class 90 meant beside the table of pressures, or instead of it?",
        ),
    ),
    notices=("UL 580 names no zone: a class is a test pressure, and the spacing is the tested one.",),
    cautions=(),
)

_CONDITIONS = (
    ConditionRow(
        "Deck screwed to its supports at 6 in",
        "deck.attachment",
        "not confirmed",
        True,
        "carpenter",
        usual="nailed",
        why="Nailing is usual on a wood deck.",
        hidden_after="underlayment",
    ),
    ConditionRow(
        "Deck joints caulked",
        "deck.joints",
        "claimed only",
        True,
        "carpenter",
        "letter of 2026-10-02",
        "open",
    ),
    ConditionRow(
        "Plywood, 19/32 in",
        "deck.type",
        "on contract documents",
        False,
        "carpenter",
        "Sheet S-201, note 4",
        "plywood",
    ),
)
LISTING = Evidence(
    id="TGX-90",
    kind="blanket listing",
    title="Roof deck construction, many makers",
    standing="current",
    runs=(),
    conditions=_CONDITIONS,
    offered_as="tested report",
    body="UL",
    holder="many makers",
    expires="2027-06-30",
    claims=("good to 150 mph",),
)
_CLASS_LISTED = replace(
    CLASS_OK,
    verdict="not shown",
    message="Class 90 by test is specified; TGX-90 is a blanket listing, not a tested report.",
    remedy="Send a UL 580 report at class 90 or above for this panel, clip, fastener and deck.",
    found=Amount("no tested report"),
    required=Amount("at least class 90, tested"),
    document="TGX-90",
    missing=(
        Missing(
            "document.kind",
            "Tested report",
            "a listing was offered",
            "maker",
            "Please send the UL 580 report for this assembly over nailed plywood.",
        ),
    ),
    ask="maker",
    causes=("document.kind",),
    citations=(CLASS, page("listing TGX-90, page 1", "Construction No. 90, many makers")),
)
_ZONES_LISTED = replace(
    ZONES_OK,
    verdict="not shown",
    message="No run carries a zone: the listing states no spacing and no pressure.",
    document="TGX-90",
    missing=(Missing("run.held", "Last pressure step held", "not stated", "laboratory"),),
    ask="laboratory",
    causes=("document.kind",),
    citations=(TABLE, page("listing TGX-90, page 1")),
)
_DECK_SCREWED = Finding(
    rule="listing_condition",
    title="Condition of the listing: deck screwed",
    basis="practice",
    verdict="not shown",
    action="resubmit",
    message="The listing asks for a screwed deck; the deck here is nailed, and nobody confirms it.",
    remedy="Have the deck trade confirm the screws in writing before the deck is covered.",
    missing=(Missing("deck.attachment", "Deck attachment", "not confirmed", "deck trade"),),
    ask="deck trade",
    document="TGX-90",
    causes=("deck.attachment",),
    rulebook=("practice: stated at rules/practice.rules:8",),
    citations=(DECK, page("listing TGX-90, page 2", "Deck screwed to supports, 6 in o.c.")),
)
LISTED = replace(
    COMPLIES,
    submittal=replace(COMPLIES.submittal, id="07 41 13-02", file="submittals/b-listing.yaml"),
    answers={"asked": "not shown", "site": "not shown"},
    reasons={
        "asked": "The section asks for a tested report; a blanket listing was offered as one.",
        "site": "No zone is shown by a run.",
    },
    disposition="Revise and resubmit",
    zones=tuple(zone(row.zone, row.required_psf or 0.0, None, None, "") for row in ZONES),
    evidence=(LISTING,),
    findings=(_CLASS_LISTED, WIDTH_OK, _ZONES_LISTED, _DECK_SCREWED),
    root_causes=(
        RootCause("document.kind", "A listing offered as a tested report", _CLASS_LISTED, (_ZONES_LISTED,)),
    ),
    requests=(
        Request(
            "maker",
            ("Please send the UL 580 report for this assembly over nailed plywood.",),
            ("uplift_class", "zone_uplift"),
        ),
        Request("deck trade", ("How is the deck fastened, and at what spacing?",), ("listing_condition",)),
    ),
)

_THIN = Finding(
    rule="thickness",
    title="Panel thickness",
    basis="specification",
    verdict="deviates",
    action="resubmit",
    message="24 ga is specified; 26 ga is proposed, which is lighter.",
    remedy="Propose 24 ga, or ask for a substitution under Section 01 25 00.",
    found=Amount("26 ga, nominal", 0.0179, "in"),
    required=Amount("at least 24 ga, nominal", 0.0239, "in"),
    margin="0.006 in lighter",
    causes=("panel.thickness",),
    rulebook=("base: stated at rules/base.rules:40",),
    citations=(THICKNESS, Citation("submittal", "c-swap.yaml:9", "26 ga, nominal")),
    trace=("26 ga nominal = 0.0179 in", "24 ga nominal = 0.0239 in", "0.0179 at least 0.0239: no"),
)
_WIDE = replace(
    WIDTH_OK,
    verdict="deviates",
    action="resubmit",
    message="16 in is specified as a maximum; 18 in is proposed, which is wider.",
    remedy="Propose 16 in.",
    found=Amount("18 in", 18.0, "in"),
    margin="2 in wider",
    causes=("panel.width",),
    citations=(WIDTH, Citation("submittal", "c-swap.yaml:11", "18 in")),
)
_OSB = Finding(
    rule="deck",
    title="Deck",
    basis="specification",
    verdict="deviates",
    action="stop",
    message="Plywood is specified and was tested; OSB is proposed.",
    remedy="Propose plywood, or send a report over OSB.",
    found=Amount("OSB"),
    required=Amount("plywood"),
    causes=("deck.type",),
    rulebook=("base: stated at rules/base.rules:52",),
    citations=(
        DECK,
        Citation("submittal", "c-swap.yaml:20", "OSB"),
        page("report T-118, page 4", "19/32 in plywood"),
    ),
)
_CORNER_SHORT = Finding(
    rule="zone_uplift",
    title="Uplift resistance",
    basis="demand",
    verdict="not shown",
    action="stop",
    message="No run covers the proposed assembly in this zone.",
    roof="main roof",
    zone="corner",
    document="T-118",
    causes=("deck.type", "panel.width"),
    rulebook=("base: stated at rules/base.rules:28",),
    citations=(TABLE, page("report T-118, page 6, run 1", "clips at 24 in")),
)
_SWAPPED = (
    difference("panel.thickness", "Panel thickness", "24 ga, nominal", "26 ga, nominal", "unsafe side"),
    difference("panel.width", "Panel width", "16 in", "18 in", "unsafe side"),
    difference("deck.type", "Deck", "plywood", "OSB", "different kind"),
    difference("fastener.size", "Fastener size", "No. 12", "No. 10", "unsafe side"),
    difference("fastener.length", "Fastener length", "1-1/2 in", "", "not shown"),
    difference("panel.seam_height", "Seam height", "1-3/4 in", "1-3/4 in"),
)
SWAP = replace(
    COMPLIES,
    submittal=replace(COMPLIES.submittal, id="07 41 13-03", file="submittals/c-swap.yaml"),
    answers={"asked": "deviates", "site": "not shown"},
    reasons={
        "asked": "Deck, thickness and width differ from what the section asks, and none was declared.",
        "site": "No run of T-118 covers the proposed assembly.",
    },
    disposition="Revise and resubmit",
    zones=(
        replace(zone("field", 28.0, None, None, ""), refused="no run covers the proposed deck"),
        zone("perimeter", 52.54, 52.5, 24.0, "1"),
        zone("corner", 60.0, 52.5, 24.0, "1"),
    ),
    evidence=(
        replace(
            REPORT,
            runs=(
                replace(
                    REPORT.runs[0],
                    covers="no",
                    differences=_SWAPPED,
                    covers_zones={"corner": "no", "field": "no", "perimeter": "not shown"},
                ),
                replace(REPORT.runs[1], covers="no", differences=(*_SWAPPED, _SWAPPED[0])),
            ),
        ),
    ),
    findings=(CLASS_OK, _THIN, _WIDE, _OSB, _CORNER_SHORT),
    root_causes=(
        RootCause("panel.thickness", "Panel thickness", _THIN),
        RootCause("deck.type", "Deck", _OSB, (_CORNER_SHORT,)),
        RootCause("panel.width", "Panel width", _WIDE, (_CORNER_SHORT,)),
    ),
    requests=(Request("contractor", ("Is OSB meant, or was it carried over?",), ("deck",)),),
    comparison=(
        replace(COMPARISON[0], proposed="26 ga", to_specified="unsafe side", to_tested="unsafe side"),
        replace(COMPARISON[1], proposed="18 in", to_specified="unsafe side", to_tested="unsafe side"),
        replace(COMPARISON[2], proposed="OSB", to_specified="different kind", to_tested="different kind"),
    ),
    departures_declared=("Screw length 1-1/2 in",),
    departures_found=("Panel thickness", "Panel width", "Deck"),
)

NO_SPEC = replace(
    COMPLIES,
    job=replace(JOB, specification="", section="", section_title="", dated=""),
    answers={"asked": "not reviewed", "site": "complies"},
    reasons={
        "asked": "No specification was given; the job is reviewed for the code and the site alone.",
        "site": COMPLIES.reasons["site"],
    },
    stated=(),
    findings=(ZONES_OK,),
    comparison=(),
    advice=(),
)

ROOFS = replace(
    COMPLIES,
    job=replace(JOB, units="SI"),
    zones=(
        *ZONES,
        *(replace(row, roof="porch roof", document="T-118", run="2", clip_spacing_in=16.5) for row in ZONES),
    ),
)

STATES = {"complies": COMPLIES, "listed": LISTED, "swap": SWAP, "no_spec": NO_SPEC, "roofs": ROOFS}
