"""From a job, a submittal and what the specification states to the world that rules are evaluated over."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec.structs import replace

from cleatmark.facts import Citation, Fact, Stated
from cleatmark.job.model import Job
from cleatmark.language.world import Item, World, variant_for
from cleatmark.spec.roof_marks import kin
from cleatmark.submittal.model import Condition, Document, Run, Submittal
from cleatmark.units import Quantity
from cleatmark.yamlfile import magnitude


def build(
    job: Job,
    submittal: Submittal,
    stated: Iterable[Stated],
    zones: tuple[Item, ...],
    flagged: Iterable[Item] = (),
    spec_file: str = "",
) -> World:
    """The world of one submittal, with the zones of its roof. Without a specification `stated` is empty."""
    facts = {**job.for_roof(text_of(submittal.facts.get("submittal.roof"))), **submittal.facts}
    variants: dict[str, Mapping[str, Fact]] = {zone: submittal.in_zone(zone) for zone in submittal.zones}
    if not variants:
        variants = {"": submittal.proposed}
    spec = by_subject(item for item in stated if in_scope(item, submittal))
    files = {
        "job": Citation("job", job.file),
        "submittal": Citation("submittal", submittal.file),
        "spec": Citation("spec", spec_file or "no specification"),
    }
    return World(
        facts=facts,
        variants=variants,
        spec=spec,
        documents=tuple(document(item) for item in submittal.documents),
        zones=zones,
        clauses=tuple(flagged),
        zone_variant={zone.id: variant_for(zone.facts["zone.name"].text, variants) for zone in zones},
        files=files,
    )


def settled(stated: Sequence[Stated]) -> tuple[Stated, ...]:
    """What binds where the specification says that the more stringent governs: amounts that contradict one another all
    bind, so that the most stringent decides. Words cannot be put in such an order and stay a conflict."""
    if not any(item.subject == "precedence" and "stringent" in str(item.values) for item in stated):
        return tuple(stated)
    return tuple(
        replace(item, flags=tuple(flag for flag in item.flags if flag != "conflict"))
        if "conflict" in item.flags and all(isinstance(value, Quantity) for value in item.values)
        else item
        for item in stated
    )


def by_subject(stated: Iterable[Stated]) -> dict[str, tuple[Stated, ...]]:
    """What is stated, by subject. Rules read uplift as positive magnitudes; a pressure inward is none of it."""
    spec: dict[str, tuple[Stated, ...]] = {}
    for item in stated:
        if item.subject == "uplift.pressure":
            if any(isinstance(value, Quantity) and value.value > 0 for value in item.values):
                continue
            item = replace(item, values=tuple(magnitude(value) for value in item.values))
        spec[item.subject] = (*spec.get(item.subject, ()), item)
    return spec


def in_scope(item: Stated, submittal: Submittal) -> bool:
    """Whether a stated requirement is about the submittal's roof and part of the bid."""
    scope = text_of(submittal.facts.get("submittal.scope"))
    roof = text_of(submittal.facts.get("submittal.roof"))
    if item.scope and scope and item.scope.casefold() not in scope.casefold() and item.scope != "base bid":
        return False
    if item.scope and not scope and item.scope.casefold().startswith("alternate"):
        return False
    return not (item.roof and roof and kin(item.roof) != kin(roof))


# Documents ----------------------------------------------------------------------------------------------------------


def document(item: Document) -> Item:
    """A document with its runs and conditions. One that describes no run has its construction as its only one."""
    kind = text_of(item.facts.get("document.kind")) or "document"
    citation = Citation("evidence", f"{kind} {item.id}", text_of(item.facts.get("document.title")))
    facts = dict(item.facts)
    if item.claims:
        words = tuple(claim.text for claim in item.claims)
        cited = tuple(c for claim in item.claims for c in claim.citations)
        facts["document.claims"] = Fact("document.claims", words, "; ".join(words), cited)
    out = Item("document", item.id, f"{kind} {item.id}", facts, citation)
    if item.runs:
        out.runs = tuple(run_item(run, out) for run in item.runs)
    else:
        out.runs = (Item("run", "", out.label, dict(item.specimen), citation, parent=out),)
    out.conditions = tuple(
        condition_item(condition, n, out) for n, condition in enumerate(item.conditions, 1)
    )
    return out


def run_item(run: Run, parent: Item) -> Item:
    """A run with its result and its specimen; cited by document, page and run."""
    page = text_of(run.facts.get("run.page"))
    where = ", ".join(
        part for part in (parent.label, f"page {page}" if page else "", f"run {run.id}") if part
    )
    citation = Citation("evidence", where, result(run.facts))
    label = f"{parent.label}, run {run.id}"
    return Item("run", run.id, label, {**run.facts, **run.tested}, citation, parent=parent)


RESULTS = (
    ("run.class", "class {}"),
    ("run.rating", "{}"),
    ("run.held", "{} held"),
    ("run.failed_at", "failed at {}"),
    ("run.printed_allowable", "{} allowable as printed"),
    ("run.fire_class", "{}"),
    ("run.impact_class", "impact class {}"),
)


def result(facts: Mapping[str, Fact]) -> str:
    """What a run showed, in a few words."""
    return ", ".join(form.format(facts[path].text) for path, form in RESULTS if path in facts)


def condition_item(condition: Condition, number: int, parent: Item) -> Item:
    """A listing's condition as it is written and declared; listing.settle finds what it is about and its state."""
    facts = dict(condition.facts)
    text = text_of(facts.get("condition.text")) or f"condition {number}"
    citation = Citation("evidence", f"{parent.label}, condition {number}", text)
    return Item("condition", str(number), text, facts, citation, parent=parent)


def text_of(fact: Fact | None) -> str:
    return fact.text if fact is not None else ""
