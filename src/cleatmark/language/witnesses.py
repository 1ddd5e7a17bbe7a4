"""Whether some case notices a change: the expectations that are met, judged again with the change in place."""

from __future__ import annotations

from collections.abc import Callable, Iterator

from msgspec.structs import replace

from cleatmark.language import tree as t
from cleatmark.language.coverage import CompiledSubstitution
from cleatmark.language.expect import Judge, Ready
from cleatmark.language.layers import Amendable, Layered, Merged, merge
from cleatmark.language.program import Compiled, Program, compile_program, compile_rule

Witness = tuple[Ready, t.Expectation]


class Witnesses:
    """The expectations of a rulebook that are met, by the id that they are about."""

    def __init__(self, merged: Merged, program: Program, judge: Judge) -> None:
        self.merged = merged
        self.file = merged.files[-1]
        self.program = program
        self.judge = judge
        self.by_id: dict[str, list[Witness]] = {}

    def add(self, id: str, made: Ready, node: t.Expectation) -> None:
        """Takes an expectation that is met as a witness."""
        self.by_id.setdefault(id, []).append((made, node))

    def in_rule(self, layered: Layered, statement: t.AnyStatement) -> Callable[[], bool]:
        """For a rule: it alone compiled with the change."""

        def noticed() -> bool:
            assert isinstance(statement, Amendable)
            changed = replace(layered, statement=statement)
            return self.rule_noticed(compile_rule(changed, self.program.compiler))

        return noticed

    def rule_noticed(self, compiled: Compiled) -> bool:
        """Whether a witness of the rule itself judges otherwise."""
        id = compiled.layered.statement.id
        own = self.by_id.get(id, [])
        if not isinstance(compiled, CompiledSubstitution):
            return any(self.judge.verdict_of(compiled, made.world) != node.verdict for made, node in own)
        coverage = self.program.coverage
        before = coverage.substitutions
        coverage.use(compiled if rule.id == id else rule for rule in before)
        try:
            return any(not self.judge.check(node, made.world).met for made, node in own)
        finally:
            coverage.use(before)

    def ordered(self, id: str) -> Iterator[Witness]:
        """All witnesses, those of the id first."""
        yield from self.by_id.get(id, ())
        for other, witnesses in self.by_id.items():
            if other != id:
                yield from witnesses

    def in_program(self, unit: t.AnyStatement, statement: t.AnyStatement) -> Callable[[], bool]:
        """For tables and defines, on which anything may rest: the whole program compiled with the change."""

        def noticed() -> bool:
            others = tuple((file, statement if node is unit else node) for file, node in self.merged.others)
            return self.noticed_by(replace(self.merged, others=others), unit.id)

        return noticed

    def in_file(self, unit: t.AnyStatement, statement: t.AnyStatement | None) -> Callable[[], bool]:
        """For dates and waivers: the layers merged again with the change."""

        def noticed() -> bool:
            rest = (statement if node is unit else node for node in self.file.statements)
            kept = tuple(node for node in rest if node is not None)
            id = self.merged.aliases.get(unit.id, unit.id)
            return self.noticed_by(self.merged_with(replace(self.file, statements=kept)), id)

        return noticed

    def merged_with(self, file: t.RuleFile) -> Merged:
        """The layers with another text of the rulebook."""
        merged, _ = merge([*self.merged.files[:-1], file])
        return merged

    def noticed_by(self, merged: Merged, first: str = "") -> bool:
        """Whether any witness judges otherwise under other layers; those about `first` are asked first."""
        judge = Judge(compile_program(merged))
        return any(not judge.check(node, made.world).met for made, node in self.ordered(first))
