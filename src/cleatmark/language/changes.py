"""Small changes of conditions and values, one at a time, each told in the author's words."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from datetime import timedelta
from fractions import Fraction
from typing import NamedTuple, TypeVar

from msgspec.structs import replace

from cleatmark.fields import Field
from cleatmark.language import phrase
from cleatmark.language import tree as t
from cleatmark.language.compile import Context, inner_context
from cleatmark.language.layers import day
from cleatmark.language.names import Name, Names

N = TypeVar("N")

BOUNDS = {
    "at least": "more than",
    "more than": "at least",
    "at most": "less than",
    "less than": "at most",
    "before": "on or before",
    "on or before": "before",
    "after": "on or after",
    "on or after": "after",
}
QUANTIFIERS = ("every", "some", "no")
OPPOSITE = {"+": "-", "-": "+", "*": "/", "/": "*"}


class Change(NamedTuple):
    """A change of a part: what it does, in the author's words, where, and the part after it."""

    what: str
    pos: t.Pos
    after: t.Condition


class Moved(NamedTuple):
    """A change of a value."""

    what: str
    pos: t.Pos
    after: t.Operand


class Changes:
    """The changes of conditions and values, given what their names mean."""

    def __init__(self, names: Names, kinds: Mapping[str, tuple[str, ...]]) -> None:
        self.names = names
        self.kinds = kinds

    # conditions

    def condition(self, node: t.Condition, context: Context) -> Iterator[Change]:
        """Every change of a condition, its parts included."""
        if isinstance(node, t.And | t.Or):
            yield from self.joined(node, context)
        elif isinstance(node, t.Not):
            yield Change(f"`not` left out before `{phrase.condition(node.part)}`", node.pos, node.part)
            for change in self.condition(node.part, context):
                yield change._replace(after=replace(node, part=change.after))
        elif isinstance(node, t.Compare):
            yield from self.compare(node, context)
        elif isinstance(node, t.OneOf):
            yield _turned(node)
            if len(node.options) > 1:
                for number, option in enumerate(node.options):
                    after = replace(node, options=without(node.options, number))
                    yield Change(f"{phrase.operand(option)} left out of the choices", option.pos, after)
        elif isinstance(node, t.IsStated):
            yield _turned(node)
        elif isinstance(node, t.Covers):
            if node.in_zone:
                yield Change("`in zone` left out", node.pos, replace(node, in_zone=False))
        else:
            yield from self.quantified(node, context)

    def joined(self, node: t.And | t.Or, context: Context) -> Iterator[Change]:
        for number, part in enumerate(node.parts):
            rest = without(node.parts, number)
            after = rest[0] if len(rest) == 1 else replace(node, parts=rest)
            yield Change(f"`{phrase.condition(part)}` left out", part.pos, after)
            for change in self.condition(part, context):
                parts = replaced(node.parts, number, change.after)
                yield change._replace(after=replace(node, parts=parts))

    def compare(self, node: t.Compare, context: Context) -> Iterator[Change]:
        text = phrase.condition(node)
        yield _turned(node)
        if node.op in BOUNDS:
            after = replace(node, op=BOUNDS[node.op])
            yield Change(f"`{text}` read as `{BOUNDS[node.op]}`", node.pos, after)
        if node.op in ("at least", "at most"):
            yield Change(f"`{text}` read as `is`", node.pos, replace(node, op="is"))
        field = self.field(node.left, context) or self.field(node.right, context)
        if node.op in BOUNDS or node.op not in phrase.PLAIN:
            for moved in self.operand(node.right, field):
                yield Change(moved.what, moved.pos, replace(node, right=moved.after))
            for moved in self.operand(node.left, field):
                yield Change(moved.what, moved.pos, replace(node, left=moved.after))

    def quantified(self, node: t.Quantified, context: Context) -> Iterator[Change]:
        inner = inner_context(node.over, self.kinds, context)
        for word in QUANTIFIERS:
            if word != node.quantifier:
                what = f"`{node.quantifier} {node.over}` read as `{word} {node.over}`"
                yield Change(what, node.pos, replace(node, quantifier=word))
        if node.over in self.kinds:
            what = f"`{node.quantifier} {node.over}` read as `{node.quantifier} document`"
            yield Change(what, node.pos, replace(node, over="document"))
        if node.where is not None:
            yield Change(
                f"`where ( {phrase.condition(node.where)} )` left out",
                node.where.pos,
                replace(node, where=None),
            )
            for change in self.condition(node.where, inner):
                yield change._replace(after=replace(node, where=change.after))
        for change in self.condition(node.has, inner):
            yield change._replace(after=replace(node, has=change.after))

    # values

    def field(self, node: t.Operand, context: Context) -> Field | None:
        name = self.names.resolve(node.name, context) if isinstance(node, t.Path) else None
        return name.field if isinstance(name, Name) else None

    def operand(self, node: t.Operand, field: Field | None = None) -> Iterator[Moved]:
        """Every change of a value, its parts included."""
        if isinstance(node, t.Literal):
            for text in steps(node, field):
                yield Moved(f"{node.text} read as {text}", node.pos, replace(node, text=text))
        elif isinstance(node, t.Arithmetic):
            op = OPPOSITE[node.op]
            yield Moved(f"`{phrase.operand(node)}` read with `{op}`", node.pos, replace(node, op=op))
            for moved in self.operand(node.left, field):
                yield moved._replace(after=replace(node, left=moved.after))
            for moved in self.operand(node.right, field):
                yield moved._replace(after=replace(node, right=moved.after))
        elif isinstance(node, t.Choose):
            yield from self.choose(node, field)

    def choose(self, node: t.Choose, field: Field | None) -> Iterator[Moved]:
        text = phrase.operand(node)
        if node.how == "first":
            for number in range(len(node.operands) - 1):
                swapped = list(node.operands)
                swapped[number], swapped[number + 1] = swapped[number + 1], swapped[number]
                what = f"in `{text}` {phrase.operand(swapped[number])} put first"
                yield Moved(what, swapped[number].pos, replace(node, operands=tuple(swapped)))
        else:
            other = {"largest": "smallest", "smallest": "largest"}[node.how]
            yield Moved(f"`{text}` read as `{other}`", node.pos, replace(node, how=other))
        if len(node.operands) > 1:
            for number, item in enumerate(node.operands):
                after = replace(node, operands=without(node.operands, number))
                yield Moved(f"{phrase.operand(item)} left out of `{text}`", item.pos, after)
        for number, item in enumerate(node.operands):
            for moved in self.operand(item, field):
                yield moved._replace(
                    after=replace(node, operands=replaced(node.operands, number, moved.after))
                )


