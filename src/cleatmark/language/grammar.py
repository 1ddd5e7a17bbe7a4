"""The parsers made from grammar.lark: one that builds the typed tree, one that keeps every token for the layout.

Working out the parsing table takes a fifth of a second, so the table is kept as plain data under a hash of the
grammar; a damaged, foreign or outdated one is made anew.
"""

from __future__ import annotations

import re
from functools import cache
from hashlib import sha256
from importlib.resources import files
from typing import TYPE_CHECKING, Any

import msgspec

from cleatmark.language.kept import cache_folder, keep
from cleatmark.language.scanning import quicken
from cleatmark.units import QUANTITY_PATTERN

if TYPE_CHECKING:
    from lark import Lark

OPTIONS: dict[str, Any] = {"parser": "lalr", "start": "start", "maybe_placeholders": False}
OUTSIDE = ("transformer", "postlex", "lexer_callbacks", "edit_terminals", "cache")
WIDEST = 65_535
"""How wide a token may be at most; lark notes an unbounded one by a number that does not fit 64 bits."""


@cache
def grammar_text() -> str:
    """grammar.lark, with the quantity pattern that YAML and readings share."""
    text = files("cleatmark.language").joinpath("grammar.lark").read_text(encoding="utf-8")
    return text.replace("@QUANTITY@", re.sub(r"(?<!\\)/", r"\/", QUANTITY_PATTERN))


@cache
def grammar() -> Lark:
    """The parser that builds the typed tree while it reads."""
    from cleatmark.language.build import Builder

    return _lark("tree", transformer=Builder())


@cache
def layout_grammar() -> Lark:
    """The parser that keeps every token in a plain tree, keywords and signs too."""
    return _lark("layout", keep_all_tokens=True)


def _lark(name: str, **options: Any) -> Lark:
    made = _kept(name, options)
    quicken(made)
    return made


def _kept(name: str, options: dict[str, Any]) -> Lark:
    """The parser from its kept table, or made anew."""
    import lark

    cache = cache_folder()
    if cache is None:
        return lark.Lark(grammar_text(), **OPTIONS, **options)
    key = sha256(f"{lark.__version__}\0{name}\0{grammar_text()}".encode()).hexdigest()
    path = cache / f"grammar-{key}.msgpack"
    loader: Any = lark.Lark
    outside = {key: value for key, value in options.items() if key in OUTSIDE}
    try:
        data, memo = msgspec.msgpack.decode(path.read_bytes())
        made: Lark = loader._load_from_dict(data, memo, **outside)
        return made
    except Exception:
        made = lark.Lark(grammar_text(), **OPTIONS, **options)
    try:
        keep(path, msgspec.msgpack.encode(_plain(made)))
    except (AttributeError, KeyError, TypeError, OverflowError):
        return made
    return made


def _plain(made: Any) -> tuple[dict[str, Any], dict[int, Any]]:
    """The parser's table as plain data, without what the program itself gives it."""
    from lark.grammar import Rule
    from lark.lexer import TerminalDef

    data, memo = made.memo_serialize([TerminalDef, Rule])
    data["options"] = {key: value for key, value in data["options"].items() if key not in OUTSIDE}
    for item in memo.values():
        width = item.get("pattern", {}).get("_width")
        if width:
            item["pattern"]["_width"] = [min(number, WIDEST) for number in width]
    return data, memo
