"""A declared field as a JSON Schema: its words, the form of its value, an example, what a reader should know."""

from __future__ import annotations

from typing import Any

from cleatmark.fields import Field
from cleatmark.units import KINDS

Schema = dict[str, Any]

AMOUNT = "[0-9¼½¾⅓⅔⅛⅜⅝⅞]"
PATTERNS = {
    "slope": rf"{AMOUNT}.*(:|/|in|%|°|deg)",
    "ratio": r"[Ll] ?/ ?[0-9]+|[0-9]+ ?%",
    "rating": r"^(FM )?(1[AIai]?|[Ii])-[0-9]{2,3}$",
    "screw size": r"[0-9]",
    "class": r"^([Uu][Ll] )?([Cc]lass )?[0-9]{1,3}$",
    "number": AMOUNT,
    "gauge": rf"{AMOUNT}.*[A-Za-z]",
}
"""What a text of the kind always has; whether it is a value of the kind, the program itself says."""
WITH_UNIT = rf"{AMOUNT}.*[A-Za-z\"'″′°%]"


def value(field: Field) -> Schema:
    """The schema of a field's value."""
    return {"title": field.title, "description": description(field), **_form(field), **_example(field)}


def _form(field: Field) -> Schema:
    if field.kind == "yes/no":
        return {"enum": ["yes", "no", True, False]}
    if field.kind == "list":
        one = _words(field) if field.choices and not field.open else {"type": ["string", "number"]}
        return {"anyOf": [one, {"type": "array", "items": one}]}
    if field.kind == "choice":
        return _words(field)
    if field.kind == "date":
        return {"type": "string", "pattern": "^[0-9]{4}-[0-9]{2}-[0-9]{2}$"}
    if field.kind == "text":
        return {"type": ["string", "number"]}
    return _amount(field)


def _words(field: Field) -> Schema:
    words = [*field.choices, *(["none"] if field.none and "none" not in field.choices else [])]
    if field.open:
        return {"anyOf": [{"enum": words}, {"type": "string"}]}
    return {"enum": words}


def _amount(field: Field) -> Schema:
    if field.choices:
        words: list[Any] = [*field.choices, *(int(word) for word in field.choices if word.isdigit())]
        return {"enum": words}
    pattern = PATTERNS.get(field.kind, WITH_UNIT)
    if field.none:
        pattern = f"^none$|{pattern}"
    bare = field.kind in KINDS and KINDS[field.kind].bare
    return {"type": ["string", "number"] if bare else "string", "pattern": pattern}


def _example(field: Field) -> Schema:
    return {"examples": [field.example]} if field.example else {}


def description(field: Field) -> str:
    """What a reader should know of a field, in a line."""
    parts = []
    if field.kind in KINDS:
        parts.append(KINDS[field.kind].expected)
    elif field.kind == "date":
        parts.append("a date as year, month, day")
    if field.less and field.more:
        parts.append(f"{field.less} or {field.more} beside what was tested")
    if field.none:
        parts.append("`none` where there is none; leave the line out where it is not known")
    if field.note:
        parts.append(field.note)
    if field.example:
        parts.append(f"such as {field.example}")
    text = "; ".join(parts)
    return f"{text[:1].upper()}{text[1:]}." if text else f"{field.title}."
