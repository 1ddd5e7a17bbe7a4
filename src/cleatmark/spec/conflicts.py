"""Requirements of one subject in one place that cannot all stand."""

from __future__ import annotations

import re
from collections.abc import Callable, Mapping, Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import islice

from msgspec.structs import replace

from cleatmark.facts import Citation, Stated, Value
from cleatmark.spec import alternatives, roof_marks, zones
from cleatmark.spec.lazy import lazily
from cleatmark.spec.merging import comparable, some_kind
from cleatmark.spec.reach import excerpt
from cleatmark.spec.reading import FlaggedClause
from cleatmark.spec.values import APART
from cleatmark.spec.wording import word_set
from cleatmark.units import Quantity, orderings, thicknesses

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
_STANDS_ASIDE = frozenset(["reference only", "optional", "prohibited", "obsolete standard"])
_OF_A_METAL = frozenset(["panel.thickness", "panel.coating", "panel.yield_strength", "panel.finish"])
MOST_WAYS = 40
"""Ways in which one subject is stated that all others are held against: a work that grows with their number, not with
its square."""
MOST_TOLD = 8
"""Other clauses that one conflict cites; the rest are counted."""
MOST_CONFLICTS = 500
"""Conflicts of one section that are told with their clauses; all are flagged."""
_DEFECTS = lazily(
    r"chalk|fad(?:e|ing)|colou?r|film|peel|crack|blister|perforat",
    re.IGNORECASE,
    needs="blister|chalk|color|colour|crack|fade|fading|film|peel|perforat",
)


_WARRANTORS = (
    ("manufacturer", lazily(r"manufacturer|maker|fabricator", re.IGNORECASE)),
    ("contractor", lazily(r"contractor|installer|roofer|applicator", re.IGNORECASE)),
)
_LIMITS = lazily(
    r"\b(?:where|wherever|when|if|unless|except|elsewhere|otherwise|provided that|thereafter|first|remaining|within|"
    r"prorated|pro-rated|parts?|components?|repairs?|longer than|over \d)\b",
    re.IGNORECASE,
)
"""Words that narrow what a sentence asks to a case of its own."""
_SHEETS_APART = Fraction(5, 100)
"""How far a printed decimal may lie from every figure of its gauge and still be the same sheet."""
_METALS = ("steel", "aluminum", "stainless steel")


def flag_conflicts(
    stated: Sequence[Stated], chosen: alternatives.Choices | None = None
) -> tuple[list[Stated], list[FlaggedClause], list[str]]:
    """Values that cannot all stand are flagged `conflict`, each with the other clauses told, also where the
    specification says which governs: whoever reads it is to know of both. `chosen`: the paragraphs of which one is to
    be chosen. The notices name what is stated in so many ways that not all were held against one another."""
    metals = _metals(stated)
    groups: dict[str, dict[object, list[int]]] = {}
    for index, item in enumerate(stated):
        if item.values and _STANDS_ASIDE.isdisjoint(item.flags) and item.subject in SINGLE:
            alike = groups.setdefault(item.subject, {})
            alike.setdefault(_signature(item, metals), []).append(index)
    against: dict[int, list[int]] = {}
    notices: list[str] = []
    for subject, alike in groups.items():
        ways = list(alike.values())
        if len(ways) > MOST_WAYS:
            notices.append(
                f"{subject} is stated in {len(ways):,} ways; each was held against the first {MOST_WAYS} alone"
            )
        for at, one in enumerate(ways[:MOST_WAYS]):
            for other in islice(ways, at + 1, None):
                _set_against(subject, one, other, stated, metals, chosen or {}, against)
    told = sorted(against.items())[:MOST_CONFLICTS]
    governs = next(
        (
            f"; {one.clause}: {one.text}"
            for one in stated
            if one.subject == "precedence" and "stringent" in str(one.values)
        ),
        "",
    )
    if len(told) < len(against):
        notices.append(
            f"{len(against):,} requirements contradict others; the first {len(told)} are told in full"
        )
    out = [
        replace(item, flags=(*item.flags, "conflict"))
        if index in against and "conflict" not in item.flags
        else item
        for index, item in enumerate(stated)
    ]
    return (
        out,
        [
            _told(
                stated[index],
                [stated[at] for at in others[:MOST_TOLD]],
                max(len(others) - MOST_TOLD, 0),
                governs,
            )
            for index, others in told
        ],
        notices,
    )


