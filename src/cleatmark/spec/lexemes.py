"""A sentence as the trade's own tokens: words, quantities, standards, zones, choices left open, deferrals.

Phrases of readings are matched against these tokens, so no phrase has to know how many ways there are to write a
gauge or a standard's number.
"""

from __future__ import annotations

import re

from msgspec import Struct

from cleatmark.spec import abbreviations, deferrals, measures, zones
from cleatmark.spec import designations as std
from cleatmark.spec.lazy import lazily
from cleatmark.spec.marks import Mark
from cleatmark.spec.wording import word_set
from cleatmark.spec.written_units import kind_of_unit, unit_at


class Lexeme(Struct, frozen=True, gc=False):
    """One token.

    kind   word, punct, standard, rating, coating, zone, defer, none, choice, blank, or a kind of measures.KINDS
    key    what phrases compare: a word's stem, a standard's name, a number's digits, a zone's name
    start  first and last character in the clause's plain text
    end
    group  index of the mark (a choice left open) it stands in, -1 for none
    inner  of a choice or blank: the kind that its unit or options give it, "" where nothing tells; of a number
           that a later unit serves too ("20, 30 and 40 psf"): that unit
    """

    kind: str
    key: str
    start: int
    end: int
    group: int = -1
    inner: str = ""


_WORD = lazily(r"[A-Za-z]+(?:'[a-z]+)?(?:\.[A-Za-z]\b\.?)*")
_HAIL = lazily(r"1-(?=(?:V?SH|MH)\b)")
_SECTION = lazily(r"\d{2}\s?\d{2}\s?\d{2}(?:\.\d{2})?(?!\d|\.\d)|\d{5}(?!\d|\.\d)")
_SECTIONS = frozenset(["section", "division"])
_LISTS = frozenset([",", "/", ";", "and", "or", "and/or", "&"])
_FIRST_LISTED = lazily(r"\d{3,4}[A-Z]?\s?[,:]\s[A-Z]")
_NUMBERED = frozenset(["UL", "FM", "AAMA", "TAS"])
_AND_OR = lazily(r"and\s?/\s?or\b", re.IGNORECASE)
_CLASS_90 = lazily(r"U\.?L\.?[-\s]?(\d{2,3})\b(?!\d)", re.IGNORECASE)
_SPECIAL = std.STARTS | zones.STARTS | measures.STARTS | deferrals.STARTS
_SHORT = word_set("the of for to with at by on be not all use may any its has two")
_IRREGULAR = {
    "centre": "center", "centres": "center", "fibreglass": "fiberglass",
    "gage": "gauge", "gages": "gauge", "gauges": "gauge", "ga": "gauge", "aluminium": "aluminum",
    "colour": "color", "feet": "foot", "o.c": "oc", "o.c.": "oc", "galvanised": "galvanized",
    "watertightness": "watertight", "weathertightness": "weathertight", "is": "is", "as": "as", "this": "this",
    "its": "its", "class": "class", "loss": "loss", "press": "press", "u.l": "ul", "u.l.": "ul", "f.m": "fm",
    "f.m.": "fm", "osb": "osb", "gas": "gas", "bias": "bias", "chassis": "chassis", "zees": "zee",
    "cees": "cee", "purlins": "purlin", "roofs": "roof", "self": "self", "halves": "half", "has": "has",
    "was": "was", "does": "does", "less": "less", "unless": "unless", "thus": "thus", "various": "various",
    "noncombustible": "noncombustible", "fibre": "fiber", "moulded": "molded", "sizes": "size", "his": "his",
    "ω": "omega", "uls": "uls", "sls": "sls", "labelled": "labeled",
    "gauged": "gauged", "stainless": "stainless", "seamless": "seamless", "analysis": "analysis",
    "basis": "basis", "continuous": "continuous", "previous": "previous", "across": "across", "us": "us",
}  # fmt: skip


def stem(word: str) -> str:
    """The form under which a word is compared: lower case, singular, one spelling."""
    low = word.casefold()
    known = _IRREGULAR.get(low)
    if known is not None:
        return known
    low = low.removesuffix("'s").removesuffix("'").rstrip(".")
    if not low.endswith("s") or len(low) < 4 or low.endswith(("ss", "us", "is")):
        return low
    if low.endswith("ies") and len(low) > 4:
        return low[:-3] + "y"
    if low.endswith(("sses", "shes", "ches", "xes", "zzes")):
        return low[:-2]
    return low[:-1]


