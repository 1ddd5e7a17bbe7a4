"""A set of rulebooks, merged and compiled: what a review runs."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct
from msgspec.structs import asdict, replace

from cleatmark.fields import Field, FieldBook
from cleatmark.language import tree as t
from cleatmark.language.compile import Compiler
from cleatmark.language.coverage import CompiledSubstitution, Coverage, compile_substitution
from cleatmark.language.layers import Layered, Link, Merged
from cleatmark.language.names import Names
from cleatmark.language.values import Get, Test

RUN_CONTEXT = ("run", "document")


class CompiledShown(Struct, frozen=True):
    """A compiled `be shown by`. `apart` are the parts of `where` beside coverage: what makes a paper one of those
    that the rule speaks of."""

    kind: str
    where: Test | None
    having: Test | None
    every_zone: bool
    zone_where: Test | None
    node: t.ShownBy
    apart: tuple[Test, ...] = ()


class Rule(Struct, frozen=True):
    """A requirement, approval or listing_body ready to be judged. `hold` or `shown` is set, never both.

    paths    full paths of all that it reads, in every version; COVERS where it asks for coverage
    offered  those of the proposal that `hold` reads, where it reads nothing else that may differ by zone; else None
    lasting  whether it is neither dated nor waived: it stands as it is on any permit date
    earlier  the rule as it stood before the last dated change
    """

    id: str
    title: str
    clauses: t.Clauses
    layered: Layered
    applies: Test | None
    hold: Test | None
    shown: CompiledShown | None
    paths: frozenset[str] = frozenset()
    offered: tuple[str, ...] | None = None
    lasting: bool = False
    earlier: Rule | None = None

    @property
    def chain(self) -> tuple[Link, ...]:
        return self.layered.chain


class CompiledPractice(Struct, frozen=True):
    """What is usual for a field, when."""

    statement: t.Practice
    layered: Layered
    when: Test | None
    earlier: CompiledPractice | None = None


class CompiledAdvice(Struct, frozen=True):
    """Advice with its condition; judged once for every clause where it speaks of a clause.

    first  the first part of a condition of several, all of which must hold: most clauses fail it already
    """

    statement: t.AdviceStatement
    layered: Layered
    when: Test
    by_clause: bool
    earlier: CompiledAdvice | None = None
    first: Test | None = None


Compiled = Rule | CompiledSubstitution | CompiledPractice | CompiledAdvice


class Program(Struct, frozen=True):
    """All that a review asks of the rules."""

    merged: Merged
    book: FieldBook
    names: Names
    compiler: Compiler
    coverage: Coverage
    rules: tuple[Rule, ...]
    practices: tuple[CompiledPractice, ...]
    advice: tuple[CompiledAdvice, ...]
    kinds: Mapping[str, tuple[str, ...]]
    defines: Mapping[str, t.Define]
    tables: Mapping[str, t.Table]
    readings: tuple[tuple[t.RuleFile, t.ReadingStatement], ...]
    cautions: tuple[str, ...]

    def get(self, define: str) -> Get | None:
        """The compiled define of that name."""
        node = self.defines.get(define)
        return self.compiler.define(node) if node is not None else None


def fields_of(files: Iterable[t.RuleFile]) -> FieldBook:
    """The declared fields of rule files."""
    out = []
    for file in files:
        for statement in file.statements:
            if isinstance(statement, t.FieldStatement):
                values = asdict(statement)
                out.append(
                    Field(
                        path=values.pop("id"),
                        place=file.place(statement),
                        **{name: value for name, value in values.items() if name not in ("pos", "places")},
                    )
                )
    return FieldBook(out)


def names_of(merged: Merged, book: FieldBook) -> Names:
    """The names that rules of a merged set may use."""
    defines = {s.id: s for _, s in merged.others if isinstance(s, t.Define)}
    tables = {s.id: s for _, s in merged.others if isinstance(s, t.Table)}
    likes: dict[str, frozenset[str]] = {}
    for _, s in merged.others:
        if isinstance(s, t.ReadingStatement) and s.like:
            likes[s.gives] = likes.get(s.gives, frozenset()) | {f"proposed.{s.like}"}
    return Names(book, defines, tables, likes)


def compile_program(merged: Merged) -> Program:
    """Compiles a merged and checked set of rulebooks."""
    book = fields_of(merged.files)
    names = names_of(merged, book)
    kinds = {s.id: s.names for _, s in merged.others if isinstance(s, t.KindStatement)}
    coverage = Coverage()
    compiler = Compiler(names, kinds, coverage.judge)
    substitutions: list[CompiledSubstitution] = []
    rules: list[Rule] = []
    practices: list[CompiledPractice] = []
    advice: list[CompiledAdvice] = []
    for layered in merged.rules.values():
        compiled = compile_rule(layered, compiler)
        if isinstance(compiled, CompiledSubstitution):
            substitutions.append(compiled)
        elif isinstance(compiled, CompiledPractice):
            practices.append(compiled)
        elif isinstance(compiled, CompiledAdvice):
            advice.append(compiled)
        else:
            rules.append(compiled)
    coverage.use(substitutions)
    return Program(
        merged=merged,
        book=book,
        names=names,
        compiler=compiler,
        coverage=coverage,
        rules=tuple(rules),
        practices=tuple(practices),
        advice=tuple(advice),
        kinds=kinds,
        defines=names.defines,
        tables=names.tables,
        readings=tuple((f, s) for f, s in merged.others if isinstance(s, t.ReadingStatement)),
        cautions=tuple(s.title for _, s in merged.others if isinstance(s, t.Caution)),
    )


def compile_rule(layered: Layered, compiler: Compiler) -> Compiled:
    """The compiled form of a rule, with those of its earlier versions below it."""
    below = compile_rule(layered.below, compiler) if layered.below is not None else None
    statement = layered.statement
    if isinstance(statement, t.Substitution):
        earlier = below if isinstance(below, CompiledSubstitution) else None
        return compile_substitution(statement, layered, compiler, earlier)
    if isinstance(statement, t.Practice):
        when = compiler.condition(statement.when) if statement.when is not None else None
        return CompiledPractice(
            statement, layered, when, below if isinstance(below, CompiledPractice) else None
        )
    if isinstance(statement, t.AdviceStatement):
        by_clause = _speaks_of_clause(statement.clauses.applies)
        assert statement.clauses.applies is not None
        applies, context = statement.clauses.applies, ("clause",) if by_clause else ()
        test = compiler.condition(applies, context)
        first = compiler.condition(applies.parts[0], context) if isinstance(applies, t.And) else None
        return CompiledAdvice(
            statement, layered, test, by_clause, below if isinstance(below, CompiledAdvice) else None, first
        )
    compiler.paths = set()
    rule = _rule(statement, layered, compiler)
    before = below if isinstance(below, Rule) else None
    paths = compiler.paths | (before.paths if before is not None else set())
    lasting = not layered.dates and layered.waived is None
    return replace(rule, paths=frozenset(paths), lasting=lasting, earlier=before)


def _rule(statement: t.Requirement | t.Approval, layered: Layered, compiler: Compiler) -> Rule:
    clauses = statement.clauses
    applies = compiler.condition(clauses.applies) if clauses.applies is not None else None
    if isinstance(statement, t.Approval):
        shown = shown_of_approval(statement)
        title = f"{statement.evidence.capitalize()} by {statement.body}"
        return Rule(statement.id, title, clauses, layered, applies, None, _shown(shown, compiler))
    shall = clauses.shall
    if isinstance(shall, t.ShownBy):
        return Rule(statement.id, statement.title, clauses, layered, applies, None, _shown(shall, compiler))
    assert shall is not None
    outer, compiler.paths = compiler.paths, set()
    hold, offered = compiler.condition(shall), _offered(compiler.paths)
    compiler.paths |= outer
    return Rule(statement.id, statement.title, clauses, layered, applies, hold, None, offered=offered)


def _offered(paths: Iterable[str]) -> tuple[str, ...] | None:
    """The paths of the proposal, where there are none beside them that may differ by zone."""
    paths = sorted(paths)
    if not all(path.startswith(("proposed.", "job.", "submittal.")) for path in paths):
        return None
    return tuple(path for path in paths if path.startswith("proposed."))


def shown_of_approval(statement: t.Approval) -> t.ShownBy:
    """`approval x by "FM"` asks for a paper of that kind by that body which covers the proposal; its `shall`, where
    it has one, is what the paper must carry."""
    pos = statement.pos
    body = t.Compare(
        op="is",
        left=t.Path(name="document.body", pos=pos),
        right=t.Literal(text=statement.body, form="text", pos=pos),
        pos=pos,
    )
    having = statement.clauses.shall
    return t.ShownBy(
        kind=statement.evidence,
        where=t.And(parts=(body, t.Covers(pos=pos)), pos=pos),
        having=having if not isinstance(having, t.ShownBy) else None,
        pos=pos,
    )


def _shown(node: t.ShownBy, compiler: Compiler) -> CompiledShown:
    context = (*RUN_CONTEXT, "zone") if node.every_zone else RUN_CONTEXT
    return CompiledShown(
        kind=node.kind,
        where=compiler.condition(node.where, context) if node.where is not None else None,
        having=compiler.condition(node.having, context) if node.having is not None else None,
        every_zone=node.every_zone,
        zone_where=compiler.condition(node.zone_where, ("zone",)) if node.zone_where is not None else None,
        node=node,
        apart=tuple(compiler.condition(part, context) for part in parts_of(node.where)),
    )


def parts_of(where: t.Condition | None) -> tuple[t.Condition, ...]:
    """The parts of a `where` that stand beside coverage."""
    parts = where.parts if isinstance(where, t.And) else (where,) if where is not None else ()
    return tuple(part for part in parts if not isinstance(part, t.Covers))


def _speaks_of_clause(node: t.Condition | None) -> bool:
    if isinstance(node, t.And | t.Or):
        return any(_speaks_of_clause(part) for part in node.parts)
    if isinstance(node, t.Not):
        return _speaks_of_clause(node.part)
    if isinstance(node, t.Compare | t.OneOf):
        left = node.left
        return isinstance(left, t.Path) and left.name.startswith("clause.")
    return False
