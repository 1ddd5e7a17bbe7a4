"""Values of one subject set beside each other: the same one, a choice, or two that cannot both stand."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence

from msgspec.structs import replace

from cleatmark.facts import Stated, Value
from cleatmark.spec import zones
from cleatmark.spec.found import Found
from cleatmark.spec.wording import word_set
from cleatmark.units import Quantity, orderings

SINGLE = word_set(
    "uplift.class uplift.fm_rating uplift.pressure safety_factor wind.speed wind.exposure wind.risk_category "
    "wind.standard panel.thickness panel.width panel.seam_height panel.yield_strength panel.coating clip.spacing "
    "clip.type panel.seam_type panel.material deck.type support.spacing roof.slope deflection fire.class impact.class "
    "warranty.weathertight warranty.finish warranty.installer warranty.material substitution"
)
"""Subjects that can have one value in one place."""
_AT_ODDS = (
    frozenset(["no substitutions", "or equal"]),
    frozenset(["no substitutions", "comparable product"]),
)
_NO_CONFLICT = frozenset(
    ["reference only", "optional", "prohibited", "unedited choice", "blank", "no value", "defers to drawings",
     "delegated design", "obsolete standard"]
)  # fmt: skip
_LINKS = frozenset([",", "or", "and/or", "and", "/"])
_VERBS = word_set("shall provide furnish install is are be use where when if")


def one_subject(found: Sequence[Found]) -> list[Found]:
    """A quantity is one thing's: where several subjects claim it, the reading that stands first has it."""
    owners: dict[int, str] = {}
    out: list[Found] = []
    for item in found:
        if (
            item.sentence.lexemes[item.first].kind in _WORDS
            or item.first != item.last
            or owners.setdefault(item.first, item.subject) == item.subject
        ):
            out.append(item)
    return out


_WORDS = frozenset(["word", "standard", "coating", "defer", "none", "number"])


def merged(found: Sequence[Found]) -> list[Found]:
    """One requirement for each thing said: several readings of the same words are one, choices are joined."""
    by_sentence: dict[tuple[int, int, str], list[Found]] = {}
    for item in found:
        key = (item.sentence.clause.ordinal, item.sentence.start, item.sentence.quote, item.subject)
        by_sentence.setdefault(key, []).append(item)  # type: ignore[arg-type]
    out: list[Found] = []
    for items in by_sentence.values():
        out.extend(_joined(_narrowed(_united(items))))
    return _once_a_clause(_without_idle_delegation(out))


def _without_idle_delegation(items: list[Found]) -> list[Found]:
    """Where an article states the values, words on how they were found delegate nothing."""
    stated = {(item.subject, item.sentence.clause.article) for item in items if item.values}
    return [
        item
        for item in items
        if "delegated design" not in item.flags or (item.subject, item.sentence.clause.article) not in stated
    ]


def _united(items: Sequence[Found]) -> list[Found]:
    kept: dict[tuple[object, ...], Found] = {}
    for item in sorted(items, key=lambda one: (one.first, one.last)):
        key = (_comparable(item.values), item.zone, item.group if not item.values else -1, _area(item))
        old = kept.get(key)
        if old is None:
            kept[key] = item
        else:
            relation = old.relation if old.relation not in ("equal", "required") else item.relation
            kept[key] = replace(old, relation=relation, flags=_both(old, item), verb=old.verb or item.verb)
    return list(kept.values())


def _narrowed(items: list[Found]) -> list[Found]:
    """ "Mechanically seamed, 180 degrees" is the narrower of the two."""
    out: list[Found] = []
    for item in items:
        mine = set(map(_comparable_one, item.values))
        wider = any(
            other is not item and other.values and mine > set(map(_comparable_one, other.values))
            for other in items
        )
        if not wider:
            out.append(item)
    valued = [item for item in out if item.values]
    if valued:
        out = [item for item in out if item.values or not _covered(item, valued)]
    return out


def _covered(item: Found, valued: Sequence[Found]) -> bool:
    """Whether a deferral stands beside a value of the same thing in one sentence."""
    return bool({"no value", "defers to drawings"} & set(item.flags)) and any(
        one.first < item.first and one.zone == item.zone for one in valued
    )


def _joined(items: list[Found]) -> list[Found]:
    """Values that "or" joins are one requirement with a choice."""
    out: list[Found] = []
    chain: list[Found] = []
    links: list[str] = []

    def close() -> None:
        if len(chain) > 1 and links and links[-1] == "or" and all(link in ("or", ",") for link in links):
            out.append(_choice(chain))
        else:
            out.extend(chain)
        chain.clear()
        links.clear()

    for item in sorted(items, key=lambda one: one.first):
        if chain:
            link = _link(chain[-1], item)
            if link:
                links.append(link)
            else:
                close()
        chain.append(item)
    close()
    return out


def _link(one: Found, other: Found) -> str:
    if one.zone != other.zone or not one.values or not other.values or one.relation == "prohibited":
        return ""
    between = one.sentence.lexemes[one.last + 1 : other.first]
    keys = [lexeme.key for lexeme in between]
    if other.first <= one.last or not keys or len(keys) > 14:
        return ""
    if any(key in _VERBS or key in ";:." for key in keys):
        return ""
    if any(lexeme.kind not in ("word", "punct", "number", "angle", "standard") for lexeme in between):
        return ""
    if "or" in keys or "and/or" in keys:
        return "or"
    return "," if "," in keys and not any(key == "and" for key in keys) else ""


