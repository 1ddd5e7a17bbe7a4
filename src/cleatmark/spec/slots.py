"""The values that a phrase can name in braces, as patterns over a line."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from cleatmark.spec.lexemes import Lexeme
from cleatmark.spec.lines import DEFERRED, LETTERS, NONE, UNKNOWN

KINDS = {
    "number": ("number",),
    "class": ("number",),
    "rating": ("rating",),
    "length": ("length", "thin"),
    "thickness": ("gauge", "weight", "thin"),
    "mils": ("mil",),
    "pressure": ("pressure",),
    "stress": ("stress",),
    "speed": ("speed",),
    "area": ("area",),
    "slope": ("slope",),
    "ratio": ("ratio",),
    "years": ("duration",),
    "duration": ("duration",),
    "days": ("days",),
    "coating": ("coating",),
    "size": ("size",),
    "section": ("section",),
    "angle": ("angle",),
    "percent": ("percent",),
}
"""What a value in braces may be, and the kinds of tokens that it takes."""
NAMES = (*KINDS, "standard", "text", "word", "open", "zone")


class Slot(Struct, frozen=True):
    """A value in a phrase: how it matches, and the atoms of which a line must have one ("" for any)."""

    name: str
    source: str
    atoms: frozenset[str]
    allowed: tuple[str, ...] = ()

    def takes(self, lexeme: Lexeme) -> bool:
        """Whether a token alone could be the value; for values listed after the first."""
        kind = "thin" if lexeme.kind == "length" and lexeme.key == "thin" else lexeme.kind
        if kind not in KINDS.get(self.name, (self.name,)):
            return False
        return not self.allowed or lexeme.key.casefold() in {word.casefold() for word in self.allowed}

    def allows(self, option: str) -> bool:
        """Whether an option of a choice left open is among the values that the phrase names."""
        return any(word in option.casefold().split() for word in map(str.casefold, self.allowed))


def slot(name: str, allowed: Sequence[str], bodies: Sequence[str], literal: bool) -> Slot:
    """The slot of a name. `bodies` are the allowed phrases of `text` as atoms; `literal` tells whether the phrase
    has words of its own, without which a blank or a deferral says nothing of what it stands for."""
    given = tuple(allowed)
    if name == "text":
        ordered = sorted(bodies, key=len, reverse=True)
        return Slot(name, _either(ordered), frozenset(body.split(" ")[0] for body in bodies), given)
    if name == "open":
        marks = (UNKNOWN, DEFERRED, NONE)
        return Slot(name, f"<[{''.join(marks)}]>", frozenset(f"<{mark}" for mark in marks))
    if name == "word":
        return Slot(name, "[^ <§;]+", frozenset([""]))
    keys = [key.casefold().replace(" ", "_") for key in given]
    if name == "standard":
        found = frozenset(f"§{key}" for key in keys) or frozenset([""])
        return Slot(name, f"§{_either(keys)}" if keys else "§[^ ;]+", found, given)
    letters = [LETTERS[kind] for kind in KINDS[name]]
    opened = [letter.upper() for letter in letters]
    if literal:
        opened += [UNKNOWN, DEFERRED, NONE, "N", "L"]
    atoms = frozenset(f"<{mark}" for mark in (*letters, *opened))
    opens = "".join(dict.fromkeys(opened))
    if keys:
        return Slot(name, f"<(?:[{''.join(letters)}]{_either(keys)}|[{opens}])>", atoms, given)
    return Slot(name, f"<[{''.join(letters)}{opens}][^>]*>", atoms, given)


def _either(words: Sequence[str]) -> str:
    escaped = [re.escape(word).replace("\\ ", " ") for word in words]
    return escaped[0] if len(escaped) == 1 else f"(?:{'|'.join(escaped)})"
