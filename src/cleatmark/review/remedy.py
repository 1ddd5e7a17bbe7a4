"""What would make it comply: the least changes, each set proven by judging the changed submittal again."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from datetime import date
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.facts import Citation, Fact, Stated, Tri, Value
from cleatmark.fields import Field
from cleatmark.language.judge import Outcome, verdicts_after
from cleatmark.language.program import Program
from cleatmark.language.stated import binding, reason_open
from cleatmark.language.world import Frame, Item, World
from cleatmark.review.model import Remedy, RemedyChange
from cleatmark.units import Quantity
from cleatmark.zones import same_zone

OPEN = ("deviates", "not shown")
MOST_SETS = 5
PAPERS_THAT_COVER = (
    "tested report",
    "insurer approval",
    "product approval",
    "evaluation",
    "holder's listing",
)


class Edit(Struct, frozen=True):
    """One change of the submittal: a field of the proposal in a variant, or a condition confirmed."""

    path: str
    variant: str
    fact: Fact
    before: str
    condition: Item | None = None

    @property
    def paths(self) -> tuple[str, ...]:
        """The facts that it changes, as rules read them."""
        return (self.fact.path,) if self.condition is not None else (self.path,)


def remedies(
    program: Program, world: World, outcomes: tuple[Outcome, ...], permit: date | None
) -> tuple[Remedy, ...]:
    """Sets of changes that turn open findings, smallest first; each turns what it says it turns, and nothing worse."""
    if not any(outcome.verdict in OPEN for outcome in outcomes):
        return ()
    found: dict[tuple[tuple[str, str, str], ...], Remedy] = {}
    for edits in list(candidates(program, world, outcomes)):
        if not edits:
            continue
        key = tuple(sorted((edit.path, edit.variant, edit.fact.text) for edit in edits))
        if key in found:
            continue
        remedy = prove(program, world, edits, outcomes, permit)
        if remedy is not None:
            found[key] = remedy
    kept = [r for r in found.values() if not any(_within(o, r) for o in found.values() if o is not r)]
    kept.sort(key=lambda remedy: (len(remedy.changes), len(remedy.leaves), -len(remedy.turns)))
    if not kept:
        return ()
    most = min(kept, key=lambda remedy: (len(remedy.leaves), len(remedy.changes)))
    first = [remedy for remedy in kept if remedy is not most][: MOST_SETS - 1]
    return tuple(sorted((*first, most), key=lambda remedy: (len(remedy.changes), len(remedy.leaves))))


def _within(smaller: Remedy, larger: Remedy) -> bool:
    """Whether another set does as much with fewer changes."""
    return len(smaller.changes) < len(larger.changes) and set(larger.turns) <= set(smaller.turns)


def prove(
    program: Program,
    world: World,
    edits: tuple[Edit, ...],
    outcomes: tuple[Outcome, ...],
    permit: date | None,
) -> Remedy | None:
    """Judges the changed submittal; None where the set turns nothing or makes something worse."""
    before = {o.rule.id: o.verdict for o in outcomes}
    paths = [path for edit in edits for path in edit.paths]
    after = verdicts_after(program, outcomes, changed(world, edits), permit, paths)
    turns = tuple(rule for rule, verdict in before.items() if verdict in OPEN and after[rule] == "complies")
    worse = [rule for rule, verdict in before.items() if verdict == "complies" and after[rule] in OPEN]
    if not turns or worse:
        return None
    leaves = tuple(rule for rule, verdict in after.items() if verdict in OPEN)
    titles = {rule.id: rule.title for rule in program.rules}
    return Remedy(
        changes=tuple(told(program, edits)),
        turns=turns,
        leaves=leaves,
        message=_sentence(
            program, edits, [titles[rule] for rule in turns], [titles[rule] for rule in leaves]
        ),
    )


def changed(world: World, edits: Iterable[Edit]) -> World:
    """The world after the edits. What they do not touch stays the same object, and need not be judged again."""
    variants = dict(world.variants)
    states: dict[int, Fact] = {}
    for edit in edits:
        if edit.condition is not None:
            states[id(edit.condition)] = edit.fact
        else:
            variants[edit.variant] = {**variants[edit.variant], edit.path: edit.fact}
    documents = world.documents
    if states:
        documents = tuple(
            _confirmed(document, states) if any(id(c) in states for c in document.conditions) else document
            for document in world.documents
        )
    return World(
        facts=world.facts,
        variants=variants,
        spec=world.spec,
        documents=documents,
        zones=world.zones,
        clauses=world.clauses,
        zone_variant=world.zone_variant,
        files=world.files,
    )


def _confirmed(document: Item, states: Mapping[int, Fact]) -> Item:
    copy = Item("document", document.id, document.label, document.facts, document.citation)
    copy.runs = tuple(Item("run", r.id, r.label, r.facts, r.citation, parent=copy) for r in document.runs)
    conditions = []
    for condition in document.conditions:
        facts = condition.facts
        if id(condition) in states:
            facts = {**facts, "condition.state": states[id(condition)]}
        conditions.append(
            Item("condition", condition.id, condition.label, facts, condition.citation, parent=copy)
        )
    copy.conditions = tuple(conditions)
    return copy


# Candidates -----------------------------------------------------------------------------------------------------


def candidates(program: Program, world: World, outcomes: tuple[Outcome, ...]) -> Iterable[tuple[Edit, ...]]:
    """Sets worth trying: each open property alone, the tested assembly of each document, and both together."""
    specified = _to_specified(program, world, outcomes)
    by_field: dict[str, list[Edit]] = {}
    for edit in specified:
        by_field.setdefault(edit.path, []).append(edit)
    for own in by_field.values():
        yield tuple(own)
    yield tuple(specified)
    for document in world.documents:
        if _kind(document) not in PAPERS_THAT_COVER:
            continue
        tested = _to_tested(program, world, document)
        confirm = _to_confirm(document)
        for edits in (tested, (*tested, *confirm)):
            yield edits
            yield _joined(specified, edits)


def _joined(first: Iterable[Edit], second: Iterable[Edit]) -> tuple[Edit, ...]:
    out = {(edit.path, edit.variant, id(edit.condition)): edit for edit in first}
    out.update({(edit.path, edit.variant, id(edit.condition)): edit for edit in second})
    return tuple(out.values())


def _to_specified(program: Program, world: World, outcomes: tuple[Outcome, ...]) -> tuple[Edit, ...]:
    """Every field that deviates from the specification, set to what is specified there."""
    edits: list[Edit] = []
    seen: set[str] = set()
    fields = program.book.block("assembly")
    for outcome in outcomes:
        if outcome.verdict != "deviates" or outcome.rule.hold is None:
            continue
        for mark in outcome.res.marks:
            subject = mark.path.removeprefix("proposed.")
            if mark.truth is not Tri.NO or subject not in fields or subject in seen:
                continue
            seen.add(subject)
            for variant, facts in world.variants.items():
                stated = [
                    s
                    for s in binding(world.spec.get(subject, ()))
                    if s.values
                    and not reason_open(s)
                    and s.relation != "prohibited"
                    and _in_zone(s.zone, variant)
                ]
                if not stated:
                    continue
                old = facts.get(f"proposed.{subject}")
                value, text = _as_asked(fields[subject], stated)
                cited = tuple(dict.fromkeys(one.citation for one in stated if one.text in text))
                new = Fact(f"proposed.{subject}", value, text, cited or (stated[0].citation,))
                if old is None or old.text != new.text:
                    edits.append(Edit(new.path, variant, new, old.text if old else "not stated"))
    return tuple(edits)


def _as_asked(field: Field, stated: list[Stated]) -> tuple[Value, str]:
    """The value that is asked for; of a text that the specification states piece by piece ("PVDF", "AAMA 621"), all
    of its pieces. The changed world is judged like any other, so a text that says too much turns nothing."""
    first = stated[0].values[0]
    pieces = [one.values[0] for one in stated if one.relation == "required" and len(one.values) == 1]
    words = [piece for piece in pieces if isinstance(piece, str)]
    if field.kind == "text" and len(words) == len(stated) > 1:
        text = ", ".join(dict.fromkeys(words))
        return text, text
    return first, _text(first, stated[0].text)


def _to_tested(program: Program, world: World, document: Item) -> tuple[Edit, ...]:
    """What keeps the document's runs from covering, set to what was tested; in each zone by the run that carries it
    with the fewest changes."""
    edits: list[Edit] = []
    allowable = program.get("allowable")
    for variant, facts in world.variants.items():
        frame = Frame(world, facts, variant)
        need = _required(world, variant)
        best: tuple[int, Fraction, list[Edit]] | None = None
        for run in document.runs:
            value = allowable(frame.enter(run)).value if allowable is not None else None
            has = value.value if isinstance(value, Quantity) else None
            if need is not None and has is not None and has < need:
                continue
            changes = [
                change
                for change in program.coverage.changes(frame.enter(run), run)
                if change.res.truth is not Tri.YES
            ]
            own = [
                Edit(
                    f"proposed.{c.substitution.field.path}",
                    variant,
                    _as_proposed(fact),
                    c.proposed or "not stated",
                )
                for c in changes
                if (fact := run.facts.get(f"tested.{c.substitution.field.path}")) is not None
            ]
            if len(own) < len(changes):
                continue
            score = (len(own), has or Fraction(0), own)
            if best is None or score[:2] < best[:2]:
                best = score
        if best is None:
            return ()
        edits += best[2]
    return tuple(edits)


def _to_confirm(document: Item) -> tuple[Edit, ...]:
    edits = []
    for condition in document.conditions:
        state = condition.facts.get("condition.state")
        if state is None or state.value == "on contract documents":
            continue
        words = "on contract documents"
        fact = Fact("condition.state", words, words, (Citation("computed", "as if confirmed"),))
        edits.append(Edit(f"condition {condition.id}", document.id, fact, state.text, condition))
    return tuple(edits)


def _required(world: World, variant: str) -> Fraction | None:
    for zone in world.zones:
        if world.zone_variant.get(zone.id) == variant:
            fact = zone.facts.get("zone.required")
            value = fact.value if fact is not None else None
            if isinstance(value, Quantity):
                return value.value * Fraction(6, 10) if value.level == "strength" else value.value
    return None


def _in_zone(zone: str, variant: str) -> bool:
    return not zone or not variant or same_zone(zone, variant)


def _as_proposed(fact: Fact) -> Fact:
    return replace(fact, path=fact.path.replace("tested.", "proposed.", 1))


def _text(value: Value, text: str) -> str:
    """A value as it is told: a word that the field knows, not the phrase that it was read from."""
    if isinstance(value, Quantity) and value.text:
        return value.text
    return value if isinstance(value, str) else text


def _kind(document: Item) -> str:
    fact = document.facts.get("document.kind")
    return fact.text if fact is not None else ""


# Words ----------------------------------------------------------------------------------------------------------


def told(program: Program, edits: Iterable[Edit]) -> Iterable[RemedyChange]:
    fields = program.book.block("assembly")
    grouped: dict[tuple[str, str], list[Edit]] = {}
    for edit in edits:
        grouped.setdefault((edit.path, edit.fact.text), []).append(edit)
    for (path, to), group in grouped.items():
        if group[0].condition is not None:
            condition = group[0].condition
            yield RemedyChange(path, f"{condition.label} ({group[0].variant})", group[0].before, to, ())
            continue
        field = fields[path.removeprefix("proposed.")]
        zones = tuple(edit.variant for edit in group if edit.variant)
        yield RemedyChange(field.path, field.title, group[0].before, to, zones)


def _sentence(program: Program, edits: tuple[Edit, ...], turns: list[str], leaves: list[str]) -> str:
    parts = []
    changes = list(told(program, edits))
    everywhere = {zone for change in changes for zone in change.zones}
    for change in changes:
        zones = "" if set(change.zones) == everywhere or not change.zones else f" ({', '.join(change.zones)})"
        if change.to == "on contract documents":
            parts.append(f'confirm on contract documents: "{change.title}"')
        else:
            parts.append(f"{lower_first(change.title)} {change.to}{zones} (now {change.before})")
    done = f"With {'; '.join(parts)}, these comply: {', '.join(lower_first(title) for title in turns)}."
    if leaves:
        return f"{done} Still open: {', '.join(lower_first(title) for title in leaves)}."
    return f"{done} Nothing else is left open."


def lower_first(title: str) -> str:
    """A title inside a sentence: its first letter small, unless it begins with an acronym."""
    return title if title[1:2].isupper() else title[:1].lower() + title[1:]
