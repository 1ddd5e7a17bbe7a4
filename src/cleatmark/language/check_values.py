"""Literals and operands: their kinds, their units, the words a field takes."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import NamedTuple

from cleatmark.fields import Field
from cleatmark.language import tree as t
from cleatmark.language.amounts import amount
from cleatmark.language.checking import Context, Desk, a, listed
from cleatmark.language.compare import fold
from cleatmark.language.cuts import code_of
from cleatmark.language.examples import CLAUSES
from cleatmark.language.layers import day
from cleatmark.language.names import Name
from cleatmark.problems import did_you_mean, near_name
from cleatmark.units import KINDS, Quantity, QuantityError
from cleatmark.units.words import NUMBER_WORDS

TEXT_KINDS = ("text", "choice", "list")


def operand(desk: Desk, node: t.Operand, context: Context, beside: t.Operand | None = None) -> str:
    """Checks an operand and gives its kind; `beside` is what it is compared with."""
    if isinstance(node, t.Literal):
        return literal(desk, node, expected_by(desk, beside, context))
    if isinstance(node, t.Path):
        return path(desk, node, context, beside)
    if isinstance(node, t.Arithmetic):
        left = operand(desk, node.left, context)
        right = operand(desk, node.right, context)
        for side, kind in ((node.left, left), (node.right, right)):
            if kind in (*TEXT_KINDS, "yes/no", "date"):
                desk.tell(side, f"`{node.op}` works on amounts; {named(side)} is {a(kind)}")
        added = node.op in "+-" and left in KINDS and right in KINDS
        if added and not _alike(left, right):
            desk.tell(node, f"{a(left)} and {a(right)} cannot be put together by `{node.op}`")
    elif isinstance(node, t.Choose):
        kinds = [operand(desk, item, context) for item in node.operands]
        known = [kind for kind in kinds if kind in KINDS]
        if known and node.how != "first" and any(kind in (*TEXT_KINDS, "yes/no") for kind in kinds):
            desk.tell(node, f"`{node.how} of` compares amounts; text stands among them")
        if any(not _alike(known[0], kind) for kind in known[1:]):
            desk.tell(node, f"`{node.how} of` mixes kinds: " + ", ".join(a(kind) for kind in known))
    elif not lookup(desk, node, context):
        return ""
    return desk.names.kind_of(node, context)


def path(desk: Desk, node: t.Path, context: Context, beside: t.Operand | None) -> str:
    """Checks a name; a word that is one of the choices of the field beside it lacks its quotation marks."""
    name = desk.names.resolve(node.name, context)
    if isinstance(name, Name):
        if name.scope == "nearest":
            desk.tell(node, "`nearest` can be named in messages only; a verdict never rests on it")
            return ""
        return name.kind
    if node.name in CLAUSES and not desk.line(node.pos.line)[: node.pos.column - 1].strip():
        unfinished(desk, node)
        return ""
    wanted = expected_by(desk, beside, context)
    if node.name in ("today", "now"):
        desk.tell(
            node,
            f"a rule knows no `{node.name}`",
            "write job.date, the date of the review, or job.permit_date",
        )
        return ""
    if wanted.kind in KINDS and node.name in NUMBER_WORDS:
        desk.tell(node, "a number is written in figures", f"write: {NUMBER_WORDS[node.name]}")
        return ""
    choices = wanted.field.choices if wanted.field is not None else ()
    if wanted.kind in TEXT_KINDS and "." not in node.name and (choices or name.near is None):
        near = near_name(node.name, choices) if choices else node.name
        message = f"text stands in quotation marks: {node.name}"
        desk.tell(node, message, f'write: "{near}"' if near else f"its words are: {listed(choices)}")
    else:
        desk.unknown(node, name)
    return ""


class Expected(NamedTuple):
    """What a literal's neighbour asks for: a kind ("" for any), the field if it is one.

    loose  the field is a specification's: it may state words that the field does not list
    """

    kind: str = ""
    field: Field | None = None
    loose: bool = False


def unfinished(desk: Desk, node: t.Path) -> None:
    """A line that ends before its value, so that the next clause's first word was taken for one."""
    number = node.pos.line - 1
    while number > 1 and not code_of(desk.line(number)).strip():
        number -= 1
    line = code_of(desk.line(number)).rstrip()
    at = t.Pos(number, len(line) + 1)
    desk.tell(at, 'the line ends too early; expected a value, such as "steel", 16 in or spec.panel.width')


