"""The tree of an evaluation: each condition with its outcome, the values read and their places, what was missing."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from datetime import date

from msgspec import Struct

from cleatmark.facts import Fact, Missing, Nothing, shown
from cleatmark.language import phrase
from cleatmark.language import tree as t
from cleatmark.language.compile import Context, inner_context
from cleatmark.language.coverage import condition_res
from cleatmark.language.custom import by_clause, raised, usual
from cleatmark.language.judge import Outcome, Shown, candidates, first_frame, judge
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
        tree = Explainer(program, outcome)
        if standing_rule.clauses.applies is not None:
            step = tree.condition(standing_rule.clauses.applies, (), frame)
            inside.append(Step("applies when", step.outcome, inside=(step,)))
        if outcome.verdict != "does not apply" and not outcome.why:
            inside += tree.shall(standing_rule, frame)
    facts: tuple[str, ...] = (f"not judged: {outcome.why}",) if outcome.why else ()
    if outcome.run is not None and not outcome.shown:
        facts += (f"judged by {outcome.run.label}",)
    elif outcome.nearest is not None and outcome.run is None:
        facts += (f"nearest: {outcome.nearest.label}",)
    missing = tuple(dict.fromkeys(missing_line(item) for item in outcome.res.missing)) if not inside else ()
    return outcome, Step(f"{rule.id}: {rule.title}", outcome.verdict, facts, missing, tuple(inside))


class Explainer:
    """Walks a rule's condition and evaluates every part of it apart."""

    def __init__(self, program: Program, outcome: Outcome | None = None) -> None:
        self.program = program
        self.outcome = outcome

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

    def parts(self) -> tuple[Shown, ...]:
        """How each zone was judged."""
        return self.outcome.shown if self.outcome is not None else ()

    def zones(self, required: CompiledShown, frame: Frame) -> Iterator[Step]:
        """Every zone, with every run that was tried for it, and the one by which it was judged."""
        runs = candidates(self.program, required.kind, frame.world)
        for zone in frame.world.zones:
            inside = frame.enter(zone)
            part = next((p for p in self.parts() if p.frame.zone is zone), None)
            steps = [
                self.short(
                    self.run(required, inside.enter(run), run, (*RUN_CONTEXT, "zone")), run, part, runs
                )
                for run in runs
            ]
            facts = tuple(fact_line(fact) for fact in zone.facts.values())
            lack = () if steps else ("no such paper was submitted",)
            by = f", judged by {part.run.label}" if part is not None and part.run is not None else ""
            verdict = part.verdict if part is not None else "does not apply"
            yield Step(f"zone {zone.label}{by}", verdict, facts, lack, tuple(steps))

    def short(self, step: Step, run: Item, part: Shown | None, runs: list[Item]) -> Step:
        """A run in full where it was judged, or is nearest where none was; of the others only the outcome."""
        judged = part.run if part is not None else None
        nearest = self.outcome.nearest if self.outcome is not None else None
        if len(runs) <= 2 or run is judged or (judged is None and (run is nearest or nearest is None)):
            return step
        return Step(step.text, step.outcome)

    def papers(self, required: CompiledShown, frame: Frame) -> Iterator[Step]:
        """Every paper of the kind asked for, with each of its runs, for each variant of the proposal."""
        variants = frame.world.variants
        for run in candidates(self.program, required.kind, frame.world):
            for variant, facts in variants.items():
                at = frame._replace(variant=variant, proposed=facts).enter(run)
                step = self.run(required, at, run, RUN_CONTEXT)
                yield Step(f"in {variant}", step.outcome, inside=(step,)) if len(variants) > 1 else step

    def run(self, required: CompiledShown, frame: Frame, run: Item, context: Context) -> Step:
        parts: list[Step] = []
        for word, node in (("where", required.node.where), ("having", required.node.having)):
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
        told = f"{text}: {'; '.join(dict.fromkeys(made))}" if made else text
        return Step(told, outcome, fact_lines(res.reads), missing_lines(res))

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


def explain_value(program: Program, id: str, world: World) -> Step:
    """How a substitution, practice, advice, define or table fared in a world: for every run, condition or thing that
    it is about."""
    frame = first_frame(world)
    runs = [run for document in world.documents for run in document.runs]
    define = program.defines.get(id)
    if define is not None:
        steps = [_defined(program, define, frame.enter(item), item) for item in _items(world, define.of)]
        return Step(f"{id}, {define.of} by {define.of}", inside=tuple(steps))
    substitution = next((rule for rule in program.coverage.substitutions if rule.id == id), None)
    if substitution is not None:
        steps = [step for run in runs for step in _substituted(program, id, frame, run)]
        return Step(f"{id}: {substitution.field.title}", inside=tuple(steps))
    practice = next((rule for rule in program.practices if rule.statement.id == id), None)
    if practice is not None:
        path = practice.statement.field
        about = [item for item in _items(world, "condition") if _about(item) == path]
        steps = [
            Step(item.label, usual(program, practice, frame, item.facts.get("condition.value")))
            for item in about
        ]
        return Step(f"{id}: conditions about {path}", inside=tuple(steps))
    advice = next((rule for rule in program.advice if rule.statement.id == id), None)
    if advice is not None:
        found = raised(advice, frame, by_clause(frame))
        tree, inside = Explainer(program), []
        for version, at, _ in found:
            node = version.statement.clauses.applies
            if node is not None:
                inside.append(tree.condition(node, ("clause",) if at.clause is not None else (), at))
        if not found and advice.statement.clauses.applies is not None and not advice.by_clause:
            inside.append(tree.condition(advice.statement.clauses.applies, (), frame))
        return Step(id, "raised" if found else "not raised", inside=tuple(inside))
    return Step(f"{id} has no verdict of its own; it is read by other rules")


def _items(world: World, block: str) -> tuple[Item, ...]:
    if block == "run":
        return tuple(run for document in world.documents for run in document.runs)
    if block == "condition":
        return tuple(item for document in world.documents for item in document.conditions)
    return {"document": world.documents, "zone": world.zones, "clause": world.clauses}[block]


def _about(condition: Item) -> str:
    fact = condition.facts.get("condition.field")
    return fact.text if fact is not None else ""


def _defined(program: Program, define: t.Define, frame: Frame, item: Item) -> Step:
    got = program.compiler.define(define)(frame)
    value = shown(got.value) if got.value is not None else "not shown"
    missing = tuple(dict.fromkeys(missing_line(lack) for lack in got.missing)) if got.value is None else ()
    return Step(item.label, value, fact_lines(got.reads), missing)


def _substituted(program: Program, id: str, frame: Frame, run: Item) -> Iterator[Step]:
    variants = frame.world.variants
    for variant, facts in variants.items():
        inside = frame._replace(variant=variant, proposed=facts).enter(run)
        where = f"{run.label}, {variant}" if len(variants) > 1 else run.label
        change = next((c for c in program.coverage.changes(inside, run) if c.substitution.id == id), None)
        if change is None:
            yield Step(where, "does not apply")
            continue
        text = f"{where}: {change.proposed or 'not stated'} proposed, {change.tested or 'not stated'} tested"
        outcome = {YES: "complies", NO: "deviates", UNKNOWN: "not shown"}[change.res.truth]
        yield Step(text, outcome, fact_lines(change.res.reads), missing_lines(change.res))


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
