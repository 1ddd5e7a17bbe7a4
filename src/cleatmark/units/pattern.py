"""The one regular expression for a quantity as written, made from the table of units.

No look-behind, so that it serves as a token of a lexer; alternatives are tried longest first. The guards at
the end of a number without a unit look ahead: they keep `2024-01-01`, `1504.3.1` and `2x4` whole. RE2 has no
look-ahead: there, leave the guards out and reject a match that is followed by such a character. Whoever
searches in running text must also look at the character before a match.
"""

from __future__ import annotations

import re
from functools import cache

from cleatmark.units.tables import UNITS

_SPACE = "[ \u00a0\u2007\u2009\u202f]"
_DASH = "[-‐‑–]"
_FRACTIONS = "[¼½¾⅓⅔⅛⅜⅝⅞]"
_SLASH = r"[\/⁄]"
_COMMON = rf"[0-9]{{1,4}}{_SLASH}[0-9]{{1,3}}"
NUMBER = (
    rf"(?:[0-9]{{1,4}}(?:{_DASH}|{_SPACE}{{1,2}})[0-9]{{1,3}}{_SLASH}[0-9]{{1,3}}"
    rf"|[0-9]{{1,4}}(?:{_DASH}|{_SPACE})?{_FRACTIONS}|{_FRACTIONS}|{_COMMON}"
    r"|[0-9]{1,3}(?:,[0-9]{3}){1,3}(?:\.[0-9]{1,9})?"
    "|[0-9]{1,3}(?:[\u00a0\u2007\u2009\u202f][0-9]{3}){1,3}(?:\\.[0-9]{1,9})?"
    r"|[0-9]{1,12}(?:\.[0-9]{1,12})?|\.[0-9]{1,12})"
)
_SIGN = "[-−–+]?"
_GAP = rf"(?:{_DASH}|{_SPACE}{{0,2}})"
_END = rf"(?![0-9A-Za-z_])(?!\.[0-9])(?![,:\/⁄][0-9])(?!{_DASH}[0-9])"


SPACED = ("%", "°")
"""Marks that may stand apart from their number. Inch and foot marks may not: what follows could be a quoted text."""


def _written(word: str) -> str:
    """One way of writing a unit as a pattern: dots after short words, loose spaces, ² also as 2."""
    pieces = re.findall(r"[A-Za-z]+|\s+|.", word)
    space = f"{_SPACE}{{0,2}}" if len(word) < 10 else f"{_SPACE}{{1,2}}"
    parts: list[str] = []
    for piece, after in zip(pieces, [*pieces[1:], ""], strict=True):
        if piece.isspace():
            parts.append(space)
        elif piece == "/":
            parts.append(rf"{_SPACE}?\/{_SPACE}?")
        elif piece == "²":
            parts.append(r"(?:²|(?:2|\^2)\b)")
        elif piece.isalpha():
            parts.append(piece + ("" if after else r"\b") + (r"\.?" if len(piece) <= 3 else ""))
        else:
            parts.append(re.escape(piece))
    return "".join(parts)


def _either(kind: str, names: tuple[str, ...] = ()) -> str:
    """The units of a kind: words after a gap, marks such as " directly at the number."""
    units = [
        unit for unit in UNITS if (not kind or kind in unit.factors) and (not names or unit.name in names)
    ]
    compounds = ["".join(_group(part) for part in unit.compound) for unit in units if unit.compound]
    words = {word for unit in units for word in unit.words}
    ordered = sorted(words, key=lambda word: (-len(word), word))
    spelled = [*compounds, *(_written(word) for word in ordered if word[0].isalpha())]
    marks = [
        (f"{_SPACE}{{0,2}}" if word in SPACED else "") + _written(word)
        for word in ordered
        if not word[0].isalpha()
    ]
    return f"(?:{_GAP}(?:{'|'.join(spelled)})" + (f"|(?:{'|'.join(marks)}))" if marks else ")")


def _group(words: tuple[str, ...]) -> str:
    return f"(?:{'|'.join(_written(word) for word in words)})"


@cache
def pattern_for(kind: str = "", *, guards: bool = True) -> str:
    """A pattern for quantities of one kind, or of any; a thickness takes gauges too.

    guards  look ahead at the end; leave them out for RE2
    """
    end = _END if guards else ""
    alone: list[str] = []
    if kind in ("", "screw size"):
        thread = rf"(?:{_DASH}[0-9]{{1,2}})?"
        alone.append(rf"(?:\#|No\.|№){_SPACE}?[0-9]{{1,2}}{thread}{end}")
        alone.append(rf"[0-9]{{1,2}}{_SLASH}[0-9]{{1,2}}{_DASH}[0-9]{{1,2}}{end}")
    if kind in ("", "ratio"):
        alone.append(rf"L{_SPACE}?{_SLASH}{_SPACE}?[0-9]{{2,4}}{end}")
    if kind == "rating":
        alone.append(rf"(?:1[AI]?|I){_DASH}[0-9]{{2,3}}{end}")
    else:
        alone.append(rf"{NUMBER}(?:{'|'.join(_after_number(kind, end))})")
    if not kind:
        alone.append(rf"1[AI]?{_DASH}[0-9]{{2,3}}{end}")
    return rf"(?i:{_SIGN}(?:{'|'.join(alone)}))"


def _after_number(kind: str, end: str) -> list[str]:
    shapes: list[str] = []
    if kind in ("", "length", "thickness"):
        feet, inches = _either("length", ("ft",)), _either("length", ("in",))
        shapes.append(rf"{feet}(?:,?{_SPACE}?|{_DASH}){NUMBER}{inches}")
    if kind in ("", "slope"):
        shapes.append(rf"{_SPACE}?:{_SPACE}?[0-9]{{1,4}}(?:\.[0-9]{{1,4}})?{end}")
        shapes.append(rf"{_GAP}in(?:ch|ches|\.)?{_SPACE}12\b")
    if kind not in ("number", "class"):
        shapes.append(_either(kind))
    if kind == "slope":
        shapes.append(_either("angle"))
    if kind == "thickness":
        shapes.append(_either("gauge"))
    if kind in ("", "number", "class"):
        shapes.append(end)
    return shapes


QUANTITY_PATTERN = pattern_for()
