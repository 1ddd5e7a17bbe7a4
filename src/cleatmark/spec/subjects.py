"""What a sentence is about, where that is not the roof's panels: a gutter, a wall panel, a crane, the existing roof.

A value belongs to the subject of its sentence whatever the article's title says. The subject is what stands before the
verb or the colon, or what an imperative asks for ("Gutters: 26 gage", "Crane runway deflection is limited to",
"Provide skylights of"). Panels named among other things keep their value ("roof and wall panels").
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from itertools import pairwise

from cleatmark.spec.lexemes import Lexeme
from cleatmark.spec.lines import Line
from cleatmark.spec.wording import word_set

_LONGEST = 14
"""Words of a subject at most."""
END = 1_000_000
"""Behind every item of a sentence."""

_PARTS = word_set(
    "gutter downspout leader scupper conductor skylight hatch louver finial weathervane flashing counterflashing trim "
    "closure fascia coping cricket reglet collar gasket ladder walkway railing handrail guard lifeline accessory apron "
    "valley strainer hanger baffle diverter birdscreen splice soldering solder spacer plate ventilator translucent"
)
_PAIRS = frozenset(
    [("ridge", "cover"), ("ridge", "cap"), ("hip", "cover"), ("hip", "cap"), ("ridge", "vent"), ("thermal", "block"),
     ("roof", "vent"), ("roof", "window"), ("expansion", "joint"), ("pipe", "boot"), ("drip", "edge")]
)  # fmt: skip
_WALLS = word_set("wall siding liner soffit partition window door storefront facade louver")
_FRAMING = word_set(
    "crane runway girt subgirt purlin subpurlin furring joist rafter frame column beam truss mezzanine "
    "floor foundation stack chimney sign mast equipment hoist monorail bracing girder footing stair "
    "elevator"
)
_KINDS = (("parts", _PARTS), ("walls", _WALLS), ("framing", _FRAMING))
_OURS = word_set(
    "roof roofing panel pan sheet seam system clip cleat batten standing material metal assembly"
)
_OTHER_PANEL = word_set(
    "wall liner soffit fascia skylight translucent fiberglass siding skylights plastic door interior"
)
_BARRIERS = frozenset([("air", "barrier"), ("vapor", "retarder"), ("vapor", "barrier")])
_STRUCTURE = word_set("structure framing frame member")
_CARRIES = word_set("supporting carrying below underneath")
_LENDS = word_set("of for at on to in")
_MEASURED = word_set(
    "thickness width height depth gauge spacing slope deflection finish material pressure load wind design uplift "
    "maximum minimum size dimension weight resistance capacity movement drift span metal sheet installation"
)
_VERBS = word_set(
    "shall must will is are may has have should be can provide furnish install fabricate form use make submit "
    "withstand resist do not formed made fabricated constructed designed limited"
)
_IMPERATIVE = word_set("provide furnish install fabricate form use make construct supply")
_AWAY = word_set("remove demolish leave retain salvage dismantle preserve strip")
_RENEWED = word_set("provide install furnish replace apply new renew reroof re-roof ; then before prior")
_ON = word_set(
    "with shall will must to by for using provide install furnish replace apply new receive receiving which where ; "
    "then"
)
_MATCH = word_set("match matching matches as")
_KEPT = (
    ("to", "remain"), ("shall", "remain"), ("will", "remain"), ("not", "in", "contract"),
    ("not", "in", "this", "contract"), ("not", "in", "the", "contract"), ("not", "part", "of"), ("by", "owner"),
    ("by", "other"),
)  # fmt: skip


def subject_kinds(line: Line, lexemes: Sequence[Lexeme], start: int = 0) -> Mapping[str, tuple[int, int]]:
    """The kinds "parts", "walls", "framing" or "existing" that a sentence's subject puts it in, each with the items
    first and last for which it does. `start` is the item with which the sentence's own words begin."""
    found: dict[str, tuple[int, int]] = {}
    items = line.items
    at = start
    while at < len(items):
        stop = next((index for index in range(at, len(items)) if items[index] == ";"), len(items))
        kind = _of_subject(_subject(line, lexemes, at, stop))
        if kind and kind not in found:
            found[kind] = (at, stop)
        elif at == start and not kind:
            break
        at = stop + 1
    if spared := _existing(items, start):
        found["existing"] = spared
    return found


