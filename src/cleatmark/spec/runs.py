"""The text of one paragraph: what shows, what is hidden, what a tracked deletion took away."""

from __future__ import annotations

import re
from typing import TYPE_CHECKING

from cleatmark.docxfile.package import MC, M, W
from cleatmark.spec.lazy import lazily
from cleatmark.spec.styles import Style, Styles, on
from cleatmark.spec.words import FIELD, INSERTED, STRUCK, symbol

if TYPE_CHECKING:
    from lxml.etree import _Element

_RUN, _TEXT, _PROPERTIES = W + "r", W + "t", W + "rPr"
_DELETED_TEXT, _FIELD_MARK, _FIELD_CODE, _SYMBOL = W + "delText", W + "fldChar", W + "instrText", W + "sym"
_TAB = W + "tab"
_SIGNS = {
    _TAB: "\t", W + "ptab": "\t", W + "br": " ", W + "cr": " ", W + "noBreakHyphen": "-",
}  # fmt: skip
_THROUGH = frozenset(
    W + name for name in ["hyperlink", "smartTag", "sdt", "sdtContent", "customXml", "dir", "bdo", "rubyBase"]
)
_IN_RUN = frozenset((W + "ruby",))
_ADDED = frozenset((W + "ins", W + "moveTo"))
_TAKEN = frozenset((W + "del", W + "moveFrom"))
_MATH = frozenset((M + "oMath", M + "oMathPara"))
_DRAWN = frozenset((W + "drawing", W + "pict", W + "object"))
_BOX, _CHOICE, _FALLBACK, _ALTERNATE = (
    W + "txbxContent",
    MC + "Choice",
    MC + "Fallback",
    MC + "AlternateContent",
)
_VANISH, _STRIKES, _CHARACTER_STYLE = W + "vanish", (W + "strike", W + "dstrike"), W + "rStyle"
_PRINT_DATE = lazily(r"\s*(?:DATE|TIME|PRINTDATE|SAVEDATE|CREATEDATE|EDITTIME)\b", re.I)


