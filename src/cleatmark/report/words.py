"""The report's fixed wording, in one place."""

from __future__ import annotations

TITLE = "Submittal review"
ASKED = "Does it meet what was asked?"
SITE = "Does it hold on this site?"
ANSWERS = {
    "complies": "Yes",
    "deviates": "No",
    "not shown": "Not shown",
    "not reviewed": "Not reviewed",
    "does not apply": "Not reviewed",
}
REASONS = {
    "complies": "Every requirement that applies is met.",
    "deviates": "At least one requirement deviates; the findings below say which.",
    "not shown": "Facts are missing; the questions below say which, and whom to ask.",
    "not reviewed": "Nothing was given to review it against.",
}
ACTIONS = {
    "stop": "stops fabrication",
    "resubmit": "resubmit",
    "correct": "correct",
    "record": "for the record",
}
RECOMMENDED = "Recommendation"
RECOMMENDS = "The reviewer of record decides."
STOPS = "What stops fabrication"
FOUND_SO = "As asked."
NO_STOP = "Nothing that was found stops fabrication."
DEVIATES = "Other deviations"
NOT_SHOWN = "Not shown"
REQUESTS = "Questions, by whom they go to"
ZONES = "Roof zones"
NO_ZONES = "No roof zone could be reviewed: no uplift pressure was stated or computed."
TESTED = "Tested reports"
LISTINGS = "Listings, evaluations and approvals"
PAPERS = "Other documents"
CONDITIONS = "Conditions of the listings"
COMPLIES = "What complies"
WAIVED = "Waived"
ADVICE = "Advice on the specification and the input"
DEPARTURES = "Departures"
DECLARED = "Declared by the submitter"
FOUND = "Found, not declared"
NOTICES = "Notices"
CAUTIONS = "Cautions"
COMPARISON = "Specified, proposed, tested"
STATED = "What the specification asks"
AMENDED = "The specification as amended"
APPENDIX = "Appendix: rules and working"
RULEBOOKS = "Rulebooks in force"
RULES = "Rule by rule"
WORKING = "working"
STEPS = "How the zone figures came about"
RUNS = "Each run beside the proposal"

PACKET_USE = (
    "Drafts, to be edited before they are sent. Each request and the comments begin a page of their own, so "
    "that each can be sent by itself. Item numbers are those of the review."
)
REQUEST_INTRODUCTION = (
    "These facts are not shown in what was submitted. Please answer each question, and attach the page that "
    "your answer rests on."
)
PROPOSED_USE = (
    "Proposals to the author of the section. Nothing changes until its author issues it: the clause binds as "
    "it stands."
)
TO_BE_WRITTEN = "[to be written by the author of the section]"

CITED = {
    "spec": "Specification",
    "job": "Job",
    "submittal": "Submittal",
    "evidence": "Evidence",
    "computed": "Computed",
    "published": "Source",
}
ADDRESSEES = {
    "designer": "the designer",
    "maker": "the maker",
    "laboratory": "the laboratory",
    "building department": "the building department",
    "insurer": "the insurer",
    "deck trade": "the deck trade",
    "contractor": "the contractor",
}

TESTED_KINDS = ("tested report",)
LISTING_KINDS = ("holder's listing", "blanket listing", "evaluation", "product approval", "insurer approval")


def addressee(name: str) -> str:
    return ADDRESSEES.get(name, name)


def a(noun: str) -> str:
    """The noun with its article: "a blanket listing", "an evaluation"."""
    return f"{'an' if noun[:1].lower() in 'aeiou' else 'a'} {noun}"


def subject(path: str) -> str:
    """A subject of the specification in words: "uplift FM rating"."""
    told = path.replace(".", " ").replace("_", " ")
    return " ".join("FM" if word == "fm" else word for word in told.split())
