"""Rulebooks in layers: one amendment is ordered after another only if its rulebook builds on the other's."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping, Set
from datetime import date
from typing import Protocol, Self, TypeVar

from msgspec import Struct
from msgspec.structs import asdict, replace

from cleatmark.language import tree as t
from cleatmark.problems import Place, Problem, did_you_mean

AMENDABLE = (t.Requirement, t.Substitution, t.Approval, t.Practice, t.AdviceStatement)
Amendable = t.Requirement | t.Substitution | t.Approval | t.Practice | t.AdviceStatement


class Dates(Struct, frozen=True):
    """First and last day in force as written; "" where there is no bound."""

    start: str = ""
    end: str = ""

    def __bool__(self) -> bool:
        return bool(self.start or self.end)

    def __str__(self) -> str:
        parts = (f"from {self.start}" if self.start else "", f"until {self.end}" if self.end else "")
        return " ".join(part for part in parts if part)

    def within(self, outer: Dates) -> Dates:
        """These dates, with the bounds of `outer` where these have none."""
        return Dates(self.start or outer.start, self.end or outer.end)


class Link(Struct, frozen=True):
    """One step in a rule's chain: which rulebook did what to it, where, from when, and why."""

    rulebook: str
    did: str
    place: Place
    why: str = ""
    dates: Dates = Dates()

    def __str__(self) -> str:
        text = f"{self.rulebook}: {self.did} at {self.place.file}:{self.place.line}"
        if self.dates:
            text += f", in force {self.dates}"
        return f"{text}: {self.why}" if self.why else text


class Layered(Struct, frozen=True):
    """A statement as it stands after all layers, with its chain; waived by `waived` where that is set.

    dates  when this text is in force
    below  the rule as it stood before the last dated change: what holds where that change is not in force
    """

    statement: Amendable
    rulebook: t.RulebookHead
    file: t.RuleFile
    chain: tuple[Link, ...]
    waived: Link | None = None
    dates: Dates = Dates()
    below: Layered | None = None


class Merged(Struct, frozen=True):
    """All rulebooks merged: amendable statements by id, the rest by form."""

    heads: tuple[t.RulebookHead, ...]
    files: tuple[t.RuleFile, ...]
    rules: Mapping[str, Layered]
    others: tuple[tuple[t.RuleFile, t.AnyStatement], ...]
    aliases: Mapping[str, str]


class Versioned(Protocol):
    """A compiled rule, which may have an earlier version."""

    @property
    def layered(self) -> Layered: ...
    @property
    def earlier(self) -> Self | None: ...


V = TypeVar("V", bound=Versioned)


def standing(rule: V, on: date | None) -> tuple[V, str]:
    """The version that stands on the permit date, and whether it is in force: "yes", "no" or "not shown" (a dated
    rule without a permit date)."""
    dates = rule.layered.dates
    if not dates.start and not dates.end:
        return rule, "yes"
    force = in_force(dates, on)
    while force == "no" and rule.earlier is not None:
        rule = rule.earlier
        force = in_force(rule.layered.dates, on)
    return rule, force


def in_force(dates: Dates, on: date | None) -> str:
    """ "yes", "no" or "not shown"."""
    if not dates.start and not dates.end:
        return "yes"
    if on is None:
        return "not shown"
    early = bool(dates.start) and on < day(dates.start)
    late = bool(dates.end) and on > day(dates.end)
    return "no" if early or late else "yes"


def day(text: str) -> date:
    """A date as written in a rule; a month alone stands for its first day. ValueError where it is no day."""
    return date.fromisoformat(text if len(text) == 10 else f"{text}-01")


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
            problems.append(foundation(file, trail[-1], f"rulebooks build on each other in a circle: {loop}"))
            return
        for below in file.head.builds_on:
            if below in by_id:
                visit(by_id[below], (*trail, name))
            else:
                problems.append(no_foundation(file, below, by_id))
        done[name] = True
        out.append(file)

    for file in by_id.values():
        visit(file, ())
    return out, problems


def no_foundation(file: t.RuleFile, below: str, known: Iterable[str]) -> Problem:
    """A rulebook that another builds on and that is not there."""
    help_ = (
        *did_you_mean(below, known),
        "put its file beside this one, or among the rules that ship; the file is named as the rulebook",
    )
    return foundation(file, below, f'no rulebook is called "{below}"', *help_)


