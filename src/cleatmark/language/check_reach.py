"""Conditions that can never be met, or always are: what they compare leaves nothing open."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from datetime import date
from fractions import Fraction
from typing import NamedTuple

from msgspec.structs import replace

from cleatmark.fields import Field
from cleatmark.language import phrase
from cleatmark.language import tree as t
from cleatmark.language.check_conditions import field_of
from cleatmark.language.check_values import TEXT_KINDS
from cleatmark.language.checking import Context, Desk
from cleatmark.language.compare import fold
from cleatmark.language.compile import inner_context
from cleatmark.language.values import literal_value
from cleatmark.units import Quantity, QuantityError

OPPOSITE = {
    "is": "is not",
    "is not": "is",
    "at least": "less than",
    "less than": "at least",
    "at most": "more than",
    "more than": "at most",
    "before": "on or after",
    "on or after": "before",
    "after": "on or before",
    "on or before": "after",
}
LOWER = {"at least": True, "more than": False, "on or after": True, "after": False}
UPPER = {"at most": True, "less than": False, "on or before": True, "before": False}

Amount = Fraction | date


class Says(NamedTuple):
    """One comparison as a statement about a fact.

    words   the values it may have, folded; None where it says nothing of words
    not_    the values it may not have
    low     the least amount and whether that is within
    high    the greatest
    stated  whether it is to be stated at all; None where it does not say
    """

    node: t.Condition
    words: frozenset[str] | None = None
    not_: frozenset[str] = frozenset()
    low: tuple[Amount, bool] | None = None
    high: tuple[Amount, bool] | None = None
    stated: bool | None = None


def reach(desk: Desk, node: t.Condition, context: Context) -> None:
    """Tells parts of a condition that exclude each other, say the same twice, or are always met."""
    if isinstance(node, t.Not):
        reach(desk, node.part, context)
    elif isinstance(node, t.Quantified):
        inner = inner_context(node.over, desk.kinds, context)
        together(desk, [part for part in (node.where, node.has) if part is not None], inner)
        for part in (node.where, node.has):
            if part is not None:
                reach(desk, part, inner)
    elif isinstance(node, t.And):
        together(desk, node.parts, context)
        for part in node.parts:
            reach(desk, part, context)
    elif isinstance(node, t.Or):
        either(desk, node.parts, context)
        for part in node.parts:
            reach(desk, part, context)
    else:
        alone(desk, node, context)


def together(desk: Desk, parts: Sequence[t.Condition], context: Context) -> None:
    """Of conditions that are to hold at once, two that exclude each other or are the same."""
    flat = list(_flat(parts, t.And))
    if _repeated(desk, flat):
        return
    said: dict[str, list[Says]] = {}
    for part in flat:
        for key, says in says_of(desk, part, context):
            for earlier in said.get(key, []):
                if excludes(earlier, says):
                    desk.tell(
                        says.node,
                        "this can never be met: the two conditions exclude each other",
                        f"line {earlier.node.pos.line}: {phrase.condition(earlier.node)}",
                        f"line {says.node.pos.line}: {phrase.condition(says.node)}",
                    )
                    return
            said.setdefault(key, []).append(says)


def either(desk: Desk, parts: Sequence[t.Condition], context: Context) -> None:
    """Of conditions of which one is enough, two of which one always holds, or the same twice."""
    flat = list(_flat(parts, t.Or))
    if _repeated(desk, flat):
        return
    said: dict[str, list[Says]] = {}
    for part in flat:
        for key, says in says_of(desk, negated(part), context):
            for earlier in said.get(key, []):
                if excludes(earlier, says):
                    desk.tell(
                        part,
                        "this is always met, whatever the value: one of the two always holds",
                        f"line {earlier.node.pos.line}: {phrase.condition(negated(earlier.node))}",
                        f"line {part.pos.line}: {phrase.condition(part)}",
                    )
                    return
            said.setdefault(key, []).append(says)


def alone(desk: Desk, node: t.Condition, context: Context) -> None:
    """A single comparison that the field's own words decide."""
    if (
        isinstance(node, t.Compare)
        and isinstance(node.left, t.Path)
        and node.left == replace(node.right, pos=node.left.pos)
    ):
        desk.tell(node, f"{node.left.name} is compared with itself")
        return
    field = field_of(desk, node.left, context) if isinstance(node, t.Compare | t.OneOf) else None
    if field is None or field.open or field.none or not field.choices:
        return
    if isinstance(node, t.OneOf):
        named = {fold(option.text) for option in node.options if isinstance(option, t.Literal)}
        if {fold(choice) for choice in field.choices} <= named:
            often = "never" if node.negated else "always"
            desk.tell(node, f"this is {often} met: every word of {field.path} is named")
    elif isinstance(node, t.Compare) and isinstance(node.right, t.Literal):
        amounts = [
            _amount(t.Literal(text=c, form="quantity", pos=node.pos), field.kind) for c in field.choices
        ]
        limit = _amount(node.right, field.kind)
        known = [amount for amount in amounts if isinstance(amount, Fraction)]
        open_ = any(_holds(node.op, one, limit) for one in known) if isinstance(limit, Fraction) else True
        if limit in known and not open_ and node.op not in ("is", "is not"):
            most = field.choices[known.index(max(known))]
            least = field.choices[known.index(min(known))]
            desk.tell(node, f"this can never be met: {field.path} goes from {least} to {most}")


