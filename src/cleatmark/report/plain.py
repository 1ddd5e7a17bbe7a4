"""A terminal page as plain text, without a library: what a pipe, a file or a log gets."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TextIO

from cleatmark.report.lines import Line

_ASCII = str.maketrans(
    {"═": "=", "─": "-", "│": "|", "┌": "+", "└": "+", "—": "-", "“": '"', "”": '"', "…": "..."}
    | {"’": "'", "‘": "'", "–": "-", "²": "2", "×": "x", "\u00a0": " "}
)


def text_of(lines: Iterable[Line]) -> str:
    """The lines as one text, without space at their ends, closed by a newline."""
    return "".join("".join(piece.text for piece in line).rstrip() + "\n" for line in lines)


def write(text: str, stream: TextIO) -> None:
    """The text on the stream. What the stream's encoding lacks is set in ASCII, or escaped."""
    encoding = getattr(stream, "encoding", None) or "utf-8"
    try:
        text.encode(encoding)
    except UnicodeEncodeError:
        text = text.translate(_ASCII).encode(encoding, "backslashreplace").decode(encoding)
    stream.write(text)