def lex(text: str, start: int, end: int, marks: tuple[Mark, ...] = (), body: str = "") -> list[Lexeme]:
    """The tokens of text[start:end]. `marks` are the choices left open in the whole text; `body` is a standards
    body that the text above named ("ASTM" as the heading of a list of numbers)."""
    found: list[Lexeme] = []
    position = start
    simple, wordy = _split_marks(text, start, end, marks)
    for index, mark in simple:
        if mark.start > position:
            _scan(text, position, mark.start, body, found)
        token = _open(text, end, index, mark, found)
        found.append(token)
        position = token.end
    if position < end:
        _scan(text, position, end, body, found)
    if wordy:
        found = [_grouped(lexeme, wordy) for lexeme in found]
    return _shared_units(text, found)


def with_unit(text: str, found: list[Lexeme], first: int, unit: str) -> list[Lexeme]:
    """The tokens with bare numbers behind a zone or a title made measures of a unit that the words above give."""
    out = list(found)
    for index in range(first, len(out)):
        was = out[index]
        before = index - 1
        while before >= first and out[before].kind == "punct" and out[before].key in ":,-(":
            before -= 1
        glossed = [
            lexeme.key if lexeme.kind == "punct" else lexeme.kind for lexeme in out[index + 1 : index + 3]
        ]
        titled = before >= first and out[before].kind != "zone" and glossed != ["(", "zone"]
        if was.kind != "number" or titled:
            continue
        measured = measures.measure(f"{text[was.start : was.end]} {unit}", 0, 64)
        if measured and measured.kind in _UNITED:
            out[index] = Lexeme(measured.kind, measured.key, was.start, was.end, was.group, unit)
    return out


_NO_UNIT = word_set("class ul type grade alloy series section sections paragraph no number alternate item")
_UNITED = frozenset(["pressure", "gauge", "length", "duration", "speed", "area", "weight", "stress"])


def _link_before(found: list[Lexeme], at: int) -> tuple[int, str] | None:
    """The number that stands before a list's links ending at `at`, and those links; zones may stand among them."""
    link = ""
    zoned = found[at].kind == "zone"
    while at >= 1 and (
        found[at].key in _LISTS or found[at].kind == "zone" or found[at].key in (":", "(", ")")
    ):
        zoned = zoned or found[at].kind == "zone"
        link += found[at].key if found[at].key in _LISTS else ""
        at -= 1
    if found[at].kind != "number" or not (link or zoned) or (at and found[at - 1].key in _NO_UNIT):
        return None
    if _ends_a_mark(found, at):
        return None
    return at, "zone" if zoned else link


def _ends_a_mark(found: list[Lexeme], at: int) -> bool:
    """Whether a number is the end of a mark, which no unit behind it serves: "20 years for RP-1 and 10 for RP-2"."""
    return (
        at > 1
        and found[at - 1].key == "-"
        and found[at - 2].kind == "word"
        and found[at - 2].end == found[at - 1].start
        and found[at - 1].end == found[at].start
    )


def _shared_units(text: str, found: list[Lexeme]) -> list[Lexeme]:
    """ "20, 30 and 40 psf" is three pressures: a unit said once serves the numbers listed before it."""
    if not any(lexeme.kind == "number" for lexeme in found):
        return found
    out = list(found)
    for index in range(len(out) - 1, -1, -1):
        lexeme = out[index]
        if lexeme.kind not in _UNITED:
            continue
        at, links, numbers = index - 1, [], []
        while at >= 1 and (link := _link_before(out, at)) is not None:
            links.append(link[1])
            numbers.append(link[0])
            at = link[0] - 1
        if not numbers or (links == [","]):
            continue
        signed = text[out[numbers[0]].start] in "+-" or text[lexeme.start] in "+-"
        if "/" in links and not signed and lexeme.kind != "gauge":
            continue
        unit = measures.unit_of(text[lexeme.start : lexeme.end])
        for number in numbers:
            was = out[number]
            measured = measures.measure(f"{text[was.start : was.end]} {unit}", 0, 64)
            if measured:
                out[number] = Lexeme(measured.kind, measured.key, was.start, was.end, was.group, unit)
    return out


def _split_marks(
    text: str, start: int, end: int, marks: tuple[Mark, ...]
) -> tuple[list[tuple[int, Mark]], list[tuple[int, Mark]]]:
    simple: list[tuple[int, Mark]] = []
    wordy: list[tuple[int, Mark]] = []
    for index, mark in enumerate(marks):
        if mark.end <= start or mark.start >= end:
            continue
        plain = all(measures.is_measure(option) for option in mark.options)
        (simple if plain and mark.start >= start else wordy).append((index, mark))
    return sorted(simple, key=lambda item: item[1].start), wordy


