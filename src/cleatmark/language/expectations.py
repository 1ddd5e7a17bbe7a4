"""What cases may expect, and of what; mistakes in cases and assemblies, told before anything runs."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from cleatmark.language import tree as t
from cleatmark.language.cases import Stage, Vocabulary, world_of
from cleatmark.language.layers import Merged
from cleatmark.language.names import Names
from cleatmark.problems import Problem, did_you_mean

VERDICTS = ("complies", "deviates", "not shown", "does not apply")
TAKES: Mapping[str, tuple[str, ...]] = {
    "rule": VERDICTS,
    "substitution": VERDICTS,
    "practice": ("usual", "unusual", "not shown", "does not apply"),
    "advice": ("raised", "not raised"),
    "value": ("not shown",),
}
FORMS: Mapping[type, str] = {
    t.Requirement: "rule",
    t.Approval: "rule",
    t.Substitution: "substitution",
    t.Practice: "practice",
    t.AdviceStatement: "advice",
}


class Known(Struct, frozen=True):
    """What expectations may be about: forms of ids, tables, old ids."""

    forms: Mapping[str, str]
    tables: Mapping[str, t.Table]
    aliases: Mapping[str, str]


def check_cases(file: t.RuleFile, merged: Merged, names: Names) -> tuple[Problem, ...]:
    """Every mistake in the cases and assemblies of a rule file."""
    kinds = {s.id: s.names for _, s in merged.others if isinstance(s, t.KindStatement)}
    words = Vocabulary(names, kinds, assemblies_of(merged))
    known = Known(forms(merged), names.tables, merged.aliases)
    problems: list[Problem] = []
    for statement in file.statements:
        if isinstance(statement, t.Case):
            problems.extend(world_of(statement, file, words)[1])
            problems.extend(expectation_problems(statement, file, known))
        elif isinstance(statement, t.Assembly):
            stage = Stage(t.Case(id="", given=(), expectations=(), pos=statement.pos), file, words)
            for setting in statement.settings:
                stage.set(
                    t.Setting(path=f"proposed.{setting.path}", values=setting.values, pos=setting.pos), ""
                )
            stage.world()
            problems.extend(stage.problems)
    return tuple(problems)


def assemblies_of(merged: Merged) -> dict[str, t.Assembly]:
    """Assemblies by name."""
    return {s.id: s for _, s in merged.others if isinstance(s, t.Assembly)}


def forms(merged: Merged) -> dict[str, str]:
    """What each id stands for: rule, substitution, practice, advice or value."""
    values = {s.id: "value" for _, s in merged.others if isinstance(s, t.Define)}
    return {**values, **{id: FORMS[type(layered.statement)] for id, layered in merged.rules.items()}}


def expectation_problems(case: t.Case, file: t.RuleFile, known: Known) -> tuple[Problem, ...]:
    """Expectations of nothing, or in words that do not fit what they are about."""
    problems: list[Problem] = []

    def tell(node: t.Node, message: str, *help_: str) -> None:
        line = file.lines[node.pos.line - 1] if node.pos.line <= len(file.lines) else ""
        problems.append(Problem(file.place(node), message, help_, line, node.pos.span))

    if not case.expectations:
        tell(case, "a case expects something", "for example: expect uplift_class not shown")
    for node in case.expectations:
        form = "value"
        if node.operand is not None:
            for name in tables_in(node.operand):
                if name not in known.tables:
                    tell(node, f'no table is called "{name}"', *did_you_mean(name, known.tables))
        else:
            form = known.forms.get(known.aliases.get(node.id, node.id), "")
            if not form:
                near = did_you_mean(node.id, (*known.forms, *known.aliases))
                tell(node, f'no rule is called "{node.id}"', *near)
                continue
        takes = f"expect one of: {', '.join(TAKES[form])}"
        if node.verdict and node.verdict not in TAKES[form]:
            word = "an advice" if form == "advice" else f"a {form}"
            tell(node, f'{word} is never "{node.verdict}"', takes)
        elif node.value is not None and form != "value":
            tell(node, f"a {form} has a verdict, not a value", takes)
    return tuple(problems)


def tables_in(node: t.Operand) -> tuple[str, ...]:
    """The tables that an operand looks up."""
    if isinstance(node, t.Arithmetic):
        return (*tables_in(node.left), *tables_in(node.right))
    return (node.table.split(".")[0],) if isinstance(node, t.Lookup) else ()
