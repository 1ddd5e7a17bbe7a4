"""What the parser would have taken, in the words of a writer of rules. No name of a terminal is ever shown."""

from __future__ import annotations

from collections.abc import Iterable
from functools import cache

from cleatmark.language.examples import CLAUSES
from cleatmark.language.grammar import grammar

THINGS = {
    "STRING": 'text in quotation marks, such as "UL 580"',
    "NAME": "a name, such as panel_width or spec.panel.width",
    "QUANTITY": "a quantity, such as 16 in or 105 psf",
    "DATE": "a date, such as 2026-11-01",
    "ADDRESSEE": "whom to ask, such as maker or deck trade",
    "LPAR": "an opening parenthesis",
    "RPAR": "the closing parenthesis",
    "COMMA": "a comma",
    "COLON": "a colon",
    "PLUS": "`+`",
    "TIMES": "`/`",
    "SLASH": "`/`",
    "ROW_START": 'a row, such as: "steel", 24 ga  0.0239 in',
    "QUANTIFIER": "`every`, `some` or `no`",
    "STATED": "`stated` or `known`",
    "BEFORE": "`before` or `after`",
    "CHOOSE": "`largest of`, `smallest of` or `first stated of`",
    "IN_ZONE": "`in zone`",
    "IT": "`it covers proposed`",
    "FROM_MEMORY": "`from memory`",
    "AT_LEVEL": "`at allowable level`",
    "AND_A": "`and a`",
    "_A": "`a`",
    "BASIS": "a basis, such as nominal",
    "$END": "the end of the statement",
}
"""Terminals that stand for more than one word."""

GROUPS = (
    (
        frozenset({"COMPLIES", "DEVIATES"}),
        frozenset(["COMPLIES", "DEVIATES", "NOT", "DOES", "RAISED", "USUAL", "UNUSUAL", "FOR"])
        | frozenset(["STRING", "QUANTITY", "DATE", "YES", "NO", "NONE"]),
        "a verdict (complies, deviates, not shown, does not apply) or a value",
    ),
    (
        frozenset({"IS_", "MEETS", "INCLUDES"}),
        frozenset(["IS_", "AT", "MORE", "LESS", "BEFORE", "MEETS", "INCLUDES", "MENTIONS", "PLUS", "TIMES"]),
        'a comparison, such as: is "steel", at least 16 in, meets spec.panel.width',
    ),
    (
        frozenset({"IT", "QUANTIFIER", "NAME"}),
        frozenset(
            ["IT", "QUANTIFIER", "NAME", "NOT", "LPAR", "CHOOSE", "STRING", "QUANTITY", "DATE", "BE", "MINUS"]
        ),
        'a condition, such as: proposed.deck.type is "plywood"',
    ),
    (
        frozenset({"NAME", "STRING", "QUANTITY", "CHOOSE"}),
        frozenset(["NAME", "STRING", "QUANTITY", "DATE", "CHOOSE", "LPAR", "YES", "NO", "NONE"])
        | frozenset(["STATED", "NOT", "ONE", "AT", "MORE", "LESS", "BEFORE"]),
        'a value, such as "steel", 16 in or spec.panel.width',
    ),
    (
        frozenset({"STRING", "QUANTITY", "DATE"}),
        frozenset(["STRING", "QUANTITY", "DATE", "YES", "NO", "NONE"]),
        'a value, such as "steel", 16 in or yes',
    ),
)
"""Terminals that together mean one thing: those that must all be taken, those that the words stand for, the words."""

CLAUSE_STARTS = frozenset(CLAUSES)


@cache
def texts() -> dict[str, str]:
    """Keyword terminals by name, with the word as it is written."""
    from lark.lexer import PatternStr

    found = grammar().terminals
    return {
        item.name: item.pattern.value
        for item in found
        if isinstance(item.pattern, PatternStr) and item.name not in THINGS
    }


def keywords(accepts: Iterable[str]) -> dict[str, str]:
    """Of what would have been taken, the keywords: word to terminal."""
    known = texts()
    return {known[name]: name for name in accepts if name in known}


def clause_words(accepts: Iterable[str]) -> list[str]:
    """Of what would have been taken, the words that start a clause."""
    return sorted(set(keywords(accepts)) & CLAUSE_STARTS)


def wanted(accepts: Iterable[str]) -> str:
    """What would have been taken, in words: "`and`, `or` or the closing parenthesis"."""
    left = set(accepts)
    shown: list[str] = []
    for signature, group, words in GROUPS:
        if signature <= left:
            left -= group
            shown.append(words)
            break
    starts = clause_words(left)
    if "$END" in left or len(starts) > 2:
        left -= {name for word, name in keywords(left).items() if word in CLAUSE_STARTS}
        left.discard("$END")
        after = "the next clause" if starts else "the end of the statement"
    else:
        after = ""
    first = [name for name in ("STRING", "NAME", "QUANTITY", "DATE", "ADDRESSEE") if name in left]
    shown += [THINGS[name] for name in first]
    rest = sorted(left - set(first), key=lambda name: (name in ("RPAR", "ROW_START"), name))
    known = texts()
    shown += [THINGS.get(name) or f"`{known.get(name, name.casefold())}`" for name in rest]
    if len(shown) > 5:
        shown = shown[:5]
    shown += [after] if after else []
    return either(shown)


def either(words: list[str]) -> str:
    """ "a, b or c"."""
    return ", ".join(words[:-1]) + " or " + words[-1] if len(words) > 1 else "".join(words)
