"""A sentence's tokens as one line that phrases are matched against.

Words stand as their stems, standards as `§ul_580`, and every other token as one letter for its kind: `<p45>` is a
pressure, `<P>` a pressure left open. A semicolon hangs on the word before it.
"""

from __future__ import annotations

from bisect import bisect_right

from msgspec import Struct

from cleatmark.spec.lexemes import Lexeme

LETTERS = {
    "number": "n", "rating": "r", "length": "l", "thin": "t", "gauge": "g", "mil": "m", "weight": "w",
    "pressure": "p", "stress": "s", "speed": "v", "area": "a", "slope": "i", "ratio": "o", "duration": "y",
    "days": "d", "coating": "c", "size": "z", "section": "e", "angle": "k", "percent": "q", "force": "f",
    "flow": "h", "temperature": "u",
}  # fmt: skip
"""One letter for each kind of value; the capital letter where the value is left open."""
UNKNOWN, DEFERRED, NONE, ZONE = "?", "!", "~", "@"
"""A choice or blank of no known kind, a deferral to drawings, words that give no value, a zone."""
_MARKS = {"defer": DEFERRED, "none": NONE, "zone": ZONE}


class Line(Struct, frozen=True, gc=False):
    """The line, in one byte a character.

    places  where each item starts in it
    tokens  which token of the sentence each item is
    atoms   what must be there for a phrase to match: words, standards, kinds of values
    items   the items as sense and context read them: "<pressure=45>", "<zone>", "§ul_580", words, ";"
    """

    string: bytes
    places: tuple[int, ...]
    tokens: tuple[int, ...]
    atoms: frozenset[str]
    items: tuple[str, ...]

    def item_of(self, token: int) -> int:
        """The position among `items` of a token, or of the one before it."""
        return max(bisect_right(self.tokens, token) - 1, 0)

    def token_at(self, place: int) -> int:
        """The token that stands at a place of the line."""
        return self.tokens[max(bisect_right(self.places, place) - 1, 0)]


def line_of(lexemes: list[Lexeme]) -> Line:
    """The line of a sentence's tokens."""
    parts: list[str] = []
    places: list[int] = []
    tokens: list[int] = []
    items: list[str] = []
    atoms: set[str] = set()
    at = 1
    for index, lexeme in enumerate(lexemes):
        kind = lexeme.kind
        if kind == "word":
            item = written = lexeme.key
            atoms.add(written)
        elif kind == "punct":
            if lexeme.key != ";" or not parts:
                continue
            item, written = ";", ";"
            parts[-1] += ";"
            places.append(at - 1)
            tokens.append(index)
            items.append(item)
            at += 1
            continue
        else:
            item, written = _value(lexeme)
            atoms.add(written[:2] if written[0] == "<" else written)
        parts.append(written)
        places.append(at)
        tokens.append(index)
        items.append(item)
        at += len(written) + 1
    string = f" {' '.join(parts)} ".encode("latin-1", "replace")
    return Line(string, tuple(places), tuple(tokens), frozenset(atoms), tuple(items))


def atom(lexeme: Lexeme) -> str:
    """A token as it stands in the line; "" for punctuation."""
    if lexeme.kind == "word":
        return lexeme.key
    return "" if lexeme.kind == "punct" else _value(lexeme)[1]


def _value(lexeme: Lexeme) -> tuple[str, str]:
    kind, key = lexeme.kind, lexeme.key.casefold().replace(" ", "_")
    if kind == "standard":
        return f"§{key}", f"§{key}"
    if kind in _MARKS:
        return f"<{kind}>", f"<{_MARKS[kind]}>"
    if kind in ("choice", "blank"):
        letter = LETTERS.get(lexeme.inner)
        return f"<{kind}.{lexeme.inner}>", f"<{letter.upper() if letter else UNKNOWN}>"
    if kind == "length" and key == "thin":
        return "<length=thin>", "<t>"
    return f"<{kind}={key}>", f"<{LETTERS.get(kind, 'x')}{key}>"
