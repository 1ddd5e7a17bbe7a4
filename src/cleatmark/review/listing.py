"""A listing's conditions: what each is about, and whether the contract documents show it.

A condition that names no field is read with the rulebooks' readings `in listing_conditions`; one that none of them
reads is kept as text. Its state follows from what stands on contract documents before anybody's word for it.
"""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator, Mapping

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.facts import Citation, Fact, Stated, Tri, Value
from cleatmark.job.model import ContractFact
from cleatmark.language.compare import ALLOWED, same, within, words_meet
from cleatmark.language.logic import NO, UNKNOWN, YES
from cleatmark.language.program import Program
from cleatmark.language.stated import binding, reason_open
from cleatmark.language.world import Item, World
from cleatmark.review.quantities import text
from cleatmark.review.specimens import body, settle_run
from cleatmark.units import Quantity, orderings

_EITHER = re.compile(r"\d\S*\s*(?:in|ga|gauge|ft|mm)?\.?\s+or\s+(?:No\.\s*)?\d", re.IGNORECASE)


class Asked(Struct, frozen=True):
    """What a condition asks of a field: values that are alternatives, and the relation where its text has one."""

    field: str
    values: tuple[Value, ...]
    words: str
    relation: str = ""
    partly_read: bool = False


def settle(program: Program, world: World, contract: Iterable[ContractFact]) -> None:
    """Makes the documents of a new world ready: runs, then conditions by field, then their states."""
    shown = tuple(contract)
    read = read_texts(program, (text(c, "condition.text") for d in world.documents for c in unread(d)))
    for document in world.documents:
        document.facts = {**document.facts, **body(program, document)}
        for run in document.runs:
            settle_run(world, document, run)
        settled: list[Item] = []
        for condition in document.conditions:
            for asked in asked_of(condition, read):
                part = about(condition, asked, len(settled) + 1)
                part.facts = {**part.facts, **state_of(program, world, shown, part, asked)}
                settled.append(part)
        document.conditions = tuple(settled)


# What it is about -----------------------------------------------------------------------------------------------


def unread(document: Item) -> tuple[Item, ...]:
    """The conditions that name no field."""
    return tuple(item for item in document.conditions if "condition.field" not in item.facts)


def asked_of(condition: Item, read: Mapping[str, tuple[Asked, ...]]) -> tuple[Asked, ...]:
    """The fields that a condition is about: as the file says, else as its text is read; one without a field else."""
    field, value = condition.facts.get("condition.field"), condition.facts.get("condition.value")
    if field is not None:
        return (Asked(field.text, (value.value,) if value else (), value.text if value else ""),)
    return read.get(text(condition, "condition.text"), ()) or (Asked("", (), ""),)


def read_texts(program: Program, texts: Iterable[str]) -> dict[str, tuple[Asked, ...]]:
    """What the texts of conditions ask for, by field. Each is read apart from the others."""
    written = tuple(dict.fromkeys(words for words in texts if words.strip()))
    if not written:
        return {}
    from cleatmark.review.reading import condition_readings
    from cleatmark.spec.apply import apply_readings
    from cleatmark.spec.clauses import Clause, Section, Specification

    sections = []
    for number, words in enumerate(written):
        sentence = f"{words.strip().rstrip('.')}."
        clause = Clause(str(number), "", 0, sentence[:1].upper() + sentence[1:], number)
        sections.append(Section(str(number), "", (clause,), True))
    found: dict[str, dict[str, Asked]] = {words: {} for words in written}
    whole = Specification("", tuple(sections))
    for stated in apply_readings(whole, condition_readings(program), program.book).stated:
        if stated.values:
            words = written[int(stated.clause)]
            earlier = found[words].get(stated.subject)
            found[words][stated.subject] = _asked(stated, earlier, words)
    return {words: tuple(own.values()) for words, own in found.items()}


def _asked(stated: Stated, earlier: Asked | None, words: str) -> Asked:
    """One statement of a condition's text, with those of the same field before it as alternatives."""
    values = (*(earlier.values if earlier else ()), *stated.values)
    shown = " or ".join(dict.fromkeys(_words(value) for value in values))
    relation = stated.relation if stated.relation in ("at least", "at most") else ""
    partly = len(values) == 1 and bool(_EITHER.search(words))
    return Asked(stated.subject, values, shown, relation, partly)


