"""The report on a terminal, or as plain text where the stream is none."""

from __future__ import annotations

from collections.abc import Iterable
from typing import TextIO

from cleatmark.report import plain
from cleatmark.report.blocks import Block
from cleatmark.report.content import blocks
from cleatmark.report.lines import Line
from cleatmark.report.page import page
from cleatmark.report.text_brief import brief as shortened
from cleatmark.review.model import Review

PIPED_WIDTH = 100

_STYLES = {
    "title": "bold",
    "heading": "bold",
    "rule": "dim",
    "strong": "bold",
    "verdict": "bold reverse",
    "head": "dim",
    "label": "italic",
    "where": "cyan",
    "quote": "italic",
}


def print_review(
    review: Review,
    *,
    stream: TextIO,
    width: int | None = None,
    full: bool = False,
    brief: bool = False,
) -> None:
    """The review on the stream, with styles where it is a terminal; the words are the same everywhere.

    `width` in columns; None takes the terminal's, COLUMNS where it is set, or 100 for a pipe. `full` adds the
    specification's requirements, the comparison, quotes in full and the appendix of rules and working; `brief` keeps
    to one screen what a small job leaves to say, and counts the rest.
    """
    if width is None:
        from shutil import get_terminal_size

        width = get_terminal_size((PIPED_WIDTH, 24)).columns
    lines = page(_blocks(review, full, brief), width)
    if stream.isatty():
        _write_styled(lines, stream, width)
    else:
        plain.write(plain.text_of(lines), stream)


def review_text(review: Review, width: int = PIPED_WIDTH, full: bool = False, *, brief: bool = False) -> str:
    """The review as plain text."""
    return plain.text_of(page(_blocks(review, full, brief), width))


def _blocks(review: Review, full: bool, brief: bool) -> Iterable[Block]:
    made = blocks(review, full)
    return shortened(review, made) if brief and not full else made


def _write_styled(lines: list[Line], stream: TextIO, width: int) -> None:
    from rich.console import Console
    from rich.text import Text

    console = Console(file=stream, width=width, highlight=False, markup=False, emoji=False)
    for line in lines:
        text = Text(end="\n")
        for piece in line:
            text.append(piece.text, style=_STYLES.get(piece.style, ""))
        text.rstrip()
        console.print(text, soft_wrap=True)
