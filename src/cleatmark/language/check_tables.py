"""Tables and defines: rows that fit their table, no row behind another that takes all, nothing in a circle."""

from __future__ import annotations

from cleatmark.language import tree as t
from cleatmark.language.amounts import amount
from cleatmark.language.check_conditions import condition
from cleatmark.language.check_reach import reach
from cleatmark.language.check_values import Expected, date, literal, operand
from cleatmark.language.check_words import sources
from cleatmark.language.checking import Desk
from cleatmark.language.names import context_of
from cleatmark.language.phrase import condition as condition_text
from cleatmark.language.reads import paths, sides
from cleatmark.units import KINDS, QuantityError, comparable

LEVELS = ("allowable", "strength")
OF = ("run", "document", "condition", "zone", "clause")


def table(desk: Desk, node: t.Table) -> None:
    """A table: its columns, then row by row."""
    for names, what in ((node.by, "key"), (node.gives, "value")):
        twice = next((name for index, name in enumerate(names) if name in names[:index]), None)
        if twice:
            desk.tell(
                desk.find(twice, node.pos), f'two columns are called "{twice}"', f"name each {what} apart"
            )
    if not node.rows and desk.whole(node):
        example = ", ".join('"a"' for _ in node.by)
        desk.tell(node, "the table has no rows", f"for example: {example}   2.0   source common practice")
    columns = len(node.gives) or 1
    for row in node.rows:
        if len(row.keys) != len(node.by):
            keys, by = _count(len(row.keys), "key"), ", ".join(node.by)
            desk.tell(
                row, f"the row has {keys}; the table is by {by}", "keys stand before the values, with commas"
            )
        if len(row.values) != columns:
            gives = f"{columns}: {', '.join(node.gives)}" if node.gives else "1"
            desk.tell(
                row,
                f"the row gives {_count(len(row.values), 'value')}; the table gives {gives}",
                "values stand behind the keys, with spaces between",
            )
        if row.source is None and not node.sources and desk.whole(node):
            desk.tell(row, "the row has no source", 'add one, such as: source "ANSI/UL 580" at "class table"')
        for item in (*row.keys, *row.values):
            if item is not None:
                literal(desk, item, Expected())
        if row.source is not None:
            sources(desk, (row.source,))
        _row_dates(desk, row)
    sources(desk, node.sources)
    _same_rows(desk, node)
    _columns(desk, node, columns)


def _row_dates(desk: Desk, row: t.Row) -> None:
    start, end = row.in_force_from, row.in_force_until
    good = [date(desk, desk.find(day, row.pos), day) for day in (start, end) if day]
    if start and end and all(good) and end < start:
        desk.tell(desk.find(end, row.pos), f"in force until {end}, before it is in force from {start}")


def _same_rows(desk: Desk, node: t.Table) -> None:
    """Rows that are never reached: the same keys again, or behind a row that takes them all."""
    for index, row in enumerate(node.rows):
        for earlier in node.rows[:index]:
            if earlier.in_force_from or earlier.in_force_until or len(earlier.keys) != len(row.keys):
                continue
            if all(
                a is None or (b is not None and _same(a, b))
                for a, b in zip(earlier.keys, row.keys, strict=True)
            ):
                same = all(b is not None for b in row.keys) and all(a is not None for a in earlier.keys)
                why = "has the same keys" if same else "takes these keys already"
                desk.tell(row, f"this row is never reached: the row in line {earlier.pos.line} {why}")
                break


def _same(a: t.Literal, b: t.Literal) -> bool:
    return (a.form, a.text.casefold()) == (b.form, b.text.casefold())


def _columns(desk: Desk, node: t.Table, columns: int) -> None:
    """A column holds one kind."""
    for index in range(len(node.by)):
        _one_kind(
            desk, [row.keys[index] for row in node.rows if len(row.keys) == len(node.by)], node.by[index]
        )
    for index in range(columns):
        name = node.gives[index] if node.gives else "value"
        _one_kind(desk, [row.values[index] for row in node.rows if len(row.values) == columns], name)


