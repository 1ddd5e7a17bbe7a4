"""What a rulebook's `reading` statement says, in the form in which the specification room applies it."""

from __future__ import annotations

from msgspec import Struct

from cleatmark.facts import Citation, Stated
from cleatmark.problems import Problem


class Reading(Struct, frozen=True):
    """How one way of writing states one subject.

    id        as in the rulebook
    gives     subject without `spec.`, "" where the reading only flags
    relation  at least, at most, equal, one of, required, prohibited; "" to take it from the sentence's own words
    patterns  phrases: words matched without regard to case, white space and hyphens alike; `…` for a gap of a few
              words that stays inside the sentence and never crosses another standard's name; `a|b` for either;
              `(a)` for optional; `{KIND}` or `{KIND: A, B}` for the value, `{zone}`, `{area}` for what goes with it
    value     a fixed value given where the phrase itself is the value ("snap-lock")
    like      the field whose value the proposal's has to have, where the words name no figure ("at every purlin")
    flags     flags put on what was found, or on the clause
    kinds     article kinds it applies in; () for everywhere   (references, submittals, quality, warranty, ...)
    not_in    article kinds it never applies in
    near      words of which one must stand in the sentence or in a heading above it
    not_near  words whose presence beside the value makes it another thing's value
    ask       whom to ask, and `question` what, where the reading flags
    """

    id: str
    gives: str
    patterns: tuple[str, ...]
    relation: str = ""
    value: str = ""
    like: str = ""
    flags: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    not_in: tuple[str, ...] = ()
    near: tuple[str, ...] = ()
    not_near: tuple[str, ...] = ()
    ask: str = ""
    question: str = ""
    kind: str = ""
    unit: str = ""
    rulebook: str = ""


class FlaggedClause(Struct, frozen=True):
    """A clause that says something about the specification itself: unfinished, obsolete, misused, changed.

    detail  what is wrong, or the question to send
    ask     whom to ask, "" where nobody need be asked
    reading the reading that flagged it, "" where the engine did
    stated  of a conflict: what is stated here
    others  of a conflict: what other clauses state of the same
    """

    clause: str
    flag: str
    quote: str
    detail: str
    citation: Citation
    ask: str = ""
    reading: str = ""
    stated: Stated | None = None
    others: tuple[Stated, ...] = ()


class Extraction(Struct, frozen=True):
    """All that a specification states, what is flagged in it, what was wrong with the readings, what was not read."""

    stated: tuple[Stated, ...]
    flagged: tuple[FlaggedClause, ...]
    problems: tuple[Problem, ...] = ()
    notices: tuple[str, ...] = ()
