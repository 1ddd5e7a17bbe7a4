"""The one parser for quantities, shared by YAML, rules and readings."""

from __future__ import annotations

import re
from fractions import Fraction
from functools import cache
from math import radians, tan

from cleatmark.units import words
from cleatmark.units.metals import columns_of
from cleatmark.units.pattern import NUMBER
from cleatmark.units.quantity import KINDS, Quantity, QuantityError
from cleatmark.units.screws import SCREW_INCHES, screw_diameter
from cleatmark.units.tables import BY_WORD, Unit, normal

LONGEST = 200
"""Characters a quantity may have. More is not a quantity."""
SLOPE_PLACES = 12
"""Decimals kept of the rise to run of a slope that is written in degrees: a millionth of a millionth."""

_FRACTIONS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅓": "1/3", "⅔": "2/3"} | {
    "⅛": "1/8",
    "⅜": "3/8",
    "⅝": "5/8",
    "⅞": "7/8",
}
_SHAPES = {
    "number": rf"(?P<sign>[-−–+]|minus )?(?P<number>{NUMBER})(?![0-9]|[.,][0-9])",
    "slope": rf"(?P<rise>{NUMBER}) ?(?::| in |/) ?(?P<run>[0-9]{{1,4}}(?:\.[0-9]{{1,4}})?)",
    "degrees": rf"(?P<sign>[-−–])?(?P<number>{NUMBER})(?: ?|[-‐‑–])(?:°|º|deg\.?|degrees?)",
    "screw": r"(?:#|№|no\.?|number)? ?(?P<number>[0-9]{1,2})(?:[-‐‑–](?P<thread>[0-9]{1,2}))?",
    "diameter": r"(?P<number>[0-9]{1,2}[/⁄][0-9]{1,2})[-‐‑–](?P<thread>[0-9]{1,2})",
    "rating": r"(?:FM )?(?:class )?(?:1[AI]?|I)[-‐‑–](?P<number>[0-9]{2,3})",
    "class": r"(?:UL )?(?:class )?(?P<number>[0-9]{1,3})",
    "ratio": r"L ?[/⁄] ?(?P<number>[1-9][0-9]{1,3})",
    "spelled": r"(?P<words>[a-z]+(?:[- ](?:hundred|[a-z]+))?) ?(?:\((?P<number>[0-9]{1,4})\))?(?P<rest>.*)",
}


@cache
def _shape(name: str) -> re.Pattern[str]:
    return re.compile(_SHAPES[name], re.IGNORECASE)


def amount(text: str) -> Fraction:
    """The exact value of a number as written, without sign: `1-3/4`, `1¾`, `2,400`, `.0236`."""
    plain = (
        re.sub("[\u00a0\u2007\u2009\u202f](?=[0-9]{3})", "", text)
        if "/" not in text and "⁄" not in text
        else text
    )
    plain = plain.replace(",", "").replace("⁄", "/")
    for sign, fraction in _FRACTIONS.items():
        plain = plain.replace(sign, f" {fraction}")
    whole, _, part = re.sub("[-‐‑–\u00a0\u2007\u2009\u202f ]+", " ", plain).strip().rpartition(" ")
    top, _, bottom = part.partition("/")
    if bottom and int(bottom) == 0:
        raise QuantityError(f'"{text}" divides by zero')
    return Fraction(int(whole or 0)) + (Fraction(int(top), int(bottom)) if bottom else Fraction(part))


def parse(text: str, kind: str = "", *, metal: str = "") -> Quantity:
    """The quantity that `text` states.

    kind   one of KINDS; "" takes the kind that the unit belongs to. A gauge read as a thickness keeps the
           kind "gauge"; ounces read as a thickness are copper's.
    metal  of the sheet that a thickness belongs to, "" where it is not known
    Raises QuantityError where the text is not such a quantity, ValueError for a kind that does not exist.
    """
    if kind and kind not in KINDS:
        raise ValueError(f"no kind of quantity is called {kind!r}")
    shown = " ".join(text.split())
    if not shown:
        raise _wrong("the value is empty", kind)
    if len(text) > LONGEST:
        raise _wrong(f"{len(text)} characters are too many for one quantity", kind)
    work = re.sub(r"[ \t\r\n]+", " ", text).strip()
    found = (
        _special(work, shown, kind) or _sheet(work, shown, kind, metal) or _plain(work, shown, kind, metal)
    )
    if found.value < 0 and not KINDS[found.kind].signed:
        raise _wrong(f'"{shown}" is negative: {_named(found.kind)} is not', found.kind)
    return found


_USUAL_RUNS = ("10", "12", "100")
"""Runs that a slope is written with after a bare "/"; with another, a fraction of an inch per foot may be meant."""


