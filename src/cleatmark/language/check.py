"""Meaning checked before anything runs. All mistakes of all files are told; each idea has a module of its own."""

from __future__ import annotations

from collections.abc import Set

from cleatmark.language import tree as t
from cleatmark.language.check_conditions import condition, shown
from cleatmark.language.check_fields import field, kind
from cleatmark.language.check_messages import messages
from cleatmark.language.check_names import name
from cleatmark.language.check_practice import usual
from cleatmark.language.check_reach import reach, together
from cleatmark.language.check_readings import reading
from cleatmark.language.check_tables import circles, define, table
from cleatmark.language.check_values import date
from cleatmark.language.check_words import dates, needs, sources, taken, words
from cleatmark.language.checking import Context, Desk
from cleatmark.language.layers import Merged
from cleatmark.language.names import Name
from cleatmark.language.program import RUN_CONTEXT
from cleatmark.problems import Problem, did_you_mean

BESIDES = frozenset(["sources", "because", "in_force_from", "in_force_until"])
"""Clauses that say why and when an amendment changes a rule, not what."""


def check(merged: Merged, *, cases: bool = True, known: Set[str] = frozenset()) -> tuple[Problem, ...]:
    """All mistakes of meaning in a merged set of rulebooks, in the order of its files. A review has no use for cases
    and leaves them out; files `known` have been checked before, with what they build on."""
    if not merged.files:
        return ()
    desk = Desk(merged)
    for file in merged.files:
        if file.file in known:
            continue
        desk.open(file)
        head(desk, file.head)
        told: set[str] = set()
        for node in file.statements:
            statement(desk, node)
            if isinstance(node, t.Define):
                circles(desk, node, told)
        if cases:
            from cleatmark.language.check_cases import cases as check_cases

            check_cases(desk)
    return desk.problems


def head(desk: Desk, node: t.RulebookHead) -> None:
    """The rulebook's own dates and sources."""
    for name_, written in (("edition", node.edition), ("checked_on", node.checked_on)):
        if written and name_ in node.places:
            date(desk, node.places[name_], written)
    dates(desk, node)
    sources(desk, node.sources)


def statement(desk: Desk, node: t.AnyStatement) -> None:
    """One statement."""
    name(desk, node)
    if isinstance(node, t.FieldStatement):
        field(desk, node)
    elif isinstance(node, t.KindStatement):
        kind(desk, node)
    elif isinstance(node, t.ReadingStatement):
        reading(desk, node)
    elif isinstance(node, t.Table):
        table(desk, node)
    elif isinstance(node, t.Define):
        define(desk, node)
    elif isinstance(node, t.Requirement):
        rule(desk, node, node.clauses, "requirement", (), ("shall", "source", "action"))
    elif isinstance(node, t.Approval):
        word = "approval" if node.evidence == "approval" else "listing_body"
        rule(desk, node, node.clauses, word, (), ("needed when", "source", "action"))
        message = f"no kind of document serves as {node.evidence}"
        desk.one_of(node, node.evidence, desk.kinds, message)
    elif isinstance(node, t.Substitution):
        substitution(desk, node)
    elif isinstance(node, t.Practice):
        found = assembly_field(desk, node, node.field)
        rule(desk, node, node.clauses, "practice", (), ("usual", "source"))
        if found is not None and found.field is not None:
            usual(desk, node.clauses, found.field)
    elif isinstance(node, t.AdviceStatement):
        rule(desk, node, node.clauses, "advice", ("clause",), ("when",))
    elif isinstance(node, t.Amend | t.Waive):
        change(desk, node)


def rule(
    desk: Desk,
    node: t.Statement,
    clauses: t.Clauses,
    word: str,
    context: Context,
    wanted: tuple[str, ...],
) -> None:
    """The clauses of a rule of any form."""
    taken(desk, node, word, clauses)
    conditions(desk, node, clauses, context)
    needs(desk, node, clauses, word, wanted)
    messages(desk, node, clauses, node, clauses)


