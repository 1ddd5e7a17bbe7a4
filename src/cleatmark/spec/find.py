"""The values that readings find in one sentence."""

from __future__ import annotations

from collections.abc import Sequence

from msgspec.structs import replace

from cleatmark.fields import Field
from cleatmark.spec import asides, sense, values, verbs
from cleatmark.spec.found import Found
from cleatmark.spec.lexemes import Lexeme
from cleatmark.spec.matching import Compiled
from cleatmark.spec.pattern import MOST, Hit, Phrase
from cleatmark.spec.placing import zone_width, zoned
from cleatmark.spec.pressures import directed, of_a_test
from cleatmark.spec.scopes import Scope, opening, scopes_of
from cleatmark.spec.sentences import Sentence
from cleatmark.spec.slots import Slot
from cleatmark.spec.wording import word_set

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
            if (first, last) not in seen and not (first == last and zone_width(sentence.lexemes, first)):
                seen.add((first, last))
                one = _value(compiled, field, phrase, sentence, first, last)
                if one is not None:
                    found.append(one)
    found = [one for item in found for one in _ends(item)]
    if field.kind == "pressure":
        found = [item for item in found if not of_a_test(item)]
    if field.kind == "pressure":
        found = [one for item in found for one in directed(item)]
    if compiled.zones and found:
        found = zoned(compiled, found, sentence)
    return _scopes(found, sentence, share=field.kind == "pressure") if found else []


def _adjacent(hits: Sequence[tuple[Phrase, Hit]], lexemes: Sequence[Lexeme]) -> list[tuple[Phrase, Hit]]:
    """Words of one value that stand side by side are one: "self-drilling, pancake head"."""
    out: list[tuple[Phrase, Hit]] = []
    for phrase, hit in sorted(hits, key=lambda item: (item[1].value_first, -item[1].value_last)):
        if out and phrase.kind == "text" and out[-1][0].kind == "text":
            last = out[-1][1]
            between = lexemes[last.value_last + 1 : hit.value_first]
            if hit.value_first <= last.value_last:
                continue
            if all(lexeme.key in _BESIDE or lexeme.kind in _SIZES for lexeme in between):
                out[-1] = (phrase, Hit(last.first, hit.last, last.value_first, hit.value_last))
                continue
        out.append((phrase, hit))
    return out


_BESIDE = frozenset([",", "-", "with"])
_SIZES = frozenset(["length", "size"])


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
    while at < len(lexemes) and len(spans) < MOST:
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
    "oc on center centers at in the and or except maximum minimum max min not more than less of roof purlin support "
    "spaced apart psf to for but along within typical zone area exceed exceeding reduced reduce over "
    "greater farther panel rib seam ; , ( ) : - .".strip()
)


def _before(slot: Slot, first: int, lexemes: Sequence[Lexeme]) -> list[tuple[int, int]]:
    """The value that "or" joins to the front: "12 or 16 inches wide"."""
    if first < 2 or lexemes[first - 1].key not in ("or", "and/or"):
        return []
    other = lexemes[first - 2]
    return [(first - 2, first - 2)] if other.kind == lexemes[first].kind and slot.takes(other) else []


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
            if zone_width(lexemes, at):
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
    written = asides.without_label(sentence, reading, first, last) or " ".join(
        sentence.text[start : lexemes[-1].end].split()
    )
    amount = not reading.value and phrase.kind not in ("", "text", "word", "standard", "coating", "open")
    line = sentence.line
    own = line.item_of(sentence.first) if sentence.first else 0
    told = sense.sense(
        line,
        sentence.lexemes,
        line.item_of(first),
        line.item_of(last),
        amount=amount,
        own=own,
        subject=field.key,
        name=reading.value or (lexemes[-1].key if phrase.kind == "text" else ""),
    )
    if told.relation == "replaced" or asides.put_aside(sentence, reading, first, last):
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
        verb = verbs.verb(line, line.item_of(first), line.item_of(last)) or asides.verb_behind(sentence)
    if head.kind in _LEFT_OPEN and len(lexemes) == 1:
        if reading.flags:
            return None
        flags.append(_left_to(head.kind, field.key, written))
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
    if phrase.slot is None and not reading.value and field.kind in values.AMOUNTS:
        flags.append("no value")
        return Found(sentence, reading, first, last, (), written, relation, tuple(flags), verb=verb)
    if not _LEFT_TO_OTHERS.isdisjoint(reading.flags):
        return Found(sentence, reading, first, last, (), written, relation, tuple(flags), verb=verb)
    if written.endswith(".") and asides.WHOLE_WORD.search(written):
        written = written[:-1]
    named = phrase.slot.allowed if phrase.slot and phrase.kind == "text" else ()
    if field.kind == "stress" and head.kind == "number":
        lexemes = (_customary_grade(sentence.lexemes, last),)
    typed = values.typed(field, sentence.text, lexemes, reading.value, named)
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


_MPA_TO_KSI = 6.895


def _customary_grade(lexemes: Sequence[Lexeme], at: int) -> Lexeme:
    """A grade's number by its customary name, where that follows: 50 of "Grade 340 (50)", "Grade 340 50"."""
    behind = next((one for one in lexemes[at + 1 : at + 3] if one.key not in ("(", "[")), None)
    if behind is None or behind.kind != "number":
        return lexemes[at]
    mine, again = float(lexemes[at].key), float(behind.key)
    return behind if again and abs(mine / _MPA_TO_KSI / again - 1) < _SAME_GRADE else lexemes[at]


_SAME_GRADE = 0.05


def _left_to(kind: str, subject: str, written: str) -> str:
    """The flag of words that leave a value open: pressures left to an engineer are delegated."""
    if kind == "none" and subject == "uplift.pressure" and "engineer" in written.casefold():
        return "delegated design"
    return _LEFT_OPEN[kind]


def _ends(item: Found) -> list[Found]:
    """A range as its two bounds."""
    if item.relation != "between":
        return [item]
    low, high = item.values
    return [
        replace(item, relation="at least", values=(low,)),
        replace(item, relation="at most", values=(high,)),
    ]


def _scopes(found: Sequence[Found], sentence: Sentence, *, share: bool) -> list[Found]:
    """Each value with the roof and the alternate that it is for; once for each, where it is for several."""
    lexemes = sentence.lexemes
    places = [(lexemes[item.first].start, lexemes[item.last].end) for item in found]
    start, end = lexemes[min(sentence.first, len(lexemes) - 1)].start, lexemes[-1].end
    above = [head.text for head in sentence.headings[1:]]
    for titles, mark in sentence.section.marks.lines:
        if sentence.clause.headings[: len(titles)] == titles:
            above.insert(sum(map(bool, titles)), mark)
    if sentence.start:
        above.append(opening(sentence.text, start, sentence.section.marks))
    given = scopes_of(sentence.text, start, end, places, above, sentence.section.marks, share=share)
    out: list[Found] = []
    for item, each in zip(found, given, strict=True):
        for scope in each:
            if sentence.roof and not scope.roof:
                scope = replace(scope, roof=sentence.roof)
            out.append(_scoped(item, scope))
    return out


def _scoped(item: Found, scope: Scope) -> Found:
    flags = item.flags
    if scope.bid.startswith("Alternate") and "alternate" not in flags:
        flags = (*flags, "alternate")
    return replace(item, scope=scope, flags=flags)
