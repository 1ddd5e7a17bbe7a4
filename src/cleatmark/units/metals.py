"""Sheet thickness by gauge and metal, with where each column is from and how sure it is.

A steel gauge passes under several numbers: the coated nominal thickness, the least coated thickness
delivered, the bare sheet's standard gauge, and the base metal under the coating. Compare like with like.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from msgspec import Struct

from cleatmark.units.quantity import Quantity
from cleatmark.units.tables import BY_NAME


class Column(Struct, frozen=True):
    """Inches by gauge on one basis. `printed` are further figures in print for the same basis."""

    basis: str
    inches: Mapping[int, Fraction]
    source: str
    confidence: str
    printed: Mapping[int, tuple[Fraction, ...]] = {}

    def figures(self, gauge: int) -> tuple[Fraction, ...]:
        """Every figure in print for a gauge that the column has."""
        return (self.inches[gauge], *self.printed.get(gauge, ()))


def _inches(**by_gauge: str) -> dict[int, Fraction]:
    return {int(gauge[1:]): Fraction(value) for gauge, value in by_gauge.items()}


_STEEL_MINIMUM = _inches(
    g12="0.0994", g14="0.0705", g16="0.0575", g18="0.0466",
    g20="0.0356", g22="0.0296", g24="0.0236", g26="0.0187", g28="0.0157", g29="0.0142",
)  # fmt: skip
COATING = Fraction("0.0015")
"""Inches of metallic coating on both sides, G90 or AZ50, taken off a coated thickness for the base metal."""

COLUMNS: Mapping[str, tuple[Column, ...]] = {
    "steel": (
        Column(
            "nominal",
            _inches(
                g12="0.1084",
                g14="0.0785",
                g16="0.0635",
                g18="0.0516",
                g20="0.0396",
                g22="0.0336",
                g24="0.0276",
                g26="0.0217",
                g28="0.0187",
                g29="0.0172",
            ),
            "galvanised sheet gauge, coated nominal thickness",
            "high; 26, 28 and 29 seen in print, the rest from memory",
        ),
        Column(
            "minimum coated",
            _STEEL_MINIMUM,
            "galvanised sheet gauge, nominal less the thickness tolerance",
            "high for 26, 28, 29; medium for 20, 22, 24: 0.0246 and 0.0306 are printed too; 12 to 18 from memory",
            {24: (Fraction("0.0246"),), 22: (Fraction("0.0306"),)},
        ),
        Column(
            "uncoated",
            _inches(
                g12="0.1046",
                g14="0.0747",
                g16="0.0598",
                g18="0.0478",
                g20="0.0359",
                g22="0.0299",
                g24="0.0239",
                g26="0.0179",
                g28="0.0149",
                g29="0.0135",
            ),
            "manufacturers' standard gauge for bare sheet",
            "high; from memory",
        ),
        Column(
            "minimum base metal",
            {gauge: inches - COATING for gauge, inches in _STEEL_MINIMUM.items()},
            "minimum coated thickness less about 0.0015 in of coating",
            "medium: derived",
            {24: (Fraction("0.0209"),)},
        ),
    ),
    "stainless steel": (
        Column(
            "nominal",
            _inches(g28="0.0151", g26="0.0178", g24="0.0235", g22="0.0293"),
            "ASTM A240 sheet by gauge",
            "high; from memory",
        ),
    ),
    "aluminum": (
        Column(
            "nominal",
            _inches(g20="0.0320", g18="0.0403", g16="0.0508"),
            "Brown and Sharpe gauge; sheet is ordered as 0.032, 0.040 and 0.050 in",
            "high; from memory",
            {18: (Fraction("0.040"),), 16: (Fraction("0.050"),)},
        ),
    ),
}
_ALSO: Mapping[str, tuple[str, ...]] = {
    "minimum": ("minimum coated", "minimum base metal"),
    "minimum base metal": ("minimum base metal", "uncoated"),
}


def metal_name(text: str) -> str:
    """The metal that a text names: steel, stainless steel, aluminum, copper, zinc, or "" for none of them.

    Zinc-coated steel is steel.
    """
    folded = text.casefold()
    if "stainless" in folded:
        return "stainless steel"
    if "steel" in folded or "galvani" in folded:
        return "steel"
    if "alumin" in folded:
        return "aluminum"
    return next((metal for metal in ("copper", "zinc") if metal in folded), "")


def columns(metal: str, basis: str = "") -> tuple[Column, ...]:
    """The columns that a thickness on `basis` may be read in; all of them for no basis or "measured".

    A metal with a single column has no coating to tell apart. An unknown metal gives every metal's.
    """
    known = [column for name in ([metal] if metal else COLUMNS) for column in COLUMNS.get(name, ())]
    names = _ALSO.get(basis, (basis,))
    if not basis or basis == "measured" or (metal and len(known) == 1):
        return tuple(known)
    return tuple(column for column in known if column.basis in names) or tuple(known)


def thicknesses(q: Quantity, metal: str) -> dict[str, Fraction]:
    """Inches by basis of a gauge in one metal; of a decimal, the one value under its basis.

    {} where the metal has no gauge, or the gauge is not in the tables.
    """
    if q.kind != "gauge":
        return {q.basis: q.value}
    if q.value.denominator != 1:
        return {}
    gauge = int(q.value)
    return {c.basis: c.inches[gauge] for c in COLUMNS.get(metal_name(metal), ()) if gauge in c.inches}


def same_as_printed(q: Quantity, inches: Fraction) -> bool:
    """Whether a decimal thickness is the figure `inches` as it would be printed with as many places."""
    if q.value == inches:
        return True
    number = q.text.split(" ")[0].split("(")[0]
    places = len("".join(c for c in number.partition(".")[2] if c.isdigit()))
    least = {"in": 3, "mm": 2, "mil": 0}.get(q.unit)
    if least is None or places < least:
        return False
    half = BY_NAME[q.unit].factors["thickness"] * Fraction(1, 2 * 10**places)
    return abs(q.value - inches) <= half


def gauges_of(q: Quantity, metal: str) -> dict[int, set[str]]:
    """Gauges whose printed figures a decimal thickness matches, with the bases it matches them on."""
    found: dict[int, set[str]] = {}
    for column in columns(metal_name(metal), q.basis):
        for gauge in column.inches:
            if any(same_as_printed(q, figure) for figure in column.figures(gauge)):
                found.setdefault(gauge, set()).add(column.basis)
    return found


def columns_of(gauge: Quantity, decimal: Quantity, metal: str) -> tuple[str, ...]:
    """The bases on which a gauge and a decimal are one sheet; () where they are not."""
    if gauge.value.denominator != 1:
        return ()
    return tuple(sorted(gauges_of(decimal, metal or "steel").get(int(gauge.value), ())))