class Runs:
    """Collects one paragraph at a time; open fields carry over to the next.

    shown    pieces of visible text with their INSERTED, STRUCK and FIELD bits; `apart` all bits met
    veiled   pieces of hidden text
    taken    pieces of deleted text
    boxes    text boxes anchored here
    changed  a tracked change stands here
    contents inside the result of a table of contents field
    """

    def __init__(self, styles: Styles, clocks: bool = True) -> None:
        self._styles, self._clocks = styles, clocks
        self._fields: list[list[str | bool]] = []
        self.shown: list[tuple[str, int]] = []
        self.veiled: list[str] = []
        self.taken: list[str] = []
        self.boxes: list[_Element] = []
        self.changed = self.contents = False
        self.apart = 0
        self._veil = self._strike = False
        self._paragraph: _Element | None = None
        self._formatted: bool | None = None

    def read(self, paragraph: _Element, style: Style, gone: bool) -> None:
        """Collect the paragraph's text; `gone` where a deleted row or cell takes it away."""
        self.shown, self.veiled, self.taken, self.boxes = [], [], [], []
        self.changed, self.apart = gone, 0
        self._veil, self._strike = style.hidden, style.struck
        self.contents = bool(self._fields) and self._in_contents()
        self._paragraph, self._formatted = paragraph, None
        self._inline(paragraph, 0, gone)
        if self._fields:
            self.contents = self.contents or self._in_contents()
            self._fields = [field for field in self._fields if field[1]]

    def _in_contents(self) -> bool:
        return any(str(field[0]).lstrip()[:4].upper().strip() == "TOC" for field in self._fields)

    def _inline(self, parent: _Element, bits: int, gone: bool) -> None:
        for element in parent:
            tag = element.tag
            if tag == _RUN:
                self._run(element, bits, gone)
            elif tag in _ADDED:
                self.changed = True
                self._inline(element, bits | INSERTED, gone)
            elif tag in _TAKEN:
                self.changed = True
                self._inline(element, bits, True)
            elif tag in _THROUGH:
                self._inline(element, bits, gone)
            elif tag == W + "fldSimple":
                depth = len(self._fields)
                self._fields.append([element.get(W + "instr", ""), True])
                self._inline(element, bits, gone)
                del self._fields[depth:]
            elif tag == _ALTERNATE:
                chosen = _chosen(element)
                if chosen is not None:
                    self._inline(chosen, bits, gone)
            elif tag in _MATH:
                self._emit(formula(element), bits, gone, self._veil)

    def _run(self, run: _Element, bits: int, gone: bool) -> None:
        veil, strike = self._veil, self._strike
        plain = not (gone or veil or strike or bits or self._fields)
        for element in run:
            tag = element.tag
            if tag == _TEXT:
                if element.text:
                    if plain:
                        self.shown.append((element.text, 0))
                    else:
                        self._emit(element.text, bits | STRUCK if strike else bits, gone, veil)
            elif tag == _PROPERTIES:
                if self._formatted is None:
                    self._formatted = self._any_formatted()
                if self._formatted:
                    veil, strike = self._formatting(element)
                    plain = plain and not (veil or strike)
            elif tag in _SIGNS:
                self._emit(_SIGNS[tag], bits | STRUCK if strike else bits, gone, veil)
            elif tag == _DELETED_TEXT:
                if element.text:
                    self._emit(element.text, bits, True, veil)
            elif tag == _FIELD_MARK:
                self._field(element.get(W + "fldCharType"))
                plain = False
            elif tag == _FIELD_CODE:
                if self._fields and not self._fields[-1][1]:
                    self._fields[-1][0] = str(self._fields[-1][0]) + (element.text or "")
            elif tag == _SYMBOL:
                shown = symbol(element.get(W + "font", ""), element.get(W + "char", ""))
                self._emit(shown, bits | STRUCK if strike else bits, gone, veil)
            elif tag in _DRAWN or tag == _ALTERNATE:
                if not gone and not veil:
                    self._drawn(element, bits)
            elif tag in _IN_RUN:
                for base in element.iterchildren(W + "rubyBase"):
                    self._inline(base, bits, gone)

    def _any_formatted(self) -> bool:
        """Whether any run of the paragraph could be hidden or struck; asked once, where a run has formatting."""
        if self._paragraph is None:
            return False
        return next(self._paragraph.iter(_VANISH, *_STRIKES, _CHARACTER_STYLE), None) is not None

    def _formatting(self, properties: _Element) -> tuple[bool, bool]:
        """Whether a run is hidden and struck: the switches add up over styles, and its own settle it."""
        veil, strike = self._veil, self._strike
        own_veil: bool | None = None
        own_strike: bool | None = None
        for element in properties:
            tag = element.tag
            if tag == _VANISH:
                own_veil = on(element)
            elif tag in _STRIKES:
                own_strike = own_strike or on(element)
            elif tag == _CHARACTER_STYLE:
                style = self._styles.get(element.get(W + "val", ""))
                veil, strike = veil != style.hidden, strike != style.struck
        return (
            veil if own_veil is None else own_veil,
            strike if own_strike is None else own_strike,
        )

    def _emit(self, text: str, bits: int, gone: bool, veil: bool) -> None:
        if self._fields:
            bits |= FIELD
            for field in self._fields:
                if not field[1]:
                    return
            if not self._clocks and any(_PRINT_DATE.match(str(field[0])) for field in self._fields):
                return
        if gone:
            self.taken.append(text)
        elif veil:
            self.veiled.append(text)
        else:
            self.apart |= bits
            self.shown.append((text, bits))

    def _field(self, mark: str | None) -> None:
        if mark == "begin":
            if len(self._fields) < 100:
                self._fields.append(["", False])
        elif self._fields and mark == "separate":
            self._fields[-1][1] = True
        elif self._fields and mark == "end":
            self._fields.pop()

    def _drawn(self, element: _Element, bits: int) -> None:
        boxes = list(element.iter(_BOX))
        if not boxes and element.tag == _ALTERNATE:
            chosen = _chosen(element)
            if chosen is not None:
                self._run(chosen, bits, False)
            return
        self.boxes += [box for box in boxes if _outermost(box, element)]


def _chosen(alternate: _Element) -> _Element | None:
    """The branch of an alternative that is shown: the first choice, else the fallback."""
    choice = alternate.find(_CHOICE)
    return choice if choice is not None else alternate.find(_FALLBACK)


def _outermost(box: _Element, top: _Element) -> bool:
    """Whether the box is shown once here: not the fallback's copy, and not inside another box."""
    at = box
    while at is not top:
        parent = at.getparent()
        if parent is None:
            return True
        if parent.tag == _BOX or (parent.tag == _ALTERNATE and _chosen(parent) is not at):
            return False
        at = parent
    return True


def formula(element: _Element) -> str:
    """An equation in one line: fractions with a slash, powers with a caret."""
    tag = element.tag
    if tag == M + "t":
        return element.text or ""
    if tag == M + "f":
        parts = [formula(part) for name in ("num", "den") for part in element.iterchildren(M + name)]
        return "/".join(parts)
    if tag == M + "sup":
        return "^" + "".join(formula(child) for child in element)
    if tag == M + "rad":
        return "√" + "".join(formula(child) for child in element.iterchildren(M + "e"))
    return "".join(formula(child) for child in element)
