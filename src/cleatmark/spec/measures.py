"""Quantities in running text: where one stands, of what kind, and its value by the shared parser.

Two units of one value ("24 gauge (0.0239 inch)", "60 psf (2.87 kPa)", "1.52 mm 0.060 inch") are one measure.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

from msgspec import Struct

from cleatmark.spec import number_words
from cleatmark.spec.lazy import lazily
from cleatmark.spec.written_units import Unit, unit_at

_N = (
    r"(?:\d{1,3}(?:,\d{3})+(?:\.\d+)?|\d{1,3}\ \d{3}(?=\s?(?:Pa|N/m))|\d+[-\s]\d{1,2}/\d{1,3}|\d+/\d{1,3}"
    r"|\d+[-\s]?[¼½¾⅛⅜⅝⅞]|[¼½¾⅛⅜⅝⅞]|\d+\.\d+|\d+|\.\d+)"
)
_DIGITS = lazily(_N, re.IGNORECASE)
"""A number in digits. What stands behind one is matched apart, from its end: no part of a number starts it."""
_SIGN = lazily(r"([-+±]|(?:minus|negative|plus)\s(?=[\d.]))?\s?", re.IGNORECASE)
_FIRST_WORD = lazily(r"[a-z]+", re.IGNORECASE)
_UP_TO = r"\s?(?:to|-|through|thru)\s?"
_UP = lazily(_UP_TO, re.IGNORECASE)
_RANGE_ENDS = r"(?:\s?\(\d+\))?(?![\d/])"
_RANGE = lazily(rf"{_UP_TO}(?P<high>{_N}){_RANGE_ENDS}", re.IGNORECASE)
_BEHIND_RANGE = lazily(_RANGE_ENDS)
_BRACKET, _BRACKET_ENDS = lazily(r"\s?\(\s?"), lazily(r"\s?\)")
_TWICE = lazily(r"twice\b", re.IGNORECASE)
_ONE_OVER = lazily(r"(?:1|one)[-\s]over[-\s]", re.IGNORECASE)
_ONE_OF_HUNDREDS = lazily(number_words.ORDINAL, re.IGNORECASE, needs="hundred")
_COUNTED = r"\s?-?\s?(?:inch|in\b|\"|f(?:oo|ee)t|ft|mm|week|month|year|yr|day|hour|oz|ounce|psf|percent|ga)"
_TO_TWELVE = (
    r"[-\s]?(?P<unit>(?:inch(?:es)?\b|in\.|units?\b|\")\s?)?"
    r"(?:(?:of\s)?(?:vertical(?:ly)?|(?:vertical\s)?rise|fall|slope)\s)?"
    r"(?:(?:in|per|over|for)\s(?:the\s|each\s|every\s|a\s)?"
    r"(?:(?P<twelve>twelve|12)\b(?!\s?(?:ga|week|month|year))(?:[-\s]?(?:inch(?:es)?\b|units?\b))?|(?:one\s)?foot\b)"
    rf"|(?:to|on)\s(?:(?P<to>twelve|12)\b(?!\.|{_COUNTED})(?:\sunits?\b)?|(?:the|each|one|a)\sfoot\b))"
    r"(?:\s(?:horizontal(?:ly)?|of\srun|run)\b)?"
)
_TWELVE = lazily(r"twelve|12|foot", re.IGNORECASE)
_BEHIND_RISE = lazily(_TO_TWELVE, re.IGNORECASE)
_ONE = r"(?:1|one)\s(?:(?:unit\s)?vertical\s)?(?:in|to|on)\s"
_ONE_TO = lazily(_ONE, re.IGNORECASE)
_RUN_ENDS = r"(?!\s?-?(?:\d|inch|year|month|day|percent|foot|feet|ft|gauge|psf))"
_RUN, _BEHIND_RUN = lazily(rf"\d{{1,2}}{_RUN_ENDS}", re.IGNORECASE), lazily(_RUN_ENDS, re.IGNORECASE)
_SLOPING = lazily(r"\b(?:slop|pitch|inclin|fall)[^.;]*$", re.IGNORECASE)
_LONGEST_LOOK = 60
_OPENED, _CLOSED = lazily(r"\s?[(\[]?\s?(?=\w)"), lazily(r"\s?[)\]]")
_CUSTOMARY = frozenset(["in", "ft", "psf"])
_TO = lazily(r"(?:\smin(?:imum\b|\b\.?))?\s(?:to|-)\s", re.IGNORECASE)
_TO_OR_AND = lazily(r"(?:\smin(?:imum\b|\b\.?))?\s(?:to|-|and)\s", re.IGNORECASE)
"""What joins the ends of a range behind "between"."""
_THROUGH = lazily(r"\s(?:up\s)?(?:to|through|thru|-)\s", re.IGNORECASE)
_VERTICAL = lazily(
    r"[-\s]?(?:inch(?:es)?\s|in\.\s|units?\s|\"\s?)?(?:of\s)?(?:vertical(?:ly)?|rise)\s"
    r"(?:to|in|on|per|over|for)\s(?:each\s|every\s|a\s)?(?:12|twelve)(?:[-\s]?(?:inch(?:es)?|in\.|units?|\"))?"
    r"(?:\s(?:of\s)?(?:horizontal(?:ly)?|run)\b)?",
    re.IGNORECASE,
    needs="rise|vertical",
)
_FEET = lazily(r"(?P<ft>\d+)\s?(?:-\s?)?(?:'|ft\b\.?|feet\b|foot\b)[\s,-]{0,3}", re.IGNORECASE)
_INCHES = lazily(r"\s?-?(?:\"|''|in\b\.?|inch(?:es)?\b)", re.IGNORECASE)
_STRIP_OF = lazily(r"\b(?:width|strip|band|distance)\s(?:of\s)?$", re.IGNORECASE)
"""Words before feet that inches behind a comma do not go on: "for a width of 6 feet, 8 in. o.c."."""
_IN_TWELVE = lazily(
    rf"(?::|\s?(?:on|in)\s?|\s?to\s?(?=12\b(?!{_COUNTED})))12\b(?!\s?(?:gauge|\"))(?:[-\s]?(?:inch(?:es)?|\"))?",
    re.IGNORECASE,
    needs="12",
)
_OVER_TWELVE = lazily(
    r"(?P<rise>\d{1,2}(?:\.\d+)?)\s?/\s?12\b(?!\s?-?(?:inch|in\b|\"|mm|\d|ga\b|gauge|x\b))", re.IGNORECASE
)
_PER_METER = lazily(
    r"\s?mm\s?(?:/|per|in)\s?(?:a\s|one\s|1\s|each\s)?m(?:et(?:er|re)s?)?\b(?!\s?(?:²|\^?2))",
    re.IGNORECASE,
    needs="mm",
)
_RISE = lazily(r"1:(?P<run>\d{1,2})\b(?![.:]\d)")
_RATIO = lazily(
    r"(?:L|l|span|1)\s?/\s?(?P<n>\d{2,4})(?:th)?\b(?!\s?(?:inch|in\b|\"|mm))(?:\s?(?:of\s)?(?:the\s)?(?:clear\s)?span)?"
    r"|(?:span\s(?:length\s)?|L\s)(?:divided\sby|over)\s(?P<m>\d{2,4})\b|1\s?:\s?(?P<to>\d{3})\b",
    re.IGNORECASE,
)
_SCREW = lazily(
    r"(?:\#|No\.?\s?|Number\s)\s?(?P<n>\d{1,2})(?:-\d{1,2})?\b(?![.\d/]|-\d|\s?(?:/|per)\s)|(?P<d>[1357]/\d{1,2})-\d{2}\b(?!\s?\")",
    re.IGNORECASE,
)
_TO_ONE = r"[-\s]?(?:to|:)[-\s]?(?:1(?:\.0)?|one)\b(?![\d/.]|2|-|\s\d+/\d)"
_ONE_AFTER = lazily(_TO_ONE, re.IGNORECASE)
_FACTOR = lazily(rf"(?P<n>\d(?:\.\d+)?){_TO_ONE}", re.IGNORECASE)
_LONE_NUMBER = lazily(
    r"\s?(?:[.,;:)]|$|(?:against|to|on|over|for|in|at|under|when|based|applied|between|and|is|shall|as|times|"
    r"of\s(?:the\s)?(?:ultimate|fastener|panel|design))\b)",
    re.IGNORECASE,
)
_LONE_AFTER = frozenset(["of", "least", "than", "by", "minimum", "times", ":", "="])
_BEFORE_SECOND = lazily(
    r"(?:[-\s](?:nominal|minimum|min\.?|thick)(?=\s?[(\[]))?\s?(?P<open>[(\[/,]|or\s)?\s?(?:approx(?:imately|\.)?\s|"
    r"nominal(?:ly)?\s|minimum\s|min\.?\s|about\s|or\s|at\s)?[-+]?",
    re.IGNORECASE,
)
_TAIL = lazily(
    r"(?:\s(?:nominal|minimum|min\.?|thick|uncoated|coated|base\smetal|each|base))*\s?[)\]]?", re.IGNORECASE
)
_NOT_OF_TIME = lazily(r"\)(?!\s?(?:years?|months?|days?))")

STARTS = frozenset([*number_words.STARTS, "twice", "minus", "negative", "plus", "no", "number", "l", "span"])
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
    if option.casefold() in number_words.STARTS and len(option) in number_words.whole_ends(
        option, 0, len(option)
    ):
        return "number"
    found = _shape(option, 0, len(option), "")
    return found[0] if found and found[3] == len(option) else ""


def is_thin(option: str) -> bool:
    """Whether an option of a choice is a length so short that only a sheet has it."""
    found = _shape(option.strip(), 0, len(option.strip()), "")
    return found is not None and found[2] == "thin"


def is_measure(option: str) -> bool:
    """Whether an option of a choice is a measure and nothing else."""
    return bool(kind_of(option))


def unit_of(written: str) -> str:
    """The unit of a measure as written, under its one name."""
    found = amounts(written)
    return found.value.partition(" ")[2] if found else ""


@lru_cache(maxsize=4096)
def amounts(written: str) -> Amounts | None:
    """The amounts of a measure as written; None where it is none."""
    found = _shape(written, 0, len(written), "between")
    return found[1] if found else None


_Shape = tuple[str, Amounts, str, int]


def _shape(text: str, at: int, end: int, last: str) -> _Shape | None:
    """A measure, and the far end of a range whose ends have units of their own ("305 mm 12 inches to 457 mm")."""
    found = _one(text, at, end, last)
    if found is not None and found[0] == "slope" and not found[1].high:
        return _slopes(found, text, end)
    if found is None or found[0] not in ("length", "pressure") or found[1].sign:
        return found
    joins = _TO_OR_AND if last == "between" else _TO
    ranged = found if found[1].high else _ends_with_units(text, at, end, joins)
    if ranged is not None:
        return _range_twice(ranged, text, end)
    link = joins.match(text, found[3], end)
    far = _one(text, link.end(), end, "") if link else None
    if far is None or far[0] != found[0] or far[1].value.split()[-1] != found[1].value.split()[-1]:
        return found
    if far[1].high or not _less(found[1].value.split()[0], far[1].value.split()[0]):
        return found
    amounts = Amounts(found[0], found[1].value, far[1].value, found[1].second)
    return found[0], amounts, found[2], far[3]


def _slopes(found: _Shape, text: str, end: int) -> _Shape:
    """A slope, or the two ends of a range of them: "3:12 to 6:12"."""
    link = _THROUGH.match(text, found[3], end)
    far = _one(text, link.end(), end, "") if link else None
    if far is None or far[0] != "slope" or far[1].high:
        return found
    return "slope", Amounts("slope", found[1].value, far[1].value), "", far[3]


def _ends_with_units(text: str, at: int, end: int, joins: re.Pattern[str] = _TO) -> _Shape | None:
    """ "305 mm to 457 mm": both ends of a range with their unit, and nothing between."""
    low = _bare(text, at, end)
    link = joins.match(text, low[2], end) if low else None
    high = _bare(text, link.end(), end) if link else None
    if low is None or high is None or low[:1] != high[:1]:
        return None
    (near, unit), (far, other) = low[1], high[1]
    if unit != other or not _less(near, far):
        return None
    return low[0], Amounts(low[0], f"{near} {unit}", f"{far} {unit}"), "long", high[2]


def _bare(text: str, at: int, end: int) -> tuple[str, tuple[str, str], int] | None:
    number = _number_at(text, at, end)
    unit = unit_at(text, number.end, end) if number and not number.sign else None
    if number is None or unit is None:
        return None
    value = _number(number.digits) if number.digits else number_words.digits(number.word)
    return unit.kind, (value, unit.name), unit.end


def _range_twice(ranged: _Shape, text: str, end: int) -> _Shape:
    """A range with the same range in another unit behind it: one range, in the customary unit of the two."""
    opened = _OPENED.match(text, ranged[3], end)
    if opened is None:
        return ranged
    again = _one(text, opened.end(), end, "")
    if again is None or not again[1].high:
        again = _ends_with_units(text, opened.end(), end)
    if again is None or again[0] != ranged[0]:
        return ranged
    first, second = ranged[1], again[1]
    if first.value.split()[-1] == second.value.split()[-1]:
        return ranged
    closed = _CLOSED.match(text, again[3], end)
    if second.value.split()[-1] not in _CUSTOMARY:
        first, second = second, first
    both = Amounts(ranged[0], second.value, second.high, first.value)
    return ranged[0], both, ranged[2], closed.end() if closed else again[3]


def _one(text: str, at: int, end: int, last: str) -> _Shape | None:
    first = text[at : at + 1].casefold()
    if first == "(":
        return _negative(text, at, end)
    stop = _digits_end(text, at, end)
    found = _feet_and_inches(text, at, end) or _slope(text, at, stop, end)
    if found:
        return found
    if first in ("1", "o") and (divided := _part_of_span(text, at, end)):
        parts, stop = divided
        return "ratio", Amounts("ratio", f"L/{parts}"), str(parts), stop
    if first == "t" and (twice := _TWICE.match(text, at, end)):
        return "number", Amounts("number", "2"), "2", twice.end()
    if first in ("l", "s", "1") and (ratio := _RATIO.match(text, at, end)):
        n = ratio["n"] or ratio["m"] or ratio["to"]
        if int(n) >= 60:
            return "ratio", Amounts("ratio", f"L/{n}"), n, ratio.end()
    if first in _OF_SCREWS and (screw := _SCREW.match(text, at, end)):
        size = f"No. {screw['n']}" if screw["n"] else f"{screw['d']} in"
        return "size", Amounts("screw size", size), "", screw.end()
    if factor := _factor(text, at, end):
        n, stop = factor
        return "number", Amounts("number", n), _key(n), stop
    return _plain_number(text, at, end, last)


_OF_SCREWS = frozenset("#n1357")
"""Signs with which a screw's size starts."""


