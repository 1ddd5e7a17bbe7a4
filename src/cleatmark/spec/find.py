"""The values that readings find in one sentence."""

from __future__ import annotations

import re
from collections.abc import Sequence
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.fields import Field
from cleatmark.spec import sense, values, zones
from cleatmark.spec.context import Nearness
from cleatmark.spec.found import Found
from cleatmark.spec.lexemes import Lexeme
from cleatmark.spec.pattern import Hit, Phrase
from cleatmark.spec.reading import Reading
from cleatmark.spec.scopes import Scope, paired, scope_of
from cleatmark.spec.sentences import Sentence
from cleatmark.spec.slots import Slot
from cleatmark.spec.wording import word_set
from cleatmark.units import Quantity, QuantityError, parse

EVIDENCE = ("uplift.", "approval", "listing_body", "water.", "air.", "fire.", "impact.")
"""Subjects for which the sentence's verb says what kind of evidence is asked for."""
_LINKS = frozenset(["or", "and", "and/or", ",", "/", "&", "through"])
_LEFT_TO_OTHERS = frozenset(
    ["delegated design", "defers to drawings", "no value", "blank", "unedited choice"]
)
_LEFT_OPEN = {
    "defer": "defers to drawings",
    "none": "no value",
    "choice": "unedited choice",
    "blank": "blank",
}


_SIGNED = re.compile(r"[-+±(]|minus\b|negative\b|plus\b", re.IGNORECASE)
_WAYS: dict[str, tuple[str, ...]] = {
    "-": ("up",), "(": ("up",), "minus": ("up",), "negative": ("up",), "+": ("down",), "plus": ("down",),
    "±": ("down", "up"),
}  # fmt: skip


class Compiled(Struct, frozen=True):
    """A reading with its phrases ready to match. `field` is None for one that only flags."""

    reading: Reading
    field: Field | None
    phrases: tuple[Phrase, ...]
    nearness: Nearness
    zones: bool


def applies(compiled: Compiled, sentence: Sentence) -> bool:
    """Whether a reading applies in the article kinds that the sentence stands in."""
    reading = compiled.reading
    if (
        reading.kinds
        and sentence.kinds.isdisjoint(reading.kinds)
        and sentence.said.keys().isdisjoint(reading.kinds)
    ):
        return False
    return sentence.kinds.isdisjoint(reading.not_in)


def _put_off(compiled: Compiled, sentence: Sentence, item: int) -> bool:
    """Whether a word before the value makes the sentence of a kind that the reading leaves alone."""
    return any(kind in compiled.reading.not_in and at <= item for kind, at in sentence.said.items())


def matches(compiled: Compiled, indexes: Sequence[int], sentence: Sentence) -> list[tuple[Phrase, Hit]]:
    """The phrases that match, each where its value belongs to what the reading is about."""
    whole = compiled.reading.value != "" and "{" not in compiled.reading.value
    found: list[tuple[Phrase, Hit]] = []
    for index in indexes:
        phrase = compiled.phrases[index]
        for hit in phrase.search(sentence.line):
            if whole:
                hit = Hit(hit.first, hit.last, hit.first, hit.last)
            if sentence.said and _put_off(compiled, sentence, sentence.line.item_of(hit.value_first)):
                continue
            if hit.last < sentence.first or (phrase.slot and not whole and hit.value_first < sentence.first):
                continue
            if compiled.nearness.accepts(
                sentence.line,
                sentence.lexemes,
                hit.value_first,
                hit.value_last,
                sentence.headings,
                sentence.first,
            ):
                found.append((phrase, hit))
    return found


def find(compiled: Compiled, hits: Sequence[tuple[Phrase, Hit]], sentence: Sentence) -> list[Found]:
    """The values of one reading in one sentence, with their relations, zones, areas, levels and flags."""
    field = compiled.field
    if field is None or not hits:
        return []
    found: list[Found] = []
    seen: set[tuple[int, int]] = set()
    for phrase, hit in _adjacent(hits, sentence.lexemes):
        spans = _listed(phrase, hit, sentence.lexemes)
        if compiled.zones:
            spans += _by_zone(phrase, spans[-1][1], sentence.lexemes)
        for first, last in spans:
            if (first, last) not in seen:
                seen.add((first, last))
                one = _value(compiled, field, phrase, sentence, first, last)
                if one is not None:
                    found.append(one)
    found = [one for item in found for one in _ends(item)]
    if field.kind == "pressure":
        found = [item for item in found if not _of_a_test(item)]
    if field.kind == "pressure":
        found = [one for item in found for one in _pressures(item)]
    if compiled.zones and found:
        found = _zoned(compiled, found, sentence)
    scope = scope_of(sentence.quote, [head.text for head in sentence.headings[1:]]) if found else Scope()
    if sentence.roof and not scope.roof:
        scope = replace(scope, roof=sentence.roof)
    return [_scoped(item, scope) for item in found]


