"""Statements with one small change of meaning: a rule is proven only if some case notices each of them."""

from __future__ import annotations

from collections.abc import Iterator
from typing import NamedTuple

from msgspec.structs import replace

from cleatmark.language import phrase
from cleatmark.language import tree as t
from cleatmark.language.changes import Changes, moved, replaced, steps, without
from cleatmark.language.compile import Context
from cleatmark.language.layers import Amendable
from cleatmark.language.names import context_of
from cleatmark.language.program import RUN_CONTEXT, shown_of_approval


class Mutant(NamedTuple):
    """A statement with one change of meaning."""

    what: str
    pos: t.Pos
    statement: t.AnyStatement


NOTHING = ("nothing",)
"""What a substitution allows whose only direction was left out."""


def rule(node: t.Requirement | t.Approval, only: t.Clauses, changes: Changes) -> Iterator[Mutant]:
    """Changes of what is required. `only` are the clauses that the rulebook itself states: all of a rule of its
    own, some of a rule that it amends."""
    shall = shown_of_approval(node) if isinstance(node, t.Approval) else node.clauses.shall
    if shall is None or (only is not node.clauses and only.shall is None):
        return
    if isinstance(shall, t.ShownBy):
        for what, pos, after in shown(shall, changes):
            yield Mutant(what, pos, _requiring(node, after))
    else:
        for change in changes.condition(shall, ()):
            yield Mutant(change.what, change.pos, _requiring(node, change.after))


def shown(node: t.ShownBy, changes: Changes) -> Iterator[tuple[str, t.Pos, t.ShownBy]]:
    """Changes of `be shown by`."""
    context: Context = (*RUN_CONTEXT, "zone") if node.every_zone else RUN_CONTEXT
    if node.kind in changes.kinds:
        yield f"`by a {node.kind}` read as `by a document`", node.pos, replace(node, kind="document")
    if node.every_zone:
        yield "`every zone` left out", node.pos, replace(node, every_zone=False, zone_where=None)
    parts: tuple[tuple[str, t.Condition | None, Context], ...] = (
        ("zone_where", node.zone_where, ("zone",)),
        ("where", node.where, context),
        ("having", node.having, context),
    )
    for name, part, inside in parts:
        if part is None:
            continue
        if not isinstance(part, t.And):
            what = f"`{name.removeprefix('zone_')} ( {phrase.condition(part)} )` left out"
            yield what, part.pos, replace(node, **{name: None})
        for change in changes.condition(part, inside):
            yield change.what, change.pos, replace(node, **{name: change.after})


def applies(node: Amendable, only: t.Clauses, changes: Changes, context: Context) -> Iterator[Mutant]:
    """Changes of `applies when`, and its absence."""
    found = node.clauses.applies
    if only.applies is None or found is None:
        return
    if not isinstance(node, t.AdviceStatement):
        yield Mutant(f"`when {phrase.condition(found)}` left out", found.pos, _applying(node, None))
    for change in changes.condition(found, context):
        yield Mutant(change.what, change.pos, _applying(node, change.after))


def substitution(node: t.Substitution, only: t.Clauses, changes: Changes) -> Iterator[Mutant]:
    """Directions left out, and directions allowed too."""
    field = changes.names.book.block("assembly").get(node.field)
    allows = node.clauses.allows or ()
    if only.allows is None or field is None:
        return
    for number, word in enumerate(allows):
        after = replace(node.clauses, allows=without(allows, number) or NOTHING)
        yield Mutant(f"`{word}` left out of `allows`", node.pos, replace(node, clauses=after))
    for word in (field.less, field.more):
        if word and word not in allows:
            after = replace(node.clauses, allows=(*allows, word))
            yield Mutant(f"`{word}` allowed too", node.pos, replace(node, clauses=after))


def practice(node: t.Practice, only: t.Clauses) -> Iterator[Mutant]:
    """Words left out of what is usual; the limit of "24 in or farther" moved, and its side left out."""
    usual = node.clauses.usual or ()
    for number, word in enumerate(usual if only.usual is not None else ()):
        found = [(f'"{word}" left out of `usual`', without(usual, number))]
        amount, _, side = word.partition(" or ")
        if side:
            others = (amount, *(f"{step} or {side}" for step in moved(amount, None)))
            found += [(f'"{word}" read as "{other}"', replaced(usual, number, other)) for other in others]
        for what, words in found:
            yield Mutant(what, node.pos, replace(node, clauses=replace(node.clauses, usual=words)))


def define(node: t.Define, changes: Changes) -> Iterator[Mutant]:
    """Changes of what a define stands for."""
    context = context_of(node.of)
    items = node.alternatives
    for number, item in enumerate(items):
        if len(items) > 1:
            after = replace(node, alternatives=without(items, number))
            yield Mutant(f"`as {phrase.operand(item.value)}` left out", item.pos, after)
        changed = [
            (value.what, value.pos, replace(item, value=value.after)) for value in changes.operand(item.value)
        ]
        if item.when is not None:
            what = f"`when {phrase.condition(item.when)}` left out"
            changed.append((what, item.when.pos, replace(item, when=None)))
            changed += [
                (change.what, change.pos, replace(item, when=change.after))
                for change in changes.condition(item.when, context)
            ]
        for what, pos, alternative in changed:
            yield Mutant(what, pos, replace(node, alternatives=replaced(items, number, alternative)))
    if node.level:
        yield Mutant(f"`at {node.level} level` left out", node.pos, replace(node, level=""))


def table(node: t.Table) -> Iterator[Mutant]:
    """Every value of a table moved by a step, or, where it is text, another of the column put in its place."""
    for number, row in enumerate(node.rows):
        key = ", ".join(phrase.literal(item) if item is not None else "any" for item in row.keys)
        for column, value in enumerate(row.values):
            others = [other.values[column] for other in node.rows if len(other.values) > column]
            after = _another(value, others)
            if after is None:
                continue
            changed = replace(row, values=replaced(row.values, column, after))
            name = f"{node.gives[column]}, " if node.gives else ""
            what = f"row {key}: {name}{phrase.literal(value)} read as {phrase.literal(after)}"
            yield Mutant(what, value.pos, replace(node, rows=replaced(node.rows, number, changed)))
        for name in ("in_force_from", "in_force_until"):
            if getattr(row, name):
                changed = replace(row, **{name: ""})
                what = f"row {key}: `{name.replace('_', ' ')}` left out"
                yield Mutant(what, row.pos, replace(node, rows=replaced(node.rows, number, changed)))


def _another(value: t.Literal, others: list[t.Literal]) -> t.Literal | None:
    moved = steps(value, None)
    if moved:
        return replace(value, text=moved[0])
    return next((other for other in others if other.text != value.text), None)


def _requiring(node: t.Requirement | t.Approval, shall: t.Condition | t.ShownBy) -> t.Requirement:
    """The rule with another `shall`; an approval becomes a requirement in which its `shall` is written out."""
    clauses = replace(node.clauses, shall=shall)
    title = node.body if isinstance(node, t.Approval) else node.title
    return t.Requirement(id=node.id, title=title, clauses=clauses, pos=node.pos)


def _applying(node: Amendable, condition: t.Condition | None) -> t.AnyStatement:
    after = replace(node, clauses=replace(node.clauses, applies=condition))
    return replace(after, when=condition) if isinstance(after, t.Practice) else after
