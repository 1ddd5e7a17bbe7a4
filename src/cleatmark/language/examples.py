"""An example of every statement and clause in the right form, as messages show them."""

from __future__ import annotations

STATEMENTS = {
    "rulebook": 'rulebook coastal "Coastal county amendments"',
    "field": 'field panel.width "Panel width" length in inches',
    "kind": 'kind report is "tested report"',
    "reading": "reading uplift_class",
    "requirement": 'requirement uplift_class "Uplift class"',
    "substitution": "substitution panel_width for panel.width",
    "approval": 'approval insurer by "FM"',
    "listing_body": 'listing_body ul by "UL"',
    "practice": "practice deck_nailing for deck.attachment",
    "table": "table safety_factor by method, metal",
    "define": "define allowable of run",
    "advice": 'advice class_as_speed "A class read as a wind speed"',
    "caution": 'caution edges "Work at roof edges is hazardous."',
    "amend": "amend zone_uplift",
    "waive": "waive air_leakage",
    "case": 'case "a lighter gauge than tested is not covered"',
    "assembly": "assembly typical_plywood",
}
"""The first line of each statement; each parses by itself."""

CLAUSES = {
    "edition": "edition 2026-11",
    "builds": "builds on base, model_code",
    "in": "in force from 2024-01-01",
    "checked": "checked on 2026-11-01",
    "status": 'status "example: confirm against the adopted code"',
    "basis": "basis specification",
    "applies": "applies when spec.uplift.class is stated",
    "needed": 'needed when job.insurer is "FM"',
    "shall": "shall proposed.panel.width meets spec.panel.width",
    "action": "action resubmit",
    "source": 'source "ANSI/UL 580" at "class table"',
    "because": 'because "A class not shown has not been shown to hold."',
    "otherwise": 'otherwise "Class {spec.uplift.class} is specified."',
    "if": 'if not shown "No report covers this assembly."',
    "remedy": 'remedy "Send a UL 580 report for this panel, clip, fastener and deck."',
    "ask": 'ask designer "Is a class meant, or a wind speed?"',
    "allows": "allows equal, narrower",
    "usual": 'usual "nailed"',
    "hidden": 'hidden after "underlayment"',
    "trade": 'trade "carpenter"',
    "when": 'when deck.type is one of "plywood", "OSB"',
    "caution": 'caution "Confirm the seam still closes."',
    "replace": 'replace "E331" with "E1646"',
    "message": 'message "The class is read as a speed."',
    "formerly": "formerly old_id",
    "same": 'same meaning "Both limits print the same number."',
    "with": "with proposed.panel.width 18 in",
    "expect": "expect uplift_class not shown",
    "as": "as pressure / safety_factor",
    "at": "at allowable level",
    "gives": "gives spec.uplift.class as at least",
    "from": 'from "class {number: 30, 60, 90}"',
    "value": 'value "snap-lock"',
    "flags": "flags misuse",
    "not": "not in references",
    "near": 'near "panel"',
    "words": "words narrower, wider",
    "example": 'example "16 in"',
    "may": "may be none",
    "or": "or another",
    "note": 'note "between seams"',
}
"""A clause for each word that one starts with."""

_DATES = ("in force from", "in force until")
_RULE = (
    *("basis", "applies when", "shall", "action", "ask", "source", "because", "otherwise", "if not shown"),
    *("if met", "remedy", *_DATES, "formerly", "same meaning"),
)
TAKES = {
    "rulebook": ("edition", "builds on", *_DATES, "checked on", "status", "source"),
    "field": ("words", "example", "ask", "may be none", "or another", "note"),
    "kind": (),
    "reading": (
        *("gives", "from", "value", "flags", "in", "not in", "near", "not near", "ask", "source", "because"),
    ),
    "requirement": _RULE,
    "approval": ("needed when", *_RULE),
    "listing_body": ("needed when", *_RULE),
    "substitution": (
        *("applies when", "allows", "source", "because", "caution", *_DATES, "formerly", "same meaning"),
    ),
    "practice": (
        *("when", "usual", "hidden after", "trade", "source", "because", *_DATES, "formerly", "same meaning"),
    ),
    "advice": ("when", "message", "replace", "ask", "source", "because", *_DATES, "formerly", "same meaning"),
    "caution": (),
    "table": ("source",),
    "define": ("as", "at", "source"),
    "amend": (
        *_RULE,
        "needed when",
        "when",
        "allows",
        "caution",
        "usual",
        "hidden after",
        "trade",
        "message",
        "replace",
    ),
    "waive": ("because", "source", *_DATES),
    "case": ("with", "expect"),
    "assembly": (),
}
"""The clauses that each statement takes."""