def _digits_end(text: str, at: int, end: int) -> int:
    """Where the number in digits that starts exactly at `at` ends; -1 where none does."""
    found = _DIGITS.match(text, at, end)
    return found.end() if found else -1


def _feet_and_inches(text: str, at: int, end: int) -> _Shape | None:
    """ "6 feet 8 inches"."""
    feet = _FEET.match(text, at, end)
    stop = _digits_end(text, feet.end(), end) if feet else -1
    inches = _INCHES.match(text, stop, end) if stop > 0 else None
    if feet is None or inches is None:
        return None
    if "," in text[at : inches.end()] and _STRIP_OF.search(text, max(at - 24, 0), at):
        return None
    value = f"{feet['ft']} ft {_number(text[feet.end() : stop])} in"
    return _dual("length", value, "", "", "long", text, inches.end(), end)


def _slope(text: str, at: int, stop: int, end: int) -> _Shape | None:
    """A slope. The number in digits with which it starts ends at `stop`, -1 where there is none."""
    if stop > 0:
        rise = text[at:stop]
        if found := _IN_TWELVE.match(text, stop, end):
            return "slope", Amounts("slope", f"{_number(rise)}:12"), "", found.end()
        if found := _RISE.match(text, at, end):
            return "slope", Amounts("slope", f"1:{found['run']}"), "", found.end()
        if (found := _OVER_TWELVE.match(text, at, end)) and _told_of_slope(text, at):
            return "slope", Amounts("slope", f"{found['rise']}:12"), "", found.end()
        if found := _VERTICAL.match(text, stop, end):
            return "slope", Amounts("slope", f"{_number(rise)}:12"), "", found.end()
        if found := _PER_METER.match(text, stop, end):
            return "slope", Amounts("slope", f"{_float(rise) / 10:g} %"), "", found.end()
    if sloped := _to_twelve(text, at, stop, end):
        return "slope", Amounts("slope", f"{_digits(sloped[0])}:12"), "", sloped[1]
    if (run := _one_in(text, at, end)) and ((at == 0 and run[1] == end) or _told_of_slope(text, at)):
        return "slope", Amounts("slope", f"1:{_digits(run[0])}"), "", run[1]
    return None


