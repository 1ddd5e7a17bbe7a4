"""The stable layout of rule files: blank lines, indents, broken lines and columns; words and comments stay."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Any

import msgspec
from msgspec import Struct

from cleatmark.language import tree as t
from cleatmark.language.cuts import statements
from cleatmark.language.grammar import layout_grammar
from cleatmark.language.layout import Leaf, Part, add_comments, parts_of
from cleatmark.language.parse import parse
from cleatmark.problems import Place, Problem

WIDTH = 100
INDENT = 2
WIDEST_CELL = 44
"""A table's column is padded to its widest cell of at most so many characters."""


class Tidied(Struct, frozen=True):
    """The text laid out; None where the file has mistakes of form, and `problems` says which."""

    text: str | None
    problems: tuple[Problem, ...] = ()


def tidy(text: str, file: str) -> Tidied:
    """Lays a rule file out. What it says does not change: the new text is read again and compared."""
    tree, problems = parse(text, file)
    if tree is None or problems:
        return Tidied(None, problems)
    laid = layout(text)
    again, others = parse(laid, file)
    if again is None or others or meaning(again) != meaning(tree):
        message = "the file cannot be laid out without a change of what it says; it is left as it is"
        return Tidied(None, (Problem(Place(file, 1, 1), message),))
    return Tidied(laid)


def meaning(tree: t.RuleFile) -> Any:
    """A rule file as plain data, without where its words stand."""
    return _without_places(msgspec.to_builtins(tree.head)), [
        _without_places(msgspec.to_builtins(statement)) for statement in tree.statements
    ]


def _without_places(data: Any) -> Any:
    if isinstance(data, dict):
        return {key: _without_places(value) for key, value in data.items() if key not in ("pos", "places")}
    if isinstance(data, list | tuple):
        return [_without_places(item) for item in data]
    return data


def layout(text: str) -> str:
    """The text of a rule file without mistakes of form, laid out."""
    lines = text.splitlines()
    ranges = list(statements(lines))
    out = _loose(lines[: ranges[0][0]] if ranges else lines, first=True)
    for start, end in ranges:
        if out and not (out[-1].startswith("--") and _joined(lines, start)) and out[-1]:
            out.append("")
        parser = layout_grammar()
        tree: Any = parser.parse("\n" * start + "\n".join(lines[start:end]))
        parts = parts_of(tree.children[0])
        below = add_comments(parts, lines, start, end)
        out.extend(_statement(parts))
        out.extend(_below(below))
    while out and not out[-1]:
        out.pop()
    return "\n".join(out) + "\n" if out else ""


def _joined(lines: Sequence[str], start: int) -> bool:
    """Whether a comment stands right above a statement."""
    return start > 0 and lines[start - 1].lstrip().startswith("--")


def _below(lines: Sequence[str]) -> Iterator[str]:
    """Comments below a statement: those right below it and indented are its own, the others stand by themselves."""
    own = 0
    for line in lines:
        if not line[:1].isspace() or not line.strip():
            break
        yield " " * INDENT + line.strip()
        own += 1
    loose = _loose(lines[own:])
    if loose:
        yield ""
        yield from loose


def _loose(lines: Sequence[str], *, first: bool = False) -> list[str]:
    """Comments between statements, in column 1, with at most one blank line where there were some."""
    out: list[str] = []
    for line in lines:
        stripped = line.strip()
        if stripped:
            out.append(stripped)
        elif out and out[-1]:
            out.append("")
    return out


def _statement(parts: Sequence[Part]) -> Iterator[str]:
    """The lines of a statement."""
    yield from _wrapped(parts[0].leaves, 0, 2 * INDENT)
    rows = [part for part in parts if part.name == "row"]
    widths = _widths(rows)
    for part in parts[1:]:
        if part.name == "row" and not _commented(part.leaves):
            yield from _row(part.leaves, widths)
        else:
            yield from _wrapped(part.leaves, INDENT, 2 * INDENT)


# lines ------------------------------------------------------------------------------------------------------------


def _wrapped(leaves: Sequence[Leaf], indent: int, deeper: int) -> Iterator[str]:
    """Words on as few lines as fit. Where they do not fit on one, lines are broken at the outermost places, and the
    parts that are still too long at the places within them."""
    groups = _forced(leaves)
    if len(groups) == 1 and indent + len(_flat(leaves)) > WIDTH:
        groups = _split(leaves, deeper)
    if len(groups) == 1:
        pad = " " * indent
        yield from (pad + comment for comment in leaves[0].before)
        yield _line(pad, leaves)
        return
    yield from _wrapped(groups[0], indent, deeper + INDENT)
    for group in groups[1:]:
        yield from _wrapped(group, deeper, deeper + INDENT)


def _forced(leaves: Sequence[Leaf]) -> list[list[Leaf]]:
    """Words cut where a comment ends the line or stands above the next word."""
    groups: list[list[Leaf]] = [[leaves[0]]]
    for before, leaf in pairwise(leaves):
        if before.after or leaf.before:
            groups.append([])
        groups[-1].append(leaf)
    return groups


