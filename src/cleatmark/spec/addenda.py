"""A specification as amended by its addenda, in their order: each changed clause cites what changed it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.facts import Citation
from cleatmark.spec.addendum import Addendum, read_addendum
from cleatmark.spec.amending import Amending, Change
from cleatmark.spec.clauses import Clause, Specification
from cleatmark.spec.instructions import Instruction
from cleatmark.spec.sections import fold


class Amendment(Struct, frozen=True):
    """One instruction and what came of it. `citations`: the addendum's item, then the paragraph as it stood."""

    addendum: str
    dated: str
    section: str
    change: Change
    citations: tuple[Citation, ...]


class Amended(Struct, frozen=True):
    """A specification read as amended. `notices` say what was not read, and why."""

    specification: Specification
    amendments: tuple[Amendment, ...]
    addenda: tuple[Addendum, ...]
    notices: tuple[str, ...]


def amended(specification: Specification, paths: Sequence[Path]) -> Amended:
    """The specification with the addenda carried out in order, one instruction after another.

    Addresses of the paragraphs that stay are those printed. An instruction without a section is about the roof
    section. Raises InputError where an addendum cannot be read.
    """
    work = _Work(specification)
    addenda = []
    for number, path in enumerate(paths, 1):
        addendum = read_addendum(path, number)
        addenda.append(addendum)
        work.take(addendum)
    return Amended(work.specification(), tuple(work.amendments), tuple(addenda), tuple(work.notices))


class _Work:
    def __init__(self, specification: Specification) -> None:
        self._specification = specification
        self._clauses = [section.clauses for section in specification.sections]
        self.amendments: list[Amendment] = []
        self.notices: list[str] = []

    def specification(self) -> Specification:
        """The specification as it is now; clauses counted anew."""
        sections = []
        ordinal = 0
        for section, clauses in zip(self._specification.sections, self._clauses, strict=True):
            counted = tuple(replace(clause, ordinal=ordinal + n) for n, clause in enumerate(clauses))
            ordinal += len(counted)
            sections.append(replace(section, clauses=counted))
        return replace(self._specification, sections=tuple(sections))

    def take(self, addendum: Addendum) -> None:
        """Carries out an addendum's instructions; those of other sections are counted and left."""
        others = 0
        for order in addendum.instructions:
            at = self._section(order)
            if at is None:
                others += 1
                continue
            self._carry_out(addendum, order, at)
        if others:
            them = "1 item is" if others == 1 else f"{others} items are"
            self.notices.append(f"{addendum.name}: {them} about other sections, and not read")
        if not addendum.instructions:
            self.notices.append(
                f"{addendum.name} ({Path(addendum.file).name}): no instruction was found in it"
            )

    def _carry_out(self, addendum: Addendum, order: Instruction, at: int) -> None:
        section = self._specification.sections[at]
        work = Amending(self._clauses[at], lambda one: cited(addendum, one))
        change = work.carry_out(order)
        self._clauses[at] = tuple(work.clauses)
        citations = [cited(addendum, order)]
        if change.did:
            where = ", ".join(part for part in (section.number, change.clause) if part)
            citations.append(Citation("spec", where, change.before, self._specification.dated))
        else:
            self.notices.append(f"{addendum.name}, item {order.item} could not be placed: {change.why}")
        if change.note:
            self.notices.append(f"{addendum.name}, item {order.item}: {change.note}")
        self.amendments.append(
            Amendment(addendum.name, addendum.dated, section.number, change, tuple(citations))
        )

    def _section(self, order: Instruction) -> int | None:
        """The section that an instruction is about, None where it is none that is read."""
        sections = self._specification.sections
        roofs = [n for n, section in enumerate(sections) if section.roof]
        if order.section:
            wanted = re.sub(r"\D", "", fold(order.section))
            named = [n for n in roofs if re.sub(r"\D", "", sections[n].number) == wanted]
            unnumbered = [n for n in roofs if not sections[n].number]
            return next(iter(named or unnumbered), None)
        holding = [n for n in roofs if _holds(self._clauses[n], order)]
        return next(iter(holding or roofs), None)


def _holds(clauses: tuple[Clause, ...], order: Instruction) -> bool:
    work = Amending(clauses, lambda _: Citation("spec", ""))
    return bool(order.address) and work.has(order.address)


def cited(addendum: Addendum, order: Instruction) -> Citation:
    """An instruction as a citation: "Addendum 1, item 2", with its words and those that follow them."""
    words = " ".join([order.quote, *(line.text for line in order.lines if line.text not in order.quote)])
    return Citation("spec", f"{addendum.name}, item {order.item}", words, addendum.dated)
