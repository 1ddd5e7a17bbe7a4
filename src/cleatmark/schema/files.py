"""JSON Schemas of the files that people write, from the structure of the files and the declared fields within it."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from msgspec import Struct

from cleatmark.fields import Field, FieldBook
from cleatmark.schema.values import Schema, value
from cleatmark.yamlfile.structure import Shape

DRAFT = "http://json-schema.org/draft-07/schema#"


class Fields(Struct, frozen=True):
    """Which declared fields stand at a place of a file.

    block  of the field book
    under  only those whose key starts so; it is left out of the key ("roof." for the fields of one roof)
    zones  whether a value may be a group by roof zone
    """

    block: str
    under: str = ""
    zones: bool = False


class File(Struct, frozen=True):
    """A file that people write.

    shape   its structure
    fields  by the path of keys to the place where they stand; "" for the file, "*" for an item of a list or a key
            of the user's own, such as "documents/*/runs/*/specimen"
    others  keys at the root that are read and have no shape
    """

    title: str
    shape: Shape
    fields: Mapping[str, Fields]
    others: tuple[str, ...] = ()


def schema(file: File, book: FieldBook) -> Schema:
    """The JSON Schema (draft 7) of a file."""
    used: dict[str, Field] = {}
    whole = _shape(file.shape, "", file, book, used)
    for key in file.others:
        whole["properties"].setdefault(key, {})
    definitions = {path: value(field) for path, field in sorted(used.items())}
    return {"$schema": DRAFT, "title": file.title, **whole, "definitions": definitions}


def _shape(shape: Shape, path: str, file: File, book: FieldBook, used: dict[str, Field]) -> Schema:
    if shape.kind == "either":
        return {"anyOf": [_shape(one, path, file, book, used) for one in shape.among]}
    if shape.kind == "choice":
        return {"enum": list(shape.words)}
    if shape.kind == "text":
        return {"type": ["string", "number"]}
    if shape.kind == "list":
        item = _shape(shape.item, f"{path}/*", file, book, used) if shape.item is not None else {}
        return {"type": "array", "items": item}
    return _keys(shape, path, file, book, used)


def _keys(shape: Shape, path: str, file: File, book: FieldBook, used: dict[str, Field]) -> Schema:
    if shape.item is not None:
        inner = _shape(shape.item, f"{path}/*", file, book, used)
        return {"type": "object", "additionalProperties": inner}
    named = {**shape.required, **shape.optional}
    properties = {key: _shape(one, f"{path}/{key}", file, book, used) for key, one in named.items()}
    out: Schema = {"type": "object", "properties": properties}
    here = file.fields.get(path.removeprefix("/"))
    if here is not None:
        _add_fields(out, here, book, used)
    if here is not None or shape.closed:
        out["additionalProperties"] = False
    if shape.required:
        out["required"] = list(shape.required)
    return out


def _add_fields(out: Schema, here: Fields, book: FieldBook, used: dict[str, Field]) -> None:
    """Declared fields, nested (`panel: {width: }`) as editors complete them, and dotted (`panel.width:`)."""
    dotted: dict[str, Any] = {}
    for key, field in _at(here, book):
        used[field.path] = field
        one: Schema = {"$ref": f"#/definitions/{field.path}"}
        if here.zones:
            one = {"anyOf": [one, {"type": "object", "additionalProperties": one}]}
        group = out["properties"]
        *groups, leaf = key.split(".")
        for name in groups:
            inner = group.setdefault(
                name, {"type": "object", "properties": {}, "additionalProperties": False}
            )
            group = inner["properties"]
        group.setdefault(leaf, one)
        if groups:
            dotted[f"^{key.replace('.', '[.]')}$"] = one
    if dotted:
        out["patternProperties"] = dotted


def _at(here: Fields, book: FieldBook) -> Iterable[tuple[str, Field]]:
    for key, field in book.block(here.block).items():
        if key.startswith(here.under):
            yield key.removeprefix(here.under), field
