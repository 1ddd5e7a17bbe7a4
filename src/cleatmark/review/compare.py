"""Property by property: specified, proposed, tested by the nearest run, installed; and the two standings."""

from __future__ import annotations

from cleatmark.facts import Fact, Stated, Tri
from cleatmark.fields import Field
from cleatmark.language.judge import Outcome, first_frame, nearest_run
from cleatmark.language.logic import Val
from cleatmark.language.program import Program
from cleatmark.language.stated import binding, meets
from cleatmark.language.world import Frame, Item, World
from cleatmark.review.model import Compared
from cleatmark.submittal.model import Submittal

STANDING = {Tri.YES: "same", Tri.NO: "unsafe side", Tri.UNKNOWN: "not shown"}


def comparison(
    program: Program, world: World, submittal: Submittal, outcomes: tuple[Outcome, ...]
) -> tuple[Compared, ...]:
    """A row for every property that is specified, proposed or tested, in the order of the fields."""
    frame = first_frame(world)
    reports = [run for d in world.documents for run in d.runs if _kind(d) == "tested report"]
    runs = reports or [run for d in world.documents for run in d.runs]
    nearest = next((o.nearest for o in outcomes if o.nearest is not None and o.rule.shown is not None), None)
    nearest = nearest or nearest_run(program, frame, runs)
    declared = {departure.field for departure in submittal.departures}
    out: list[Compared] = []
    for field in program.book.block("assembly").values():
        for variant in _variants(frame, field):
            row = _row(program, frame, submittal, nearest, field, variant)
            if row is not None:
                out.append(_declare(row, field.path in declared))
    return tuple(out)


def _variants(frame: Frame, field: Field) -> list[str]:
    """The zones in which the field is proposed apart; one unnamed where it is the same everywhere."""
    world = frame.world
    path = f"proposed.{field.path}"
    values = [facts.get(path) for facts in world.variants.values()]
    if all(value == values[0] for value in values):
        return [next(iter(world.variants))]
    return list(world.variants)


def _row(
    program: Program, frame: Frame, submittal: Submittal, nearest: Item | None, field: Field, variant: str
) -> Compared | None:
    world = frame.world
    inside = frame._replace(variant=variant, proposed=world.variants[variant])
    proposed = inside.proposed.get(f"proposed.{field.path}")
    stated = [s for s in binding(world.spec.get(field.path, ())) if _fits(s, inside, variant)]
    run = _run_for(program, inside, nearest)
    tested = run.facts.get(f"tested.{field.path}") if run is not None else None
    if proposed is None and not stated and tested is None:
        return None
    apart = len(_variants(frame, field)) > 1
    title = f"{field.title}, {variant}" if apart else field.title
    to_tested = ""
    if run is not None:
        changes = program.coverage.changes(inside.enter(run), run)
        to_tested = next((c.side for c in changes if c.substitution.field.path == field.path), "")
    installed = submittal.installed.get(f"installed.{field.path}")
    return Compared(
        property=field.path,
        title=title,
        specified="; ".join(dict.fromkeys(_asked(item) for item in stated)),
        proposed=proposed.text if proposed is not None else "",
        tested=tested.text if tested is not None else "",
        to_specified=_to_specified(program, inside, field, proposed, stated),
        to_tested=to_tested,
        installed=installed.text if installed is not None else "",
        clause="; ".join(dict.fromkeys(item.clause for item in stated)),
    )


def _fits(item: Stated, frame: Frame, variant: str) -> bool:
    from cleatmark.zones import same_zone

    return not item.zone or not variant or same_zone(item.zone, variant)


def _run_for(program: Program, frame: Frame, nearest: Item | None) -> Item | None:
    """Of the nearest document's runs, the one nearest to the proposal as it is in this zone."""
    if nearest is None or nearest.parent is None:
        return nearest
    best, least = nearest, (1000, 1000)
    for run in nearest.parent.runs:
        changes = program.coverage.changes(frame.enter(run), run)
        score = (
            sum(c.res.truth is Tri.NO for c in changes),
            sum(c.res.truth is Tri.UNKNOWN for c in changes),
        )
        if score < least:
            best, least = run, score
    return best


def _to_specified(
    program: Program, frame: Frame, field: Field, proposed: Fact | None, stated: list[Stated]
) -> str:
    if not stated:
        return ""
    value = Val(proposed.value, (proposed,)) if proposed is not None else Val(None)
    metal = frame.proposed.get("proposed.panel.material")
    word = metal.text if metal is not None and field.path.startswith("panel.") else ""
    res = meets(frame, field.path, field, value, field.title, word, word)
    if res.truth is Tri.NO:
        return "unsafe side" if field.less else "different kind"
    if res.truth is Tri.YES and proposed is not None and field.less:
        same = all(proposed.text.casefold() == item.text.casefold() for item in stated)
        return (
            "same"
            if same or not all(item.relation in ("at least", "at most") for item in stated)
            else "safe side"
        )
    return STANDING[res.truth]


def _asked(item: Stated) -> str:
    words = {"at least": "at least ", "at most": "at most ", "prohibited": "not "}
    return f"{words.get(item.relation, '')}{item.text}" if item.text else ", ".join(item.flags)


def _declare(row: Compared, declared: bool) -> Compared:
    from msgspec.structs import replace

    return replace(row, declared=declared)


def _kind(document: Item) -> str:
    fact = document.facts.get("document.kind")
    return fact.text if fact is not None else ""


def departures(submittal: Submittal, rows: tuple[Compared, ...]) -> tuple[tuple[str, ...], tuple[str, ...]]:
    """Departures that the submitter declares, and those found but not declared."""
    declared = tuple(d.text for d in submittal.departures)
    fields = {d.field for d in submittal.departures}
    found: list[str] = []
    for row in rows:
        if row.property in fields:
            continue
        bad = ("unsafe side", "different kind")
        if row.to_specified in bad:
            found.append(f"{row.title}: {row.specified} specified ({row.clause}), {row.proposed} proposed")
        elif row.to_tested in bad:
            found.append(f"{row.title}: {row.tested} tested, {row.proposed} proposed")
    return declared, tuple(found)
