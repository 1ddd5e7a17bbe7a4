"""Fields under keys: nested or dotted keys to declared paths, their texts to facts, every mistake told."""

from __future__ import annotations

from collections.abc import Callable, Collection, Iterator
from collections.abc import Mapping as Map
from functools import lru_cache
from pathlib import Path

from msgspec import Struct

from cleatmark.facts import Citation, Fact, Value
from cleatmark.fields import Field
from cleatmark.problems import Problem, near_name
from cleatmark.yamlfile.compose import LIMITS
from cleatmark.yamlfile.nodes import Entry, Mapping, Node, Sequence, Text, brief, named, problem_at
from cleatmark.yamlfile.values import FieldValueError, magnitude, read_value

Cite = Callable[[Text, str], tuple[Citation, ...]]
"""What cites a text; the text with its white space folded is given too."""


class Leaf(Struct, frozen=True):
    """A declared field as it stands in a file: its key there and what stands under it."""

    field: Field
    key: Text
    node: Node


class Facts(Struct, frozen=True):
    """Facts read from keys. `by_zone` holds those that differ by roof zone: by path, then zone as written."""

    facts: Map[str, Fact] = {}
    by_zone: Map[str, Map[str, Fact]] = {}


def cited(kind: str, text: Text) -> Citation:
    """Where a text stands in its file, with the line as written."""
    place = text.place
    return Citation(kind, f"{_name(place.file)}:{place.line}", brief_line(text.line[:400]))


@lru_cache(maxsize=16)
def _name(file: str) -> str:
    return Path(file).name


def groups(node: Node | None, found: list[Problem]) -> Iterator[Mapping]:
    """The groups of keys in a list, as long as not too many mistakes have been found."""
    for item in node.items if isinstance(node, Sequence) else ():
        if len(found) >= LIMITS.told:
            return
        if isinstance(item, Mapping):
            yield item


def text_of(node: Mapping, key: str) -> str:
    """The text behind a key, white space folded; "" where there is none."""
    found = node.get(key)
    return " ".join(found.value.split()) if isinstance(found, Text) else ""


def in_order(problems: Collection[Problem]) -> tuple[Problem, ...]:
    """The mistakes of a file in its order, each once; where there are too many, the first and a count."""
    unique = {(problem.place, problem.message): problem for problem in problems}
    found = sorted(unique.values(), key=lambda problem: (problem.place, problem.message))
    if len(found) <= LIMITS.told:
        return tuple(found)
    last = found[LIMITS.told]
    more = Problem(last.place, "too many mistakes: those from here on are not told")
    return (*found[: LIMITS.told], more)


@lru_cache(maxsize=4096)
def brief_line(line: str) -> str:
    """A line as a quotation: without its indent, cut where it is very long. Many values stand in one line."""
    folded = " ".join(line[:400].split())
    return folded if len(folded) <= 200 else folded[:197] + "..."


def blank(path: str, text: Text, example: str = "") -> Problem:
    """A key with nothing behind it."""
    such = f', such as "{example}"' if example else ""
    return problem_at(text, f"{path} is left blank; state it{such}, or leave the line out")


def fields_under(
    node: Mapping, known: Map[str, Field], *, also: Collection[str] = (), block: str = ""
) -> tuple[tuple[Leaf, ...], tuple[Problem, ...]]:
    """The declared fields that stand under a mapping, nested (`panel: {width: }`) or dotted (`panel.width:`).

    known  fields by their key in the block
    also   keys of the structure around the fields, which are passed over
    block  how a message names the mapping ("proposed"), "" for the whole file
    """
    leaves: list[Leaf] = []
    problems: list[Problem] = []
    seen: dict[str, Text] = {}
    parents = _parents(tuple(known))

    def visit(mapping: Mapping, prefix: str) -> None:
        for entry in mapping.entries:
            if len(problems) >= LIMITS.told:
                return
            key, path = entry.key, f"{prefix}{entry.key.value}"
            if not prefix and path in also:
                continue
            if path in known:
                if path in seen:
                    first = seen[path].place.line
                    problems.append(
                        problem_at(key, f'"{path}" is given twice', f"first on line {first}; keep one")
                    )
                    continue
                seen[path] = key
                leaves.append(Leaf(known[path], key, entry.value))
            elif path in parents and isinstance(entry.value, Mapping):
                visit(entry.value, f"{path}.")
            elif path in parents:
                problems.append(_holds_fields(key, path, entry.value, known))
            else:
                problems.append(_unknown(entry, path, known, also if not prefix else (), block))

    visit(node, "")
    return tuple(leaves), tuple(problems)


@lru_cache(maxsize=32)
def _parents(keys: tuple[str, ...]) -> frozenset[str]:
    """Keys that hold others: "panel" of "panel.width"."""
    return frozenset(key[:end] for key in keys for end in range(len(key)) if key[end] == ".")