def _told_of_slope(text: str, at: int) -> bool:
    return bool(_SLOPING.search(text, max(at - _LONGEST_LOOK, 0), at))


def _negative(text: str, at: int, end: int) -> _Shape | None:
    """A pressure whose number stands in parentheses: "(31) psf"."""
    stop = _digits_end(text, at + 1, end)
    closed = _NOT_OF_TIME.match(text, stop, end) if stop > 0 else None
    unit = unit_at(text, closed.end(), end) if closed else None
    if unit is None or unit.kind != "pressure":
        return None
    return _with_unit(text[at + 1 : stop], "-", "", unit, text, end)


def _plain_number(text: str, at: int, end: int, last: str) -> _Shape | None:
    found = _number_at(text, at, end)
    if found is None:
        return None
    if at and text[at - 1].isalnum() and not found.sign:
        return None
    if found.sign in ("-", "+") and text[at + 1 : at + 2] == " " and _IN_TWELVE.match(text, found.end, end):
        return None
    before = found.sign.strip().casefold()
    sign = {"minus": "-", "negative": "-", "plus": "+"}.get(before, before)
    number, stop = found.amount, found.end
    if found.digits and (again := _again(text, stop, end)) and number == _as_digits(again[0]):
        stop = again[1]
    high = ""
    if not sign and (ranged := _ranged(text, stop, end)):
        unit = unit_at(text, ranged[1], end)
        if unit and _less(number, _digits(ranged[0])):
            high, stop = _digits(ranged[0]), ranged[1]
    unit = unit_at(text, stop, end)
    if unit and not high and unit.name == "years":
        return _and_months(number, unit, text, end)
    if unit and not (last in ("class", "ul") and text[stop : unit.end].strip().casefold() in ("in", "m")):
        return _with_unit(number, sign, high, unit, text, end)
    if not found.digits:
        lone = last in _LONE_AFTER and _LONE_NUMBER.match(text, stop, end)
        if not lone and not text.startswith((" times ", "-times "), stop):
            return None
        number = _decimal(number)
    if sign and text[at - 1 : at].strip(" (,;:") and sign == "-":
        return None
    if stop < end and (text[stop].isalpha() and text[stop] not in "xX"):
        return None
    return "number", Amounts("number", number.replace(",", ""), sign=sign), _key(number), stop


