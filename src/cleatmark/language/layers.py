"""Rulebooks in layers: one amendment is ordered after another only if its rulebook builds on the other's."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct
from msgspec.structs import asdict, replace

from cleatmark.language import tree as t
from cleatmark.problems import Place, Problem, did_you_mean

AMENDABLE = (t.Requirement, t.Substitution, t.Approval, t.Practice, t.AdviceStatement)
Amendable = t.Requirement | t.Substitution | t.Approval | t.Practice | t.AdviceStatement


class Link(Struct, frozen=True):
    """One step in a rule's chain: which rulebook did what to it, where, and why."""

    rulebook: str
    did: str
    place: Place
    why: str = ""

    def __str__(self) -> str:
        text = f"{self.rulebook}: {self.did} at {self.place.file}:{self.place.line}"
        return f"{text}: {self.why}" if self.why else text


class Layered(Struct, frozen=True):
    """A statement as it stands after all layers, with its chain; waived by `waived` where that is set."""

    statement: Amendable
    rulebook: t.RulebookHead
    file: t.RuleFile
    chain: tuple[Link, ...]
    waived: Link | None = None


class Merged(Struct, frozen=True):
    """All rulebooks merged: amendable statements by id, the rest by form."""

    heads: tuple[t.RulebookHead, ...]
    files: tuple[t.RuleFile, ...]
    rules: Mapping[str, Layered]
    others: tuple[tuple[t.RuleFile, t.AnyStatement], ...]
    aliases: Mapping[str, str]


def order(files: Iterable[t.RuleFile]) -> tuple[list[t.RuleFile], list[Problem]]:
    """Rule files so that each stands after all that it builds on; told where that cannot be."""
    by_id: dict[str, t.RuleFile] = {}
    problems: list[Problem] = []
    for file in files:
        other = by_id.get(file.head.id)
        if other is not None:
            problems.append(
                _at(
                    file,
                    file.head,
                    f'two rulebooks are called "{file.head.id}"',
                    f"the other is {other.file}",
                )
            )
        else:
            by_id[file.head.id] = file
    done: dict[str, bool] = {}
    out: list[t.RuleFile] = []

    def visit(file: t.RuleFile, trail: tuple[str, ...]) -> None:
        name = file.head.id
        if done.get(name):
            return
        if name in trail:
            loop = " builds on ".join((*trail[trail.index(name) :], name))
            problems.append(_at(file, file.head, f"rulebooks build on each other in a circle: {loop}"))
            return
        for below in file.head.builds_on:
            if below in by_id:
                visit(by_id[below], (*trail, name))
            else:
                near = did_you_mean(below, by_id)
                help_ = near or ("name it with --rules FILE, or put it into the rules folder",)
                problems.append(_at(file, file.head, f'no rulebook is called "{below}"', *help_))
        done[name] = True
        out.append(file)

    for file in by_id.values():
        visit(file, ())
    return out, problems


def foundations(files: Iterable[t.RuleFile]) -> dict[str, frozenset[str]]:
    """For each rulebook, all that it builds on, however far down, and itself."""
    out: dict[str, frozenset[str]] = {}
    for file in files:
        own = {file.head.id}
        for below in file.head.builds_on:
            own |= out.get(below, frozenset({below}))
        out[file.head.id] = frozenset(own)
    return out


def merge(files: Iterable[t.RuleFile]) -> tuple[Merged, tuple[Problem, ...]]:
    """Applies every amendment and waiver to a copy of the rule it names."""
    ordered, problems = order(files)
    below = foundations(ordered)
    rules: dict[str, Layered] = {}
    aliases: dict[str, str] = {}
    others: list[tuple[t.RuleFile, t.AnyStatement]] = []
    seen: dict[tuple[str, str], tuple[t.RuleFile, t.AnyStatement]] = {}
    for file in ordered:
        for statement in file.statements:
            if isinstance(statement, t.Amend | t.Waive):
                continue
            family = "rule" if isinstance(statement, AMENDABLE) else type(statement).__name__
            first = seen.get((family, statement.id))
            if first is not None:
                where = f"{first[0].file}:{first[1].pos.line}"
                help_ = f"the first stands at {where}; to change it from another rulebook write: amend {statement.id}"
                problems.append(_at(file, statement, f'"{statement.id}" is stated twice', help_))
                continue
            seen[family, statement.id] = (file, statement)
            if isinstance(statement, AMENDABLE):
                link = Link(file.head.id, "stated", file.place(statement))
                rules[statement.id] = Layered(statement, file.head, file, (link,))
                for old in statement.clauses.formerly:
                    aliases[old] = statement.id
            else:
                others.append((file, statement))
    for file in ordered:
        for statement in file.statements:
            if isinstance(statement, t.Amend | t.Waive):
                problems.extend(_change(file, statement, rules, aliases, below))
    heads = tuple(file.head for file in ordered)
    return Merged(heads, tuple(ordered), rules, tuple(others), aliases), tuple(problems)


def _change(
    file: t.RuleFile,
    statement: t.Amend | t.Waive,
    rules: dict[str, Layered],
    aliases: Mapping[str, str],
    below: Mapping[str, frozenset[str]],
) -> list[Problem]:
    verb = "amends" if isinstance(statement, t.Amend) else "waives"
    key = aliases.get(statement.id, statement.id)
    target = rules.get(key)
    if target is None:
        near = did_you_mean(statement.id, rules)
        return [_at(file, statement, f'this {verb} "{statement.id}", and no rule is called so', *near)]
    own = below[file.head.id]
    if target.chain[0].rulebook not in own:
        book = target.chain[0].rulebook
        return [
            _at(
                file,
                statement,
                f'this {verb} "{key}" of rulebook "{book}", on which "{file.head.id}" does not build',
                f"add to the head of {file.file}: builds on {book}",
            )
        ]
    last = target.waived or target.chain[-1]
    if len(target.chain) + (target.waived is not None) > 1 and last.rulebook not in own:
        return [
            _at(
                file,
                statement,
                f'two rulebooks change "{key}" and neither builds on the other',
                f"{last.rulebook} has it {last.did} at {last.place}",
                f"say which comes after: builds on {last.rulebook}",
            )
        ]
    if last.rulebook == file.head.id and len(target.chain) > 1:
        message = f'"{key}" is changed twice in one rulebook'
        return [_at(file, statement, message, f"the first change stands at {last.place}")]
    why = statement.clauses.because.text if statement.clauses.because else ""
    if isinstance(statement, t.Waive):
        link = Link(file.head.id, "waived", file.place(statement), why)
        rules[key] = replace(target, waived=link, chain=(*target.chain, link))
        return []
    link = Link(file.head.id, "amended", file.place(statement), why)
    changed = {name: value for name, value in asdict(statement.clauses).items() if value not in (None, ())}
    clauses = replace(target.statement.clauses, **changed)
    rules[key] = replace(
        target, statement=replace(target.statement, clauses=clauses), chain=(*target.chain, link)
    )
    return []


def _at(file: t.RuleFile, node: t.Node, message: str, *help_: str) -> Problem:
    line = file.lines[node.pos.line - 1] if 0 < node.pos.line <= len(file.lines) else ""
    return Problem(file.place(node), message, tuple(help_), line, node.pos.span)
