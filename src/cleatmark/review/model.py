"""The finished review: all that a report reads. The names of the structs' members are the JSON's."""

from __future__ import annotations

from msgspec import Struct, field

from cleatmark.facts import Citation, Missing, Stated

STANDING_CAUTIONS = (
    "This is not engineering and not a permit decision. The program recommends; the reviewer of record "
    "decides.",
    "The adopted code and the authority having jurisdiction govern over anything said here.",
    "A licensed design professional is to confirm every pressure before it is relied on.",
    "Work at roof edges and the handling of panels in wind are hazardous and outside this review.",
)
"""Printed by every report, whatever else a review has to caution about."""


class Amount(Struct, frozen=True):
    """A value as shown and as a number in the field's unit; `value` None where it is not a number."""

    text: str = ""
    value: float | None = None
    unit: str = ""


class Finding(Struct, frozen=True):
    """One requirement judged.

    verdict   complies, deviates, not shown, does not apply
    basis     specification, code, demand, insurer, practice
    action    stop, resubmit, correct, record
    causes    field paths at the root ("deck.type"); findings with one cause are told together
    ask       whom the missing facts are to be asked of
    rulebook  the chain: "base: stated at rules/base.rules:41", "coastal: amended at ...", "waived by ..."
    trace     the working, a line a step, for the appendix
    """

    rule: str
    title: str
    basis: str
    verdict: str
    action: str
    message: str
    remedy: str = ""
    because: str = ""
    found: Amount = Amount()
    required: Amount = Amount()
    margin: str = ""
    missing: tuple[Missing, ...] = ()
    ask: str = ""
    document: str = ""
    run: str = ""
    roof: str = ""
    zone: str = ""
    causes: tuple[str, ...] = ()
    rulebook: tuple[str, ...] = ()
    citations: tuple[Citation, ...] = ()
    trace: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()


class Difference(Struct, frozen=True):
    """One field of a run beside the proposal. verdict: same, safe side, unsafe side, different kind, not shown."""

    field: str
    title: str
    tested: str
    proposed: str
    verdict: str
    zone: str = ""


class RunRow(Struct, frozen=True):
    """One run of a document. covers: yes, no, not shown (for the whole proposal); covers_zones by zone name."""

    run: str
    page: str
    standard: str
    result: str
    covers: str
    differences: tuple[Difference, ...]
    allowable_psf: float | None = None
    clip_spacing_in: float | None = None
    covers_zones: dict[str, str] = field(default_factory=dict)
    failure_mode: str = ""


class ConditionRow(Struct, frozen=True):
    """One condition of a listing. state: on contract documents, claimed only, contradicted, not confirmed."""

    text: str
    field: str
    state: str
    unusual: bool
    trade: str
    where: str = ""
    usual: str = ""
    why: str = ""
    quantity: str = ""
    hidden_after: str = ""


class Standing(Struct, frozen=True):
    """A document for one requirement. standing: stands, stands with conditions, falls short (it covers, and shows less
    than is asked), does not cover, cannot be judged; `because` has what differs, or what is missing."""

    rule: str
    title: str
    standing: str
    because: tuple[str, ...] = ()


class Evidence(Struct, frozen=True):
    """One document: what kind it is, what it was offered as, its standing, its runs and conditions; `standings` by
    requirement."""

    id: str
    kind: str
    title: str
    standing: str
    runs: tuple[RunRow, ...]
    conditions: tuple[ConditionRow, ...] = ()
    offered_as: str = ""
    body: str = ""
    holder: str = ""
    laboratory: str = ""
    date: str = ""
    expires: str = ""
    lacks: tuple[str, ...] = ()
    claims: tuple[str, ...] = ()
    standings: tuple[Standing, ...] = ()


class ZoneRow(Struct, frozen=True):
    """One roof zone: demand beside what has been shown. Pressures positive, at `level`; ratio = required/allowable."""

    roof: str
    zone: str
    area_sqft: float | None
    level: str
    required_psf: float | None
    allowable_psf: float | None
    clip_spacing_in: float | None
    ratio: float | None
    document: str = ""
    run: str = ""
    refused: str = ""
    steps: tuple[str, ...] = ()
    verdict: str = ""
    source: str = ""


class AttachmentRow(Struct, frozen=True):
    """One zone of the attachment schedule: the widest clip spacing that holds, beside the one proposed.

    verdict       holds, does not hold, not shown
    inward        the inward capacity beside the demand: holds, does not hold, not shown
    inward_demand_psf, inward_allowable_psf, inward_document, inward_run  what that rests on, where it is known
    clip_load_lb  demand x width x spacing; screw_capacity_lb what the clip's screws may carry, by `screw_kind`
    screw_check   advisory: holds, exceeds, not shown; "" where the deck is of a kind that it is not for
    """

    zone: str
    verdict: str
    proposed_in: float | None
    spacing_in: float | None
    area_sqft: float | None
    demand_psf: float | None
    allowable_psf: float | None
    document: str = ""
    run: str = ""
    surface_sqft: float | None = None
    clips: int | None = None
    screws: int | None = None
    inward: str = ""
    clip_load_lb: float | None = None
    screw_capacity_lb: float | None = None
    message: str = ""
    steps: tuple[str, ...] = ()
    inward_demand_psf: float | None = None
    inward_allowable_psf: float | None = None
    inward_document: str = ""
    inward_run: str = ""
    screw_check: str = ""
    screw_kind: str = ""


