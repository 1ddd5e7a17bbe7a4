"""One review: a job, a submittal and a specification's requirements, judged by a program of rules."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from pathlib import Path

from msgspec import Struct

from cleatmark.facts import Stated
from cleatmark.job.model import Job
from cleatmark.language.judge import Outcome, judge_all
from cleatmark.language.program import Program
from cleatmark.language.world import Item, World
from cleatmark.review import causes, compare, evidence, listing, remedy, tipping, zones
from cleatmark.review.advice import advise
from cleatmark.review.demand import demand, plans
from cleatmark.review.model import (
    Amendment,
    Finding,
    FlaggedRow,
    JobHead,
    Review,
    RulebookHead,
    SubmittalHead,
    ZoneRow,
)
from cleatmark.review.schedule import schedule
from cleatmark.review.site_changes import site_points
from cleatmark.review.tell import finding, notices
from cleatmark.review.world import build, settled
from cleatmark.submittal.model import Submittal

WORST = ("deviates", "not shown", "complies")


class SpecificationRead(Struct, frozen=True, eq=False):
    """What the review needs of a specification: its head, what it states, its flagged clauses, notices."""

    file: str = ""
    section: str = ""
    title: str = ""
    dated: str = ""
    stated: tuple[Stated, ...] = ()
    clauses: tuple[Item, ...] = ()
    flagged: tuple[FlaggedRow, ...] = ()
    notices: tuple[str, ...] = ()
    amendments: tuple[Amendment, ...] = ()
    addenda: tuple[str, ...] = ()


def review(
    job: Job, submittal: Submittal, spec: SpecificationRead | None, program: Program, *, drawn: bool = False
) -> Review:
    """The finished review of one submittal. Without a specification it is for the code and the site alone.

    drawn  whether the roof plans are drawn, for a report on paper
    """
    read = spec or SpecificationRead()
    binding = settled(read.stated)
    load = demand(job, submittal, binding, program.book, drawn=drawn)
    world = build(job, submittal, binding, load.zones, read.clauses, read.file)
    listing.settle(program, world, job.contract)
    permit = job.facts.get("job.permit_date")
    day = permit.value if permit and isinstance(permit.value, date) else None
    outcomes = judge_all(program, world, day)
    findings = tuple(finding(program, outcome) for outcome in outcomes)
    papers = evidence.rows(program, world)
    compared = compare.comparison(program, world, submittal, outcomes)
    proven = remedy.remedies(program, world, outcomes, day)
    zone_rows = zones.rows(program, world, outcomes)
    points = tipping.tipping_points(program, world, outcomes, zone_rows, day)
    declared, undeclared = compare.departures(submittal, compared)
    titles = {field.path: field.title for field in program.book}
    head = job_head(job, read)
    answers = {
        "asked": answer(findings, ("specification", "insurer")) if spec is not None else "not reviewed",
        "site": answer(findings, ("demand", "code")),
    }
    return Review(
        job=head,
        submittal=submittal_head(submittal),
        rulebooks=tuple(rulebook_head(head) for head in program.merged.heads),
        answers=answers,
        reasons={
            "asked": reason(findings, ("specification", "insurer"), answers["asked"]),
            "site": reason(findings, ("demand", "code"), answers["site"]),
        },
        disposition=disposition(program, world, findings),
        stated=read.stated,
        zones=zone_rows,
        evidence=papers,
        findings=findings,
        root_causes=causes.root_causes(findings, titles),
        requests=causes.requests(findings, papers),
        comparison=compared,
        advice=(*advise(program, world), *load.advice),
        plans=plans(load.winds, head.units) if drawn else (),
        notices=(*read.notices, *load.notices, *insurer_notices(job, zone_rows), *all_notices(outcomes)),
        cautions=program.cautions,
        departures_declared=declared,
        departures_found=undeclared,
        remedies=proven,
        tipping_points=(*points, *site_points(job, load, zone_rows, program.book)),
        attachment=schedule(program, world, load, outcomes),
        amendments=read.amendments,
    )


def answer(findings: Iterable[Finding], bases: tuple[str, ...]) -> str:
    """The worst verdict of the findings on these bases; "not reviewed" where nothing was asked on them."""
    verdicts = {f.verdict for f in findings if f.basis in bases}
    return next((verdict for verdict in WORST if verdict in verdicts), "not reviewed")


def reason(findings: Iterable[Finding], bases: tuple[str, ...], verdict: str) -> str:
    """The answer's reason in a sentence: what decides it."""
    if verdict not in ("deviates", "not shown"):
        return ""
    deciding = [remedy.lower_first(f.title) for f in findings if f.basis in bases and f.verdict == verdict]
    words = "Deviations" if verdict == "deviates" else "Still to be shown"
    listed = ", ".join(deciding[:6]) + (f" and {len(deciding) - 6} more" if len(deciding) > 6 else "")
    return f"{words}: {listed}."


