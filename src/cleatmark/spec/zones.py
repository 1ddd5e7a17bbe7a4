"""Roof zones as a specification names them: "Zone 2e", "field", "perimeter and corners", "P(2)", "Zone 1 (field)"."""

from __future__ import annotations

import re

from msgspec import Struct

from cleatmark.spec.wording import word_set

_ID = (
    r"(?:P\s?\(?[1-5]\)?|[1-5]\s?(?:'|prime\b)?\s?(?:oh|[enr])?"
    r"(?![\w'/]|[.:]\d|-\d|\s?(?:psf|ga|inch|in\b|mm|ft|f(?:ee|oo)t|lb|pound|percent|%|years?|\"))|[A-EP]\b(?!['.][a-z]))"
)
_LIST = rf"(?:(?:\s?,\s?(?:and\ |\&\ )?|\s(?:and|\&|or|through|thru|to)\s|\s?[/&]\s?)(?:zones?\ )?{_ID})*"
_PLACE = (
    r"(?:field|interior|cent(?:er|ral)|perimeters?|edges?|corners?|eaves?|rakes?|ridges?|hips?|overhangs?|"
    r"gable\ ends?)"
)
_TAIL = (
    r"(?:\ (?:of\ (?:the\ )?)?(?:main\ )?roofs?(?!\ (?:panel|deck|system|sheet|slope|assembl)))?"
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
ZONE = re.compile(
    rf"""
      zones?(?:\ no\.?)?\s(?:\#\s?)?(?P<ids>{_ID}{_LIST})
        (?:\s?[(]\s?(?P<gloss>(?:roof\ )?{_PLACE}{_TAIL}(?:\s?(?:,|/|and|or|\&)\s?{_PLACE}{_TAIL})*)\s?\)
          |\s-\s?(?P<dashed>(?:roof\ )?{_PLACE}{_TAIL})(?!\w)|\s(?P<plain>{_PLACE}{_TAIL})(?=\s?(?:[:,;-]|$)))?
    | (?:roof\ |typical\ |building\ )?(?P<place>{_PLACE}){_NOT_PLACE}{_TAIL}
        (?:\s?\(\s?zones?\ (?P<named>{_ID}(?:(?:\s?,\s?(?:and\ )?|\s(?:and|\&)\s|\s?/\s?){_ID})*)\s?\)
          |\ zones?\ (?P<after>{_ID})
          |\s?\(\s?(?P<same>{_PLACE}{_TAIL})\s?\)
          |(?<=verhang),?\ (?:at\ )?zones?\ (?P<over>{_ID}(?:(?:\s?,\s?(?:and\ )?|\s(?:and|\&)\s|\s?/\s?){_ID})*))?
    | (?P<general>general\ (?:roof\ )?areas?|end\ zones?|edge\ strips?|edge\ zones?|end\ bays?)
    | (?P<coastal>P\s?\(?[1-5]\)?)(?![\w.-])
    """,
    re.VERBOSE | re.IGNORECASE,
)
_NEEDS_MORE = re.compile(r"(?:interior|cent(?:er|ral)|hips?|edges?|overhangs?|field)$", re.IGNORECASE)
_LOOKS_LIKE_ZONE = re.compile(
    r"\s?(?:[:;,|)&/.]|-\s|and\b|or\b|at\b|is\b|=|$|\d|[-(+]\d|uplift|wind|pressures?|suction|net|load|negative|positive|maximum|minimum|shall\s(?:be|not))",
    re.IGNORECASE,
)
_BEFORE_ZONE = re.compile(
    r"(?:\b(?:in|at|within|for|the|and|roof|of|or|all|each|psf|Pa|kPa|inch|inches|in\.|o\.?c\.?|center|max\.?|"
    r"maximum|feet|ft\.?)\s|[0-9\x22'%]\s|[(:;,|/&-]\s?|^\s*)$",
    re.IGNORECASE,
)
STARTS = word_set(
    "zone zones roof typical building field interior center central perimeter perimeters edge edges corner corners "
    "eave eaves rake rakes ridge ridges hip hips overhang overhangs gable general end p"
)
_APART = re.compile(r"\s*(?:[,/&]|\band\b|\bor\b|\bzones?\b)\s*", re.IGNORECASE)
_SPAN = re.compile(r"([1-5])\s(?:through|thru|to)\s([1-5])", re.IGNORECASE)


class Zone(Struct, frozen=True, gc=False):
    """A zone named in a text: `key` to compare by, and where its name ends."""

    key: str
    end: int


def zone_at(text: str, at: int, end: int) -> Zone | None:
    """The zone, or the list of zones, whose name starts exactly at `at`."""
    match = ZONE.match(text, at, end)
    if match is None:
        return None
    words = match.group()
    if match["place"] and words.casefold().endswith(("center", "central")):
        return None
    if (
        match["place"]
        and not (match["named"] or match["after"] or match["over"])
        and _NEEDS_MORE.search(words)
    ):
        before = _BEFORE_ZONE.search(text, max(at - 8, 0), at)
        if not (before and _LOOKS_LIKE_ZONE.match(text, match.end(), end)):
            return None
    return Zone(" ".join(words.casefold().split()), match.end())


def each(written: str) -> tuple[str, ...]:
    """The zones that one name or list names, each as it would be written alone: "Zones 1 and 2" are "Zone 1" and
    "Zone 2"; "Zone 1 (field)" is one."""
    match = ZONE.match(written)
    if match is None or not match["ids"]:
        return (" ".join(written.split()),)
    ids = match["ids"]
    if spanned := _SPAN.search(ids):
        low, high = int(spanned[1]), int(spanned[2])
        return tuple(f"Zone {number}" for number in range(low, high + 1))
    found = [part.strip() for part in _APART.split(ids) if part.strip()]
    if len(found) == 1:
        return (" ".join(written.split()),)
    return tuple(f"Zone {name}" for name in found)


def kin(zone: str) -> str:
    """What two names of one zone share: the number or the place, without "zone", "roof" and "area"."""
    low = zone.casefold().replace(" prime", "'")
    if match := re.search(r"zones?\s(?:no\.?\s)?([1-5]'?\s?[enr]?(?:oh)?|[a-e]\b|p\(?\d\)?)", low):
        return match[1].replace(" ", "")
    if match := re.search(r"\bp\s?\(?([1-5])\)?", low):
        return f"p{match[1]}"
    if match := re.search(_PLACE.replace("\\ ", " "), low):
        place = match[0].rstrip("s")
        return {"interior": "field", "edge": "perimeter", "center": "field", "central": "field"}.get(
            place, place
        )
    return low
