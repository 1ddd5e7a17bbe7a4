"""A submittal from a filled DOCX form: the same submittal that a YAML file of the same values would give."""

from __future__ import annotations

import re
from collections.abc import Iterable, Mapping
from pathlib import Path

from msgspec.structs import replace

from cleatmark.fields import FieldBook
from cleatmark.problems import InputError, Place, Problem
from cleatmark.submittal.form_fields import fields_of_form
from cleatmark.submittal.form_nodes import FormNodes
from cleatmark.yamlfile import Mapping as Root

_PATH = re.compile(r"\A[a-z_]+(?:\.[a-z_]+)+: ")
_WORDS = (
    ("; leave the line out where nothing is known", "; leave the field empty where nothing is known"),
    ("leave the line out", "leave the field empty"),
    ("first on line ", "first in row "),
)


def form_nodes(path: str | Path, book: FieldBook) -> tuple[Root | None, FormNodes]:
    """The form's values as keys and values, and what reads its mistakes. Mistakes are in its `problems`."""
    nodes = FormNodes(path, book)
    try:
        return nodes.build(fields_of_form(Path(path), book)), nodes
    except InputError as error:
        nodes.problems.extend(error.problems)
        return None, nodes


def in_form_words(
    problems: Iterable[Problem], labels: Mapping[tuple[Place, str], str]
) -> tuple[Problem, ...]:
    """Mistakes as the form's reader knows its fields: by their label, and "row" where a file has lines."""
    return tuple(_told(problem, labels.get((problem.place, problem.source), "")) for problem in problems)


def _told(problem: Problem, label: str) -> Problem:
    message = problem.message
    if label:
        message = f"{label}: {_PATH.sub('', message)}"
    help = tuple(_worded(line) for line in problem.help)
    return replace(problem, message=_worded(message), help=help)


def _worded(text: str) -> str:
    for file, form in _WORDS:
        text = text.replace(file, form)
    return text
