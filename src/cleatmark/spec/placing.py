"""The zones and effective wind areas that go with the values of a sentence."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from msgspec.structs import replace

from cleatmark.spec import zones
from cleatmark.spec.found import Found
from cleatmark.spec.lexemes import Lexeme
from cleatmark.spec.matching import Compiled
from cleatmark.spec.measures import amounts
from cleatmark.spec.scopes import paired
from cleatmark.spec.sentences import Sentence
from cleatmark.spec.wording import word_set
from cleatmark.units import Quantity, QuantityError, parse

_STRIP = word_set("outer within first last next")
_STRIPS = word_set("strip band zone border")
_WIDTHS = word_set("width wide extend extends extending deep depth dimension distance")
_WIDE_WORDS = _WIDTHS | word_set("a an of is are : = ( strip the shall be having measured")
_REACH = 9
_LINKS = word_set("and or &")
_BETWEEN = _LINKS | word_set(", psf class")
_CENTERS = word_set("oc on center")


def zoned(compiled: Compiled, found: Sequence[Found], sentence: Sentence) -> list[Found]:
    """Each value with the zones and the effective wind area that the sentence gives it."""
    where = {item.first for item in found}
    kinds = {sentence.lexemes[at].kind for at in where} - {"word"}
    lexemes = sentence.lexemes
    alike = {at for at in range(sentence.first, len(lexemes)) if lexemes[at].kind in kinds}
    where |= {at for at in alike if not zone_width(lexemes, at)}
    by_zone: dict[int, tuple[str, ...]] = {}
    by_area: dict[int, tuple[str, ...]] = {}
    for segment in _segments(sentence.lexemes, sentence.first, where):
        share = compiled.field is not None and compiled.field.kind == "pressure"
        listed = _is_list(sentence, segment, where)
        by_zone.update(paired(_tagged(sentence, segment, where, "zone"), share=share, listed=listed))
        by_area.update(paired(_tagged(sentence, segment, where, "area"), share=True, listed=listed))
    above = _zones_above(sentence)
    led = _area_ahead(sentence, where)
    out: list[Found] = []
    for item in found:
        names = by_zone.get(item.first) or (above if not by_zone else ())
        area = _area(by_area.get(item.first, led)) or (_area_above(sentence) if not by_area else None)
        if names and _other_zone(compiled, names):
            continue
        for name in names or ("",):
            out.append(replace(item, zone=name, area=area))
    return out


def zone_width(lexemes: Sequence[Lexeme], at: int) -> bool:
    """Whether a length says how wide a zone is, and not how wide a sheet or how far apart a clip: "perimeter (8
    feet)", "the outer 10 feet", "edge zone width: 18 feet", "for a width of 6 feet", "zones are 12 feet wide"."""
    if at < 1 or lexemes[at].kind != "length":
        return False
    before = at - 1
    if lexemes[before].key in _STRIP:
        return True
    opened = lexemes[before].key == "("
    wide = {lexemes[at + 1].key} & {"wide"} if at + 1 < len(lexemes) else set()
    while before >= 0 and before > at - _REACH and lexemes[before].key in _WIDE_WORDS:
        wide |= {lexemes[before].key} & _WIDTHS
        before -= 1
    if before < 0:
        return False
    if lexemes[before].key in _STRIPS:
        return bool(wide)
    if lexemes[before].kind == "zone":
        titled = before > 1 and lexemes[before - 2].key in _WIDTHS and lexemes[before - 1].key == "of"
        return bool(wide) or titled or (opened and before == at - 2)
    behind = next((one for one in lexemes[at + 1 : at + 4] if one.key not in ("wide", "of", "the")), None)
    return lexemes[before].key == "for" and bool(wide) and (behind is None or behind.kind == "punct")