def _named(kind: str) -> str:
    return f"{'an' if kind[0] in 'aeiou' else 'a'} {kind}"


def _wrong(message: str, kind: str) -> QuantityError:
    if not kind:
        return QuantityError(message, "a number with its unit", "16 in")
    return QuantityError(message, KINDS[kind].expected, KINDS[kind].example)


def _special(work: str, shown: str, kind: str) -> Quantity | None:
    """Forms without a unit of their own: slope, screw, rating, class, deflection ratio."""
    if kind in ("", "slope") and (":" in work or kind):
        match = _shape("slope").fullmatch(work)
        if match:
            run = amount(match["run"])
            if run == 0:
                raise _wrong(f'"{shown}" has no run', "slope")
            bare = work[match.end("rise") : match.start("run")].strip() == "/"
            if bare and match["run"] not in _USUAL_RUNS:
                message = f'"{shown}" may be {shown} in 12, or {match["rise"]} in {match["run"]}'
                raise QuantityError(message, "a slope that says which", f"{shown}:12")
            return Quantity("slope", amount(match["rise"]) / run, f":{match['run']}", shown)
    if kind == "slope":
        match = _shape("degrees").fullmatch(work)
        if match:
            degrees = -amount(match["number"]) if match["sign"] else amount(match["number"])
            return Quantity("slope", _rise(degrees, shown), "deg", shown)
    if not kind:
        match = re.fullmatch(r"([^ ]+) ?in\.? 12", work, re.IGNORECASE)
        if match:
            return _special(f"{match[1]}:12", shown, "slope")
    if kind in ("", "screw size"):
        found = _screw(work, shown, kind)
        if found:
            return found
    if kind in ("", "ratio"):
        match = _shape("ratio").fullmatch(work)
        if match and int(match["number"]):
            return Quantity("ratio", Fraction(1, int(match["number"])), "L/", shown)
    if kind == "rating":
        match = _shape("rating").fullmatch(work)
        if not match:
            raise _wrong(f'"{shown}" is not a windstorm rating', kind)
        number = int(match["number"])
        if number < 15 or number % 15:
            raise QuantityError(
                f'"{shown}" is not a windstorm rating: ratings go in steps of 15 psf', "a rating", "1-90"
            )
        return Quantity("rating", Fraction(number), "psf", shown)
    if kind == "class":
        match = _shape("class").fullmatch(work)
        if not match:
            raise _wrong(f'"{shown}" is not a class number', kind)
        return Quantity("class", Fraction(int(match["number"])), "", shown)
    return None


def _rise(degrees: Fraction, shown: str) -> Fraction:
    """The rise to one of run of an angle. A tangent is seldom a fraction: it is rounded to SLOPE_PLACES decimals."""
    if degrees >= 90:
        raise _wrong(f'"{shown}" is no slope: a roof rises less than 90 degrees', "slope")
    return Fraction(round(tan(radians(degrees)) * 10**SLOPE_PLACES), 10**SLOPE_PLACES)


def _screw(work: str, shown: str, kind: str) -> Quantity | None:
    match = _shape("diameter").fullmatch(work)
    if match:
        return Quantity("screw size", amount(match["number"]), "in", shown)
    match = _shape("screw").fullmatch(work)
    marked = work[:1] in "#№" or work[:2].casefold() == "no"
    if not match or not (marked or (kind and (match["thread"] or work[:6].casefold() == "number"))):
        return None
    number = int(match["number"])
    diameter = screw_diameter(number)
    if diameter is None:
        sizes = ", ".join(str(size) for size in sorted(SCREW_INCHES))
        raise QuantityError(
            f'"{shown}": no screw has the number {number}', f"one of the numbers {sizes}", "No. 10"
        )
    return Quantity("screw size", diameter, "No.", shown)


def _sheet(work: str, shown: str, kind: str, metal: str) -> Quantity | None:
    """A gauge with its decimal beside it, "24 ga (0.0236 in)": one sheet, if the two agree."""
    if kind not in ("", "thickness", "gauge"):
        return None
    match = re.fullmatch(
        r"(\S+ ?[-‑]?(?:ga|gauge|gage)\b\.?),? ?[(\[,] ?([.0-9][^()\[\]]*)[)\]]?", work, re.IGNORECASE
    )
    if not match:
        return None
    gauge, decimal = (
        _plain(match[1], shown, kind, metal),
        _plain(match[2], words.bare(match[2]), "thickness", metal),
    )
    columns = columns_of(gauge, decimal, metal)
    if not columns:
        raise QuantityError(
            f'"{shown}": {words.bare(match[1])} and {words.bare(match[2])} are not one sheet',
            "the gauge or the decimal thickness, not two that disagree",
            "24 ga",
        )
    basis = decimal.basis or (columns[0] if len(columns) == 1 else "")
    return Quantity("gauge", gauge.value, "ga", shown, basis)


