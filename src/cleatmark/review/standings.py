"""How each document stands for each requirement that asks to be shown by a paper, and what a complete one lacks."""

from __future__ import annotations

from collections.abc import Iterable, Iterator

from msgspec import Struct

from cleatmark.facts import Missing
from cleatmark.language import tree as t
from cleatmark.language.compile import inner_context
from cleatmark.language.judge import first_frame
from cleatmark.language.layers import standing as standing_rule
from cleatmark.language.logic import NO, UNKNOWN, YES, Mark, Res, all_of
from cleatmark.language.names import Name
from cleatmark.language.printed import printed_zone
from cleatmark.language.program import RUN_CONTEXT, CompiledShown, Program, Rule
from cleatmark.language.world import Frame, Item, World, permit_date
from cleatmark.review.model import Standing
from cleatmark.review.remedy import lower_first
from cleatmark.units import Quantity

STANDS, WITH_CONDITIONS = "stands", "stands with conditions"
SHORT, UNJUDGED, UNCOVERED = "falls short", "cannot be judged", "does not cover"
ASIDE = ""
"""For a run that is not what the requirement speaks of: a water test, for an uplift class."""
ORDER = (STANDS, SHORT, UNJUDGED, UNCOVERED, ASIDE)


class Part(Struct, frozen=True):
    """A run in one frame: how it stands, why not better, and what it allows, psf."""

    standing: str
    because: tuple[str, ...] = ()
    allows: float = 0.0


def standings(program: Program, world: World, document: Item) -> tuple[Standing, ...]:
    """A standing for every requirement in force that the document is offered for or speaks of."""
    frame = first_frame(world)
    out: list[Standing] = []
    for rule in program.rules:
        current, force = standing_rule(rule, permit_date(world))
        if force != "yes" or current.layered.waived is not None or current.shown is None:
            continue
        if current.applies is not None and current.applies(frame).truth is NO:
            continue
        found = of_rule(program, world, current, current.shown, document)
        if found is not None:
            out.append(found)
    return tuple(out)


def of_rule(
    program: Program, world: World, rule: Rule, shown: CompiledShown, document: Item
) -> Standing | None:
    """The document for one requirement; None where it is no paper that the requirement speaks of."""
    kind, offered = _text(document, "document.kind"), _text(document, "document.offered_as")
    names = program.kinds.get(shown.kind)
    if names is not None and kind not in names:
        if offered not in names:
            return None
        words = f"offered as {offered}, and is {kind}"
        return Standing(rule.id, rule.title, UNCOVERED, (words,))
    worst = Part(STANDS)
    for inside in _frames(world, shown):
        parts = [_part(program, shown, inside, run) for run in document.runs]
        best = min(parts, key=lambda part: (ORDER.index(part.standing), -part.allows, len(part.because)))
        if ORDER.index(best.standing) > ORDER.index(worst.standing):
            worst = best
    if worst.standing == ASIDE:
        return None
    held = WITH_CONDITIONS if worst.standing == STANDS and document.conditions else worst.standing
    return Standing(rule.id, rule.title, held, tuple(dict.fromkeys(worst.because)))


def _frames(world: World, shown: CompiledShown) -> Iterator[Frame]:
    frame = first_frame(world)
    if shown.every_zone and world.zones:
        for zone in world.zones:
            inside = frame.enter(zone)
            if shown.zone_where is None or shown.zone_where(inside).truth is not NO:
                yield inside
        return
    for variant, facts in world.variants.items():
        yield frame._replace(variant=variant, proposed=facts)


def _part(program: Program, shown: CompiledShown, frame: Frame, run: Item) -> Part:
    inside = frame.enter(run)
    apart = [test(inside) for test in shown.apart]
    failing = [res for res in apart if res.truth is NO]
    covered = _covers(shown, program, inside, run)
    if failing:
        told = [[mark for mark in _no(res) if not _of_another_kind(mark)] for res in failing]
        if not all(told) or covered.truth is NO:
            return Part(ASIDE)
        return Part(UNCOVERED, tuple(_words(program, mark) for marks in told for mark in marks))
    if covered.truth is NO:
        return Part(UNCOVERED, _differences(program, _no(covered)))
    open_ = [res for res in (*apart, covered) if res.truth is UNKNOWN]
    if open_:
        return Part(UNJUDGED, tuple(_lack(item) for res in open_ for item in res.missing))
    having = shown.having(inside) if shown.having is not None else Res(YES)
    if having.truth is NO:
        get = program.get("allowable")
        value = get(inside).value if get is not None else None
        allows = float(value.value) if isinstance(value, Quantity) else 0.0
        return Part(SHORT, tuple(_words(program, mark) for mark in _no(having)), allows)
    if having.truth is UNKNOWN:
        return Part(UNJUDGED, tuple(_lack(item) for item in having.missing))
    return Part(STANDS)


