"""Cases: what they put up is checked as a submittal is, and what they expect can come about."""

from __future__ import annotations

import re

from cleatmark.language import tree as t
from cleatmark.language.check_conditions import alike
from cleatmark.language.check_values import Expected, literal, lookup, operand
from cleatmark.language.checking import Desk, a
from cleatmark.language.expectations import check_cases
from cleatmark.language.layers import Layered, foundations
from cleatmark.language.names import context_of


def cases(desk: Desk) -> None:
    """The cases and assemblies of the current file."""
    for problem in check_cases(desk.file, desk.merged, desk.names):
        if problem.place.line in desk.spoilt_lines and problem.message == "a case expects something":
            continue
        blamed = re.search(r'is called "([^"]*)"', problem.message)
        if blamed is None or not desk.blameless(blamed[1]):
            desk.add((problem,))
    for node in desk.file.statements:
        if isinstance(node, t.Case):
            expectations(desk, node)


def expectations(desk: Desk, node: t.Case) -> None:
    """Expectations that exclude each other, or that can never come about."""
    seen: dict[str, t.Expectation] = {}
    for item in node.expectations:
        if isinstance(item.operand, t.Lookup):
            lookup(desk, item.operand, ("run", "document"), row=True)
        elif item.operand is not None:
            operand(desk, item.operand, ("run", "document"))
        elif item.value is not None:
            value(desk, item, item.value)
        else:
            layered = desk.merged.rules.get(desk.merged.aliases.get(item.id, item.id))
            impossible = never(desk, item, layered) if layered is not None else ""
            if impossible:
                desk.tell(item, f'"{item.id}" is never `{item.verdict}`: {impossible}')
        earlier = seen.get(item.id)
        if item.id and earlier is not None:
            what = "is expected twice" if _shown(earlier) == _shown(item) else "cannot be both"
            desk.tell(item, f'"{item.id}" {what}', f"line {earlier.pos.line} expects: {_shown(earlier)}")
        seen.setdefault(item.id, item)


def never(desk: Desk, node: t.Expectation, layered: Layered) -> str:
    """Why a verdict can never come about; "" where it can."""
    statement = layered.statement
    waived = layered.waived
    below = foundations(desk.merged.files)
    if waived is not None and not waived.dates and waived.rulebook in below[desk.file.head.id]:
        return "" if node.verdict == "does not apply" else f"{waived.rulebook} waives it at {waived.place}"
    if node.verdict == "does not apply" and waived is None:
        undated = not layered.dates and layered.below is None
        if statement.clauses.applies is None and undated:
            return "it has no `applies when` and no dates, so it always applies"
    return ""


def value(desk: Desk, node: t.Expectation, literal_: t.Literal) -> None:
    """An expected value is of the define's kind."""
    define = desk.names.defines.get(node.id)
    if define is None or not context_of(define.of):
        return
    kind = desk.names.kind_of_define(define)
    got = literal(desk, literal_, Expected(kind))
    if got and kind and not alike(got, kind, "is"):
        desk.tell(literal_, f"{node.id} is {a(kind)}, and {literal_.text} is {a(got)}")


def _shown(node: t.Expectation) -> str:
    return node.verdict or (node.value.text if node.value is not None else "a value")
