"""What the headings, row labels and captions of a table say: zone, area, level, direction, unit, roof."""

from __future__ import annotations

import re

from cleatmark.spec.grid_shape import BARE
from cleatmark.spec.lazy import lazily
from cleatmark.spec.written_units import kind_of_unit, unit_given, units_in
from cleatmark.spec.zones import zone_at

ZONE_HEAD = lazily(r"\bzones?\b", re.IGNORECASE)
AREA_HEAD = lazily(
    r"\b(?:effective|wind|tributary)\s(?:wind\s)?area|\bsq\.?\s?ft|\bsquare\sfeet|\bs\.?f\.?\b|\bEWA\b",
    re.IGNORECASE,
)
PRESSURE_UNIT = lazily(
    r"\bpsf\b|\bkPa\b|\bPa\b|\blbf?s?\.?\s?(?:/|per)\s?(?:sq\.?\s?ft\.?|sf|ft2|ft²|square\s(?:foot|feet))|"
    r"\bpounds?\s(?:force\s)?per\ssquare\sfoot|\bkgf?/m2|\bkg/m²|\bN/m²|\bN/m2",
    re.IGNORECASE,
)
ZONE_NAME = lazily(
    r"^\(?(?:P\s?\(?[1-5]\)?|[1-5]\s?(?:'|prime)?\s?(?:oh|[enr])?|[A-E])\)?(?:\s?(?:,|/|&|and|or)\s?(?:[1-5]'?(?:oh|[enr])?|[A-E]))*$",
    re.IGNORECASE,
)
_WALL_ZONE = lazily(
    r"^(?:zone\s)?\(?([45](?:\s?(?:,|/|&|and|or)\s?[45])?)\)?[\s,(-]+walls?\)?$", re.IGNORECASE
)
_PARAPET = lazily(r"^(?:(?:wind\s)?pressures?\s(?:on|at)\s(?:the\s)?)?parapets?\b(?!\swalls?)", re.IGNORECASE)
_ALL = lazily(r"all(?: (?:roof )?(?:zones?|areas?))?", re.IGNORECASE)
_OVERHANG = lazily(
    r"^overhangs?\W+(?:zone\s)?(?P<a>[1-3][enr]?)\)?$|^(?:zone\s)?(?P<b>[1-3][enr]?)[\s,(-]+overhangs?\)?$",
    re.IGNORECASE,
)
_ALL_WITH = lazily(r"^all\s(?:roof\s)?zones?\s?[,(-]\s?([^)]+)\)?$", re.IGNORECASE)
_AREA_ALONE = lazily(r"(?:EWA|areas?|A)\W*", re.IGNORECASE)
_AN_AREA = lazily(
    r"^(?:(?:(?:effective|tributary)\s)?(?:wind\s)?areas?|EWA|A)\s?(?:of\s|[=<>≤≥(:,]\s?)+(?P<n>\d[\d,.]*)"
    r"\s?(?P<unit>sq\.?\s?ft\.?|s\.?f\.?|ft2|ft²|sq\.?\s?m\.?|m2|m²)?\)?$|^[<>≤≥=]+\s?(?P<m>\d[\d,.]*)$",
    re.IGNORECASE,
)
_METRIC_AREA = lazily(r"\bm²|\bm2\b|\bsq\.?\s?m\b|\bsquare\smet", re.IGNORECASE)
_IMPERIAL_AREA = lazily(r"\bsq\.?\s?ft|\bs\.?f\.?\b|\bft²|\bft2\b|\bsquare\sf", re.IGNORECASE)
_NO_PRESSURE = lazily(
    r"\b(?:area|width|slope|height|gauge|thickness|spacing|span|length|speed|year|class)s?\b", re.IGNORECASE
)
_AREAS_AT = lazily(r"(?:effective|tributary) (?:wind )?areas?|(?:all|any|each) areas?", re.IGNORECASE)
_THOUSANDS = lazily(r"(\d)[ ,](\d{3})\b")
_SIGN_APART = lazily(r"^\(\s?([-+])\s?\)\s?(?=\d)")
_PUSH, _PULL = (
    lazily(r"(?<!\d)\+(?!\s?[\d/-])"),
    lazily(r"\(\s?-\s?\)|^-(?=\s?[a-z(]|$)|(?<=\s)-$", re.IGNORECASE),
)
_LEVELS = (
    ("allowable", lazily(r"\b(?:nominal|service|serviceability|working|unfactored)\b", re.IGNORECASE)),
    ("ultimate", lazily(r"\b(?:strength|factored|Vult|SD)\b", re.IGNORECASE)),
)
_UPLIFT_ALONE = lazily(r"\buplift$", re.IGNORECASE)
_LEVEL_SAID = lazily(r"\b(?:allowable|ASD|ultimate|LRFD|ULS)\b", re.IGNORECASE)
_NO_LEVEL = lazily(r"\b(?:speed|yield|tensile|thickness|width)\b", re.IGNORECASE)
_FRACTION = lazily(r"^(?:\d+[-\s])?\d+/\d+$|^\d*\.?\d+$")
_SIZE = lazily(
    r"\b(?:width|coverage|height|high|depth|deep|spacing|spaced|module|exposure|ribs?|cent(?:er|re)s|o\.?c\.?|"
    r"legs?|thick(?:ness)?|length|laps?)\b",
    re.IGNORECASE,
)
_THICK = lazily(r"\bthick", re.IGNORECASE)
_SIZES_IN = lazily(
    r"\b(?:dimensions?|sizes?|widths?|measurements?|spacings?)\b[^.;:\d]{0,30}\bin\s(?P<a>inches|millimet(?:er|re)s|mm)\b|"
    r"\b(?P<b>inches|millimet(?:er|re)s|mm)[,]?\s(?:unless|except|u\.?n\.?o)\b",
    re.IGNORECASE,
)
_MANNER = lazily(
    r",?\s?\b(?:on\scent(?:er|re)s?|o\.?\s?c\.?(?!\w)|maximum|max\b\.?|minimum|min\b\.?|than)", re.IGNORECASE
)
UNIT_HEAD = lazily(r"units?(?:\sof\smeasure)?|U/?M", re.IGNORECASE)
NOTHING = lazily(r"^[\s(]*(?:n\s?[/.]?\s?a\.?|not\sapplicable|[-\u2013\u2014.]+|nil)[\s)]*$", re.IGNORECASE)


