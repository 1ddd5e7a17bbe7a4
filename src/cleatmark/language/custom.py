"""Practice and advice judged: what is usual in the trade beside what is asked, and what is raised."""

from __future__ import annotations

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from cleatmark.facts import Fact, Value
from cleatmark.language.compare import same, within
from cleatmark.language.layers import standing
from cleatmark.language.logic import NO, YES, Res
from cleatmark.language.program import CompiledAdvice, CompiledPractice, Program
from cleatmark.language.world import Frame, Item, World, permit_date
from cleatmark.units import Quantity, orderings
from cleatmark.yamlfile import FieldValueError, read_value


def practice_for(practice: CompiledPractice, world: World) -> CompiledPractice | None:
    """The version of a practice that stands on the permit date; None where none is in force or it is waived."""
    found, force = standing(practice, permit_date(world))
    return found if force == "yes" and found.layered.waived is None else None


def usual(program: Program, practice: CompiledPractice, frame: Frame, asked: Fact | None) -> str:
    """ "usual", "unusual", "does not apply" or "not shown": the value asked for beside what is usual."""
    found = practice_for(practice, frame.world)
    if found is None:
        return "does not apply"
    if found.when is not None:
        applies = found.when(frame).truth
        if applies is not YES:
            return "does not apply" if applies is NO else "not shown"
    if asked is None:
        return "not shown"
    words = found.statement.clauses.usual or ()
    return "usual" if any(_alike(program, found, word, asked) for word in words) else "unusual"


def _alike(program: Program, practice: CompiledPractice, word: str, asked: Fact) -> bool:
    """Whether the word states the value asked for: read by the field's kind, so that 6 in is 152.4 mm; "24 in or
    farther" takes in all on that side."""
    field = program.book.block("assembly").get(practice.statement.field)
    if field is None:
        return False
    amount, _, direction = word.partition(" or ")
    beyond = {field.less: -1, field.more: 1}.get(direction) if direction and field.less else None
    try:
        value: Value = read_value(field, amount if beyond else word)
        other = asked.value if not isinstance(asked.value, str) else read_value(field, asked.value)
    except FieldValueError:
        return word.casefold() == asked.text.casefold()
    if beyond and isinstance(value, Quantity) and isinstance(other, Quantity):
        return within(orderings(other, value), frozenset({0, beyond})) is YES
    return same(value, other) is YES


def by_clause(frame: Frame) -> tuple[Frame, ...]:
    """The frame at each clause. What the specification states counts in all zones, not in the one whose proposal the
    frame has."""
    return tuple(_in_scope(frame._replace(variant=""), clause) for clause in frame.world.clauses)


def raised(
    rule: CompiledAdvice, frame: Frame, clauses: Sequence[Frame]
) -> tuple[tuple[CompiledAdvice, Frame, Res], ...]:
    """The version in force with each frame in which it is raised: once, or for each of the frames at `clauses` that it
    speaks of."""
    found, force = standing(rule, permit_date(frame.world))
    if force != "yes" or found.layered.waived is not None:
        return ()
    frames: Iterable[Frame] = (frame._replace(variant=""),)
    if found.by_clause:
        first = found.first
        frames = clauses if first is None else (one for one in clauses if first(one).truth is not NO)
    judged = ((found, inside, found.when(inside)) for inside in frames)
    return tuple(item for item in judged if item[2].truth is YES)


def _in_scope(frame: Frame, clause: Item) -> Frame:
    """The frame at a clause. One about a roof or an alternate is judged beside what is stated of that or of all."""
    fact = clause.facts.get("clause.scope")
    if fact is None or not fact.text:
        return frame.enter(clause)
    own = ("", fact.text.casefold())
    spec = {
        subject: kept
        for subject, items in frame.world.spec.items()
        if (kept := tuple(item for item in items if item.scope.casefold() in own))
    }
    return frame._replace(world=replace(frame.world, spec=spec)).enter(clause)