def _choice(chain: Sequence[Found]) -> Found:
    first, last = chain[0], chain[-1]
    values = tuple(dict.fromkeys(value for item in chain for value in item.values))
    lexemes = first.sentence.lexemes
    text = " ".join(first.sentence.text[lexemes[first.first].start : lexemes[last.last].end].split())
    flags = tuple(dict.fromkeys(flag for item in chain for flag in item.flags))
    return replace(first, last=last.last, values=values, text=text, relation="one of", flags=flags)


def _once_a_clause(items: Sequence[Found]) -> list[Found]:
    kept: dict[tuple[object, ...], Found] = {}
    for item in items:
        key = (
            item.subject, item.sentence.clause.address or item.sentence.clause.ordinal, _comparable(item.values), item.zone, _area(item),
            item.scope, item.level, item.relation, item.text if not item.values else "",
        )  # fmt: skip
        old = kept.get(key)
        if old is None:
            kept[key] = item
        else:
            kept[key] = replace(old, flags=_both(old, item), verb=old.verb or item.verb)
    return list(kept.values())


def _both(one: Found, other: Found) -> tuple[str, ...]:
    return tuple(dict.fromkeys((*one.flags, *other.flags)))


def _comparable(values: Iterable[Value]) -> tuple[object, ...]:
    return tuple(map(_comparable_one, values))


def _comparable_one(value: Value) -> object:
    if isinstance(value, Quantity):
        return (value.kind, value.value)
    return value.casefold() if isinstance(value, str) else value


def _area(item: Found) -> object:
    return item.area.value if item.area else None


def levels_by_article(levels: Mapping[str, set[str]], article: str) -> str:
    """The level that an article's text gives its pressures, where it gives one only."""
    found = levels.get(article, set())
    return next(iter(found)) if len(found) == 1 else ""


def flag_conflicts(stated: Sequence[Stated]) -> list[Stated]:
    """Values of one subject in one place that cannot all stand are flagged `conflict`, unless the specification
    says that the more stringent governs."""
    if any(
        item.subject == "precedence" and any("stringent" in str(value) for value in item.values)
        for item in stated
    ):
        return list(stated)
    groups: dict[str, list[int]] = {}
    for index, item in enumerate(stated):
        if item.values and _NO_CONFLICT.isdisjoint(item.flags) and item.subject in SINGLE:
            groups.setdefault(item.subject, []).append(index)
    metals: dict[str, set[str]] = {}
    for item in stated:
        if item.subject == "panel.material":
            metals.setdefault(item.clause, set()).update(map(str, item.values))
    at_odds: set[int] = set()
    for subject, members in groups.items():
        for position, one in enumerate(members):
            for other in members[position + 1 :]:
                if _other_metal(subject, stated[one], stated[other], metals):
                    continue
                if _conflict(subject, stated[one], stated[other]):
                    at_odds |= {one, other}
    return [
        replace(item, flags=(*item.flags, "conflict"))
        if index in at_odds and "conflict" not in item.flags
        else item
        for index, item in enumerate(stated)
    ]


_OF_A_METAL = frozenset(["panel.thickness", "panel.coating", "panel.yield_strength", "panel.finish"])


def _other_metal(subject: str, one: Stated, other: Stated, metals: Mapping[str, set[str]]) -> bool:
    """Whether the two clauses are about sheets of different metals."""
    if subject not in _OF_A_METAL:
        return False
    mine, theirs = metals.get(one.clause, set()), metals.get(other.clause, set())
    return bool(mine) and bool(theirs) and mine.isdisjoint(theirs)


def _conflict(subject: str, one: Stated, other: Stated) -> bool:
    if subject == "substitution":
        return frozenset((*one.values, *other.values)) in _AT_ODDS
    if one.clause == other.clause and one.quote == other.quote:
        return False
    if one.scope != other.scope or not _same_place(one, other):
        return False
    if isinstance(one.values[0], Quantity) and isinstance(other.values[0], Quantity):
        return _amounts_conflict(one, other)
    first, second = {str(v).casefold() for v in one.values}, {str(v).casefold() for v in other.values}
    return first.isdisjoint(second)


def _same_place(one: Stated, other: Stated) -> bool:
    if (one.zone and other.zone and zones.kin(one.zone) != zones.kin(other.zone)) or bool(one.zone) != bool(
        other.zone
    ):
        return False
    if (one.area.value if one.area else None) != (other.area.value if other.area else None):
        return False
    return not (one.level and other.level and one.level != other.level)


def _amounts_conflict(one: Stated, other: Stated) -> bool:
    a, b = one.values[0], other.values[0]
    if not isinstance(a, Quantity) or not isinstance(b, Quantity):
        return False
    if a.kind == "pressure" and (a.value < 0) != (b.value < 0):
        return False
    if len(one.values) > 1 or len(other.values) > 1:
        mine, theirs = {_comparable_one(v) for v in one.values}, {_comparable_one(v) for v in other.values}
        return mine.isdisjoint(theirs)
    try:
        order = orderings(a, b)
    except TypeError:
        return False
    if 0 in order:
        return False
    relations = (one.relation, other.relation)
    if relations == ("at least", "at most"):
        return 1 in order
    if relations == ("at most", "at least"):
        return -1 in order
    if relations in (("equal", "at least"), ("at most", "equal")):
        return order == {-1}
    if relations in (("at least", "equal"), ("equal", "at most")):
        return order == {1}
    return True
