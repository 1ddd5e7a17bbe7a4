"""What limits a requirement: a bid alternate, a roof or building, and the zones and areas that go with values."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from cleatmark.spec.lazy import lazily

_BID = lazily(
    r"\b(?P<base>base\s+bid)\b|\b(?:(?:add(?:itive)?|deduct(?:ive)?)[- ]+)?(?:bid\s+)?alt(?:ernate[sd]?\b|\.|\b)"
    r"(?:\s+bid)?(?:\s+(?:no\.?|number|item))?\s*\#?\s*(?P<alternate>\d{1,2}|[A-Z])\b(?![a-z])",
    re.IGNORECASE,
)
_ROOF = lazily(
    r"\b(?P<name>(?:[Rr]oof(?:ing)?|ROOF(?:ING)?)\s+(?:[Tt]ype|TYPE|[Aa]rea|AREA|[Ss]ystem|SYSTEM|[Aa]ssembly|ASSEMBLY)s?"
    r"|(?:[Pp]anel|PANEL|[Ss]ystem|SYSTEM|[Aa]ssembly|ASSEMBLY)\s+(?:[Tt]ype|TYPE)|(?:[Bb]uilding|BUILDING|BLDG\.?|Bldg\.?)"
    r"|Type(?=\s+[A-Z]{2,4}-\d)|(?:Roof|ROOF)(?=\s+(?:[A-Z]\b(?![a-z'.&])|\d\b)))"
    r"(?:\s+(?:[Nn]o\.?|[Nn]umber))?[\s:]+\"?(?P<id>[A-Z]{1,4}-?\d{1,3}[A-Z]?|\d{1,2}[A-Z]?|[A-Z])\b(?![a-z.]\w)\"?"
)
_NAMED_ROOF = lazily(
    r"^\W*(?:at\s|for\s|on\s)?(?:the\s)?(?P<name>(?:[A-Za-z][\w-]*\s){1,3}(?:[Rr]oofs?|ROOFS?|[Cc]anop(?:y|ies)|[Bb]uilding|BUILDING|[Ww]ing))\s*[:(]"
)
_PLAIN_ROOFS = lazily(
    r"\b(?:metal|panel|standing|seam|field of|sheet|steel|design|low|steep|the)\b", re.IGNORECASE
)


_BIDDING = lazily(r"\balt|\bbid\b", re.IGNORECASE)


class Scope(Struct, frozen=True):
    """bid: "base bid", "Alternate No. 1" or ""; roof: a roof type, area or building as written, or ""."""

    bid: str = ""
    roof: str = ""

    @property
    def text(self) -> str:
        """Both as one."""
        return ", ".join(part for part in (self.bid, self.roof) if part)


def scope_of(own: str, above: Sequence[str]) -> Scope:
    """The scope of a sentence: what it says itself, else what the nearest heading above says."""
    bid = roof = ""
    for text in (own, *reversed(above)):
        if len(text) > 300 and text is not own:
            continue
        bid = bid or _bid(text)
        roof = roof or _roof(text)
    return Scope(bid, roof)


def _bid(text: str) -> str:
    found = _BID.search(text) if _BIDDING.search(text) else None
    if found is None:
        return ""
    return "base bid" if found["base"] else f"Alternate No. {found['alternate']}"


def _roof(text: str) -> str:
    if found := _ROOF.search(text):
        return f"{' '.join(found['name'].split())} {found['id']}"
    if (found := _NAMED_ROOF.match(text)) and not _PLAIN_ROOFS.search(found["name"]):
        return " ".join(found["name"].split())
    return ""


def paired(
    items: Sequence[tuple[int, str, bool]], *, share: bool, listed: bool
) -> dict[int, tuple[str, ...]]:
    """Which zones go with which values of one sentence.

    items  (token, name, is_zone) in order; a list of zones is several items
    listed whether the values follow one another as a list, each for the zone in its place
    share  whether a zone behind several values is all of theirs ("20 psf inward and 45 psf outward at corners")
    """
    runs: list[tuple[bool, list[tuple[int, str]]]] = []
    for token, name, is_zone in items:
        if not runs or runs[-1][0] is not is_zone:
            runs.append((is_zone, []))
        runs[-1][1].append((token, name))
    out: dict[int, tuple[str, ...]] = {}
    if not any(is_zone for is_zone, _ in runs):
        return out
    first_is_zone = runs[0][0]
    for index, (is_zone, members) in enumerate(runs):
        if is_zone:
            continue
        other = index - 1 if first_is_zone else index + 1
        if not 0 <= other < len(runs):
            continue
        zones = [name for _, name in runs[other][1]]
        if len(members) == len(zones) and (listed or len(members) == 1):
            out.update({token: (name,) for (token, _), name in zip(members, zones, strict=True)})
        elif len(members) == 1 or first_is_zone or (share and listed):
            out.update({token: tuple(zones) for token, _ in members})
        else:
            out[members[-1][0]] = tuple(zones)
    return out