def _plain(work: str, shown: str, kind: str, metal: str) -> Quantity:
    """A number, its unit, and the words after it."""
    match = _shape("number").match(work)
    if match:
        value, rest = amount(match["number"]), work[match.end() :]
        if match["sign"] and match["sign"] != "+":
            value = -value
    else:
        value, rest = _spelled(work, shown, kind)
    unit, tail = _unit(rest)
    if unit is None:
        return _unitless(value, rest, shown, kind)
    factor, found = _factor(unit, kind, shown, metal)
    value *= factor
    if unit.name == "ft" and found in ("length", "thickness"):
        value, tail = _inches_after(value, tail, shown, found)
    basis, level, left = words.qualifiers(tail, found)
    if left and not kind and found == "length" and words.qualifiers(tail, "thickness")[0]:
        found, (basis, level, left) = "thickness", words.qualifiers(tail, "thickness")
    if left:
        raise _wrong(f'"{shown}": "{left}" is not part of {_named(kind or found)}', kind or found)
    return Quantity(found, value, unit.name, shown, basis, level)


def _unitless(value: Fraction, rest: str, shown: str, kind: str) -> Quantity:
    left = rest.strip()
    if left and re.match(r"[A-Za-z°²/\"'%]", left.lstrip("-‑ ")):
        word = left.lstrip("-‑ ")
        raise _wrong(f'"{shown}": "{word}" is not a unit of {_named(kind) if kind else "any kind"}', kind)
    if left:
        raise _wrong(f'"{shown}" is not {_named(kind or "number")}', kind or "number")
    if kind and not KINDS[kind].bare:
        raise _wrong(f'"{shown}" has no unit', kind)
    return Quantity(kind or "number", value, "", shown)


def _unit(rest: str) -> tuple[Unit | None, str]:
    """The unit at the start of `rest`, the longest that fits, and what follows it."""
    start = rest.lstrip(" \u00a0\u2007\u2009\u202f")
    if start[:1] in ("-", "‐", "‑", "–"):
        start = start[1:]
    whole = BY_WORD.get(normal(start))
    if whole and start:
        return whole, ""
    for end in range(min(len(start), 30), 0, -1):
        last, after = start[end - 1], start[end : end + 1]
        if last in " ,;-(" or (last.isalnum() and after.isalnum()):
            continue
        unit = BY_WORD.get(normal(start[:end]))
        if unit:
            return unit, start[end:]
    return None, rest


def _factor(unit: Unit, kind: str, shown: str, metal: str) -> tuple[Fraction, str]:
    """The factor to the base unit of the kind asked for, and the kind found."""
    if kind == "thickness" and unit.name == "ga":
        return Fraction(1), "gauge"
    found = kind or next(iter(unit.factors))
    if found not in unit.factors:
        named = _named(next(iter(unit.factors)))
        raise _wrong(f'"{shown}" is {named}, and {_named(kind)} is asked for', kind)
    if kind == "thickness" and unit.name == "oz" and metal and "copper" not in metal.casefold():
        raise QuantityError(
            f'"{shown}": ounces give the thickness of copper sheet, and the metal is {metal}',
            "a gauge or a decimal thickness",
            "0.032 in",
        )
    return unit.factors[found], found


def _inches_after(value: Fraction, tail: str, shown: str, kind: str) -> tuple[Fraction, str]:
    match = _shape("number").match(tail.lstrip(" ,-‑"))
    if not match:
        return value, tail
    unit, left = _unit(tail.lstrip(" ,-‑")[match.end() :])
    if unit is None or unit.name != "in" or match["sign"]:
        raise _wrong(f'"{shown}": inches with their unit are expected after the feet', kind)
    inches = amount(match["number"])
    return value + (inches if value >= 0 else -inches), left


def _spelled(work: str, shown: str, kind: str) -> tuple[Fraction, str]:
    """`twenty (20) years`, `two-year`, `two`."""
    match = _shape("spelled").fullmatch(work)
    found = words.spelled(work)
    if not match or found is None:
        raise _wrong(f'"{shown}" is not {_named(kind) if kind else "a quantity"}', kind)
    value, rest = found
    figure = re.match(r" ?\(([0-9]{1,4})\)", rest)
    if figure:
        if int(figure[1]) != value:
            raise _wrong(f'"{shown}": the word says {value} and the figure {figure[1]}', kind)
        rest = rest[figure.end() :]
    return Fraction(value), rest
