"""Units as they stand in running text: which one starts where, and the unit that a heading gives for numbers below."""

from __future__ import annotations

import re
from collections.abc import Iterator

from msgspec import Struct

from cleatmark.spec.lazy import lazily

_SF = r"(?:sq(?:uare)?\.?\s?(?:ft\b\.?|f(?:oo|ee)t\b)|s\.?f\.?(?![a-z])|ft\.?\s?(?:²|\^?2\b))"
_SM = r"(?:m\s?(?:²|\^?2\b)|sq(?:uare)?\.?\s?m(?:et(?:er|re)s?)?\b)"
_UNITS: tuple[tuple[str, str, str, str], ...] = (
    ("pressure", "psf", "pl#", rf"psf\b|(?:lbs?\.?-?f?|lbf|pounds?(?:[-\s]force)?|\#)\s?(?:/|per)\s?{_SF}"),
    ("pressure", "Pa", "p", r"Pa\b(?!\.\s?[A-Z])|pascals?\b"),
    ("pressure", "kPa", "k", r"kPa\b|kilopascals?\b|kN\s?/\s?m(?:²|\^?2)"),
    ("pressure", "Pa", "n", r"N\s?/\s?m(?:²|\^?2)"),
    ("pressure", "kg/m²", "k", rf"(?:kgf?|kilograms?(?:[-\s]force)?)\s?(?:/|per)\s?{_SM}"),
    ("stress", "ksi", "k", r"ksi\b|kips per square inch|kip/sq\.?\s?in\b\.?"),
    ("stress", "psi", "pl", r"psi\b|pounds per square inch|lbs?\.?\s?/\s?sq\.?\s?in\b\.?"),
    ("stress", "MPa", "m", r"MPa\b|megapascals?\b"),
    ("speed", "mph", "m", r"mph\b|m\.p\.h\.?|miles per hour|miles/hour|miles an hour"),
    ("speed", "m/s", "m", r"m/s(?:ec)?\b|meters per second|metres per second"),
    ("speed", "km/h", "k", r"km/hr?\b|kph\b|kilomet(?:er|re)s per hour"),
    ("flow", "", "clg", r"cfm\b[^\s,;]*|c\.f\.m\.?|L/s\b|gal(?:lons?)?\b|gpm\b|gph\b"),
    ("slope", "in/ft", 'i"', r"(?:inch(?:es)?|in\b\.?|\")\s?(?:/|per|in|to)\s?"
     r"(?:(?:1\s|one\s|a\s)?(?:foot|ft\b\.?)|12(?:\s|-)?inch(?:es)?)"),
    ("weight", "oz", "o", rf"(?:oz\b\.?|ounces?)(?:\s?(?:/|per)\s?{_SF})?"),
    ("area", "sq ft", "sf", rf"{_SF}"),
    ("area", "m²", "ms", _SM),
    ("gauge", "ga", "mug", r"(?:MSG|USSG)\b(?:\.|\sga(?:uge|ge)?\b)?|(?:U\.?S\.?\sstandard\s)?ga(?:uge|ge)?s?\b\.?"),
    ("mil", "mil", "m", r"mils?\b"),
    ("length", "in", 'i"\'', r"inch(?:es)?\b|in\b\.|in\b(?!\s(?:the|a|an|accordance|all|each|any|compliance|conform\w+|"
     r"addition|lieu|place|no|this|either|one|field|corners?|perimeter|color|order|excess|its|their|both|areas?|"
     r"zones?|which|writing|contact|length\sof|plane|such|place)\b)|\"|''"),
    ("length", "ft", "f'", r"f(?:ee|oo)t\b|ft\b\.?|'(?!')"),
    ("length", "mm", "m", r"mm\b|millimet(?:er|re)s?\b"),
    ("length", "cm", "c", r"cm\b|centimet(?:er|re)s?\b"),
    ("length", "m", "m", r"m\b(?!\.?p|\s?/|\s?²|²)|met(?:er|re)s?\b"),
    ("duration", "years", "y", r"years?\b|yrs?\b\.?"),
    ("duration", "months", "m", r"months?\b|mos\b\.?"),
    ("days", "days", "dcwb", r"(?:calendar\s|working\s|business\s)?days?\b"),
    ("days", "", "hmw", r"hours?\b|hrs?\b|minutes?\b|weeks?\b"),
    ("temperature", "", "°d", r"(?:°|degrees?|deg\b\.?)\s?[FC]\b"),
    ("angle", "deg", "°d", r"°|degrees?\b|deg\b\.?"),
    ("percent", "%", "%p", r"%|percent\b|per\scent\b"),
    ("force", "lb", "lpkn", r"lbs?\b\.?|lbf\b|pounds?\b|kips?\b|N\b|kN\b"),
)  # fmt: skip
"""Kind, name, the signs with which it may start, and how it is written."""


class Unit(Struct, frozen=True, gc=False):
    """A unit found: the kind of measure it makes, its one name, where it stands."""

    kind: str
    name: str
    start: int
    end: int


def _units_with(sign: str) -> re.Pattern[str]:
    """The units that start with a sign. All of them in one pattern take longer to compile than a page to read."""
    rows = [(index, row[3]) for index, row in enumerate(_UNITS) if sign in row[2]]
    return lazily("|".join(f"(?P<u{index}>{written})" for index, written in rows), re.IGNORECASE)


_BY_SIGN = {sign: _units_with(sign) for sign in "".join(row[2] for row in _UNITS)}


def unit_at(text: str, at: int, end: int) -> Unit | None:
    """The unit that stands at `at`, or behind two spaces and hyphens at most."""
    start = at
    while start < min(at + 2, end) and (text[start].isspace() or text[start] == "-"):
        start += 1
    pattern = _BY_SIGN.get(text[start].casefold()) if start < end else None
    found = pattern.match(text, start, end) if pattern else None
    if found is None:
        return None
    kind, name, _, _ = _UNITS[int(str(found.lastgroup)[1:])]
    return Unit(kind, name, start, found.end())


def units_in(text: str) -> Iterator[Unit]:
    """The units of a text, in order."""
    at = 0
    while at < len(text):
        unit = unit_at(text, at, len(text))
        if unit:
            yield unit
        at = unit.end if unit else at + 1


def kind_of_unit(unit: str) -> str:
    """The kind of measure that a unit as written makes."""
    found = unit_at(unit, 0, len(unit))
    return found.kind if found else ""


_BEFORE_GIVEN = lazily(r"\(\s?(?:in\s)?|\bin\s|,\s|\s-\s", re.IGNORECASE)
_AFTER_GIVEN = lazily(r"\s*(?:[),;:]|$|,?\s*(?:at|for|allowable|ultimate|ASD|and)\b)", re.IGNORECASE)


def unit_given(words: str, labelled: bool = False) -> str:
    """The unit that words give for numbers below them: "Uplift pressures (psf)", "in pounds per square foot".
    `labelled`: the words are the label of the numbers, and may give a unit of another kind: "Warranty, years"."""
    for before in _BEFORE_GIVEN.finditer(words):
        unit = unit_at(words, before.end(), len(words))
        if unit is None or not _AFTER_GIVEN.match(words, unit.end):
            continue
        if unit.kind in ("pressure", "length") or (labelled and unit.kind in ("gauge", "duration", "speed")):
            return words[unit.start : unit.end]
    return ""
