"""One system on file under a job: what decides it, with what headroom, and the least changes that would do."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from pathlib import Path

from msgspec.structs import replace

from cleatmark.facts import Fact
from cleatmark.language.compare import same
from cleatmark.language.judge import Outcome, candidates, first_frame, judge
from cleatmark.language.logic import NO, YES
from cleatmark.language.program import Rule
from cleatmark.language.world import Item, World
from cleatmark.problems import InputError, Problem
from cleatmark.review import causes, listing, remedy, tell, zones
from cleatmark.review.demand import computed_zones, roof_winds
from cleatmark.review.engine import WORST
from cleatmark.review.model import ZoneRow
from cleatmark.review.prescreen_model import CHANGES, MEETS, UNREAD, Screened, SystemChange
from cleatmark.review.prescreen_model import NOT as UNFIT
from cleatmark.review.prescreen_setup import Setup, digest_of
from cleatmark.review.stated_zones import stated_zones
from cleatmark.review.world import build, in_scope
from cleatmark.submittal.load import load_submittal
from cleatmark.submittal.model import Submittal
from cleatmark.wind.report import RoofWind

ASKED = ("specification", "insurer")
SITE = ("demand", "code")
BASES = (*ASKED, *SITE)
"""What makes a system fit or not. Practice is about a submittal's papers, and comes with the submittal."""

ITSELF = ("proposed.panel.profile", "proposed.panel.manufacturer")
"""With another panel it is another system."""

MOST_PROBLEMS = 5
_LARGEST = 2_000_000


