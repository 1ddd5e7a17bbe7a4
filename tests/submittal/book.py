"""A few fields declared by hand, enough for the submittal files of these tests."""

from cleatmark.fields import Field, FieldBook
from cleatmark.problems import Place

HERE = Place("fields.rules", 1, 1)
KINDS = ("tested report", "blanket listing", "data sheet")
STATES = ("on contract documents", "claimed only", "contradicted", "not confirmed")
METALS = ("steel", "aluminum", "stainless steel", "copper", "zinc")


def book() -> FieldBook:
    return FieldBook(
        [
            Field("panel.material", "Panel metal", "choice", HERE, choices=METALS, example="steel"),
            Field(
                "panel.thickness",
                "Panel thickness",
                "thickness",
                HERE,
                unit="inches",
                example="24 ga, nominal",
            ),
            Field(
                "panel.yield_strength", "Panel yield strength", "stress", HERE, unit="ksi", example="50 ksi"
            ),
            Field("panel.width", "Panel width", "length", HERE, unit="inches", example="16 in"),
            Field("panel.seam_sealant", "Seam sealant", "choice", HERE, choices=("none", "factory applied")),
            Field("panel.end_laps", "End laps", "yes/no", HERE, example="no"),
            Field("clip.spacing", "Clip spacing", "length", HERE, unit="inches", example="24 in"),
            Field("fastener.size", "Fastener size", "screw size", HERE, example="No. 10"),
            Field("fastener.count", "Fasteners per clip", "number", HERE, example="2"),
            Field("deck.type", "Deck", "choice", HERE, choices=("plywood", "OSB"), example="plywood"),
            Field("deck.thickness", "Deck thickness", "thickness", HERE, unit="inches", example="19/32 in"),
            Field("insulation.type", "Insulation", "text", HERE, none=True, example="none"),
            Field("submittal.id", "Submittal", "text", HERE, example="07 41 13-01"),
            Field("submittal.date", "Date of the submittal", "date", HERE, example="2026-10-02"),
            Field("submittal.contractor_stamp", "Contractor's approval mark", "yes/no", HERE, example="yes"),
            Field("document.id", "Document", "text", HERE, example="T-118"),
            Field(
                "document.kind", "Kind of document", "choice", HERE, choices=KINDS, example="tested report"
            ),
            Field("document.laboratory", "Laboratory", "text", HERE, example="Stillwater Testing (invented)"),
            Field("document.pages", "Pages", "number", HERE, example="14"),
            Field("run.id", "Run", "text", HERE, example="2"),
            Field("run.page", "Page", "text", HERE, example="6"),
            Field("run.class", "UL 580 class", "class", HERE, choices=("15", "30", "60", "90"), example="90"),
            Field("run.rating", "FM rating", "rating", HERE, example="1-90"),
            Field("run.held", "Last pressure step held", "pressure", HERE, unit="psf", example="105 psf"),
            Field("run.failure_mode", "Failure mode", "choice", HERE, choices=("seam opened",), open=True),
            Field("condition.text", "Condition", "text", HERE),
            Field("condition.field", "Field the condition is about", "text", HERE, example="deck.attachment"),
            Field("condition.value", "Value the condition asks for", "text", HERE, example="screwed"),
            Field("condition.state", "State", "choice", HERE, choices=STATES, example="not confirmed"),
        ]
    )