def _segments(lexemes: Sequence[Lexeme], start: int, where: set[int]) -> list[range]:
    """The sentence cut at semicolons; whole, where zones stand in one piece and values in another."""
    cuts = [
        index
        for index, lexeme in enumerate(lexemes)
        if index >= start and lexeme.kind == "punct" and lexeme.key == ";"
    ]
    if not cuts:
        return [range(start, len(lexemes))]
    edges = [start - 1, *cuts, len(lexemes)]
    pieces = [range(a + 1, b) for a, b in pairwise(edges)]
    zoned = [any(lexemes[index].kind == "zone" for index in piece) for piece in pieces]
    wide = [any(zone_width(lexemes, index) for index in piece) for piece in pieces]
    zoned = [named and not measured for named, measured in zip(zoned, wide, strict=True)]
    valued = [any(index in where for index in piece) for piece in pieces]
    pairs = list(zip(zoned, valued, strict=True))
    return [range(start, len(lexemes))] if {(True, False), (False, True)} <= set(pairs) else pieces


def _is_list(sentence: Sentence, segment: range, where: set[int]) -> bool:
    """Whether the values follow one another as a list does ("20, 30 and 40 psf"), each for the zone in its place.

    "24 inches on center, 12 inches on center in perimeter and corners" is none: the one is for the roof, the other
    for both zones.
    """
    places = sorted(at for at in where if at in segment)
    between = [sentence.lexemes[at].key for a, b in pairwise(places) for at in range(a + 1, b)]
    if any(sentence.lexemes[at].key == "respectively" for at in segment):
        return all(key in _BETWEEN or key in _CENTERS for key in between)
    if len(places) == 2 and "," in between and not _LINKS.isdisjoint(between):
        return False
    if len(places) > 2 and set(between) == {"/"}:
        return True
    return all(key in _BETWEEN for key in between) and (not between or not _LINKS.isdisjoint(between))


def _tagged(sentence: Sentence, segment: range, where: set[int], kind: str) -> list[tuple[int, str, bool]]:
    items: list[tuple[int, str, bool]] = []
    for index in segment:
        lexeme = sentence.lexemes[index]
        if lexeme.kind == kind:
            written = " ".join(sentence.text[lexeme.start : lexeme.end].split())
            names = zones.each(written) if kind == "zone" else (written,)
            items.extend((index, name, True) for name in names)
        elif index in where:
            items.append((index, "", False))
    return items


def _zones_above(sentence: Sentence) -> tuple[str, ...]:
    for head in reversed(sentence.headings[2:]):
        names = [lexeme for lexeme in head.lexemes if lexeme.kind == "zone"]
        if len(names) == 1 and len(head.line.items) <= 10:
            return zones.each(" ".join(head.text[names[0].start : names[0].end].split()))
        if names:
            return ()
    return ()


def _area_ahead(sentence: Sentence, where: set[int]) -> tuple[str, ...]:
    """The effective wind area of a whole sentence: "Uplift at 10 sq ft: Zone 1, 22 psf; Zone 2, 38 psf"."""
    lexemes = sentence.lexemes
    area: tuple[str, ...] = ()
    for at in range(sentence.first, len(lexemes)):
        if lexemes[at].kind == "zone" or at in where:
            return ()
        if area and lexemes[at].key == ":":
            return area
        if lexemes[at].kind == "area":
            area = (sentence.text[lexemes[at].start : lexemes[at].end],)
    return ()


def _area_above(sentence: Sentence) -> Quantity | None:
    for head in reversed(sentence.headings[2:]):
        areas = [lexeme for lexeme in head.lexemes if lexeme.kind == "area"]
        if len(areas) == 1 and len(head.line.items) <= 60:
            return _area((head.text[areas[0].start : areas[0].end],))
    return None


def _area(written: Sequence[str]) -> Quantity | None:
    return area(written[0]) if written else None


def area(written: str) -> Quantity | None:
    """The effective wind area that words give; None where they hold none."""
    found = amounts(" ".join(written.split()))
    if found is None:
        return None
    try:
        return parse(found.second if found.second and "m²" in found.value else found.value, "area")
    except QuantityError:
        return None


def _other_zone(compiled: Compiled, names: Sequence[str]) -> bool:
    """Whether the zones are another surface's, as the reading says (`not near "Zone 4"`)."""
    others = {zones.kin(word) for word in compiled.reading.not_near if "zone" in word.casefold()}
    return bool(others) and all(zones.kin(name) in others for name in names)
