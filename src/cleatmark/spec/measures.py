"""Quantities in running text: where one stands, of what kind, and its value by the shared parser.

Two units of one value ("24 gauge (0.0239 inch)", "60 psf (2.87 kPa)", "1.52 mm 0.060 inch") are one measure.
"""

from __future__ import annotations

import re
from functools import lru_cache

from msgspec import Struct

from cleatmark.spec.lazy import lazily

_N = (
    r"(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d{1,3}\ \d{3}(?=\s?(?:Pa|N/m))|\d+[-\s]\d{1,2}/\d{1,3}|\d+/\d{1,3}"
    r"|\d+[-\s]?[¼½¾⅛⅜⅝⅞]|[¼½¾⅛⅜⅝⅞]|\d+\.\d+|\d+|\.\d+)"
)
_WORDS = {
    "one": 1, "two": 2, "three": 3, "four": 4, "five": 5, "six": 6, "seven": 7, "eight": 8, "nine": 9, "ten": 10,
    "eleven": 11, "twelve": 12, "thirteen": 13, "fourteen": 14, "fifteen": 15, "sixteen": 16, "seventeen": 17,
    "eighteen": 18, "nineteen": 19, "twenty": 20, "thirty": 30, "forty": 40, "fifty": 50, "sixty": 60,
    "seventy": 70, "eighty": 80, "ninety": 90,
}  # fmt: skip
_SF = r"(?:sq(?:uare)?\.?\s?(?:ft\b\.?|f(?:oo|ee)t\b)|s\.?f\.?(?![a-z])|ft\.?\s?(?:²|\^?2\b))"
_SM = r"(?:m\s?(?:²|\^?2\b)|sq(?:uare)?\.?\s?m(?:et(?:er|re)s?)?\b)"
_UNITS: tuple[tuple[str, str, str], ...] = (
    ("pressure", "psf", rf"psf\b|(?:lbs?\.?-?f?|lbf|pounds?(?:[-\s]force)?|\#)\s?(?:/|per)\s?{_SF}"),
    ("pressure", "Pa", r"Pa\b(?!\.\s?[A-Z])|pascals?\b"),
    ("pressure", "kPa", r"kPa\b|kilopascals?\b|kN\s?/\s?m(?:²|\^?2)"),
    ("pressure", "Pa", r"N\s?/\s?m(?:²|\^?2)"),
    ("pressure", "kg/m²", rf"(?:kgf?|kilograms?(?:[-\s]force)?)\s?(?:/|per)\s?{_SM}"),
    ("stress", "ksi", r"ksi\b|kips per square inch|kip/sq\.?\s?in\b\.?"),
    ("stress", "psi", r"psi\b|pounds per square inch|lbs?\.?\s?/\s?sq\.?\s?in\b\.?"),
    ("stress", "MPa", r"MPa\b|megapascals?\b"),
    ("speed", "mph", r"mph\b|m\.p\.h\.?|miles per hour|miles/hour|miles an hour"),
    ("speed", "m/s", r"m/s(?:ec)?\b|meters per second|metres per second"),
    ("speed", "km/h", r"km/hr?\b|kph\b|kilomet(?:er|re)s per hour"),
    ("flow", "", r"cfm\b[^\s,;]*|c\.f\.m\.?|L/s\b|gal(?:lons?)?\b|gpm\b|gph\b"),
    ("slope", "in/ft", r"(?:inch(?:es)?|in\b\.?|\")\s?(?:/|per|in|to)\s?"
     r"(?:(?:1\s|one\s|a\s)?(?:foot|ft\b\.?)|12(?:\s|-)?inch(?:es)?)"),
    ("weight", "oz", rf"(?:oz\b\.?|ounces?)(?:\s?(?:/|per)\s?{_SF})?"),
    ("area", "sq ft", rf"{_SF}"),
    ("area", "m²", _SM),
    ("gauge", "ga", r"ga(?:uge|ge)?s?\b\.?"),
    ("mil", "mil", r"mils?\b"),
    ("length", "in", r"inch(?:es)?\b|in\b\.|in\b(?!\s(?:the|a|an|accordance|all|each|any|compliance|conform\w+|"
     r"addition|lieu|place|no|this|either|one|field|corners?|perimeter|color|order|excess|its|their|both|areas?|"
     r"zones?|which|writing|contact|length\sof|plane|such|place)\b)|\"|''"),
    ("length", "ft", r"f(?:ee|oo)t\b|ft\b\.?|'(?!')"),
    ("length", "mm", r"mm\b|millimet(?:er|re)s?\b"),
    ("length", "cm", r"cm\b|centimet(?:er|re)s?\b"),
    ("length", "m", r"m\b(?!\.?p|\s?/|\s?²|²)|met(?:er|re)s?\b"),
    ("duration", "years", r"years?\b|yrs?\b\.?"),
    ("duration", "months", r"months?\b|mos\b\.?"),
    ("days", "days", r"(?:calendar\s|working\s|business\s)?days?\b"),
    ("days", "", r"hours?\b|hrs?\b|minutes?\b|weeks?\b"),
    ("temperature", "", r"(?:°|degrees?|deg\b\.?)\s?[FC]\b"),
    ("angle", "deg", r"°|degrees?\b|deg\b\.?"),
    ("percent", "%", r"%|percent\b|per\scent\b"),
    ("force", "lb", r"lbs?\b\.?|lbf\b|pounds?\b|kips?\b|N\b|kN\b"),
)  # fmt: skip
_KINDS = tuple(kind for kind, _, _ in _UNITS)
_NAMES = tuple(name for _, name, _ in _UNITS)
_UNIT = "|".join(f"(?P<u{index}>{written})" for index, (_, _, written) in enumerate(_UNITS))
UNIT = lazily(rf"[\s-]{{0,2}}(?P<at>)(?:{_UNIT})", re.IGNORECASE)
"""A unit; its words stand from "at" to the end. Long to compile, so other patterns stop where it goes on."""
_SPELLED = "|".join(sorted(_WORDS, key=len, reverse=True))
_NUMBER = lazily(
    rf"(?P<sign>[-+±]|(?:minus|negative|plus)\s(?=[\d.]))?\s?(?:(?P<digits>{_N})"
    rf"|(?P<word>(?:{_SPELLED})(?:[-\s](?:one|two|three|four|five|six|seven|eight|nine))?)\b"
    rf"(?:\s?\(\s?(?P<paren>\d{{1,3}})\s?\))?)",
    re.IGNORECASE,
)
_RANGE = lazily(rf"\s?(?:to|-|through|thru)\s?(?P<high>{_N})(?![\d/])", re.IGNORECASE)
_SAME_AGAIN = lazily(r"\s?\(\s?(?P<paren>\d{1,3})\s?\)")
_TO = lazily(r"\s(?:to|-)\s", re.IGNORECASE)
_FEET_INCHES = lazily(
    rf"(?P<ft>\d+)\s?(?:-\s?)?(?:'|ft\b\.?|feet\b|foot\b)[\s,-]{{0,3}}"
    rf"(?P<in>{_N})\s?-?(?:\"|''|in\b\.?|inch(?:es)?\b)",
    re.IGNORECASE,
)
_SLOPE = lazily(
    rf"(?P<rise>{_N})(?::|\s?(?:on|in|to)\s?)12\b(?!\s?(?:gauge|\"))(?:[-\s]?(?:inch(?:es)?|\"))?",
    re.IGNORECASE,
)
_RISE = lazily(r"1:(?P<run>\d{1,2})\b(?![.:]\d)")
_RATIO = lazily(
    r"(?:L|l|span|1)\s?/\s?(?P<n>\d{2,4})(?:th)?\b(?!\s?(?:inch|in\b|\"|mm))(?:\s?(?:of\s)?(?:the\s)?(?:clear\s)?span)?"
    r"|span\s(?:length\s)?(?:divided\sby|over)\s(?P<m>\d{2,4})\b",
    re.IGNORECASE,
)
_SCREW = lazily(
    r"(?:\#|No\.?\s?|Number\s)\s?(?P<n>\d{1,2})(?:-\d{1,2})?\b(?![.\d/]|-\d|\s?(?:/|per)\s)|(?P<d>[1357]/\d{1,2})-\d{2}\b(?!\s?\")",
    re.IGNORECASE,
)
_FACTOR = lazily(r"(?P<n>\d(?:\.\d+)?)\s?(?:to|:)\s?1(?:\.0)?\b(?![\d/.]|2|-\d|\s\d+/\d)", re.IGNORECASE)
_SECOND = lazily(
    rf"(?:\s(?:nominal|minimum|min\.?|thick)(?=\s?[(\[]))?\s?(?P<open>[(\[/,]|or\s)?\s?(?:approx(?:imately|\.)?\s|nominal(?:ly)?\s|minimum\s|min\.?\s|about\s|or\s|at\s)?"
    rf"(?P<sign>[-+])?(?P<second>{_N})",
    re.IGNORECASE,
)
_TAIL = lazily(
    r"(?:\s(?:nominal|minimum|min\.?|thick|uncoated|coated|base\smetal|each|base))*\s?[)\]]?", re.IGNORECASE
)
_PAREN = lazily(rf"\((?P<n>{_N})\)(?!\s?(?:years?|months?|days?))")

