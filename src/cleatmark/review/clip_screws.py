"""The advisory check of a clip's screws: its load beside what holds them, withdrawal from wood or pull-out of steel,
and beside pull-over of the clip itself. What is not stated for it is asked for; it never stands for a test."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from cleatmark.facts import Fact, Missing, Nothing
from cleatmark.fields import FieldBook
from cleatmark.language.program import Program
from cleatmark.language.world import Frame
from cleatmark.units import Quantity, QuantityError, thicknesses, to
from cleatmark.uplift.screws import (
    SPECIFIC_GRAVITY,
    ClipCheck,
    ScrewStrength,
    clip_check,
    clip_load,
    pull_out,
    pull_over,
    withdrawal,
)

GRAVITY = {"plywood": "plywood, other grades", "OSB": "OSB"}
STEEL = {"steel deck": "deck", "open framing": "support"}
"""What the screws hold in, by the deck: the part of the assembly whose steel it is."""


class ScrewRow(Struct, frozen=True):
    """The screws of one zone's clips. verdict: holds, exceeds, not shown; "" where the deck is of another kind.

    check    beside the weakest strength that is known, None where none is
    missing  what the whole check lacks
    """

    verdict: str
    load_lb: float | None = None
    check: ClipCheck | None = None
    missing: tuple[Missing, ...] = ()
    steps: tuple[str, ...] = ()


class _Inputs:
    """The stated inputs in plain amounts; what is looked for and not there is kept."""

    def __init__(self, program: Program, frame: Frame) -> None:
        self.program, self.frame = program, frame
        self.missing: list[Missing] = []
        self.steps: list[str] = []

    def fact(self, path: str) -> Fact | None:
        found = self.frame.proposed.get(path)
        if found is None or isinstance(found.value, Nothing):
            self.missing.append(asked(self.program.book, path))
            return None
        return found

    def amount(self, path: str, unit: str = "in") -> float | None:
        found = self.fact(path)
        return None if found is None else self.inches(found) if unit == "in" else self._plain(found)

    def inches(self, fact: Fact) -> float | None:
        """A length, or a thickness: of a gauge the least that its table gives, the base metal."""
        value = fact.value
        if not isinstance(value, Quantity):
            return None
        if value.kind != "gauge":
            return float(to(value, "in"))
        bases = thicknesses(value, "steel")
        if not bases:
            reason = f"{fact.text} is not in the gauge table; state it in inches"
            self.missing.append(asked(self.program.book, fact.path, reason))
            return None
        least = min(bases.values())
        self.steps.append(f"{fact.text}: {float(least):.4f} in, the least that the gauge may be")
        return float(least)

    def _plain(self, fact: Fact) -> float | None:
        return float(fact.value.value) if isinstance(fact.value, Quantity) else None

    def defined(self, name: str, path: str) -> float | None:
        """A tensile strength in ksi by the rulebook's define; `path` is asked for where it is not stated."""
        get = self.program.get(name)
        found = get(self.frame) if get is not None else None
        if found is None or not isinstance(found.value, Quantity):
            self.missing.append(asked(self.program.book, path))
            return None
        for fact in found.reads:
            if fact.citations and fact.path != "proposed.deck.type":
                self.steps.append(f"Fu: {fact.text} [{fact.citations[0].where}]")
        try:
            return float(to(found.value, "ksi"))
        except QuantityError:
            return None


def asked(book: FieldBook, path: str, reason: str = "not stated") -> Missing:
    """A field that the check lacks, with whom to ask."""
    field = book.by_path.get(path.removeprefix("proposed."))
    title = field.title if field is not None else path
    return Missing(path, title, reason, field.ask if field is not None else "")


def screw_row(
    program: Program, frame: Frame, demand_psf: float | None, width_in: float, spacing_in: float
) -> ScrewRow:
    """The check in one zone, at the demand (psf, allowable level) and the spacing chosen there."""
    deck = frame.proposed.get("proposed.deck.type")
    kind = str(deck.value) if deck is not None else ""
    on_wood = kind in GRAVITY
    if demand_psf is None or not (on_wood or kind in STEEL) or _wooden(frame.proposed, kind):
        return ScrewRow("")
    inputs = _Inputs(program, frame)
    screws = inputs.amount("proposed.fastener.count", "")
    size = inputs.amount("proposed.fastener.size")
    held = _withdrawal(inputs, kind, size) if on_wood else _pull_out(inputs, STEEL[kind], size)
    over = None if on_wood and not _clip_steel(frame.proposed) else _pull_over(inputs)
    strengths = [found for found in (held, over) if found is not None]
    load = clip_load(demand_psf, width_in, spacing_in)
    missing = tuple(dict.fromkeys(inputs.missing))
    if not strengths or not screws or screws < 1:
        return ScrewRow("not shown", load, None, missing, tuple(inputs.steps))
    check = clip_check(demand_psf, width_in, spacing_in, int(screws), *strengths)
    verdict = "not shown" if missing and check.verdict == "holds" else check.verdict
    return ScrewRow(verdict, load, check, missing, (*inputs.steps, *check.steps))


def _clip_steel(facts: Mapping[str, Fact]) -> bool:
    """Whether the clip's steel is stated. On wood pull-over is checked only then: withdrawal is far weaker there."""
    return "proposed.clip.tensile_strength" in facts or "proposed.clip.grade" in facts


def _wooden(facts: Mapping[str, Fact], kind: str) -> bool:
    """Whether open framing is of wood, which this check has no numbers for."""
    support = facts.get("proposed.support.type")
    words = support.text.casefold() if support is not None and kind == "open framing" else ""
    return any(word in words for word in ("wood", "timber", "lumber"))


def _withdrawal(inputs: _Inputs, deck: str, size: float | None) -> ScrewStrength | None:
    """No more thread than the deck is thick counts, so the deck's thickness is needed."""
    thread, thick = inputs.amount("proposed.fastener.penetration"), inputs.amount("proposed.deck.thickness")
    if not size or not thread or not thick:
        return None
    return withdrawal(size, SPECIFIC_GRAVITY[GRAVITY[deck]], thread, thick)


def _pull_out(inputs: _Inputs, part: str, size: float | None) -> ScrewStrength | None:
    """The steel's thickness counts, or the thread's penetration where that is less."""
    thick, thread = (
        inputs.amount(f"proposed.{part}.thickness"),
        inputs.amount("proposed.fastener.penetration"),
    )
    tensile = inputs.defined("held_in_tensile", f"proposed.{part}.tensile_strength")
    return pull_out(size, min(thick, thread), tensile) if size and thick and thread and tensile else None


def _pull_over(inputs: _Inputs) -> ScrewStrength | None:
    head, clip = inputs.amount("proposed.fastener.head"), inputs.amount("proposed.clip.thickness")
    tensile = inputs.defined("clip_tensile", "proposed.clip.tensile_strength")
    return pull_over(head, clip, tensile) if head and clip and tensile else None