def conditions(desk: Desk, node: t.Statement, clauses: t.Clauses, context: Context) -> None:
    """The words, dates and conditions of clauses. Where a rule applies is asked before a run is entered."""
    words(desk, clauses)
    dates(desk, clauses)
    if clauses.applies is not None:
        condition(desk, clauses.applies, context)
        reach(desk, clauses.applies, context)
    inside = RUN_CONTEXT if isinstance(node, t.Approval) else context
    if isinstance(clauses.shall, t.ShownBy):
        node_ = clauses.shall
        shown(desk, node_)
        within = (*RUN_CONTEXT, "zone") if node_.every_zone else RUN_CONTEXT
        parts = [part for part in (node_.where, node_.having) if part is not None]
        together(desk, parts, within)
        for part in parts:
            reach(desk, part, within)
        if node_.zone_where is not None:
            reach(desk, node_.zone_where, ("zone",))
    elif clauses.shall is not None:
        condition(desk, clauses.shall, inside)
        reach(desk, clauses.shall, inside)


def substitution(desk: Desk, node: t.Substitution) -> None:
    """A substitution: of a field there is, in directions that the field has."""
    found = assembly_field(desk, node, node.field)
    rule(desk, node, node.clauses, "substitution", RUN_CONTEXT, ("allows", "source"))
    if found is not None:
        directions(desk, node.clauses, found)


def directions(desk: Desk, clauses: t.Clauses, name_: Name) -> None:
    """The words behind `allows`."""
    field_ = name_.field
    if field_ is None or clauses.allows is None:
        return
    known = [word for word in ("equal", field_.less, field_.more) if word]
    for word in clauses.allows:
        if word not in known:
            takes = f"{field_.path} takes: {', '.join(known)}"
            at = desk.find(word, clauses.places["allows"])
            desk.tell(at, f'"{word}" is no direction of {field_.path}', *did_you_mean(word, known), takes)


def assembly_field(desk: Desk, node: t.Statement, path: str) -> Name | None:
    """The field of the assembly that a statement is for."""
    found = desk.names.resolve(f"proposed.{path}", ())
    if isinstance(found, Name):
        return found
    if not desk.blameless(path):
        near = found.near.removeprefix("proposed.") if found.near else None
        help_ = f'did you mean "{near}"?' if near else "name it without proposed. or spec."
        desk.tell(desk.find(path, node.pos), f"no field of the assembly is called `{path}`", help_)
    return None


def change(desk: Desk, node: t.Amend | t.Waive) -> None:
    """An amendment's or waiver's clauses, checked as those of the rule that it changes."""
    layered = desk.merged.rules.get(desk.merged.aliases.get(node.id, node.id))
    if isinstance(node, t.Waive):
        taken(desk, node, "waive", node.clauses)
        needs(desk, node, node.clauses, "waiver", ("because", "source"))
        words(desk, node.clauses)
        dates(desk, node.clauses)
        return
    target = layered.statement if layered is not None else node
    taken(desk, node, _word(target), node.clauses)
    own: Context = RUN_CONTEXT if isinstance(target, t.Substitution) else ()
    own = ("clause",) if isinstance(target, t.AdviceStatement) else own
    words(desk, node.clauses)
    conditions(desk, target, node.clauses, own)
    needs(desk, node, node.clauses, "amendment", ("source or because",))
    if not set(node.clauses.places) - BESIDES and desk.whole(node):
        desk.tell(
            node, f'the amendment of "{node.id}" changes nothing', "name the clause that is to read otherwise"
        )
    if layered is None:
        return
    messages(desk, node, node.clauses, layered.statement, layered.statement.clauses)
    if isinstance(layered.statement, t.Practice):
        found = desk.names.resolve(f"proposed.{layered.statement.field}", ())
        if isinstance(found, Name) and found.field is not None:
            usual(desk, node.clauses, found.field)
    if isinstance(layered.statement, t.Substitution):
        found = desk.names.resolve(f"proposed.{layered.statement.field}", ())
        if isinstance(found, Name):
            directions(desk, node.clauses, found)


def _word(node: t.Statement) -> str:
    return {
        t.Requirement: "requirement",
        t.Substitution: "substitution",
        t.Practice: "practice",
        t.AdviceStatement: "advice",
        t.Approval: "approval",
    }.get(type(node), "amend")