def _and_months(years: str, unit: Unit, text: str, end: int) -> _Shape:
    """Years, and the months that go with them: "twenty years and six months"."""
    link = _AND_MONTHS.match(text, unit.end, end)
    months = _number_at(text, link.end(), end) if link else None
    if months is None or months.sign:
        return _with_unit(years, "", "", unit, text, end)
    more = months.amount
    stop = again[1] if (again := _again(text, months.end, end)) else months.end
    other = unit_at(text, stop, end)
    if other is None or other.name != "months" or _float(more) >= _YEAR:
        return _with_unit(years, "", "", unit, text, end)
    total = _YEAR * _float(years) + _float(more)
    return "duration", Amounts("duration", f"{total:g} months"), _key(years), other.end


_YEAR = 12
_AND_MONTHS = lazily(r"\s?(?:,|,?\s?and\b|plus\b|\+)\s?", re.IGNORECASE)


def _with_unit(number: str, sign: str, high: str, unit: Unit, text: str, end: int) -> _Shape:
    kind, name = unit.kind, unit.name
    value = f"{_number(number)} {name}".strip()
    far = f"{_number(high)} {name}".strip() if high else ""
    key = _key(number)
    if kind == "length":
        key = "thin" if "/" not in _number(number) and _inches(number, name) < THIN else "long"
    return _dual(kind, value, far, sign, key, text, unit.end, end)


