"""Which facts a rule reads, with all that its defines rest on."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping

from cleatmark.language import tree as t
from cleatmark.language.compile import inner_context
from cleatmark.language.names import Name, Names, context_of

Context = tuple[str, ...]
COVERS = "covers"
"""Stands among the paths for `it covers proposed`."""


class Reader:
    """Gathers the full paths that conditions and values read: "proposed.panel.width", "run.held"."""

    def __init__(self, names: Names, kinds: Mapping[str, tuple[str, ...]]) -> None:
        self.names = names
        self.kinds = kinds
        self.paths: set[str] = set()
        self._defines: set[str] = set()

    def condition(self, node: t.Condition | None, context: Context) -> None:
        """Adds what a condition reads."""
        if isinstance(node, t.And | t.Or):
            for part in node.parts:
                self.condition(part, context)
        elif isinstance(node, t.Not):
            self.condition(node.part, context)
        elif isinstance(node, t.Covers):
            self.paths.add(COVERS)
        elif isinstance(node, t.Quantified):
            inner = inner_context(node.over, self.kinds, context)
            self.condition(node.where, inner)
            self.condition(node.has, inner)
        elif node is not None:
            for operand in sides(node):
                self.operand(operand, context)

    def operand(self, node: t.Operand, context: Context) -> None:
        """Adds what a value reads; of a define also what it rests on."""
        for path in paths(node):
            name = self.names.resolve(path.name, context)
            if not isinstance(name, Name):
                continue
            self.paths.add(name.path)
            if name.define is not None and name.define.id not in self._defines:
                self._defines.add(name.define.id)
                inside = context_of(name.define.of)
                for alternative in name.define.alternatives:
                    self.operand(alternative.value, inside)
                    self.condition(alternative.when, inside)


def sides(node: t.Compare | t.OneOf | t.IsStated) -> tuple[t.Operand, ...]:
    """The values that a comparison sets beside each other."""
    if isinstance(node, t.Compare):
        return node.left, node.right
    return (node.left, *node.options) if isinstance(node, t.OneOf) else (node.operand,)


def paths(node: t.Operand) -> Iterator[t.Path]:
    """The names within a value."""
    if isinstance(node, t.Path):
        yield node
    elif isinstance(node, t.Arithmetic):
        yield from paths(node.left)
        yield from paths(node.right)
    elif isinstance(node, t.Choose):
        yield from _all(node.operands)
    elif isinstance(node, t.Lookup):
        yield from _all(node.keys)


def _all(nodes: Iterable[t.Operand]) -> Iterator[t.Path]:
    for node in nodes:
        yield from paths(node)
