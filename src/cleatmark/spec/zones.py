"""Roof zones as a specification names them: "Zone 2e", "field", "perimeter and corners", "P(2)", "Zone 1 (field)"."""

from __future__ import annotations

import re

from msgspec import Struct

from cleatmark.spec.lazy import lazily
from cleatmark.spec.wording import word_set

_ID = (
    r"(?:P\s?\(?[1-5]\)?|[1-5]\s?(?:'|prime\b)?\s?(?:oh|[enr])?"
    r"(?![\w'/]|[.:]\d|-\d|\s?(?:psf|ga|inch|in\b|mm|ft|f(?:ee|oo)t|lb|pound|percent|%|years?|\"))|[A-EPRS]\b(?!['.][a-z]))"
)
_LIST = rf"(?:(?:\s?,\s?(?:and\ |\&\ )?|\s(?:and|\&|or|through|thru|to)\s|\s?[/&]\s?)(?:zones?\ )?{_ID})*"
_PLACE = (
    r"(?:fields?|fld\b\.?|interiors?|cent(?:er|ral)|perimeters?|perims?\b\.?|edges?|corners?|(?:cor|crnr)s?\b\.?|eaves?|rakes?|ridges?|hips?|overhangs?|"
    r"gable\ ends?)"
)
_TAIL = (
    r"(?:[\ -](?:of[\ -](?:the\ )?)?(?:main\ )?roofs?(?!\ (?:panel|deck|system|sheet|slope|assembl)))?"
    r"(?:\ (?:zones?|areas?|regions?|strips?|edges?|conditions?|locations?))*"
    r"(?:\ of\ (?:the\ )?roofs?)?"
)
_NOT_PLACE = (
    r"(?!\s?-?\s?(?:seam|form|fabricat|measur|verif|appl|cut|install|paint|weld|condition|dimension|test|quality|"
    r"joint|locat|sample|superv|splic|assembl|engineer|crimp|conditions|personnel|service|represent|report|"
    r"inspect|control|review|trim|flash|gutter|cap|vent|closure|cover|metal|purlin|strut|beam|angle|board|"
    r"detail|fascia|panels?\b|height|length|line|notch|treat|fasten|attach|hem|lap|radius|drip|"
    r"of\ (?:the\ )?(?:panel|sheet|"
    r"deck|building)|surface|clip|member|framing|strips?\ (?:of|shall)|finish|to\ (?:ridge|eave)|touch|repair))"
)
_NUMBERED = lazily(r"(?:(?:zones?|zn\.?)(?:\ no\.?)?\s(?:\#\s?)?|z-?(?=[1-5]))", re.IGNORECASE)
_IDS = lazily(f"{_ID}{_LIST}".replace("\\ ", " "), re.IGNORECASE)
_PLACES = lazily(
    f"(?:roof )?{_PLACE}{_TAIL}".replace("\\ ", " "),
    re.IGNORECASE,
    needs="center|central|cor|crnr|eave|edge|field|fld|gable end|hip|interior|overhang|perim|rake|ridge",
)
_PLACED = lazily(
    f"(?:roof |typical |building )?{_PLACE}{_NOT_PLACE}{_TAIL}".replace("\\ ", " "), re.IGNORECASE
)
_OTHER = lazily(
    r"all zones(?=\s?[:=]|\s?,?\s[-+]?\d|\s-\s)|"
    r"general (?:roof )?areas?|end zones?|edge strips?|edge zones?|end bays?|P\s?\(?[1-5]\)?(?![\w.-])",
    re.IGNORECASE,
)
_AND = lazily(r"\s?(?:,|/|and|or|&)\s?", re.IGNORECASE)
_OPEN, _CLOSE = lazily(r"\s?\(\s?"), lazily(r"\s?\)")
_DASH = lazily(r"\s-\s")
_ENDS = lazily(r"\s?(?:[:,;-]|$)")
_COMMA = lazily(r",?\ (?:at\ )?", re.IGNORECASE)
_NEEDS_MORE = lazily(
    r"(?:interior|cent(?:er|ral)|hips?|edges?|overhangs?|field|fld\.?|cors?\.?)$", re.IGNORECASE
)
_LOOKS_LIKE_ZONE = lazily(
    r"\s?(?:[:;,|)&/.]|-\s|and\b|or\b|at\b|is\b|=|$|\d|[-(+]\d|uplift|wind|pressures?|suction|net|load|negative|positive|maximum|minimum|shall\s(?:be|not))",
    re.IGNORECASE,
)
_BEFORE_ZONE = lazily(
    r"(?:\b(?:in|at|within|for|the|and|roof|of|or|all|each|psf|Pa|kPa|inch|inches|in\.|o\.?c\.?|center|max\.?|"
    r"maximum|feet|ft\.?)\s|[0-9\x22'%]\s|[(:;,|/&@-]\s?|^\s*)$",
    re.IGNORECASE,
)
_RUN_END = lazily(r"(?:eave|ridge|hip|valley)s?")
_RUN_TO = lazily(r"\b(?:to|between|between\s(?:the\s)?(?:eaves?|ridge)\sand)\s(?:the\s)?$", re.IGNORECASE)
_WITHIN = lazily(
    r"(?:zones?|edges?|perimeters?|corners?|strips?|areas?)\s?,?\s?\(?(?:that is |being |lying )?within\s[^,;:.]{0,24}?"
    r"\d[^,;:]{0,14}?\sof\s(?:the\s|any\s|all\s)?(?:(?:roof\s)?(?:eave|rake|ridge|hip|edge)s?(?:,\s|\s(?:and|or)\s|,\sand\s))*$",
    re.IGNORECASE,
    needs="within",
)
"""What a zone is measured from is no zone of its own: "edges, within 10 feet of eaves and rakes"."""
_AT_SITE = lazily(
    r"\b(?:seamed|formed|cut|drilled|closed|crimped|assembled|bent|folded|measured|installed|made|fabricated|done|work|"
    r"welded|painted|roll-formed|verified)(?:\s[a-z]+){0,2}\sin\sthe\s$",
    re.IGNORECASE,
    needs="the",
)
_RUN_ON = lazily(r"\sto\s(?:the\s)?(?:ridge|eave|hip|valley)\b", re.IGNORECASE)
"""A panel that runs from eave to ridge is in no zone for that."""
STARTS = word_set(
    "z zone zones zn roof typical building fld perim perims cor cors crnr crnrs "
    "field fields interior interiors center central perimeter perimeters edge edges "
    "all corner corners eave eaves rake rakes ridge ridges hip hips overhang overhangs gable general end p"
)
_APART = lazily(r"\s*(?:[,/&]|\band\b|\bor\b|\bzones?\b)\s*", re.IGNORECASE)
_SPAN = lazily(r"([1-5])\s(?:through|thru|to)\s([1-5])", re.IGNORECASE)


