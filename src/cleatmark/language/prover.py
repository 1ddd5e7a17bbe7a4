"""One rulebook proven: its cases run, each verdict asked for, each small change tried."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.language import mutate
from cleatmark.language import tree as t
from cleatmark.language.changes import Changes
from cleatmark.language.expect import Checked, Judge, Ready, ready
from cleatmark.language.layers import Amendable, Layered, Merged
from cleatmark.language.program import RUN_CONTEXT, Program, compile_program, shown_of_approval
from cleatmark.language.witnesses import Witnesses
from cleatmark.problems import InputError, Place, Problem


class Failing(Struct, frozen=True):
    """A case that expects something else than what came."""

    case: str
    place: Place
    rule: str
    expected: str
    got: str
    why: tuple[str, ...]


class Same(Struct, frozen=True):
    """Changes that a rule's author declares to mean the same, with the reason."""

    rule: str
    place: Place
    changes: tuple[str, ...]
    why: tuple[str, ...]


class Proof(Struct, frozen=True):
    """What the proof of one rulebook found.

    lacking    a rule without a case for one of its verdicts
    unnoticed  changes that no case noticed
    units      ids of what was to be proven, in the order of the file
    changes    how many changes were tried
    """

    rulebook: str
    file: str
    units: tuple[str, ...]
    cases: int
    changes: int
    failing: tuple[Failing, ...] = ()
    lacking: tuple[tuple[str, Problem], ...] = ()
    unnoticed: tuple[tuple[str, Problem], ...] = ()
    declared: tuple[Same, ...] = ()

    @property
    def proven(self) -> bool:
        return not (self.failing or self.lacking or self.unnoticed)

    def stands(self, unit: str) -> bool:
        """Whether one rule is proven."""
        told = {item.rule for item in self.failing} | {key for key, _ in (*self.lacking, *self.unnoticed)}
        return unit in self.units and unit not in told


class Tried(Struct, frozen=True):
    """One change of a unit: its words, its place, and how to tell whether a case notices it."""

    what: str
    pos: t.Pos
    noticed: Callable[[], bool]


