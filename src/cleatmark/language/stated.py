"""`spec.x` is a set of stated requirements. Which of them bind, which are open, and how one is met."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from cleatmark.facts import Citation, Fact, Missing, Stated, Tri, Value
from cleatmark.fields import Field
from cleatmark.language.compare import compare, words_meet
from cleatmark.language.logic import NO, UNKNOWN, YES, Mark, Res, Val, all_of
from cleatmark.language.world import Frame, Item
from cleatmark.units import Quantity
from cleatmark.zones import same_zone

NOT_BINDING = frozenset({"reference only", "optional", "specifier note", "misuse", "alternate"})
OPEN = (
    "unedited choice",
    "blank",
    "conflict",
    "defers to drawings",
    "delegated design",
    "no value",
)


def binding(stated: Iterable[Stated]) -> tuple[Stated, ...]:
    """What binds: references, permissions, notes and misuses do not."""
    return tuple(item for item in stated if not NOT_BINDING.intersection(item.flags))


def reason_open(item: Stated) -> str:
    """Why a stated requirement has no usable value, or "". One that is told by another field's value has one."""
    for flag in OPEN:
        if flag == "no value" and item.like:
            continue
        if flag in item.flags:
            return flag
    return "" if item.values or item.like or item.relation == "required" else "no value"


def fact_of(item: Stated) -> Fact:
    """The stated requirement as a fact, its clause as citation."""
    value: Value = item.values[0] if len(item.values) == 1 else tuple(_show(v) for v in item.values)
    return Fact(f"spec.{item.subject}", value, item.text, (item.citation, *item.also))


def _show(value: Value) -> str:
    return value.text if isinstance(value, Quantity) else str(value)


def here(frame: Frame, subject: str) -> tuple[Stated, ...]:
    """What the specification states of a subject in the frame's zone: zoned statements only where they fit."""
    found = binding(frame.world.spec.get(subject, ()))
    if frame.variant or frame.zone is not None:
        name = zone_name(frame.zone) if frame.zone is not None else frame.variant
        found = tuple(item for item in found if not item.zone or same_zone(item.zone, name))
    return found


def zone_name(zone: Item) -> str:
    """The zone's name as written."""
    fact = zone.facts.get("zone.name")
    return fact.text if fact is not None else zone.id


def open_missing(subject: str, field: Field | None, items: Iterable[Stated]) -> Missing:
    """What to ask where the specification leaves a subject open; cites every clause of it."""
    opened = [item for item in items if reason_open(item)]
    reasons = sorted({reason_open(item) for item in opened})
    title = field.title if field else subject
    return Missing(
        f"spec.{subject}",
        title,
        ", ".join(reasons),
        "designer",
        "",
        tuple(citation for item in opened for citation in (item.citation, *item.also)),
    )


def value_of(frame: Frame, subject: str, field: Field | None) -> Val:
    """The one value that governs: several stated values give the most demanding of a quantity, else the first."""
    items = [item for item in here(frame, subject) if item.relation != "prohibited"]
    if not items:
        title = field.title if field else subject
        citation = frame.world.files.get("spec", Citation("spec", "the specification"))
        return Val(None, (), (Missing(f"spec.{subject}", title, "not stated", "designer", "", (citation,)),))
    if any(reason_open(item) for item in items):
        return Val(None, tuple(fact_of(item) for item in items), (open_missing(subject, field, items),))
    facts = tuple(fact_of(item) for item in items)
    values = [item.values[0] for item in items if item.values]
    if not values:
        return Val(items[0].text, facts)
    best = values[0]
    for other in values[1:]:
        if (
            isinstance(best, Quantity)
            and isinstance(other, Quantity)
            and compare("more than", other, best) is YES
        ):
            best = other
    return Val(best, facts)