def is_zone(name: str) -> bool:
    """Whether a text names a zone and nothing else."""
    zone = zone_at(name, 0, len(name)) if name else None
    return bool(zone and zone.end == len(name))


def is_area_head(head: str) -> bool:
    """Whether a heading names the area itself, and not a pressure at an area ("10 sq ft")."""
    if PRESSURE_UNIT.search(head) or re.search(r"\d", head.replace("ft2", "").replace("m2", "")):
        return False
    named = (
        AREA_HEAD.search(head)
        or _AREA_ALONE.fullmatch(head)
        or (re.match(r"areas?\b", head, re.IGNORECASE) and _METRIC_AREA.search(head))
    )
    return bool(named) and not re.search(r"pressure|uplift|load", head, re.IGNORECASE)


def area_told(number: str, head: str, outside: str) -> str:
    """A number of a column or row of effective wind areas, told as one."""
    metric = _METRIC_AREA.search(head) or (
        _METRIC_AREA.search(outside)
        and not _IMPERIAL_AREA.search(head)
        and not _IMPERIAL_AREA.search(outside)
    )
    return f"effective wind area {number} {'m2' if metric else 'sq ft'}"


_AN_AMOUNT = lazily(
    r"^[<>≤≥=]*\s?(\d[\d,.]*)(?:\s?(?:or|and)\s(?:less|more|under|over|smaller|larger|greater)|\s?\+|\s?(?:max|min)\.?)?$",
    re.IGNORECASE,
)


def area_of_row(text: str, head: str, outside: str) -> str:
    """A cell of a column of effective wind areas, told as one: "10", "10 or less"; others as they are."""
    amount = _AN_AMOUNT.match(text)
    return area_told(amount[1], head, outside) if amount else text


def area_in(text: str, head: str, outside: str) -> str:
    """A heading that is an area, told as one: "Area <= 10", "A = 100 sf"; "" for any other."""
    found = _AN_AREA.match(text)
    if found is None:
        return ""
    return area_told(found["n"] or found["m"], f"{head} {found['unit'] or ''}", outside)


def place_told(text: str, head: str) -> str:
    """A cell of a column of zones, told as a zone; other cells as they are."""
    if ZONE_HEAD.search(head) or not head:
        if _ALL.fullmatch(text):
            return "All zones"
        if ZONE_NAME.match(text):
            return f"Zone {text}"
    if over := _OVERHANG.match(text):
        return f"Overhang, Zone {over['a'] or over['b']}"
    if all_with := _ALL_WITH.match(text):
        return f"All zones: {all_with[1]}"
    if wall := _WALL_ZONE.match(text):
        return f"Wall zone {wall[1]}"
    if _PARAPET.match(text):
        return f"Parapet walls, {text}"
    return text


