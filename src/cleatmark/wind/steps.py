"""The working: symbols, numbers, result, section. Rounded for print only."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from msgspec import Struct


def figure(value: float, places: int = 2) -> str:
    """A number with at most `places` decimals, halves away from zero, without zeros that end it."""
    text = str(Decimal(repr(float(value))).quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP))
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def fixed(value: float, places: int) -> str:
    """A number with exactly `places` decimals, halves away from zero."""
    return str(Decimal(repr(float(value))).quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP))


def signed(value: float, places: int) -> str:
    """As `fixed`, with a plus sign where it is not negative."""
    return fixed(value, places) if value < 0 else f"+{fixed(value, places)}"


class Step(Struct, frozen=True):
    """One step of a computation: the formula, the numbers in it, what comes out, where it stands."""

    symbols: str
    numbers: str
    result: str
    section: str

    def __str__(self) -> str:
        working = " = ".join(part for part in (self.symbols, self.numbers, self.result) if part)
        return f"{working} ({self.section})" if self.section else working