class Prover:
    """Runs the cases of one rulebook, then its changes."""

    def __init__(self, merged: Merged) -> None:
        self.merged = merged
        self.file = merged.files[-1]
        self.program: Program = compile_program(merged)
        self.judge = Judge(self.program)
        self.changes = Changes(self.program.names, self.program.kinds)
        self.failing: list[Failing] = []
        self.lacking: list[tuple[str, Problem]] = []
        self.unnoticed: list[tuple[str, Problem]] = []
        self.declared: list[Same] = []
        self.witnesses = Witnesses(merged, self.program, self.judge)
        self.got: dict[str, set[str]] = {}
        self.tried = 0

    def proof(self) -> Proof:
        """Everything, in order: cases, verdicts, changes."""
        cases = [statement for statement in self.file.statements if isinstance(statement, t.Case)]
        self.run(cases)
        units = list(self.units())
        for unit in units:
            self.both(unit)
            self.change(unit)
        if units:
            self.dates_of_head()
        return Proof(
            rulebook=self.file.head.id,
            file=self.file.file,
            units=tuple(unit.id for unit in units),
            cases=len(cases),
            changes=self.tried,
            failing=tuple(self.failing),
            lacking=tuple(self.lacking),
            unnoticed=tuple(self.unnoticed),
            declared=tuple(self.declared),
        )

    def run(self, cases: Iterable[t.Case]) -> None:
        """Judges every expectation; those that are met bear witness later."""
        problems: list[Problem] = []
        for case in cases:
            made, found = ready(case, self.file, self.judge)
            problems.extend(found)
            if made is None:
                continue
            for node in case.expectations:
                checked = self.judge.check(node, made.world)
                if checked.met:
                    self.witnesses.add(checked.id, made, node)
                    self.got.setdefault(checked.id, set()).add(checked.got)
                else:
                    self.failing.append(self.failed(case, checked, made))
        if problems:
            raise InputError(problems)

    def failed(self, case: t.Case, checked: Checked, made: Ready) -> Failing:
        why = self.judge.why(checked, made.world)
        place = self.file.place(checked.node)
        return Failing(case.title, place, checked.id, checked.expected, checked.got, why)

    # what is to be proven

    def units(self) -> Iterator[t.AnyStatement]:
        """The statements of the file that have a meaning to prove."""
        for statement in self.file.statements:
            if isinstance(statement, t.Amend | t.Waive | t.Table | t.Define | Amendable):
                yield statement

    def layered(self, unit: t.AnyStatement) -> Layered | None:
        return self.merged.rules.get(self.merged.aliases.get(unit.id, unit.id))

    def both(self, unit: t.AnyStatement) -> None:
        """Whether cases bring about each verdict that the unit can give."""
        id = self.merged.aliases.get(unit.id, unit.id)
        needed = self.needed(unit)
        got = self.got.get(id, set())
        for verdict in needed:
            if verdict in got or (verdict == "a value" and got):
                continue
            words = "expects a value of it" if verdict == "a value" else f'expects "{verdict}"'
            line = f"{id} 52.5 psf" if verdict == "a value" else f"{id} {verdict}"
            help_ = f"write a case that ends, for example: expect {line}"
            found = self.problem(unit, unit.pos, f"{unit.id}: no case {words}", help_)
            self.lacking.append((unit.id, found))

    def needed(self, unit: t.AnyStatement) -> tuple[str, ...]:
        """The verdicts that a unit's cases are to bring about."""
        if isinstance(unit, t.Define):
            return ("a value",)
        if isinstance(unit, t.Waive):
            return ("does not apply",)
        layered = self.layered(unit)
        clauses: t.Clauses | None = getattr(unit, "clauses", None)
        if layered is None or clauses is None:
            return ()
        if isinstance(unit, t.Amend) and (clauses.shall, clauses.allows, clauses.usual) == (None, None, None):
            return ()
        statement = layered.statement
        if isinstance(statement, t.Practice):
            field = self.program.book.block("assembly").get(statement.field)
            choices = field.choices if field is not None else ()
            if field is not None and field.kind == "yes/no":
                choices = ("yes", "no")
            every = bool(choices) and set(choices) <= set(statement.clauses.usual or ())
            return ("usual",) if every else ("usual", "unusual")
        if isinstance(statement, t.AdviceStatement):
            return ("raised", "not raised")
        shall = statement.clauses.shall
        if isinstance(statement, t.Approval):
            shall = shown_of_approval(statement)
        if isinstance(shall, t.ShownBy) and shall.having is None:
            return ("complies", "not shown")
        return ("complies", "deviates")

    # changes

    def change(self, unit: t.AnyStatement) -> None:
        """Tries every change of a unit and notes those that no case notices, or that are declared to mean the same."""
        missed: list[Tried] = []
        for tried in self.tries(unit):
            self.tried += 1
            try:
                noticed = tried.noticed()
            except (ValueError, TypeError):
                noticed = True
            if not noticed:
                missed.append(tried)
        clauses: t.Clauses | None = getattr(unit, "clauses", None)
        declared = clauses.same_as if clauses is not None else ()
        told = tuple(change.what for change in missed)
        if missed and len(missed) == len(declared):
            why = tuple(text.text for text in declared)
            self.declared.append(Same(unit.id, self.file.place(unit), told, why))
            return
        if declared and not missed:
            message = f"{unit.id}: `same meaning` is declared, and every change was noticed"
            self.lacking.append((unit.id, self.problem(unit, declared[0].pos, message)))
        for change in missed:
            message = f"{unit.id}: {change.what}, and no case noticed"
            help_: tuple[str, ...] = ()
            if declared:
                help_ = (
                    f"{len(declared)} changes are declared to mean the same, {len(missed)} went unnoticed",
                )
            self.unnoticed.append((unit.id, self.problem(unit, change.pos, message, *help_)))

    def tries(self, unit: t.AnyStatement) -> Iterator[Tried]:
        """The changes of a unit, each with its test."""
        if isinstance(unit, t.Table | t.Define):
            found = mutate.table(unit) if isinstance(unit, t.Table) else mutate.define(unit, self.changes)
            for mutant in found:
                yield Tried(mutant.what, mutant.pos, self.witnesses.in_program(unit, mutant.statement))
            return
        layered = self.layered(unit)
        if layered is None:
            return
        if isinstance(unit, t.Waive):
            yield Tried("the waiver left out", unit.pos, self.witnesses.in_file(unit, None))
        else:
            own: t.Clauses | None = getattr(unit, "clauses", None)
            before = self.proven_below(unit)
            for mutant in self.mutants(layered, own or layered.statement.clauses, unit):
                if mutant.what not in before:
                    yield Tried(mutant.what, mutant.pos, self.witnesses.in_rule(layered, mutant.statement))
        yield from self.dates(unit)

    def proven_below(self, unit: t.AnyStatement) -> frozenset[str]:
        """The changes of the rule as it stood before this rulebook amends it: they are its own rulebook's to prove."""
        if not isinstance(unit, t.Amend):
            return frozenset()
        rest = tuple(node for node in self.file.statements if node is not unit)
        merged = self.witnesses.merged_with(replace(self.file, statements=rest))
        layered = merged.rules.get(merged.aliases.get(unit.id, unit.id))
        if layered is None:
            return frozenset()
        found = self.mutants(layered, layered.statement.clauses, layered.statement)
        return frozenset(mutant.what for mutant in found)

    def mutants(self, layered: Layered, own: t.Clauses, unit: t.AnyStatement) -> Iterator[mutate.Mutant]:
        """Changes of a rule as it stands, in the clauses that this rulebook states."""
        node = layered.statement
        only = node.clauses if unit is node else own
        if isinstance(node, t.Requirement | t.Approval):
            yield from mutate.rule(node, only, self.changes)
            yield from mutate.applies(node, only, self.changes, ())
        elif isinstance(node, t.Substitution):
            yield from mutate.substitution(node, only, self.changes)
            yield from mutate.applies(node, only, self.changes, RUN_CONTEXT)
        elif isinstance(node, t.Practice):
            yield from mutate.practice(node, only)
            yield from mutate.applies(node, only, self.changes, ())
        else:
            yield from mutate.applies(node, only, self.changes, ("clause",))

    def dates(self, unit: t.AnyStatement) -> Iterator[Tried]:
        """The dates of a statement's own left out."""
        clauses: t.Clauses | None = getattr(unit, "clauses", None)
        for name in ("in_force_from", "in_force_until"):
            if clauses is not None and getattr(clauses, name):
                changed = replace(unit, clauses=replace(clauses, **{name: None}))
                what = f"`{name.replace('_', ' ')} {getattr(clauses, name)}` left out"
                yield Tried(what, unit.pos, self.witnesses.in_file(unit, changed))

    def dates_of_head(self) -> None:
        """The dates of the whole rulebook left out."""
        head = self.file.head
        for name in ("in_force_from", "in_force_until"):
            if getattr(head, name):
                self.tried += 1
                changed = replace(self.file, head=replace(head, **{name: ""}))
                what = f"`{name.replace('_', ' ')} {getattr(head, name)}` left out"
                if not self.witnesses.noticed_by(self.witnesses.merged_with(changed)):
                    message = f"rulebook {head.id}: {what}, and no case noticed"
                    self.unnoticed.append((head.id, self.problem(head, head.pos, message)))

    def problem(self, unit: t.AnyStatement, pos: t.Pos, message: str, *help_: str) -> Problem:
        """A finding at a place of the file, or at the unit where the changed part stands in another file."""
        at = pos if 0 < pos.line <= len(self.file.lines) and not isinstance(unit, t.Waive) else unit.pos
        line = self.file.lines[at.line - 1] if at.line <= len(self.file.lines) else ""
        place = Place(self.file.file, at.line, at.column)
        return Problem(place, message, help_, line, at.span)
