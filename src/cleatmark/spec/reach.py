"""How much of a specification is read. What lies beyond is told, never dropped in silence."""

from __future__ import annotations

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.facts import Stated
from cleatmark.spec.clauses import Clause
from cleatmark.spec.grids import LONGEST_CELL
from cleatmark.spec.sentences import LONGEST, Sentence


class Reach(Struct, frozen=True):
    """Caps on what the readings are applied to. An honest roof section stays under a tenth of each. Of one paragraph,
    `LONGEST` characters are read, of one cell `LONGEST_CELL`.

    paragraph_values  places in one paragraph where a phrase of a reading matches
    signs             characters of all paragraphs, and of table cells with what stands above and beside them
    sentences         sentences and table rows
    values            places in all paragraphs where a phrase matches
    """

    paragraph_values: int = 1_000
    signs: int = 2_000_000
    sentences: int = 100_000
    values: int = 30_000


class Spent:
    """What was read so far of one specification, and the notices of what was not."""

    def __init__(self, reach: Reach | None = None) -> None:
        self.reach = reach or Reach()
        self.signs = self.sentences = self.values = 0
        self.notices: list[str] = []
        self._began = 0
        self._cut: list[str] = []
        self._ended = False

    def opens(self, clause: Clause) -> bool:
        """Whether a clause is still read; the first that is not is told."""
        self.signs += len(clause.text)
        self._began = self.values
        cells = clause.table.cells if clause.table is not None else ()
        if len(clause.text) > LONGEST or any(len(cell.text) > LONGEST_CELL for cell in cells):
            self._cut.append(_where(clause))
        return not self._over(clause)

    def goes_on(self, clause: Clause, sentence: Sentence) -> bool:
        """Whether a further sentence of a clause is read."""
        self.sentences += 1
        if clause.table is not None:
            self.signs += len(sentence.text)
        return not self.full(clause)

    def full(self, clause: Clause) -> bool:
        """Whether as many values were met in the clause, or in all, as are read."""
        if self.values - self._began >= self.reach.paragraph_values:
            if _where(clause) not in self._cut[-1:]:
                self._cut.append(_where(clause))
            return True
        return self._over(clause)

    def _over(self, clause: Clause) -> bool:
        reach = self.reach
        over = self.signs > reach.signs or self.sentences > reach.sentences or self.values >= reach.values
        if over and not self._ended:
            self._ended = True
            self.notices.append(
                f"the roof sections are longer than is read: from {_where(clause)} on nothing is read; the limits are "
                f"{reach.signs:,} characters, {reach.sentences:,} sentences and {reach.values:,} values"
            )
        return over

    def told(self) -> tuple[str, ...]:
        """The notices: what was not read, and where."""
        if not self._cut:
            return tuple(self.notices)
        shown = ", ".join(self._cut[:_MOST_TOLD])
        more = f" and {len(self._cut) - _MOST_TOLD:,} more" if len(self._cut) > _MOST_TOLD else ""
        cut = (
            f"of a very long paragraph or table only the beginning is read ({shown}{more}); the limits are "
            f"{LONGEST:,} characters and {self.reach.paragraph_values:,} values of one, "
            f"{LONGEST_CELL:,} characters of a cell"
        )
        return (cut, *self.notices)


_MOST_TOLD = 8


def _where(clause: Clause) -> str:
    return clause.address or f"paragraph {clause.ordinal + 1:,}"


LONGEST_QUOTE = 800
"""Characters that are quoted of one sentence: each value of it quotes it anew."""


def excerpt(item: Stated) -> Stated:
    """A requirement that quotes a very long sentence only about its value."""
    if len(item.quote) <= LONGEST_QUOTE:
        return item
    at = max(item.quote.find(item.text) - LONGEST_QUOTE // 2, 0)
    shown = item.quote[at : at + LONGEST_QUOTE].strip()
    quote = ("… " if at else "") + shown + (" …" if at + LONGEST_QUOTE < len(item.quote) else "")
    return replace(item, quote=quote, citation=replace(item.citation, quote=quote))