STARTS = frozenset([*_WORDS, "minus", "negative", "plus", "no", "number", "l", "span"])
"""Words at which a quantity may start."""

THIN = 0.15
"""Inches under which a length is a sheet's thickness. A length of sheet metal work is never so short."""


class Measure(Struct, frozen=True, gc=False):
    """A measure found: its kind, the key that phrases compare, and where it ends."""

    kind: str
    key: str
    end: int


class Amounts(Struct, frozen=True):
    """What a measure says: its first value, the far end of a range, and the same value in a second unit.

    Each is a text that the shared parser takes ("24 ga"). sign: "-", "+", "±" or "".
    """

    kind: str
    value: str
    high: str = ""
    second: str = ""
    sign: str = ""


def measure(text: str, at: int, end: int, last: str = "", body: str = "") -> Measure | None:
    """The measure that starts exactly at `at`, or None. `last` is the word before it."""
    found = _shape(text, at, end, last)
    return Measure(found[0], found[2], found[3]) if found else None


def kind_of(option: str) -> str:
    """The kind of an option of a choice that is a measure and nothing else; "" for anything else."""
    option = option.strip()
    found = _shape(option, 0, len(option), "")
    return found[0] if found and found[3] == len(option) else ""


def is_thin(option: str) -> bool:
    """Whether an option of a choice is a length so short that only a sheet has it."""
    found = _shape(option.strip(), 0, len(option.strip()), "")
    return found is not None and found[2] == "thin"