def foundation(file: t.RuleFile, below: str, message: str, *help_: str) -> Problem:
    """A mistake at the name of a rulebook behind `builds on`."""
    pos = file.head.places.get("builds_on", file.head.pos)
    line = file.lines[pos.line - 1] if 0 < pos.line <= len(file.lines) else ""
    match = re.search(rf"\b{re.escape(below)}\b", line[pos.column - 1 :])
    column = pos.column + (match.start() if match else 0)
    return Problem(
        Place(file.file, pos.line, column), message, help_, line, len(below) if match else pos.span
    )


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
    others: list[tuple[t.RuleFile, t.AnyStatement]] = []
    seen: dict[tuple[str, str], tuple[t.RuleFile, t.AnyStatement]] = {}
    for file in ordered:
        for statement in file.statements:
            if isinstance(statement, t.Amend | t.Waive):
                continue
            family = "rule" if isinstance(statement, AMENDABLE) else type(statement).__name__
            if isinstance(statement, t.Case):
                family = f"case of {file.head.id}"
            first = seen.get((family, statement.id))
            if first is not None:
                more = f"to change it from another rulebook write: amend {statement.id}"
                if not isinstance(statement, AMENDABLE):
                    more = "give this one a name of its own"
                if isinstance(statement, t.Case):
                    more = "each case of a rulebook has a title of its own"
                help_ = f"the first stands at {first[0].file}:{first[1].pos.line}; {more}"
                problems.append(_at(file, statement, f'"{statement.id}" is stated twice', help_))
                continue
            seen[family, statement.id] = (file, statement)
            if isinstance(statement, AMENDABLE):
                dates = dates_of(statement.clauses, file.head)
                link = Link(file.head.id, "stated", file.place(statement), "", dates)
                rules[statement.id] = Layered(statement, file.head, file, (link,), dates=dates)
            else:
                others.append((file, statement))
    aliases = _aliases(rules, problems)
    spoilt = {item.id for file in ordered for item in file.spoilt}
    for file in ordered:
        for statement in file.statements:
            if isinstance(statement, t.Amend | t.Waive):
                problems.extend(_change(file, statement, rules, aliases, below, spoilt))
    heads = tuple(file.head for file in ordered)
    return Merged(heads, tuple(ordered), rules, tuple(others), aliases), tuple(problems)


def dates_of(clauses: t.Clauses, head: t.RulebookHead) -> Dates:
    """When a statement is in force: its own dates, else those of its rulebook."""
    return Dates(clauses.in_force_from or head.in_force_from, clauses.in_force_until or head.in_force_until)


def _aliases(rules: Mapping[str, Layered], problems: list[Problem]) -> dict[str, str]:
    """Old id to id. An old id belongs to one rule and to nothing that stands."""
    out: dict[str, str] = {}
    for layered in rules.values():
        for old in layered.statement.clauses.formerly:
            other = rules.get(old) or (rules[out[old]] if old in out else None)
            if other is None:
                out[old] = layered.statement.id
                continue
            where = f"{other.file.file}:{other.statement.pos.line}"
            message = f'"{layered.statement.id}" was formerly "{old}", and that id is taken'
            problems.append(
                _at(layered.file, layered.statement, message, f"by {other.statement.id} at {where}")
            )
    return out


def _change(
    file: t.RuleFile,
    statement: t.Amend | t.Waive,
    rules: dict[str, Layered],
    aliases: Mapping[str, str],
    below: Mapping[str, frozenset[str]],
    spoilt: Set[str],
) -> list[Problem]:
    verb = "amends" if isinstance(statement, t.Amend) else "waives"
    key = aliases.get(statement.id, statement.id)
    target = rules.get(key)
    if target is None and statement.id in spoilt:
        return []
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
    if len(target.chain) > 1 and last.rulebook not in own:
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
    waived = target.waived
    if waived is not None and not waived.dates and isinstance(statement, t.Amend):
        message = f'this amends "{key}", which "{waived.rulebook}" waives: it would change nothing'
        help_ = (f"it is waived at {waived.place}", "state the requirement again under an id of its own")
        return [_at(file, statement, message, *help_)]
    why = statement.clauses.because.text if statement.clauses.because else ""
    did = "waived" if isinstance(statement, t.Waive) else "amended"
    dates = dates_of(statement.clauses, file.head)
    rules[key] = _changed(target, statement, Link(file.head.id, did, file.place(statement), why, dates))
    return []


def _changed(target: Layered, statement: t.Amend | t.Waive, link: Link) -> Layered:
    """The rule after the change. A dated change leaves what it changes in force outside its dates; one without
    dates changes every dated version."""
    if link.dates:
        below: Layered | None = target
    else:
        below = _changed(target.below, statement, link) if target.below is not None else None
    chain, dates = (*target.chain, link), link.dates.within(target.dates)
    if isinstance(statement, t.Waive):
        return replace(target, waived=link, chain=chain, dates=dates, below=below)
    changed = {name: value for name, value in asdict(statement.clauses).items() if value not in (None, ())}
    for name in ("in_force_from", "in_force_until", "formerly"):
        changed.pop(name, None)
    after = replace(target.statement, clauses=replace(target.statement.clauses, **changed))
    if isinstance(after, t.Practice):
        after = replace(after, when=after.clauses.applies)
    return replace(target, statement=after, chain=chain, dates=dates, below=below)


def _at(file: t.RuleFile, node: t.Node, message: str, *help_: str) -> Problem:
    line = file.lines[node.pos.line - 1] if 0 < node.pos.line <= len(file.lines) else ""
    return Problem(file.place(node), message, tuple(help_), line, node.pos.span)
