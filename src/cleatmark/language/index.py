"""What rulebooks hold: each statement with its sources, dates and proof; and one rule as it stands after its layers."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from pathlib import Path

from msgspec import Struct

from cleatmark.language import phrase
from cleatmark.language import tree as t
from cleatmark.language.layers import Dates, Layered, Merged, dates_of
from cleatmark.language.prove import Proof, each, prove_file
from cleatmark.problems import Place


class Entry(Struct, frozen=True):
    """One statement. proven is "proven", "not proven", or "" for what has nothing to prove."""

    id: str
    kind: str
    title: str
    place: Place
    sources: tuple[str, ...] = ()
    confidence: str = ""
    in_force: str = ""
    proven: str = ""


class Listed(Struct, frozen=True):
    """One rulebook with its entries."""

    id: str
    title: str
    file: str
    edition: str
    builds_on: tuple[str, ...]
    in_force: str
    checked_on: str
    status: str
    proven: bool
    entries: tuple[Entry, ...]


class Version(Struct, frozen=True):
    """A rule's text in its dates."""

    in_force: str
    lines: tuple[str, ...]
    waived: str = ""


class Standing(Struct, frozen=True):
    """A statement as it stands after all layers.

    versions  the text in force last, then those before it, each in its dates
    chain     who stated it, amended it, waived it: where, from when, why
    cases     place, title and expectation of each case about it
    """

    id: str
    head: str
    place: Place
    versions: tuple[Version, ...]
    chain: tuple[str, ...]
    sources: tuple[str, ...]
    formerly: tuple[str, ...] = ()
    checked_on: str = ""
    status: str = ""
    cases: tuple[tuple[Place, str, str], ...] = ()


def index(wanted: Iterable[str], base: Path) -> tuple[Listed, ...]:
    """The rulebooks named, or all that ship. Raises InputError where one cannot be read."""
    return tuple(listed(merged, prove_file(merged)) for merged in each(wanted, base))


def listed(merged: Merged, proof: Proof) -> Listed:
    """The last rulebook of a merged set."""
    file = merged.files[-1]
    head = file.head
    return Listed(
        id=head.id,
        title=head.title,
        file=file.file,
        edition=head.edition,
        builds_on=head.builds_on,
        in_force=str(Dates(head.in_force_from, head.in_force_until)),
        checked_on=head.checked_on,
        status=head.status,
        proven=proof.proven,
        entries=tuple(entries(file, merged, proof)),
    )


def entries(file: t.RuleFile, merged: Merged, proof: Proof) -> Iterator[Entry]:
    """Every statement of a file but its cases and assemblies."""
    for statement in file.statements:
        if isinstance(statement, t.Case | t.Assembly):
            continue
        sources = phrase.sources_of(statement)
        clauses: t.Clauses | None = getattr(statement, "clauses", None)
        proven = ""
        if statement.id in proof.units:
            proven = "proven" if proof.stands(statement.id) else "not proven"
        yield Entry(
            id=statement.id,
            kind=phrase.head(statement).split(" ", 1)[0],
            title=title_of(statement, merged),
            place=file.place(statement),
            sources=tuple(dict.fromkeys(str(source) for source in sources)),
            confidence=", ".join(dict.fromkeys(source.confidence for source in sources if source.confidence)),
            in_force=str(dates_of(clauses, file.head)) if clauses is not None else "",
            proven=proven,
        )


def title_of(statement: t.AnyStatement, merged: Merged) -> str:
    """A statement's title, or what stands for one."""
    if isinstance(statement, t.Amend | t.Waive):
        layered = merged.rules.get(merged.aliases.get(statement.id, statement.id))
        return title_of(layered.statement, merged) if layered is not None else ""
    if isinstance(statement, t.Approval):
        return f"{statement.evidence} by {statement.body}"
    if isinstance(statement, t.Substitution | t.Practice):
        return f"for {statement.field}"
    if isinstance(statement, t.Table):
        return f"by {', '.join(statement.by)}"
    if isinstance(statement, t.Define):
        return f"of {statement.of}"
    if isinstance(statement, t.ReadingStatement):
        return f"gives {statement.gives}" if statement.gives else f"flags {', '.join(statement.flags)}"
    if isinstance(statement, t.KindStatement):
        return ", ".join(statement.names)
    return statement.title


# One statement ----------------------------------------------------------------------------------------------------


def standing_of(id: str, merged: Merged) -> Standing | None:
    """The statement of that id, or of that old id, as it stands; None where there is none."""
    key = merged.aliases.get(id, id)
    layered = merged.rules.get(key)
    if layered is not None:
        return rule_standing(layered, merged)
    found = next(((file, node) for file, node in merged.others if node.id == key and _is_rule(node)), None)
    if found is None:
        return None
    file, node = found
    return Standing(
        id=node.id,
        head=phrase.head(node),
        place=file.place(node),
        versions=(Version("", tuple(phrase.body(node))),),
        chain=(f"{file.head.id}: stated at {file.file}:{node.pos.line}",),
        sources=tuple(phrase.source(source) for source in phrase.sources_of(node)),
        checked_on=file.head.checked_on,
        status=file.head.status,
        cases=tuple(cases_of(node.id, merged)),
    )


def _is_rule(node: t.AnyStatement) -> bool:
    return not isinstance(node, t.Case | t.RulebookHead)


def rule_standing(layered: Layered, merged: Merged) -> Standing:
    """A rule with its versions and its chain."""
    versions = []
    at: Layered | None = layered
    while at is not None:
        waived = str(at.waived) if at.waived is not None else ""
        versions.append(Version(str(at.dates), tuple(phrase.clauses(at.statement.clauses)), waived))
        at = at.below
    statement = layered.statement
    return Standing(
        id=statement.id,
        head=phrase.head(statement),
        place=layered.file.place(statement),
        versions=tuple(versions),
        chain=tuple(str(link) for link in layered.chain),
        sources=tuple(phrase.source(source) for source in statement.clauses.sources),
        formerly=statement.clauses.formerly,
        checked_on=layered.rulebook.checked_on,
        status=layered.rulebook.status,
        cases=tuple(cases_of(statement.id, merged)),
    )


def cases_of(id: str, merged: Merged) -> Iterator[tuple[Place, str, str]]:
    """Every expectation about an id, in the order of the rulebooks."""
    from cleatmark.language.expectations import tables_in

    for file in merged.files:
        for case in file.statements:
            if not isinstance(case, t.Case):
                continue
            for node in case.expectations:
                about = tables_in(node.operand) if node.operand is not None else (node.id,)
                if id in (merged.aliases.get(name, name) for name in about):
                    values = () if node.value is None else (node.value, *node.others)
                    expected = node.verdict or ", ".join(phrase.literal(value) for value in values)
                    yield file.place(node), case.title, expected


def ids_of(merged: Merged) -> tuple[str, ...]:
    """Every id that can be asked about."""
    return (*merged.rules, *merged.aliases, *(node.id for _, node in merged.others if _is_rule(node)))
