"""A YAML file as text under keys, every part with its place. Nothing is converted: `no` and 3:12 are text."""

from __future__ import annotations

from collections.abc import Iterator

from msgspec import Struct

from cleatmark.problems import Place, Problem


class Text(Struct, frozen=True):
    """A scalar as text.

    value  without the white space around it; "" where the file leaves it empty
    line   the line of the file it starts on, as written
    spoilt whether a problem was told of it already, so that nothing more need be said
    """

    value: str
    place: Place
    line: str = ""
    spoilt: bool = False


class Entry(Struct, frozen=True):
    """A key and what stands under it."""

    key: Text
    value: Node


class Mapping(Struct, frozen=True):
    """Keys in the order of the file; no key stands twice."""

    entries: tuple[Entry, ...]
    place: Place
    line: str = ""

    def get(self, key: str) -> Node | None:
        """What stands under a key, None where it does not stand."""
        for entry in self.entries:
            if entry.key.value == key:
                return entry.value
        return None

    def key(self, key: str) -> Text | None:
        """A key as it stands written."""
        return next((entry.key for entry in self.entries if entry.key.value == key), None)


class Sequence(Struct, frozen=True):
    """Items in the order of the file."""

    items: tuple[Node, ...]
    place: Place
    line: str = ""

    def __iter__(self) -> Iterator[Node]:
        return iter(self.items)


Node = Text | Mapping | Sequence


def problem_at(node: Node, message: str, *help: str) -> Problem:
    """A problem at a node, with its line and a caret under its text."""
    span = 1
    if isinstance(node, Text):
        shown = node.line[node.place.column - 1 :]
        first = node.value.split("\n", 1)[0]
        span = len(first) if shown.startswith(first) else len(shown.rstrip()) if shown[:1] in "\"'" else 1
    return Problem(node.place, message, help, shown_line(node.line), max(span, 1))


def shown_line(line: str) -> str:
    """A line for the caret to stand under; nothing where it is too long to print."""
    return line if len(line) <= 300 else ""


def brief(text: str) -> str:
    """A text short enough for a message."""
    folded = " ".join(text[:200].split())
    return folded if len(folded) <= 80 else folded[:77] + "..."


def named(node: Node) -> str:
    """What a node is, for a message."""
    return {Text: "text", Mapping: "a group of keys", Sequence: "a list"}[type(node)]
