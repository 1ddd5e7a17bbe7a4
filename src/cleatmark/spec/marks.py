"""What a master specification left open: bracketed, angled and slashed choices, and blanks.

A bracket after a value in another unit is a conversion, not a choice: its brackets are read as parentheses.
"""

from __future__ import annotations

import re

from msgspec import Struct

from cleatmark.spec.lazy import lazily


class Mark(Struct, frozen=True):
    """Characters start:end of a plain text that an editor had still to decide. kind: "choice" or "blank".

    `options` are the choices as written; `inner` where each stands.
    """

    start: int
    end: int
    kind: str
    options: tuple[str, ...]
    inner: tuple[tuple[int, int], ...]


_SUSPECT = lazily(r"[\[<_]|//|XX|TBD|T\.B\.D|\.{5}|\d/\d", re.IGNORECASE)
_MARK = lazily(
    r"""(?<![:\w])//(?P<triple>\s*[\w.-]+\s*//\s*[\w.-]+\s*(?://\s*[\w.-]+\s*)*)//
    | (?<![:\w])//(?P<slashed>[^/]+(?:/[^/]+)*)//
    | \[(?P<square>[^\[\]]*)\]
    | <(?P<angle>[^<>\s=\d][^<>]{0,120}|\d[^<>]{0,40})>
    | (?P<blank>_{2,}(?:[\s/.]*_{2,})*|\bX{2,}\b|\bT\.?B\.?D\b\.?|\.{5,})
    | (?<![\d/.])(?P<pair>\d{2}/\d{2})(?=[\s-]*ga(?:uge|ge)?s?\b|[\s-]*years?\b)
    | (?<=[Cc]lass\ )(?P<classes>\d{2}(?:/\d{2})+)\b
    """,
    re.VERBOSE,
)
_BLANK = lazily(r"_{2,}")
_OPEN = lazily(r"^[\s_.?]*$|^\s*(?:insert|enter|fill in|specify|select|X{2,}|T\.?B\.?D)\b", re.IGNORECASE)
_ASIDE = lazily(r"^\s*(?:see|refer|section|sections|sic|e\.g|i\.e|note|paragraph)\b", re.IGNORECASE)
_JOIN = lazily(r"[\s,/]*(?:or\b)?[\s,]*$")
_OR = lazily(r"\s+or\s+|\s*,\s*(?:or\s+)?")
_MEASURE = lazily(
    r"(?:^|\s|\()(?P<n>[-+]?[\d.,]*\d[\d./ -]*)\s*-?"
    r'(?P<u>"|\'|[A-Za-z#][A-Za-z/.]*(?:\s?(?:sq\.?\s?)?[A-Za-z]+[.²2]?)?)'
    r"\s*(?:thick|wide|high)?$"
)


def find_marks(text: str) -> tuple[str, tuple[Mark, ...]]:
    """The plain text with the brackets of conversions made parentheses, and the marks left open in it."""
    if not _SUSPECT.search(text):
        return text, ()
    found: list[Mark] = []
    blanks: list[Mark] = []
    for match in _MARK.finditer(text):
        kind = match.lastgroup or ""
        body = match.group(kind)
        start, end = match.span()
        inner = (match.start(kind), match.end(kind))
        if kind == "blank":
            found.append(Mark(start, end, "blank", (), ()))
        elif kind == "triple":
            options = tuple(part.strip() for part in body.split("//"))
            found.append(Mark(start, end, "choice", options, (inner,)))
        elif kind in ("pair", "classes"):
            found.append(Mark(start, end, "choice", tuple(body.split("/")), (inner,)))
        elif _OPEN.match(body):
            found.append(Mark(start, end, "blank", (), ()))
        elif kind == "square" and _ASIDE.match(body):
            continue
        elif kind == "square" and _conversion(text[:start], body):
            text = f"{text[:start]}({body}){text[end:]}"
        else:
            found.append(Mark(start, end, "choice", (body.strip(),), (inner,)))
            blanks.extend(Mark(b.start(), b.end(), "blank", (), ()) for b in _BLANK.finditer(text, *inner))
    return text, (*_joined(text, found), *blanks)


_CONVERTED = lazily(r"\s*\([^()]*\)$")


def _conversion(before: str, body: str) -> bool:
    value, other = _MEASURE.search(_CONVERTED.sub("", before.rstrip()[-60:])), _MEASURE.match(body.strip())
    if value is None or other is None:
        return False
    return _unit(value.group("u")) != _unit(other.group("u"))


def _unit(written: str) -> str:
    return written.casefold().rstrip(".s").replace(" ", "")


def _joined(text: str, marks: list[Mark]) -> tuple[Mark, ...]:
    groups: list[Mark] = []
    for mark in marks:
        if (
            groups
            and (link := _JOIN.fullmatch(text, groups[-1].end, mark.start))
            and not ("," in link.group() and _other_things(groups[-1].options, mark.options))
        ):
            last = groups[-1]
            kind = "choice" if "choice" in (last.kind, mark.kind) else "blank"
            groups[-1] = Mark(
                last.start, mark.end, kind, last.options + mark.options, last.inner + mark.inner
            )
        else:
            groups.append(mark)
    return tuple(_split(mark) for mark in groups)


def _other_things(before: tuple[str, ...], behind: tuple[str, ...]) -> bool:
    """Whether a comma parts two choices, of words and of numbers: "[AZ50] [AZ55], [24] [22] gauge"."""
    bare = {option[:1].isdigit() for option in behind}
    return len(before) > 1 and len(bare) == 1 and bare.isdisjoint(option[:1].isdigit() for option in before)


def _split(mark: Mark) -> Mark:
    """A single bracket that lists its choices ("[24 or 22]") has as many options as it lists."""
    if len(mark.options) != 1 or len(mark.options[0]) > 60:
        return mark
    parts = tuple(part.strip() for part in _OR.split(mark.options[0]) if part.strip())
    return Mark(mark.start, mark.end, mark.kind, parts, mark.inner) if len(parts) > 1 else mark