def about(condition: Item, asked: Asked, number: int) -> Item:
    """The condition for one of its fields."""
    facts = dict(condition.facts)
    citations = facts["condition.text"].citations if "condition.text" in facts else (condition.citation,)
    if asked.field and "condition.field" not in facts:
        facts["condition.field"] = Fact("condition.field", asked.field, asked.field, citations)
        facts["condition.value"] = Fact("condition.value", asked.values[0], asked.words, citations)
    return Item("condition", str(number), condition.label, facts, condition.citation, parent=condition.parent)


def _words(value: Value) -> str:
    return value.text.rstrip(".") if isinstance(value, Quantity) else str(value)


# Its state ------------------------------------------------------------------------------------------------------


def state_of(
    program: Program, world: World, contract: tuple[ContractFact, ...], condition: Item, asked: Asked
) -> dict[str, Fact]:
    """State and place: by contract documents, job and specification, else as declared, else by the proposal. A word
    about another trade's work is a claim. Whether the proposal keeps to it is judged with coverage."""
    declared = condition.facts.get("condition.state")
    for fact in shown_for(world, contract, asked.field):
        truth = meets(program, world, asked, fact)
        where = fact.citations[0].where if fact.citations else ""
        if truth is YES or (truth is NO and not asked.partly_read):
            state = "on contract documents" if truth is YES else "contradicted"
            return _state(state, where, fact.citations, condition)
    by, trade = text(condition, "condition.by"), text(condition, "condition.trade")
    if declared is None:
        offered = _offered(program, world, asked)
        state = {NO: "contradicted", YES: "claimed only"}.get(
            offered, "claimed only" if by else "not confirmed"
        )
        where = "the assembly proposed" if offered is not UNKNOWN else by
        return _state(state, where, (condition.citation,), condition)
    if declared.text == "on contract documents" and by and trade and trade.casefold() not in by.casefold():
        return _state("claimed only", by, declared.citations, condition)
    return {}


def _offered(program: Program, world: World, asked: Asked) -> Tri:
    """NO where the proposal departs from what is asked in some zone, YES where it meets it in all."""
    facts = [v.get(f"proposed.{asked.field}") for v in world.variants.values()] if asked.field else []
    found = [meets(program, world, asked, fact) if fact is not None else UNKNOWN for fact in facts]
    if NO in found and not asked.partly_read:
        return NO
    return YES if found and all(truth is YES for truth in found) else UNKNOWN


def shown_for(world: World, contract: tuple[ContractFact, ...], field: str) -> Iterator[Fact]:
    """What stands written of a field, beside the submittal: contract documents, job, specification."""
    roof = world.facts.get("submittal.roof")
    for item in contract:
        if field and item.field == field and (not item.roof or roof is None or item.roof == roof.text):
            yield replace(
                item.fact, citations=(Citation("job", item.where, item.fact.text), *item.fact.citations)
            )
    job = world.facts.get(f"job.{field}")
    if job is not None:
        yield job
    for stated in binding(world.spec.get(field, ())):
        if stated.values and not reason_open(stated) and stated.relation in ("equal", "required"):
            yield Fact(f"spec.{field}", stated.values[0], stated.text, (stated.citation,))


def meets(program: Program, world: World, asked: Asked, fact: Fact) -> Tri:
    """Whether a fact is what the condition asks, or to the safe side of it by the field's substitution rule."""
    results = [_meets(program, world, asked, fact.value, wanted) for wanted in asked.values]
    return YES if YES in results else UNKNOWN if UNKNOWN in results or not results else NO


def _meets(program: Program, world: World, asked: Asked, value: Value, wanted: Value) -> Tri:
    field = program.book.block("spec").get(asked.field)
    if isinstance(value, Quantity) and isinstance(wanted, Quantity):
        rule = next((r for r in program.coverage.substitutions if r.field.path == asked.field), None)
        allowed = ALLOWED.get(asked.relation, rule.allowed if rule is not None else ALLOWED["is"])
        metals = [v.get("proposed.panel.material") for v in world.variants.values()]
        metal = next((m.text for m in metals if m is not None and asked.field.startswith("panel.")), "")
        return within(orderings(value, wanted, metal_a=metal, metal_b=metal), allowed)
    if isinstance(value, str) and isinstance(wanted, str) and field is not None and not field.choices:
        return words_meet(value, wanted, field.title)
    return same(value, wanted)


def _state(state: str, where: str, citations: tuple[Citation, ...], condition: Item) -> dict[str, Fact]:
    """The state as facts; the place that the file names stands where it declares the same."""
    declared = condition.facts.get("condition.state")
    kept = declared is not None and declared.text == state and "condition.where" in condition.facts
    out = {"condition.state": Fact("condition.state", state, state, citations)}
    if where and not kept:
        out["condition.where"] = Fact("condition.where", where, where, citations)
    return out