def _adjacent(hits: Sequence[tuple[Phrase, Hit]], lexemes: Sequence[Lexeme]) -> list[tuple[Phrase, Hit]]:
    """Words of one value that stand side by side are one: "self-drilling, pancake head"."""
    out: list[tuple[Phrase, Hit]] = []
    for phrase, hit in sorted(hits, key=lambda item: (item[1].value_first, -item[1].value_last)):
        if out and phrase.kind == "text" and out[-1][0].kind == "text":
            last = out[-1][1]
            between = lexemes[last.value_last + 1 : hit.value_first]
            if hit.value_first <= last.value_last:
                continue
            if all(lexeme.kind == "punct" and lexeme.key in ",-" for lexeme in between):
                out[-1] = (phrase, Hit(last.first, hit.last, last.value_first, hit.value_last))
                continue
        out.append((phrase, hit))
    return out


def _listed(phrase: Phrase, hit: Hit, lexemes: Sequence[Lexeme]) -> list[tuple[int, int]]:
    """The value and those listed with it: "UL 580, UL 1897 and FM 4474"."""
    spans = [(hit.value_first, hit.value_last)]
    kind = lexemes[hit.value_first].kind
    if (
        phrase.slot is None
        or phrase.kind in ("text", "word", "open")
        or hit.value_first != hit.value_last
        or kind in _LEFT_OPEN
    ):
        return spans
    spans = [*_before(phrase.slot, hit.value_first, lexemes), *spans]
    at = hit.value_last + 1
    while at < len(lexemes):
        link = at
        while link < len(lexemes) and lexemes[link].key in _LINKS and lexemes[link].kind in ("word", "punct"):
            link += 1
        if (
            link == at
            or link >= len(lexemes)
            or lexemes[link].kind != kind
            or not phrase.slot.takes(lexemes[link])
        ):
            break
        spans.append((link, link))
        at = link + 1
    return spans


_PASSED = word_set(
    "oc on center centers at in the and or except maximum minimum max min not more than less of roof spaced psf to for "
    "but along within zone area exceed exceeding reduced reduce ; , ( ) : - .".strip()
)


def _before(slot: Slot, first: int, lexemes: Sequence[Lexeme]) -> list[tuple[int, int]]:
    """The value that "or" joins to the front: "12 or 16 inches wide"."""
    if first < 2 or lexemes[first - 1].key not in ("or", "and/or"):
        return []
    other = lexemes[first - 2]
    return [(first - 2, first - 2)] if other.kind == lexemes[first].kind and slot.takes(other) else []


_STRIP = frozenset(["outer", "within", "first", "last", "next"])


_STRIP = frozenset(["outer", "within", "first", "last", "next"])


def _zone_width(lexemes: Sequence[Lexeme], at: int) -> bool:
    """Whether a length says how wide a zone is: "perimeter (8 feet)", "the outer 10 feet"."""
    if at < 1 or lexemes[at].kind != "length":
        return False
    return lexemes[at - 1].key in _STRIP or (
        at > 1 and lexemes[at - 1].key == "(" and lexemes[at - 2].kind == "zone"
    )


def _by_zone(phrase: Phrase, last: int, lexemes: Sequence[Lexeme]) -> list[tuple[int, int]]:
    """Further values of the sentence, each for a zone of its own: "24 inches in the field, 12 at corners"."""
    out: list[tuple[int, int]] = []
    zones_passed = 0
    for at in range(last + 1, len(lexemes)):
        lexeme = lexemes[at]
        if lexeme.kind == "zone":
            zones_passed += 1
        elif lexeme.kind == lexemes[last].kind and phrase.slot and phrase.slot.takes(lexeme):
            behind = lexemes[at + 1 : at + 8]
            if _zone_width(lexemes, at):
                continue
            if zones_passed or any(one.kind == "zone" for one in behind):
                out.append((at, at))
        elif lexeme.key not in _PASSED:
            break
    return out


