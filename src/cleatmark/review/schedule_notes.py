"""What stands below an attachment schedule: the inward pressure and the screws, and what is to be asked for them."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from cleatmark.review.clip_screws import ScrewRow
from cleatmark.review.model import AttachmentRow
from cleatmark.uplift.screws import ADVISORY
from cleatmark.wind.report import RoofWind

WRITTEN = "Zones are laid out in plan, and clips counted, where a report is written to a file."


def count_notes(
    rows: Sequence[AttachmentRow], notes: Sequence[str], wind: RoofWind | None
) -> tuple[str, ...]:
    """What the counts leave out; where clips are not counted, why."""
    without = [row.zone for row in rows if row.spacing_in is not None and row.clips is None]
    if not without:
        return tuple(notes)
    counted = any(row.clips is not None for row in rows)
    if wind is None or wind.basis is None:
        why = "Clips are not counted: the job states no wind and roof to lay the zones out by."
    elif wind.layout is None and not wind.layout_notes:
        why = WRITTEN
    else:
        told = wind.layout_notes[0] if wind.layout_notes else "their areas are not known."
        why = f"Clips are not counted in {', '.join(without)}. {told[:1].upper()}{told[1:]}"
    return (*(notes if counted else ()), why)


def inward_notes(rows: Sequence[AttachmentRow], *, open_framing: bool) -> tuple[str, ...]:
    """Where the inward capacity is not shown. Over open framing nothing else carries it, and it is asked for; over a
    deck the panel bears on the deck (common practice, no source), asked for only beside zones that have it."""
    known = any(row.inward_allowable_psf is not None for row in rows)
    lacking = [row for row in rows if row.spacing_in is not None and row.inward == "not shown"]
    if not lacking or not (open_framing or known):
        return ()
    zones = ", ".join(row.zone for row in lacking)
    unasked = all(row.inward_demand_psf is None for row in lacking)
    reason = (
        "the inward demand is not known; ask the designer"
        if unasked
        else "no covering run states a pressure held inward; ask the laboratory"
    )
    return (f"Inward capacity is not shown in {zones}: {reason}.",)


def screw_notes(rows: Iterable[tuple[str, ScrewRow]]) -> tuple[str, ...]:
    """What the screw check rests on, where it is exceeded, what is missing and whom to ask."""
    known = [(zone, row) for zone, row in rows if row.verdict]
    if not known:
        return ()
    notes: list[str] = []
    checks = [(zone, row.check) for zone, row in known if row.check is not None]
    for kind in dict.fromkeys(check.governing for _, check in checks):
        alike = [(zone, check) for zone, check in checks if check.governing == kind]
        over = [zone for zone, check in alike if check.verdict == "exceeds"]
        strength = alike[0][1]
        told = f"Clip load beside screw {kind}: {strength.factor}; {strength.source}."
        notes.append(f"{told} Exceeded in {', '.join(over)}." if over else told)
    missing = tuple(dict.fromkeys(item for _, row in known for item in row.missing))
    if missing:
        open_ = [zone for zone, row in known if row.verdict == "not shown"]
        lacks = "; ".join(f"{item.title.lower()} ({item.reason}, ask the {item.ask})" for item in missing)
        where = f" in {', '.join(open_)}" if open_ else ""
        notes.append(f"The screw check is not shown whole{where}. Missing: {lacks}.")
    warnings = dict.fromkeys(check.warning for _, check in checks if check.warning)
    return (*notes, *warnings, ADVISORY)
