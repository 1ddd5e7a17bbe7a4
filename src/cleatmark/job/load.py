"""A job file to a job, with every mistake in it."""

from __future__ import annotations

from collections.abc import Mapping as Map
from pathlib import Path

from msgspec.structs import replace

from cleatmark.facts import Citation, Fact
from cleatmark.fields import FieldBook
from cleatmark.job.model import Job, Roof
from cleatmark.job.parts import contract_facts, file_named, rules_named, stated_pressures
from cleatmark.job.schema import JOB_FILE
from cleatmark.problems import Place, Problem, did_you_mean
from cleatmark.yamlfile import (
    LIMITS,
    Leaf,
    Limits,
    Mapping,
    Node,
    Sequence,
    Text,
    check,
    cited,
    facts_of,
    fields_under,
    in_order,
    load,
    problem_at,
)

KEYS = ("specification", "rules", "addenda", "pressures", "contract_documents", "basis", "roofs")
"""Keys of a job file that are not fields."""

OWN = ("place", "wind", "roof", "roofs", "specification", "contract_documents")
"""Keys that only a job file has, so that a submittal in its place is told as one mistake."""

ONE_ROOF = "roof"
"""The name of the roof where a job has one and does not name it."""


def load_job(
    path: str | Path, book: FieldBook, *, text: str | None = None, limits: Limits = LIMITS
) -> tuple[Job | None, tuple[Problem, ...]]:
    """The job that a file states, and every mistake found in it, in the order of the file.

    The job is None where the file cannot be read as keys and values at all; with other mistakes it holds what
    could be read.
    """
    root, problems = load(path, text=text, limits=limits)
    if not isinstance(root, Mapping):
        if root is not None:
            problems = (*problems, problem_at(root, 'a job file holds keys and values, such as "name: ..."'))
        return None, problems
    if root.get("proposed") is not None and not any(root.get(key) for key in OWN):
        message = "this is a submittal; a job file is expected here"
        return None, (
            Problem(root.place, message, ("for example: cleatmark review job.yaml submittal.yaml",)),
        )
    found = [*problems]
    job = _job(str(path), root, book, found)
    return job, in_order(found)


def _job(file: str, root: Mapping, book: FieldBook, found: list[Problem]) -> Job:
    found.extend(check(root, JOB_FILE))
    known = book.block("job")
    leaves, problems = fields_under(root, known, also=KEYS)
    found.extend(problems)
    basis = _basis(root.get("basis"), book, found)
    general = _facts([leaf for leaf in leaves if not leaf.field.key.startswith("roof.")], basis, found)
    roofs = _roofs(root, leaves, book, basis, found)
    facts = {**general, **(roofs[0].facts if len(roofs) == 1 else {})}
    _basis_of_nothing(
        basis, {**facts, **{path: fact for roof in roofs for path, fact in roof.facts.items()}}, found
    )
    names = [roof.name for roof in roofs]
    name = facts.get("job.name")
    folder = Path(file).parent
    specification = root.get("specification")
    return Job(
        file,
        name.text if name else Path(file).stem,
        facts,
        tuple(roofs),
        file_named(specification, folder, found) if isinstance(specification, Text) else None,
        rules_named(root.get("rules"), folder, found),
        tuple(
            reference
            for item in _items(root.get("addenda"))
            if isinstance(item, Text) and (reference := file_named(item, folder, found))
        ),
        stated_pressures(root.get("pressures"), names, found),
        contract_facts(root.get("contract_documents"), book, names, found),
    )


def _items(node: Node | None) -> tuple[Node, ...]:
    return node.items if isinstance(node, Sequence) else ()


def _facts(leaves: list[Leaf], basis: Map[str, Text], found: list[Problem]) -> Map[str, Fact]:
    read, problems = facts_of(leaves, "job", lambda text, _: (cited("job", text),))
    found.extend(problems)
    return {path: _with_basis(fact, basis) for path, fact in read.facts.items()}


def _with_basis(fact: Fact, basis: Map[str, Text]) -> Fact:
    """The fact with who says so as its second source."""
    said = basis.get(fact.path) or (
        basis.get("") if fact.path.startswith(("job.wind.", "job.roof.")) else None
    )
    if said is None:
        return fact
    source = Citation("job", " ".join(said.value.split()), f"as {cited('job', said).where} says")
    return replace(fact, citations=(*fact.citations, source))


def _basis(node: Node | None, book: FieldBook, found: list[Problem]) -> Map[str, Text]:
    """Who says so, by full path; under "" for all of wind and roof."""
    if isinstance(node, Text):
        if not node.value and not node.spoilt:
            found.append(problem_at(node, "basis is left blank; say who states the wind and roof data"))
        return {"": node} if node.value else {}
    if isinstance(node, Sequence):
        found.append(problem_at(node, "basis: a list here, where a text or a group of keys is expected"))
    if not isinstance(node, Mapping):
        return {}
    known = book.block("job")
    said: dict[str, Text] = {}

    def visit(mapping: Mapping, prefix: str) -> None:
        for entry in mapping.entries:
            if len(found) >= LIMITS.told:
                return
            key = f"{prefix}{entry.key.value}".removeprefix("job.")
            if isinstance(entry.value, Text) and key in known:
                if entry.value.value:
                    said[f"job.{key}"] = entry.value
                elif not entry.value.spoilt:
                    found.append(problem_at(entry.value, f"basis of {key} is left blank; leave the line out"))
            elif isinstance(entry.value, Mapping):
                visit(entry.value, f"{key}.")
            else:
                found.append(
                    problem_at(
                        entry.key, f'basis: no job field is called "{key}"', *did_you_mean(key[:80], known)
                    )
                )

    visit(node, "")
    return said


def _basis_of_nothing(basis: Map[str, Text], facts: Map[str, Fact], found: list[Problem]) -> None:
    for path, text in basis.items():
        if path and path not in facts:
            found.append(problem_at(text, f"basis is given for {path[4:]}, and no {path[4:]} is stated"))


def _roofs(
    root: Mapping, leaves: tuple[Leaf, ...], book: FieldBook, basis: Map[str, Text], found: list[Problem]
) -> list[Roof]:
    several = root.get("roofs")
    own = [leaf for leaf in leaves if leaf.field.key.startswith("roof.")]
    if not isinstance(several, Mapping):
        place = own[0].key.place if own else Place(root.place.file)
        return [Roof(ONE_ROOF, _facts(own, basis, found), place)] if own else []
    if own:
        line = several.place.line
        found.append(
            problem_at(own[0].key, '"roof" and "roofs" are both given', f"keep one; roofs on line {line}")
        )
    known = {key[5:]: field for key, field in book.block("job").items() if key.startswith("roof.")}
    roofs: list[Roof] = []
    for entry in several.entries:
        if isinstance(entry.value, Mapping):
            under, problems = fields_under(entry.value, known, block=f"roofs, {entry.key.value}")
            found.extend(problems)
            roofs.append(Roof(entry.key.value, _facts(list(under), basis, found), entry.key.place))
    return roofs