class Screen:
    """Screens systems under one setup. What depends on the roof alone is worked out once."""

    def __init__(self, setup: Setup) -> None:
        self._setup = setup
        program = setup.program
        self._rules = tuple(rule for rule in program.rules if rule.clauses.basis in BASES)
        self._stated: dict[tuple[str, str], tuple[Item, ...]] = {}
        self._winds: dict[str, tuple[RoofWind, ...]] = {}

    def file(self, path: Path, name: str) -> Screened:
        """The system that a file states; told as not read where it cannot be used, whatever the reason."""
        data = _bytes(path)
        system, problems = load_submittal(path, self._setup.program.book, text=_text(data))
        if system is None or problems:
            return Screened(name, digest_of(data), UNREAD, problems=_told(problems, name))
        try:
            return self.system(system, name, digest_of(data))
        except InputError as error:
            return Screened(name, digest_of(data), UNREAD, problems=_told(error.problems, name))

    def system(self, system: Submittal, name: str, digest: str) -> Screened:
        """A system judged: fit as it is, fit with changes, or what keeps it from being so."""
        world = self._world(system)
        outcomes = self._judged(world)
        applied = [outcome for outcome in outcomes if outcome.verdict != "does not apply"]
        opened = [outcome for outcome in applied if outcome.verdict in remedy.OPEN]
        known = Screened(
            name,
            digest,
            UNFIT,
            id=system.id,
            title=_fact(system.proposed, "proposed.panel.profile") or _fact(system.facts, "submittal.title"),
            maker=_fact(system.proposed, "proposed.panel.manufacturer"),
            asked=_worst(applied, ASKED),
            site=_worst(applied, SITE),
        )
        if not applied:
            words = "Neither the specification nor the site asks anything that a system can be judged by."
            return replace(known, verdict="not shown", told=words)
        if not opened:
            return self._fit(known, world, outcomes)
        first = self._decided(known, self._explained(_gravest(opened), world))
        apart = _by_zone(world)
        edits = self._least(apart, outcomes, opened)
        if edits is not None:
            return self._changed(first, apart, edits)
        also = tuple(dict.fromkeys(o.rule.title for o in opened if o.rule.id != first.rule))
        return replace(first, also=also, headroom=_headroom(self._closest(world, outcomes)))

    def _world(self, system: Submittal) -> World:
        job, read, program, _ = self._setup
        stated = self._setup.stated
        key = (_fact(system.facts, "submittal.roof"), _fact(system.facts, "submittal.scope"))
        if key not in self._stated:
            within = [item for item in stated if in_scope(item, system)]
            self._stated[key] = stated_zones(job, within, system)
        load = self._stated[key]
        if not load:
            if key[0] not in self._winds:
                self._winds[key[0]] = roof_winds(job, system, program.book, drawn=False)
            load = tuple(zone for wind in self._winds[key[0]] for zone in computed_zones(job, wind, system))
        world = build(job, system, stated, load, (), read.file if read is not None else "")
        listing.settle(program, world, job.contract)
        return world

    def _judged(self, world: World, rules: Sequence[Rule] | None = None) -> tuple[Outcome, ...]:
        program, permit = self._setup.program, self._setup.permit
        wanted = self._rules if rules is None else rules
        frame = first_frame(world)
        return tuple(judge(program, rule, world, permit, explained=False, frame=frame) for rule in wanted)

    def _explained(self, outcome: Outcome, world: World) -> Outcome:
        """The outcome again, with the nearest paper where it asks for one."""
        return judge(self._setup.program, outcome.rule, world, self._setup.permit)

    def _least(
        self, world: World, outcomes: tuple[Outcome, ...], opened: list[Outcome]
    ) -> tuple[remedy.Edit, ...] | None:
        """The smallest set of changes of a world by zone after which nothing is open; None where none was found."""
        program, permit = self._setup.program, self._setup.permit
        if any(not self._has_paper(outcome.rule, world) for outcome in opened):
            return None
        tried = (_real(edits, world) for edits in remedy.candidates(program, world, outcomes))
        sets = {edits: None for edits in tried if edits and not any(edit.path in ITSELF for edit in edits)}
        rules = [outcome.rule for outcome in sorted(opened, key=lambda one: one.rule.hold is None)]
        rest = [outcome.rule for outcome in outcomes if outcome.verdict == "complies"]
        for edits in sorted(sets, key=lambda edits: len({(edit.path, edit.fact.text) for edit in edits})):
            after = remedy.changed(world, edits)
            turned = all(
                judge(program, rule, after, permit, explained=False).verdict not in remedy.OPEN
                for rule in (*rules, *rest)
            )
            if turned:
                return edits
        return None

    def _has_paper(self, rule: Rule, world: World) -> bool:
        """Whether a change of the assembly might do: not where the rule asks for a paper and none of its kind is
        there."""
        shown, frame = rule.shown, first_frame(world)
        if shown is None:
            return True
        runs = candidates(self._setup.program, shown.kind, world)
        return any(not any(test(frame.enter(run)).truth is NO for test in shown.apart) for run in runs)

    def _fit(self, known: Screened, world: World, outcomes: tuple[Outcome, ...]) -> Screened:
        """Nothing is open: the zone with the least to spare decides, or else the first requirement."""
        row = self._closest(world, outcomes)
        decides = next((o for o in outcomes if o.rule.id == zones.RULE and row is not None), None)
        decides = decides or next((o for o in outcomes if o.verdict == "complies"), outcomes[0])
        made = replace(self._decided(known, decides), outcome=MEETS, headroom=_headroom(row))
        return made if row is None else replace(made, zone=row.zone, told=_zone_words(row))

    def _changed(self, first: Screened, world: World, edits: tuple[remedy.Edit, ...]) -> Screened:
        """The requirement that is open decides; the headroom is that of the system as changed."""
        after = remedy.changed(world, edits)
        zone = [rule for rule in self._rules if rule.id == zones.RULE]
        row = self._closest(after, self._judged(after, zone))
        changes = tuple(
            SystemChange(change.title, change.before, change.to, tuple(dict.fromkeys(change.zones)))
            for change in remedy.told(self._setup.program, edits)
        )
        return replace(first, outcome=CHANGES, changes=changes, headroom=_headroom(row))

    def _decided(self, known: Screened, outcome: Outcome) -> Screened:
        told = tell.finding(self._setup.program, outcome)
        where = tuple(dict.fromkeys(c.where for c in told.citations if c.kind == "spec"))
        return replace(
            known,
            verdict=told.verdict,
            rule=told.rule,
            rule_title=told.title,
            basis=told.basis,
            told=told.message,
            where=where,
            margin=told.margin,
            zone=told.zone,
        )

    def _closest(self, world: World, outcomes: tuple[Outcome, ...]) -> ZoneRow | None:
        """The zone whose demand comes closest to what is allowed, or goes beyond it the furthest."""
        rows = [row for row in zones.rows(self._setup.program, world, outcomes) if row.ratio is not None]
        return max(rows, key=lambda row: row.ratio or 0.0, default=None)


