"""What limits a requirement: a bid alternate, a roof or building, and the zones and areas that go with values."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from functools import lru_cache

from msgspec import Struct

from cleatmark.spec import roof_marks
from cleatmark.spec.clauses import Marks
from cleatmark.spec.lazy import lazily
from cleatmark.spec.wording import sentences, word_set

_BID = lazily(
    r"\b(?P<base>base\s+bid)\b|\b(?:(?:add(?:itive)?|deduct(?:ive)?)[- ]+)?(?:bid\s+)?alt(?:ernate[sd]?\b|\.|\b)"
    r"(?:\s+bid)?(?:\s+(?:no\.?|number|item))?\s*\#?\s*(?P<alternate>\d{1,2}|[A-Z])\b(?![a-z])",
    re.IGNORECASE,
)
_ROOF = lazily(
    r"\b(?P<name>(?:[Rr]oof(?:ing)?|ROOF(?:ING)?)\s+(?:[Tt]ype|TYPE|[Aa]rea|AREA|[Ss]ystem|SYSTEM|[Aa]ssembly|ASSEMBLY)s?"
    r"|(?:[Pp]anel|PANEL|[Ss]ystem|SYSTEM|[Aa]ssembly|ASSEMBLY)\s+(?:[Tt]ype|TYPE)|(?:[Bb]uilding|BUILDING|BLDG\.?|Bldg\.?)s?"
    r"|(?:[Rr]oof\s)?[Pp]anels?(?=\s(?!AZ|ZF|UL|FM|HS|SS|TAS|[A-Z]\d)[A-Z]{2,4}-?\d{1,2}\b)"
    r"|Type(?=\s+[A-Z]{2,4}-\d)|(?:Roof|ROOF)S?s?(?=\s+(?:[A-Z]\b(?![a-z'&])(?!\.\S)|\d\b)))"
    r"(?:\s+(?:[Nn]o\.?|NO\.?|[Nn]umber))?(?:\s+|:\s*(?=\"?[A-Z]{1,4}-?\d|\"?[A-Z]\b(?!\.)))\"?"
    r"(?P<id>[A-Z]{1,4}-?\d{1,3}[A-Z]?|\d{1,2}[A-Z]?|[A-Z])\b(?![a-z.]\w|-\d|/\d|\s\d+/\d)\"?"
    r"(?P<more>(?:\s?,\s|\s?,?\s(?:and|or|&)\s)(?:[A-Z]{1,4}-?\d{1,3}|\d{1,2}|[A-Z])\b(?![\w'/-]|[.:]\d|"
    r"\s?(?:in\b|inch|ga\b|gauge|psf|f(?:oo|ee)?t\b|years?|mm|x\s?\d|%|\")))?"
)
_PLAIN = (
    r"metal|panel|standing|seam|seamed|field|sheet|design|low|steep|low-slope|steep-slope|the|a|an|this|that|these|those|"
    r"all|both|each|every|any|entire|whole|other|existing|new|finished|completed?|installed|adjacent|adjoining|sloped?|"
    r"sloping|flat|pitched|hip|gable|shed|curved|structural|architectural|exposed|of|at|on|in|for|over|under|to|and|or|"
    r"with|from|by|as|shall|must|will|be|is|are|not|no|insulated|formed|batten|typical|building|mean|complete|proposed|"
    r"overall|project|same|own|its|such|one|two|three|four|wood|concrete|waterproof|watertight|weathertight|per|where|when|"
    r"provide|furnish|install|design|construct|protect|keep|lay|build|clean|support|slope|resist|include|remove|replace|"
    r"that|which|if|unless|until|before|after|during|only|also"
)
_PART = (
    r"(?:(?:entrance|entry|main|north|south|east|west|upper|lower)\s)?(?:canop(?:y|ies)|spires?|nave|chancel|apse|transepts?|"
    r"narthex|cupolas?|dormers?|porch(?:es)?|portico|porte[- ]coch[eè]re|breezeway|penthouse|clerestory|"
    r"(?:high|low|upper|lower)\sroof(?=s?\b(?!\s(?:slop|edge)))|(?:clock|bell|stair|elevator|entry|corner|church|water)\s?towers?|steeple|belfry|rotunda|turrets?|loggia|arcade)"
)
_HOUSE = (
    r"(?:towers?|gym(?:nasium)?|library|sanctuary|halls?|"
    r"cafeteria|auditorium|pavilions?|lobby|garage|hangars?|warehouse|office(?:s|\swing|\sarea)?|classrooms?|annex|"
    r"vestibule|cloister|barn|shed|pool|natatorium|kitchen|terminal|concourse|theat(?:er|re)|chapel|school|courthouse|"
    r"station|dormitory|museum|atrium|connector|link|wing|addition|multi-?purpose\sroom|locker\srooms?)"
)
_BUILDING = rf"(?:(?!(?:roof|panel|metal|steel|wall|deck|clip)s?\s)[A-Za-z]+\s)?{_HOUSE}"
_LABEL = lazily(
    rf"(?:^\W*|[.;:]\s|\b(?:at|on|for|over)\sthe\s)(?:at\s|for\s|on\s)?(?:the\s)?(?P<name>{_BUILDING}|{_PART}"
    r"|(?-i:(?!AZM?-|ZF-|PS-|ES-|UL-|FM-|SD-|ISO-)[A-Z]{2,4}-\d{1,2}[A-Z]?)|(?-i:Areas?\s(?:[A-Z]|\d{1,2})))"
    r"(?:\sroofs?)?(?=\s*:|\s*$|,\s(?!and\b|or\b)|\s(?:use|provide|furnish|install)\b)",
    re.IGNORECASE,
)
"""A part of a building, or a mark, as a label: what stands behind it is for that roof."""
_WING = r"(?:roofs?(?:\sareas?)?|canop(?:y|ies)|wing|addition)"
_NAMED = lazily(
    rf"(?:^\W*|[.;:(]\s*|,\s|\b(?:at|on|for|over|of|to|and|or|the|all)\s)(?:the\s|all\s)?(?P<name>"
    rf"(?:(?!(?:{_PLAIN})\s)[A-Za-z][\w'-]*\s){{1,2}}{_WING}|{_PART}(?:\sroofs?)?)\b"
    r"(?![\s-]*(?:decks?\b|decking|panel|system|sheet|assembl|edge|insulation|framing|structure\b|curb|hatch|drain|cover|"
    r"member|opening|level|height|plan\b|plans\b|line\b|surface|penetration|perimeter|corner|field|zone|eaves?\b|"
    r"accessor|truss|warrant|manufactur|install|contractor|type|soffit|fascia|flashing|crane|scaffold|design|drawing|"
    r"jack|vent|ventilat|finials?\b|snow|live|load|(?-i:(?:[A-Z]|\d+(?![:/.]\d|\s?(?:in|f|psf|ga|mm|%)))\b)))",
    re.IGNORECASE,
)
_TITLE = r"(?:roofs?|canop(?:y|ies)|building|wing)"
_TITLED = lazily(
    r"^\W*(?:at\s|for\s|on\s)?(?:the\s)?"
    rf"(?P<name>(?:(?!(?:{_PLAIN})\s)[A-Za-z][\w-]*\s){{1,3}}{_TITLE})\s*[:(]",
    re.IGNORECASE,
)
_LETTERS = lazily(r"[a-z]+")
_TITLES = word_set("roof roofs canopy canopies building wing")
_TOWERS = word_set("clock bell stair elevator entry corner church water")
_PARTS = word_set(
    "canopy canopies spire spires nave chancel apse transept transepts narthex cupola cupolas dormer dormers porch "
    "porches portico porte breezeway penthouse clerestory roof roofs tower towers steeple belfry rotunda turret "
    "turrets loggia arcade"
).union(*({f"{kind}tower", f"{kind}towers"} for kind in _TOWERS))
_NAMES = _PARTS | {"wing", "addition"}
_LABELS = _PARTS | word_set(
    "gym gymnasium library sanctuary hall halls cafeteria auditorium pavilion pavilions lobby garage hangar hangars "
    "warehouse office offices wing area classroom classrooms annex vestibule cloister barn shed pool natatorium "
    "kitchen terminal concourse theater theatre chapel school courthouse station dormitory museum atrium connector "
    "link addition room rooms areas"
)
"""Words of which one stands in whatever _TITLED, _NAMED and _LABEL match; a mark has none. Asked first: a sentence's
words are split in a tenth of the time that the patterns take to search it."""
_A_MARK = lazily(r"[A-Z]{2,4}-\d")
_METAL = lazily(r"\b(?:copper|zinc|steel|alumin(?:i)?um)\b", re.IGNORECASE)
_BIDDING = lazily(r"\balt|\bbid\b", re.IGNORECASE)
_REPLACED = lazily(
    r"\b(?:in lieu of|instead of|rather than|in place of|replac(?:e|es|ing)|than|from)\s(?:the\s)?$",
    re.IGNORECASE,
)
_LINKED = lazily(r"[\s,&]*(?:and|or)?\s*(?:the\s|on\s|at\s|for\s)?", re.IGNORECASE)
_PARTED = lazily(r";|\bexcept\b|\bbut\b")


class Scope(Struct, frozen=True):
    """bid: "base bid", "Alternate No. 1" or ""; roof: a roof type, area or building as written, or "".

    loose  the roof is told only by its use, its part or its metal ("canopy roofs", "the copper roof"): a limit where
           the section tells it from another roof, else the one roof's name (see `settled`)
    """

    bid: str = ""
    roof: str = ""
    loose: bool = False

    @property
    def text(self) -> str:
        """Both as one."""
        return ", ".join(part for part in (self.bid, self.roof) if part)


class _Mention(Struct, frozen=True):
    """A bid or roof that a text names, and where."""

    start: int
    end: int
    name: str
    loose: bool = False


def scopes_of(
    text: str,
    start: int,
    end: int,
    places: Sequence[tuple[int, int]],
    above: Sequence[str],
    marks: Marks,
    *,
    share: bool,
) -> list[tuple[Scope, ...]]:
    """The scopes of each value of a sentence: what the sentence gives it, else what the nearest heading above says.

    text    the sentence stands at start..end of it
    places  where each value of one subject begins and ends in it
    marks   the names by which the section calls its roofs
    share   whether a roof named behind several values is all of theirs, as of pressures inward and outward
    """
    bids = _given(_bids(text, start, end, marks), text, places, share)
    roofs = _given(_roofs(text, start, end, marks), text, places, share)
    bid_above = roof_above = None
    out: list[tuple[Scope, ...]] = []
    for index in range(len(places)):
        bid, roof = bids[index], roofs[index]
        if bid is None:
            bid_above = _above(above, _bids, marks) if bid_above is None else bid_above
            bid = bid_above
        if roof is None:
            roof_above = _above(above, _roofs, marks) if roof_above is None else roof_above
            roof = roof_above
        out.append(
            tuple(
                Scope(one.name if one else "", other.name if other else "", bool(other and other.loose))
                for one in bid or (None,)
                for other in roof or (None,)
            )
        )
    return out


def _given(
    mentions: Sequence[_Mention], text: str, places: Sequence[tuple[int, int]], share: bool
) -> list[tuple[_Mention, ...] | None]:
    """Which mentions go with which values; None for a value that no mention of the sentence goes with.

    A scope stands before its values ("Roof A: 20 years; Roof B: 10 years") or behind them ("20 years on Roof A and 10
    years on Roof B"): as the first does, so do the others.
    """
    groups = _grouped(mentions, text)
    if not groups:
        return [None for _ in places]
    leads = min(place for place, _ in places) > groups[0][0].start
    out: list[tuple[_Mention, ...] | None] = []
    for first, last in places:
        if leads:
            before = [group for group in groups if group[0].start < first]
            out.append(before[-1] if before else None)
            continue
        behind = [group for group in groups if group[0].start >= last]
        if not behind:
            out.append(groups[-1] if len(groups) == 1 else None)
            continue
        later = [at for at, _ in places if last <= at < behind[0][0].start]
        parted = bool(later) and bool(_PARTED.search(text, last, behind[0][0].start))
        out.append(None if parted or (later and len(groups) > 1 and not share) else behind[0])
    return out


def _grouped(mentions: Sequence[_Mention], text: str) -> list[tuple[_Mention, ...]]:
    """Mentions that stand together go together: "Roof A and Roof B" are two, "nave and chancel" one."""
    groups: list[tuple[_Mention, ...]] = []
    for one in mentions:
        if groups and _LINKED.fullmatch(text, groups[-1][-1].end, one.start):
            last = groups[-1][-1]
            both = " ".join(text[last.start : one.end].split())
            joined = _Mention(last.start, one.end, both, True)
            groups[-1] = (joined,) if last.loose else (*groups[-1], one)
        else:
            groups.append((one,))
    return groups


_Finder = Callable[[str, int, int, Marks], list[_Mention]]


def _above(above: Sequence[str], of: _Finder, marks: Marks) -> tuple[_Mention, ...]:
    return next((found for text in reversed(above) if (found := _named_in(text, of, marks))), ())


@lru_cache(maxsize=1024)
def _named_in(text: str, of: _Finder, marks: Marks) -> tuple[_Mention, ...]:
    """What a text above names; () where it names none. Kept, for it stands above many sentences."""
    mentions = of(text, 0, len(text), marks) if len(text) <= 300 else []
    if not mentions:
        return ()
    groups = _grouped(mentions, text)
    return groups[0] if len(groups) == 1 else groups[0][:1]


def _bids(text: str, start: int, end: int, marks: Marks) -> list[_Mention]:
    if not _BIDDING.search(text, start, end):
        return []
    return [
        _Mention(
            found.start(), found.end(), "base bid" if found["base"] else f"Alternate No. {found['alternate']}"
        )
        for found in _BID.finditer(text, start, end)
        if not _REPLACED.search(text, max(found.start() - 24, start), found.start())
    ]


def _roofs(text: str, start: int, end: int, marks: Marks) -> list[_Mention]:
    found: list[_Mention] = []
    by_mark = _marked(text, start, end, marks)
    for match in _ROOF.finditer(text, start, end):
        name = " ".join(match["name"].split())
        other = re.sub(r"^[\s,&]*(?:and|or)?[\s&]*", "", match["more"] or "")
        if other and other.isdigit() == match["id"].isdigit():
            name = name.removesuffix("s")
            found.append(_Mention(match.start(), match.start("more"), f"{name} {match['id']}"))
            found.append(_Mention(match.start("more") + 1, match.end(), f"{name} {other}"))
        else:
            found.append(_Mention(match.start(), match.end("id"), f"{name} {match['id']}"))
    if by_mark or found:
        return _once(_as_written(by_mark, found))
    own = text[start:end]
    said = frozenset(_LETTERS.findall(own.casefold()))
    if not _TITLES.isdisjoint(said) and (titled := _TITLED.match(own)):
        name = " ".join(titled["name"].split())
        return [
            _Mention(
                start + titled.start("name"), start + titled.end("name"), name, bool(_METAL.search(name))
            )
        ]
    labels = not _LABELS.isdisjoint(said) or _A_MARK.search(own)
    asked = [pattern for pattern, may in ((_LABEL, labels), (_NAMED, not _NAMES.isdisjoint(said))) if may]
    named = {match.start("name"): match for pattern in asked for match in pattern.finditer(own)}
    return [
        _Mention(
            start + at,
            start + match.end("name"),
            " ".join(match["name"].split()),
            loose=True,
        )
        for at, match in sorted(named.items())
    ]


def _marked(text: str, start: int, end: int, marks: Marks) -> list[_Mention]:
    """The roofs that a text names by marks of its section, but for those that it only compares with."""
    told = roof_marks.several(marks)
    return [
        _Mention(first, last, name, not told and roof_marks.is_mark(name))
        for first, last, name in roof_marks.named(marks, text, start, end)
        if not roof_marks.referred(text, start, first)
    ]


def _as_written(by_mark: Sequence[_Mention], found: Sequence[_Mention]) -> list[_Mention]:
    """Both in order; of two names in one place the mark, but for "Panel Type RP-1", which is told as it stands."""
    kept = list(by_mark)
    for one in found:
        same = [mark for mark in kept if mark.start < one.end and one.start < mark.end]
        if not same or ("type" in one.name.casefold() and one.name.endswith(same[0].name)):
            kept = [mark for mark in kept if mark not in same] + [one]
    return sorted(kept, key=lambda one: one.start)


def _once(mentions: Sequence[_Mention]) -> list[_Mention]:
    """A roof named twice side by side is one: "Panel Type 1 (MRP-1)"."""
    out: list[_Mention] = []
    for one in mentions:
        if out and out[-1].name == one.name and one.start - out[-1].end <= _BESIDE:
            out[-1] = _Mention(out[-1].start, one.end, one.name, one.loose)
        else:
            out.append(one)
    return out


_BESIDE = 3
"""Characters between two names of one thing."""


@lru_cache(maxsize=64)
def _openings(text: str, marks: Marks) -> tuple[tuple[int, str], ...]:
    """Where a sentence of a paragraph begins with a roof's mark: the place, and the mark."""
    found: list[tuple[int, str]] = []
    for start, end in sentences(text):
        first = next(iter(_marked(text, start, min(end, start + _OPENING), marks)), None)
        if first and not text[start : first.start].strip(" \t(\"'"):
            found.append((start, text[first.start : first.end]))
    return tuple(found)


_OPENING = 40


def opening(text: str, at: int, marks: Marks) -> str:
    """The roof with whose mark the paragraph, or a later sentence of it, begins before a place; else ""."""
    if not marks.names:
        return ""
    return next((name for start, name in reversed(_openings(text, marks)) if start < at), "")


def settled(scopes: Sequence[tuple[str, object, Scope]]) -> list[Scope]:
    """The scopes of a section's values, each given with its subject and its value.

    A roof named by its use, part or metal limits a requirement where the section names another roof so, or asks the
    same of the other roofs in another way; where it is the section's only roof it limits nothing.
    """
    names = {_kin(scope.roof) for _, _, scope in scopes if scope.roof}
    plain: dict[str, set[object]] = {}
    for subject, value, scope in scopes:
        if not scope.roof:
            plain.setdefault(subject, set()).add(value)
    out: list[Scope] = []
    for subject, value, scope in scopes:
        if not scope.loose:
            out.append(scope)
            continue
        bare = _METAL.search(scope.roof) or roof_marks.is_mark(scope.roof)
        told = len(names) > 1 or (not bare and bool(plain.get(subject, set()) - {value}))
        out.append(Scope(scope.bid, scope.roof if told else ""))
    return out


def _kin(name: str) -> str:
    return re.sub(r"\s(?:roofs?(?:\sareas?)?)$|s$", "", name.casefold())


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
