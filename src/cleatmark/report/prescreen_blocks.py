"""A pre-screen as blocks: what is asked, what to ask before bidding, and the systems by what decides them."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from cleatmark.report import words
from cleatmark.report.amended import told as amendment_told
from cleatmark.report.blocks import (
    Block,
    Box,
    Bullets,
    Column,
    Heading,
    Pairs,
    Paragraph,
    Row,
    Span,
    Spans,
    Table,
    plain,
)
from cleatmark.report.citing import unbroken
from cleatmark.report.clean import whole_sentences
from cleatmark.report.figures import NONE, share
from cleatmark.report.requirement import by_clause
from cleatmark.review.model import STANDING_CAUTIONS
from cleatmark.review.prescreen_model import CHANGES, MEETS, NOT, OUTCOMES, UNREAD, PrescreenHead, Screened

TITLE = "Pre-screen"
ASKED = "What the specification asks"
BEFORE_BID = "What to ask before bidding"
NOTHING_TO_ASK = "Nothing is left open that has to be asked before bidding."
NOTHING_ASKED = "No specification states anything; systems are screened for the code and the site alone."
HEADINGS = {
    MEETS: "Meets what is asked, and holds",
    CHANGES: "Would with these changes",
    NOT: "Does not, or is not shown to, because",
    UNREAD: "Could not be read",
}
HEADROOM = "Headroom is what is left of the allowable uplift in the zone that comes closest to it."
SHOWN_LIMIT = 200
"""So many systems of one outcome are told in a report on paper; all of them in text and JSON."""

_TOLD_LIMIT = 260


def opening(head: PrescreenHead, counts: Mapping[str, int], folder: str) -> list[Block]:
    """What identifies the pre-screen, and how many systems there are of each outcome."""
    job = head.job
    section = " ".join(part for part in (job.section, job.section_title) if part)
    dated = f"dated {job.dated}" if job.dated else ""
    amended = f"as amended by {' and '.join(job.addenda)}" if job.addenda else ""
    editions: dict[str, list[str]] = {}
    for book in head.rulebooks:
        editions.setdefault(book.edition, []).append(book.id)
    rows = (
        ("Job", _list(job.name, job.place, job.file)),
        ("Section", _list(section, job.specification, dated, amended)),
        ("For", _list(job.owner, job.designer)),
        ("Insurer", _list(job.insurer)),
        ("Permit date", _list(job.permit_date)),
        (
            "Rules",
            plain("; ".join(f"{', '.join(ids)} {edition}".strip() for edition, ids in editions.items())),
        ),
        ("Systems", _list(f"{sum(counts.values()):,} in {folder}")),
    )
    told = "; ".join(f"{_COUNTED[outcome]} {counts[outcome]:,}" for outcome in OUTCOMES if counts[outcome])
    return [
        Heading(TITLE, 1, "top"),
        Pairs(tuple(row for row in rows if row[1])),
        Paragraph(plain(f"{told[:1].upper()}{told[1:]}." if told else "No system is on file.")),
    ]


_COUNTED = {MEETS: "meet and hold:", CHANGES: "would with changes:", NOT: "not:", UNREAD: "not read:"}


def _list(*parts: str) -> Spans:
    return plain(", ".join(part for part in parts if part))


def asked(head: PrescreenHead) -> list[Block]:
    """The requirements that bind, by part of the roof; then the questions by whom they go to."""
    made: list[Block] = [Heading(ASKED)]
    if not head.asked:
        made.append(Paragraph(plain(NOTHING_ASKED)))
    columns = (Column("Subject"), Column("Asked"), Column("Where"))
    for group in head.asked:
        rows = [
            Row((plain(title), plain(told), plain(clause, "where")))
            for title, items in group.subjects
            for told, clause in by_clause(items)
        ]
        made.append(Table(group.title, columns, tuple(rows)))
    if head.amendments:
        made.append(Heading(words.AMENDED))
        made.append(Bullets(tuple(amendment_told(item, None, full=False) for item in head.amendments)))
    made.append(Heading(BEFORE_BID))
    if not head.questions:
        made.append(Paragraph(plain(NOTHING_TO_ASK)))
    for request in head.questions:
        made.append(Heading(f"To {words.addressee(request.to)}", 3))
        made.append(Bullets(tuple(plain(question) for question in request.questions), numbered=True))
    notes = [item.message for item in head.advice if not item.question]
    if notes:
        made += [Heading(words.ADVICE, 3), Bullets(tuple(plain(note) for note in dict.fromkeys(notes)))]
    return made


def outcome(name: str, systems: Sequence[Screened], count: int, *, first: bool = True) -> list[Block]:
    """Systems of one outcome; a heading with their number where they are the first of them."""
    made: list[Block] = [Heading(f"{HEADINGS[name]} ({count:,})", 2)] if first else []
    if name == MEETS:
        return [*made, *([Paragraph(plain(HEADROOM))] if first else []), _fit(systems)]
    tell = {CHANGES: _changed, NOT: _unfit, UNREAD: _unread}[name]
    return [*made, Bullets(tuple(tell(one) for one in systems))]


def left_out(count: int) -> Paragraph:
    """Says how many systems a report on paper does not tell."""
    return Paragraph(plain(f"{count:,} more are not told here; the JSON and the text have all of them."))


def closing(head: PrescreenHead) -> list[Block]:
    """Notices and cautions."""
    statuses = [f"Rulebook {book.id}: {book.status}" for book in head.rulebooks if book.status]
    notices = tuple(plain(text) for text in dict.fromkeys([*head.notices, *statuses]))
    made: list[Block] = [Box(words.NOTICES, notices)] if notices else []
    cautions = dict.fromkeys([*STANDING_CAUTIONS, *head.cautions])
    return [*made, Heading(words.CAUTIONS), Bullets(tuple(plain(text) for text in cautions))]


def name_of(one: Screened) -> str:
    """A system as a report names it: what it is, and its file."""
    known = ", ".join(part for part in (one.title or one.id, one.maker) if part)
    return f"{known} ({one.file})" if known else one.file


def spare(one: Screened) -> str:
    """The headroom: "30 %", "-12 %", or a dash where no uplift was compared."""
    if one.headroom is None:
        return NONE
    shown = share(abs(one.headroom))
    return f"-{shown}" if one.headroom < 0 else shown


def _fit(systems: Iterable[Screened]) -> Table:
    columns = (Column("System"), Column("Decided by"), Column("Headroom", right=True))
    rows = tuple(
        Row((plain(name_of(one), "strong"), plain(_decided(one)), plain(spare(one)))) for one in systems
    )
    return Table("", columns, rows)


def _decided(one: Screened) -> str:
    return f"{one.rule_title}: {one.told}" if one.told else one.rule_title


def _changed(one: Screened) -> Spans:
    changes = []
    everywhere = {zone for change in one.changes for zone in change.zones}
    for change in one.changes:
        zones = (
            "" if not change.zones or set(change.zones) == everywhere else f" in {', '.join(change.zones)}"
        )
        changes.append(f"{change.title}{zones}: {change.to} in place of {change.before}")
    left = f" Headroom then {spare(one)}." if one.headroom is not None else ""
    return (
        Span(f"{name_of(one)}. ", "strong"),
        Span(f"{'; '.join(changes)}.{left} As it is, {_verdict(one)}: "),
        *_why(one),
    )


def _unfit(one: Screened) -> Spans:
    also = f" Open too: {', '.join(one.also)}." if one.also else ""
    zone = f" Headroom {spare(one)}." if one.headroom is not None else ""
    return (
        Span(f"{name_of(one)}. ", "strong"),
        Span(f"{_verdict(one)[:1].upper()}{_verdict(one)[1:]}: "),
        *_why(one),
        Span(f"{zone}{also}"),
    )


def _verdict(one: Screened) -> str:
    return (
        f"{one.rule_title} {one.verdict}"
        if one.verdict == "deviates"
        else f"{one.rule_title} is {one.verdict}"
    )


def _why(one: Screened) -> Spans:
    told = whole_sentences(one.told, _TOLD_LIMIT)
    margin = f" {one.margin[:1].upper()}{one.margin[1:]}." if one.margin else ""
    where = tuple(Span(f" [{unbroken(place)}]", "where") for place in one.where if place not in told)
    return (Span(f"{told}{margin}"), *where)


def _unread(one: Screened) -> Spans:
    return (Span(f"{one.file}. ", "strong"), Span("; ".join(one.problems)))