def _dual(kind: str, value: str, high: str, sign: str, key: str, text: str, stop: int, end: int) -> _Shape:
    """The same value in a second unit right behind it is part of the measure."""
    second = ""
    while found := _BEFORE_SECOND.match(text, stop, end):
        begin, last = found.end(), _digits_end(text, found.end(), end)
        if last < 0:
            break
        number = text[begin:last]
        unit = unit_at(text, last, end)
        if unit and _pairs(kind, value, number, unit, found["open"] or ""):
            again = f"{_number(number)} {unit.name}"
            stop = unit.end
            if found["open"] in ("(", "[") and (tail := _TAIL.match(text, stop, end)):
                stop = tail.end()
            if kind == "length" and unit.kind == "gauge":
                value, second, kind, key = again, second or value, "gauge", _key(number)
            second = second or again
            continue
        break
    return kind, Amounts(kind, value, high, second, sign), key, stop


def _pairs(kind: str, value: str, number: str, unit: Unit, opened: str) -> bool:
    """Whether a number and unit right behind a value are the same value again."""
    other, name = unit.kind, unit.name
    if value.endswith(f" {name}"):
        return False
    mark = opened.strip().casefold()
    if kind == other:
        return mark not in (",", "or") and kind != "days"
    if {kind, other} not in ({"gauge", "length"}, {"gauge", "mil"}, {"weight", "length"}, {"mil", "length"}):
        return False
    return mark != "or" and (other != "length" or _inches(number, name) < THIN)