class Attachment(Struct, frozen=True):
    """The attachment schedule of one roof, and beside it one spacing everywhere."""

    roof: str
    zones: tuple[AttachmentRow, ...]
    everywhere_in: float | None = None
    clips: int | None = None
    everywhere_clips: int | None = None
    notes: tuple[str, ...] = ()


class Compared(Struct, frozen=True):
    """One property: specified, proposed, tested (nearest run), installed, and the two standings."""

    property: str
    title: str
    specified: str
    proposed: str
    tested: str
    to_specified: str
    to_tested: str
    installed: str = ""
    clause: str = ""
    declared: bool = False


class Advice(Struct, frozen=True):
    """Advice on the specification or an input: what was noticed, where, what to ask whom.

    `replacement` is the text proposed for the clause, "" where its author has to find the words.
    """

    id: str
    message: str
    clause: str = ""
    quote: str = ""
    ask: str = ""
    question: str = ""
    citations: tuple[Citation, ...] = ()
    replacement: str = ""


class Amendment(Struct, frozen=True):
    """What an addendum's item did to the specification.

    did  revised, deleted, added, changed; "" where it could not be placed, and `note` says why
    citations  the item, then the paragraph as it stood
    """

    addendum: str
    item: str
    dated: str
    clause: str
    did: str
    before: str = ""
    after: str = ""
    note: str = ""
    quote: str = ""
    citations: tuple[Citation, ...] = ()


class RootCause(Struct, frozen=True):
    """One cause told once: the finding that heads it and the rules of those that follow from it."""

    cause: str
    title: str
    head: Finding
    follows: tuple[Finding, ...] = ()


class Request(Struct, frozen=True):
    """Questions to one addressee.

    `concerns` has, question by question, the rules that it comes from; () where only `rules` as a whole is known.
    """

    to: str
    questions: tuple[str, ...]
    rules: tuple[str, ...] = ()
    concerns: tuple[tuple[str, ...], ...] = ()


class RemedyChange(Struct, frozen=True):
    """One change of a remedy: a field, or a condition, from what it is to what it would be; zones () for all."""

    field: str
    title: str
    before: str
    to: str
    zones: tuple[str, ...] = ()


class Remedy(Struct, frozen=True):
    """A set of changes proven by judging the changed submittal: the rules that it turns, and those still open."""

    changes: tuple[RemedyChange, ...]
    turns: tuple[str, ...]
    leaves: tuple[str, ...]
    message: str


class TippingPoint(Struct, frozen=True):
    """A single change that would turn what complies now."""

    what: str
    now: str
    then: str
    turns: tuple[str, ...]
    message: str


class Resubmitted(Struct, frozen=True):
    """A finding of an earlier review beside this one. state: answered, stands, new, changed."""

    rule: str
    title: str
    state: str
    before: str
    now: str
    message: str = ""


class JobHead(Struct, frozen=True):
    """What identifies the job at the top of a report."""

    name: str
    file: str
    specification: str = ""
    section: str = ""
    section_title: str = ""
    dated: str = ""
    addenda: tuple[str, ...] = ()
    place: str = ""
    permit_date: str = ""
    date: str = ""
    insurer: str = ""
    owner: str = ""
    designer: str = ""
    contractor: str = ""
    units: str = "US"


class SubmittalHead(Struct, frozen=True):
    """What identifies the submittal."""

    id: str
    title: str
    file: str
    sent_by: str = ""
    date: str = ""
    kind: str = ""
    roof: str = ""
    scope: str = ""


class RulebookHead(Struct, frozen=True):
    """A rulebook in force for the review."""

    id: str
    title: str
    edition: str = ""
    status: str = ""
    checked_on: str = ""


class Plan(Struct, frozen=True):
    """A drawing that goes with the review: a roof's zones. `alt` says in words what it shows, or, where nothing
    could be drawn, why."""

    name: str
    alt: str
    svg: str = ""
    png: bytes = b""
    roof: str = ""


class Review(Struct, frozen=True):
    """A finished review. `answers` has "asked" and "site", each a verdict or "not reviewed"."""

    job: JobHead
    submittal: SubmittalHead
    rulebooks: tuple[RulebookHead, ...]
    answers: dict[str, str]
    reasons: dict[str, str]
    disposition: str
    stated: tuple[Stated, ...]
    zones: tuple[ZoneRow, ...]
    evidence: tuple[Evidence, ...]
    findings: tuple[Finding, ...]
    root_causes: tuple[RootCause, ...]
    requests: tuple[Request, ...]
    comparison: tuple[Compared, ...]
    advice: tuple[Advice, ...]
    notices: tuple[str, ...]
    cautions: tuple[str, ...]
    departures_declared: tuple[str, ...] = ()
    departures_found: tuple[str, ...] = ()
    remedies: tuple[Remedy, ...] = ()
    tipping_points: tuple[TippingPoint, ...] = ()
    earlier: tuple[Resubmitted, ...] = ()
    attachment: tuple[Attachment, ...] = ()
    plans: tuple[Plan, ...] = ()
    amendments: tuple[Amendment, ...] = ()


class FlaggedRow(Struct, frozen=True):
    """A clause with a flag: what was noticed, the words, and what it may mean."""

    clause: str
    flag: str
    quote: str
    detail: str = ""


class ReadResult(Struct, frozen=True):
    """A specification read alone: what it asks for, what is open in it, what to ask, what its addenda changed."""

    spec: str
    section: str
    title: str
    dated: str
    stated: tuple[Stated, ...]
    clauses_flagged: tuple[FlaggedRow, ...]
    advice: tuple[Advice, ...]
    notices: tuple[str, ...] = ()
    amendments: tuple[Amendment, ...] = ()
    addenda: tuple[str, ...] = ()
