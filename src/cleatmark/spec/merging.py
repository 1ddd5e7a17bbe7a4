"""Values found, set beside each other: the same thing said twice, the narrower of two, a choice."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction

from msgspec.structs import replace

from cleatmark.facts import Value
from cleatmark.spec import values
from cleatmark.spec.found import Found
from cleatmark.spec.scopes import Scope
from cleatmark.spec.wording import word_set
from cleatmark.units import Quantity

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
    by_sentence: dict[tuple[int, int, str, str], list[Found]] = {}
    for item in _without_told_elsewhere(_without_edge_cleats(found)):
        key = (item.sentence.clause.ordinal, item.sentence.start, item.sentence.quote, item.subject)
        by_sentence.setdefault(key, []).append(item)
    out: list[Found] = []
    for items in by_sentence.values():
        out.extend(_joined(_narrowed(_crossed(_without_second(_without_ribs(_united(items)))))))
    kept = _once_a_clause(_without_idle_delegation(out))
    return sorted(kept, key=lambda item: (item.sentence.clause.ordinal, item.sentence.start, item.first))


def _without_idle_delegation(items: list[Found]) -> list[Found]:
    """Where an article states the values, and not only a least one, words on how they were found delegate nothing."""
    stated = {
        (item.subject, item.sentence.clause.article)
        for item in items
        if item.values and (item.zone or item.relation != "at least")
    }
    return [
        item
        for item in items
        if "delegated design" not in item.flags or (item.subject, item.sentence.clause.article) not in stated
    ]


def _without_told_elsewhere(items: Sequence[Found]) -> list[Found]:
    """A rating or warranty that a sentence asks for without a value has one, where the section gives it: it is told
    as valueless only where nothing else is found of it."""
    told = {(item.subject, item.scope) for item in items if not _unvalued(item)}
    told |= {(subject, Scope()) for subject, _ in told}
    out: list[Found] = []
    asked: set[tuple[str, Scope, int]] = set()
    for item in items:
        key = (item.subject, item.scope)
        if _unvalued(item):
            if key in told or (item.subject, item.scope, item.sentence.clause.ordinal) in asked:
                continue
            asked.add((item.subject, item.scope, item.sentence.clause.ordinal))
        out.append(item)
    return out


def _without_edge_cleats(items: Sequence[Found]) -> Sequence[Found]:
    """Cleats hold the pans of a roof that has no clips; where a section has clips, its cleats are of edges and
    flashings."""
    cleats = [item.subject.startswith("clip.") and _names(item, "cleat") for item in items]
    clips = any(item.subject.startswith("clip.") and _names(item, "clip") for item in items)
    return [item for item, of_cleat in zip(items, cleats, strict=True) if not (of_cleat and clips)]


def _names(item: Found, word: str) -> bool:
    """Whether a sentence speaks of the one and not of the other: clips or cleats."""
    other = "cleat" if word == "clip" else "clip"
    return word in item.sentence.line.atoms and other not in item.sentence.line.atoms


def _unvalued(item: Found) -> bool:
    """Whether a sentence asks for an amount and gives none, and leaves it to nobody."""
    return "no value" in item.flags and item.sentence.lexemes[item.first].kind != "none"


def _united(items: Sequence[Found]) -> list[Found]:
    kept: dict[tuple[object, ...], Found] = {}
    for item in sorted(items, key=lambda one: (one.first, one.last)):
        group = item.group if not item.values else -1
        key = (_comparable(item.values), item.zone, group, _area(item), item.scope)
        old = kept.get(key)
        if old is None:
            kept[key] = item
        else:
            relation = old.relation if old.relation not in ("equal", "required") else item.relation
            kept[key] = replace(old, relation=relation, flags=_both(old, item), verb=old.verb or item.verb)
    return list(kept.values())


_SAME_GRADE = Fraction(5, 100)
_GRADE_AGAIN = word_set("( [ / grade gr ) ]")


_COVER = word_set("coverage cover covering wide width")
_RIBS = word_set("rib corrugation")


def _without_ribs(items: list[Found]) -> list[Found]:
    """Where a sentence says what a sheet covers, how far its ribs stand apart is no width of it."""
    if len(items) < 2 or items[0].subject != "panel.width":
        return items
    words = [one.key for one in items[0].sentence.lexemes]
    covers = [item for item in items if not _COVER.isdisjoint(words[item.last + 1 : item.last + 3])]
    ribbed = [
        item
        for item in items
        if item not in covers and not _RIBS.isdisjoint(words[max(item.first - _RIB, 0) : item.first])
    ]
    return [item for item in items if item not in ribbed] if covers else items


_RIB = 6
"""Tokens at most from a rib to how far it stands from the next."""


def _without_second(items: list[Found]) -> list[Found]:
    """What is said again in another unit is the same: "Grade 50 (Grade 340)", "24 gauge steel (0.0239 inch)"."""
    out: list[Found] = []
    for item in items:
        last = out[-1] if out else None
        if last is not None and (_same_grade(last, item) or _same_sheet(last, item)):
            continue
        out.append(item)
    return out


def _same_grade(one: Found, other: Found) -> bool:
    if not one.values or not other.values or one.last >= other.first:
        return False
    mine, again = one.values[0], other.values[0]
    if not (
        isinstance(mine, Quantity) and isinstance(again, Quantity) and mine.kind == again.kind == "stress"
    ):
        return False
    between = one.sentence.lexemes[one.last + 1 : other.first]
    return abs(mine.value - again.value) <= mine.value * _SAME_GRADE and all(
        lexeme.key in _GRADE_AGAIN for lexeme in between
    )


def _same_sheet(one: Found, other: Found) -> bool:
    """Whether a thickness in parentheses is the gauge before it, with the metal between them."""
    if len(one.values) != 1 or len(other.values) != 1 or one.last >= other.first:
        return False
    mine, again = one.values[0], other.values[0]
    if not (isinstance(mine, Quantity) and isinstance(again, Quantity)):
        return False
    between = [lexeme.key for lexeme in one.sentence.lexemes[one.last + 1 : other.first]]
    opened = between[-1:] == ["("] and len(between) <= _METAL_BETWEEN
    return opened and mine.kind == "gauge" and again.kind == "thickness" and values.is_gauge(again, mine)


_METAL_BETWEEN = 4
"""Tokens at most, the parenthesis among them: "24 gauge stainless steel sheet (0.025 inch)"."""


def _crossed(items: list[Found]) -> list[Found]:
    """Two words of one thing, each of which leaves a choice, leave what both allow: "two-piece fixed"."""
    out: list[Found] = []
    for item in items:
        last = out[-1] if out else None
        if last is not None and min(len(last.values), len(item.values)) > 1 and _touch(last, item):
            both = tuple(value for value in last.values if comparable(value) in set(_comparable(item.values)))
            if both and last.relation == item.relation:
                out[-1] = replace(last, last=max(last.last, item.last), values=both, flags=_both(last, item))
                continue
        out.append(item)
    return out


def _touch(one: Found, other: Found) -> bool:
    return one.scope == other.scope and one.zone == other.zone and other.first <= one.last + 1


def _narrowed(items: list[Found]) -> list[Found]:
    """ "Mechanically seamed, 180 degrees" is the narrower of the two."""
    out: list[Found] = []
    for item in items:
        mine = set(map(comparable, item.values))
        wider = any(
            other is not item
            and other.values
            and other.scope == item.scope
            and mine > set(map(comparable, other.values))
            for other in items
        )
        if not wider and not _vague(item, items):
            out.append(item)
    valued = [item for item in out if item.values]
    if valued:
        out = [item for item in out if item.values or not _covered(item, valued)]
    return out


def _vague(item: Found, items: Sequence[Found]) -> bool:
    return any(some_kind(item.values, item.relation, one.values) for one in items)


def some_kind(values: Sequence[Value], relation: str, told: Sequence[Value]) -> bool:
    """Whether several values stand for "some kind of it", as one that is told is: 360 degree mechanical."""
    words = {str(value).split()[-1] for value in values}
    if len(values) < 2 or len(words) > 1 or relation == "one of":
        return False
    return len(told) == 1 and str(told[0]).split()[-1] in words


def _covered(item: Found, valued: Sequence[Found]) -> bool:
    """Whether a deferral stands beside a value of the same thing in one sentence."""
    return not {"no value", "defers to drawings"}.isdisjoint(item.flags) and any(
        one.zone == item.zone and (one.first < item.first or "no value" in item.flags) for one in valued
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

    for item in sorted(items, key=lambda one: (one.first, one.last)):
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
    stop = other.first
    if other.first <= one.last < other.last and one.reading.value and other.reading.value:
        stop = other.last
    between = one.sentence.lexemes[one.last + 1 : stop]
    keys = [lexeme.key for lexeme in between]
    if stop <= one.last or not keys or len(keys) > 20:
        return ""
    if any(key in _VERBS or key in ";:." for key in keys):
        return ""
    named = all(isinstance(value, str) for item in (one, other) for value in item.values)
    passed = _PASSED | _QUALIFIERS if named else _PASSED
    if any(lexeme.kind not in passed for lexeme in between):
        return ""
    if "or" in keys or "and/or" in keys:
        return "or"
    return "," if "," in keys and not any(key == "and" for key in keys) else ""


_PASSED = frozenset(["word", "punct", "number", "angle", "standard"])
_QUALIFIERS = frozenset(["coating", "gauge", "weight", "length", "stress", "mil"])
"""What may stand between two of a choice; between two that are named, how each is qualified too: "steel, coated AZ50,
or aluminum"."""


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
        clause = item.sentence.clause
        key = (
            item.subject, clause.address or clause.ordinal, _comparable(item.values), item.zone, _area(item),
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


def values_of(item: Found) -> object:
    """What a value is compared by."""
    return _comparable(item.values)


def _comparable(values: Iterable[Value]) -> tuple[object, ...]:
    return tuple(map(comparable, values))


def comparable(value: Value) -> object:
    if isinstance(value, Quantity):
        return (value.kind, value.value)
    return value.casefold() if isinstance(value, str) else value


def _area(item: Found) -> object:
    return item.area.value if item.area else None
