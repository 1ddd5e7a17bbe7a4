"""Phrases of readings, made into patterns that match a sentence's tokens in linear time.

words            regardless of case, number (clip, clips), hyphen and white space; "UL 580" is the standard
…                a gap of a few words, inside the sentence; never across another standard's name or a semicolon
(a)              optional
a|b              either of two words; hyphens join what belongs together: `not-more-than|maximum`
{KIND}           the value: number, class, rating, length, thickness, pressure, stress, speed, area, slope, ratio,
                 years, standard, coating, size, section, word
{KIND: A, B}     only these values
{text: x, y}     one of these phrases
{open}           a choice left open, a blank, or words that leave the value to drawings or to others
{zone}           the sentence's zones go with the values found; it stands for itself, or for nothing
"""

from __future__ import annotations

import re
from functools import cached_property
from typing import Any

from msgspec import Struct

from cleatmark.spec.lexemes import Lexeme, lex
from cleatmark.spec.wording import plain, word_set

GAP = 10
"""Tokens that a gap may hold."""

_SLOT = re.compile(r"\{\s*([a-z][a-z_ ]*?)\s*(?::\s*([^}]*?)\s*)?\}")
_OTHER = {"…": " \ue000 ", "...": " \ue000 "}
_QUOTED = re.compile(r'"([^"]*)"|([^,\s][^,]*)')
SLOT_KINDS = {
    "number": ("number",),
    "class": ("number",),
    "rating": ("rating",),
    "length": ("length",),
    "thickness": ("gauge", "weight", "length=thin"),
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
    "standard": ("standard",),
    "coating": ("coating",),
    "size": ("size",),
    "section": ("section",),
    "angle": ("angle",),
    "percent": ("percent",),
}
_OPEN = "<(?:choice|blank)(?:\\.(?:{kinds}))?>"


class PhraseError(ValueError):
    """A phrase that is none: what is wrong in it, and an example of the right form."""


class Line(Struct, frozen=True, gc=False):
    """A sentence's tokens as one string to match, and which token stands where."""

    string: str
    places: tuple[int, ...]
    tokens: tuple[int, ...]
    atoms: frozenset[str]
    items: tuple[str, ...] = ()

    def item_of(self, token: int) -> int:
        """The position among `items` of a token, or of the one before it."""
        from bisect import bisect_right

        return max(bisect_right(self.tokens, token) - 1, 0)


class Hit(Struct, frozen=True):
    """Where a phrase matched: tokens first..last of the sentence, and value_first..value_last of its value."""

    first: int
    last: int
    value_first: int
    value_last: int


def line_of(lexemes: list[Lexeme]) -> Line:
    """The string that phrases are matched against."""
    parts: list[str] = [""]
    places: list[int] = []
    tokens: list[int] = []
    at = 1
    for index, lexeme in enumerate(lexemes):
        word = atom(lexeme)
        if not word:
            continue
        parts.append(word)
        places.append(at)
        tokens.append(index)
        at += len(word) + 1
    parts.append("")
    atoms = {part.split("=", 1)[0].rstrip(">") if part[:1] == "<" else part for part in parts}
    return Line(" ".join(parts), tuple(places), tuple(tokens), frozenset(atoms), tuple(parts[1:-1]))


def atom(lexeme: Lexeme) -> str:
    """A token as it stands in the string to match; "" for punctuation that phrases do not see."""
    kind = lexeme.kind
    if kind == "word":
        return lexeme.key
    if kind == "punct":
        return ";" if lexeme.key == ";" else ""
    if kind == "standard":
        return "§" + lexeme.key.casefold().replace(" ", "_")
    if kind in ("choice", "blank"):
        return f"<{kind}.{lexeme.inner}>" if lexeme.inner else f"<{kind}>"
    if kind in ("defer", "none", "zone"):
        return f"<{kind}>"
    return f"<{kind}={lexeme.key.casefold().replace(' ', '_')}>" if lexeme.key else f"<{kind}>"


