"""A statement's words in order, with the places where a line may be broken and the comments that stand between."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from typing import TYPE_CHECKING

from msgspec import Struct

from cleatmark.language.cuts import code_of

if TYPE_CHECKING:
    from lark import Token, Tree

HEADS = frozenset(["field_kind", "field_yes_no", "field_screw_size", "unit", "strings", "names"])
"""Parts of a statement's first line that the parser makes trees of; every other tree is a clause."""

BREAKS: dict[str, tuple[str, ...]] = {
    "or_": ("OR",),
    "and_": ("AND",),
    "shown_by": ("WHERE", "HAVING"),
    "every_zone_shown": ("shown_by", "WHERE"),
    "quantified": ("WHERE", "HAS"),
    "patterns": ("OR",),
    "alternative": ("WHEN",),
    "given": ("AND", "AND_A"),
    "thing": ("HAVING", "AND"),
    "source_written": ("AT", "source_mark", "confidence"),
    "source_memory": ("confidence",),
    "ask": ("STRING",),
    "replacement": ("WITH",),
    "reading": (),
}
"""Before which words or parts of a tree a line is broken, where it does not fit."""

FILLED = frozenset(
    [
        *(
            "one_of",
            "not_one_of",
            "strings",
            "names",
            "usual",
            "near",
            "not_near",
            "reading_in",
            "reading_not_in",
        ),
        *("allows", "formerly", "builds_on", "lookup", "choose", "reading_flags", "flags", "setting"),
        "expect_lookup",
    ]
)
"""Trees whose lists are filled line by line, broken behind commas."""


class Leaf(Struct):
    """One word as written, on lines `line` to `ends`.

    depth   of the break before it: 0 for none, 1 for the outermost construct
    filled  whether lines are filled there, instead of broken at every such place
    before  comments that stand on lines of their own above it
    after   the comment behind it on its line
    tight   whether it follows without a space
    """

    text: str
    kind: str
    line: int
    ends: int
    depth: int = 0
    filled: bool = False
    before: list[str] = []
    after: str = ""
    tight: bool = False


class Part(Struct):
    """A statement's first line, or one clause: its name in the grammar and its words."""

    name: str
    leaves: list[Leaf]


def parts_of(tree: Tree[Token]) -> list[Part]:
    """The first line of a statement and its clauses, in order."""
    from lark import Token

    head: list[Leaf] = []
    parts = [Part(str(tree.data), head)]
    for child in tree.children:
        if isinstance(child, Token):
            head.extend(_leaves(child, 0))
        elif str(child.data) in HEADS:
            head.extend(_leaves(child, 1))
        else:
            parts.extend(_clause(child))
    return parts


def _clause(tree: Tree[Token]) -> Iterator[Part]:
    """A clause; a table's row gives up the sources that stand below it, which are the table's."""
    if str(tree.data) != "row":
        yield Part(str(tree.data), list(_leaves(tree, 1)))
        return
    own: list[Leaf] = []
    below: list[Part] = []
    last = 0
    for child in tree.children:
        leaves = list(_leaves(child, 1))
        name = str(getattr(child, "data", ""))
        if name.startswith("source") and leaves[0].line != last:
            below.append(Part(name, leaves))
            continue
        own.extend(leaves)
        if leaves and not name.startswith("source") and not name.startswith("in_force"):
            last = leaves[0].line
    yield Part("row", own)
    yield from below


def _leaves(node: Tree[Token] | Token, depth: int) -> Iterator[Leaf]:
    from lark import Token

    if isinstance(node, Token):
        if node.type != "ROW_START":
            text = str(node) if node.type in ("STRING", "QUANTITY") else " ".join(node.split())
            yield Leaf(text, node.type, node.line or 0, node.end_line or 0)
        return
    name = str(node.data)
    breaks = BREAKS.get(name, ())
    inner = depth + bool(breaks or name in FILLED)
    comma = False
    for index, child in enumerate(node.children):
        kind = child.type if isinstance(child, Token) else str(child.data)
        first = True
        for leaf in _leaves(child, inner):
            if first and index and kind in breaks:
                leaf.depth, leaf.filled = depth or 1, False
            elif first and comma and name in FILLED:
                leaf.depth, leaf.filled = depth or 1, True
            leaf.tight = leaf.tight or (name == "field_yes_no" and index > 0)
            first = False
            yield leaf
        comma = kind == "COMMA"


def add_comments(parts: Sequence[Part], lines: Sequence[str], start: int, end: int) -> list[str]:
    """Puts each comment of lines[start:end] beside its word. Gives the lines below the last word, comments and
    blanks, as they stand."""
    leaves = [leaf for part in parts for leaf in part.leaves]
    waiting: list[str] = []
    at = 0
    last = max((leaf.ends for leaf in leaves), default=start)
    for number in range(start, min(last, end)):
        code = code_of(lines[number])
        comment = lines[number][len(code) :].rstrip()
        if comment and not code.strip():
            waiting.append(comment)
            continue
        while at < len(leaves) and leaves[at].line <= number + 1:
            if waiting:
                leaves[at].before, waiting = waiting, []
            at += 1
        if comment and at:
            leaves[at - 1].after = comment
    return list(lines[last:end])
