"""The structure of a file against a pydantic model: which keys, lists or texts, and which must stand.

The models forbid unknown keys except where declared fields stand among the structure. pydantic's complaints
are told at the place of the node that they are about.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

from cleatmark.problems import Problem, did_you_mean
from cleatmark.yamlfile.nodes import Mapping, Node, Sequence, Text, brief, named, problem_at

if TYPE_CHECKING:
    from pydantic import BaseModel

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


def check(node: Node, model: type[BaseModel]) -> tuple[Problem, ...]:
    """Every way in which a tree is not built as the model says."""
    from pydantic import ValidationError

    try:
        model.model_validate(plain(node))
    except ValidationError as error:
        found = [_problem(node, item, model) for item in error.errors(include_url=False, include_input=False)]
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


def _problem(root: Node, error: Any, model: type[BaseModel]) -> Problem | None:
    steps: tuple[int | str, ...] = error["loc"]
    kind: str = error["type"]
    node, key = _at(root, steps)
    if kind == "missing":
        within = f" in {_name(steps[:-1])}" if len(steps) > 1 else ""
        return problem_at(node, f'"{steps[-1]}" is missing{within}')
    if kind == "extra_forbidden":
        holder, _ = _at(root, steps[:-1])
        known = _known(model, steps[:-1])
        at = holder.key(str(steps[-1])) if isinstance(holder, Mapping) else None
        return problem_at(
            at or node,
            f'unknown key "{brief(str(steps[-1]))}" in {_name(steps[:-1])}',
            *did_you_mean(str(steps[-1]), known),
        )
    if isinstance(node, Text) and (node.spoilt or not node.value):
        return None if node.spoilt else problem_at(node, f"{_name(steps)} is left blank; leave the line out")
    if kind in _EXPECTED:
        expected = _EXPECTED[kind]
        return problem_at(key or node, f"{_name(steps)}: {named(node)} here, where {expected} is expected")
    if kind == "literal_error":
        shown = brief(node.value) if isinstance(node, Text) else named(node)
        return problem_at(
            node, f'{_name(steps)}: "{shown}" is not one of the choices; expected {error["ctx"]["expected"]}'
        )
    return problem_at(node, f"{_name(steps)}: {error['msg']}")


def _known(model: Any, steps: tuple[int | str, ...]) -> list[str]:
    """The keys that a model declares where a path leads."""
    from typing import get_args

    for step in steps:
        if isinstance(step, int):
            continue
        field = getattr(model, "model_fields", {}).get(str(step))
        if field is None:
            return []
        model = _inner(field.annotation, get_args)
    return list(getattr(model, "model_fields", {}))


def _inner(annotation: Any, get_args: Any) -> Any:
    """The model inside list[...], dict[...] or an optional one."""
    if hasattr(annotation, "model_fields"):
        return annotation
    for argument in reversed(get_args(annotation)):
        found = _inner(argument, get_args)
        if found is not None:
            return found
    return None
