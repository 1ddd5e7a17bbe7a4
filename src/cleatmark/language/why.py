"""The tree of an evaluation: each condition with its outcome, the values read and their places, what was missing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from msgspec import Struct

from cleatmark.facts import Fact, Missing, Nothing
from cleatmark.language import phrase
from cleatmark.language import tree as t
from cleatmark.language.compile import Context, inner_context
from cleatmark.language.coverage import condition_res
from cleatmark.language.judge import Outcome, candidates, first_frame, judge
from cleatmark.language.layers import standing
from cleatmark.language.logic import NO, UNKNOWN, YES, Res
from cleatmark.language.program import RUN_CONTEXT, CompiledShown, Program, Rule
from cleatmark.language.world import Frame, Item, World

WORDS = {YES: "yes", NO: "no", UNKNOWN: "not shown"}


class Step(Struct, frozen=True):
    """One part of an evaluation.

    text     the condition as written, or the thing that was judged
    outcome  yes, no, not shown, or a verdict; "" where the part only groups others
    facts    each value read, with its place
    missing  what was looked for and not found, with whom to ask
    inside   the parts of this one
    """

    text: str
    outcome: str = ""
    facts: tuple[str, ...] = ()
    missing: tuple[str, ...] = ()
    inside: tuple[Step, ...] = ()


def explain(program: Program, rule: Rule, world: World, permit: date | None) -> tuple[Outcome, Step]:
    """The outcome of a rule and the tree of how it came about."""
    outcome = judge(program, rule, world, permit)
    standing_rule, force = standing(rule, permit)
    inside: list[Step] = []
    frame = first_frame(world)
    if force == "yes" and standing_rule.layered.waived is None:
        tree = Explainer(program)
        if standing_rule.clauses.applies is not None:
            step = tree.condition(standing_rule.clauses.applies, (), frame)
            inside.append(Step("applies when", step.outcome, inside=(step,)))
        if outcome.verdict != "does not apply" and not outcome.why:
            inside += tree.shall(standing_rule, frame)
    facts = (f"not judged: {outcome.why}",) if outcome.why else ()
    missing = tuple(dict.fromkeys(missing_line(item) for item in outcome.res.missing)) if not inside else ()
    return outcome, Step(f"{rule.id}: {rule.title}", outcome.verdict, facts, missing, tuple(inside))


class Explainer:
    """Walks a rule's condition and evaluates every part of it apart."""

    def __init__(self, program: Program) -> None:
        self.program = program

    def shall(self, rule: Rule, frame: Frame) -> list[Step]:
        """What the rule requires, for each zone, paper or variant of the proposal that was judged apart."""
        if rule.shown is not None:
            text = f"shall {phrase.shall(rule.shown.node)}"
            shown = self.zones(rule.shown, frame) if rule.shown.every_zone else self.papers(rule.shown, frame)
            return [Step(text, inside=tuple(shown) or (Step("no such paper was submitted", "not shown"),))]
        node = rule.clauses.shall
        assert node is not None
        assert not isinstance(node, t.ShownBy)
        steps = []
        for variant, facts in frame.world.variants.items():
            step = self.condition(node, (), frame._replace(variant=variant, proposed=facts))
            apart = len(frame.world.variants) > 1
            steps.append(Step(f"in {variant}", step.outcome, inside=(step,)) if apart else step)
        return [Step("shall", inside=tuple(steps))]

    def zones(self, shown: CompiledShown, frame: Frame) -> Iterator[Step]:
        """Every zone, with every run that was tried for it."""
        runs = candidates(self.program, shown.kind, frame.world)
        for zone in frame.world.zones:
            inside = frame.enter(zone)
            steps = [self.run(shown, inside.enter(run), run, (*RUN_CONTEXT, "zone")) for run in runs]
            facts = tuple(fact_line(fact) for fact in zone.facts.values())
            lack = () if steps else ("no such paper was submitted",)
            yield Step(f"zone {zone.label}", "", facts, lack, tuple(steps))

    def papers(self, shown: CompiledShown, frame: Frame) -> Iterator[Step]:
        """Every paper of the kind asked for, with each of its runs, for each variant of the proposal."""
        variants = frame.world.variants
        for run in candidates(self.program, shown.kind, frame.world):
            for variant, facts in variants.items():
                at = frame._replace(variant=variant, proposed=facts).enter(run)
                step = self.run(shown, at, run, RUN_CONTEXT)
                yield Step(f"in {variant}", step.outcome, inside=(step,)) if len(variants) > 1 else step

    def run(self, shown: CompiledShown, frame: Frame, run: Item, context: Context) -> Step:
        parts: list[Step] = []
        for word, node in (("where", shown.node.where), ("having", shown.node.having)):
            if node is None:
                continue
            step = self.condition(node, context, frame)
            parts.append(Step(word, step.outcome, inside=(step,)))
            if step.outcome == WORDS[NO] and word == "where":
                break
        outcomes = [part.outcome for part in parts]
        worst = next((word for word in (WORDS[NO], WORDS[UNKNOWN]) if word in outcomes), WORDS[YES])
        return Step(run.label, worst, inside=tuple(parts))

    def condition(self, node: t.Condition, context: Context, frame: Frame) -> Step:
        """A condition with its outcome; the parts of a joined one below it."""
        text = phrase.condition(node)
        res = self.program.compiler.condition(node, context)(frame)
        outcome = WORDS[res.truth]
        if isinstance(node, t.And | t.Or):
            word = "all of" if isinstance(node, t.And) else "any of"
            return Step(word, outcome, inside=tuple(self.condition(p, context, frame) for p in node.parts))
        if isinstance(node, t.Not):
            return Step("not", outcome, inside=(self.condition(node.part, context, frame),))
        if isinstance(node, t.Quantified):
            return Step(text, outcome, missing=missing_lines(res), inside=self.each(node, context, frame))
        if isinstance(node, t.Covers):
            return Step(text, outcome, inside=tuple(self.covers(frame)))
        made = [f"{mark.left} {mark.words} {mark.right}" for mark in res.marks]
        shown = f"{text}: {'; '.join(dict.fromkeys(made))}" if made else text
        return Step(shown, outcome, fact_lines(res.reads), missing_lines(res))

    def each(self, node: t.Quantified, context: Context, frame: Frame) -> tuple[Step, ...]:
        inner = inner_context(node.over, self.program.kinds, context)
        steps = []
        for item in self.program.compiler.items(node.over)(frame):
            inside = frame.enter(item)
            parts = []
            if node.where is not None:
                step = self.condition(node.where, inner, inside)
                parts.append(Step("where", step.outcome, inside=(step,)))
            if not parts or parts[0].outcome != WORDS[NO]:
                parts.append(self.condition(node.has, inner, inside))
            steps.append(Step(item.label, parts[-1].outcome if len(parts) > 1 else "", inside=tuple(parts)))
        return tuple(steps)

    def covers(self, frame: Frame) -> Iterator[Step]:
        """Every attribute of the run beside the proposal; what is the same, or stated by nobody, on one line."""
        run = frame.run
        if run is None:
            for own in frame.document.runs if frame.document is not None else ():
                yield Step(own.label, inside=tuple(self.covers(frame.enter(own))))
            return
        same: list[str] = []
        lacking: dict[str, list[str]] = {}
        for change in self.program.coverage.changes(frame, run):
            rule = change.substitution
            if change.res.truth is YES and change.side == "same":
                same.append(rule.field.path)
                continue
            lacks = [f"proposed.{rule.field.path}", f"tested.{rule.field.path}"]
            if [item.path for item in change.res.missing] in (lacks[:1], lacks[1:], lacks[::-1]):
                scopes = sorted({item.path.split(".")[0] for item in change.res.missing})
                lacking.setdefault(" or ".join(scopes), []).append(rule.field.path)
                continue
            text = f"{rule.field.path}: whether {rule.id} applies is not known"
            if change.proposed or change.tested:
                beside = f"{change.proposed} proposed, {change.tested} tested"
                text = f"{rule.field.path}: {beside} ({rule.id} allows {', '.join(rule.allows)})"
            yield Step(text, WORDS[change.res.truth], fact_lines(change.res.reads), missing_lines(change.res))
        if same:
            yield Step("as tested: " + ", ".join(same), WORDS[YES])
        for scope, paths in lacking.items():
            yield Step(f"not stated as {scope}: " + ", ".join(paths), WORDS[UNKNOWN])
        for condition in run.parent.conditions if run.parent is not None else ():
            res = condition_res(condition)
            yield Step(
                f"condition: {condition.label}", WORDS[res.truth], fact_lines(res.reads), missing_lines(res)
            )