def _set_against(
    subject: str,
    one: Sequence[int],
    other: Sequence[int],
    stated: Sequence[Stated],
    metals: Mapping[str, frozenset[str]],
    chosen: alternatives.Choices,
    against: dict[int, list[int]],
) -> None:
    if not _conflict(subject, stated[one[0]], stated[other[0]], metals):
        return
    if subject == "panel.material" and _siblings(stated[one[0]], stated[other[0]]):
        return
    for mine, theirs in ((one, other), (other, one)):
        for at in mine:
            apart = [
                index
                for index in theirs[:5]
                if not _one_sentence(stated[at], stated[index])
                and not _narrowed(stated[at], stated[index])
                and not alternatives.exclusive(stated[at].clause, stated[index].clause, chosen)
            ]
            if apart:
                against.setdefault(at, []).extend(apart)


def _siblings(one: Stated, other: Stated) -> bool:
    """Paragraphs side by side under one article: each names a sheet that may be used, as offices list them."""
    return one.clause.rpartition(".")[0] == other.clause.rpartition(".")[0] and one.clause != other.clause


def _signature(item: Stated, metals: Mapping[str, frozenset[str]]) -> object:
    area = item.area.value if item.area else None
    values = tuple(comparable(value) for value in item.values)
    metal = metals.get(item.clause) if item.subject in _OF_A_METAL else None
    defects = _defects(item) if item.subject == "warranty.finish" else None
    zone = zones.kin(item.zone) if item.zone else ""
    return (values, item.relation, zone, area, _scope(item), item.level, metal, defects)


def _scope(item: Stated) -> str:
    return roof_marks.kin(item.scope) if item.scope else ""


def _one_roof(one: Stated, other: Stated) -> bool:
    """Whether both are of one roof and one part of the bid, by whichever of its names: RP-1, Panel Type RP-1."""
    return one.scope == other.scope or _scope(one) == _scope(other)


def _metals(stated: Sequence[Stated]) -> Mapping[str, frozenset[str]]:
    """The metals that each clause names."""
    found: dict[str, set[str]] = {}
    for item in stated:
        if item.subject == "panel.material":
            found.setdefault(item.clause, set()).update(map(str, item.values))
    return {clause: frozenset(names) for clause, names in found.items()}


def _defects(item: Stated) -> frozenset[str]:
    return frozenset(match.group().casefold()[:3] for match in _DEFECTS.finditer(item.quote))


def _one_sentence(one: Stated, other: Stated) -> bool:
    return one.clause == other.clause and one.quote == other.quote


def _narrowed(one: Stated, other: Stated) -> bool:
    """Whether one of two sentences speaks of a case of its own: within one paragraph, and of a warranty anywhere."""
    if one.clause != other.clause and not one.subject.startswith("warranty."):
        return False
    return _limited(one.quote) or _limited(other.quote)


@lru_cache(maxsize=4096)
def _limited(quote: str) -> bool:
    return _LIMITS.search(quote) is not None


def _warrantors(item: Stated) -> frozenset[str]:
    return frozenset(name for name, pattern in _WARRANTORS if pattern.search(item.quote))


def _conflict(subject: str, one: Stated, other: Stated, metals: Mapping[str, frozenset[str]]) -> bool:
    if subject == "substitution":
        return frozenset((*one.values, *other.values)) in _AT_ODDS
    if not _one_roof(one, other) or not _same_place(one, other):
        return False
    for differs in (lambda item: metals.get(item.clause, frozenset()), _defects):
        if subject in (_OF_A_METAL if differs is not _defects else ("warranty.finish",)) and _disjoint(
            differs, one, other
        ):
            return False
    if subject.startswith("warranty.") and _disjoint(_warrantors, one, other):
        return False
    if isinstance(one.values[0], Quantity) and isinstance(other.values[0], Quantity):
        return _amounts_conflict(one, other)
    if any(some_kind(a.values, a.relation, b.values) for a, b in ((one, other), (other, one))):
        return False
    return {str(value).casefold() for value in one.values}.isdisjoint(
        str(value).casefold() for value in other.values
    )