def expected_by(desk: Desk, beside: t.Operand | None, context: Context) -> Expected:
    """What an operand's neighbour asks of it."""
    if isinstance(beside, t.Path):
        name = desk.names.resolve(beside.name, context)
        if not isinstance(name, Name) or name.scope == "nearest":
            return Expected()
        return Expected(name.kind, name.field, name.scope == "spec")
    return Expected() if beside is None else Expected(desk.names.kind_of(beside, context))


def literal(desk: Desk, node: t.Literal, wanted: Expected) -> str:
    """Checks a literal and gives its kind."""
    kind, field = wanted.kind, wanted.field
    if node.form == "date":
        date(desk, node, node.text)
        if kind and kind != "date":
            desk.tell(node, f"{node.text} is a date, and {a(kind)} is wanted")
        return "date"
    if node.form == "none":
        return ""
    if node.form == "yes/no":
        if kind and kind != "yes/no":
            word = f'"{node.text}"' if kind in TEXT_KINDS else "the amount"
            desk.tell(node, f"`{node.text}` answers a question; {a(kind)} is wanted", f"write {word}")
        return "yes/no"
    if node.form == "text":
        return text(desk, node, wanted)
    if kind in TEXT_KINDS:
        form = f'write it in quotation marks: "{node.text}"'
        desk.tell(node, f"{node.text} is a quantity, and text is wanted", form)
        return kind
    if kind in ("date", "yes/no"):
        form = "a date is written 2026-11-01" if kind == "date" else "write yes or no"
        desk.tell(node, f"{node.text} is a quantity, and {a(kind)} is wanted", form)
        return kind
    try:
        found = amount(node.text, kind if kind in KINDS else "")
    except QuantityError as error:
        example = field.example if field is not None and field.example else error.example
        such = f", such as {example}" if example else ""
        help_ = (f"expected {error.expected}{such}",) if error.expected else ()
        desk.tell(node, error.message, *help_)
        return kind
    if field is not None and field.choices:
        numbered(desk, node, found, field)
    if found.kind == "gauge" and kind == "thickness" and field is not None:
        gauge(desk, node, field)
    return found.kind


def text(desk: Desk, node: t.Literal, wanted: Expected) -> str:
    """Text where a kind is wanted: one of the field's choices, if it lists them."""
    kind, field = wanted.kind, wanted.field
    if kind and kind not in TEXT_KINDS:
        if kind == "yes/no" and fold(node.text) in ("yes", "no"):
            desk.tell(node, "yes and no stand without quotation marks", f"write: {fold(node.text)}")
        elif kind in KINDS and parses(node.text, kind):
            if kind != "rating":
                desk.tell(node, f"{a(kind)} stands without quotation marks", f"write: {node.text}")
        else:
            example = field.example if field is not None else ""
            form = (
                "2026-11-01" if kind == "date" else example or KINDS[kind].example if kind in KINDS else "yes"
            )
            desk.tell(node, f'"{node.text}" is text, and {a(kind)} is wanted', f"for example: {form}")
        return kind
    if field is None or not field.choices or field.open or field.kind not in ("choice", "list"):
        return "text"
    if fold(node.text) in {fold(choice) for choice in field.choices}:
        return "text"
    near = misspelt(node.text, field.choices) if wanted.loose else near_name(node.text, field.choices)
    if near or not wanted.loose:
        desk.tell(
            node,
            f'"{node.text}" is not among the words of {field.path}',
            *((f'did you mean "{near}"?',) if near else ()),
            f"its words are: {listed(field.choices)}",
        )
    return "text"