_SPAN_OVER = lazily(r"(?<![\w/-])(?:L|span)\s?/\s?$", re.IGNORECASE)
"""What makes the number behind it a part of the span: "L/[180] [240]"."""


def _open(text: str, end: int, index: int, mark: Mark, before: list[Lexeme]) -> Lexeme:
    """The token of a choice of values or of a blank, with the unit that follows it."""
    inner = next(filter(None, (measures.kind_of(option) for option in mark.options)), "")
    stop, given = mark.end, ""
    if inner in ("", "number"):
        unit = unit_at(text, stop, end)
        if unit:
            given = text[unit.start : unit.end]
            inner, stop, given = kind_of_unit(given), unit.end, f" {given}"
    if inner == "length" and mark.options and all(measures.is_thin(f"{one}{given}") for one in mark.options):
        inner = "thin"
    if inner in ("", "number") and _SPAN_OVER.search(text, max(mark.start - 8, 0), mark.start):
        inner = "ratio"
    if text[max(mark.start - 5, 0) : mark.start].rstrip().endswith(("1A-", "1-", "1a-", "IA-", "I-")):
        inner = "rating"
    return Lexeme(mark.kind, inner, mark.start, stop, index, inner)


def _grouped(lexeme: Lexeme, wordy: list[tuple[int, Mark]]) -> Lexeme:
    for index, mark in wordy:
        if mark.start <= lexeme.start and lexeme.end <= mark.end:
            return Lexeme(lexeme.kind, lexeme.key, lexeme.start, lexeme.end, index, lexeme.inner)
    return lexeme


def _scan(text: str, start: int, end: int, body: str, found: list[Lexeme]) -> None:
    """Appends the tokens of text[start:end], which holds no choice left open, to `found`."""
    body = next((item.key.split()[0] for item in reversed(found) if item.kind == "standard"), body)
    position = start
    last = found[-1].key if found else ""
    listing = False
    while position < end:
        run = _RUN.match(text, position, end)
        if run is not None:
            key = _PLAIN_STEMS.get(run[1]) or _plain_stem(run[1])
            if key:
                found.append(Lexeme("word", key, run.start(1), run.end()))
                position, last, listing = run.end(), key, False
                continue
        if text[position] == " ":
            position += 1
            continue
        given = (
            body
            if listing
            or body == "ASTM"
            or (body and _is_listed(text, position, end, last, found))
            or (position == start and body in _NUMBERED and _FIRST_LISTED.match(text, position, end))
            else ""
        )
        lexeme, *more = _next(text, position, end, given, last)
        if lexeme.kind == "standard":
            body, listing = lexeme.key.split()[0], True
        elif lexeme.key not in _LISTS:
            listing = False
            if lexeme.kind == "word" and lexeme.key in _BODIES:
                body = lexeme.key.upper()
        found.append(lexeme)
        found.extend(more)
        position = found[-1].end
        last = _told(found[-1])


def _told(lexeme: Lexeme) -> str:
    """What a token is to the one behind it."""
    if lexeme.kind == "duration":
        return "year"
    return lexeme.key if lexeme.kind in ("word", "punct", "standard") else ""


def _is_listed(text: str, at: int, end: int, last: str, found: list[Lexeme]) -> bool:
    """Whether a number with its year stands where a list of a body's standards has one: "UL: 580-06 ...; 1897-15"."""
    if _FM_STANDARD.match(text, at, end) and any(one.key == "fm" for one in found[-8:]):
        return True
    if last == ":" and len(found) > 1 and found[-2].key in _BODIES and std.NEXT_NUMBER.match(text, at, end):
        return True
    if not text[at].isdigit() or not _DATED.match(text, at, end):
        return False
    return not found or last in (";", ":") or (last == ")" and found[-2].key in _BODIES)


_BODIES = frozenset(["ul", "fm", "aama", "tas", "astm"])
_FM_STANDARD = lazily(r"4[4-9]\d\d\b(?!\s*(?:psf|psi|lb|mm|in|ft))")
_PER = frozenset(["per", "/"])
_DATED = lazily(r"\d{3,4}[A-Z]?-\d{2}(?:\d\d)?\b")
_RUN = lazily(r" *([A-Za-z]+)(?![A-Za-z'.])")
_ENDLESS = lazily(r"\d{25,}")
"""Digits that no specification means as a number: passed over whole, so that time stays linear."""
_PLAIN_STEMS: dict[str, str] = {}
"""Stems of words that start nothing but themselves, as they were written. Filled as words are met."""


