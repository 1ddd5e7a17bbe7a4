"""Safety factors and ratings: from like tests to an allowable, from a demand to the insurer's rating."""

from __future__ import annotations

import math
from collections.abc import Sequence

from msgspec import Struct

FEW_TESTS_FACTOR = 2.0
LEAST_FACTOR = 1.67
"""AISI S100 D6.2.1 (2012), I6.3.1 (2016), for steel panels tested by ASTM E1592 or AISI S906: from memory, high."""

RELIABILITY_SOURCE = "AISI S100-12 F1.1 and D6.2.1, from memory, medium confidence"
TARGETS = {"panel": (2.0, 0.10), "anchor": (2.5, 0.08)}
"""Target reliability index and VM by what failed: the panel in bending, or the clip, seam or fastener."""
_CALIBRATION, _MATERIAL, _FABRICATION = 1.52, 1.1, 1.0
_V_FABRICATION, _V_LOAD, _LEAST_V_TEST = 0.05, 0.21, 0.065

FM_STEP, FM_LEAST = 15, 60
"""Ratings go in steps of 15 psf, from 1-60: FM 4471, from memory."""


class StatisticalFactor(Struct, frozen=True):
    """A safety factor with its working. `confidence` is of the formula, not of the tests."""

    omega: float
    steps: tuple[str, ...]
    confidence: str
    source: str


def statistical_factor(results: Sequence[float], failure: str) -> StatisticalFactor:
    """The factor from like tests' ultimate pressures (psf), never below 1.67; 2.0 with fewer than three tests.

    failure  "panel" where the panel failed in bending, "anchor" where a clip, seam or fastener did
    Raises ValueError for another failure, or where a result is not positive.
    """
    if any(not result > 0 for result in results):
        raise ValueError("test results are more than zero")
    if len(results) < 3:
        _target(failure)
        text = f"{len(results)} like test{'s' if len(results) != 1 else ''}, fewer than three: {FEW_TESTS_FACTOR}"
        return StatisticalFactor(FEW_TESTS_FACTOR, (text,), "high", "AISI S100 I6.3.1, from memory")
    mean = sum(results) / len(results)
    spread = math.sqrt(sum((result - mean) ** 2 for result in results) / (len(results) - 1)) / mean
    return factor_from_scatter(len(results), spread, failure)


def factor_from_scatter(tests: int, v_test: float, failure: str) -> StatisticalFactor:
    """The factor from the number of like tests, at least four for the correction, and their coefficient of variation.

    The correction CP = (1 + 1/n) m/(m - 2) with m = n - 1 has no value for n of three; 5.7 is taken then.
    """
    beta, v_material = _target(failure)
    degrees = tests - 1
    correction = 5.7 if tests == 3 else (1 + 1 / tests) * degrees / (degrees - 2)
    used = max(v_test, _LEAST_V_TEST)
    root = math.sqrt(v_material**2 + _V_FABRICATION**2 + correction * used**2 + _V_LOAD**2)
    phi = _CALIBRATION * _MATERIAL * _FABRICATION * math.exp(-beta * root)
    omega = 1.6 / phi
    steps = [
        f"CP = {correction:.3f} for {tests} tests",
        f"VP = {used:.3f}" + (f", the least in place of {v_test:.3f}" if used > v_test else ""),
        f"root = {root:.4f}",
        f"phi = {_CALIBRATION} x {_MATERIAL} x {_FABRICATION} x e^(-{beta} x {root:.4f}) = {phi:.3f}",
        f"omega = 1.6/phi = {omega:.3f}",
    ]
    if omega < LEAST_FACTOR:
        steps.append(f"not below {LEAST_FACTOR}")
    return StatisticalFactor(max(omega, LEAST_FACTOR), tuple(steps), "medium", RELIABILITY_SOURCE)


def _target(failure: str) -> tuple[float, float]:
    if failure not in TARGETS:
        raise ValueError(f'"{failure}" is no group of failures; expected {" or ".join(TARGETS)}')
    return TARGETS[failure]


class RatingNeeded(Struct, frozen=True):
    """The insurer's rating that a demand needs. The demand itself is the insurer's to give: this is a check."""

    rating: str
    psf: int
    steps: tuple[str, ...]
    note: str = "The insurer gives the demand of an insured roof. This is a check beside it."


def fm_rating_needed(allowable_demand_psf: float) -> RatingNeeded:
    """Twice the allowable-level demand (psf, positive), rounded up to a step of 15 psf, from 1-60."""
    if not allowable_demand_psf >= 0:
        raise ValueError("a demand is given as a positive magnitude")
    twice = 2 * allowable_demand_psf
    steps = math.ceil(twice / FM_STEP - 1e-9)
    psf = max(steps * FM_STEP, FM_LEAST)
    shown = (f"2 x {allowable_demand_psf:.2f} = {twice:.2f} psf", f"up to the step of {FM_STEP} psf: 1-{psf}")
    return RatingNeeded(f"1-{psf}", psf, shown)
