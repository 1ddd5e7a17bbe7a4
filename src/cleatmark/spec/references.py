"""Standards that a references article lists, and whether the text asks for them."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from cleatmark.spec import sense
from cleatmark.spec.clauses import Clause
from cleatmark.spec.found import Found
from cleatmark.spec.matching import Compiled
from cleatmark.spec.placing import area
from cleatmark.spec.sentences import Sentence
from cleatmark.units import Quantity

_LISTS = frozenset(["references", "definitions"])
_ASIDE = frozenset(["related", "summary"])
_BACK = frozenset(["above", "foregoing", "preceding", "all"])
_ALL = -1
_TURNED = frozenset(["multiply", "multiplied", "convert", "converted", "reduce", "divide"])
"""Words behind which a level is what pressures may be turned into, and not what they are."""
_WINDWARD = frozenset(["effective", "tributary", "influence", "wind"])
_TOLD_OF = frozenset(["pressure", "load", "figure", "value"])


class Mentions:
    """The standards of one section: listed with where, and used in the text. Levels that an article's text gives."""

    def __init__(self) -> None:
        self.listed: dict[str, tuple[Sentence, int]] = {}
        self.used: set[str] = set()
        self.levels: dict[str, dict[int, set[str]]] = {}
        self.pressured: set[int] = set()
        self.areas: dict[str, list[Quantity]] = {}

    def add(self, sentence: Sentence) -> None:
        """Notes the standards and the level that a sentence names."""
        listing = not sentence.kinds.isdisjoint(_LISTS)
        for index, lexeme in enumerate(sentence.lexemes):
            if lexeme.kind != "standard" or index < sentence.first:
                continue
            if listing:
                self.listed.setdefault(lexeme.key, (sentence, index))
            elif sentence.kinds.isdisjoint(_ASIDE):
                self.used.add(lexeme.key)
        atoms = sentence.line.atoms
        if "<p" in atoms:
            self.pressured.add(sentence.clause.ordinal)
        elif {"<p", "factor"}.isdisjoint(atoms) and not _TOLD_OF.isdisjoint(atoms):
            if not _WINDWARD.isdisjoint(atoms) and "<l" not in atoms:
                self._add_areas(sentence)
            items = sentence.line.items
            turned = next((at for at, item in enumerate(items) if item in _TURNED), len(items))
            level = sense.level(items[:turned])
            if level:
                clauses = self.levels.setdefault(sentence.clause.article, {})
                back = not _BACK.isdisjoint(atoms)
                clauses.setdefault(_ALL if back else sentence.clause.ordinal, set()).add(level)

    def _add_areas(self, sentence: Sentence) -> None:
        written = [lexeme for lexeme in sentence.lexemes[sentence.first :] if lexeme.kind == "area"]
        for lexeme in written:
            if amount := area(sentence.text[lexeme.start : lexeme.end]):
                self.areas.setdefault(sentence.clause.article, []).append(amount)

    def area_of(self, clause: Clause) -> Quantity | None:
        """The one effective wind area that a paragraph without pressures gives those of its article ("These values
        are for an effective wind area of 10 square feet"); None where several are given."""
        told = self.areas.get(clause.article, [])
        return told[0] if told and all(one.value == told[0].value for one in told) else None

    def level_of(self, clause: Clause) -> str:
        """The level that the text gives a clause's pressures: its own sentence beside them ("The figures are at the
        allowable stress level"), else the one level that paragraphs without pressures of their own give in its
        article. What a paragraph says of its own pressures is not said of another's, unless it says "the pressures
        above"."""
        told = self.levels.get(clause.article, {})
        found = told.get(clause.ordinal) or {
            level for ordinal, levels in told.items() if ordinal not in self.pressured for level in levels
        }
        return next(iter(found)) if len(found) == 1 else ""

    def unused(self) -> Iterator[tuple[str, Sentence, int]]:
        """Standards that are listed and that the text does not ask for, with where they are listed."""
        used = {_bare(key) for key in self.used}
        for key, (sentence, index) in self.listed.items():
            if _bare(key) not in used:
                yield key, sentence, index


def _bare(key: str) -> str:
    """ASCE 7 of any edition is one standard."""
    return "ASCE 7" if key.startswith("ASCE 7") else key


def givers(readings: Iterable[Compiled]) -> Mapping[str, Compiled]:
    """The reading that would give each standard, were the standard asked for."""
    found: dict[str, Compiled] = {}
    for compiled in readings:
        if not compiled.reading.gives or compiled.reading.flags:
            continue
        for phrase in compiled.phrases:
            if phrase.slot and phrase.kind == "standard":
                for key in phrase.slot.allowed:
                    found.setdefault(key, compiled)
    return found


def only_listed(mentions: Mentions, givers_by_standard: Mapping[str, Compiled]) -> list[Found]:
    """What would be stated by standards that are only listed, flagged `reference only`."""
    found: list[Found] = []
    for key, sentence, index in mentions.unused():
        compiled = givers_by_standard.get(key)
        if compiled is not None:
            lexeme = sentence.lexemes[index]
            written = " ".join(sentence.text[lexeme.start : lexeme.end].split())
            found.append(
                Found(
                    sentence, compiled.reading, index, index, (key,), written, "required", ("reference only",)
                )
            )
    return found
