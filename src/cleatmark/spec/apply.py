"""Readings applied to the clauses of a specification: what it asks for, where, in what words, with what flags."""

from __future__ import annotations

import re
from collections.abc import Iterator, Mapping, Sequence
from functools import lru_cache
from itertools import pairwise

from msgspec.structs import replace

from cleatmark.facts import Stated
from cleatmark.fields import Field, FieldBook
from cleatmark.problems import Place, Problem
from cleatmark.spec import (
    alternatives,
    conflicts,
    flags,
    merging,
    pressures,
    references,
    roof_marks,
    scopes,
    typed_tables,
)
from cleatmark.spec.clauses import Clause, Section, Specification
from cleatmark.spec.context import KINDS
from cleatmark.spec.find import find
from cleatmark.spec.found import Found, citation_of
from cleatmark.spec.grids import table_sentences
from cleatmark.spec.lazy import lazily
from cleatmark.spec.matching import Compiled, applies, matches
from cleatmark.spec.nearness import Nearness
from cleatmark.spec.pattern import Phrase, PhraseError
from cleatmark.spec.reach import Reach, Spent, excerpt
from cleatmark.spec.reading import Extraction, FlaggedClause, Reading
from cleatmark.spec.sentences import Leads, Sentence, sentences_of
from cleatmark.units import Quantity

_SAYS_SOMETHING = lazily(r"\d|:|\.\s*$|\[|//|_{2}|<|\b(?:shall|provide|not|no|only)\b", re.IGNORECASE)
_UNREAD = frozenset(["specifier note", "not used", "struck"])


_Indexed = tuple[int, int, tuple[frozenset[str], ...]]
"""A phrase by its reading's number and its own, and what it needs beside its anchor."""


class Readings:
    """Readings compiled, found by the words that can set them off."""

    def __init__(self, readings: Sequence[Reading], book: FieldBook) -> None:
        self.problems: list[Problem] = []
        self.compiled: list[Compiled] = []
        self._by_atom: dict[str, list[_Indexed]] = {}
        self._always: list[_Indexed] = []
        fields = book.block("spec")
        for reading in readings:
            self._add(reading, fields.get(reading.gives.removeprefix("spec.")))
        zoned = {one.reading.gives for one in self.compiled if one.zones}
        self.compiled = [
            replace(one, zones=True) if one.reading.gives in zoned and not one.zones else one
            for one in self.compiled
        ]

    def _add(self, reading: Reading, field: Field | None) -> None:
        phrases = self._phrases(reading, field)
        if phrases is None:
            return
        number = len(self.compiled)
        near = Nearness(reading.near, reading.not_near)
        self.compiled.append(Compiled(reading, field, phrases, near, any(phrase.zones for phrase in phrases)))
        for index, phrase in enumerate(phrases):
            indexed = number, index, tuple(atoms for atoms in phrase.needs if atoms != phrase.anchor)
            for atom in phrase.anchor:
                self._by_atom.setdefault(atom, []).append(indexed)
            if not phrase.anchor:
                self._always.append(indexed)

    def _phrases(self, reading: Reading, field: Field | None) -> tuple[Phrase, ...] | None:
        place = Place(reading.rulebook or "readings")
        if reading.gives and field is None:
            self.problems.append(
                Problem(place, f'reading {reading.id} gives "{reading.gives}", which is no field')
            )
            return None
        unknown = [kind for kind in (*reading.kinds, *reading.not_in) if kind not in KINDS]
        if unknown:
            message = f'reading {reading.id}: there is no article kind "{unknown[0]}"'
            self.problems.append(Problem(place, message, (f"kinds are {', '.join(KINDS)}",)))
            return None
        try:
            return tuple(Phrase(written) for written in reading.patterns)
        except PhraseError as error:
            self.problems.append(Problem(place, f"reading {reading.id}: {error}"))
            return None

    def candidates(self, atoms: frozenset[str]) -> list[tuple[Compiled, list[int]]]:
        """Readings, each with the phrases that a sentence of these atoms may match, in rulebook order."""
        wanted: dict[int, set[int]] = {}
        for listed in (self._always, *(self._by_atom.get(atom, ()) for atom in atoms)):
            for number, index, needs in listed:
                for needed in needs:
                    if needed.isdisjoint(atoms):
                        break
                else:
                    wanted.setdefault(number, set()).add(index)
        return [(self.compiled[number], sorted(wanted[number])) for number in sorted(wanted)]


@lru_cache(maxsize=8)
def _compiled(readings: tuple[Reading, ...], book: FieldBook) -> Readings:
    """Readings compiled once: a listing's conditions are read one by one, and submittals come by the thousand."""
    return Readings(readings, book)