class Phrase:
    """One phrase of a reading."""

    def __init__(self, written: str) -> None:
        self.written = written
        self.slot = ""
        self.allowed: tuple[str, ...] = ()
        self.zones = False
        self.needs: list[frozenset[str]] = []
        self._literal = False
        self.source = self._build(written)

    @cached_property
    def regex(self) -> Any:
        """The compiled pattern; RE2 matches in linear time."""
        import re2

        return re2.compile(self.source)

    @property
    def anchor(self) -> frozenset[str]:
        """The atoms of which one must stand in a sentence: the rarest that the phrase needs."""
        if not self.needs:
            return frozenset()
        return min(self.needs, key=lambda atoms: len(atoms) + 4 * any(a in _COMMON for a in atoms))

    def search(self, line: Line) -> list[Hit]:
        """Every place where the phrase matches, by its value's place, left to right."""
        if any(atoms.isdisjoint(line.atoms) for atoms in self.needs):
            return []
        found: list[Hit] = []
        position = 0
        grouped = self.slot != ""
        while position < len(line.string):
            match = self.regex.search(line.string, position)
            if match is None:
                break
            group = 1 if grouped and match.group(1) is not None else 0
            start, end = match.span(group)
            found.append(
                Hit(
                    _token(line, match.start() + 1), _token(line, match.end() - 2),
                    _token(line, start if group else start + 1), _token(line, end - 1 if group else end - 2),
                )
            )  # fmt: skip
            position = max(end - 1 if group else match.end() - 1, match.start() + 1)
        return found

    def takes(self, lexeme: Lexeme) -> bool:
        """Whether a token alone could be the phrase's value; for values listed after the first."""
        kinds = {kind.split("=")[0] for kind in SLOT_KINDS.get(self.slot, ())}
        if lexeme.kind not in kinds:
            return False
        return not self.allowed or lexeme.key.casefold() in {word.casefold() for word in self.allowed}

    def allows(self, option: str) -> bool:
        """Whether an option of a choice left open is among the values that the phrase names."""
        return any(word in option.casefold().split() for word in map(str.casefold, self.allowed))

    # building

    def _build(self, written: str) -> str:
        slots: list[tuple[str, str]] = []

        def keep(match: re.Match[str]) -> str:
            slots.append((match.group(1).strip(), match.group(2) or ""))
            return f" \ue001{chr(0xE100 + len(slots) - 1)} "

        text = _SLOT.sub(keep, written)
        if "{" in text or "}" in text:
            raise PhraseError(
                f'"{written}" has a brace that closes nothing; write {{length}} or {{number: 30, 60}}'
            )
        for mark, sign in _OTHER.items():
            text = text.replace(mark, sign)
        items = _tokens(text)
        self._literal = any(item not in "()|\ue000\ue001" and not item.startswith("\ue001") for item in items)
        source, rest = self._sequence(items, 0, slots, required=True)
        if rest != len(items):
            raise PhraseError(f'"{written}" closes a parenthesis that it does not open')
        return source + " "

    def _sequence(
        self, items: list[str], at: int, slots: list[tuple[str, str]], *, required: bool
    ) -> tuple[str, int]:
        out: list[str] = []
        gap = 0
        while at < len(items):
            item = items[at]
            if item == ")":
                return "".join(out), at
            if item == "\ue000":
                gap += GAP
                at += 1
                continue
            optional = item == "("
            if optional:
                inner, at = self._sequence(items, at + 1, slots, required=False)
                if at >= len(items):
                    raise PhraseError(f'"{self.written}" opens a parenthesis that it does not close')
                pieces, at = [inner], at + 1
                while at < len(items) and items[at] == "|":
                    inner, at = self._piece(items, at + 1, slots)
                    pieces.append(inner)
            else:
                pieces = []
                choices: set[str] = set()
                while True:
                    piece, at = self._piece(items, at, slots)
                    pieces.append(piece)
                    choices |= self._atoms(piece)
                    if at < len(items) and items[at] == "|":
                        at += 1
                        continue
                    break
                if required and choices and "" not in choices:
                    self.needs.append(frozenset(choices))
            body = pieces[0] if len(pieces) == 1 else f"(?:{'|'.join(pieces)})"
            if gap:
                out.append(f"(?: [^ §;][^ ]*){{0,{gap}}}?")
                gap = 0
            out.append(f"(?:{body})?" if optional else body)
        return "".join(out), at

    def _piece(self, items: list[str], at: int, slots: list[tuple[str, str]]) -> tuple[str, int]:
        item = items[at]
        if item == "(":
            inner, at = self._sequence(items, at + 1, slots, required=False)
            return f"(?:{inner})", at + 1
        if item.startswith("\ue001"):
            name, allowed = slots[ord(item[1]) - 0xE100]
            return self._slot(name, allowed), at + 1
        return "(?: ;)? " + " ".join(re.escape(word) for word in item.split(" ")), at + 1

    def _atoms(self, piece: str) -> set[str]:
        if "(?P<value>" in piece:
            return set(self._slot_atoms)
        if piece.startswith("(?: ;)? "):
            return {_unescaped(piece[8:].split(" ")[0])}
        return {""}

    def _slot(self, name: str, allowed: str) -> str:
        if name == "zone":
            self.zones = True
            return "(?: <zone>)?"
        if self.slot:
            raise PhraseError(f'"{self.written}" has two values; a phrase gives one')
        self.slot = name
        if name == "text":
            phrases = [a or b.strip() for a, b in _QUOTED.findall(allowed)]
            self.allowed = tuple(phrases)
            if not phrases:
                raise PhraseError(f'"{self.written}" names no words; write {{text: plywood, OSB}}')
            bodies = sorted((" ".join(_tokens(phrase)) for phrase in phrases), key=len, reverse=True)
            self._slot_atoms = frozenset(body.split(" ")[0] for body in bodies)
            return f"(?: ;)? (?P<value>{'|'.join(re.escape(body) for body in bodies)})"
        if name == "open":
            self._slot_atoms = frozenset(["<choice", "<blank", "<defer", "<none"])
            return "(?: ;)? (?P<value><(?:choice|blank|defer|none)>)"
        if name == "word":
            self._slot_atoms = frozenset([""])
            return "(?: ;)? (?P<value>[^ <§;]+)"
        kinds = SLOT_KINDS.get(name)
        if kinds is None:
            raise PhraseError(
                f"there is no value kind {{{name}}}; kinds are {', '.join(SLOT_KINDS)}, text, word, open, zone"
            )
        plain_kinds = {kind.split("=")[0] for kind in kinds}
        self.allowed = tuple(part.strip().strip('"') for part in allowed.split(",") if part.strip())
        if name == "standard":
            keys = [re.escape(key.casefold().replace(" ", "_")) for key in self.allowed]
            self._slot_atoms = frozenset(
                "§" + k.casefold().replace(" ", "_") for k in self.allowed
            ) or frozenset([""])
            return f"(?: ;)? (?P<value>§{'(?:' + '|'.join(keys) + ')' if keys else '[^ ]+'})"
        if self.allowed:
            keys = [re.escape(key.casefold().replace(" ", "_")) for key in self.allowed]
            own = f"<(?:{'|'.join(kinds)})=(?:{'|'.join(keys)})>"
        else:
            own = "<(?:" + "|".join(k if "=" in k else f"{k}(?:=[^>]*)?" for k in kinds) + ")>"
        opened = {"thin" if kind == "length=thin" else kind for kind in kinds}
        opened |= {"thin"} if name == "length" else set()
        names = "|".join(sorted(opened))
        opens = [f"<choice\\.(?:{names})>", f"<blank\\.(?:{names})>"]
        atoms = {f"<{kind}" for kind in plain_kinds}
        atoms |= {f"<{o}.{k}" for k in opened for o in ("choice", "blank")}
        if self._literal:
            opens += ["<choice>", "<blank>", "<blank\\.(?:number|length)>", "<defer>", "<none>"]
            atoms |= {"<choice", "<blank", "<blank.number", "<blank.length", "<defer", "<none"}
        self._slot_atoms = frozenset(atoms)
        return f"(?: ;)? (?P<value>{own}|{'|'.join(opens)})"


