"""The part of JSON Schema that the schemas use, as a checker for tests."""

from __future__ import annotations

import re
from typing import Any

TYPES = {"string": str, "number": (int, float), "object": dict, "array": list}


def errors(schema: dict[str, Any], value: Any, root: dict[str, Any] | None = None, at: str = "") -> list[str]:
    """Where a value does not fit a schema, by its path."""
    root = root or schema
    if "$ref" in schema:
        return errors(root["definitions"][schema["$ref"].removeprefix("#/definitions/")], value, root, at)
    found: list[str] = []
    if "anyOf" in schema and all(errors(one, value, root, at) for one in schema["anyOf"]):
        found.append(f"{at}: fits none")
    if "enum" in schema and value not in schema["enum"]:
        found.append(f"{at}: {value!r} is not among {schema['enum']}")
    if "type" in schema:
        names = schema["type"] if isinstance(schema["type"], list) else [schema["type"]]
        if isinstance(value, bool) or not any(isinstance(value, TYPES[name]) for name in names):
            return [*found, f"{at}: {type(value).__name__} where {names} is wanted"]
    if "pattern" in schema and isinstance(value, str) and not re.search(schema["pattern"], value):
        found.append(f"{at}: {value!r} does not match {schema['pattern']}")
    if isinstance(value, dict):
        found += _object(schema, value, root, at)
    if isinstance(value, list) and "items" in schema:
        for number, item in enumerate(value):
            found += errors(schema["items"], item, root, f"{at}/{number}")
    return found


def _object(schema: dict[str, Any], value: dict[str, Any], root: dict[str, Any], at: str) -> list[str]:
    found = [f"{at}: {key} is missing" for key in schema.get("required", []) if key not in value]
    for key, item in value.items():
        here = f"{at}/{key}"
        fitting = [
            one for pattern, one in schema.get("patternProperties", {}).items() if re.search(pattern, key)
        ]
        if key in schema.get("properties", {}):
            fitting.append(schema["properties"][key])
        for one in fitting:
            found += errors(one, item, root, here)
        rest = schema.get("additionalProperties", {})
        if not fitting and rest is False:
            found.append(f"{here}: no such key")
        elif not fitting and isinstance(rest, dict):
            found += errors(rest, item, root, here)
    return found
