"""Checked trees to closures: names resolved, kinds told, parts compiled. A condition becomes Frame -> Res (see
`conditions`), an operand Frame -> Val (see `values`)."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from cleatmark.facts import shown
from cleatmark.fields import Field
from cleatmark.language import conditions, values
from cleatmark.language import tree as t
from cleatmark.language.compare import ALLOWED
from cleatmark.language.logic import Beside, Res
from cleatmark.language.names import Name, Names, context_of
from cleatmark.language.once import Once
from cleatmark.language.values import Get, Test, literal_value
from cleatmark.language.world import Frame, Item

Context = tuple[str, ...]

COVERS = "covers"
METAL_KINDS = ("thickness", "stress")


class Compiler:
    """Compiles operands and conditions of one merged set of rules.

    paths  gathers what the compiled text reads: full paths, COVERS, what a quantifier ranges over
    """

    def __init__(
        self, names: Names, kinds: Mapping[str, tuple[str, ...]], covers: Callable[[Frame, Item], Res]
    ) -> None:
        self.names = names
        self.kinds = kinds
        self.covers = covers
        self.once = Once()
        self.paths: set[str] = set()
        self._defines: dict[str, tuple[Get, frozenset[str]]] = {}
        self._judged: dict[tuple[int, Context], tuple[t.Condition, Test, frozenset[str]]] = {}

    # operands

    def operand(self, node: t.Operand, context: Context, kind: str = "") -> Get:
        """Closure that gives the operand's value; `kind` is what a bare literal stands for."""
        if isinstance(node, t.Literal):
            return values.constant(literal_value(node, kind))
        if isinstance(node, t.Path):
            return self.path(self._name(node, context))
        if isinstance(node, t.Arithmetic):
            left = self.operand(node.left, context, kind)
            right = self.operand(node.right, context, kind if node.op in "+-" else "number")
            return values.reckoned(node.op, left, right)
        if isinstance(node, t.Choose):
            known = kind or self.names.kind_of(node, context)
            gets = [self.operand(item, context, known) for item in node.operands]
            return values.chosen_of(node.how, gets, node.stated_only)
        table, _, column = node.table.partition(".")
        kinds = [self.names.kind_of(key, context) for key in node.keys]
        gets = [self.operand(key, context) for key in node.keys]
        return values.looked_up(self.names.tables[table], column, kinds, gets)

    def path(self, name: Name) -> Get:
        """Closure that reads a name's fact, or says what is missing."""
        if name.define is not None:
            return self.define(name.define)
        self.paths.add(name.path)
        return values.asked_at(name) if name.scope == "spec" else values.fact_at(name)

    def define(self, define: t.Define) -> Get:
        """Closure of a define; compiled once."""
        if define.id not in self._defines:
            outer, self.paths = self.paths, set()
            context = context_of(define.of)
            kind = self.names.kind_of_define(define)
            branches = [
                (
                    self.condition(item.when, context) if item.when is not None else None,
                    self.operand(item.value, context, kind),
                )
                for item in define.alternatives
            ]
            get = self.once.keep(values.defined(define, branches), self.paths)
            self._defines[define.id] = (get, frozenset(self.paths))
            self.paths = outer
        get, paths = self._defines[define.id]
        self.paths |= paths
        return get

    def metal_beside(self, name: Name) -> Get | None:
        """Reads the material of the same part of the assembly."""
        group = name.path.rsplit(".", 1)[0]
        material = self.names.resolve(f"{group}.material", ("run",))
        return self.path(material) if isinstance(material, Name) else None

    def _name(self, node: t.Path, context: Context) -> Name:
        """What a checked rule's name means."""
        name = self.names.resolve(node.name, context)
        if not isinstance(name, Name):
            raise ValueError(name.message)
        return name

    def _fact(self, node: t.Operand, context: Context) -> Name | None:
        """The name of a fact that stands somewhere, neither worked out nor asked by the specification."""
        name = self._name(node, context) if isinstance(node, t.Path) else None
        return name if name is not None and name.define is None and name.scope != "spec" else None

    def _metal(self, node: t.Operand, context: Context) -> Get | None:
        """Reads the metal that a thickness or a yield strength belongs to: `material` beside it."""
        if not isinstance(node, t.Path):
            return None
        name = self.names.resolve(node.name, context)
        if not isinstance(name, Name) or name.kind not in METAL_KINDS or name.field is None:
            return None
        return self.metal_beside(name)

    def _field(self, node: t.Operand, context: Context) -> Field | None:
        name = self.names.resolve(node.name, context) if isinstance(node, t.Path) else None
        return name.field if isinstance(name, Name) else None

    # conditions

    def condition(self, node: t.Condition, context: Context = ()) -> Test:
        """Closure that judges the condition."""
        if isinstance(node, t.And | t.Or):
            tests = [self.condition(part, context) for part in node.parts]
            return conditions.all_hold(tests) if isinstance(node, t.And) else conditions.some_hold(tests)
        if isinstance(node, t.Not):
            return conditions.does_not_hold(self.condition(node.part, context))
        if isinstance(node, t.Covers):
            self.paths.add(COVERS)
            return conditions.covered(self.covers, node.in_zone)
        if isinstance(node, t.Quantified):
            self.paths.add(node.over)
            inner = inner_context(node.over, self.kinds, context)
            where = self.condition(node.where, inner) if node.where is not None else None
            has = self.condition(node.has, inner)
            return conditions.quantified(node.quantifier, node.over, self.items(node.over), where, has)
        return self._plain(node, context)

    def _plain(self, node: t.Compare | t.OneOf | t.IsStated, context: Context) -> Test:
        """A condition about values; one that asks the same of a run in every zone is judged once a run,
        unless it reads one fact alone: that is judged sooner than looked up. What the specification asks is many."""
        key = (id(node), context)
        if key not in self._judged:
            outer, self.paths = self.paths, set()
            if isinstance(node, t.Compare):
                test = self._compare(node, context)
            elif isinstance(node, t.OneOf):
                test = self._one_of(node, context)
            else:
                test = self._stated(node, context)
            many = len(self.paths) > 1 or any(path.startswith("spec.") for path in self.paths)
            if many and not {"run", "document", "clause"}.isdisjoint(context):
                test = self.once.keep(test, self.paths)
            self._judged[key] = (node, test, frozenset(self.paths))
            self.paths = outer
        _, test, paths = self._judged[key]
        self.paths |= paths
        return test

    def _compare(self, node: t.Compare, context: Context) -> Test:
        op, left, right = node.op, node.left, node.right
        field, metals = self._field(left, context), (self._metal(left, context), self._metal(right, context))
        path = left.name if isinstance(left, t.Path) else ""
        if op == "meets":
            assert isinstance(right, t.Path)
            self.paths |= {right.name, *self.names.likes.get(right.name, ())}
            subject = right.name.removeprefix("spec.")
            return conditions.meets(subject, field, self.operand(left, context), metals)
        kind = self.names.kind_of(left, context)
        if op == "includes" and path.startswith("spec.") and not path.endswith(".verb"):
            self.paths.add(path)
            wanted = self.operand(right, context, kind)
            return conditions.asks_for(path.removeprefix("spec."), field, wanted, path)
        base = "is" if op == "is not" else op
        if base not in ALLOWED and base not in ("includes", "mentions") and field is not None:
            base = "less than" if base == field.less else "more than"
        fact = self._fact(left, context)
        if fact is not None and isinstance(right, t.Literal) and metals == (None, None):
            self.paths.add(fact.path)
            value = literal_value(right, kind)
            test = conditions.fact_beside(fact, base, value, Beside(op, shown(value), value, path))
        else:
            get = self.operand(left, context, self.names.kind_of(right, context))
            other = self.operand(right, context, kind)
            test = conditions.values_beside(base, op, get, other, path, field, metals)
        return conditions.does_not_hold(test) if op == "is not" else test

    def _one_of(self, node: t.OneOf, context: Context) -> Test:
        kind = self.names.kind_of(node.left, context)
        path = node.left.name if isinstance(node.left, t.Path) else ""
        words = "is not one of" if node.negated else "is one of"
        known = [literal_value(one, kind) for one in node.options if isinstance(one, t.Literal)]
        texts = [value for value in known if isinstance(value, str)]
        fact = self._fact(node.left, context)
        if fact is not None and len(texts) == len(node.options):
            self.paths.add(fact.path)
            test = conditions.fact_among(fact, texts, words, path)
        else:
            left = self.operand(node.left, context)
            options = [self.operand(option, context, kind) for option in node.options]
            test = conditions.one_of(left, options, words, path)
        return conditions.does_not_hold(test) if node.negated else test

    def _stated(self, node: t.IsStated, context: Context) -> Test:
        assert isinstance(node.operand, t.Path)
        name = self._name(node.operand, context)
        if name.scope == "spec":
            self.paths.add(name.path)
            subject = name.path.removeprefix("spec.")
            test = conditions.is_asked(subject, name.field, node.word == "known")
        else:
            test = conditions.is_stated(self.path(name))
        return conditions.does_not_hold(test) if node.negated else test

    def items(self, over: str) -> Callable[[Frame], tuple[Item, ...]]:
        """The things that `over` ranges over, in the frame."""
        if over == "zone":
            return lambda frame: frame.world.zones
        if over == "clause":
            return lambda frame: frame.world.clauses
        if over == "condition":
            return lambda frame: (
                frame.document.conditions
                if frame.document is not None
                else tuple(c for d in frame.world.documents for c in d.conditions)
            )
        if over == "run":
            return lambda frame: (
                frame.document.runs
                if frame.document is not None
                else tuple(r for d in frame.world.documents for r in d.runs)
            )
        names = self.kinds.get(over, ())
        if over == "document" or not names:
            return lambda frame: frame.world.documents
        return lambda frame: tuple(d for d in frame.world.documents if kind_of_document(d) in names)


def inner_context(over: str, kinds: Mapping[str, tuple[str, ...]], context: Context) -> Context:
    """Blocks that can be read inside a quantifier over `over`."""
    block = "document" if over in kinds or over == "document" else over
    own = ("run", "document") if block == "document" and over != "document" else context_of(block)
    own = ("document",) if over == "document" else own
    return (*own, *(item for item in context if item not in own))


def kind_of_document(item: Item) -> str:
    """What kind of paper a document is, as declared."""
    fact = item.facts.get("document.kind")
    return str(fact.value) if fact is not None else ""
