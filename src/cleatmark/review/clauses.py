"""What a specification states and what is flagged in it, as clauses that advice judges one by one."""

from __future__ import annotations

from collections.abc import Iterator

from cleatmark.facts import Citation, Fact, Stated
from cleatmark.fields import FieldBook
from cleatmark.language.world import Item
from cleatmark.spec.reading import Extraction, FlaggedClause
from cleatmark.units import Quantity


def clause_items(extraction: Extraction, book: FieldBook) -> tuple[Item, ...]:
    """Flagged clauses, then stated requirements. Clauses in conflict are told once, where the first stands."""
    titles = {key: field.title for key, field in book.block("spec").items()}
    flagged = (_flagged(f"{n}", item, titles) for n, item in enumerate(_once(extraction.flagged)))
    stated = (_stated(f"s{n}", item, titles) for n, item in enumerate(extraction.stated))
    return (*flagged, *stated)


def _once(flagged: tuple[FlaggedClause, ...]) -> Iterator[FlaggedClause]:
    told: set[tuple[str, frozenset[str]]] = set()
    for item in flagged:
        if item.stated is not None and item.others:
            clauses = frozenset(one.clause for one in (item.stated, *item.others))
            if (item.stated.subject, clauses) in told:
                continue
            told.add((item.stated.subject, clauses))
        yield item


def _flagged(id: str, item: FlaggedClause, titles: dict[str, str]) -> Item:
    more = {"flag": item.flag, "detail": item.detail, "reading": item.reading}
    if item.stated is not None:
        more["about"] = titles.get(item.stated.subject, item.stated.subject)
        more["value"] = item.stated.text
    if item.others:
        more["others"] = "; ".join(dict.fromkeys(_said(one, item) for one in item.others))
    also = tuple(citation for one in item.others for citation in (one.citation, *one.also))
    return _item(id, item.clause, (item.flag,), item.quote, (item.citation, *also), more)


def _said(one: Stated, item: FlaggedClause) -> str:
    where = "another sentence of it" if one.clause == item.clause else one.clause
    return f"{where} says {one.text}"


def _stated(id: str, item: Stated, titles: dict[str, str]) -> Item:
    more = {
        "subject": item.subject,
        "about": titles.get(item.subject, item.subject),
        "relation": item.relation,
        "value": ", ".join(v.text if isinstance(v, Quantity) else str(v) for v in item.values) or item.text,
        "verb": item.verb,
        "level": item.level,
        "scope": item.scope,
        "reading": item.reading,
        "detail": item.text,
    }
    return _item(id, item.clause, item.flags, item.quote, (item.citation, *item.also), more)


def _item(
    id: str,
    address: str,
    flags: tuple[str, ...],
    quote: str,
    cited: tuple[Citation, ...],
    more: dict[str, str],
) -> Item:
    values = {"address": address, "text": quote, **more}
    facts = {f"clause.{key}": Fact(f"clause.{key}", value, value, cited) for key, value in values.items()}
    facts["clause.flags"] = Fact("clause.flags", flags, ", ".join(flags), cited)
    return Item("clause", id, address, facts, cited[0])
