"""The documents of a submittal: their specimens, runs, conditions and claims, each citing where it stands."""

from __future__ import annotations

from msgspec.structs import replace

from cleatmark.facts import Citation, Fact
from cleatmark.fields import FieldBook
from cleatmark.problems import Problem, did_you_mean
from cleatmark.submittal.model import Condition, Document, Run
from cleatmark.yamlfile import (
    Cite,
    FieldValueError,
    Mapping,
    Node,
    Sequence,
    Text,
    brief,
    cited,
    facts_of,
    fields_under,
    groups,
    problem_at,
    read_value,
    text_of,
)

KEYS = ("specimen", "runs", "conditions", "claims")


def document(node: Mapping, number: int, book: FieldBook, found: list[Problem]) -> Document:
    """One document. `number` names it where it has no id."""
    id = text_of(node, "id") or f"document {number}"
    name = f"{text_of(node, 'kind') or 'document'} {text_of(node, 'id') or number}"
    leaves, problems = fields_under(node, book.block("document"), also=KEYS, block=id)
    read, more = facts_of(leaves, "document", _citing(name))
    found.extend((*problems, *more))
    specimen = _specimen(node.get("specimen"), f"{name}, specimen", id, "", book, found)
    return Document(
        id,
        name,
        read.facts,
        node.place,
        specimen,
        _runs(node.get("runs"), name, id, specimen, book, found),
        _conditions(node.get("conditions"), name, id, book, found),
        tuple(
            Fact("document.claims", words, words, _citing(name)(item, words))
            for item in _items(node.get("claims"))
            if isinstance(item, Text) and (words := " ".join(item.value.split()))
        ),
    )


def _items(node: Node | None) -> tuple[Node, ...]:
    return node.items if isinstance(node, Sequence) else ()


def _citing(where: str) -> Cite:
    """Cites a text of a document: the place on the document first, then the line of the file."""

    def cite(text: Text, words: str) -> tuple[Citation, ...]:
        return (Citation("evidence", where, words), cited("submittal", text))

    return cite


def _specimen(
    node: Node | None, where: str, block: str, metal: str, book: FieldBook, found: list[Problem]
) -> dict[str, Fact]:
    if not isinstance(node, Mapping):
        return {}
    leaves, problems = fields_under(node, book.block("assembly"), block=f"{block}, specimen")
    read, more = facts_of(leaves, "tested", _citing(where), metal=metal)
    found.extend((*problems, *more))
    return dict(read.facts)


def _runs(
    node: Node | None, name: str, id: str, shared: dict[str, Fact], book: FieldBook, found: list[Problem]
) -> tuple[Run, ...]:
    material = shared.get("tested.panel.material")
    runs: dict[str, Run] = {}
    for item in groups(node, found):
        run_id = text_of(item, "id") or str(len(runs) + 1)
        page = text_of(item, "page")
        where = f"{name}, " + (f"page {page}, " if page else "") + f"run {run_id}"
        block = f"{id}, run {run_id}"
        leaves, problems = fields_under(item, book.block("run"), also=("specimen",), block=block)
        read, more = facts_of(leaves, "run", _citing(where))
        found.extend((*problems, *more))
        own = _specimen(item.get("specimen"), where, block, material.text if material else "", book, found)
        if run_id in runs:
            at = item.get("id") or item
            found.append(problem_at(at, f'two runs of {brief(id)} are called "{brief(run_id)}"'))
        else:
            runs[run_id] = Run(run_id, read.facts, {**shared, **own}, item.place, frozenset(own))
    return tuple(runs.values())


def _conditions(
    node: Node | None, name: str, id: str, book: FieldBook, found: list[Problem]
) -> tuple[Condition, ...]:
    conditions: list[Condition] = []
    for number, item in enumerate(groups(node, found), start=1):
        citing = _citing(f"{name}, condition {number}")
        leaves, problems = fields_under(item, book.block("condition"), block=f"{id}, condition {number}")
        read, more = facts_of(leaves, "condition", citing)
        found.extend((*problems, *more))
        field, value = _about(item, book, found)
        facts = dict(read.facts)
        if field and value and "condition.value" in facts:
            facts["condition.value"] = replace(facts["condition.value"], value=value.value)
        conditions.append(Condition(field, facts, item.place))
    return tuple(conditions)


def _about(item: Mapping, book: FieldBook, found: list[Problem]) -> tuple[str, Fact | None]:
    """The assembly field that a condition is about, and its value read by that field's kind."""
    named, stated = item.get("field"), item.get("value")
    if not isinstance(named, Text) or not named.value:
        return "", None
    known = book.block("assembly")
    field = known.get(named.value)
    if field is None:
        message = f'no field of the assembly is called "{brief(named.value)}"'
        found.append(problem_at(named, message, *did_you_mean(named.value[:80], known)))
        return "", None
    if not isinstance(stated, Text) or not stated.value:
        return field.path, None
    try:
        return field.path, Fact(field.path, read_value(field, stated.value), stated.value, ())
    except FieldValueError as error:
        found.append(problem_at(stated, error.message, *error.help))
        return field.path, None