def _worded_at(text: str, at: int, end: int) -> bool:
    """Whether a number in words may start exactly at `at`."""
    word = _FIRST_WORD.match(text, at, end)
    return word is not None and word[0].casefold() in number_words.STARTS


class _Number(Struct, frozen=True, gc=False):
    """A number: its sign as written, its digits, or its words and the digits in parentheses behind them."""

    sign: str
    digits: str
    word: str
    paren: str
    end: int

    @property
    def amount(self) -> str:
        """The number in digits."""
        return self.digits or self.paren or number_words.digits(self.word)


def _number_at(text: str, at: int, end: int) -> _Number | None:
    sign = _SIGN.match(text, at, end)
    begin = sign.end() if sign else at
    stop = _digits_end(text, begin, end)
    if stop > 0:
        return _Number(sign[1] or "" if sign else "", text[begin:stop], "", "", stop)
    start = at + text[at : at + 1].isspace()
    stop = next(number_words.ends(text, start, end), -1) if _worded_at(text, start, end) else -1
    if stop < 0:
        return None
    again = _in_brackets(text, stop, end)
    return _Number("", "", text[start:stop], *(again or ("", stop)))


_Told = tuple[str, int]
"""A number as written, and where what tells it ends."""


def _ranged(text: str, at: int, end: int) -> _Told | None:
    """The far end of a range, behind the near one."""
    if found := _RANGE.match(text, at, end):
        return found["high"], found.end()
    up = _UP.match(text, at, end)
    return _worded(text, up.end(), end, _BEHIND_RANGE) if up else None