def is_measure(option: str) -> bool:
    """Whether an option of a choice is a measure and nothing else."""
    return bool(kind_of(option))


def kind_of_unit(unit: str) -> str:
    """The kind of measure that a unit as written makes."""
    match = UNIT.match(unit)
    return _KINDS[int((match.lastgroup or "u0")[1:])] if match else ""


_BEFORE_GIVEN = lazily(r"\(\s?(?:in\s)?|\bin\s|,\s|\s-\s", re.IGNORECASE)
_AFTER_GIVEN = lazily(r"\s*(?:[),;:]|$|,?\s*(?:at|for|allowable|ultimate|ASD|and)\b)", re.IGNORECASE)


def unit_given(words: str) -> str:
    """The unit that words give for numbers below them: "Uplift pressures (psf)", "in pounds per square foot"."""
    for before in _BEFORE_GIVEN.finditer(words):
        unit = UNIT.match(words, before.end())
        if unit and _KINDS[_index(unit)] in ("pressure", "length") and _AFTER_GIVEN.match(words, unit.end()):
            return words[unit.start("at") : unit.end()]
    return ""


def unit_of(written: str) -> str:
    """The unit of a measure as written, under its one name."""
    found = amounts(written)
    return found.value.partition(" ")[2] if found else ""


@lru_cache(maxsize=4096)
def amounts(written: str) -> Amounts | None:
    """The amounts of a measure as written; None where it is none."""
    found = _shape(written, 0, len(written), "")
    return found[1] if found else None