def says_of(desk: Desk, node: t.Condition, context: Context) -> Iterable[tuple[str, Says]]:
    """What a comparison says of the fact on its left, with the fact's name as key."""
    if isinstance(node, t.Not):
        inner = negated(node.part)
        if not isinstance(inner, t.Not):
            yield from says_of(desk, inner, context)
        return
    if isinstance(node, t.IsStated):
        if isinstance(node.operand, t.Path):
            yield node.operand.name, Says(node, stated=not node.negated)
        return
    if not isinstance(node, t.Compare | t.OneOf):
        return
    key, kind = phrase.operand(node.left), desk.names.kind_of(node.left, context)
    if isinstance(node, t.OneOf):
        if kind in ("text", "choice", "yes/no") and all(isinstance(o, t.Literal) for o in node.options):
            words = frozenset(fold(o.text) for o in node.options if isinstance(o, t.Literal))
            yield key, Says(node, not_=words) if node.negated else Says(node, words=words)
        return
    if not isinstance(node.right, t.Literal):
        return
    if kind in ("choice", "text", "yes/no") and node.right.form != "quantity":
        word = frozenset([fold(node.right.text)])
        if node.op == "is":
            yield key, Says(node, words=word)
        elif node.op == "is not":
            yield key, Says(node, not_=word)
        return
    op = _plain(node.op, field_of(desk, node.left, context))
    amount = _amount(node.right, kind)
    if amount is None or kind in (*TEXT_KINDS, "gauge"):
        return
    if op == "is":
        yield key, Says(node, low=(amount, True), high=(amount, True))
    elif op in LOWER:
        yield key, Says(node, low=(amount, LOWER[op]))
    elif op in UPPER:
        yield key, Says(node, high=(amount, UPPER[op]))


def excludes(one: Says, other: Says) -> bool:
    """Whether no value fits both."""
    if one.stated is not None and other.stated is not None:
        return one.stated is not other.stated
    for a, b in ((one, other), (other, one)):
        if a.words is not None:
            if b.words is not None and not a.words & b.words:
                return True
            if a.words <= b.not_:
                return True
        if a.low is not None and b.high is not None and _above(a.low, b.high):
            return True
    return False


def negated(node: t.Condition) -> t.Condition:
    """The opposite of a comparison, as a comparison where there is one."""
    if isinstance(node, t.Not):
        return node.part
    if isinstance(node, t.Compare) and node.op in OPPOSITE:
        return replace(node, op=OPPOSITE[node.op])
    if isinstance(node, t.OneOf | t.IsStated):
        return replace(node, negated=not node.negated)
    return t.Not(part=node, pos=node.pos)


def _above(low: tuple[Amount, bool], high: tuple[Amount, bool]) -> bool:
    a, b = low[0], high[0]
    if isinstance(a, Fraction) and isinstance(b, Fraction):
        return a > b or (a == b and not (low[1] and high[1]))
    if isinstance(a, date) and isinstance(b, date):
        return a > b or (a == b and not (low[1] and high[1]))
    return False


def _holds(op: str, one: Fraction, limit: Fraction) -> bool:
    return {
        "is": one == limit,
        "is not": one != limit,
        "at least": one >= limit,
        "at most": one <= limit,
        "more than": one > limit,
        "less than": one < limit,
    }.get(op, True)


def _plain(op: str, field: Field | None) -> str:
    """A field's direction word as `less than` or `more than`."""
    if field is not None and op == field.less:
        return "less than"
    return "more than" if field is not None and op == field.more else op


def _amount(node: t.Literal, kind: str) -> Amount | None:
    """A literal's amount in its kind's base unit, or its day. None for sheets and levels, which depend on more."""
    try:
        value = literal_value(node, kind)
    except (QuantityError, ValueError):
        return None
    if isinstance(value, Quantity):
        return None if value.kind == "gauge" or value.level or value.basis else value.value
    return value if isinstance(value, date) else None


def _flat(parts: Iterable[t.Condition], form: type[t.And] | type[t.Or]) -> Iterable[t.Condition]:
    for part in parts:
        if isinstance(part, form):
            yield from _flat(part.parts, form)
        else:
            yield part


def _repeated(desk: Desk, parts: Sequence[t.Condition]) -> bool:
    seen: dict[str, t.Condition] = {}
    for part in parts:
        words = phrase.condition(part)
        if words in seen:
            desk.tell(
                part, f"the same condition stands twice: {words}", f"first in line {seen[words].pos.line}"
            )
            return True
        seen[words] = part
    return False
