"""Notes to whoever edits a master specification: guidance left in the text, never a requirement."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from cleatmark.spec.package import W

if TYPE_CHECKING:
    from lxml.etree import _Element

ASTERISKS = re.compile(r"[\s*]*\*(?:\s*\*){4,}[\s*]*$")
"""A row of asterisks, as federal masters frame their notes with."""

_NAMED = re.compile(
    r"[\s\[<({/*]*(?:"
    r"(?:NOTES?|INSTRUCTIONS?|GUIDANCE)\s+TO\s+(?:THE\s+)?"
    r"(?:SPEC(?:IFICATION)?S?[\s-]*WRITERS?|SPECIFIERS?|DESIGNERS?|EDITORS?|ARCHITECTS?|A/?E)\b"
    r"|(?:SPEC(?:IFICATION)?S?[\s-]*(?:WRITER'?S?)?|SPECIFIER'?S?|SPECIFYING|EDITOR(?:'?S|IAL)?|EDITING|DESIGNER'?S?|DRAFTING)"
    r"\s+(?:NOTES?|INSTRUCTIONS?|GUIDANCE)\s*[:.–—-]"
    r"|(?:SPEC(?:IFICATION)?\s*WRITER|SPECIFIER|SPECIFIERS)\s*:)",
    re.I,
)
"""A note that names its reader: "SPEC WRITER NOTE:", "Specifier:"."""

_ASTERISK_NOTE = re.compile(r"\s*\*{3,}[\s*]*NOTES?\s*:", re.I)
_EDITING = re.compile(
    r"[\s\[<(*]*(?:Retain|Delete|Select|Choose|Keep|Edit|Revise|Adjust|Insert|Use|Include|Omit|Remove|Modify|Coordinate"
    r"|See|First|Second|Verify|If|Where|When|Consult)\b.{0,200}?"
    r"\b(?:(?:sub)?paragraphs?|(?:sub)?articles?|sections?|options?|sentences?|choices?|clauses?|text|requirements?|bracketed"
    r"|items?|one|two|either|all)\b.{0,60}?\b(?:below|above|following|if|in\s+brackets|to\s+suit|for\s+each|that\s+follow"
    r"|not\s+(?:required|applicable|used)|applicable|as\s+(?:needed|required|applicable))\b",
    re.I,
)
"""Advice on how to edit: "Retain one of two paragraphs below"."""

_FIRM = re.compile(
    r"[\s\[<(*]*(?:Retain|Delete|Keep|Select|Choose|Edit|Revise|Insert|Omit|Remove|Modify)\b"
    r"(?=.{0,200}\b(?:below|above|bracketed|brackets|(?:sub)?paragraphs?|(?:sub)?articles?|option|options)\b)",
    re.I,
)
_LEAD = re.compile(
    r"[\s\[<(*]*(?:NOTES?|Retain|Delete|Select|Choose|Keep|Edit|Revise|Adjust|Insert|Include|Omit|Remove|Modify|Specif"
    r"|Coordinate|See|Verify|Consult|If|Use|This\s+(?:section|article|paragraph)|Guide)",
    re.I,
)
GUIDANCE = re.compile(r"[\s\[<({/*]*(?:[NREDSCKAIOMUGVFWT])", re.I)
"""A cheap first look: only then is the paragraph's formatting asked for."""

_PALE = frozenset(("auto", "", "FFFFFF", "000000", "none"))


def is_note(text: str, numbered: bool, look: bool, style_says: bool) -> bool:
    """Whether a visible paragraph is guidance: by the reader it names, its style, or its words and look."""
    if style_says or _NAMED.match(text) or _ASTERISK_NOTE.match(text):
        return True
    if numbered and not look:
        return False
    if look:
        return bool(
            _LEAD.match(text) and (_EDITING.match(text) or re.match(r"[\s\[<(*]*NOTES?\b", text, re.I))
        )
    return bool(_FIRM.match(text) and _EDITING.match(text))


def opens_note(text: str) -> bool:
    """Whether the text after a row of asterisks begins a note."""
    return bool(re.match(r"\s*(?:\*+\s*)?NOTES?\b", text, re.I) or _NAMED.match(text))


def stands_apart(paragraph: _Element) -> bool:
    """Whether the paragraph is boxed, shaded, or coloured throughout."""
    properties = paragraph.find(W + "pPr")
    if properties is not None:
        if properties.find(W + "pBdr") is not None:
            return True
        shading = properties.find(W + "shd")
        if shading is not None and shading.get(W + "fill", "auto") not in _PALE:
            return True
    runs = [run for run in paragraph.iter(W + "r") if any(text.text for text in run.iterchildren(W + "t"))]
    return bool(runs) and all(_coloured(run) for run in runs)


def _coloured(run: _Element) -> bool:
    properties = run.find(W + "rPr")
    if properties is None:
        return False
    for name, attribute in (("color", "val"), ("shd", "fill"), ("highlight", "val")):
        element = properties.find(W + name)
        if element is not None and element.get(W + attribute, "auto") not in _PALE:
            return True
    return False
