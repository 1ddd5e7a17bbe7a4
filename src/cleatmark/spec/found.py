"""A value found in a sentence, before it is told as a requirement."""

from __future__ import annotations

from msgspec import Struct

from cleatmark.facts import Citation, Value
from cleatmark.spec.clauses import Clause, Section, Specification
from cleatmark.spec.reading import Reading
from cleatmark.spec.scopes import Scope
from cleatmark.spec.sentences import Sentence
from cleatmark.units import Quantity


class Found(Struct, frozen=True):
    """first, last  the tokens of the value in its sentence
    values       empty where the flags say why there is none
    text         as written
    detail       what a flag wants to be said ("24 ga and 0.040 in are not one value")
    group        the mark left open that the value stands in, -1 for none
    """

    sentence: Sentence
    reading: Reading
    first: int
    last: int
    values: tuple[Value, ...]
    text: str
    relation: str
    flags: tuple[str, ...] = ()
    detail: str = ""
    zone: str = ""
    area: Quantity | None = None
    level: str = ""
    verb: str = ""
    scope: Scope = Scope()
    group: int = -1

    @property
    def subject(self) -> str:
        """The subject without `spec.`."""
        return self.reading.gives.removeprefix("spec.")


def citation_of(spec: Specification, section: Section, clause: Clause, quote: str = "") -> Citation:
    """Where a clause stands: "07 41 13, 1.04.B.2"."""
    where = ", ".join(part for part in (section.number, clause.address) if part)
    return Citation("spec", where, quote or clause.text, spec.dated)
