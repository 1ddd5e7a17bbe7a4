"""Tables of several roofs: which roof a row or a column is for."""

from __future__ import annotations

import re
from collections.abc import Sequence

from cleatmark.spec.grid_shape import VALUE
from cleatmark.spec.grid_words import UNIT_HEAD, ZONE_HEAD, ZONE_NAME, is_zone
from cleatmark.spec.lazy import lazily
from cleatmark.spec.zones import zone_at

_ROOF_HEAD = lazily(
    r"^(?:roofs?|roof\s(?:areas?|types?|names?|systems?|marks?)|areas?|buildings?|structures?|wings?|marks?|tags?|"
    r"(?:roof\s)?(?:panel|system|assembly|roofing)\s(?:types?|marks?|designations?))$",
    re.IGNORECASE,
)
ITEM_HEAD = lazily(
    r"^(?:items?|propert(?:y|ies)|elements?|components?|requirements?|features?|criteri(?:on|a)|descriptions?|"
    r"characteristics?|attributes?|parameters?|subjects?|layers?|designations?|)$",
    re.IGNORECASE,
)
_ROOF_NAME = lazily(
    r"^(?:(?:[A-Z][\w'-]*|of|and|the|&)\s?){1,4}(?:\s?\([A-Z]{1,4}-?\d{1,2}\))?$|^[A-Z]{1,4}-?\d{1,2}[A-Z]?$|^Roof\s\w{1,3}$"
)
_MARK = lazily(
    r"^(?!AZ|ZF|UL|FM|G\d|P\d)(?:[A-Z]{1,4}-\d{1,2}[A-Z]?|[A-Z]{2,4}\d{1,2}[A-Z]?)$|"
    r"^(?i:(?:roofs?|roof\s(?:areas?|types?|systems?)|buildings?|bldgs?\.?|types?|systems?|areas?|panel\stypes?)\s)"
    r"(?:[A-Z]|[A-Z]{0,4}-?\d{1,3}[A-Z]?)(?:(?:\s?,\s?|\s(?:and|&)\s|\s?&\s?)(?:[A-Z]|[A-Z]{0,4}-?\d{1,3}[A-Z]?))*$"
)
_NO_NAME = lazily(
    r"\b(?:values?|requirements?|methods?|standards?|tests?|results?|units?|remarks|notes?|terms?|by|minimum|maximum|"
    r"specified|required|section|article|reference|years?|sheet|drawing|materials?|metric|english|SI|US|type|date|copies|"
    r"manufacturer|model|criteria|products?|locations?|descriptions?|performance|limits?)\b",
    re.IGNORECASE,
)
_BESIDE = lazily(
    r"^(?:remarks?|notes?|comments?|units?|references?|sections?|sheets?|details?)$", re.IGNORECASE
)
_NO_ROOF = lazily(
    r"\d|zone|area|psf|\bpa\b|kpa|pressure|uplift|load|inward|outward|positive|negative|down|\bup\b|suction|sq|asd|lrfd|"
    r"ultimate|allowable|strength|nominal|class|value|maximum|minimum|requirement|field|interior|perimeter|corner|edge|"
    r"eave|rake|ridge|overhang|wind|design|lb|force|remarks|note",
    re.IGNORECASE,
)
_TYPES = lazily(r"^(?:(?:roof|panel|system|roofing)\s)?(?:types?|roofs?|buildings?|systems?)$", re.IGNORECASE)
_PANELS = lazily(r"^(?:(?:metal|roof)\s)*(?:panels?|profiles?)(?:\swidths?)?$", re.IGNORECASE)
_LETTER = lazily(r"[A-Z]|\d{1,2}")
_LETTERED = lazily(r"^(?:roof\s(?:areas?|types?|systems?|marks?)|roofs?|buildings?)$", re.IGNORECASE)
_LETTERS = lazily(r"[A-Z](?:(?:\s?[,/&]\s?|,?\s(?:and|&)\s)[A-Z])*")
LONGEST_NAME = 6
"""Words at most of a roof's name, and of a caption that is one."""


def roof_of_row(head: str, name: str, pressures: bool) -> str:
    """The roof that a row is for, where the first column is one of roofs: "Main roof", "RP-1".

    head       the first column's heading; `name` the row's cell under it
    pressures  whether the table is one of pressures and has no zones, so that a letter may be a zone's
    """
    if not _ROOF_HEAD.match(head):
        return ""
    if _LETTERED.match(head) and _LETTERS.fullmatch(name):
        return "" if pressures else f"{head.removesuffix('s')} {name}"
    if len(name.split()) > LONGEST_NAME or VALUE.match(name) or ZONE_NAME.match(name):
        return ""
    return "" if zone_at(name, 0, len(name)) else name


def names_a_roof(head: str) -> bool:
    """Whether the heading of a column of pressures names a roof: "Main roof", "Cupola"."""
    return bool(head) and not _NO_ROOF.search(head)


def is_a_mark(name: str) -> bool:
    """Whether a text is a roof's mark and nothing else: "RP-1", "Roof A", "Buildings 1 and 2"."""
    return bool(_MARK.match(name)) and not is_zone(name)


def lettered(heads: tuple[str, ...]) -> tuple[str, ...]:
    """Headings with the letters of roofs or panel types as names: "Type | A | B" are "Type A" and "Type B"."""
    if len(heads) > 2 and _TYPES.match(heads[0]) and all(_LETTER.fullmatch(head) for head in heads[1:]):
        return (heads[0], *(f"{heads[0].removesuffix('s')} {head}" for head in heads[1:]))
    return heads


def is_of_roofs(head: str) -> bool:
    """Whether a first column's heading tells that its cells name roofs, panels or their types."""
    return bool(_ROOF_HEAD.match(head) or _TYPES.match(head) or _PANELS.match(head))


def roof_columns(heads: Sequence[str]) -> frozenset[int]:
    """The columns that are each of a roof: "Item | Gymnasium | Library", "Zone | RP-1 | RP-2 | Remarks"."""
    if not heads:
        return frozenset()
    others = {
        column: head
        for column, head in enumerate(heads)
        if column and not _BESIDE.match(head) and not UNIT_HEAD.fullmatch(head)
    }
    marks = bool(others) and all(is_a_mark(head) for head in others.values())
    named = len(others) > 1 and all(
        is_a_mark(head)
        or (_ROOF_NAME.match(head) and not _NO_NAME.search(head) and not _NO_ROOF.search(head))
        for head in others.values()
    )
    listed = ITEM_HEAD.match(heads[0]) or ZONE_HEAD.fullmatch(heads[0])
    if marks and (listed or len(others) > 1):
        return frozenset(others)
    return frozenset(others) if named and listed else frozenset()