def _holds_fields(key: Text, path: str, node: Node, known: Map[str, Field]) -> Problem:
    if isinstance(node, Text) and not node.value:
        return problem_at(key, f'"{path}" is left blank; leave the line out')
    what = f'"{path}" holds keys of its own; {named(node)} here, where they are expected'
    return problem_at(key, f"{what}: {_keys_under(path, known)}")


def _unknown(entry: Entry, path: str, known: Map[str, Field], also: Collection[str], block: str) -> Problem:
    key = entry.key
    near = near_name(path, [*known, *also]) if len(path) <= 80 else None
    parent = path.rpartition(".")[0]
    if near and parent and near.startswith(f"{parent}."):
        near = near[len(parent) + 1 :]
    under = ".".join(part for part in (block, parent) if part)
    where = f" under {under}" if under else ""
    end = key.place.column - 1 + len(key.value)
    after = key.line[end : end + 3].lstrip()
    if after[:1] in (",", "}") and isinstance(entry.value, Text) and not entry.value.value:
        near_help = ("inside { } a comma ends a value: put a value that has a comma in quotes",)
        return problem_at(key, f'"{brief(key.value)}" stands alone{where}', *near_help)
    help = [f'did you mean "{near}"?'] if near else []
    if not near and (parent or len(known) <= 8):
        help = [f"keys there: {_keys_under(parent, known)}"]
    return problem_at(key, f'unknown key "{brief(key.value)}"{where}', *help)


def _keys_under(parent: str, known: Map[str, Field]) -> str:
    start = f"{parent}." if parent else ""
    under = [name[len(start) :] for name in known if name.startswith(start)]
    return ", ".join(under[:8]) + (", ..." if len(under) > 8 else "")


def facts_of(
    leaves: Collection[Leaf], scope: str, cite: Cite, *, zones: bool = False, metal: str = ""
) -> tuple[Facts, tuple[Problem, ...]]:
    """The facts that leaves state, under `scope` ("proposed" gives "proposed.panel.width").

    zones  whether a field's value may be a mapping by roof zone
    metal  of the panel, where the leaves do not say; a panel's thickness is read as a sheet of its metal
    Pressures are carried as positive magnitudes, their text as written.
    """
    facts: dict[str, Fact] = {}
    by_zone: dict[str, dict[str, Fact]] = {}
    problems: list[Problem] = []
    metal, panel = _metal(leaves) or metal, f"{scope}.panel."

    def fact(path: str, field: Field, text: Text) -> Fact | None:
        if text.spoilt:
            return None
        written = text.value
        if not written:
            problems.append(blank(field.path, text, field.example))
            return None
        try:
            value = read_value(field, written, metal if path.startswith(panel) else "")
        except FieldValueError as error:
            problems.append(problem_at(text, error.message, *error.help))
            return None
        words = " ".join(written.split())
        return Fact(path, magnitude(value), words, cite(text, words))

    for leaf in leaves:
        if len(problems) >= LIMITS.told:
            break
        path = f"{scope}.{leaf.field.key}"
        if isinstance(leaf.node, Text):
            found = fact(path, leaf.field, leaf.node)
            if found:
                facts[path] = found
        elif isinstance(leaf.node, Mapping) and zones:
            for entry in leaf.node.entries:
                if not isinstance(entry.value, Text):
                    problems.append(problem_at(entry.value, _one_value(leaf.field, entry.value)))
                elif found := fact(path, leaf.field, entry.value):
                    by_zone.setdefault(path, {})[entry.key.value] = found
        elif isinstance(leaf.node, Sequence) and leaf.field.kind == "list":
            read = [fact(path, leaf.field, item) for item in leaf.node if isinstance(item, Text)]
            problems.extend(
                problem_at(item, _one_value(leaf.field, item))
                for item in leaf.node
                if not isinstance(item, Text)
            )
            kept = [item for item in read if item]
            if kept:
                values = tuple(str(item.value) for item in kept)
                cites = tuple(citation for item in kept for citation in item.citations)
                facts[path] = Fact(path, values, ", ".join(values), cites)
        else:
            problems.append(problem_at(leaf.key, _one_value(leaf.field, leaf.node)))
    return Facts(facts, by_zone), tuple(problems)


def _one_value(field: Field, node: Node) -> str:
    such = f', such as "{field.example}"' if field.example else ""
    return f"{field.path}: {named(node)} here, where one value is expected{such}"


def _metal(leaves: Collection[Leaf]) -> str:
    for leaf in leaves:
        if leaf.field.path == "panel.material" and isinstance(leaf.node, Text) and leaf.node.value:
            try:
                value: Value = read_value(leaf.field, leaf.node.value)
            except FieldValueError:
                return ""
            return value if isinstance(value, str) else ""
    return ""