class Zone(Struct, frozen=True, gc=False):
    """A zone named in a text: `key` to compare by, and where its name ends."""

    key: str
    end: int


def zone_at(text: str, at: int, end: int) -> Zone | None:
    """The zone, or the list of zones, whose name starts exactly at `at`."""
    ids = _ids(text, at, end)
    if ids is not None:
        return _zone(text, at, _gloss(text, ids.end(), end))
    placed = _PLACED.match(text, at, end)
    if placed is None:
        other = _OTHER.match(text, at, end)
        if other and other.group().startswith("all") and text[max(at - 2, 0) : at].strip(" ;:(."):
            return None
        return _zone(text, at, other.end()) if other else None
    words = placed.group().casefold()
    if _WITHIN.search(text, max(at - 60, 0), at) or (
        words == "field" and _AT_SITE.search(text, max(at - 40, 0), at)
    ):
        return None
    if _RUN_END.fullmatch(words) and (
        _RUN_TO.search(text, max(at - 30, 0), at) or _RUN_ON.match(text, placed.end(), end)
    ):
        return None
    if words.endswith(("center", "central")):
        return None
    stop = _numbers(text, placed.end(), end, words)
    if stop == placed.end():
        stop = _in_parentheses(text, stop, end)
    if stop == placed.end() and _NEEDS_MORE.search(words):
        before = _BEFORE_ZONE.search(text, max(at - 8, 0), at)
        if not (before and _LOOKS_LIKE_ZONE.match(text, stop, end)):
            return None
    return _zone(text, at, stop)