def _split(leaves: Sequence[Leaf], deeper: int) -> list[list[Leaf]]:
    """Words cut at the outermost places where a line may be broken."""
    depths = [leaf.depth for leaf in leaves[1:] if leaf.depth]
    if not depths:
        return [list(leaves)]
    depth = min(depths)
    every = any(leaf.depth == depth and not leaf.filled for leaf in leaves[1:])
    groups: list[list[Leaf]] = [[leaves[0]]]
    for leaf in leaves[1:]:
        if leaf.depth == depth and leaf.filled is not every:
            groups.append([])
        groups[-1].append(leaf)
    return groups if every else _filled(groups, deeper)


def _filled(groups: Sequence[list[Leaf]], deeper: int) -> list[list[Leaf]]:
    """Parts of a list put together again, as many to a line as fit."""
    out: list[list[Leaf]] = [[*groups[0]]]
    for group in groups[1:]:
        together = [*out[-1], *group]
        if deeper + len(_flat(together)) <= WIDTH:
            out[-1] = together
        else:
            out.append([*group])
    return out


def _line(pad: str, leaves: Sequence[Leaf]) -> str:
    comment = f"  {leaves[-1].after}" if leaves[-1].after else ""
    return f"{pad}{_flat(leaves)}{comment}"


def _flat(leaves: Sequence[Leaf]) -> str:
    """Words on one line."""
    out = leaves[0].text
    for leaf in leaves[1:]:
        tight = leaf.tight or leaf.kind in ("COMMA", "COLON")
        out += leaf.text if tight else f" {leaf.text}"
    return out


def _commented(leaves: Sequence[Leaf]) -> bool:
    return any(leaf.after for leaf in leaves[:-1]) or any(leaf.before for leaf in leaves[1:])


# tables -----------------------------------------------------------------------------------------------------------


class Cells(Struct, frozen=True):
    """A row's keys and values, its dates and its source; `amounts` says which values are quantities."""

    keys: tuple[str, ...]
    values: tuple[str, ...]
    dates: str
    source: str
    amounts: tuple[bool, ...]


def _cells(leaves: Sequence[Leaf]) -> Cells:
    keys: list[str] = []
    values: list[str] = []
    amounts: list[bool] = []
    dates: list[Leaf] = []
    source: list[Leaf] = []
    in_keys = True
    for index, leaf in enumerate(leaves):
        if source or leaf.kind == "SOURCE":
            source.append(leaf)
        elif dates or leaf.kind == "IN":
            dates.append(leaf)
        elif leaf.kind == "COMMA":
            keys[-1] += ","
        elif leaf.kind == "BASIS":
            cells = values or keys
            cells[-1] += f" {leaf.text}"
        elif in_keys and (index == 0 or leaves[index - 1].kind == "COMMA"):
            keys.append(leaf.text)
        else:
            in_keys = False
            values.append(leaf.text)
            amounts.append(leaf.kind == "QUANTITY")
    behind = (_flat(dates) if dates else "", _flat(source) if source else "")
    return Cells(tuple(keys), tuple(values), *behind, tuple(amounts))


class Widths(Struct, frozen=True):
    """How wide each column is, and which values are set to the right."""

    keys: tuple[int, ...]
    values: tuple[int, ...]
    right: tuple[bool, ...]
    dates: int


def _widths(rows: Sequence[Part]) -> Widths:
    found = [_cells(row.leaves) for row in rows]
    keys = max((len(cells.keys) for cells in found), default=0)
    values = max((len(cells.values) for cells in found), default=0)

    def widest(texts: Iterator[str]) -> int:
        return max((len(text) for text in texts if len(text) <= WIDEST_CELL), default=0)

    return Widths(
        tuple(widest(cells.keys[i] for cells in found if i < len(cells.keys)) for i in range(keys)),
        tuple(widest(cells.values[i] for cells in found if i < len(cells.values)) for i in range(values)),
        tuple(all(cells.amounts[i] for cells in found if i < len(cells.amounts)) for i in range(values)),
        widest(cells.dates for cells in found),
    )


def _row(leaves: Sequence[Leaf], widths: Widths) -> Iterator[str]:
    for comment in leaves[0].before:
        yield " " * INDENT + comment
    cells = _cells(leaves)
    keys = " ".join(key.ljust(width) for key, width in zip(cells.keys, widths.keys, strict=False))
    values = "  ".join(
        value.rjust(width) if right else value.ljust(width)
        for value, width, right in zip(cells.values, widths.values, widths.right, strict=False)
    )
    dates = [cells.dates.ljust(widths.dates)] if widths.dates or cells.dates else []
    columns = [keys, values, *dates, cells.source]
    line = "  ".join(columns).rstrip()
    comment = f"  {leaves[-1].after}" if leaves[-1].after else ""
    yield " " * INDENT + line + comment
