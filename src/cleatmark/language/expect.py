"""What a case expects beside what came of it, judged by the same evaluator as a review."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from functools import cached_property

from msgspec import Struct

from cleatmark.facts import Fact, Value, shown
from cleatmark.language import phrase
from cleatmark.language import tree as t
from cleatmark.language.cases import Vocabulary, world_of
from cleatmark.language.coverage import CompiledSubstitution
from cleatmark.language.custom import by_clause, raised, usual
from cleatmark.language.expectations import Known, assemblies_of, expectation_problems, forms, tables_in
from cleatmark.language.judge import first_frame, judge
from cleatmark.language.logic import Val
from cleatmark.language.program import Compiled, CompiledAdvice, CompiledPractice, Program, Rule
from cleatmark.language.values import literal_value
from cleatmark.language.why import explain, fact_lines, lines, missing_line
from cleatmark.language.world import Frame, World, permit_date
from cleatmark.problems import Problem
from cleatmark.units import Quantity, QuantityError

WORST = ("deviates", "not shown", "complies")
WORD_OF = {"yes": "complies", "no": "deviates", "not shown": "not shown"}


class Checked(Struct, frozen=True):
    """One expectation judged: of what, what was expected, what came, and why."""

    id: str
    expected: str
    got: str
    node: t.Expectation

    @property
    def met(self) -> bool:
        return self.expected == self.got


class Ready(Struct, frozen=True, eq=False):
    """A case with its world, ready to be judged under any program of the same fields."""

    case: t.Case
    file: t.RuleFile
    world: World


class Judge:
    """Judges expectations under one program."""

    def __init__(self, program: Program) -> None:
        self.program = program

    @cached_property
    def rules(self) -> Mapping[str, Rule]:
        return {rule.id: rule for rule in self.program.rules}

    @cached_property
    def substitutions(self) -> Mapping[str, CompiledSubstitution]:
        return {rule.id: rule for rule in self.program.coverage.substitutions}

    @cached_property
    def practices(self) -> Mapping[str, CompiledPractice]:
        return {rule.statement.id: rule for rule in self.program.practices}

    @cached_property
    def advice(self) -> Mapping[str, CompiledAdvice]:
        return {rule.statement.id: rule for rule in self.program.advice}

    @cached_property
    def words(self) -> Vocabulary:
        """What the settings of cases may name."""
        return Vocabulary(self.program.names, self.program.kinds, assemblies_of(self.program.merged))

    @cached_property
    def known(self) -> Known:
        """What expectations may be about."""
        return Known(self.forms, self.program.tables, self.program.merged.aliases)

    @cached_property
    def forms(self) -> Mapping[str, str]:
        return forms(self.program.merged)

    def form(self, id: str) -> str:
        """What the id stands for: rule, substitution, practice, advice, value, or ""."""
        return self.forms.get(id, "")

    def id_of(self, node: t.Expectation) -> str:
        """The id that an expectation is about, renamed ones by the name they have now; of a table, the table's."""
        if node.operand is not None:
            return tables_in(node.operand)[0]
        return self.program.merged.aliases.get(node.id, node.id)

    def check(self, node: t.Expectation, world: World) -> Checked:
        """One expectation judged in a world."""
        if node.operand is not None:
            return self.looked_up(node, world)
        id = self.id_of(node)
        if node.value is not None or self.form(id) == "value":
            return self.defined(node, id, world)
        return Checked(id, node.verdict, self.verdict(id, world), node)

    def verdict(self, id: str, world: World) -> str:
        """The verdict of a rule, substitution, practice or advice."""
        families: tuple[Mapping[str, Compiled], ...] = (
            self.rules,
            self.substitutions,
            self.practices,
            self.advice,
        )
        return self.verdict_of(next(known[id] for known in families if id in known), world)

    def verdict_of(self, rule: Compiled, world: World) -> str:
        """The verdict of a compiled rule."""
        if isinstance(rule, Rule):
            return judge(self.program, rule, world, permit_date(world)).verdict
        frame = first_frame(world)
        if isinstance(rule, CompiledSubstitution):
            return self.substituted(rule.id, frame)
        if isinstance(rule, CompiledPractice):
            return usual(self.program, rule, frame, asked_of(world, rule.statement.field))
        return "raised" if raised(rule, frame, by_clause(frame)) else "not raised"

    def substituted(self, id: str, frame: Frame) -> str:
        """A substitution's verdict on the last run, the worst of the proposal's variants."""
        run = frame.world.documents[-1].runs[-1] if frame.world.documents else None
        if run is None:
            return "not shown"
        found: list[str] = []
        for variant, facts in frame.world.variants.items():
            inside = frame._replace(variant=variant, proposed=facts).enter(run)
            for change in self.program.coverage.changes(inside, run):
                if change.substitution.id == id:
                    found.append(WORD_OF[change.res.truth.value])
        return next((word for word in WORST if word in found), "does not apply")

    def defined(self, node: t.Expectation, id: str, world: World) -> Checked:
        """The value of a define, of the last run, document, zone, condition or clause put up."""
        define = self.program.defines[id]
        frame = last_frame(world, define.of)
        got = self.program.compiler.define(define)(frame) if frame is not None else Val(None)
        kind = self.program.names.kind_of_define(define)
        return self.compared(node, id, [got], [kind])

    def looked_up(self, node: t.Expectation, world: World) -> Checked:
        """Values of a table; those of further columns follow the first in the table's order."""
        assert node.operand is not None
        operands = [node.operand]
        if node.others and isinstance(node.operand, t.Lookup):
            table = self.program.tables[node.operand.table.split(".")[0]]
            operands = [
                t.Lookup(table=f"{table.id}.{column}", keys=node.operand.keys, pos=node.pos)
                for column in table.gives[: 1 + len(node.others)]
            ]
        frame = first_frame(world)
        got = [self.program.compiler.operand(operand, ())(frame) for operand in operands]
        kinds = [self.program.names.kind_of(operand, ()) for operand in operands]
        return self.compared(node, tables_in(node.operand)[0], got, kinds)

    def compared(self, node: t.Expectation, id: str, got: list[Val], kinds: list[str]) -> Checked:
        """Values beside the values expected, as text; those that are the same read the same."""
        if node.value is None:
            texts = ["not shown" if item.value is None else _text(item.value) for item in got]
            return Checked(id, node.verdict, ", ".join(texts), node)
        wanted = (node.value, *node.others)
        expected = [phrase.literal(literal) for literal in wanted]
        texts = []
        for number, literal in enumerate(wanted):
            value = got[number].value if number < len(got) else None
            same = value is not None and _same(value, literal, kinds[number])
            texts.append(expected[number] if same else "not shown" if value is None else _text(value))
        return Checked(id, ", ".join(expected), ", ".join(texts), node)

    def why(self, checked: Checked, world: World) -> tuple[str, ...]:
        """How it came about, in lines."""
        form = self.form(checked.id)
        if form == "rule":
            _, step = explain(self.program, self.rules[checked.id], world, permit_date(world))
            return tuple(lines(step))[1:]
        if form == "substitution" and world.documents:
            run = world.documents[-1].runs[-1]
            changes = self.program.coverage.changes(first_frame(world).enter(run), run)
            res = next((c.res for c in changes if c.substitution.id == checked.id), None)
            if res is None:
                return ("it does not apply to this run",)
            made = (f"{mark.left} proposed; {mark.words}; {mark.right} tested" for mark in res.marks)
            return (*made, *fact_lines(res.reads), *(missing_line(item) for item in res.missing))
        if form == "value":
            define = self.program.defines[checked.id]
            frame = last_frame(world, define.of)
            got = self.program.compiler.define(define)(frame) if frame is not None else Val(None)
            return (*fact_lines(got.reads), *(missing_line(item) for item in got.missing))
        return ()


