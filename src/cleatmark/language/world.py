"""What rules are evaluated over: a job, a proposal, its evidence, its zones, and what the specification states."""

from __future__ import annotations

from collections.abc import Mapping
from datetime import date
from typing import NamedTuple

from msgspec import Struct

from cleatmark.facts import Citation, Fact, Stated
from cleatmark.zones import same_zone, zone_key

Facts = Mapping[str, Fact]
NO_FACTS: Facts = {}


class Item(Struct, eq=False, weakref=False):
    """A document, run, condition, zone or clause that rules quantify over.

    block     document, run, condition, zone or clause
    label     as a report names it: "tested report T-118, run 2"
    facts     by full path: "run.held", "document.kind", "tested.panel.width", "zone.required"
    citation  where a missing fact of this thing should have stood
    """

    block: str
    id: str
    label: str
    facts: Facts
    citation: Citation
    runs: tuple[Item, ...] = ()
    conditions: tuple[Item, ...] = ()
    parent: Item | None = None


class World(Struct, eq=False, weakref=False):
    """Everything of one submittal under one job.

    facts      job.* and submittal.* by full path
    variants   the proposal, by the zone whose values it takes; "" where nothing differs by zone
    zone_variant  zone item id -> key of variants
    spec       stated requirements by subject, already within the submittal's roof and scope
    files      scope ("job", "submittal", "spec") -> the citation of the file, for what is missing
    """

    facts: Facts
    variants: Mapping[str, Facts]
    spec: Mapping[str, tuple[Stated, ...]]
    documents: tuple[Item, ...] = ()
    zones: tuple[Item, ...] = ()
    clauses: tuple[Item, ...] = ()
    zone_variant: Mapping[str, str] = {}
    files: Mapping[str, Citation] = {}


def permit_date(world: World) -> date | None:
    """The day by which dated rules and table rows are chosen; None where it is not stated."""
    fact = world.facts.get("job.permit_date")
    return fact.value if fact is not None and isinstance(fact.value, date) else None


def variant_for(zone: str, variants: Mapping[str, object]) -> str:
    """The variant of the proposal that stands in a zone: of that name, of its family, else the first."""
    exact = [variant for variant in variants if zone_key(variant) == zone_key(zone)]
    alike = [variant for variant in variants if variant and same_zone(variant, zone)]
    return (exact or alike or list(variants)[:1])[0]


class Frame(NamedTuple):
    """The things a condition speaks about while it is evaluated."""

    world: World
    proposed: Facts
    variant: str = ""
    zone: Item | None = None
    document: Item | None = None
    run: Item | None = None
    condition: Item | None = None
    clause: Item | None = None

    def enter(self, item: Item) -> Frame:
        """The frame inside `item`; a run brings its document along, a zone the proposal as it is there."""
        world, proposed, variant, zone, document, run, condition, clause = self
        if item.block == "run":
            return Frame(world, proposed, variant, zone, item.parent, item, condition, clause)
        if item.block == "document":
            return Frame(world, proposed, variant, zone, item, None, condition, clause)
        if item.block == "zone":
            variant = world.zone_variant.get(item.id, variant)
            facts = world.variants.get(variant, proposed)
            return Frame(world, facts, variant, item, document, run, condition, clause)
        if item.block == "condition":
            return Frame(world, proposed, variant, zone, item.parent, run, item, clause)
        return Frame(world, proposed, variant, zone, document, run, condition, item)

    def within(self, variant: str, proposed: Facts) -> Frame:
        """The frame with the proposal as it is in one of its variants."""
        return Frame(self.world, proposed, variant, *self[3:])
