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


def by_clause(items: Iterable[Stated]) -> list[tuple[str, str]]:
    """What one subject is asked to be, clause by clause in order: the requirements there, and the clause."""
    return [
        ("; ".join(dict.fromkeys(requirement(one) for one in group)), clause)
        for clause, group in groupby(items, key=lambda one: one.clause)
    ]
