"""Notes to whoever edits a master specification: guidance left in the text, never a requirement."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from cleatmark.docxfile.package import W
from cleatmark.spec.lazy import lazily

if TYPE_CHECKING:
    from lxml.etree import _Element

_OPENING = r"[\s\[<({/*]*"
_READER = r"(?:SPEC(?:IFICATION)?S?[\s-]*WRITERS?|SPECIFIERS?|DESIGNERS?|EDITORS?|ARCHITECTS?|A/?E)"
_NAMED = lazily(
    rf"{_OPENING}(?:(?:NOTES?|INSTRUCTIONS?|GUIDANCE)\s+TO\s+(?:THE\s+)?{_READER}\b"
    r"|(?:SPEC(?:IFICATION)?S?(?:[\s-]*WRITER)?(?:['’]?S)?|SPECIFIER(?:['’]?S['’]?)?|SPECIFYING|EDITING|DRAFTING|GUIDE"
    r"|EDITOR(?:['’]?S|IAL)?|DESIGNER(?:['’]?S)?)\s+(?:NOTES?|INSTRUCTIONS?|GUIDANCE)\s*(?:[:.–—-]|\d|$)"
    r"|(?:SPEC(?:IFICATION)?\s*WRITER|SPECIFIERS?)\s*:)",
    re.I,
)
"""A note that names its reader: "SPEC WRITER NOTE:", "Specifier:"."""

_STARRED = lazily(r"\s*\*\*\*[\s*]*NOTES?\s*:", re.I)
_PLAIN_NOTE = lazily(rf"{_OPENING}NOTES?\b", re.I)
_VERBS = r"Retain|Delete|Keep|Select|Choose|Edit|Revise|Insert|Omit|Remove|Modify|Include|Use|Adjust"
_NOUNS = (
    r"(?:sub-?)?paragraphs?|(?:sub-?)?articles?|sentences?|options?|bracketed|clauses?|choices?"
    r"|(?:text|items?|values?)\s+in\s+(?:square\s+)?brackets|this\s+section"
)
_TURN = (
    r"below|above|following|that\s+follows?|if|when|where|unless|to\s+suit|for\s+each|in\s+brackets"
    r"|(?:as|not)\s+(?:needed|required|applicable|used)"
)
_EDITING = lazily(
    rf"{_OPENING}(?:{_VERBS})\b(?=.{{0,200}}\b(?:{_NOUNS})\b)(?=.{{0,300}}\b(?:{_TURN})\b)", re.I | re.S
)
"""Advice on how to edit the master, plain without any look: "Retain one of two paragraphs below"."""

_ADVICE = lazily(
    rf"{_OPENING}(?:(?:{_VERBS}|Coordinate|Verify|Consult|See|Specify|If|When|Where)\b(?=.{{0,300}}\b(?:{_NOUNS}|{_TURN}|one"
    r"|either|both|project|Owner|editing)\b)|This\s+(?:section|article|(?:sub)?paragraph)\b)",
    re.I | re.S,
)
"""The same in looser words, taken as a note only where the paragraph also looks apart."""

_LEADS = frozenset(
    ("not", "ins", "gui", "spe", "edi", "des", "dra", "ret", "del", "kee", "sel", "cho", "rev", "omi", "rem",
     "mod", "inc", "use", "adj", "coo", "ver", "con", "see", "if ", "whe", "thi")
)  # fmt: skip


def may_be_note(text: str) -> bool:
    """Whether the first letters are those of many a note: only then is the paragraph's formatting asked for."""
    return text.lstrip("[<({/*\t \xa0")[:3].lower() in _LEADS


_PALE = frozenset(("auto", "", "FFFFFF", "000000", "none"))


def is_note(text: str, numbered: bool, look: bool) -> bool:
    """Whether a paragraph that begins like a note is one: by the reader it names, or by words and look."""
    if _NAMED.match(text) or _STARRED.match(text):
        return True
    if look and (_PLAIN_NOTE.match(text) or _ADVICE.match(text)):
        return True
    return not numbered and bool(_EDITING.match(text))


def is_row_of_asterisks(text: str) -> bool:
    """A row as federal masters frame their notes with."""
    return text.count("*") >= 5 and not text.replace("*", "").strip()


def opens_note(text: str) -> bool:
    """Whether the text after a row of asterisks begins a note."""
    return bool(_PLAIN_NOTE.match(text) or _NAMED.match(text))


def stands_apart(paragraph: _Element) -> bool:
    """Whether the paragraph is boxed, shaded, or coloured throughout."""
    properties = paragraph.find(W + "pPr")
    if properties is not None:
        if properties.find(W + "pBdr") is not None:
            return True
        shading = properties.find(W + "shd")
        if shading is not None and shading.get(W + "fill", "auto") not in _PALE:
            return True
    runs = [run for run in paragraph.iter(W + "r") if run.find(W + "t") is not None]
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