_Shape = tuple[str, Amounts, str, int]


def _shape(text: str, at: int, end: int, last: str) -> _Shape | None:
    """A measure, and the far end of a range whose ends have units of their own ("305 mm 12 inches to 457 mm")."""
    found = _one(text, at, end, last)
    if found is None or found[0] not in ("length", "pressure") or found[1].high or found[1].sign:
        return found
    link = _TO.match(text, found[3], end)
    far = _one(text, link.end(), end, "") if link else None
    if far is None or far[0] != found[0] or far[1].value.split()[-1] != found[1].value.split()[-1]:
        return found
    if far[1].high or not _less(found[1].value.split()[0], far[1].value.split()[0]):
        return found
    amounts = Amounts(found[0], found[1].value, far[1].value, found[1].second)
    return found[0], amounts, found[2], far[3]


def _one(text: str, at: int, end: int, last: str) -> _Shape | None:
    if found := _FEET_INCHES.match(text, at, end):
        value = f"{found['ft']} ft {_number(found['in'])} in"
        return _dual("length", value, "", "", "long", text, found.end(), end)
    if (found := _SLOPE.match(text, at, end)) and text[at] not in "-+":
        return "slope", Amounts("slope", f"{_number(found['rise'])}:12"), "", found.end()
    if (found := _RISE.match(text, at, end)) and text[at] not in "-+":
        return "slope", Amounts("slope", f"1:{found['run']}"), "", found.end()
    if found := _RATIO.match(text, at, end):
        n = found["n"] or found["m"]
        if int(n) >= 60:
            return "ratio", Amounts("ratio", f"L/{n}"), n, found.end()
    if found := _SCREW.match(text, at, end):
        return (
            "size",
            Amounts("screw size", f"No. {found['n']}" if found["n"] else f"{found['d']} in"),
            "",
            found.end(),
        )
    if found := _FACTOR.match(text, at, end):
        return "number", Amounts("number", found["n"]), _key(found["n"]), found.end()
    if found := _PAREN.match(text, at, end):
        unit = UNIT.match(text, found.end(), end)
        if unit and _KINDS[_index(unit)] == "pressure":
            return _with_unit(found["n"], "-", "", unit, text, end)
    return _plain_number(text, at, end, last)


def _plain_number(text: str, at: int, end: int, last: str) -> _Shape | None:
    found = _NUMBER.match(text, at, end)
    if found is None or (found["sign"] and not found["digits"]):
        return None
    if at and text[at - 1].isalnum() and not found["sign"]:
        return None
    before = (found["sign"] or "").strip().casefold()
    sign = {"minus": "-", "negative": "-", "plus": "+"}.get(before, before)
    if found["digits"]:
        number, stop = found["digits"], found.end()
        if (again := _SAME_AGAIN.match(text, stop, end)) and again["paren"] == number:
            stop = again.end()
    else:
        number, stop = found["paren"] or str(_spelled(found["word"])), found.end()
    high = ""
    if (ranged := _RANGE.match(text, stop, end)) and not sign:
        unit = UNIT.match(text, ranged.end(), end)
        if unit and _less(number, ranged["high"]):
            high, stop = ranged["high"], ranged.end()
    unit = UNIT.match(text, stop, end)
    if unit and not (
        last in ("class", "ul") and text[unit.start() : unit.end()].strip().casefold() in ("in", "m")
    ):
        return _with_unit(number, sign, high, unit, text, end)
    if not found["digits"]:
        return None
    if sign and text[at - 1 : at].strip(" (,;:") and sign == "-":
        return None
    if stop < end and (text[stop].isalpha() and text[stop] not in "xX"):
        return None
    return "number", Amounts("number", number.replace(",", ""), sign=sign), _key(number), stop


