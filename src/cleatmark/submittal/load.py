"""A submittal file to a submittal, with every mistake in it."""

from __future__ import annotations

from pathlib import Path

from cleatmark.facts import Citation
from cleatmark.fields import FieldBook
from cleatmark.problems import Problem, did_you_mean
from cleatmark.submittal.documents import document
from cleatmark.submittal.model import Departure, Document, Submittal
from cleatmark.submittal.schema import SUBMITTAL_FILE
from cleatmark.yamlfile import (
    LIMITS,
    Facts,
    Limits,
    Mapping,
    Node,
    Text,
    brief,
    check,
    cited,
    facts_of,
    fields_under,
    groups,
    in_order,
    load,
    problem_at,
)

KEYS = ("proposed", "installed", "departures", "documents")
"""Keys of a submittal file that are not fields."""

MOST_DOCUMENTS = 500
"""Documents of one submittal. A complete one has five to twenty."""

OF_A_JOB = ("place", "wind", "roofs", "specification", "contract_documents")
"""Keys that only a job file has, so that a job in a submittal's place is told as one mistake."""


def load_submittal(
    path: str | Path, book: FieldBook, *, text: str | None = None, limits: Limits = LIMITS
) -> tuple[Submittal | None, tuple[Problem, ...]]:
    """The submittal that a file states, and every mistake found in it, in the order of the file.

    text  what the file holds, where it has been read already
    A file that ends in .docx is read as a filled form. The submittal is None where the file cannot be read as
    keys and values at all; with other mistakes it holds what could be read.
    """
    if str(path).casefold().endswith(".docx"):
        return _filled_form(path, book)
    root, problems = load(path, text=text, limits=limits)
    if not isinstance(root, Mapping):
        if root is not None:
            message = 'a submittal file holds keys and values, such as "proposed: {panel: {width: 16 in}}"'
            problems = (*problems, problem_at(root, message))
        return None, problems
    if root.get("proposed") is None and any(root.get(key) for key in OF_A_JOB):
        message = "this is a job file; a submittal is expected here"
        return None, (
            Problem(root.place, message, ("for example: cleatmark review job.yaml submittal.yaml",)),
        )
    found = [*problems]
    submittal = _submittal(str(path), root, book, found)
    return submittal, in_order(found)


def _filled_form(path: str | Path, book: FieldBook) -> tuple[Submittal | None, tuple[Problem, ...]]:
    from cleatmark.submittal.form_docx import form_nodes, in_form_words

    root, form = form_nodes(path, book)
    if root is None:
        return None, in_order(form.problems)
    found = form.problems
    submittal = _submittal(str(path), root, book, found)
    return submittal, in_form_words(in_order(found), form.labels)


def _submittal(file: str, root: Mapping, book: FieldBook, found: list[Problem]) -> Submittal:
    found.extend(check(root, SUBMITTAL_FILE))
    leaves, problems = fields_under(root, book.block("submittal"), also=KEYS)
    read, more = facts_of(leaves, "submittal", _cite)
    found.extend((*problems, *more))
    proposed = _assembly(root.get("proposed"), "proposed", book, found)
    installed = _assembly(root.get("installed"), "installed", book, found)
    named = read.facts.get("submittal.id")
    return Submittal(
        file,
        named.text if named else Path(file).stem,
        read.facts,
        proposed.facts,
        proposed.by_zone,
        installed.facts,
        _departures(root.get("departures"), book, found),
        _documents(root.get("documents"), book, found),
    )


def _cite(text: Text, _: str) -> tuple[Citation, ...]:
    return (cited("submittal", text),)


def _assembly(node: Node | None, scope: str, book: FieldBook, found: list[Problem]) -> Facts:
    if not isinstance(node, Mapping):
        return Facts()
    leaves, problems = fields_under(node, book.block("assembly"), block=scope)
    read, more = facts_of(leaves, scope, _cite, zones=scope == "proposed")
    found.extend((*problems, *more))
    return read


def _departures(node: Node | None, book: FieldBook, found: list[Problem]) -> tuple[Departure, ...]:
    known = book.block("assembly")
    departures: list[Departure] = []
    for item in groups(node, found):
        text = item.get("text")
        if not isinstance(text, Text) or not text.value:
            continue
        field = item.get("field")
        if isinstance(field, Text) and field.value and field.value not in known:
            message = f'no field of the assembly is called "{brief(field.value)}"'
            found.append(problem_at(field, message, *did_you_mean(field.value[:80], known)))
        path = field.value if isinstance(field, Text) and field.value in known else ""
        departures.append(Departure(path, " ".join(text.value.split()), item.place, cited("submittal", text)))
    return tuple(departures)


def _documents(node: Node | None, book: FieldBook, found: list[Problem]) -> tuple[Document, ...]:
    documents: dict[str, Document] = {}
    items = tuple(groups(node, found))
    if len(items) > MOST_DOCUMENTS:
        message = f"{len(items):,} documents, over the limit of {MOST_DOCUMENTS:,} of one submittal"
        found.append(
            problem_at(items[MOST_DOCUMENTS], message, "hand in those that show something of this assembly")
        )
        return ()
    for item in items:
        read = document(item, len(documents) + 1, book, found)
        if read.id in documents:
            first = documents[read.id].place.line
            at = item.get("id") or item
            found.append(
                problem_at(at, f'two documents are called "{brief(read.id)}"', f"first on line {first}")
            )
        else:
            documents[read.id] = read
    return tuple(documents.values())