def apply_readings(
    spec: Specification, readings: Sequence[Reading], book: FieldBook, reach: Reach | None = None
) -> Extraction:
    """What the roof sections of a specification state.

    Hidden clauses and struck text state nothing. Values are typed as their fields declare: a class, a length, a
    pressure with uplift negative. A reading whose phrase or field is wrong is a problem, and the rest are applied. What
    lies beyond `reach` is not read, and a notice says where that begins.
    """
    compiled = _compiled(tuple(readings), book)
    givers = references.givers(compiled.compiled)
    stated: list[Stated] = []
    flagged: list[FlaggedClause] = []
    spent = Spent(reach)
    notices: list[str] = []
    for section in spec.sections:
        if section.roof:
            told = typed_tables.tabled(section.clauses)
            known = replace(section, clauses=told, marks=roof_marks.marks_of(told))
            notices += _section(spec, known, compiled, givers, stated, flagged, spent)
    return Extraction(
        tuple(stated), tuple(flags.once(flagged, stated)), tuple(compiled.problems), (*spent.told(), *notices)
    )


def _section(
    spec: Specification, section: Section, readings: Readings, givers: Mapping[str, Compiled],
    stated: list[Stated], flagged: list[FlaggedClause], spent: Spent,
) -> Sequence[str]:  # fmt: skip
    found: list[Found] = []
    mentions = references.Mentions()
    leads = Leads()
    titles = _titles(section)
    numbered = [clause.ordinal for clause in section.clauses if clause.address][:1]
    for clause in section.clauses:
        lead = leads.of(clause)
        cited = citation_of(spec, section, clause)
        flagged.extend(flags.of_clause(clause, cited))
        if clause.hidden or clause.ordinal in titles or not _UNREAD.isdisjoint(clause.flags):
            continue
        if not spent.opens(clause):
            break
        for sentence in _sentences(section, clause, lead, leads.unit):
            if not spent.goes_on(clause, sentence):
                break
            cited = citation_of(spec, section, clause, sentence.quote)
            if clause.address or not numbered or clause.ordinal > numbered[0]:
                flagged.extend(flags.of_sentence(sentence, cited))
            mentions.add(sentence)
            here: list[Found] = []
            for compiled, indexes in readings.candidates(sentence.line.atoms):
                if not applies(compiled, sentence):
                    continue
                if spent.full(clause):
                    break
                hits = matches(compiled, indexes, sentence, spent)
                if not hits:
                    continue
                here.extend(find(compiled, hits, sentence))
                if not compiled.reading.gives or compiled.reading.question:
                    flagged.extend(flags.of_reading(compiled.reading, hits, sentence, cited))
            found.extend(merging.one_subject(here))
    for key, sentence, _ in mentions.unused():
        cited = citation_of(spec, section, sentence.clause, sentence.quote)
        detail = f"{key} is listed, and no paragraph asks for it"
        flagged.append(
            FlaggedClause(sentence.clause.address, "reference only", sentence.quote, detail, cited)
        )
    found.extend(references.only_listed(mentions, givers))
    found = pressures.toward_the_roof(found, section.clauses)
    settled = scopes.settled([(item.subject, merging.values_of(item), item.scope) for item in found])
    united = merging.merged([replace(item, scope=scope) for item, scope in zip(found, settled, strict=True)])
    for item in united:
        if item.detail:
            clause, quote = item.sentence.clause, item.sentence.quote
            cited = citation_of(spec, section, clause, quote)
            flagged.append(FlaggedClause(clause.address, "conflict", quote, item.detail, cited, "designer"))
    kept = [_stated(item, spec, mentions) for item in united]
    told, at_odds, notices = conflicts.flag_conflicts(kept, alternatives.choices(section.clauses))
    stated.extend(map(excerpt, told))
    flagged.extend(at_odds)
    return notices


def _titles(section: Section) -> frozenset[int]:
    """Ordinals of paragraphs that are only titles of what follows: no value, no sentence of their own."""
    found: set[int] = set()
    for clause, following in pairwise(section.clauses):
        if (
            following.headings[-1:] == (clause.text,)
            and len(clause.text) < 90
            and not _SAYS_SOMETHING.search(clause.text)
        ):
            found.add(clause.ordinal)
    return frozenset(found)


def _sentences(section: Section, clause: Clause, lead: str, unit: str) -> Iterator[Sentence]:
    if clause.table is not None:
        return table_sentences(section, clause, f"{lead} ({unit})" if unit and unit not in lead else lead)
    return sentences_of(section, clause, lead, unit)


def _stated(item: Found, spec: Specification, mentions: references.Mentions) -> Stated:
    clause = item.sentence.clause
    level, values, area = item.level, item.values, item.area
    if area is None and values and item.zone and item.subject == "uplift.pressure":
        area = mentions.area_of(clause)
    if not level and item.subject == "uplift.pressure":
        level = mentions.level_of(clause)
        values = tuple(
            replace(value, level=level) if isinstance(value, Quantity) else value for value in values
        )
    return Stated(
        subject=item.subject, relation=item.relation, values=values, text=item.text, clause=clause.address,
        quote=item.sentence.quote,
        citation=citation_of(spec, item.sentence.section, clause, item.sentence.quote),
        zone=item.zone, area=area, scope=item.scope.text, roof=item.scope.roof, level=level, verb=item.verb,
        flags=item.flags, reading=item.reading.id, like=item.reading.like, also=clause.amended,
    )  # fmt: skip
