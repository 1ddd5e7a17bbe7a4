"""Names that statements may not take: reserved words, names of fields, dotted ones."""

from __future__ import annotations

from cleatmark.language import tree as t
from cleatmark.language.checking import Desk
from cleatmark.language.names import SCOPES

WORDS = frozenset(
    [
        *(
            "it",
            "is",
            "not",
            "and",
            "or",
            "every",
            "some",
            "no",
            "yes",
            "none",
            "any",
            "stated",
            "known",
            "of",
        ),
        *(
            "for",
            "at",
            "than",
            "one",
            "meets",
            "includes",
            "mentions",
            "covers",
            "largest",
            "smallest",
            "first",
        ),
        *("before", "after", "where", "having", "has", "shall", "like", "flagged"),
    ]
)
"""Words of the language that would be misread where a name stands."""

NAMED = (t.Define, t.Table, t.KindStatement, t.Assembly)


def name(desk: Desk, node: t.AnyStatement) -> None:
    """Checks the name that a statement takes."""
    if isinstance(node, t.Case | t.Amend | t.Waive):
        return
    if isinstance(node, NAMED) and (node.id in WORDS or node.id in SCOPES):
        desk.tell(
            node,
            f'"{node.id}" is a word of the language and cannot be a name',
            f"for example: {node.id}_rule",
        )
    elif isinstance(node, t.FieldStatement):
        if node.id.split(".")[0] in ("proposed", "tested", "nearest", "clause"):
            rest = node.id.partition(".")[2] or "panel.width"
            message = f'no field starts with "{node.id.split(".")[0]}"'
            desk.tell(node, message, f"a field of the assembly is declared once, without it: {rest}")
        elif node.id in WORDS or node.id in SCOPES:
            desk.tell(
                node,
                f'"{node.id}" is a word of the language and cannot be a name',
                f"for example: {node.id}.type",
            )
    elif "." in node.id:
        desk.tell(
            node, f'"{node.id}": only fields have dots in their names', f"write: {node.id.replace('.', '_')}"
        )
    if isinstance(node, t.Define):
        _taken(desk, node)


def _taken(desk: Desk, node: t.Define) -> None:
    """A define may not hide a field of the thing that it is of."""
    field = desk.book.block(node.of).get(node.id)
    if field is not None:
        where = f"{field.place.file}:{field.place.line}"
        desk.tell(
            node,
            f'"{node.id}" is taken: {field.path} is a field',
            f"it is declared at {where}; choose another name",
        )
