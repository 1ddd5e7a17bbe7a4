"""Conditions: what is compared with what, directions, quantifiers, `stated`, `covers`, `be shown by`."""

from __future__ import annotations

from cleatmark.fields import Field
from cleatmark.language import tree as t
from cleatmark.language.check_values import TEXT_KINDS, named, operand
from cleatmark.language.checking import Context, Desk, a
from cleatmark.language.compile import inner_context
from cleatmark.language.names import Name
from cleatmark.language.program import RUN_CONTEXT
from cleatmark.problems import did_you_mean
from cleatmark.units import KINDS, comparable

EQUALITY = ("is", "is not")
AMOUNTS = ("at least", "at most", "more than", "less than")
DATES = ("before", "after", "on or before", "on or after")
THINGS = ("zone", "run", "document", "condition", "clause")


def condition(desk: Desk, node: t.Condition, context: Context) -> None:
    """Checks a condition and all within it."""
    if isinstance(node, t.And | t.Or):
        for part in node.parts:
            condition(desk, part, context)
    elif isinstance(node, t.Not):
        condition(desk, node.part, context)
    elif isinstance(node, t.Compare):
        compare(desk, node, context)
    elif isinstance(node, t.OneOf):
        operand(desk, node.left, context)
        for option in node.options:
            operand(desk, option, context, node.left)
    elif isinstance(node, t.IsStated):
        stated(desk, node, context)
    elif isinstance(node, t.Covers):
        covers(desk, node, context)
    else:
        quantified(desk, node, context)


def compare(desk: Desk, node: t.Compare, context: Context) -> None:
    """One comparison: both sides, and whether the words between fit them."""
    left_literal = isinstance(node.left, t.Literal)
    left = operand(desk, node.left, context, node.right if left_literal else None)
    right = operand(desk, node.right, context, node.left)
    if left_literal and isinstance(node.right, t.Literal):
        desk.tell(node, "two fixed values are compared: the outcome is always the same")
        return
    if node.op == "meets":
        meets(desk, node, context)
    elif node.op in AMOUNTS or node.op in DATES:
        ordered(desk, node, left or right)
    elif node.op == "includes" or node.op == "mentions":
        if left in KINDS or left in ("date", "yes/no"):
            desk.tell(node, f"`{node.op}` looks into text; {named(node.left)} is {a(left)}")
            return
    elif node.op not in EQUALITY:
        direction(desk, node, field_of(desk, node.left, context))
    both = not isinstance(node.left, t.Literal) and not isinstance(node.right, t.Literal)
    if both and left and right and not alike(left, right, node.op):
        message = f"{a(left)} is compared with {a(right)}"
        desk.tell(node, message, f"{named(node.left)} is {a(left)}, {named(node.right)} is {a(right)}")


def ordered(desk: Desk, node: t.Compare, kind: str) -> None:
    """`at least` and its kin put amounts in order, `before` and its kin put days in order."""
    if node.op in AMOUNTS and kind in (*TEXT_KINDS, "yes/no"):
        help_ = "text is compared by `is`, `is one of`, `includes` or `mentions`"
        desk.tell(node, f"`{node.op}` compares amounts; {named(node.left)} is {a(kind)}", help_)
    elif node.op in AMOUNTS and kind == "date":
        word = "on or after" if node.op == "at least" else "on or before" if node.op == "at most" else "after"
        desk.tell(node, f"`{node.op}` compares amounts; {named(node.left)} is a date", f"write: {word}")
    elif node.op in DATES and kind and kind != "date":
        desk.tell(node, f"`{node.op}` compares days; {named(node.left)} is {a(kind)}")


def meets(desk: Desk, node: t.Compare, context: Context) -> None:
    """`meets` sets what is proposed or shown beside what the specification states of the same thing."""
    if not isinstance(node.right, t.Path) or not node.right.name.startswith("spec."):
        shown = named(node.left).split(".", 1)[-1]
        desk.tell(
            node.right, "`meets` compares with what the specification states", f"write: meets spec.{shown}"
        )
        return
    left, right = field_of(desk, node.left, context), field_of(desk, node.right, context)
    if left is None or right is None or left.block != "assembly" or right.block != "assembly":
        return
    if left.path != right.path:
        help_ = f"write: {named(node.left)} meets spec.{left.path}"
        desk.tell(node, f"{left.path} is set beside what is stated of {right.path}", help_)


