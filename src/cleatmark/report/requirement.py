"""One stated requirement in words."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from cleatmark.facts import Stated

_RELATIONS = {"at least": "at least ", "at most": "at most ", "prohibited": "not ", "one of": "one of "}


def requirement(item: Stated) -> str:
    """ "at least 24 gauge (Corner, 10 sq ft, allowable level)" """
    value = item.text or "no value"
    relation = _RELATIONS.get(item.relation, "")
    if value.casefold().startswith(relation.strip() or "\0"):
        relation = ""
    about = [item.zone, item.area.text if item.area else "", item.scope, item.roof, item.verb]
    about += [f"{item.level} level" if item.level else "", *item.flags]
    where = ", ".join(part for part in about if part)
    return f"{relation}{value}" + (f" ({where})" if where else "")


MANY = 3
"""So many values of one clause are told one after the other; more are told zone by zone."""


def by_clause(items: Iterable[Stated]) -> list[tuple[str, str]]:
    """What one subject is asked to be, clause by clause in order: the requirements there, and the clause."""
    told: list[tuple[str, str]] = []
    for clause, group in groupby(items, key=lambda one: one.clause):
        members = list(group)
        if len(members) > MANY and all(one.zone and one.area for one in members):
            told += [(line, clause) for line in by_zone(members)]
        else:
            told.append(("; ".join(dict.fromkeys(map(requirement, members))), clause))
    return told


def by_zone(items: Iterable[Stated]) -> list[str]:
    """ "Corner, allowable level: -56.0 psf at 10 sq ft, -37.3 psf at 50 sq ft" """

    def alike(one: Stated) -> tuple[str, ...]:
        level = f"{one.level} level" if one.level else ""
        return one.zone, one.scope, one.roof, one.verb, level, *one.flags

    told = []
    for name, group in groupby(items, key=alike):
        values = (f"{one.text} at {one.area.text}" if one.area else one.text for one in group)
        told.append(f"{', '.join(part for part in name if part)}: {', '.join(values)}")
    return told
