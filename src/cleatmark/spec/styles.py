"""Paragraph and character styles, resolved through the styles they are based on."""

from __future__ import annotations

import re
from collections.abc import Iterable
from typing import TYPE_CHECKING, TypeVar

from msgspec import Struct

from cleatmark.docxfile.package import W
from cleatmark.spec.lazy import lazily

if TYPE_CHECKING:
    from lxml.etree import _Element

_NOTE_STYLE = lazily(
    r"spec(?:ifier|ification)?s?'?[ _-]*(?:writer'?s?)?[ _-]*notes?\b|specnote|\bcmt\b"
    r"|(?:editor|guide|designer|author|hidden|instruction)[a-z']*[ _-]*(?:notes?|text)?$",
    re.I,
)
_OFF = ("0", "false", "off", "none")
T = TypeVar("T")


def on(element: _Element | None) -> bool | None:
    """A switch as Word writes it: present is on, `w:val="0"` is off, absent is None."""
    if element is None:
        return None
    return element.get(W + "val", "1").lower() not in _OFF


def number(text: str | None) -> int | None:
    """A whole number of the file, or None where it is absent, no number, or absurdly large."""
    if text is None:
        return None
    try:
        value = int(text[:12])
    except ValueError:
        return None
    return value if abs(value) < 2**31 else None


def twips(element: _Element | None, *names: str) -> int | None:
    """The first of the named measures in twentieths of a point; strict files write points ("36pt")."""
    if element is None:
        return None
    for name in names:
        text = element.get(W + name)
        if text is None:
            continue
        match = re.match(r"(-?\d{1,6}(?:\.\d+)?)(pt|in|cm|mm)?$", text)
        if match:
            scale = {"pt": 20, "in": 1440, "cm": 567, "mm": 56.7}.get(match[2] or "", 1)
            return int(float(match[1]) * scale)
    return None


class Style(Struct, frozen=True):
    """A style with what it inherits.

    chain     ids from the style itself to its last ancestor
    num_id    None where the chain gives no number, 0 where it cancels one
    levels    list levels that the chain states outright: (style id, level)
    given_at  how much of the chain lies below and at the style that gives `num_id`
    """

    id: str
    name: str
    chain: tuple[str, ...] = ()
    num_id: int | None = None
    given_at: int = 0
    levels: tuple[tuple[str, int], ...] = ()
    hidden: bool = False
    struck: bool = False
    left: int | None = None
    centered: bool = False
    outline: int | None = None
    note: bool = False
    contents: bool = False
    caption: bool = False
    title: bool = False


class _Raw(Struct):
    name: str
    based: str
    num_id: int | None
    ilvl: int | None
    vanish: bool | None
    strike: bool | None
    left: int | None
    align: str | None
    outline: int | None


PLAIN = Style("", "Normal")


class Styles:
    """The styles part. An unknown or cyclic style reads as far as it can be followed."""

    def __init__(self, root: _Element | None) -> None:
        self._raw: dict[str, _Raw] = {}
        self._resolved: dict[str, Style] = {}
        self.numbering: dict[str, int] = {}
        self.default = ""
        if root is not None:
            for element in root.iterchildren(W + "style"):
                self._declare(element)

    def _declare(self, element: _Element) -> None:
        style_id = element.get(W + "styleId", "")
        kind = element.get(W + "type", "paragraph")
        ppr, rpr = element.find(W + "pPr"), element.find(W + "rPr")
        name, based = element.find(W + "name"), element.find(W + "basedOn")
        num = ppr.find(W + "numPr") if ppr is not None else None
        num_id = _val(num, "numId")
        if kind == "numbering":
            if num_id is not None:
                self.numbering[style_id] = num_id
            return
        if kind == "table":
            return
        strike = on(rpr.find(W + "strike")) if rpr is not None else None
        if strike is None and rpr is not None:
            strike = on(rpr.find(W + "dstrike"))
        align = ppr.find(W + "jc") if ppr is not None else None
        self._raw[style_id] = _Raw(
            name=name.get(W + "val", style_id) if name is not None else style_id,
            based=based.get(W + "val", "") if based is not None else "",
            num_id=num_id,
            ilvl=_val(num, "ilvl"),
            vanish=on(rpr.find(W + "vanish")) if rpr is not None else None,
            strike=strike,
            left=twips(ppr.find(W + "ind"), "start", "left") if ppr is not None else None,
            align=align.get(W + "val") if align is not None else None,
            outline=_val(ppr, "outlineLvl"),
        )
        if kind == "paragraph" and element.get(W + "default", "0").lower() not in _OFF:
            self.default = style_id

    def get(self, style_id: str | None) -> Style:
        """The style by id; None for the document's default paragraph style."""
        wanted = self.default if style_id is None else style_id
        found = self._resolved.get(wanted)
        if found is None:
            found = self._resolved[wanted] = self._resolve(wanted)
        return found

    def _resolve(self, style_id: str) -> Style:
        chain: list[str] = []
        at = style_id
        while at in self._raw and at not in chain and len(chain) < 64:
            chain.append(at)
            at = self._raw[at].based
        raws = [self._raw[name] for name in chain]
        if not raws:
            return Style(style_id, style_id or "Normal")
        given = next((depth for depth, raw in enumerate(raws) if raw.num_id is not None), None)
        reach = raws if given is None else raws[: given + 1]
        name = raws[0].name
        folded = name.casefold()
        return Style(
            style_id,
            name,
            chain=tuple(chain),
            num_id=None if given is None else raws[given].num_id,
            given_at=0 if given is None else given + 1,
            levels=tuple((chain[depth], raw.ilvl) for depth, raw in enumerate(reach) if raw.ilvl is not None),
            hidden=bool(_first(raw.vanish for raw in raws)),
            struck=bool(_first(raw.strike for raw in raws)),
            left=_first(raw.left for raw in raws),
            centered=_first(raw.align for raw in raws) == "center",
            outline=_first(raw.outline for raw in raws),
            note=bool(_NOTE_STYLE.search(name)),
            contents=folded.startswith(("toc ", "toc1", "toc2", "table of figures", "contents")),
            caption=folded.startswith("caption"),
            title=folded in ("title", "section title", "sct", "section number", "sectiontitle"),
        )


def _val(parent: _Element | None, name: str) -> int | None:
    child = parent.find(W + name) if parent is not None else None
    return number(child.get(W + "val")) if child is not None else None


def _first(values: Iterable[T | None]) -> T | None:
    return next((value for value in values if value is not None), None)