def _told(problems: Sequence[Problem], name: str) -> tuple[str, ...]:
    """The first problems of a file, at their places in it."""
    told = tuple(f"{name}:{p.place.line}:{p.place.column}: {p.message}" for p in problems[:MOST_PROBLEMS])
    more = len(problems) - len(told)
    return (*told, f"and {more} more") if more > 0 else told


def _worst(outcomes: Iterable[Outcome], bases: tuple[str, ...]) -> str:
    verdicts = {outcome.verdict for outcome in outcomes if outcome.rule.clauses.basis in bases}
    return next((verdict for verdict in WORST if verdict in verdicts), "not reviewed")


def _gravest(opened: list[Outcome]) -> Outcome:
    """What decides: a value that deviates before a paper that does, then what is only not shown; by its action."""

    def weight(outcome: Outcome) -> tuple[bool, bool, int]:
        action = outcome.rule.clauses.action or "record"
        rank = causes.ACTIONS.index(action) if action in causes.ACTIONS else len(causes.ACTIONS)
        return outcome.verdict != "deviates", outcome.rule.hold is None, rank

    return min(opened, key=weight)


def _real(edits: Iterable[remedy.Edit], world: World) -> tuple[remedy.Edit, ...]:
    """The edits that change something: not those that say in other words what is proposed."""
    return tuple(
        edit
        for edit in edits
        if edit.condition is not None
        or (old := world.variants[edit.variant].get(edit.path)) is None
        or same(old.value, edit.fact.value) is not YES
    )


def _by_zone(world: World) -> World:
    """The world with the proposal apart for every zone, so that a change may be made in one of them."""
    if len(world.variants) > 1 or len(world.zones) < 2:
        return world
    (proposed,) = world.variants.values()
    names = {zone.id: zone.facts["zone.name"].text for zone in world.zones}
    return World(
        facts=world.facts,
        variants=dict.fromkeys(names.values(), proposed),
        spec=world.spec,
        documents=world.documents,
        zones=world.zones,
        clauses=world.clauses,
        zone_variant=names,
        files=world.files,
    )


def _headroom(row: ZoneRow | None) -> float | None:
    return 1 - row.ratio if row is not None and row.ratio is not None else None


def _zone_words(row: ZoneRow) -> str:
    need = f"{row.required_psf:.1f} psf" if row.required_psf is not None else "not shown"
    has = f"{row.allowable_psf:.1f} psf" if row.allowable_psf is not None else "not shown"
    place = ", ".join(part for part in (row.roof, row.zone) if part)
    return f"{place}: demand {need}, allowable {has} by {row.document}, run {row.run}"


def _fact(facts: Mapping[str, Fact], path: str) -> str:
    return facts[path].text if path in facts else ""


def _bytes(path: Path) -> bytes:
    """The file's bytes, as many as count; none where it cannot be opened, which the loader tells."""
    try:
        if not path.is_file():
            return b""
        with path.open("rb") as stream:
            return stream.read(_LARGEST + 1)
    except (OSError, ValueError):
        return b""


def _text(data: bytes) -> str | None:
    """The file's text where it is plainly that; else the loader reads the file and says what it is."""
    if not data or len(data) > _LARGEST or data.startswith((b"PK", b"%PDF")):
        return None
    try:
        return data.decode("utf-8-sig")
    except UnicodeDecodeError:
        return None
