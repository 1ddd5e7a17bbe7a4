"""What a pass rests on: the single changes that would turn what complies now, each judged again."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import date
from fractions import Fraction

from msgspec.structs import replace

from cleatmark.facts import Citation, Fact
from cleatmark.language.judge import Outcome, verdicts_after
from cleatmark.language.program import Program
from cleatmark.language.world import Item, World
from cleatmark.review.model import TippingPoint, ZoneRow
from cleatmark.review.remedy import Edit, changed, lower_first
from cleatmark.units import Quantity, show

OPEN = ("deviates", "not shown")


def tipping_points(
    program: Program,
    world: World,
    outcomes: tuple[Outcome, ...],
    zones: Iterable[ZoneRow],
    permit: date | None,
) -> tuple[TippingPoint, ...]:
    """Single changes that would turn a complying rule: a listing's condition that is not built, clips at the next
    wider tested spacing, and the growth of demand that each zone can bear."""
    complying = tuple(outcome for outcome in outcomes if outcome.verdict == "complies")
    titles = {rule.id: rule.title for rule in program.rules}
    points: list[TippingPoint] = []
    for what, now, then, edit in _single_changes(world):
        after = verdicts_after(program, complying, changed(world, (edit,)), permit, edit.paths)
        turns = tuple(rule for rule, verdict in after.items() if verdict in OPEN)
        if turns:
            named = ", ".join(lower_first(titles[rule]) for rule in turns)
            message = f"{what}: {then} in place of {now} would turn: {named}."
            points.append(TippingPoint(what, now, then, turns, message))
    points += [point for row in zones if (point := _demand(row)) is not None]
    return tuple(points)


def _single_changes(world: World) -> Iterable[tuple[str, str, str, Edit]]:
    for document in world.documents:
        for condition in document.conditions:
            state = condition.facts.get("condition.state")
            if state is None or state.text != "on contract documents":
                continue
            words = "contradicted"
            fact = Fact("condition.state", words, words, (Citation("computed", "as if not built"),))
            edit = Edit("condition", document.id, fact, state.text, condition)
            what = f'{document.id}, condition "{condition.label}"'
            yield what, "built", "not built", edit
    spacings = sorted(
        {s for d in world.documents for r in d.runs if (s := _spacing(r)) is not None}, key=lambda q: q.value
    )
    for variant, facts in world.variants.items():
        own = facts.get("proposed.clip.spacing")
        if own is None or not isinstance(own.value, Quantity):
            continue
        wider = next((s for s in spacings if s.value > own.value.value), None)
        if wider is not None:
            text = wider.text or show(wider)
            edit = Edit("proposed.clip.spacing", variant, replace(own, value=wider, text=text), own.text)
            where = f" in {variant if variant.startswith('Zone') else f'the {variant}'}" if variant else ""
            yield f"Clip spacing{where}", own.text, text, edit


def _spacing(run: Item) -> Quantity | None:
    fact = run.facts.get("tested.clip.spacing")
    return fact.value if fact is not None and isinstance(fact.value, Quantity) else None


def _demand(row: ZoneRow) -> TippingPoint | None:
    """By how much a zone's demand could grow before its run no longer carries it."""
    if row.verdict != "complies" or not row.ratio or row.required_psf is None or row.allowable_psf is None:
        return None
    growth = Fraction(1) / Fraction(row.ratio).limit_denominator(10_000) - 1
    limit = row.required_psf / row.ratio
    where = f"{row.roof}, {row.zone}" if row.roof else row.zone
    message = (
        f"{where}: demand may grow by {float(growth) * 100:.0f} %, from {row.required_psf:.1f} to {limit:.1f} psf, "
        f"before {row.document}, run {row.run}, no longer carries it."
    )
    return TippingPoint(
        f"Demand, {where}", f"{row.required_psf:.1f} psf", f"over {limit:.1f} psf", ("zone_uplift",), message
    )