def _value(
    compiled: Compiled, field: Field, phrase: Phrase, sentence: Sentence, first: int, last: int
) -> Found | None:  # fmt: skip
    reading = compiled.reading
    lexemes = sentence.lexemes[first : last + 1]
    head = lexemes[0]
    start = max(head.start, sentence.lexemes[sentence.first].start)
    written = " ".join(sentence.text[start : lexemes[-1].end].split())
    amount = not reading.value and phrase.kind not in ("", "text", "word", "standard", "coating", "open")
    line = sentence.line
    told = sense.sense(line, sentence.lexemes, line.item_of(first), line.item_of(last), amount=amount)
    if told.relation == "replaced":
        return None
    relation = told.relation or reading.relation or "equal"
    flags = list(reading.flags)
    if relation == "prohibited":
        flags.append("prohibited")
    elif told.optional:
        flags.append("optional")
    if sentence.tracked:
        flags.append("tracked change")
    group = next(
        (lexeme.group for lexeme in lexemes if lexeme.group >= 0 and lexeme.kind not in _LEFT_OPEN), -1
    )
    verb = ""
    if field.key.startswith(EVIDENCE):
        verb = sense.verb(line, line.item_of(first), line.item_of(last))
    if head.kind in _LEFT_OPEN and len(lexemes) == 1:
        if reading.flags:
            return None
        flags.append(_LEFT_OPEN[head.kind])
        detail = ""
        if head.group >= 0:
            options = sentence.marks[head.group].options
            if (
                phrase.slot
                and phrase.slot.allowed
                and options
                and not any(phrase.slot.allows(option) for option in options)
            ):
                return None
            written = " / ".join(options) or written
        return Found(
            sentence,
            reading,
            first,
            last,
            (),
            written,
            relation,
            tuple(flags),
            detail,
            verb=verb,
            group=group,
        )
    if group >= 0:
        mark = sentence.marks[group]
        flags.append(_LEFT_OPEN[mark.kind])
        return Found(
            sentence, reading, first, last, (), " / ".join(mark.options) or written, relation, tuple(flags),
            verb=verb, group=group,
        )  # fmt: skip
    if not _LEFT_TO_OTHERS.isdisjoint(reading.flags):
        return Found(sentence, reading, first, last, (), written, relation, tuple(flags), verb=verb)
    typed = values.typed(field, sentence.text, lexemes, reading.value)
    if typed is None:
        return None
    got = typed.values
    level = ""
    if field.kind == "thickness":
        basis = sense.basis(line.items, line.item_of(first), line.item_of(last))
        got = tuple(values.with_basis(value, basis) for value in got)
    if field.kind == "speed":
        level = sense.speed_level(line.items, line.item_of(first), line.item_of(last))
    if field.kind == "speed" and typed.sign:
        return None
    if typed.apart:
        flags.append("conflict")
    return Found(
        sentence, reading, first, last, got if typed.high is None else (*got, typed.high), written,
        "between" if typed.high is not None else relation, tuple(flags), typed.apart, level=level, verb=verb,
    )  # fmt: skip


_DESIGN = word_set("design wind resist withstand load resisting withstanding support sustain")


def _of_a_test(item: Found) -> bool:
    """A pressure beside a test's name, without a word of design, is how far that test goes."""
    lexemes = item.sentence.lexemes
    at = item.first - 1
    named = False
    while at >= item.sentence.first and lexemes[at].key not in ",;:.":
        lexeme = lexemes[at]
        if lexeme.kind == "standard" and not lexeme.key.startswith("ASCE"):
            named = True
        elif lexeme.key in _DESIGN:
            return False
        at -= 1
    return named


def _ends(item: Found) -> list[Found]:
    """A range as its two bounds."""
    if item.relation != "between":
        return [item]
    low, high = item.values
    return [
        replace(item, relation="at least", values=(low,)),
        replace(item, relation="at most", values=(high,)),
    ]


