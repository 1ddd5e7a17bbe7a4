"""YAML events to nodes, one pass and no recursion: depth, size and count are bounded as it goes.

Refused, each with a plain message: anchors, aliases, tags, merge keys, a second document, a key that is not
text, a key given twice. What is refused does not stop the reading; a mistake of syntax does.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

from msgspec import Struct

from cleatmark.problems import Place, Problem
from cleatmark.yamlfile.nodes import Entry, Mapping, Node, Sequence, Text, brief, problem_at, shown_line
from cleatmark.yamlfile.syntax import syntax_problem


class Limits(Struct, frozen=True):
    """What a file may be. Far above any real job or submittal; a caller may raise them.

    size    bytes of the file
    depth   levels of keys and lists in one another
    nodes   values, keys, lists
    scalar  characters of one value
    told    problems told of one file
    """

    size: int = 2_000_000
    depth: int = 20
    nodes: int = 100_000
    scalar: int = 20_000
    told: int = 100


LIMITS = Limits()
_SWALLOWED = re.compile(r"\s{0,40}#\s?[0-9][^\s]{0,60}")


class _Open:
    """A mapping or list being read: what it has so far, and the key that waits for its value."""

    def __init__(self, node: Mapping | Sequence) -> None:
        self.node = node
        self.entries: list[Entry] = []
        self.items: list[Node] = []
        self.keys: dict[str, Text] = {}
        self.key: Text | None = None
        self.awaits_value = False

    def closed(self) -> Node:
        if isinstance(self.node, Mapping):
            return Mapping(tuple(self.entries), self.node.place, self.node.line)
        return Sequence(tuple(self.items), self.node.place, self.node.line)


class _StopError(Exception):
    """Nothing further can be read."""


class Composer:
    """Reads one file's text. `compose` gives the root, or None, and `problems` what was wrong."""

    def __init__(self, file: str, text: str, limits: Limits) -> None:
        self.file = file
        self.text = text
        self.lines = text.splitlines()
        self.limits = limits
        self.problems: list[Problem] = []
        self._open: list[_Open] = []
        self._root: Node | None = None
        self._count = 0

    def compose(self) -> Node | None:
        """The root node; None for an empty file or one whose syntax is broken."""
        import yaml

        loader: Any = yaml.CBaseLoader if yaml.__with_libyaml__ else yaml.BaseLoader
        try:
            for event in yaml.parse(self.text, Loader=loader):
                self._take(event, type(event).__name__)
        except yaml.YAMLError as error:
            self.problems.append(syntax_problem(self.file, self.lines, error))
            return None
        except _StopError:
            return None
        return self._root

    def _place(self, mark: Any) -> tuple[Place, str]:
        line = self.lines[mark.line] if mark.line < len(self.lines) else ""
        return Place(self.file, mark.line + 1, mark.column + 1), line

    def _tell(self, problem: Problem) -> None:
        self.problems.append(problem)
        if len(self.problems) >= self.limits.told:
            self._stop(problem.place, "too many mistakes: the rest of the file is not read")

    def _stop(self, place: Place, message: str, *help: str) -> None:
        line = self.lines[place.line - 1] if 0 < place.line <= len(self.lines) else ""
        self.problems.append(Problem(place, message, help, shown_line(line)))
        raise _StopError

    def _take(self, event: Any, name: str) -> None:
        if name == "ScalarEvent":
            self._put(self._scalar(event))
            return
        if name == "DocumentStartEvent" and self._root is not None:
            place, _ = self._place(event.start_mark)
            self._stop(place, 'a second document starts here ("---")', "put one job or submittal in one file")
        if name in ("MappingStartEvent", "SequenceStartEvent"):
            place, line = self._place(event.start_mark)
            if len(self._open) >= self.limits.depth:
                self._stop(place, f"more than {self.limits.depth} levels inside one another")
            node: Mapping | Sequence = (
                Mapping((), place, line) if name == "MappingStartEvent" else Sequence((), place, line)
            )
            self._counted(place)
            self._properties(event, node)
            self._open.append(_Open(node))
        elif name in ("MappingEndEvent", "SequenceEndEvent"):
            self._put(self._open.pop().closed())
        elif name == "AliasEvent":
            place, line = self._place(event.start_mark)
            self._counted(place)
            text = Text("", place, line, spoilt=True)
            self._tell(
                problem_at(
                    text,
                    f'"*{event.anchor[:60]}" refers to another place of the file (a YAML alias)',
                    "write the value out here; put text that starts with * in quotes",
                )
            )
            self._put(text)

    def _counted(self, place: Place) -> None:
        self._count += 1
        if self._count > self.limits.nodes:
            self._stop(place, f"more than {self.limits.nodes:,} values in one file")

    def _properties(self, event: Any, node: Node) -> bool:
        """Whether an anchor or a tag stands before the node; each is told."""
        if event.anchor:
            self._tell(
                problem_at(
                    node,
                    f'"&{event.anchor[:60]}" is a YAML anchor',
                    "write the value out where it is used; put text that starts with & in quotes",
                )
            )
        if event.tag:
            tag = event.tag.replace("tag:yaml.org,2002:", "!!")
            self._tell(
                problem_at(
                    node,
                    f'"{tag[:60]}" is a YAML tag, and values here are text',
                    "leave it out; put text that starts with ! in quotes",
                )
            )
        return bool(event.anchor or event.tag)

    def _scalar(self, event: Any) -> Text:
        place, line = self._place(event.start_mark)
        self._counted(place)
        if len(event.value) > self.limits.scalar:
            self._stop(place, f"one value of {len(event.value):,} characters; at most {self.limits.scalar:,}")
        text = Text(event.value.strip(), place, line)
        if (event.anchor or event.tag) and self._properties(event, text):
            return Text(text.value, place, line, spoilt=True)
        if event.style in (None, ""):
            return self._unswallowed(text, event.end_mark)
        return text

    def _unswallowed(self, text: Text, end: Any) -> Text:
        """A plain value behind which YAML dropped `#12` as a comment is told of."""
        if end.line >= len(self.lines) or "#" not in self.lines[end.line] or self._is_key():
            return text
        match = _SWALLOWED.match(self.lines[end.line], end.column)
        if not match:
            return text
        dropped = match[0].strip()
        place = Place(self.file, end.line + 1, end.column + 1 + len(match[0]) - len(match[0].lstrip()))
        number = dropped.lstrip("# ").rstrip(",]}")
        whole = f"{brief(text.value)} {dropped}".strip().rstrip(",]}")
        self._tell(
            Problem(
                place,
                f'"{dropped}" is dropped: to YAML, # after a space starts a comment',
                (f'write "{whole}" with the quotes' + ("" if text.value else f", or No. {number}"),),
                shown_line(self.lines[end.line]),
                len(dropped),
            )
        )
        return Text(text.value, text.place, text.line, spoilt=True)

    def _is_key(self) -> bool:
        return (
            bool(self._open) and isinstance(self._open[-1].node, Mapping) and not self._open[-1].awaits_value
        )

    def _put(self, node: Node) -> None:
        if not self._open:
            self._root = node
            return
        holder = self._open[-1]
        if isinstance(holder.node, Sequence):
            holder.items.append(node)
        elif not holder.awaits_value:
            holder.key, holder.awaits_value = self._checked_key(node, holder.keys), True
        else:
            holder.awaits_value = False
            if holder.key is not None:
                holder.entries.append(Entry(holder.key, node))

    def _checked_key(self, node: Node, keys: dict[str, Text]) -> Text | None:
        if not isinstance(node, Text):
            self._tell(problem_at(node, "a key is one word or a few, not a list or keys of its own"))
            return None
        if node.spoilt:
            return None
        if node.value == "<<":
            self._tell(problem_at(node, '"<<" merges other keys in YAML; write them out here'))
            return None
        if not node.value:
            self._tell(problem_at(node, "a value without a key"))
            return None
        if node.value in keys:
            first = keys[node.value].place.line
            self._tell(
                problem_at(node, f'"{brief(node.value)}" is given twice', f"first on line {first}; keep one")
            )
            return None
        keys[node.value] = node
        return node


def walk(node: Node | None) -> Iterator[Text]:
    """Every text of a tree, keys left out."""
    if isinstance(node, Text):
        yield node
    elif isinstance(node, Mapping):
        for entry in node.entries:
            yield from walk(entry.value)
    elif isinstance(node, Sequence):
        for item in node.items:
            yield from walk(item)