def fact_line(fact: Fact) -> str:
    """A value with its name and place."""
    where = "; ".join(dict.fromkeys(citation.where for citation in fact.citations))
    text = "none" if isinstance(fact.value, Nothing) else fact.text
    if not fact.path:
        return f"worked out: {fact.citations[0].quote if fact.citations else text}"
    return f"{fact.path} = {text}" + (f" [{where}]" if where else "")


def fact_lines(facts: Iterable[Fact]) -> tuple[str, ...]:
    """Values with their places, each once."""
    return tuple(dict.fromkeys(fact_line(fact) for fact in facts))


def missing_line(item: Missing) -> str:
    """What is missing, why, and whom to ask."""
    ask = f"; ask the {item.ask}" if item.ask else ""
    where = f" [{item.citations[0].where}]" if item.citations else ""
    name = f" ({item.path})" if item.path and "." in item.path else ""
    return f"missing: {item.title}{name}: {item.reason}{ask}{where}"


def missing_lines(res: Res) -> tuple[str, ...]:
    """What is missing, each once; nothing where the outcome is known."""
    if res.truth is not UNKNOWN:
        return ()
    return tuple(dict.fromkeys(missing_line(item) for item in res.missing))


def lines(step: Step, depth: int = 0) -> Iterator[str]:
    """The tree as indented lines."""
    pad = "  " * depth
    if depth == 0:
        yield f"{step.text}: {step.outcome}" if step.outcome else step.text
    else:
        yield f"{pad}{step.outcome}: {step.text}" if step.outcome else f"{pad}{step.text}"
    for line in (*step.facts, *step.missing):
        yield f"{pad}    {line}"
    for part in step.inside:
        yield from lines(part, depth + 1)