def ready(case: t.Case, file: t.RuleFile, judge: Judge) -> tuple[Ready | None, tuple[Problem, ...]]:
    """A case with its world; None, and what is wrong, where a setting or an expectation means nothing."""
    world, problems = world_of(case, file, judge.words)
    found = (*problems, *expectation_problems(case, file, judge.known))
    return (None, found) if found else (Ready(case, file, world), ())


def asked_of(world: World, field: str) -> Fact | None:
    """What the last condition about a field asks for."""
    found = None
    for document in world.documents:
        for condition in document.conditions:
            about = condition.facts.get("condition.field")
            if about is not None and about.text == field:
                found = condition.facts.get("condition.value")
    return found


def last_frame(world: World, block: str) -> Frame | None:
    """The frame of the last thing of that block; None where the case puts up none."""
    frame = first_frame(world)
    items = {
        "document": world.documents,
        "run": tuple(run for document in world.documents for run in document.runs),
        "condition": tuple(item for document in world.documents for item in document.conditions),
        "zone": world.zones,
        "clause": world.clauses,
    }[block]
    return frame.enter(items[-1]) if items else None


def _text(value: Value) -> str:
    if isinstance(value, Quantity) and value.level:
        return value.text if value.level in value.text else f"{value.text} {value.level} level"
    return f'"{value}"' if isinstance(value, str) else shown(value)


def _same(value: Value, literal: t.Literal, kind: str) -> bool:
    """Whether a value is the one expected; to as many decimals as the case writes."""
    try:
        wanted = literal_value(literal, kind)
    except QuantityError:
        return False
    if not isinstance(value, Quantity) or not isinstance(wanted, Quantity):
        return value == wanted
    if value.kind != wanted.kind or (wanted.level and wanted.level != value.level):
        return False
    if value.value == wanted.value:
        return True
    number = literal.text.split()[0]
    places = len(number.partition(".")[2]) if number.replace(".", "").isdigit() else 0
    half = Fraction(1, 2 * 10**places)
    return places > 0 and value.unit == wanted.unit and abs(value.value - wanted.value) <= half