def _pressures(item: Found) -> list[Found]:
    """Signed pressures: one for each direction that the words give, uplift where none does."""
    line = item.sentence.line
    first, last = line.item_of(item.first), line.item_of(item.last)
    level = sense.level(line.items, first) or _level_above(item.sentence)
    head = item.sentence.lexemes[item.first]
    signs = _SIGNED.match(item.sentence.text, head.start)
    if signs:
        ways = _WAYS[signs.group().strip().casefold()]
    else:
        start = line.item_of(item.sentence.first) if item.sentence.first else 0
        ways = sense.directions(line.items, first, last, start) or _direction_above(item.sentence)
    if not item.values:
        return [replace(item, level=level)]
    out = []
    for way in ways or ("up",):
        got = tuple(values.signed(value, way, level) for value in item.values)
        out.append(replace(item, values=got, level=level))
    return out


def _level_above(sentence: Sentence) -> str:
    for head in reversed(sentence.headings):
        if found := sense.level(head.line.items):
            return found
    return ""


def _direction_above(sentence: Sentence) -> tuple[str, ...]:
    for head in reversed(sentence.headings[1:]):
        if found := sense.directions(head.line.items, len(head.line.items), len(head.line.items)):
            return found
    return ()


def _zoned(compiled: Compiled, found: Sequence[Found], sentence: Sentence) -> list[Found]:
    """Each value with the zones and the effective wind area that the sentence gives it."""
    where = {item.first for item in found}
    kinds = {sentence.lexemes[at].kind for at in where} - {"word"}
    lexemes = sentence.lexemes
    alike = {at for at in range(sentence.first, len(lexemes)) if lexemes[at].kind in kinds}
    where |= {at for at in alike if not _zone_width(lexemes, at)}
    by_zone: dict[int, tuple[str, ...]] = {}
    by_area: dict[int, tuple[str, ...]] = {}
    for segment in _segments(sentence.lexemes, sentence.first, where):
        share = compiled.field is not None and compiled.field.kind == "pressure"
        listed = _is_list(sentence, segment, where)
        by_zone.update(paired(_tagged(sentence, segment, where, "zone"), share=share, listed=listed))
        by_area.update(paired(_tagged(sentence, segment, where, "area"), share=True, listed=listed))
    above = _zones_above(sentence)
    out: list[Found] = []
    for item in found:
        names = by_zone.get(item.first) or (above if not by_zone else ())
        area = _area(by_area.get(item.first, ())) or (_area_above(sentence) if not by_area else None)
        if names and _other_zone(compiled, names):
            continue
        for name in names or ("",):
            out.append(replace(item, zone=name, area=area))
    return out


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
    valued = [any(index in where for index in piece) for piece in pieces]
    pairs = list(zip(zoned, valued, strict=True))
    return [range(start, len(lexemes))] if {(True, False), (False, True)} <= set(pairs) else pieces


_BETWEEN = frozenset([",", "and", "or", "&", "oc", "on", "center", "psf"])


def _is_list(sentence: Sentence, segment: range, where: set[int]) -> bool:
    """Whether the values follow one another as a list does ("20, 30 and 40 psf")."""
    places = sorted(at for at in where if at in segment)
    pairs = pairwise(places)
    return all(sentence.lexemes[at].key in _BETWEEN for a, b in pairs for at in range(a + 1, b))


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


def _area_above(sentence: Sentence) -> Quantity | None:
    for head in reversed(sentence.headings[2:]):
        areas = [lexeme for lexeme in head.lexemes if lexeme.kind == "area"]
        if len(areas) == 1 and len(head.line.items) <= 60:
            return _area((head.text[areas[0].start : areas[0].end],))
    return None


def _area(written: Sequence[str]) -> Quantity | None:
    from cleatmark.spec.measures import amounts

    found = amounts(" ".join(written[0].split())) if written else None
    if found is None:
        return None
    try:
        return parse(found.value, "area")
    except QuantityError:
        return None


def _other_zone(compiled: Compiled, names: Sequence[str]) -> bool:
    """Whether the zones are another surface's, as the reading says (`not near "Zone 4"`)."""
    others = {zones.kin(word) for word in compiled.reading.not_near if "zone" in word.casefold()}
    return bool(others) and all(zones.kin(name) in others for name in names)


def _scoped(item: Found, scope: Scope) -> Found:
    flags = item.flags
    if scope.bid.startswith("Alternate") and "alternate" not in flags:
        flags = (*flags, "alternate")
    return replace(item, scope=scope, flags=flags)