_COMMON = word_set("panel metal roof system wind steel sheet clip standard class")
_UNESCAPE = re.compile(r"\\(.)")


def _unescaped(text: str) -> str:
    return _UNESCAPE.sub(r"\1", text)


def _token(line: Line, at: int) -> int:
    from bisect import bisect_right

    return line.tokens[max(bisect_right(line.places, max(at, 1)) - 1, 0)]


_SIGNS = re.compile(r"[()|\ue000]|\ue001.")


def _tokens(text: str) -> list[str]:
    """The words of a phrase as atoms; words that hyphens join are one item, "not more than"."""
    items: list[str] = []
    position = 0
    for match in _SIGNS.finditer(text):
        items.extend(_words(text[position : match.start()]))
        items.append(match.group())
        position = match.end()
    items.extend(_words(text[position:]))
    return items


def words_of(text: str) -> tuple[str, ...]:
    """A plain phrase ("bearing plate", "UL 580") as the atoms that a line has."""
    return tuple(" ".join(_words(text)).split())


def _words(text: str) -> list[str]:
    out: list[str] = []
    smooth = plain(text)
    lexemes = lex(smooth, 0, len(smooth))
    joined = False
    last = -1
    for lexeme in lexemes:
        word = atom(lexeme)
        if lexeme.kind == "punct" and lexeme.key in "-/&":
            joined = lexeme.start == last
            last = lexeme.end
            continue
        if word:
            if joined and out and lexeme.start == last:
                out[-1] += " " + word
            else:
                out.append(word)
        joined = False
        last = lexeme.end
    return out
