"""Numbers as a reader checks them. Rounded for print only: nothing is compared here after rounding."""

from __future__ import annotations

from decimal import ROUND_HALF_UP, Decimal

from msgspec import Struct

from cleatmark.review.model import ZoneRow

NBSP = "\u00a0"
NONE = "—"

_KPA_PER_PSF = 0.0478802589804
_M2_PER_SQFT = 0.09290304
_MM_PER_IN = 25.4
_KN_PER_LB = 0.0044482216152605
_FRACTIONS = {1: "1/16", 2: "1/8", 3: "3/16", 4: "1/4", 5: "5/16", 6: "3/8", 7: "7/16", 8: "1/2"} | {
    9: "9/16",
    10: "5/8",
    11: "11/16",
    12: "3/4",
    13: "13/16",
    14: "7/8",
    15: "15/16",
}
LEVELS = {"allowable": "allowable-stress level", "strength": "strength level"}


def rounded(value: float, places: int) -> str:
    """The value with `places` decimals, halves rounded away from zero as by hand."""
    return str(Decimal(repr(value)).quantize(Decimal(1).scaleb(-places), rounding=ROUND_HALF_UP))


def trimmed(value: float, places: int) -> str:
    """As `rounded`, without the zeros that end it."""
    text = rounded(value, places)
    return text.rstrip("0").rstrip(".") if "." in text else text


def percent(ratio: float | None) -> str:
    """The ratio as "92 %"; a ratio beside 1 gets decimals until it does not read as 100 %."""
    if ratio is None:
        return NONE
    for places in (0, 1, 2):
        text = rounded(ratio * 100, places)
        if (float(text) > 100) == (ratio > 1) and (float(text) < 100) == (ratio < 1):
            return f"{text}{NBSP}%"
    return f"{'over' if ratio > 1 else 'under'}{NBSP}100{NBSP}%"


def share(part: float) -> str:
    """A part of a whole as "30 %"; one beside none gets decimals until it does not read as 0 %."""
    for places in (0, 1, 2):
        text = rounded(part * 100, places)
        if float(text) or not part:
            return f"{text}{NBSP}%"
    return f"under{NBSP}0.01{NBSP}%"


class Figures(Struct, frozen=True):
    """Figures in the job's units: "US" (psf, sq ft, in) or "SI" (kPa, m², mm)."""

    units: str = "US"

    @property
    def metric(self) -> bool:
        return self.units.upper() == "SI"

    @property
    def pressure_unit(self) -> str:
        return "kPa" if self.metric else "psf"

    @property
    def area_unit(self) -> str:
        return "m²" if self.metric else f"sq{NBSP}ft"

    @property
    def length_unit(self) -> str:
        return "mm" if self.metric else "in"

    @property
    def force_unit(self) -> str:
        return "kN" if self.metric else "lb"

    def pressure(self, psf: float | None, beside: float | None = None) -> str:
        """The pressure without its unit, with decimals until it reads apart from a differing `beside`."""
        if psf is None:
            return NONE
        scale, places = (_KPA_PER_PSF, 2) if self.metric else (1.0, 1)
        for extra in range(3):
            text = rounded(psf * scale, places + extra)
            if beside is None or beside == psf or rounded(beside * scale, places + extra) != text:
                return text
        return text

    def area(self, sqft: float | None) -> str:
        if sqft is None:
            return NONE
        return trimmed(sqft * _M2_PER_SQFT, 2) if self.metric else trimmed(sqft, 1)

    def length(self, inches: float | None) -> str:
        """A short length without its unit: "16", "1-3/4", "406"."""
        if inches is None:
            return NONE
        if self.metric:
            return rounded(inches * _MM_PER_IN, 0)
        sixteenths = inches * 16
        if sixteenths != int(sixteenths):
            return trimmed(inches, 3)
        whole, part = divmod(int(sixteenths), 16)
        if not part:
            return str(whole)
        return f"{whole}-{_FRACTIONS[part]}" if whole else _FRACTIONS[part]

    def force(self, pounds: float | None) -> str:
        """The force without its unit: "128", "0.57"."""
        if pounds is None:
            return NONE
        return rounded(pounds * _KN_PER_LB, 2) if self.metric else rounded(pounds, 0)

    def with_unit(self, figure: str, unit: str) -> str:
        return figure if figure == NONE else f"{figure}{NBSP}{unit}"

    def zone(self, row: ZoneRow) -> str:
        """ "demand 48.2 psf, allowable 52.5 psf, allowable-stress level, 10 sq ft, 92 % used" """
        parts: list[str] = []
        if row.required_psf is None:
            parts.append("demand not shown")
        else:
            shown = self.pressure(row.required_psf, row.allowable_psf)
            parts.append(f"demand {self.with_unit(shown, self.pressure_unit)}")
        if row.allowable_psf is None:
            parts.append("allowable not shown")
        else:
            shown = self.pressure(row.allowable_psf, row.required_psf)
            parts.append(f"allowable {self.with_unit(shown, self.pressure_unit)}")
        if row.level:
            parts.append(LEVELS.get(row.level, row.level))
        if row.area_sqft is not None:
            parts.append(self.with_unit(self.area(row.area_sqft), self.area_unit))
        if row.ratio is not None:
            parts.append(f"{percent(row.ratio)} used")
        return ", ".join(parts)
