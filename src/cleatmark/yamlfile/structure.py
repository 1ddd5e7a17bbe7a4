"""The structure of a file: which keys, lists or texts, and which must stand. Told at the place it is about.

The fields inside the structure are declared in rulebooks, not in classes, so a shape is plain data and checking it a
walk over the nodes, which know their places.
"""

from __future__ import annotations

from collections.abc import Iterator
from collections.abc import Mapping as Keys

from msgspec import Struct

from cleatmark.problems import Problem, did_you_mean
from cleatmark.yamlfile.compose import LIMITS
from cleatmark.yamlfile.nodes import Mapping, Node, Sequence, Text, brief, named, problem_at


class Shape(Struct, frozen=True):
    """What may stand at a place.

    kind      text, choice, list, keys, or either
    blank     whether a text may be left blank
    words     of a choice
    item      of a list, or behind every key of the user's own
    required  named keys that must stand, optional those that may; `closed` where no other key may stand
    among     the shapes of `either`
    """

    kind: str
    blank: bool = False
    words: tuple[str, ...] = ()
    item: Shape | None = None
    required: Keys[str, Shape] = {}
    optional: Keys[str, Shape] = {}
    closed: bool = False
    among: tuple[Shape, ...] = ()


TEXT = Shape("text")
"""A text, not left blank."""

ANY_KEYS = Shape("keys")
"""A group of keys, whatever they are: fields are read by their declarations."""

TEXT_BY_KEY = Shape("keys", item=Shape("text", blank=True))
"""A group of keys with a text behind each."""

EXPECTED = {"text": "text", "list": "a list", "keys": "a group of keys"}
FORMS = {"text": Text, "choice": Text, "list": Sequence, "keys": Mapping}


def one_of(*words: str) -> Shape:
    """One of some words."""
    return Shape("choice", words=words)


def list_of(item: Shape) -> Shape:
    """A list of one shape."""
    return Shape("list", item=item)


def keyed(value: Shape) -> Shape:
    """A group of keys of the user's own, each with one shape behind it."""
    return Shape("keys", item=value)


def keys(required: dict[str, Shape], optional: dict[str, Shape], *, fields: bool = False) -> Shape:
    """A group of named keys. With `fields`, declared fields may stand among them; otherwise nothing."""
    return Shape("keys", required=required, optional=optional, closed=not fields)


def either(*shapes: Shape) -> Shape:
    """One of some shapes of different kinds."""
    return Shape("either", among=shapes)


Steps = tuple[int | str, ...]


def check(node: Mapping, shape: Shape) -> tuple[Problem, ...]:
    """Every way in which a tree is not built as the shape says, as far as a reader wants to be told."""
    found: list[Problem] = []
    for problem in _walk(node, shape, (), node):
        found.append(problem)
        if len(found) >= LIMITS.told:
            break
    return tuple(found)


def _walk(node: Node, shape: Shape, steps: Steps, at: Node) -> Iterator[Problem]:
    """Problems of a node. `at` is where to tell of its kind: its key, or itself in a list."""
    if isinstance(node, Text) and (node.spoilt or not node.value):
        if not node.spoilt and not shape.blank:
            yield problem_at(node, f"{_name(steps)} is left blank; leave the line out")
        return
    if shape.kind == "either":
        shape = next((s for s in shape.among if isinstance(node, FORMS[s.kind])), shape.among[-1])
    if not isinstance(node, FORMS[shape.kind]):
        expected = EXPECTED.get(shape.kind) or f"one of {_listed(shape.words)}"
        yield problem_at(at, f"{_name(steps)}: {named(node)} here, where {expected} is expected")
    elif isinstance(node, Mapping):
        yield from _keys(node, shape, steps)
    elif isinstance(node, Sequence) and shape.item is not None:
        for number, item in enumerate(node):
            yield from _walk(item, shape.item, (*steps, number), item)
    elif isinstance(node, Text) and shape.words and node.value not in shape.words:
        message = f'{_name(steps)}: "{brief(node.value)}" is not one of the choices; expected {_listed(shape.words)}'
        yield problem_at(node, message)


def _keys(node: Mapping, shape: Shape, steps: Steps) -> Iterator[Problem]:
    within = f" in {_name(steps)}" if steps else ""
    stand = {entry.key.value: entry for entry in node.entries}
    named_keys = {**shape.required, **shape.optional}
    for name, inner in named_keys.items():
        entry = stand.get(name)
        if entry is not None:
            yield from _walk(entry.value, inner, (*steps, name), entry.key)
        elif name in shape.required:
            yield problem_at(node, f'"{name}" is missing{within}')
    for entry in node.entries:
        name = entry.key.value
        if shape.item is not None:
            yield from _walk(entry.value, shape.item, (*steps, name), entry.key)
        elif shape.closed and name not in named_keys:
            near = did_you_mean(name[:80], named_keys)
            yield problem_at(entry.key, f'unknown key "{brief(name)}"{within}', *near)


def _listed(words: tuple[str, ...]) -> str:
    return " or ".join(part for part in (", ".join(words[:-1]), words[-1]) if part)


def _name(steps: Steps) -> str:
    """A path as a reader writes it: documents 2, runs 1, page."""
    words: list[str] = []
    for step in steps:
        if isinstance(step, int) and words:
            words[-1] += f" {step + 1}"
        else:
            words.append(str(step))
    return ", ".join(words)