def _disjoint(of: Callable[[Stated], frozenset[str]], one: Stated, other: Stated) -> bool:
    mine, theirs = of(one), of(other)
    return bool(mine) and bool(theirs) and mine.isdisjoint(theirs)


def _same_place(one: Stated, other: Stated) -> bool:
    if (zones.kin(one.zone) if one.zone else "") != (zones.kin(other.zone) if other.zone else ""):
        return False
    if (one.area.value if one.area else None) != (other.area.value if other.area else None):
        return False
    return not (one.level and other.level and one.level != other.level)


def _amounts_conflict(one: Stated, other: Stated) -> bool:
    """Of choices, whether no value of the one can stand with any value of the other."""
    return all(_pair_conflicts(a, b, one.relation, other.relation) for a in one.values for b in other.values)


def _pair_conflicts(a: Value, b: Value, mine: str, theirs: str) -> bool:
    if not isinstance(a, Quantity) or not isinstance(b, Quantity):
        return False
    if a.kind == "pressure" and (a.value < 0) != (b.value < 0):
        return False
    if _same_sheet(a, b) or _one_in_two_units(a, b):
        return False
    try:
        order = orderings(a, b)
    except TypeError:
        return False
    if 0 in order:
        return False
    relations = tuple("equal" if relation == "one of" else relation for relation in (mine, theirs))
    return order <= _APART.get((relations[0], relations[1]), frozenset([-1, 1]))


def _one_in_two_units(a: Quantity, b: Quantity) -> bool:
    """One value, rounded as printed in two units: Grade 230 and Grade 33."""
    return a.kind == b.kind and a.unit != b.unit and abs(a.value - b.value) <= abs(a.value) * APART


def _same_sheet(a: Quantity, b: Quantity) -> bool:
    """A gauge and a decimal, in inches or millimetres, that is printed for it on one basis or another."""
    if (a.kind == "gauge") == (b.kind == "gauge"):
        return False
    gauge, decimal = (a, b) if a.kind == "gauge" else (b, a)
    figures = [inches for metal in _METALS for inches in thicknesses(gauge, metal).values()]
    return any(abs(decimal.value - inches) <= inches * _SHEETS_APART for inches in figures)


_APART: Mapping[tuple[str, str], frozenset[int]] = {
    ("at least", "at most"): frozenset([1]),
    ("at most", "at least"): frozenset([-1]),
    ("equal", "at least"): frozenset([-1]),
    ("at most", "equal"): frozenset([-1]),
    ("at least", "equal"): frozenset([1]),
    ("equal", "at most"): frozenset([1]),
}
"""Orderings of two values with which two relations cannot both hold; other pairs conflict where the values differ."""


def place_of(other: Stated, item: Stated) -> str:
    """Where another requirement stands, told beside `item`: its clause, unless that is the same one."""
    return "another sentence of it" if other.clause == item.clause else other.clause


def _told(item: Stated, others: Sequence[Stated], more: int, governs: str) -> FlaggedClause:
    """`governs`: the clause that says which of them decides, "" where none does."""
    said = "; ".join(dict.fromkeys(f"{place_of(other, item)} says {other.text}" for other in others))
    said += f"; and {more:,} more" if more else ""
    cited = Citation("spec", item.citation.where, item.quote, item.citation.dated)
    return FlaggedClause(
        clause=item.clause,
        flag="conflict",
        quote=item.quote,
        detail=f"{item.subject}: {item.text} here; {said}{governs}",
        citation=cited,
        ask="designer",
        stated=item,
        others=tuple(map(excerpt, others)),
    )
