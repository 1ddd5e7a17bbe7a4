"""What tested runs show at a clip spacing: the run's own, a tighter one, and between two runs where that is allowed."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec import Struct

SPACING_TOLERANCE = 1e-6


class TestedRun(Struct, frozen=True):
    """One run that covers the assembly, apart from its clip spacing.

    allowable_psf  uplift at allowable-stress level, positive
    inward_psf     allowable inward pressure, None where the run does not show any
    leave          the rulebook that lets an allowable be interpolated from this run, "" where none does
    """

    spacing_in: float
    allowable_psf: float
    failure_mode: str = ""
    document: str = ""
    run: str = ""
    inward_psf: float | None = None
    leave: str = ""


class Shown(Struct, frozen=True):
    """The allowable at a spacing, and the run or two runs that it rests on; the run that shows the inward pressure."""

    allowable_psf: float
    runs: tuple[TestedRun, ...]
    inward: TestedRun | None
    steps: tuple[str, ...]

    @property
    def inward_psf(self) -> float | None:
        return self.inward.inward_psf if self.inward is not None else None

    @property
    def interpolated(self) -> bool:
        return len(self.runs) > 1


def shown_at(runs: Sequence[TestedRun], spacing_in: float) -> Shown | None:
    """The most that the runs show at a spacing; None where all were tested tighter: nothing is extrapolated.

    A run shows its allowable at its own spacing and at any tighter one. Between two runs of one failure mode, next to
    each other, the allowable is interpolated where a rulebook gives leave for both.
    """
    wide = [run for run in runs if run.spacing_in >= spacing_in - SPACING_TOLERANCE]
    if not wide:
        return None
    best = max(wide, key=lambda run: (run.allowable_psf, -run.spacing_in))
    tested = "its own spacing" if abs(best.spacing_in - spacing_in) < SPACING_TOLERANCE else "a wider spacing"
    steps = (f"{_named(best)} shows {best.allowable_psf:.2f} psf at {best.spacing_in:g} in, {tested}",)
    inward = max((run for run in wide if run.inward_psf is not None), key=_inward, default=None)
    between = [
        _between(near, far, spacing_in, inward)
        for near in runs
        for far in wide
        if near.spacing_in < spacing_in - SPACING_TOLERANCE
        and spacing_in + SPACING_TOLERANCE < far.spacing_in
        if near.failure_mode and near.failure_mode == far.failure_mode and near.leave and far.leave
    ]
    adjacent = [item for item in between if _next_to(item.runs, runs)]
    return max(
        [Shown(best.allowable_psf, (best,), inward, steps), *adjacent], key=lambda item: item.allowable_psf
    )


def _inward(run: TestedRun) -> float:
    return run.inward_psf or 0.0


def _between(near: TestedRun, far: TestedRun, spacing_in: float, inward: TestedRun | None) -> Shown:
    part = (spacing_in - near.spacing_in) / (far.spacing_in - near.spacing_in)
    allowable = near.allowable_psf + (far.allowable_psf - near.allowable_psf) * part
    step = (
        f"between {_named(near)} ({near.allowable_psf:.2f} psf at {near.spacing_in:g} in) and {_named(far)} "
        f"({far.allowable_psf:.2f} psf at {far.spacing_in:g} in), both failed as {near.failure_mode}: "
        f"{allowable:.2f} psf at {spacing_in:g} in, by leave of {far.leave}"
    )
    return Shown(allowable, (near, far), inward, (step,))


def _next_to(pair: tuple[TestedRun, ...], runs: Sequence[TestedRun]) -> bool:
    """Whether no run was tested between the two: a third result there would be passed over."""
    near, far = pair
    return not any(near.spacing_in < run.spacing_in < far.spacing_in for run in runs)


def _named(run: TestedRun) -> str:
    return " ".join(part for part in (run.document, f"run {run.run}" if run.run else "") if part) or "the run"