def verbs_of(frame: Frame, subject: str) -> Val:
    """What kinds of evidence the statements of a subject ask for: tested, listed, approved, or "not said"."""
    items = [item for item in here(frame, subject) if item.relation != "prohibited"]
    if not items:
        citation = frame.world.files.get("spec", Citation("spec", "the specification"))
        return Val(
            None, (), (Missing(f"spec.{subject}", subject, "not stated", "designer", "", (citation,)),)
        )
    verbs = tuple(dict.fromkeys(item.verb or "not said" for item in items))
    cited = tuple(citation for item in items for citation in (item.citation, *item.also))
    return Val(verbs, (Fact(f"spec.{subject}.verb", verbs, ", ".join(verbs), cited),))


def meets(
    frame: Frame, subject: str, field: Field | None, proposed: Val, title: str, metal: str, metal_spec: str
) -> Res:
    """`proposed meets spec.subject`: every binding statement's own relation, within the zone."""
    items = here(frame, subject)
    if not items:
        got = value_of(frame, subject, field)
        return Res(UNKNOWN, got.reads, got.missing)
    return all_of(
        [_meets_one(item, frame, subject, field, proposed, title, (metal, metal_spec)) for item in items]
    )


def _like(frame: Frame, path: str) -> Val:
    """What is proposed for the field by which a requirement is told, such as the purlins' spacing for the clips'."""
    fact = frame.proposed.get(f"proposed.{path}")
    if fact is not None:
        return Val(fact.value, (fact,))
    title = path.replace(".", " ").replace("_", " ")
    return Val(None, (), (Missing(f"proposed.{path}", title, "not stated", "contractor"),))


def _meets_one(
    item: Stated,
    frame: Frame,
    subject: str,
    field: Field | None,
    proposed: Val,
    title: str,
    metals: tuple[str, str],
) -> Res:
    fact = fact_of(item)
    reads = (fact, *proposed.reads)
    if reason_open(item):
        return Res(UNKNOWN, reads, (open_missing(subject, field, [item]),))
    if proposed.value is None:
        return Res(UNKNOWN, reads, proposed.missing)
    if item.like and not item.values:
        other = _like(frame, item.like)
        reads = (*reads, *other.reads)
        if other.value is None:
            return Res(UNKNOWN, reads, other.missing)
        item = replace(item, values=(other.value,))
    choices = field.choices if field is not None else ()
    results = [
        _relates(item.relation, proposed.value, value, metals, title, choices) for value in item.values
    ]
    if item.relation == "prohibited":
        truth = NO if YES in results else UNKNOWN if UNKNOWN in results else YES
    elif item.relation in ("one of", "required", "equal"):
        truth = YES if YES in results else UNKNOWN if UNKNOWN in results else NO
    else:
        truth = NO if NO in results else UNKNOWN if UNKNOWN in results else YES
    mark = Mark(
        proposed.reads[-1].text if proposed.reads else _show(proposed.value),
        item.relation,
        item.text,
        truth,
        proposed.value,
        item.values[0] if item.values else None,
        f"proposed.{subject}",
        item.citation.where,
    )
    missing: tuple[Missing, ...] = ()
    if truth is UNKNOWN:
        missing = (
            Missing(
                f"proposed.{subject}",
                field.title if field else title,
                _reason_unknown(mark, item),
                field.ask if field and field.ask else "maker",
                "",
                (item.citation, *item.also),
            ),
        )
    return Res(truth, reads, missing, (mark,))


def _reason_unknown(mark: Mark, item: Stated) -> str:
    if isinstance(mark.left_value, str):
        return f"{mark.left} is proposed where {item.text} is asked for; the words do not tell whether it is the same"
    return f"{mark.left} beside {item.text} cannot be compared: the basis is not stated or differs"


def _relates(
    relation: str,
    proposed: Value,
    stated: Value,
    metals: tuple[str, str],
    title: str,
    choices: tuple[str, ...],
) -> Tri:
    if isinstance(proposed, str) and isinstance(stated, str):
        if stated in choices:
            return YES if proposed == stated else NO
        return words_meet(proposed, stated, title)
    if isinstance(proposed, Quantity) and isinstance(stated, Quantity):
        op = relation if relation in ("at least", "at most") else "is"
        return compare(op, proposed, stated, *metals)
    return compare("is", proposed, stated)