def _with_unit(number: str, sign: str, high: str, unit: re.Match[str], text: str, end: int) -> _Shape:
    index = _index(unit)
    kind, name = _KINDS[index], _NAMES[index]
    value = f"{_number(number)} {name}".strip()
    far = f"{_number(high)} {name}".strip() if high else ""
    key = _key(number)
    if kind == "length":
        key = "thin" if "/" not in _number(number) and _inches(number, name) < THIN else "long"
    return _dual(kind, value, far, sign, key, text, unit.end(), end)


def _dual(kind: str, value: str, high: str, sign: str, key: str, text: str, stop: int, end: int) -> _Shape:
    """The same value in a second unit right behind it is part of the measure."""
    second = ""
    while found := _SECOND.match(text, stop, end):
        unit = UNIT.match(text, found.end(), end)
        if unit and _pairs(kind, value, found["second"], unit, found["open"] or ""):
            second = second or f"{_number(found['second'])} {_NAMES[_index(unit)]}"
            stop = unit.end()
            if found["open"] in ("(", "[") and (tail := _TAIL.match(text, stop, end)):
                stop = tail.end()
            if kind == "length" and _KINDS[_index(unit)] == "gauge":
                value, second, kind, key = second, value, "gauge", _key(found["second"])
            continue
        break
    return kind, Amounts(kind, value, high, second, sign), key, stop


def _pairs(kind: str, value: str, number: str, unit: re.Match[str], opened: str) -> bool:
    """Whether a number and unit right behind a value are the same value again."""
    other, name = _KINDS[_index(unit)], _NAMES[_index(unit)]
    if value.endswith(f" {name}"):
        return False
    mark = opened.strip().casefold()
    if kind == other:
        return mark not in (",", "or") and kind != "days"
    if {kind, other} not in ({"gauge", "length"}, {"gauge", "mil"}, {"weight", "length"}, {"mil", "length"}):
        return False
    return mark != "or" and (other != "length" or _inches(number, name) < THIN)


def _index(match: re.Match[str]) -> int:
    return int((match.lastgroup or "u0")[1:])


def _spelled(words: str) -> int:
    return sum(_WORDS[word] for word in re.split(r"[-\s]", words.casefold()))


_GLYPHS = {"¼": "1/4", "½": "1/2", "¾": "3/4", "⅛": "1/8", "⅜": "3/8", "⅝": "5/8", "⅞": "7/8"}


def _number(written: str) -> str:
    """A number as the shared parser takes it: "1-3/4" of "1 3/4" or "1¾", "2400" of "2,400"."""
    out = written.strip().replace(",", "")
    for glyph, plain in _GLYPHS.items():
        if glyph in out:
            whole = out.replace(glyph, "").strip(" -")
            return f"{whole}-{plain}" if whole else plain
    if "/" in out:
        return "-".join(out.split())
    return out.replace(" ", "")


def _float(written: str) -> float:
    total = 0.0
    for part in _number(written).split("-"):
        top, _, bottom = part.partition("/")
        total += float(top) / float(bottom) if bottom and float(bottom) else float(top or 0)
    return total


def _inches(number: str, unit: str) -> float:
    return _float(number) * {"in": 1.0, "ft": 12.0, "mm": 1 / 25.4, "cm": 1 / 2.54, "m": 39.37}.get(unit, 1.0)


def _less(low: str, high: str) -> bool:
    return _float(low) < _float(high)


def _key(number: str) -> str:
    out = _number(number)
    return (out.rstrip("0").rstrip(".") if "." in out else out) or "0"
