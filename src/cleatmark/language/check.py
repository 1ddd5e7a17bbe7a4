"""Meaning checked before anything runs: names, kinds, units, directions, tables. All mistakes of all files are told."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator

from cleatmark.language import tree as t
from cleatmark.language.compile import inner_context
from cleatmark.language.expectations import check_cases
from cleatmark.language.layers import Layered, Merged, day
from cleatmark.language.names import Name, Names, context_of
from cleatmark.language.program import RUN_CONTEXT, fields_of, names_of
from cleatmark.problems import Problem, did_you_mean
from cleatmark.units import KINDS, QuantityError, parse

BASES = ("specification", "code", "demand", "insurer", "practice")
ACTIONS = ("stop", "resubmit", "correct", "record")
ASK = (
    "designer",
    "maker",
    "laboratory",
    "building department",
    "insurer",
    "deck trade",
    "contractor",
    "owner",
)
CONFIDENCE = ("high", "medium", "low")
TEXT_KINDS = ("text", "choice", "list")
FIELD_KINDS = (*KINDS, "text", "choice", "list", "date", "yes/no")
PLACES = re.compile(r"\{([^{}]*)\}")


class Checker:
    """Checks one merged set of rulebooks."""

    def __init__(self, merged: Merged) -> None:
        self.merged = merged
        self.names: Names = names_of(merged, fields_of(merged.files))
        self.kinds = {s.id: s.names for _, s in merged.others if isinstance(s, t.KindStatement)}
        self.problems: list[Problem] = []
        self.file: t.RuleFile = merged.files[0]

    def tell(self, node: t.Node, message: str, *help_: str) -> None:
        """Notes a problem at a node of the current file."""
        number = node.pos.line
        line = self.file.lines[number - 1] if 0 < number <= len(self.file.lines) else ""
        self.problems.append(Problem(self.file.place(node), message, tuple(help_), line, node.pos.span))

    def run(self) -> tuple[Problem, ...]:
        """All problems, in the order of files and lines."""
        for file in self.merged.files:
            self.file = file
            for statement in file.statements:
                self.statement(statement)
            self.problems.extend(check_cases(file, self.merged, self.names))
        return tuple(self.problems)

    def statement(self, statement: t.AnyStatement) -> None:
        if isinstance(statement, t.FieldStatement):
            self.field(statement)
        elif isinstance(statement, t.Requirement):
            self.clauses(statement, statement.clauses, needs_shall=True)
        elif isinstance(statement, t.Approval):
            self.approval(statement)
        elif isinstance(statement, t.Substitution):
            self.substitution(statement)
        elif isinstance(statement, t.Practice):
            self.assembly_field(statement, statement.field)
            self.clauses(statement, statement.clauses)
        elif isinstance(statement, t.AdviceStatement):
            self.advice(statement)
        elif isinstance(statement, t.Amend):
            self.amend(statement)
        elif isinstance(statement, t.Table):
            self.table(statement)
        elif isinstance(statement, t.Define):
            self.define(statement)
        elif isinstance(statement, t.ReadingStatement):
            self.reading(statement)

    # statements

    def field(self, node: t.FieldStatement) -> None:
        if node.kind not in FIELD_KINDS:
            help_ = did_you_mean(node.kind, FIELD_KINDS) or ("a kind is one of: " + ", ".join(FIELD_KINDS),)
            self.tell(node, f'no kind of field is called "{node.kind}"', *help_)
        elif node.kind in ("choice", "list") and not node.choices and not node.open:
            self.tell(
                node, "a choice lists its words", f'for example: field {node.id} "..." choice: "a", "b"'
            )

    def approval(self, node: t.Approval) -> None:
        self.clauses(node, node.clauses, context=RUN_CONTEXT, shall_optional=True)
        if node.evidence not in self.kinds:
            self.tell(
                node,
                f"no kind of document serves as {node.evidence}",
                f'declare it: kind {node.evidence} is "..."',
            )

    def substitution(self, node: t.Substitution) -> None:
        field = self.assembly_field(node, node.field)
        self.clauses(node, node.clauses, context=RUN_CONTEXT)
        if node.clauses.allows is None:
            self.tell(node, "a substitution says what it allows", "for example: allows equal, narrower")
        elif field is not None and field.field is not None:
            self.directions(node, node.clauses.allows, field)

    def directions(self, node: t.Node, allows: Iterable[str], name: Name) -> None:
        field = name.field
        assert field is not None
        words = [word for word in ("equal", field.less, field.more) if word]
        for word in allows:
            if word not in words:
                help_ = (f"{field.title.lower()} takes: {', '.join(words)}",)
                self.tell(
                    node, f'"{word}" is not a direction of {field.path}', *did_you_mean(word, words), *help_
                )

    def assembly_field(self, node: t.Node, path: str) -> Name | None:
        name = self.names.resolve(f"proposed.{path}", ())
        if isinstance(name, Name):
            return name
        near = name.near.removeprefix("proposed.") if name.near else None
        self.tell(node, f"no field is called `{path}`", *((f'did you mean "{near}"?',) if near else ()))
        return None

    def amend(self, node: t.Amend) -> None:
        key = self.merged.aliases.get(node.id, node.id)
        layered: Layered | None = self.merged.rules.get(key)
        context = (
            RUN_CONTEXT if layered and isinstance(layered.statement, t.Substitution | t.Approval) else ()
        )
        self.clauses(node, node.clauses, context=context)
        if layered and isinstance(layered.statement, t.Substitution) and node.clauses.allows is not None:
            name = self.names.resolve(f"proposed.{layered.statement.field}", ())
            if isinstance(name, Name):
                self.directions(node, node.clauses.allows, name)

    def advice(self, node: t.AdviceStatement) -> None:
        context = ("clause",)
        self.clauses(node, node.clauses, context=context)
        if node.clauses.applies is None:
            self.tell(
                node, "advice says when it is raised", 'for example: when clause.flags includes "misuse"'
            )

    def table(self, node: t.Table) -> None:
        columns = len(node.gives) or 1
        for row in node.rows:
            if len(row.keys) != len(node.by):
                keys = ", ".join(node.by)
                self.tell(row, f"the row has {len(row.keys)} keys; the table is by {keys}")
            if len(row.values) != columns:
                self.tell(row, f"the row gives {len(row.values)} values; the table gives {columns}")
            if row.source is None and not node.sources:
                self.tell(
                    row, "the row has no source", 'add one, such as: source "ANSI/UL 580" at "class table"'
                )
            for literal in (*row.keys, *row.values):
                if literal is not None:
                    self.literal(literal, "")
        if not node.rows:
            self.tell(node, "the table has no rows")

    def define(self, node: t.Define) -> None:
        context = context_of(node.of)
        if not context:
            self.tell(node, f'a define is of a run, document, condition, zone or clause, not of "{node.of}"')
            return
        for alternative in node.alternatives:
            self.operand(alternative.value, context)
            if alternative.when is not None:
                self.condition(alternative.when, context)
        if not node.alternatives:
            self.tell(node, "a define says what it stands for", "for example: as pressure / safety_factor")
        trail = self._circle(node.id, (node.id,))
        if trail:
            self.tell(
                node, "defines go in a circle: " + " needs ".join(trail), "one of them must rest on a field"
            )

    def _circle(self, name: str, trail: tuple[str, ...]) -> tuple[str, ...]:
        for path in _paths(self.names.defines[name]):
            key = path.rsplit(".", 1)[-1]
            if key == trail[0]:
                return (*trail, key)
            if key in self.names.defines and key not in trail:
                found = self._circle(key, (*trail, key))
                if found:
                    return found
        return ()

    def reading(self, node: t.ReadingStatement) -> None:
        if not node.patterns:
            self.tell(
                node, "a reading says from which words", 'for example: from "class {number: 30, 60, 90}"'
            )
        if not node.gives and not node.flags:
            self.tell(
                node, "a reading gives a subject or flags a clause", "for example: gives spec.uplift.class"
            )
        if node.gives:
            name = self.names.resolve(node.gives, ())
            if not isinstance(name, Name) or name.scope != "spec":
                near = getattr(name, "near", None)
                help_ = (f'did you mean "{near}"?',) if near else ("a subject starts with spec.",)
                self.tell(node, f"`{node.gives}` is not a subject of specifications", *help_)

    # clauses

    def clauses(
        self,
        node: t.Statement,
        clauses: t.Clauses,
        *,
        context: tuple[str, ...] = (),
        needs_shall: bool = False,
        shall_optional: bool = False,
    ) -> None:
        if clauses.basis is not None and clauses.basis not in BASES:
            self.tell(node, f'no basis is called "{clauses.basis}"', *_one_of(clauses.basis, BASES))
        if clauses.action is not None and clauses.action not in ACTIONS:
            self.tell(node, f'no action is called "{clauses.action}"', *_one_of(clauses.action, ACTIONS))
        if clauses.ask is not None and clauses.ask.to not in ASK:
            self.tell(clauses.ask, f'nobody is called "{clauses.ask.to}"', *_one_of(clauses.ask.to, ASK))
        for source in clauses.sources:
            if source.confidence and source.confidence not in CONFIDENCE:
                self.tell(source, f'no confidence is called "{source.confidence}"', *_one_of("", CONFIDENCE))
        applies_context = context if not isinstance(node, t.Approval) else ()
        if clauses.applies is not None:
            self.condition(clauses.applies, applies_context)
        if clauses.shall is None:
            if needs_shall:
                example = "for example: shall proposed.panel.width meets spec.panel.width"
                self.tell(node, f'requirement "{node.id}" requires nothing: it has no `shall`', example)
        elif isinstance(clauses.shall, t.ShownBy):
            self.shown(clauses.shall)
        else:
            self.condition(clauses.shall, context)
        if needs_shall or shall_optional:
            if not clauses.sources:
                self.tell(
                    node,
                    f'"{node.id}" has no source',
                    "add: source common practice, or the standard it rests on",
                )
            if clauses.action is None:
                self.tell(node, f'"{node.id}" has no action', "add: action stop, resubmit, correct or record")
        self.messages(node, clauses, context)

    def shown(self, node: t.ShownBy) -> None:
        known = {*self.kinds, "run", "document"}
        if node.kind not in known:
            self.tell(
                node, f'no kind of document is called "{node.kind}"', *_one_of(node.kind, sorted(known))
            )
        context = (*RUN_CONTEXT, "zone") if node.every_zone else RUN_CONTEXT
        for part in (node.where, node.having):
            if part is not None:
                self.condition(part, context)
        if node.zone_where is not None:
            self.condition(node.zone_where, ("zone",))

    def messages(self, node: t.Statement, clauses: t.Clauses, context: tuple[str, ...]) -> None:
        zone = isinstance(clauses.shall, t.ShownBy) and clauses.shall.every_zone
        inside = (*(context or RUN_CONTEXT), *(("zone",) if zone else ()))
        if isinstance(node, t.AdviceStatement):
            inside = ("clause",)
        texts = (
            clauses.otherwise,
            clauses.unknown,
            clauses.fine,
            clauses.remedy,
            clauses.because,
            clauses.message,
        )
        for text in texts:
            if text is None:
                continue
            for match in PLACES.finditer(text.text):
                name = self.names.resolve(match.group(1), inside)
                if not isinstance(name, Name):
                    near = (f'did you mean "{name.near}"?',) if name.near else ()
                    self.tell(text, f"the message names `{match.group(1)}`, which is no fact", *near)

    # conditions and operands

    def condition(self, node: t.Condition, context: tuple[str, ...]) -> None:
        if isinstance(node, t.And | t.Or):
            for part in node.parts:
                self.condition(part, context)
        elif isinstance(node, t.Not):
            self.condition(node.part, context)
        elif isinstance(node, t.Compare):
            self.compare(node, context)
        elif isinstance(node, t.OneOf):
            kind = self.operand(node.left, context)
            for option in node.options:
                self.operand(option, context, kind)
        elif isinstance(node, t.IsStated):
            self.stated(node, context)
        elif isinstance(node, t.Covers):
            if "run" not in context and "document" not in context:
                self.tell(node, "`it covers proposed` needs a report, run or document to speak of")
            elif node.in_zone and "zone" not in context:
                self.tell(
                    node,
                    "`in zone` needs a zone to speak of",
                    "for example: shall every zone be shown by a run ...",
                )
        else:
            self.quantified(node, context)

    def quantified(self, node: t.Quantified, context: tuple[str, ...]) -> None:
        known = {"zone", "run", "document", "condition", "clause", *self.kinds}
        if node.over not in known:
            singular = node.over.rstrip("s")
            near = did_you_mean(node.over, known) or (
                (f'did you mean "{singular}"?',) if singular in known else ()
            )
            self.tell(
                node,
                f"`{node.quantifier} {node.over}`: no such thing",
                *near,
                "one of: " + ", ".join(sorted(known)),
            )
            return
        inner = inner_context(node.over, self.kinds, context)
        if node.where is not None:
            self.condition(node.where, inner)
        self.condition(node.has, inner)

    def stated(self, node: t.IsStated, context: tuple[str, ...]) -> None:
        if not isinstance(node.operand, t.Path):
            self.tell(
                node,
                f"`is {node.word}` stands behind the name of a fact",
                "for example: spec.uplift.class is stated",
            )
            return
        name = self.names.resolve(node.operand.name, context)
        if not isinstance(name, Name):
            self.unknown(node.operand, name)
        elif node.word == "known" and name.scope not in ("spec", "job"):
            help_ = "leave it out: a fact that is missing makes the verdict `not shown` by itself"
            self.tell(node, f"`is known` on {node.operand.name} would let absence pass as a verdict", help_)

    def compare(self, node: t.Compare, context: tuple[str, ...]) -> None:
        left_kind = self.operand(node.left, context)
        right_kind = self.operand(node.right, context, left_kind)
        if not left_kind and right_kind:
            self.operand(node.left, context, right_kind)
        field = None
        if isinstance(node.left, t.Path):
            name = self.names.resolve(node.left.name, context)
            field = name.field if isinstance(name, Name) else None
        by_spec = isinstance(node.right, t.Path) and node.right.name.startswith("spec.")
        if node.op == "meets" and not by_spec:
            message = "`meets` compares with what the specification states"
            self.tell(node.right, message, "write spec. and the field")
        words_known = {
            "is",
            "is not",
            "at least",
            "at most",
            "more than",
            "less than",
            "before",
            "after",
            "on or before",
        }
        words_known |= {"on or after", "meets", "includes", "mentions"}
        if node.op not in words_known:
            words = [word for word in (field.less, field.more) if word] if field else []
            if node.op not in words:
                title = field.path if field else "this value"
                takes = (f"{title} takes: {', '.join(words)}",) if words else (f"{title} has no direction",)
                self.tell(
                    node, f'"{node.op}" is not a direction of {title}', *did_you_mean(node.op, words), *takes
                )
        if node.op in ("at least", "at most", "more than", "less than") and left_kind in (
            *TEXT_KINDS,
            "yes/no",
        ):
            self.tell(node, f"`{node.op}` compares amounts; {_name(node.left)} is {left_kind}")
        if left_kind and right_kind and not _alike(left_kind, right_kind, node.op):
            message = f"a {left_kind} is compared with a {right_kind}"
            self.tell(
                node, message, f"{_name(node.left)} is a {left_kind}, {_name(node.right)} is a {right_kind}"
            )

    def operand(self, node: t.Operand, context: tuple[str, ...], kind: str = "") -> str:
        """Checks an operand and gives its kind."""
        if isinstance(node, t.Literal):
            return self.literal(node, kind)
        if isinstance(node, t.Path):
            name = self.names.resolve(node.name, context)
            if not isinstance(name, Name):
                self.unknown(node, name)
                return ""
            if name.scope == "nearest":
                self.tell(node, "`nearest` can be named in messages only; a verdict never rests on it")
            if isinstance(name, Name) and name.field is not None and node.name == name.field.path:
                return name.kind
            return name.kind
        if isinstance(node, t.Arithmetic):
            self.operand(node.left, context)
            self.operand(node.right, context)
        elif isinstance(node, t.Choose):
            for item in node.operands:
                self.operand(item, context)
        else:
            self.lookup(node, context)
        return self.names.kind_of(node, context)

    def lookup(self, node: t.Lookup, context: tuple[str, ...]) -> None:
        table_id, _, column = node.table.partition(".")
        table = self.names.tables.get(table_id)
        if table is None:
            self.tell(node, f'no table is called "{table_id}"', *did_you_mean(table_id, self.names.tables))
        elif len(node.keys) != len(table.by):
            keys = ", ".join(table.by)
            self.tell(
                node, f"table {table_id} is looked up by {keys}: {len(table.by)} keys, not {len(node.keys)}"
            )
        elif column and column not in table.gives:
            self.tell(node, f'table {table_id} gives no "{column}"', *did_you_mean(column, table.gives))
        for key in node.keys:
            self.operand(key, context)

    def literal(self, node: t.Literal, kind: str) -> str:
        if node.form != "quantity":
            if node.form == "date":
                self.date(node, node.text)
            if node.form == "text" and kind and kind not in TEXT_KINDS:
                example = (
                    f"a {kind} is written without quotation marks"
                    if kind != "date"
                    else "a date is written 2026-11-01"
                )
                self.tell(node, f'"{node.text}" is text where a {kind} is wanted', example)
            return "" if node.form == "none" else node.form
        if kind in TEXT_KINDS:
            self.tell(
                node,
                f"{node.text} is a quantity where text is wanted",
                f'write it in quotation marks: "{node.text}"',
            )
            return kind
        try:
            return parse(node.text, kind if kind in KINDS else "").kind
        except QuantityError as error:
            self.tell(node, str(error))
            return kind

    def date(self, node: t.Node, text: str) -> None:
        try:
            day(text)
        except ValueError:
            self.tell(node, f"{text} is not a day", "a date is written 2026-11-01")

    def unknown(self, node: t.Node, name: object) -> None:
        near = getattr(name, "near", None)
        help_: tuple[str, ...] = getattr(name, "help", ())
        self.tell(node, getattr(name, "message", ""), *((f'did you mean "{near}"?',) if near else ()), *help_)


def check(merged: Merged) -> tuple[Problem, ...]:
    """All mistakes of meaning in a merged set of rulebooks."""
    if not merged.files:
        return ()
    return Checker(merged).run()


def _one_of(word: str, known: Iterable[str]) -> tuple[str, ...]:
    listed = list(known)
    return (*did_you_mean(word, listed), "one of: " + ", ".join(listed))


def _alike(left: str, right: str, op: str) -> bool:
    if op in ("includes", "mentions"):
        return True
    text = (*TEXT_KINDS,)
    if left in text and right in text:
        return True
    return left == right or {left, right} <= {"length", "thickness", "gauge"}


def _name(node: t.Operand) -> str:
    return node.name if isinstance(node, t.Path) else getattr(node, "text", "the value")


def _paths(node: t.Define) -> Iterator[str]:
    def of(operand: t.Operand) -> Iterator[str]:
        if isinstance(operand, t.Path):
            yield operand.name
        elif isinstance(operand, t.Arithmetic):
            yield from of(operand.left)
            yield from of(operand.right)
        elif isinstance(operand, t.Choose):
            for item in operand.operands:
                yield from of(item)
        elif isinstance(operand, t.Lookup):
            for item in operand.keys:
                yield from of(item)

    for alternative in node.alternatives:
        yield from of(alternative.value)