def misspelt(word: str, choices: Iterable[str]) -> str | None:
    """The choice of which a word is a slip of the pen: nearly the same letters, the same figures."""
    from difflib import SequenceMatcher

    known = list(choices)
    if fold(word) in {fold(choice) for choice in known}:
        return None
    near = near_name(word, known)
    if near is None or re.findall(r"\d+", near) != re.findall(r"\d+", word):
        return None
    return near if SequenceMatcher(None, fold(word), fold(near)).ratio() > 0.85 else None


def numbered(desk: Desk, node: t.Literal, found: Quantity, field: Field) -> None:
    """A number that a field with listed numbers does not have: class 95."""
    values = {
        choice: amount(choice, field.kind).value for choice in field.choices if parses(choice, field.kind)
    }
    if values and found.value not in values.values():
        near = min(values, key=lambda choice: abs(values[choice] - found.value))
        desk.tell(
            node,
            f"there is no {field.kind} {node.text} of {field.path}",
            f'did you mean "{near}"?',
            "it is one of: " + ", ".join(field.choices),
        )


def gauge(desk: Desk, node: t.Literal, field: Field) -> None:
    """A gauge is a thickness only in a metal, and `material` beside the thickness says which."""
    group = field.path.rsplit(".", 1)[0]
    if f"{group}.material" not in desk.book.block("assembly"):
        desk.tell(
            node,
            f"a gauge is a thickness only in one metal, and nothing says the metal of {field.path}",
            "write the thickness in inches, such as 0.060 in",
            f'or declare: field {group}.material "..." choice: "steel", "aluminum"',
        )


def lookup(desk: Desk, node: t.Lookup, context: Context, *, row: bool = False) -> bool:
    """Whether a table can be looked up so: that it is there, its column, its keys and their kinds.

    row  all columns are meant
    """
    before = len(desk.problems)
    table_id, _, column = node.table.partition(".")
    table = desk.names.tables.get(table_id)
    if table is None:
        if not desk.blameless(table_id):
            close = did_you_mean(table_id, desk.names.tables)
            desk.tell(node, f'no table is called "{table_id}"', *close)
        for key in node.keys:
            operand(desk, key, context)
        return False
    if len(node.keys) != len(table.by):
        by = ", ".join(table.by)
        message = (
            f"table {table_id} is looked up by {by}: {_count(len(table.by), 'key')}, not {len(node.keys)}"
        )
        desk.tell(node, message, f"write: {node.table} for ( {by} )")
    if column and column not in table.gives:
        close = did_you_mean(column, table.gives)
        gives = ", ".join(table.gives) or "one value without a name"
        desk.tell(node, f'table {table_id} gives no "{column}"', *close, f"it gives {gives}")
    elif not column and len(table.gives) > 1 and not row:
        desk.tell(
            node,
            f"table {table_id} gives several values: {', '.join(table.gives)}",
            f"say which: {table_id}.{table.gives[0]} for ( {', '.join(table.by)} )",
        )
    for index, key in enumerate(node.keys):
        kind = operand(desk, key, context)
        keys = [row.keys[index] for row in table.rows if index < len(row.keys)]
        forms = {item.form for item in keys if item is not None}
        if kind in KINDS and kind not in ("rating", "class") and forms == {"text"}:
            desk.tell(key, f"table {table_id} is by text, and {named(key)} is {a(kind)}")
        if kind in TEXT_KINDS and forms == {"quantity"}:
            desk.tell(key, f"table {table_id} is by amounts, and {named(key)} is text")
    return len(desk.problems) == before


def date(desk: Desk, at: t.Node | t.Pos, written: str) -> bool:
    """Whether a date is a day; told where it is none."""
    try:
        day(written)
    except ValueError:
        desk.tell(at, f"there is no day {written}", "a date is written year, month, day: 2026-11-01")
        return False
    return True


def named(node: t.Operand) -> str:
    """An operand as a message names it."""
    if isinstance(node, t.Path):
        return node.name
    return node.text if isinstance(node, t.Literal) else "the value"


def _alike(left: str, right: str) -> bool:
    from cleatmark.units import comparable

    return comparable(left, right) or comparable(right, left)


def parses(written: str, kind: str) -> bool:
    try:
        amount(written, kind)
    except QuantityError:
        return False
    return True


def _count(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"
