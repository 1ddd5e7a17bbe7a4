"""Text from documents made fit to show: control codes become visible, white space is folded."""

from __future__ import annotations

import re

_FOLDED = re.compile(r"[ \t\r\n\f\v\u0085\u2028\u2029]+")

# C0 and C1 controls, DEL, zero-width and soft marks, direction overrides, lone surrogates, non-characters.
_UNFIT = re.compile(
    "[\x00-\x1f\x7f-\x9f\u00ad\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff\ufff9-\ufffb\ufffe\uffff\ud800-\udfff]"
)


def _visible(match: re.Match[str]) -> str:
    code = ord(match[0])
    return f"\\x{code:02x}" if code < 0x100 else f"\\u{code:04x}"


def clean(text: str) -> str:
    """The text on one line, with every control code, direction override and lone surrogate written out.

    A terminal, a browser and a word processor then show what stands there and act on none of it. No-break
    spaces stay. Cleaning twice changes nothing.
    """
    return inline(text).strip(" ")


def whole_sentences(text: str, limit: int) -> str:
    """As many whole sentences as fit in `limit` characters, with an ellipsis where some are left out."""
    folded = clean(text)
    if len(folded) <= limit:
        return folded
    end = folded.rfind(". ", 0, limit)
    return f"{folded[: end + 1]} …" if end > 0 else shortened(folded, limit)


def inline(text: str) -> str:
    """As `clean`, with the space at the ends kept: the text stands beside other text."""
    return _UNFIT.sub(_visible, _FOLDED.sub(" ", text))


def shortened(text: str, limit: int) -> str:
    """The text cut at a word's end to at most `limit` characters, with an ellipsis where it was cut."""
    folded = clean(text)
    if len(folded) <= limit:
        return folded
    head = folded[: limit - 1].rsplit(" ", 1)[0]
    return f"{head or folded[: limit - 1]} …"
