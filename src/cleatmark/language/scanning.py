"""Finding the next word of a rule file: the long pattern of quantities is compiled once, not for every state.

The parser's lexer tries another set of words in each of its states, as one pattern, and a third of those sets hold
quantities. Compiling theirs took half a second; here they share one compiled pattern, tried in its turn.
"""

from __future__ import annotations

import re
from functools import cache
from typing import Any

QUANTITY_STARTS = frozenset("0123456789#№NnLl.-−–+¼½¾⅓⅔⅛⅜⅝⅞")
"""Characters that a quantity can start with."""


class Parted:
    """A set of words as one pattern that has quantities in its midst."""

    def __init__(self, before: str, quantity: str, after: str, flags: int) -> None:
        self.before = re.compile(before, flags) if before else None
        self.quantity = _compiled(quantity, flags)
        self.after = re.compile(after, flags) if after else None

    def match(self, text: str, at: int, end: int) -> re.Match[str] | None:
        """The next word at a place, as the whole pattern would find it."""
        found = self.before.match(text, at, end) if self.before is not None else None
        if found is None and text[at] in QUANTITY_STARTS:
            found = self.quantity.match(text, at, end)
        if found is None and self.after is not None:
            found = self.after.match(text, at, end)
        return found


class Expressions:
    """What a lexer asks of `re`. `quantity` is the group of quantities as it stands within a set's pattern."""

    error = re.error

    def __init__(self, quantity: str) -> None:
        self.quantity = quantity

    def compile(self, pattern: str, flags: int = 0) -> re.Pattern[str] | Parted:
        """A set of words as one pattern."""
        before, found, after = pattern.partition(self.quantity)
        if not found:
            return re.compile(pattern, flags)
        return Parted(before.removesuffix("|"), found, after.removeprefix("|"), flags)

    @staticmethod
    def match(pattern: str, text: str, flags: int = 0) -> re.Match[str] | None:
        """As `re.match`."""
        return re.match(pattern, text, flags)


@cache
def _compiled(pattern: str, flags: int) -> re.Pattern[str]:
    return re.compile(pattern, flags)


def quicken(parser: Any) -> None:
    """Lets the lexers of a parser share the pattern of quantities."""
    quantity = next((item for item in parser.terminals if item.name == "QUANTITY"), None)
    lexers = getattr(parser.parser.lexer, "lexers", None)
    if quantity is None or lexers is None:
        return
    expressions = Expressions(f"(?P<QUANTITY>{quantity.pattern.to_regexp()})")
    for lexer in (*lexers.values(), parser.parser.lexer.root_lexer):
        lexer.re = expressions