def pressure_words(text: str) -> str:
    """A heading or label of a table of pressures with its level and direction in words: "Nominal", "P (+) psf"."""
    told = [f"{text} pressure" if _UPLIFT_ALONE.search(text) else text]
    if not _LEVEL_SAID.search(text) and not _NO_LEVEL.search(text):
        told += [level for level, words in _LEVELS if words.search(text)][:1]
    push, pull = _PUSH.search(text), _PULL.search(text)
    if bool(push) is not bool(pull):
        told.append("inward" if push else "outward")
    return " ".join(told)


_WITH_LEVEL = lazily(
    r"^([-+(]?\s?\d[\d.,]*\)?\s?)\(?(ASD|LRFD|ultimate|allowable|nominal|strength|service)\)?$", re.IGNORECASE
)
"""A bare number with its level: "30 (ASD)"."""
_OPEN = lazily(r"^(?:(?:\[[^\]a-z]*\]|_{2,})\s?)+$", re.IGNORECASE)


def unit_in(words: str) -> str:
    """The unit that a heading or label gives: "Width (in.)", "Clip spacing, inches o.c.", "Gauge"."""
    if told := unit_given(_MANNER.sub("", words), labelled=True):
        return told
    for unit in units_in(words):
        start = unit.start
        if words[:start].rstrip()[-1:].isdigit():
            continue
        if not (start and words[start - 1].isalnum()) and not words[unit.end : unit.end + 1].isalnum():
            return words[start : unit.end]
    return ""


def with_unit(value: str, head: str, label: str, outside: str, own: str = "") -> str:
    """A bare number with the unit that its row, heading, label or caption gives.

    own  what stands in the row's column of units
    """
    value = _SIGN_APART.sub(r"\1", value)
    if own and (_FRACTION.match(value) or _OPEN.match(value)):
        return f"{value} {own}"
    if leveled := _WITH_LEVEL.match(value):
        return f"{with_unit(leveled[1].strip(), head, label, outside, own)} ({leveled[2]})"
    opened = _OPEN.match(value)
    if not opened and not BARE.match(_THOUSANDS.sub(r"\1\2", value)):
        return _sized(value, head, label, outside) if _FRACTION.match(value) else value
    unit = unit_given(_MANNER.sub("", label), labelled=True)
    if unit and kind_of_unit(unit) != "pressure":
        return f"{value} {unit}"
    if (sized := _sized(value, head, label, outside)) != value:
        return sized
    of_another = _NO_PRESSURE.search(_AREAS_AT.sub("", head)) and not PRESSURE_UNIT.search(head)
    if of_another and not re.search(r"\d", head):
        unit = unit_in(head)
        return value if not unit or kind_of_unit(unit) in ("area", "pressure") else f"{value} {unit}"
    for text in (head, label, outside):
        if told := PRESSURE_UNIT.search(text):
            if opened:
                return f"{value} {told.group()}"
            parts = re.split(r"\s?[/;]\s?|,\s", _THOUSANDS.sub(r"\1\2", value.strip(" *")))
            return " / ".join(f"{_sign(part)} {told.group()}" for part in parts)
    return value


def _sized(value: str, head: str, label: str, outside: str) -> str:
    """A bare size with the unit of its heading or label, or that of all sizes: "Dimensions in inches"."""
    size = _SIZE.search(f"{label} {head}")
    if not size or not (_FRACTION.match(value) or _OPEN.match(value)) or PRESSURE_UNIT.search(head):
        return value
    for text in (label, head):
        unit = unit_given(_MANNER.sub("", text), labelled=True)
        if unit and kind_of_unit(unit) == "length":
            return f"{value} {unit}"
    if _THICK.search(f"{label} {head}") and "/" not in value and not re.match(r"0?\.", value):
        return value
    all_in = _SIZES_IN.search(outside)
    return f"{value} {all_in['a'] or all_in['b']}" if all_in else value


def with_caption_unit(value: str, caption: str) -> str:
    """A bare number with the unit that the caption gives: "Clip spacing, inches on center, maximum"."""
    if not BARE.match(value) and not _FRACTION.match(value) and not _OPEN.match(value):
        return value
    unit = unit_given(_MANNER.sub("", caption).rstrip(" :;,."), labelled=True)
    return f"{value} {unit}" if unit else value


def _sign(number: str) -> str:
    inner = _SIGN_APART.sub(r"\1", number.strip())
    if inner.startswith("(") and inner.endswith(")"):
        return f"-{inner[1:-1].strip().lstrip('-')}"
    return inner.replace("- ", "-").replace("+ ", "+")