def _one_kind(desk: Desk, cells: list[t.Literal | None], name: str) -> None:
    first: tuple[t.Literal, str] | None = None
    for cell in cells:
        if cell is None or cell.form == "none":
            continue
        kind = _kind(cell)
        if first is None:
            first = cell, kind
        elif kind != first[1] and not (comparable(kind, first[1]) or comparable(first[1], kind)):
            desk.tell(
                cell,
                f"column {name} mixes kinds: {cell.text} is {_shown(kind)}, "
                f"{first[0].text} in line {first[0].pos.line} is {_shown(first[1])}",
            )
            return


def _kind(cell: t.Literal) -> str:
    if cell.form != "quantity":
        return cell.form
    try:
        return amount(cell.text).kind
    except QuantityError:
        return ""


def _shown(kind: str) -> str:
    return (
        f"a {kind}" if kind in KINDS and kind[0] not in "aeiou" else f"an {kind}" if kind in KINDS else kind
    )


def define(desk: Desk, node: t.Define) -> None:
    """A define: of a thing there is, at a level there is, its alternatives, and what it rests on."""
    context = context_of(node.of)
    if not context:
        desk.one_of(desk.find(node.of, node.pos), node.of, OF, f'no define can be of a "{node.of}"')
        return
    if node.level and node.level not in LEVELS:
        desk.one_of(
            node.places.get("level", node.pos), node.level, LEVELS, f'no level is called "{node.level}"'
        )
    if not node.alternatives and desk.whole(node):
        desk.tell(node, "a define says what it stands for", "for example: as pressure / safety_factor")
    kinds: dict[str, t.Alternative] = {}
    said: dict[str, t.Alternative] = {}
    for item in node.alternatives:
        kind = operand(desk, item.value, context)
        if item.when is not None:
            condition(desk, item.when, context)
            reach(desk, item.when, context)
        _alternative(desk, item, said)
        if kind:
            kinds.setdefault(kind, item)
    if len(kinds) > 1:
        _mixed(desk, node, kinds)
    sources(desk, node.sources)


def _alternative(desk: Desk, item: t.Alternative, said: dict[str, t.Alternative]) -> None:
    """An alternative behind one that always holds, or that has the same condition, is never reached."""
    always = said.get("")
    if always is not None:
        message = f"this is never reached: the value in line {always.pos.line} stands without a condition"
        desk.tell(item, message, "put the one without `when` last")
        return
    words = condition_text(item.when) if item.when is not None else ""
    if words in said:
        desk.tell(item, f"this is never reached: line {said[words].pos.line} has the same condition")
        return
    said[words] = item


def _mixed(desk: Desk, node: t.Define, kinds: dict[str, t.Alternative]) -> None:
    first, *others = kinds
    for other in others:
        if not (comparable(first, other) or comparable(other, first)):
            line = kinds[first].pos.line
            desk.tell(
                kinds[other], f"{node.id} is {_shown(other)} here and {_shown(first)} in line {line}",
                "every alternative of a define gives one kind",
            )  # fmt: skip
            return


def circles(desk: Desk, node: t.Define, told: set[str]) -> None:
    """Defines that rest on each other; told once for each circle."""
    if node.id in told:
        return
    trail = _circle(desk, node.id, (node.id,))
    if trail:
        told.update(trail)
        desk.tell(
            node,
            "defines go in a circle: " + " needs ".join(trail),
            "one of them must rest on a field or a table",
        )


def _circle(desk: Desk, name: str, trail: tuple[str, ...]) -> tuple[str, ...]:
    for needed in _needs(desk.names.defines[name]):
        key = needed.rsplit(".", 1)[-1]
        if key == trail[0]:
            return (*trail, key)
        if key in desk.names.defines and key not in trail:
            found = _circle(desk, key, (*trail, key))
            if found:
                return found
    return ()


def _needs(node: t.Define) -> list[str]:
    out: list[str] = []
    for alternative in node.alternatives:
        out += [path.name for path in paths(alternative.value)]
        out += _condition_names(alternative.when)
    return out


def _condition_names(node: t.Condition | None) -> list[str]:
    if isinstance(node, t.And | t.Or):
        return [name for part in node.parts for name in _condition_names(part)]
    if isinstance(node, t.Not):
        return _condition_names(node.part)
    if isinstance(node, t.Quantified):
        return _condition_names(node.where) + _condition_names(node.has)
    if node is None or isinstance(node, t.Covers):
        return []
    return [path.name for operand in sides(node) for path in paths(operand)]


def _count(number: int, word: str) -> str:
    return f"{number} {word}" if number == 1 else f"{number} {word}s"
