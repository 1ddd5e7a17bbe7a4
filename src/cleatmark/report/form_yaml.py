"""The blank submittal form as YAML: every field, commented out, with an example and what it is written in."""

from __future__ import annotations

import re
from collections.abc import Iterable

from cleatmark.fields import Field, FieldBook
from cleatmark.forms import BY_ZONE, ZONES, choices, groups, measure

_COLUMN = 52
"""Where the words behind a value begin."""
_HEAD = """\
## A submittal form. To fill it in, take "# " away from the front of the lines that you need, those of the keys
## above them too, and write your value in place of the example. Leave the others as they are: what is not known
## is not stated. A value with a colon, or with # in it, goes in quotes.
"""
_QUOTED = re.compile(r"[-?:,\[\]{}#&*!|>'\"%@`]|.*(?:: | #)|.*:$|\s|.*\s$")


def form_yaml(book: FieldBook) -> str:
    """The form's text. Every line of it is a comment; with the first "# " of each gone it states the examples."""
    lines: list[str] = []
    lines += _part("The submittal.", _fields(book.block("submittal").items()))
    lines += _part("What is proposed.", ["proposed:", *_assembly(book, "  ")])
    lines += _part(
        "What was changed in the field, for a roof that is built already; any field of the proposal.",
        ["installed:", *_nested(_by_zone(book), "  ")],
    )
    lines += _part(
        "Departures that you declare; the field where one field is departed from.", _departures(book)
    )
    lines += _part(
        "The papers, as many as there are; each begins with a dash.", ["documents:", *_document(book)]
    )
    return _HEAD + "".join(f"{line}\n" for line in lines)


def _part(title: str, lines: Iterable[str]) -> list[str]:
    return ["", f"## {title}", *(line if line.startswith("##") else f"# {line}" for line in lines)]


def _line(key: str, value: str, note: str, indent: str) -> str:
    text = f"{indent}{key}: {quoted(value)}"
    return f"{text:<{_COLUMN}} # {note}" if note else text


def quoted(value: str) -> str:
    """A value as YAML takes it for a text."""
    if value and not _QUOTED.match(value):
        return value
    doubled = value.replace("\\", "\\\\").replace('"', '\\"')
    return f'"{doubled}"'


def _note(field: Field) -> str:
    words = choices(field)
    offered = " | ".join(words) + (" | another" if field.open else "") if field.kind != "yes/no" else ""
    none = "or none" if field.none and not words else ""
    return ": ".join(part for part in (field.title, offered or measure(field)) if part) + (
        f", {none}" if none else ""
    )


def _fields(fields: Iterable[tuple[str, Field]], indent: str = "") -> list[str]:
    return [_line(key, _example(field), _note(field), indent) for key, field in fields]


def _example(field: Field) -> str:
    words = choices(field)
    return field.example or (words[0] if words else "...")


def _nested(fields: Iterable[Field], indent: str) -> list[str]:
    """Fields under the keys that their paths begin with."""
    lines: list[str] = []
    parent = ""
    for field in fields:
        above, _, key = field.path.rpartition(".")
        if above != parent:
            lines.append(f"{indent}{above}:")
            parent = above
        lines.append(_line(key, _example(field), _note(field), f"{indent}  " if above else indent))
    return lines


def _assembly(book: FieldBook, indent: str) -> list[str]:
    lines: list[str] = []
    for fields in groups(book).values():
        lines += _nested(fields, indent)
        for field in fields:
            if field.path in BY_ZONE:
                zones = ", ".join(f"{zone}: {_example(field)}" for zone in ZONES)
                key = field.path.rpartition(".")[2]
                lines.append(f"##   by roof zone: {key}: {{{zones}}}")
    return lines


def _by_zone(book: FieldBook) -> list[Field]:
    known = book.block("assembly")
    return [known[path] for path in BY_ZONE if path in known] or list(known.values())[:1]


def _departures(book: FieldBook) -> list[str]:
    field = _by_zone(book)[0]
    return [
        "departures:",
        _line("- text", f"{field.title} is not as specified", "Departure, in words", "  "),
        _line("field", field.path, "Field it is about", "    "),
    ]


def _document(book: FieldBook) -> list[str]:
    own = [(key, field) for key, field in book.block("document").items() if key not in ("id", "claims")]
    known = book.block("document")
    lines = (
        [_line("- id", _example(known["id"]), _note(known["id"]), "  ")] if "id" in known else ["  - id: D-1"]
    )
    lines += _fields(own, "    ")
    if "claims" in known:
        item = f"      - {quoted(_example(known['claims']))}"
        lines += ["    claims:", f"{item:<{_COLUMN}} # {_note(known['claims'])}"]
    lines += ["    specimen:", *_assembly(book, "      ")]
    lines = [line for line in lines if not line.startswith("##   by roof zone")]
    lines += _runs(book)
    conditions = book.block("condition")
    lines += ["    conditions:", *_item(conditions.items())]
    return lines


def _runs(book: FieldBook) -> list[str]:
    return [
        "    runs:",
        *_item(book.block("run").items()),
        "        specimen:",
        *_nested(_by_zone(book), "          "),
    ]


def _item(fields: Iterable[tuple[str, Field]]) -> list[str]:
    """One entry of a list, two levels in."""
    lines = _fields(fields, "        ")
    return [f"      - {lines[0][8:]}", *lines[1:]] if lines else []