def _again(text: str, at: int, end: int) -> _Told | None:
    """A number in parentheses behind a number."""
    opened = _BRACKET.match(text, at, end)
    if opened is None:
        return None
    return _worded(text, opened.end(), end, _BRACKET_ENDS) or _in_brackets(text, at, end)


def _in_brackets(text: str, at: int, end: int) -> _Told | None:
    """A number in digits and in parentheses."""
    opened = _BRACKET.match(text, at, end)
    stop = _digits_end(text, opened.end(), end) if opened else -1
    closed = _BRACKET_ENDS.match(text, stop, end) if stop > 0 else None
    return (text[opened.end() : stop], closed.end()) if opened and closed else None


def _to_twelve(text: str, at: int, stop: int, end: int) -> _Told | None:
    """A rise in twelve, or in a foot."""
    if stop > 0:
        stops: Iterable[int] = (stop,)
    elif _worded_at(text, at, end) and _TWELVE.search(text, at, end):
        stops = number_words.ends(text, at, end)
    else:
        return None
    for stop in stops:
        if found := _BEHIND_RISE.match(text, stop, end):
            told = found["twelve"] or found["to"] or found["unit"]
            return (text[at:stop], found.end()) if told else None
    return None


def _one_in(text: str, at: int, end: int) -> _Told | None:
    """What one is in: "one in forty-eight"."""
    one = _ONE_TO.match(text, at, end)
    if one is None:
        return None
    run = _RUN.match(text, one.end(), end)
    if run:
        return run.group(), run.end()
    stops = (
        stop for stop in number_words.whole_ends(text, one.end(), end) if _BEHIND_RUN.match(text, stop, end)
    )
    stop = next(stops, -1)
    return (text[one.end() : stop], stop) if stop > 0 else None


def _part_of_span(text: str, at: int, end: int) -> tuple[int, int] | None:
    """What a span is divided by, in words, and where that ends."""
    if over := _ONE_OVER.match(text, at, end):
        stop = next(number_words.whole_ends(text, over.end(), end), -1)
        if stop > 0:
            return number_words.whole(text[over.end() : stop]), stop
    found = _ONE_OF_HUNDREDS.match(text, at, end)
    return (number_words.span(found["hundreds"] or "", found["ordinal"]), found.end()) if found else None


def _factor(text: str, at: int, end: int) -> _Told | None:
    """So much to one, in digits."""
    if not _worded_at(text, at, end):
        found = _FACTOR.match(text, at, end)
        return (found["n"], found.end()) if found else None
    told = _worded(text, at, end, _ONE_AFTER) if _ONE_AFTER.search(text, at, end) else None
    return (_decimal(number_words.digits(told[0])), told[1]) if told else None


def _worded(text: str, at: int, end: int, behind: re.Pattern[str]) -> _Told | None:
    """A number in words with what has to stand behind it."""
    if not _worded_at(text, at, end):
        return None
    for stop in number_words.ends(text, at, end):
        if found := behind.match(text, stop, end):
            return text[at:stop], found.end()
    return None


def _digits(written: str) -> str:
    """A number in digits or in words, in digits."""
    return _number(written) if written[0] in "." or not written[0].isalpha() else number_words.digits(written)


def _as_digits(written: str) -> str:
    """A number in words in digits; one in digits as it is written."""
    return number_words.digits(written) if written[0].isalpha() else written


def _decimal(number: str) -> str:
    """ "2.5" of "2-1/2"."""
    return f"{_float(number):g}" if "/" in number else number


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
