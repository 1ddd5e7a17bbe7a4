"""Field and kind declarations: kinds and units there are, words that fit, an example that is a value."""

from __future__ import annotations

from cleatmark.language import tree as t
from cleatmark.language.amounts import amount
from cleatmark.language.check_values import date
from cleatmark.language.check_words import ASK
from cleatmark.language.checking import Desk, a
from cleatmark.language.compare import fold
from cleatmark.problems import did_you_mean
from cleatmark.units import KINDS, QuantityError, unit_name

FIELD_KINDS = (*KINDS, "text", "choice", "list", "date", "yes/no")


def field(desk: Desk, node: t.FieldStatement) -> None:
    """One field declaration."""
    if node.kind not in FIELD_KINDS:
        at = desk.find(f" {node.kind}", t.Pos(node.pos.line, node.pos.column + len(node.id)))
        at = t.Pos(at.line, at.column + 1, len(node.kind))
        desk.one_of(at, node.kind, FIELD_KINDS, f'no kind of field is called "{node.kind}"')
        return
    if node.kind in ("choice", "list") and not node.choices and not node.open:
        desk.tell(
            node, "a choice lists its words", f'for example: field {node.id} "..." choice: "open", "taped"'
        )
    _unit(desk, node)
    _group(desk, node)
    if node.less and node.kind not in KINDS:
        at = node.places.get("words", node.pos)
        desk.tell(at, f"{a(node.kind)} has no lesser and greater; `words` belong to amounts")
    elif node.less and node.less == node.more:
        desk.tell(
            node.places.get("words", node.pos), f'"{node.less}" cannot be both the lesser and the greater'
        )
    if node.ask:
        desk.one_of(node.places.get("ask", node.pos), node.ask, ASK, f'nobody to ask is called "{node.ask}"')
    if node.example:
        _example(desk, node)


def _unit(desk: Desk, node: t.FieldStatement) -> None:
    if not node.unit:
        return
    at = desk.find(f"in {node.unit}", node.pos)
    at = t.Pos(at.line, at.column + 3, len(node.unit))
    unit = unit_name(node.unit)
    if unit is None:
        help_ = did_you_mean(node.unit, ("inches", "feet", "psf", "ksi", "mph", "sq ft", "years"))
        desk.tell(at, f'"{node.unit}" is no unit', *help_)
    elif node.kind in KINDS:
        try:
            amount(f"1 {node.unit}", node.kind)
        except QuantityError:
            desk.tell(
                at, f"{node.unit} is no unit of {a(node.kind)}", f"for example: {KINDS[node.kind].example}"
            )
    else:
        desk.tell(at, f"{a(node.kind)} has no unit")


def _group(desk: Desk, node: t.FieldStatement) -> None:
    """Names are leaves: `deck.type`, never `deck` beside it."""
    under = desk.groups.get(node.id)
    if under:
        help_ = f"name what of it is meant, such as {node.id}.type"
        desk.tell(node, f"`{node.id}` is a group already: it holds {under}", help_)


def _example(desk: Desk, node: t.FieldStatement) -> None:
    at = node.places.get("example", node.pos)
    if node.example == "none" and node.none:
        return
    if node.kind in KINDS:
        try:
            amount(node.example, node.kind)
        except QuantityError as error:
            desk.tell(at, f"the example is no value of the field: {error}")
    elif node.kind == "date":
        date(desk, at, node.example)
    elif node.kind == "yes/no" and node.example not in ("yes", "no"):
        desk.tell(at, "the example is no value of the field: write yes or no")
    elif (
        node.choices and not node.open and fold(node.example) not in {fold(choice) for choice in node.choices}
    ):
        help_ = did_you_mean(node.example, node.choices)
        desk.tell(at, f'the example "{node.example}" is not among the words of the field', *help_)


def kind(desk: Desk, node: t.KindStatement) -> None:
    """What a requirement may ask to be shown by: words of document.kind."""
    declared = desk.book.by_path.get("document.kind")
    if declared is None or not declared.choices or declared.open:
        return
    for word in node.names:
        at = desk.find(f'"{word}"', node.pos)
        message = f'"{word}" is not among the words of document.kind'
        desk.one_of(at, word, declared.choices, message)
