"""Counts written as Word writes them: roman, letters past z, words, leading zeros."""

from __future__ import annotations

from functools import lru_cache

_ROMAN = (
    (1000, "m"), (900, "cm"), (500, "d"), (400, "cd"), (100, "c"), (90, "xc"), (50, "l"), (40, "xl"),
    (10, "x"), (9, "ix"), (5, "v"), (4, "iv"), (1, "i"),
)  # fmt: skip
_ONES = (
    "Zero", "One", "Two", "Three", "Four", "Five", "Six", "Seven", "Eight", "Nine", "Ten", "Eleven", "Twelve",
    "Thirteen", "Fourteen", "Fifteen", "Sixteen", "Seventeen", "Eighteen", "Nineteen",
)  # fmt: skip
_TENS = ("Twenty", "Thirty", "Forty", "Fifty", "Sixty", "Seventy", "Eighty", "Ninety")
_ORDINALS = {
    "One": "First", "Two": "Second", "Three": "Third", "Five": "Fifth", "Eight": "Eighth", "Nine": "Ninth",
    "Twelve": "Twelfth",
}  # fmt: skip
_LETTER_ROUND = 780
_CHICAGO = "*†‡§"


@lru_cache(maxsize=4096)
def numeral(count: int, fmt: str) -> str:
    """`count` in a Word number format. An unknown format, and a count a format has no sign for, is decimal.

    Letters past z repeat (aa, bb), and begin again after 780, as Word has them (from memory).
    """
    if fmt == "none":
        return ""
    if fmt == "decimalZero":
        return f"{count:02d}"
    if fmt.startswith("width") and fmt[5:].isdigit():
        return f"{count:0{int(fmt[5:])}d}"
    if fmt == "numberInDash":
        return f"- {count} -"
    if fmt == "hex":
        return f"{count:X}"
    if count >= 1:
        if fmt in ("upperLetter", "lowerLetter"):
            place = (count - 1) % _LETTER_ROUND
            letters = chr(ord("a") + place % 26) * (place // 26 + 1)
            return letters.upper() if fmt == "upperLetter" else letters
        if fmt in ("upperRoman", "lowerRoman") and count < 32_768:
            return roman(count).upper() if fmt == "upperRoman" else roman(count)
        if fmt == "ordinal":
            return f"{count}{_suffix(count)}"
        if fmt == "cardinalText" and count < 100:
            return _cardinal(count)
        if fmt == "ordinalText" and count < 100:
            return _ordinal(count)
        if fmt == "chicago":
            return _CHICAGO[(count - 1) % 4] * min((count - 1) // 4 + 1, 30)
        if fmt == "decimalEnclosedParen":
            return f"({count})"
        if fmt == "decimalEnclosedFullstop":
            return f"{count}."
    return str(count)


def roman(count: int) -> str:
    """Lower-case roman numeral of a positive count."""
    shown = ""
    for value, sign in _ROMAN:
        times, count = divmod(count, value)
        shown += sign * times
    return shown


def from_roman(text: str) -> int | None:
    """The count of a well-formed roman numeral in either case, or None."""
    folded = text.casefold()
    values = {sign: value for value, sign in _ROMAN if len(sign) == 1}
    if not folded or len(folded) > 15 or any(sign not in values for sign in folded):
        return None
    total = 0
    for at, sign in enumerate(folded):
        value = values[sign]
        total += -value if folded[at + 1 :] and values[folded[at + 1]] > value else value
    return total if total > 0 and roman(total) == folded else None


def _suffix(count: int) -> str:
    if count % 100 in (11, 12, 13):
        return "th"
    return {1: "st", 2: "nd", 3: "rd"}.get(count % 10, "th")


def _cardinal(count: int) -> str:
    if count < 20:
        return _ONES[count]
    tens, ones = divmod(count, 10)
    return _TENS[tens - 2] + (f"-{_ONES[ones]}" if ones else "")


def _ordinal(count: int) -> str:
    head, dash, last = _cardinal(count).rpartition("-")
    if last in _ORDINALS:
        return head + dash + _ORDINALS[last]
    return head + dash + (last[:-1] + "ieth" if last.endswith("y") else last + "th")
