"""The words of one paragraph while it is read, and how they are folded into a clause's text."""

from __future__ import annotations

from msgspec import Struct

from cleatmark.spec.clauses import Span

INSERTED, STRUCK, FIELD = 1, 2, 4
KINDS = ((INSERTED, "inserted"), (STRUCK, "struck"), (FIELD, "field"))

_PLAIN = str.maketrans(
    {
        "\u2011": "-",  # no-break hyphen
        "\u00ad": None,  # soft hyphen
        "\u200b": None,  # zero-width space and joiners, direction marks, byte order mark
        "\u200c": None,
        "\u200d": None,
        "\u2060": None,
        "\u200e": None,
        "\u200f": None,
        "\u202a": None,
        "\u202c": None,
        "\ufeff": None,
    }
)
_SYMBOLS = {
    "symbol": {
        0xA2: "′", 0xA3: "≤", 0xB0: "°", 0xB1: "±", 0xB2: "″", 0xB3: "≥", 0xB4: "×", 0xB7: "•", 0xB8: "÷",
        0xB9: "≠", 0xBB: "≈", 0xBE: "-", 0xD2: "®", 0xD3: "©", 0xD4: "™", 0x6D: "µ", 0x57: "Ω", 0x66: "φ",
        0x71: "θ", 0x61: "α", 0x62: "β", 0x44: "Δ", 0xE2: "®", 0xE3: "©", 0xE4: "™", 0x2D: "−", 0xA5: "∞",
    },
    "wingdings": {
        0x6F: "☐", 0xA8: "☐", 0x71: "☐", 0xFE: "☒", 0x78: "☒", 0xFD: "☒", 0xFC: "✓", 0xFB: "✗", 0xE0: "→",
        0xA7: "•", 0x6C: "•", 0x6E: "•",
    },
}  # fmt: skip


class Words(Struct, frozen=True, gc=False):
    """Text as it stands, tabs kept and white space unfolded, and the stretches that stand apart in it."""

    raw: str
    marks: tuple[Span, ...] = ()

    def folded(self, start: int = 0) -> tuple[str, tuple[Span, ...]]:
        """The text from `start` with white space folded, and the marks moved to fit."""
        if not self.marks:
            folded = " ".join(self.raw[start:].split())
            return (self.raw if folded == self.raw else folded), ()
        text: list[str] = []
        places, gap = [0] * (len(self.raw) + 1), False
        for at, sign in enumerate(self.raw):
            places[at] = len(text)
            if at < start:
                continue
            if sign.isspace():
                gap = bool(text)
                continue
            if gap:
                text.append(" ")
                gap = False
                places[at] = len(text)
            text.append(sign)
        places[-1] = len(text)
        shown = "".join(text)
        spans = []
        for mark in self.marks:
            first, last = places[max(mark.start, start)], places[max(mark.end, start)]
            while first < last and shown[first] == " ":
                first += 1
            while last > first and shown[last - 1] == " ":
                last -= 1
            if last > first:
                spans.append(Span(first, last, mark.kind))
        return shown, tuple(spans)


def words(pieces: list[tuple[str, int]], apart: int) -> Words:
    """Join the pieces of a paragraph, each with its INSERTED, STRUCK and FIELD bits; `apart` is all bits."""
    if not apart:
        return Words(plain("".join([text for text, _ in pieces])))
    marks: list[Span] = []
    raw, at = "", 0
    open_at: dict[int, int] = {}
    for text, bits in [*((plain(text), bits) for text, bits in pieces), ("", 0)]:
        for bit, kind in KINDS:
            if bits & bit and bit not in open_at:
                open_at[bit] = at
            elif not bits & bit and bit in open_at:
                first = open_at.pop(bit)
                if at > first:
                    marks.append(Span(first, at, kind))
        raw += text
        at = len(raw)
    return Words(raw, tuple(sorted(marks, key=lambda mark: (mark.start, mark.end, mark.kind))))


def plain(text: str) -> str:
    """No-break hyphens as hyphens, soft hyphens and invisible signs gone."""
    return text if text.isascii() else text.translate(_PLAIN)


def symbol(font: str, code: str) -> str:
    """A `w:sym` as the character it shows; "" for a picture no character stands for."""
    try:
        point = int(code[:8], 16)
    except ValueError:
        return ""
    private = 0xF000 <= point <= 0xF0FF
    table = _SYMBOLS.get(font.casefold().split()[0] if font.strip() else "")
    if table is not None:
        low = point & 0xFF
        if low in table:
            return table[low]
        return chr(low) if font.casefold().startswith("symbol") and 0x20 <= low < 0x7F else ""
    if private:
        return ""
    return chr(point) if 0x20 <= point <= 0x10FFFF and not 0xD800 <= point <= 0xDFFF else ""
