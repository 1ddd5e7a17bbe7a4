"""Screws of a clip: the load on a clip beside withdrawal from wood, pull-out and pull-over in steel.

An advisory check. It says where a screw is likely the weak part; it never makes good a test that does not hold.
"""

from __future__ import annotations

from msgspec import Struct

ADVISORY = (
    "Advisory only: it does not replace a test of the assembly, and does not make good one that fails. The screw's own "
    "tensile strength is not checked, and two screws of a clip seldom share a load evenly."
)
WIND_DURATION = 1.6
"""Load duration factor for wind, NDS 2.3.2."""
OMEGA = 3.0
"""Safety factor of screw connections in steel, AISI S100 E4 (2012), J4 (2016)."""
WIDEST_HEAD_IN = 0.75
"""The largest head or washer diameter that counts in pull-over; 0.50 in older editions."""

SPECIFIC_GRAVITY = {
    "douglas fir-larch": 0.50,
    "southern pine": 0.55,
    "hem-fir": 0.43,
    "spruce-pine-fir": 0.42,
    "OSB": 0.50,
    "plywood, Structural I or marine": 0.50,
    "plywood, other grades": 0.42,
}
"""NDS Table 12.3.3A and 12.3.3B, from memory."""

_WOOD = "NDS 12.2.2: W = 2850 G² D per inch of thread in side grain, an allowable value"
_WOOD_WARNING = (
    "The formula is for solid side grain. Tests on plywood fell below it and OSB varies by board: take tested or "
    "listed screw values where the margin is small."
)
_STEEL = "AISI S100 E4.4 (2012), J4.4 (2016)"


class ScrewStrength(Struct, frozen=True):
    """What one screw may carry in lb, with factor, working and source."""

    kind: str
    allowable_lb: float
    factor: str
    steps: tuple[str, ...]
    source: str
    warning: str = ""


class ClipCheck(Struct, frozen=True):
    """The load on a clip beside its screws. verdict: holds, exceeds. Always advisory.

    governing, factor, source, warning  the kind of the weakest strength, its safety factor, where it is from
    """

    load_lb: float
    capacity_lb: float
    ratio: float
    verdict: str
    governing: str
    steps: tuple[str, ...]
    factor: str = ""
    source: str = ""
    warning: str = ""
    note: str = ADVISORY


def clip_load(pressure_psf: float, width_in: float, spacing_in: float) -> float:
    """The load on one clip in lb: pressure (psf, allowable level) times panel width times clip spacing (in)."""
    _positive(width=width_in, spacing=spacing_in)
    return abs(pressure_psf) * width_in * spacing_in / 144


def withdrawal(
    diameter_in: float, gravity: float, thread_in: float, deck_in: float | None = None
) -> ScrewStrength:
    """Withdrawal from wood, allowable for wind.

    thread_in  thread in the wood, less the tapered tip
    deck_in    of a deck that the screw goes through: no more thread than this counts
    """
    _positive(diameter=diameter_in, gravity=gravity, thread=thread_in)
    used = thread_in if deck_in is None else min(thread_in, deck_in)
    per_inch = 2850 * gravity**2 * diameter_in
    allowable = per_inch * used * WIND_DURATION
    steps = (
        f"W = 2850 G² D = 2850 x {gravity:g}² x {diameter_in:g} = {per_inch:.1f} lb/in",
        f"thread that counts {used:g} in" + (", the deck's thickness" if used < thread_in else ""),
        f"W x {used:g} in x CD {WIND_DURATION} = {allowable:.1f} lb",
    )
    factor = f"an allowable value; CD {WIND_DURATION} for wind, no further factor"
    return ScrewStrength("withdrawal", allowable, factor, steps, _WOOD, _WOOD_WARNING)


def pull_out(diameter_in: float, steel_in: float, fu_ksi: float) -> ScrewStrength:
    """Pull-out from steel of a thickness (in, or the thread's engagement where less) and tensile strength (ksi)."""
    _positive(diameter=diameter_in, thickness=steel_in, strength=fu_ksi)
    nominal = 0.85 * steel_in * diameter_in * fu_ksi * 1000
    steps = (
        f"Pnot = 0.85 tc d Fu2 = 0.85 x {steel_in:g} x {diameter_in:g} x {fu_ksi * 1000:.0f} = {nominal:.1f} lb",
        f"Pnot/{OMEGA} = {nominal / OMEGA:.1f} lb",
    )
    return ScrewStrength("pull-out", nominal / OMEGA, f"omega {OMEGA}", steps, _STEEL)


def pull_over(head_in: float, clip_in: float, fu_ksi: float) -> ScrewStrength:
    """Pull-over of the clip's base (thickness in, tensile strength ksi) past a head or washer of a diameter (in)."""
    _positive(head=head_in, thickness=clip_in, strength=fu_ksi)
    used = min(head_in, WIDEST_HEAD_IN)
    nominal = 1.5 * clip_in * used * fu_ksi * 1000
    steps = (
        f"Pnov = 1.5 t1 d'w Fu1 = 1.5 x {clip_in:g} x {used:g} x {fu_ksi * 1000:.0f} = {nominal:.1f} lb",
        f"Pnov/{OMEGA} = {nominal / OMEGA:.1f} lb",
    )
    return ScrewStrength("pull-over", nominal / OMEGA, f"omega {OMEGA}", steps, _STEEL)


def clip_check(
    pressure_psf: float, width_in: float, spacing_in: float, screws: int, *strengths: ScrewStrength
) -> ClipCheck:
    """The load on a clip beside the least of its screws' strengths, the screws taken as equally loaded.

    Raises ValueError without a screw or a strength.
    """
    if screws < 1 or not strengths:
        raise ValueError("a clip has at least one screw, and a screw at least one strength to check")
    weakest = min(strengths, key=lambda strength: strength.allowable_lb)
    load, capacity = clip_load(pressure_psf, width_in, spacing_in), screws * weakest.allowable_lb
    steps = (
        f"load = {abs(pressure_psf):.2f} psf x {width_in:g} in x {spacing_in:g} in / 144 = {load:.1f} lb",
        *weakest.steps,
        f"{screws} screw{'s' if screws != 1 else ''}: {capacity:.1f} lb by {weakest.kind} ({weakest.factor})",
        f"source: {weakest.source}",
        *((weakest.warning,) if weakest.warning else ()),
    )
    verdict = "holds" if load <= capacity else "exceeds"
    return ClipCheck(
        load,
        capacity,
        load / capacity,
        verdict,
        weakest.kind,
        steps,
        weakest.factor,
        weakest.source,
        weakest.warning,
    )


def _positive(**amounts: float) -> None:
    for name, amount in amounts.items():
        if not amount > 0:
            raise ValueError(f"{name} is more than zero, and {amount} is not")
