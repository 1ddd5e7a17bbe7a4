"""A value found in a sentence, typed as its field declares, with its second unit and its options."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.facts import Value
from cleatmark.fields import Field
from cleatmark.spec import measures
from cleatmark.spec.lexemes import Lexeme
from cleatmark.spec.pattern import words_of
from cleatmark.units import Quantity, QuantityError, parse, thicknesses

_ROMAN = {"I": "1", "II": "2", "III": "3", "IV": "4"}
APART = Fraction(2, 100)
"""Two units of one value that differ by more than this part of it are told as a conflict."""
SHEET_APART = Fraction(14, 100)
"""A gauge stands in print for decimals that differ by as much as this, from base metal to coated."""
_HIGHEST_KSI = 100
"""A grade of sheet steel above this number is its yield strength in MPa: Grade 230 is Grade 33."""
_PARSED = {
    "class": "class", "rating": "rating", "number": "number", "length": "length", "thickness": "thickness",
    "pressure": "pressure", "stress": "stress", "speed": "speed", "area": "area", "slope": "slope",
    "ratio": "ratio", "duration": "duration", "screw size": "screw size",
}  # fmt: skip

AMOUNTS = frozenset(_PARSED)
"""Kinds of fields whose values are amounts: a reading whose phrase gives none says that one is asked for."""


class Typed(Struct, frozen=True):
    """values  one value, or several for a choice among words ("A or B")
    high    the far end of a range
    apart   what to say where two units of one value do not agree
    sign    "-", "+", "±" or "" as written before a number
    """

    values: tuple[Value, ...]
    high: Value | None = None
    apart: str = ""
    sign: str = ""


def typed(
    field: Field, text: str, lexemes: Sequence[Lexeme], fixed: str = "", named: Sequence[str] = ()
) -> Typed | None:
    """The value of tokens in `text`; None where they hold no value of the field's kind. `named` are the words of which
    a value of words is made, as the reading spells them."""
    if fixed:
        if "{" in fixed:
            written = " ".join(text[lexemes[0].start : lexemes[-1].end].split())
            fixed = (
                fixed.replace("{text}", written.upper())
                .replace("{section}", written)
                .replace("{value}", written)
            )
        parts = tuple(part.strip() for part in fixed.split(" or "))
        return Typed(parts if all(part in field.choices for part in parts) else (fixed,))
    first = lexemes[0]
    kind = _PARSED.get(field.kind)
    if kind is None:
        respelled = _respelled(lexemes, named) if named else ""
        return Typed((_words(field, respelled, ()) if respelled else _words(field, text, lexemes),))
    written = " ".join(text[first.start : lexemes[-1].end].split())
    if kind == "rating" or first.kind == "rating":
        return _parsed(first.key, "rating" if kind == "rating" else kind, written)
    if kind == "class" and first.kind == "word":
        number = _ROMAN.get(written.upper())
        return _parsed(number, kind, written) if number else Typed((written.upper(),))
    if kind in ("class", "number") and first.key[:1].isdigit():
        return _parsed(first.key, kind, written)
    if kind == "thickness" and first.kind == "number":
        return _parsed(f"{first.key} ga", kind, written)
    if kind == "stress" and first.kind == "number":
        unit = "MPa" if float(first.key) > _HIGHEST_KSI else "ksi"
        return _parsed(f"{first.key} {unit}", kind, written)
    source = f"{written} {first.inner}" if first.inner and first.kind not in ("choice", "blank") else written
    amounts = measures.amounts(source)
    if amounts is None:
        return None
    low = _parsed(amounts.value, kind, written)
    if low is None:
        return None
    high = _parsed(amounts.high, kind, written) if amounts.high else None
    apart = _apart(amounts, kind, low.values[0])
    values = low.values if high or apart else (_as_printed(amounts, kind, low.values[0]),)
    return Typed(values, high.values[0] if high else None, apart, amounts.sign)


def with_basis(value: Value, basis: str) -> Value:
    """The same quantity with the basis that the words beside it give."""
    if basis and isinstance(value, Quantity) and value.kind in ("gauge", "thickness") and not value.basis:
        return replace(value, basis=basis)
    return value


def signed(value: Value, direction: str, level: str) -> Value:
    """A pressure with the sign of its direction, uplift negative, and its level."""
    if not isinstance(value, Quantity):
        return value
    amount = abs(value.value)
    return replace(value, value=amount if direction == "down" else -amount, level=value.level or level)


def _parsed(source: str, kind: str, written: str) -> Typed | None:
    try:
        found = parse(source, kind)
    except QuantityError:
        return None
    return Typed((replace(found, text=written),))


def _apart(amounts: measures.Amounts, kind: str, first: Value) -> str:
    if not amounts.second or not isinstance(first, Quantity):
        return ""
    try:
        second = parse(amounts.second, kind)
    except QuantityError:
        return ""
    if first.kind == "gauge":
        if is_gauge(second, first):
            return ""
    elif abs(second.value - first.value) <= abs(first.value) * APART or _rounded(amounts, second, first):
        return ""
    return f"{amounts.value} and {amounts.second} are not one value"


def is_gauge(thickness: Quantity, gauge: Quantity) -> bool:
    """Whether a thickness is a gauge's of some metal, or the gauge is one of which no figures are known."""
    metals = ("steel", "aluminum", "stainless steel")
    figures = [inches for metal in metals for inches in thicknesses(gauge, metal).values()]
    return not figures or any(abs(thickness.value - inches) <= inches * SHEET_APART for inches in figures)


