"""The structure of a file: which keys, lists or texts, and which must stand. pydantic's core validates it.

The shape is plain data for pydantic's core. Its class layer is left out: it doubles the time of a cold load,
and the fields inside the structure are declared in rulebooks, not in classes. What the core complains of is
told at the place of the node that it is about.
"""

from __future__ import annotations

from typing import Any

from cleatmark.problems import Problem, did_you_mean
from cleatmark.yamlfile.compose import LIMITS
from cleatmark.yamlfile.nodes import Mapping, Node, Sequence, Text, brief, named, problem_at

Shape = dict[str, Any]

TEXT: Shape = {"type": "str", "min_length": 1}
"""A text, not left blank."""

ANY_KEYS: Shape = {"type": "dict", "keys_schema": {"type": "str"}}
"""A group of keys, whatever they are: fields are read by their declarations."""

TEXT_BY_KEY: Shape = {"type": "dict", "keys_schema": {"type": "str"}, "values_schema": {"type": "str"}}
"""A group of keys with a text behind each."""


def one_of(*words: str) -> Shape:
    """One of some words."""
    return {"type": "literal", "expected": list(words)}


def list_of(item: Shape) -> Shape:
    """A list of one shape."""
    return {"type": "list", "items_schema": item}


def keyed(value: Shape) -> Shape:
    """A group of keys of the user's own, each with one shape behind it."""
    return {"type": "dict", "keys_schema": {"type": "str"}, "values_schema": value}


def keys(required: dict[str, Shape], optional: dict[str, Shape], *, fields: bool = False) -> Shape:
    """A group of named keys. With `fields`, declared fields may stand among them; otherwise nothing."""
    named_keys = {
        name: {"type": "typed-dict-field", "schema": shape, "required": name in required}
        for name, shape in {**required, **optional}.items()
    }
    return {"type": "typed-dict", "fields": named_keys, "extra_behavior": "allow" if fields else "forbid"}


_EXPECTED = {
    "string_type": "text",
    "list_type": "a list",
    "dict_type": "a group of keys",
    "model_type": "a group of keys",
    "model_attributes_type": "a group of keys",
}


def plain(node: Node) -> Any:
    """A tree as dicts, lists and texts."""
    if isinstance(node, Text):
        return node.value
    if isinstance(node, Sequence):
        return [plain(item) for item in node]
    return {entry.key.value: plain(entry.value) for entry in node.entries}


def check(node: Mapping, shape: Shape) -> tuple[Problem, ...]:
    """Every way in which a tree is not built as the shape says."""
    from pydantic_core import SchemaValidator, ValidationError

    schema: Any = shape
    try:
        SchemaValidator(schema).validate_python(plain(node))
    except ValidationError as error:
        errors = error.errors(include_url=False, include_input=False)[: LIMITS.told]
        found = [_problem(node, item, shape) for item in errors]
        return tuple(problem for problem in found if problem)
    return ()


def _at(root: Node, steps: tuple[int | str, ...]) -> tuple[Node, Text | None]:
    """The node that a path of keys and indexes leads to, and the key it stands under."""
    node: Node = root
    key: Text | None = None
    for step in steps:
        if isinstance(node, Mapping):
            after = node.get(str(step))
            if after is None:
                break
            key = node.key(str(step))
            node = after
        elif isinstance(node, Sequence) and isinstance(step, int) and step < len(node.items):
            node = node.items[step]
    return node, key


def _name(steps: tuple[int | str, ...]) -> str:
    """A path as a reader writes it: documents 2, runs 1, page."""
    words: list[str] = []
    for step in steps:
        if isinstance(step, int) and words:
            words[-1] += f" {step + 1}"
        else:
            words.append(str(step))
    return ", ".join(words)


def _problem(root: Node, error: Any, shape: Shape) -> Problem | None:
    steps: tuple[int | str, ...] = error["loc"]
    kind: str = error["type"]
    node, key = _at(root, steps)
    within = f" in {_name(steps[:-1])}" if len(steps) > 1 else ""
    if kind == "missing":
        return problem_at(node, f'"{steps[-1]}" is missing{within}')
    if kind == "extra_forbidden":
        holder, _ = _at(root, steps[:-1])
        known = _known(shape, steps[:-1])
        at = holder.key(str(steps[-1])) if isinstance(holder, Mapping) else None
        return problem_at(
            at or node,
            f'unknown key "{brief(str(steps[-1]))}"{within}',
            *did_you_mean(str(steps[-1])[:80], known),
        )
    if isinstance(node, Text) and (node.spoilt or not node.value):
        return None if node.spoilt else problem_at(node, f"{_name(steps)} is left blank; leave the line out")
    if kind in _EXPECTED:
        expected = _EXPECTED[kind]
        place: Node = node if isinstance(steps[-1], int) or key is None else key
        return problem_at(place, f"{_name(steps)}: {named(node)} here, where {expected} is expected")
    if kind == "literal_error":
        expected = error["ctx"]["expected"].replace("'", "")
        shown = brief(node.value) if isinstance(node, Text) else named(node)
        return problem_at(node, f'{_name(steps)}: "{shown}" is not one of the choices; expected {expected}')
    return problem_at(node, f"{_name(steps)}: {error['msg']}")


def _known(shape: Shape, steps: tuple[int | str, ...]) -> list[str]:
    """The keys that a shape names where a path leads."""
    for step in steps:
        if shape["type"] == "list":
            shape = shape["items_schema"]
        elif shape["type"] == "dict":
            shape = shape["values_schema"]
        else:
            shape = shape["fields"][step]["schema"]
    return list(shape["fields"])
