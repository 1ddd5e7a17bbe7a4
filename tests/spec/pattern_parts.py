"""What a regular expression cannot match without, taken from its own parse tree."""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from itertools import product
from re import _constants as code  # type: ignore[attr-defined]
from re import _parser as parser  # type: ignore[attr-defined]
from typing import Any

MOST = 2_000
"""Texts that one stretch of a pattern is written out as."""

Texts = frozenset[str]
NOTHING: Texts = frozenset([""])


def is_needed(words: Sequence[str], written: str, flags: int = 0) -> bool:
    """Whether one of the words stands in all that a pattern matches; in small letters where its case is ignored."""
    tree = parser.parse(written, flags)
    return _sequence(tree, bool((tree.state.flags | flags) & re.IGNORECASE), words)[1]


def _sequence(tree: Any, fold: bool, words: Sequence[str]) -> tuple[Texts | None, bool]:
    """All that a sequence can be, None where that is too much, and whether it needs one of the words."""
    whole: Texts | None = NOTHING
    run, needed = NOTHING, False
    for part in tree:
        texts, within = _part(part, fold, words)
        whole = _joined(whole, texts)
        run = _joined(run, texts) or texts or NOTHING
        needed = needed or within or _has(run, words)
    return whole, needed


def _has(texts: Texts, words: Sequence[str]) -> bool:
    return all(any(word in text for word in words) for text in texts)


def _joined(first: Texts | None, second: Texts | None) -> Texts | None:
    if first is None or second is None or len(first) * len(second) > MOST:
        return None
    return frozenset(a + b for a, b in product(first, second))


def _part(part: Any, fold: bool, words: Sequence[str]) -> tuple[Texts | None, bool]:
    kind, what = part
    if kind is code.LITERAL:
        return frozenset([_sign(what, fold)]), False
    if kind is code.IN:
        return _signs(what, fold), False
    if kind is code.SUBPATTERN:
        _, on, off, inner = what
        return _sequence(inner, (fold or bool(on & re.IGNORECASE)) and not off & re.IGNORECASE, words)
    if kind is code.BRANCH:
        every = [_sequence(inner, fold, words) for inner in what[1]]
        told = [texts for texts, _ in every if texts is not None]
        needed = all(within or (texts is not None and _has(texts, words)) for texts, within in every)
        return (frozenset[str]().union(*told) if len(told) == len(every) else None), needed
    if kind in (code.MAX_REPEAT, code.MIN_REPEAT):
        least, most, inner = what
        texts, within = _sequence(inner, fold, words)
        told_once = texts if most == 1 else None
        if least == 0:
            return (told_once | NOTHING if told_once is not None else None), False
        return told_once, within
    if kind is code.ASSERT:
        return NOTHING, _sequence(what[1], fold, words)[1]
    return (NOTHING if kind in (code.AT, code.ASSERT_NOT) else None), False


def _sign(point: int, fold: bool) -> str:
    return chr(point).lower() if fold else chr(point)


def _signs(given: Any, fold: bool) -> Texts | None:
    found: set[str] = set()
    for kind, what in given:
        if kind is code.LITERAL:
            found.add(_sign(what, fold))
        elif kind is code.RANGE and what[1] - what[0] < 12:
            found.update(_sign(point, fold) for point in range(what[0], what[1] + 1))
        else:
            return None
    return frozenset(found)


def texts(written: str) -> Texts:
    """All that a pattern can be, a space for its spaces; raises ValueError where that is too much."""
    found, _ = _sequence(parser.parse(written.replace(r"\s", " ")), False, ())
    if found is None:
        raise ValueError(f"no end of texts: {written}")
    return found


def firsts(written: str, flags: int = 0) -> Iterator[str]:
    """The signs with which a match of a pattern may start."""
    tree = parser.parse(written, flags)
    yield from _firsts(tree, bool((tree.state.flags | flags) & re.IGNORECASE))


def _firsts(tree: Any, fold: bool) -> Iterator[str]:
    for part in tree:
        kind, what = part
        if kind is code.BRANCH:
            for inner in what[1]:
                yield from _firsts(inner, fold)
            return
        if kind is code.SUBPATTERN:
            yield from _firsts(what[3], fold)
            return
        if kind in (code.MAX_REPEAT, code.MIN_REPEAT):
            yield from _firsts(what[2], fold)
            if what[0] == 0:
                continue
            return
        texts, _ = _part(part, fold, ())
        if texts is None:
            raise ValueError(f"starts with {part}")
        if "" not in texts:
            yield from texts
            return
    raise ValueError("matches nothing")