def _covers(shown: CompiledShown, program: Program, frame: Frame, run: Item) -> Res:
    """Coverage, for a requirement that asks for it; its conditions name themselves."""
    where = shown.node.where
    parts = where.parts if isinstance(where, t.And) else (where,)
    if not any(isinstance(part, t.Covers) for part in parts):
        return Res(YES)
    changes = [change.res for change in program.coverage.changes(frame, run)]
    conditions = [
        _named(condition, program.coverage.condition(frame, condition))
        for condition in (run.parent.conditions if run.parent is not None else ())
    ]
    printed = printed_zone(frame)
    changes += [printed] if printed is not None else []
    return all_of([*changes, *conditions]) if changes or conditions else program.coverage.judge(frame, run)


def _named(condition: Item, res: Res) -> Res:
    """A condition that fails, with a mark that says which it is and what it is."""
    if res.truth is not NO or res.marks:
        return res
    state = _text(condition, "condition.state")
    mark = Mark(state, "condition", condition.label, NO, None, None, "")
    return Res(res.truth, res.reads, res.missing, (mark,))


def _no(res: Res) -> tuple[Mark, ...]:
    return tuple(mark for mark in res.marks if mark.truth is NO or mark.words in ("is not", "is not one of"))


def _of_another_kind(mark: Mark) -> bool:
    """Whether the comparison says that the paper is of another kind or method than the requirement speaks of."""
    of_kind = mark.path in ("kind", "document.kind", "standard", "run.standard")
    return of_kind or mark.path.startswith("spec.") or mark.left.startswith("no uplift")


def _differences(program: Program, marks: tuple[Mark, ...]) -> tuple[str, ...]:
    """Each property once: as tested, else as listed; then the conditions that are not met."""
    tested = {mark.path for mark in marks if mark.words != "listed"}
    kept = [mark for mark in marks if mark.words != "listed" or mark.path not in tested]
    return tuple(_difference(program, mark) for mark in kept)


def _difference(program: Program, mark: Mark) -> str:
    """Tested and proposed side by side, or a condition and its state."""
    if mark.words == "condition":
        return f'condition "{mark.right.rstrip(".")}": {mark.left}'
    if mark.words == "printed for":
        return f"printed for the {mark.left}, not for {mark.right}"
    field = program.book.block("assembly").get(mark.path.removeprefix("proposed."))
    title = lower_first(field.title) if field is not None else mark.path
    listed = "listed" if mark.words == "listed" else "tested"
    return f"{title}: {mark.left} proposed, {mark.right} {listed}"


def _words(program: Program, mark: Mark) -> str:
    """A comparison that failed: what was found, and what was asked where the finding alone does not tell."""
    name = program.names.resolve(mark.path, (*RUN_CONTEXT, "zone")) if mark.path else None
    field = name.field if isinstance(name, Name) else None
    if field is None and not isinstance(mark.right_value, Quantity):
        return mark.left
    title = field.title if field is not None else mark.path.rsplit(".", 1)[-1].replace("_", " ")
    if mark.words == "is not" and mark.right == "none":
        return f"{lower_first(title)}: none"
    relation = "" if mark.words == "is" else f"{mark.words} "
    return f"{lower_first(title)}: {mark.left}, where {relation}{mark.right} is asked"


def _lack(item: Missing) -> str:
    return f"{lower_first(item.title)}: {item.reason}"


# What a complete paper lacks ------------------------------------------------------------------------------------


def lacks(program: Program, world: World, document: Item) -> tuple[str, ...]:
    """What the rulebooks ask every paper of this kind to carry, and this one does not state."""
    frame = first_frame(world).enter(document)
    found: list[str] = []
    for node in _carried(program, _text(document, "document.kind")):
        context = inner_context(node.over, program.kinds, ())
        where = program.compiler.condition(node.where, context) if node.where is not None else None
        parts = node.has.parts if isinstance(node.has, t.And) else (node.has,)
        tests = [program.compiler.condition(part, context) for part in parts]
        for inside in [frame.enter(run) for run in document.runs] if node.over == "run" else [frame]:
            if where is None or where(inside).truth is not NO:
                found += [name for test in tests for name in _unstated(program, test(inside))]
    return tuple(dict.fromkeys(found))


def _carried(program: Program, kind: str) -> Iterator[t.Quantified]:
    """What every paper of a kind, or every run, is asked to carry: `shall every KIND has ( ... )` of practice."""
    for rule in program.rules:
        node = rule.clauses.shall
        asked = isinstance(node, t.Quantified) and node.quantifier == "every"
        if asked and rule.clauses.basis == "practice" and rule.layered.waived is None:
            assert isinstance(node, t.Quantified)
            if node.over in ("document", "run") or kind in program.kinds.get(node.over, ()):
                yield node


def _unstated(program: Program, res: Res) -> Iterable[str]:
    if res.truth is UNKNOWN:
        return [lower_first(item.title) for item in res.missing]
    if res.truth is NO:
        return [_words(program, mark) for mark in _no(res) if mark.right == "none"]
    return []


def _text(item: Item, path: str) -> str:
    fact = item.facts.get(path)
    return fact.text if fact is not None else ""
