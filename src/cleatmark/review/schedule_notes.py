"""What stands below an attachment schedule: the inward pressure and the screws, and what is to be asked for them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cleatmark.review.clip_screws import ScrewRow
from cleatmark.review.model import AttachmentRow
from cleatmark.uplift.screws import ADVISORY

_SI = {"lb": (0.0044482216152605, "kN"), "psf": (0.0478802589804, "kPa")}
_PLACES = {"lb": 0, "psf": 1, "kN": 2, "kPa": 2}


def pair(first: float, second: float, unit: str, units: str) -> str:
    """Two amounts in psf or lb as the job's units show them: "272 of 477 lb", "1.21 of 2.12 kN"."""
    factor, name = _SI[unit] if units == "SI" else (1.0, unit)
    places = _PLACES[name]
    return f"{first * factor:.{places}f} of {second * factor:.{places}f} {name}"


def inward_notes(rows: Sequence[AttachmentRow], *, open_framing: bool, units: str) -> tuple[str, ...]:
    """The inward pressure beside what the runs show. Over open framing nothing else carries it, and it is asked for;
    over a deck the panel bears on the deck (common practice, no source)."""
    known = [
        f"{row.zone} {pair(row.inward_demand_psf, row.inward_allowable_psf, 'psf', units)}, {row.inward} "
        f"({row.inward_document}, run {row.inward_run})"
        for row in rows
        if row.inward_demand_psf is not None and row.inward_allowable_psf is not None
    ]
    notes = [f"Inward pressure beside its allowable: {'; '.join(known)}."] if known else []
    lacking = [row for row in rows if row.spacing_in is not None and row.inward == "not shown"]
    if lacking and (open_framing or known):
        zones = ", ".join(row.zone for row in lacking)
        unasked = all(row.inward_demand_psf is None for row in lacking)
        reason = (
            "the inward demand is not known; ask the designer"
            if unasked
            else "no covering run states a pressure held inward; ask the laboratory"
        )
        notes.append(f"Inward capacity is not shown in {zones}: {reason}.")
    return tuple(notes)


def screw_notes(rows: Iterable[tuple[str, ScrewRow]], *, units: str) -> tuple[str, ...]:
    """What the screw check found, zones of one governing strength together, what is missing and whom to ask."""
    known = [(zone, row) for zone, row in rows if row.verdict]
    if not known:
        return ()
    notes: list[str] = []
    checks = [(zone, row.check) for zone, row in known if row.check is not None]
    for kind in dict.fromkeys(check.governing for _, check in checks):
        alike = [(zone, check) for zone, check in checks if check.governing == kind]
        amounts = "; ".join(
            f"{zone} {pair(check.load_lb, check.capacity_lb, 'lb', units)}"
            + (", exceeds" if check.verdict == "exceeds" else "")
            for zone, check in alike
        )
        strength = alike[0][1]
        notes.append(f"Clip load beside screw {kind} ({strength.factor}; {strength.source}): {amounts}.")
    missing = tuple(dict.fromkeys(item for _, row in known for item in row.missing))
    if missing:
        open_ = [zone for zone, row in known if row.verdict == "not shown"]
        lacks = "; ".join(f"{item.title.lower()} ({item.reason}, ask the {item.ask})" for item in missing)
        where = f" in {', '.join(open_)}" if open_ else ""
        notes.append(f"The screw check is not shown whole{where}. Missing: {lacks}.")
    warnings = dict.fromkeys(check.warning for _, check in checks if check.warning)
    return (*notes, *warnings, ADVISORY)