def _zone(text: str, at: int, stop: int) -> Zone:
    return Zone(" ".join(text[at:stop].casefold().split()), stop)


def _ids(text: str, at: int, end: int) -> re.Match[str] | None:
    """The numbers or letters of "Zones 1, 2 and 3"."""
    word = _NUMBERED.match(text, at, end)
    return _IDS.match(text, word.end(), end) if word else None


def _gloss(text: str, at: int, end: int) -> int:
    """Where a zone's name ends with the place that explains it: "Zone 1 (field)", "Zone 1 - field"."""
    if (stop := _in_parentheses(text, at, end)) > at:
        return stop
    if (dash := _DASH.match(text, at, end)) and (place := _PLACES.match(text, dash.end(), end)):
        return at if text[place.end() : place.end() + 1].isalnum() else place.end()
    if (
        text[at : at + 1] == " "
        and (place := _PLACES.match(text, at + 1, end))
        and _ENDS.match(text, place.end(), end)
    ):
        return place.end()
    return at


def _in_parentheses(text: str, at: int, end: int) -> int:
    """Where parentheses that hold places and nothing else end; `at` where there are none."""
    opened = _OPEN.match(text, at, end)
    place = _PLACES.match(text, opened.end(), end) if opened else None
    while place is not None:
        if closed := _CLOSE.match(text, place.end(), end):
            return closed.end()
        link = _AND.match(text, place.end(), end)
        place = _PLACES.match(text, link.end(), end) if link else None
    return at


def _numbers(text: str, at: int, end: int, words: str) -> int:
    """Where a place's name ends with its zone: "Corner (Zone 3)", "corner zone 3", "overhang, Zones 2 and 3"."""
    if (opened := _OPEN.match(text, at, end)) and (ids := _ids(text, opened.end(), end)):
        closed = _CLOSE.match(text, ids.end(), end)
        return closed.end() if closed else at
    if text[at : at + 1] == " " and (ids := _ids(text, at + 1, end)):
        return ids.end()
    if (
        words.endswith("overhang")
        and (comma := _COMMA.match(text, at, end))
        and (ids := _ids(text, comma.end(), end))
    ):
        return ids.end()
    return at


def each(written: str) -> tuple[str, ...]:
    """The zones that one name or list names, each as it would be written alone: "Zones 1 and 2" are "Zone 1" and
    "Zone 2"; "Zone 1 (field)" is one."""
    ids = _ids(written, 0, len(written))
    if ids is None:
        return (" ".join(written.split()),)
    if spanned := _SPAN.search(ids.group()):
        low, high = int(spanned[1]), int(spanned[2])
        return tuple(f"Zone {number}" for number in range(low, high + 1))
    found = [part.strip() for part in _APART.split(ids.group()) if part.strip()]
    if len(found) == 1:
        return (" ".join(written.split()),)
    return tuple(f"Zone {name}" for name in found)


def kin(zone: str) -> str:
    """What two names of one zone share: the number or the place, without "zone", "roof" and "area"."""
    low = zone.casefold().replace(" prime", "'")
    if low.startswith("all "):
        return ""
    if "overhang" in low:
        number = re.search(r"[1-3]", low)
        return f"{number[0] if number else ''}oh"
    if match := re.search(r"zones?\s(?:no\.?\s)?([1-5]'?\s?[enr]?(?:oh)?|[a-e]\b|p\(?\d\)?)", low):
        return match[1].replace(" ", "")
    if match := re.match(r"z-?([1-5]'?[enr]?)$", low):
        return match[1]
    if match := re.search(r"\bp\s?\(?([1-5])\)?", low):
        return f"p{match[1]}"
    if match := re.search(_PLACE.replace("\\ ", " "), low):
        place = match[0].rstrip("s.").rstrip("s")
        return {
            "fld": "field",
            "perim": "perimeter",
            "cor": "corner",
            "crnr": "corner",
            "interior": "field",
            "edge": "perimeter",
            "center": "field",
            "central": "field",
        }.get(place, place)
    return low