def _plain_stem(word: str) -> str:
    """The stem of a word that starts no standard, zone, number or deferral; "" of one that may."""
    low = word.casefold()
    if (len(low) < 4 and low not in _SHORT) or low in _LISTS or low in _SPECIAL or abbreviations.known(low):
        return ""
    found = stem(word)
    if len(_PLAIN_STEMS) < 20_000:
        _PLAIN_STEMS[word] = found
    return found


def _next(text: str, at: int, end: int, body: str, last: str) -> tuple[Lexeme, ...]:
    char = text[at]
    if char.isalpha():
        return _word(text, at, end, body, last)
    if char.isdigit() and (endless := _ENDLESS.match(text, at, end)):
        return (Lexeme("punct", char, at, endless.end()),)
    if char.isdigit() and body in _NUMBERED and (more := std.NEXT_NUMBER.match(text, at, end)):
        return (Lexeme("standard", f"{body} {more['number'].upper()}", at, more.end()),)
    if char == "1" and _HAIL.match(text, at, end):
        return (Lexeme("punct", "-", at, at + 2),)
    if (
        char == "1"
        and not text[max(at - 1, 0)].isalpha()
        and (rated := std.RATING.match(text, at, end))
        and std.rating(rated)
    ):
        return (Lexeme("rating", std.rating(rated), at, rated.end()),)
    if char.isdigit() and last in _SECTIONS and (numbered := _SECTION.match(text, at, end)):
        return (Lexeme("section", " ".join(numbered.group().split()), at, numbered.end()),)
    if char.isdigit() or char in "-+.#(<±¼½¾⅛⅜⅝⅞":
        measured = measures.measure(text, at, end, last, body)
        if measured is not None:
            return (Lexeme(measured.kind, measured.key, at, measured.end),)
    return (Lexeme("punct", char, at, at + 1),)


def _word(text: str, at: int, end: int, body: str, last: str) -> tuple[Lexeme, ...]:
    match = _WORD.match(text, at, end)
    word = match.group() if match else text[at]
    stop = at + len(word)
    low = word.casefold().rstrip(".")
    special = _special(text, at, end, low, body)
    if special is not None:
        return special
    if low == "and" and (joined := _AND_OR.match(text, at, end)):
        return (Lexeme("word", "and/or", at, joined.end()),)
    if low in measures.STARTS and (measured := measures.measure(text, at, end, last, body)):
        lexeme = Lexeme(measured.kind, measured.key, at, measured.end)
        return (lexeme, Lexeme("word", stem("times"), at, measured.end)) if low == "twice" else (lexeme,)
    if low == "exp" and last == "year":
        return (Lexeme("word", "experience", at, stop),)
    if not (last in _PER and low == "s.f") and (short := abbreviations.short_at(text, word, stop)):
        return tuple(Lexeme("word", stem(one), at, short.end) for one in short.words)
    return (Lexeme("word", stem(word), at, stop),)


def _special(text: str, at: int, end: int, low: str, body: str) -> tuple[Lexeme, ...] | None:
    following = text[at + len(low) : at + len(low) + 2]
    if low in std.STARTS:
        found = std.STANDARD.match(text, at, end)
        if found:
            return (Lexeme("standard", std.named(found), at, found.end()),)
        if low[0] == "u" and (ninety := _CLASS_90.match(text, at, end)):
            split = ninety.start(1)
            return Lexeme("word", "ul", at, split), Lexeme("number", ninety.group(1), split, ninety.end())
    if len(low) <= 3 and (following[:1].isdigit() or following[1:2].isdigit()):
        coated = std.COATING.match(text, at, end)
        if coated and coated.end() > at + len(low):
            other = std.OTHER_COATING.match(text, coated.end(), end)
            key = std.customary_coating(std.coating(coated), other)
            return (Lexeme("coating", key, at, other.end() if other else coated.end()),)
        if low == "i" and (rated := std.RATING.match(text, at, end)) and std.rating(rated):
            return (Lexeme("rating", std.rating(rated), at, rated.end()),)
        if len(low) == 1:
            bare = std.NEXT_ASTM if body == "ASTM" else std.LONE_METHOD
            if named := bare.match(text, at, end):
                number = re.sub(r"[-\s]", "", named["astm"])
                return (Lexeme("standard", f"ASTM {number}", at, named.end()),)
    if low in zones.STARTS and (zone := zones.zone_at(text, at, end)):
        return (Lexeme("zone", zone.key, at, zone.end),)
    if deferred := deferrals.deferral_at(text, at, end, low):
        return (Lexeme(deferred[0], deferred[0], at, deferred[1]),)
    return None
