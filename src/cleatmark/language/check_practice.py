"""What is usual for a field: values that the field can have."""

from __future__ import annotations

from cleatmark.fields import Field
from cleatmark.language import tree as t
from cleatmark.language.check_values import Expected, parses, text
from cleatmark.language.checking import Desk
from cleatmark.units import KINDS


def usual(desk: Desk, clauses: t.Clauses, field: Field) -> None:
    """The words behind `usual`: values of the field, an amount also with a direction ("24 in or farther")."""
    for word in clauses.usual or ():
        amount, _, direction = word.partition(" or ")
        at = desk.find(f'"{word}"', clauses.places["usual"])
        if field.kind in KINDS:
            if direction and direction not in (field.less, field.more):
                takes = f"{field.path} takes: {field.less}, {field.more}" if field.less else ""
                desk.tell(at, f'"{direction}" is no direction of {field.path}', *([takes] if takes else []))
            elif not parses(amount, field.kind) and not (field.none and word == "none"):
                desk.tell(at, f'"{amount}" is no value of {field.path}', f"for example: {field.example}")
        elif field.choices and not field.open and not (field.none and word == "none"):
            text(desk, t.Literal(text=word, form="text", pos=at), Expected(field.kind, field))
