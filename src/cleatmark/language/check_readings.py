"""Readings: phrases that are phrases, values that fit the subject, words of short lists."""

from __future__ import annotations

import re

from cleatmark.fields import Field
from cleatmark.language import phrases
from cleatmark.language import tree as t
from cleatmark.language.check_values import TEXT_KINDS, misspelt
from cleatmark.language.check_words import ASK, sources
from cleatmark.language.checking import Desk, a, listed
from cleatmark.language.names import Name
from cleatmark.units import KINDS, QuantityError, parse

NO_VALUE = ("required", "prohibited")


def reading(desk: Desk, node: t.ReadingStatement) -> None:
    """One reading."""
    whole = desk.whole(node)
    if not node.patterns and whole:
        desk.tell(node, "a reading says from which words", 'for example: from "class {number: 30, 60, 90}"')
    if not node.gives and not node.flags and whole:
        desk.tell(
            node,
            "a reading gives a subject or flags a clause",
            "for example: gives spec.uplift.class as at least",
        )
    field = _subject(desk, node)
    for written in node.patterns:
        at = desk.find(f'"{written}"', node.places.get("patterns", node.pos))
        for fault in phrases.faults(written):
            desk.tell(t.Pos(at.line, at.column + 1 + fault.at, fault.span), fault.message, *fault.help)
        if field is not None:
            _fits(desk, node, field, written, at)
    if field is not None and node.value and not node.flags:
        _fixed(desk, node, field)
    _like(desk, node, field)
    _words(desk, node)


def _like(desk: Desk, node: t.ReadingStatement, field: Field | None) -> None:
    """A reading of a field's value by another's: "clips at every purlin" is a clip spacing like the purlins'."""
    if not node.like:
        return
    at = node.places.get("like", node.pos)
    name = desk.names.resolve(f"proposed.{node.like}", ())
    if not isinstance(name, Name):
        near = name.near.removeprefix("proposed.") if name.near else ""
        desk.tell(at, f"no field is called {node.like}", *((f'did you mean "{near}"?',) if near else ()))
    elif field is not None and name.field is not None and name.field.kind != field.kind:
        desk.tell(at, f"{node.like} is {a(name.field.kind)}, and {field.path} is {a(field.kind)}")


def _subject(desk: Desk, node: t.ReadingStatement) -> Field | None:
    if not node.gives:
        return None
    at = node.places.get("gives", node.pos)
    name = desk.names.resolve(node.gives, ())
    if isinstance(name, Name) and name.scope == "spec":
        return name.field
    near = name.near if not isinstance(name, Name) else f"spec.{name.path.split('.', 1)[-1]}"
    help_ = (
        (f'did you mean "{near}"?',)
        if near and near.startswith("spec.")
        else ("a subject starts with spec.",)
    )
    desk.tell(at, f"`{node.gives}` is no subject of specifications", *help_)
    return None


def _fits(desk: Desk, node: t.ReadingStatement, field: Field, written: str, at: t.Pos) -> None:
    """Whether the value of a phrase is one of the subject's kind. A misuse is read as what it is."""
    found = [(kind, allowed, part) for kind, allowed, part in phrases.slots(written) if kind in phrases.SLOTS]
    values = [item for item in found if item[0] != "zone"]
    if "{" not in written and field.kind in KINDS and not node.value and node.relation not in NO_VALUE:
        slot = next((kind for kind, kinds in phrases.SLOTS.items() if field.kind in kinds), field.kind)
        desk.tell(
            at, f"the phrase gives no value, and {field.path} is {a(field.kind)}", f"put one in: {{{slot}}}"
        )
    if "misuse" in node.flags or node.value or field.kind in TEXT_KINDS:
        return
    for kind, allowed, part in values:
        place = t.Pos(at.line, at.column + 1 + part.at, len(part.text))
        kinds = phrases.SLOTS[kind]
        if field.kind not in kinds and "" not in kinds:
            fitting = [name for name, of in phrases.SLOTS.items() if field.kind in of]
            help_ = (f"it takes: {', '.join(f'{{{name}}}' for name in fitting)}",) if fitting else ()
            desk.tell(place, f"{{{kind}}} does not fit {node.gives}, which is {a(field.kind)}", *help_)
        elif field.choices and allowed and kind in ("number", "class"):
            given = [word.strip() for word in allowed.split(",")]
            missing = [word for word in given if word not in field.choices]
            if missing:
                known = ", ".join(field.choices)
                desk.tell(place, f"{node.gives} has no {field.kind} {missing[0]}", f"it is one of: {known}")


def _fixed(desk: Desk, node: t.ReadingStatement, field: Field) -> None:
    """`value "..."`: one of the field's words, or an amount of its kind."""
    at = node.places.get("value", node.pos)
    if "{" in node.value:
        return
    for word in node.value.split(" or "):
        if field.kind in KINDS:
            try:
                parse(word, field.kind)
            except QuantityError as error:
                desk.tell(at, f"{error}")
        elif field.choices and not field.open and field.kind in ("choice", "list"):
            near = misspelt(word, field.choices)
            if near:
                help_ = (f'did you mean "{near}"?', f"its words are: {listed(field.choices)}")
                desk.tell(at, f'"{word}" is not among the words of {field.path}', *help_)


def _words(desk: Desk, node: t.ReadingStatement) -> None:
    for name, found in (("kinds", node.kinds), ("not_in", node.not_in)):
        for word in found:
            at = desk.find(word, node.places.get(name, node.pos))
            desk.one_of(at, word, phrases.ARTICLES, f'no kind of article is called "{word}"')
    both = sorted(set(node.kinds) & set(node.not_in))
    if both:
        desk.tell(node, f"the reading is to apply in {both[0]} and not in {both[0]}", "keep one of the two")
    for word in node.flags:
        at = desk.find(word, node.places.get("flags", node.pos))
        desk.one_of(at, word, phrases.FLAGS, f'no flag is called "{word}"')
    if node.ask is not None:
        desk.one_of(node.ask, node.ask.to, ASK, f'nobody to ask is called "{node.ask.to}"')
        given = {kind for written in node.patterns for kind, _, _ in phrases.slots(written)}
        for match in re.finditer(r"\{([^{}]*)\}", node.ask.question):
            if match[1] not in (*given, "value"):
                at = desk.find(match.group(), node.ask.pos)
                desk.tell(
                    at, f"the question names {match.group()}, which the phrases do not give", "write {value}"
                )
    sources(desk, node.sources)
