"""The plain text in which the sample builders keep their sections.

A paragraph starts in column 1 with a key (the office's word for a level) and goes on in indented lines.
Marks:

    {+twenty+}   a tracked insertion        {-ten-}   a tracked deletion
    {~note~}     hidden text                {*Note*}  bold
    {|}          Word starts a new run      {_}       a no-break hyphen
    {>}          a tab                      {=N=}     a content control that holds N
"""

from __future__ import annotations

import re
from collections.abc import Callable

from samples.docx_office import Bold, Control, Deleted, Hidden, Inserted, Piece

KINDS: dict[str, Callable[[str], Piece]] = {"+": Inserted, "-": Deleted, "~": Hidden, "*": Bold, "=": Control}
CHARACTERS = {"{_}": "\u2011", "{>}": "\t"}
MARK = re.compile(r"\{([-+~*=])(.*?)\1\}")


def paragraphs(text: str) -> list[tuple[str, list[Piece]]]:
    """Key and pieces of every paragraph, in order."""
    joined: list[list[str]] = []
    for line in text.strip("\n").splitlines():
        if line[:1].strip():
            joined.append([line.rstrip()])
        elif line.strip():
            joined[-1].append(line.strip())
    found = []
    for lines in joined:
        key, _, words = " ".join(lines).partition(" ")
        found.append((key, pieces(words.strip())))
    return found


def pieces(text: str) -> list[Piece]:
    """The pieces of one paragraph."""
    for written, character in CHARACTERS.items():
        text = text.replace(written, character)
    found: list[Piece] = []
    end = 0
    for mark in MARK.finditer(text):
        found.extend(part for part in text[end : mark.start()].split("{|}") if part)
        found.append(KINDS[mark[1]](mark[2]))
        end = mark.end()
    found.extend(part for part in text[end:].split("{|}") if part)
    return found
