"""Paragraphs of which one is to be chosen: under "one of the following", joined by a closing "or", or begun with
"alternatively". What stands in two of them is a choice and no contradiction."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence

from cleatmark.spec.clauses import Clause
from cleatmark.spec.lazy import lazily

_INTRO = lazily(
    r"\b(?:one|either|any) of the (?:following|products|systems|materials|assemblies|options|below)\b|"
    r"\bfollowing (?:\w+ ){0,2}(?:alternatives|options|choices)\b|\b(?:either|acceptable (?:\w+ ){0,2}"
    r"(?:materials|products|systems|alternatives|options|metals|types))\s*:\s*$|"
    r"\bat (?:the )?(?:contractor|bidder|installer)'?s'? option\b|\b(?:contractor|bidder)'?s'? (?:option|choice)\b",
    re.IGNORECASE,
    needs="acceptable |any|bidder|contractor|either|following |installer|one",
)
_OR_BEHIND = lazily(r"(?:^|[\s,;])or\W*$", re.IGNORECASE)
_OR_ALONE = lazily(r"^\W*or\W*$", re.IGNORECASE)
_INSTEAD = lazily(
    r"^\W*(?:alternatively|alternately|as an? (?:acceptable |approved )?alternat(?:iv)?e|in the alternative|"
    r"or\b|option (?:[A-Z]|\d)\b|alternat(?:iv)?e (?:materials?|products?|systems?|metals?|coatings?)\b|"
    r"(?:acceptable|approved) alternat(?:iv)?es?\b)",
    re.IGNORECASE,
)

Choices = Mapping[str, tuple[str, int]]
"""The address of each paragraph that is one of a choice: the choice, and which of it."""


def choices(clauses: Sequence[Clause]) -> Choices:
    """The paragraphs of a section that are choices, by their addresses."""
    found: dict[str, tuple[str, int]] = {}
    last: dict[str, Clause] = {}
    joined: set[str] = set()
    for clause in clauses:
        if clause.hidden or not clause.label or not clause.address:
            if _OR_ALONE.match(clause.text) and last:
                joined.add(clause.address or next(reversed(last)))
            continue
        parent = clause.address.rpartition(".")[0]
        before = last.get(parent)
        last.pop(parent, None)
        last[parent] = clause
        intro = clause.headings[-1] if clause.headings else ""
        if _INTRO.search(intro):
            found[clause.address] = (parent, clause.ordinal)
        elif before is not None and (
            _OR_BEHIND.search(before.text)
            or before.address in joined
            or parent in joined
            or _INSTEAD.match(clause.text)
        ):
            group, _ = found.setdefault(before.address, (before.address, before.ordinal))
            found[clause.address] = (group, clause.ordinal)
            joined.discard(parent)
    return found


def exclusive(one: str, other: str, chosen: Choices) -> bool:
    """Whether two addresses stand in two different paragraphs of one choice."""
    if not chosen or one == other:
        return False
    mine = {chosen[address] for address in _above(one) if address in chosen}
    return any(
        group == at and number != which
        for address in _above(other)
        if address in chosen
        for at, which in [chosen[address]]
        for group, number in mine
    )


def _above(address: str) -> list[str]:
    parts = address.split(".")
    return [".".join(parts[:count]) for count in range(1, len(parts) + 1)]