def disposition(program: Program, world: World, findings: Iterable[Finding]) -> str:
    """What is recommended, in the words in which submittals are returned; from the rulebook's table."""
    table = program.tables.get("disposition")
    if table is None:
        return ""
    open_ = [f for f in findings if f.verdict in ("deviates", "not shown")]
    actions = {f.action if f.verdict == "deviates" or f.action != "stop" else "resubmit" for f in open_}
    action = next((a for a in causes.ACTIONS if a in actions), "none")
    stamp = world.facts.get("submittal.contractor_stamp")
    if stamp is not None and stamp.value is False:
        action = "unmarked"
    kind = world.facts.get("submittal.kind")
    wanted = (action, kind.text if kind is not None else "submittal")
    for row in table.rows:
        if tuple(key.text if key is not None else "" for key in row.keys) == wanted:
            return row.values[0].text
    return ""


def insurer_notices(job: Job, rows: Iterable[ZoneRow]) -> tuple[str, ...]:
    """On an FM-insured job: the demand is the insurer's to give; what ours would need, as a check."""
    insurer = job.facts.get("job.insurer")
    if insurer is None or insurer.value != "FM":
        return ()
    from cleatmark.uplift.factors import fm_rating_needed

    asked = [(r.zone, fm_rating_needed(r.required_psf).rating) for r in rows if r.required_psf is not None]
    if not asked:
        return ()
    zones = ", ".join(f"{zone} {rating}" for zone, rating in asked)
    text = f"FM insures this job, and the wind demand is the insurer's to give. As a check, ours would need: {zones}."
    return (text,)


def all_notices(outcomes: Iterable[Outcome]) -> tuple[str, ...]:
    """Notices of the rules that were judged, once each."""
    lines = [line for o in outcomes if o.verdict != "does not apply" for line in notices(o.rule.clauses)]
    return tuple(dict.fromkeys(lines))


def job_head(job: Job, read: SpecificationRead) -> JobHead:
    """The job as a report's head shows it."""

    def text(path: str) -> str:
        fact = job.facts.get(f"job.{path}")
        return fact.text if fact is not None else ""

    place = ", ".join(
        part for part in (text("place.city"), text("place.county"), text("place.state")) if part
    )
    return JobHead(
        name=job.name,
        file=Path(job.file).name,
        specification=read.file,
        section=read.section,
        section_title=read.title,
        dated=read.dated,
        addenda=read.addenda,
        place=place,
        permit_date=text("permit_date"),
        date=text("date"),
        insurer=text("insurer"),
        owner=text("owner"),
        designer=text("designer"),
        contractor=text("contractor"),
        units=text("units") or "US",
    )


def submittal_head(submittal: Submittal) -> SubmittalHead:
    """The submittal as a report's head shows it."""

    def text(path: str) -> str:
        fact = submittal.facts.get(f"submittal.{path}")
        return fact.text if fact is not None else ""

    return SubmittalHead(
        id=submittal.id,
        title=text("title"),
        file=Path(submittal.file).name,
        sent_by=text("from"),
        date=text("date"),
        kind=text("kind"),
        roof=text("roof"),
        scope=text("scope"),
    )


def rulebook_head(head: object) -> RulebookHead:
    """A rulebook as a report's head shows it."""
    return RulebookHead(
        getattr(head, "id", ""),
        getattr(head, "title", ""),
        getattr(head, "edition", ""),
        getattr(head, "status", ""),
        getattr(head, "checked_on", ""),
    )