_CUSTOMARY = frozenset(["in", "ft", "psf", "mph", "ksi"])


def _as_printed(amounts: measures.Amounts, kind: str, first: Value) -> Value:
    """A metric value with its customary one beside it: the figure that is printed, not one worked out anew."""
    if not amounts.second or not isinstance(first, Quantity) or first.unit in _CUSTOMARY or kind == "gauge":
        return first
    try:
        second = parse(amounts.second, kind)
    except QuantityError:
        return first
    same = second.kind == first.kind and second.unit in _CUSTOMARY
    return replace(first, value=second.value, unit=second.unit) if same else first


def _rounded(amounts: measures.Amounts, second: Quantity, first: Quantity) -> bool:
    """Whether the second unit is the first, rounded as printed: half of its last place."""
    number, _, unit = amounts.second.partition(" ")
    places = len(number.partition(".")[2])
    try:
        half = abs(parse(f"{1 / 10**places:.{places}f} {unit}", second.kind).value) / 2
    except QuantityError:
        return False
    return abs(second.value - first.value) <= half


def _respelled(lexemes: Sequence[Lexeme], named: Sequence[str]) -> str:
    """Words as a reading spells them: "pancake head wood screw" of "Pancake-Head wood screws"; "" where it names none
    of them."""
    words = [at for at, lexeme in enumerate(lexemes) if lexeme.kind == "word"]
    known = {words_of(word): word for word in reversed(named)}
    longest = max(map(len, known), default=1)
    out, at, last = "", 0, 0
    while at < len(words):
        for count in range(min(longest, len(words) - at), 0, -1):
            word = known.get(tuple(lexemes[token].key for token in words[at : at + count]))
            if word is not None:
                parted = any(lexeme.key in (",", "with") for lexeme in lexemes[last : words[at]])
                out += f"{', ' if out and parted else ' ' if out else ''}{word}"
                at += count
                last = words[at - 1] + 1
                break
        else:
            at += 1
    return out


def _words(field: Field, text: str, lexemes: Sequence[Lexeme]) -> str:
    if len(lexemes) == 1 and lexemes[0].kind in ("standard", "coating", "section"):
        return lexemes[0].key
    if len(lexemes) == 1 and lexemes[0].kind == "rating":
        return lexemes[0].key
    written = " ".join(text[lexemes[0].start : lexemes[-1].end].split()) if lexemes else text
    folded = written.casefold().replace("-", " ")
    for choice in field.choices:
        if choice.casefold().replace("-", " ") == folded:
            return choice
    return written