def _subject(line: Line, lexemes: Sequence[Lexeme], start: int, stop: int) -> Sequence[str]:
    """The words of the subject: before the colon, before the verb, or what an imperative asks for."""
    items = line.items
    first = start
    while first < stop and items[first] in _IMPERATIVE:
        first += 1
    end = first
    while end < min(stop, first + _LONGEST):
        if items[end][:1] in "<§" or (items[end] in _VERBS and end > first):
            break
        if end > first and _colon(line, lexemes, end):
            return items[first:end]
        end += 1
    if end < len(items) and items[end][:1] == "<" and first == start:
        return items[first:end]
    return items[first:end] if end < stop else ()


def _colon(line: Line, lexemes: Sequence[Lexeme], index: int) -> bool:
    between = range(line.tokens[index - 1] + 1, line.tokens[index])
    return any(lexemes[token].key in ":." for token in between)


def _of_subject(words: Sequence[str]) -> str:
    """The kind of what a subject names: the head of "crane runway deflection", the thing of "thickness for the
    finial"; "" where the roof's panels are named too, or nothing known is."""
    if not words:
        return ""
    if any(one in _STRUCTURE and other in _CARRIES for one, other in pairwise(words)):
        return "framing"
    head, _, rest = _parted(words)
    named = (
        rest if rest and head and all(word in _MEASURED or word in ("the", "a") for word in head) else head
    )
    if any(_ours(named, index) for index in range(len(named))):
        return ""
    if not _BARRIERS.isdisjoint(pairwise(named)):
        return "walls"
    if not _PAIRS.isdisjoint(pairwise(named)):
        return "parts"
    return next((kind for kind, of in _KINDS if not of.isdisjoint(named)), "")


def _parted(words: Sequence[str]) -> tuple[Sequence[str], str, Sequence[str]]:
    for index, word in enumerate(words):
        if word in _LENDS:
            return words[:index], word, words[index + 1 :]
    return words, "", ()


def _ours(words: Sequence[str], index: int) -> bool:
    """Whether a word names the roof's own panels: not the "panel" of "wall panel", nor what "roof" only places."""
    if words[index] not in _OURS:
        return False
    if words[index] in ("panel", "sheet", "system", "assembly", "material", "metal"):
        before = words[max(index - 1, 0) : index]
        joined = words[max(index - 3, 0) : index]
        if "and" in joined and "roof" in joined:
            return True
        return _OTHER_PANEL.isdisjoint(before) and words[index] not in ("material", "metal", "sheet")
    behind = words[index + 1 : index + 2]
    everything = _PARTS | _FRAMING | _WALLS
    return not (
        words[index] in ("roof", "seam", "clip", "batten", "pan") and not everything.isdisjoint(behind)
    )


def _existing(items: Sequence[str], start: int) -> tuple[int, int] | None:
    """The part of a sentence that is about existing construction, or that nobody is to build."""
    own = items[start:]
    for words in _KEPT:
        if words[0] in own and any(
            tuple(own[at : at + len(words)]) == words for at in range(len(own)) if own[at] == words[0]
        ):
            return (start, END)
    if own and own[0] in _AWAY:
        behind = next((at for at in range(start + 1, len(items)) if items[at] in _RENEWED), END)
        return (start, behind)
    for at in range(start, len(items)):
        if items[at] == "existing" and (at == start or _MATCH.isdisjoint(items[max(at - 2, start) : at])):
            behind = next((one for one in range(at + 1, len(items)) if items[one] in _ON), END)
            return (at, behind)
    return None
