"""Word's automatic numbers: list definitions, and the counters that run through a document."""

from __future__ import annotations

from typing import TYPE_CHECKING

from msgspec import Struct

from cleatmark.docxfile.package import W
from cleatmark.spec.lazy import lazily
from cleatmark.spec.numerals import numeral
from cleatmark.spec.styles import Style, Styles, number, on, twips

if TYPE_CHECKING:
    from lxml.etree import _Element

LEVELS = 9
_LONGEST_CHAIN = 16
_REFERENCE = lazily(r"%([1-9])")


class Level(Struct, frozen=True, gc=False):
    """One level of a list. `text` alternates plain text and the level (0 to 8) whose number stands there.

    counts   a reader sees a number here, and not a bullet or a fixed word
    restart  None: after any level above; 0: never; n: after level n or one above it (1 is the outermost)
    """

    fmt: str = "decimal"
    text: tuple[str | int, ...] = ()
    start: int = 1
    restart: int | None = None
    legal: bool = False
    style: str = ""
    left: int | None = None
    counts: bool = False


class List(Struct, frozen=True):
    """A list as one `w:num` uses it; lists with the same `key` share their counters.

    starts  numbers that the `w:num` begins its levels with, whatever was counted before
    ended   for each level, the deeper ones that begin anew after it
    """

    key: int
    levels: tuple[Level, ...]
    starts: dict[int, int]
    ended: tuple[tuple[int, ...], ...]


class Number(Struct, frozen=True, gc=False):
    """The number Word prints at a paragraph.

    label  as printed ("1.04", "B.", "a)"); a fixed word where the level counts nothing; "" for a bullet
    counts whether the label holds a number
    value  the count at the paragraph's own level
    """

    label: str
    list: int
    level: int
    value: int
    counts: bool
    left: int | None


class Numbering:
    """The numbering part and the state of its counters. `next` is called for each paragraph in order."""

    def __init__(self, root: _Element | None, styles: Styles) -> None:
        self._lists: dict[int, List] = {}
        self._by_style: dict[str, tuple[int, int] | None] = {}
        self._counters: dict[int, list[int | None]] = {}
        self._started: set[tuple[int, int]] = set()
        self.missing: set[int] = set()
        if root is not None:
            self._declare(root, styles)

    def _declare(self, root: _Element, styles: Styles) -> None:
        abstracts: dict[int, tuple[tuple[Level, ...], str]] = {}
        for element in root.iterchildren(W + "abstractNum"):
            key = number(element.get(W + "abstractNumId"))
            link = element.find(W + "numStyleLink")
            if key is not None:
                target = link.get(W + "val", "") if link is not None else ""
                abstracts[key] = (_levels(element), target)
        nums: dict[int, tuple[int, _Element]] = {}
        for element in root.iterchildren(W + "num"):
            num_id, points = number(element.get(W + "numId")), element.find(W + "abstractNumId")
            abstract = number(points.get(W + "val")) if points is not None else None
            if num_id is not None and abstract is not None:
                nums[num_id] = (abstract, element)
        for num_id, (first, element) in nums.items():
            key, seen = first, set[int]()
            while key in abstracts and abstracts[key][1] and key not in seen and len(seen) < _LONGEST_CHAIN:
                seen.add(key)
                linked = styles.numbering.get(abstracts[key][1])
                if linked not in nums or linked is None:
                    break
                key = nums[linked][0]
            levels = abstracts[key][0] if key in abstracts else ()
            self._lists[num_id] = _use(key, levels, element)

    def at(self, style: Style, num_id: int | None, level: int | None) -> tuple[int, int] | None:
        """The list and level of a paragraph: from itself, else its style or a style that one is based on."""
        if num_id is None and level is None:
            if style.id not in self._by_style:
                self._by_style[style.id] = self._resolve(style, None, None)
            return self._by_style[style.id]
        return self._resolve(style, num_id, level)

    def _resolve(self, style: Style, num_id: int | None, level: int | None) -> tuple[int, int] | None:
        wanted = style.num_id if num_id is None else num_id
        if not wanted:
            return None
        used = self._lists.get(wanted)
        if used is None:
            self.missing.add(wanted)
            return None
        if level is None:
            level = self._linked_level(style, used, num_id is not None)
        return wanted, min(max(level, 0), LEVELS - 1)

    def _linked_level(self, style: Style, used: List, direct: bool) -> int:
        stated = dict(style.levels)
        for name in style.chain if direct else style.chain[: style.given_at]:
            linked = next((at for at, level in enumerate(used.levels) if level.style == name), None)
            if linked is not None:
                return linked
            if name in stated:
                return stated[name]
        return 0

    def next(self, num_id: int, level: int) -> Number:
        """Count the paragraph and give the number printed at it."""
        used = self._lists[num_id]
        counters = self._counters.setdefault(used.key, [None] * LEVELS)
        if None in counters[:level]:
            for above in range(level):
                if counters[above] is None:
                    counters[above] = self._first(num_id, used, above)
        if used.starts and level in used.starts and (num_id, level) not in self._started:
            counters[level] = self._first(num_id, used, level)
        else:
            current = counters[level]
            counters[level] = used.levels[level].start if current is None else current + 1
        for below in used.ended[level]:
            counters[below] = None
        own = used.levels[level]
        value = counters[level] or 0
        return Number(self._label(used, own, level, counters), used.key, level, value, own.counts, own.left)

    def _first(self, num_id: int, used: List, level: int) -> int:
        self._started.add((num_id, level))
        return used.starts.get(level, used.levels[level].start)

    def _label(self, used: List, own: Level, level: int, counters: list[int | None]) -> str:
        if own.fmt == "bullet":
            return ""
        shown = ""
        for part in own.text:
            if isinstance(part, str):
                shown += part
            elif part <= level:
                fmt = used.levels[part].fmt
                if own.legal and fmt not in ("decimalZero", "none"):
                    fmt = "decimal"
                count = counters[part]
                shown += numeral(used.levels[part].start if count is None else count, fmt)
        return " ".join(shown.split())