def direction(desk: Desk, node: t.Compare, field: Field | None) -> None:
    """`narrower than` and its kin are the field's own words."""
    words = [word for word in (field.less, field.more) if word] if field else []
    if node.op in words:
        return
    title = field.path if field else named(node.left)
    takes = f"{title} takes: {', '.join(words)}" if words else f"{title} has no direction"
    pos = desk.find(node.op, node.pos)
    desk.tell(pos, f'"{node.op}" is no direction of {title}', *did_you_mean(node.op, words), takes)


def alike(left: str, right: str, op: str) -> bool:
    """Whether values of the two kinds can be compared by `op`."""
    if op in ("includes", "mentions"):
        return True
    if left in TEXT_KINDS and right in TEXT_KINDS:
        return True
    if left in KINDS and right in KINDS:
        return comparable(left, right) or comparable(right, left)
    return left == right


def field_of(desk: Desk, node: t.Operand, context: Context) -> Field | None:
    """The field that an operand names."""
    if isinstance(node, t.Path):
        name = desk.names.resolve(node.name, context)
        if isinstance(name, Name):
            return name.field
    return None


def stated(desk: Desk, node: t.IsStated, context: Context) -> None:
    """`is stated` stands behind a name; `is known` only behind what is specified or the job's."""
    if not isinstance(node.operand, t.Path):
        desk.tell(
            node,
            f"`is {node.word}` stands behind the name of a fact",
            "for example: spec.uplift.class is stated",
        )
        return
    name = desk.resolve(node.operand, node.operand.name, context)
    if name is None or node.word != "known" or name.scope in ("spec", "job"):
        return
    desk.tell(
        node,
        f"`{node.operand.name} is known` would let absence pass as a verdict",
        "leave it out: where the fact is missing the verdict is `not shown` by itself",
    )


def covers(desk: Desk, node: t.Covers, context: Context) -> None:
    """`it covers proposed` speaks of a run or document; `in zone` of a zone."""
    if "run" not in context and "document" not in context:
        desk.tell(
            node,
            "`it covers proposed` needs a report, run or document to speak of",
            "for example: shall be shown by a report where ( it covers proposed )",
        )
    elif node.in_zone and "zone" not in context:
        desk.tell(
            node,
            "`in zone` needs a zone to speak of",
            "for example: shall every zone be shown by a run where ( it covers proposed in zone )",
        )


def quantified(desk: Desk, node: t.Quantified, context: Context) -> None:
    """`every`, `some` and `no` over things there are."""
    known = (*THINGS, *desk.kinds)
    if node.over not in known:
        if desk.blameless(node.over):
            return
        singular = node.over.removesuffix("s")
        near = (f'did you mean "{singular}"?',) if singular in known else did_you_mean(node.over, known)
        desk.tell(
            desk.find(node.over, node.pos),
            f"`{node.quantifier} {node.over}`: a rule cannot speak of that",
            *near,
            "it speaks of: " + ", ".join(known),
        )
        return
    inner = inner_context(node.over, desk.kinds, context)
    for part in (node.where, node.has):
        if part is not None:
            condition(desk, part, inner)


def shown(desk: Desk, node: t.ShownBy) -> None:
    """`be shown by a KIND where ( ... ) having ( ... )`."""
    if node.spoken:
        help_ = ("write: every zone be shown by ...", "or leave it out: shall be shown by ...")
        desk.tell(node, f"`{node.spoken} be shown by`: only `every zone` can stand there", *help_)
    known = (*desk.kinds, "run", "document")
    pos = desk.find(node.kind, node.pos)
    desk.one_of(pos, node.kind, known, f'no kind of document is called "{node.kind}"')
    context = (*RUN_CONTEXT, "zone") if node.every_zone else RUN_CONTEXT
    for part in (node.where, node.having):
        if part is not None:
            condition(desk, part, context)
    if node.zone_where is not None:
        condition(desk, node.zone_where, ("zone",))
