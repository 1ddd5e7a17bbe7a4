"""YAML events to nodes, one pass and no recursion: depth, size and count are bounded as it goes.

Refused, each with a plain message: anchors, aliases, tags, merge keys, a second document, a key that is not
text, a key given twice. What is refused does not stop the reading; a mistake of syntax does.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator
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
    """A mapping or list being read: what it has so far, and of a mapping the key that waits for its value."""

    def __init__(self, place: Place, line: str, *, is_list: bool) -> None:
        self.place, self.line, self.is_list = place, line, is_list
        self.entries: list[Entry] = []
        self.items: list[Node] = []
        self.keys: dict[str, Text] = {}
        self.key: Text | None = None
        self.awaits_value = False

    def closed(self) -> Mapping | Sequence:
        if self.is_list:
            return Sequence(tuple(self.items), self.place, self.line)
        return Mapping(tuple(self.entries), self.place, self.line)


class _StopError(Exception):
    """Nothing further can be read."""


class Composer:
    """Reads one file's text. `compose` gives the root, or None, and `problems` what was wrong."""

    def __init__(self, file: str, text: str, limits: Limits) -> None:
        self.file = file
        self.text = text
        self.lines = text.splitlines()
        self._has_signs = "#" in text
        self.limits = limits
        self.problems: list[Problem] = []
        self._open: list[_Open] = []
        self._root: Node | None = None
        self._count = 0
        self._quoted: Any = None

    def compose(self) -> Node | None:
        """The root node; None for an empty file or one whose syntax is broken."""
        import yaml

        loader: Any = yaml.CBaseLoader if yaml.__with_libyaml__ else yaml.BaseLoader
        take: dict[type, Callable[[Any], None]] = {
            yaml.ScalarEvent: self._scalar,
            yaml.MappingStartEvent: self._mapping,
            yaml.SequenceStartEvent: self._sequence,
            yaml.MappingEndEvent: self._end,
            yaml.SequenceEndEvent: self._end,
            yaml.AliasEvent: self._alias,
            yaml.DocumentStartEvent: self._document,
        }
        try:
            parser = loader(self.text)
            try:
                while (event := parser.get_event()) is not None:
                    act = take.get(type(event))
                    if act is not None:
                        act(event)
            finally:
                parser.dispose()
        except yaml.YAMLError as error:
            self.problems.append(self._unclosed(error) or syntax_problem(self.file, self.lines, error))
            return None
        except _StopError:
            return None
        return self._root

    def _place(self, mark: Any) -> tuple[Place, str]:
        at = mark.line
        return Place(self.file, at + 1, mark.column + 1), self.lines[at] if at < len(self.lines) else ""

    def _unclosed(self, error: Any) -> Problem | None:
        """Where the syntax breaks behind a value whose quotes close lines below: the place that they were opened."""
        mark = getattr(error, "problem_mark", None)
        if mark is None or self._quoted is None or self._quoted.style not in ("'", '"'):
            return None
        start, end = self._quoted.start_mark, self._quoted.end_mark
        if start.line == end.line or mark.line != end.line:
            return None
        place, line = self._place(start)
        message = f"the quotes opened here go on to line {end.line + 1}, and text follows where they close"
        return Problem(place, message, ("close them on the same line",), shown_line(line))

    def _tell(self, problem: Problem) -> None:
        self.problems.append(problem)
        if len(self.problems) >= self.limits.told:
            self._stop(problem.place, "too many mistakes: the rest of the file is not read")

    def _stop(self, place: Place, message: str, *help: str) -> None:
        line = self.lines[place.line - 1] if 0 < place.line <= len(self.lines) else ""
        self.problems.append(Problem(place, message, help, shown_line(line)))
        raise _StopError

    def _document(self, event: Any) -> None:
        if self._root is not None:
            place, _ = self._place(event.start_mark)
            self._stop(place, 'a second document starts here ("---")', "put one job or submittal in one file")

    def _mapping(self, event: Any) -> None:
        self._begin(event, is_list=False)

    def _sequence(self, event: Any) -> None:
        self._begin(event, is_list=True)

    def _begin(self, event: Any, *, is_list: bool) -> None:
        place, line = self._place(event.start_mark)
        if len(self._open) >= self.limits.depth:
            self._stop(place, f"more than {self.limits.depth} levels inside one another")
        self._counted(place)
        opened = _Open(place, line, is_list=is_list)
        if event.anchor or event.tag:
            self._properties(event, opened.closed())
        self._open.append(opened)

    def _end(self, _: Any) -> None:
        self._put(self._open.pop().closed())

    def _alias(self, event: Any) -> None:
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

    def _properties(self, event: Any, node: Node) -> None:
        """Tells of an anchor or a tag before the node."""
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

    def _scalar(self, event: Any) -> None:
        place, line = self._place(event.start_mark)
        self._counted(place)
        value = event.value
        if event.style:
            self._quoted = event
        if len(value) > self.limits.scalar:
            self._stop(place, f"one value of {len(value):,} characters; at most {self.limits.scalar:,}")
        text = Text(value.strip(), place, line)
        if event.anchor or event.tag:
            self._properties(event, text)
            text = Text(text.value, place, line, spoilt=True)
        elif not event.style and self._has_signs:
            text = self._unswallowed(text, event.end_mark)
        self._put(text)

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
        return bool(self._open) and not self._open[-1].is_list and not self._open[-1].awaits_value

    def _put(self, node: Node) -> None:
        if not self._open:
            self._root = node
            return
        holder = self._open[-1]
        if holder.is_list:
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