def steps(node: t.Literal, field: Field | None) -> tuple[str, ...]:
    """A limit one step up and one step down: the next of a field's choices, a rating of 15 psf, one of the last
    decimal written, or the day before and after."""
    if node.form == "date":
        on = day(node.text)
        return tuple((on + timedelta(days=by)).isoformat() for by in (1, -1))
    if node.form != "quantity":
        return ()
    return moved(node.text, field)


def moved(text: str, field: Field | None) -> tuple[str, ...]:
    """An amount as written, one step up and one step down."""
    number, _, unit = text.partition(" ")
    if field is not None and field.kind not in ("text", "choice") and text in field.choices:
        at = field.choices.index(text)
        return (*field.choices[at + 1 : at + 2], *field.choices[max(at - 1, 0) : at])
    if field is not None and field.kind == "rating":
        head, _, tail = text.rpartition("-")
        return tuple(f"{head}-{int(tail) + by}" for by in (15, -15)) if tail.isdigit() else ()
    rise, colon, run = number.partition(":")
    steps = (step for by in (1, -1) if (step := _moved(rise, by)))
    return tuple(f"{step}{colon}{run} {unit}".rstrip() for step in steps)


def _moved(number: str, by: int) -> str:
    """A number as written, moved by one of its last decimal; "" where it is not a plain number."""
    plain = number.replace(",", "")
    if not plain.lstrip("-").replace(".", "", 1).isdigit():
        return ""
    places = len(plain.partition(".")[2])
    return f"{float(Fraction(plain) + Fraction(by, 10**places)):.{places}f}"


def _turned(node: t.Compare | t.OneOf | t.IsStated) -> Change:
    return Change(f"`{phrase.condition(node)}` turned round", node.pos, t.Not(part=node, pos=node.pos))


def without(items: tuple[N, ...], number: int) -> tuple[N, ...]:
    return (*items[:number], *items[number + 1 :])


def replaced(items: tuple[N, ...], number: int, item: N) -> tuple[N, ...]:
    return (*items[:number], item, *items[number + 1 :])