def _use(key: int, levels: tuple[Level, ...], element: _Element) -> List:
    own = list(levels) + [Level()] * (LEVELS - len(levels))
    starts: dict[int, int] = {}
    for override in element.iterchildren(W + "lvlOverride"):
        at = number(override.get(W + "ilvl"))
        if at is None or not 0 <= at < LEVELS:
            continue
        start, replaced = override.find(W + "startOverride"), override.find(W + "lvl")
        if replaced is not None:
            own[at] = _level(replaced)
        first = number(start.get(W + "val")) if start is not None else None
        if first is not None:
            starts[at] = first
    ended = tuple(
        tuple(
            below
            for below in range(level + 1, LEVELS)
            if own[below].restart is None or level < (own[below].restart or 0)
        )
        for level in range(LEVELS)
    )
    return List(key, tuple(own), starts, ended)


def _levels(element: _Element) -> tuple[Level, ...]:
    levels = [Level()] * LEVELS
    for child in element.iterchildren(W + "lvl"):
        at = number(child.get(W + "ilvl"))
        if at is not None and 0 <= at < LEVELS:
            levels[at] = _level(child)
    return tuple(levels)


_LABEL = 120
"""Characters of a level's number text that count; a page shows no longer number."""


def _level(element: _Element) -> Level:
    ppr = element.find(W + "pPr")
    text = element.find(W + "lvlText")
    shown = text.get(W + "val", "")[:_LABEL] if text is not None else ""
    pieces: list[str | int] = []
    for turn, piece in enumerate(_REFERENCE.split(shown)):
        if piece:
            pieces.append(int(piece) - 1 if turn % 2 else piece)
    style, fmt = element.find(W + "pStyle"), _format(element)
    return Level(
        fmt=fmt,
        text=tuple(pieces),
        start=_count(element, "start", 0),
        restart=_restart(element),
        legal=bool(on(element.find(W + "isLgl"))),
        style=style.get(W + "val", "") if style is not None else "",
        left=twips(ppr.find(W + "ind"), "start", "left") if ppr is not None else None,
        counts=fmt != "bullet" and any(isinstance(piece, int) for piece in pieces),
    )


def _format(element: _Element) -> str:
    """The number format; a custom one ("001, 002, ...") is named by its first number."""
    fmt = element.find(W + "numFmt")
    if fmt is None:
        fmt = next(iter(element.iter(W + "numFmt")), None)
    if fmt is None:
        return "decimal"
    name = fmt.get(W + "val", "decimal")
    first = fmt.get(W + "format", "").split(",")[0].strip()
    if name == "custom":
        return f"width{len(first)}" if first.isdigit() and len(first) < 10 else "decimal"
    return name


def _count(element: _Element, name: str, otherwise: int) -> int:
    child = element.find(W + name)
    value = number(child.get(W + "val")) if child is not None else None
    return otherwise if value is None else value


def _restart(element: _Element) -> int | None:
    child = element.find(W + "lvlRestart")
    return number(child.get(W + "val")) if child is not None else None
