"""The open levels of an outline: where a numbered paragraph stands, and to whom unnumbered text belongs."""

from __future__ import annotations

from msgspec import Struct

from cleatmark.spec.labels import POINTED, Label, part_number

_PART_TITLES = {"GENERAL": 1, "PRODUCTS": 2, "MATERIALS": 2, "EXECUTION": 3}
_BARE_PARTS = {"GENERAL": 1, "PRODUCTS": 2, "EXECUTION": 3}
_RANK = {"I": 1, "A": 2, "1": 3, "a": 4, "i": 5}
_SLACK = 60
_DEEPEST = 30
_MOST_BODIES = 12


class Open(Struct, gc=False):
    """A level that is open.

    path    the numbers and letters that lead to it, from the article down
    place   list and level where Word numbers it
    left    indent of its text, twips
    trail   texts of the open levels down to and with this one
    bodies  style and indent of the unnumbered text that stood directly under it
    """

    address: str
    path: tuple[str, ...]
    form: str
    value: int | None
    level: int
    left: int
    place: tuple[int, int] | None
    trail: tuple[str, ...]
    article: str
    numeric: bool = False
    outline: int = 9
    bodies: tuple[tuple[str, int], ...] = ()

    @property
    def heads(self) -> bool:
        """A part, an article, a decimal heading or a heading without a number; not an item of a list."""
        return self.numeric or self.form in ("part", "heading")


class Levels:
    """The chain of open levels of one section, outermost first. `numbered` once an article had a number."""

    def __init__(self) -> None:
        self.open: list[Open] = []
        self.part = 0
        self.numbered = False

    def enter(self, label: Label, place: tuple[int, int] | None, left: int, text: str) -> Open:
        """Open the level of a numbered paragraph, closing what it ends."""
        if label.form == "part":
            return self._enter_part(label, place, left, text)
        if label.numeric and not self._nested(place):
            self._close_to_prefix(label.tokens)
            return self._push(label.tokens, label, place, left, text)
        if label.form == "joined":
            return self._enter_joined(label, place, left, text)
        if not self.open or (self.open[0].form != "part" and label.form[:1] in "1IA"):
            titled = _PART_TITLES.get(text.strip(" .").upper())
            if titled is not None and label.tokens[0] not in ("A",):
                self.open.clear()
                self.part = titled
        if label.form == POINTED and place is None:
            self._close_pointed(label, left)
        else:
            self._close_for(label, place, left)
        return self._push(self._path() + label.tokens, label, place, left, text)

    def _close_pointed(self, label: Label, left: int) -> None:
        """Close the levels that end where a typed ".2" begins, whose form is the same at every depth.

        A ".1" opens the level below, another number goes on from the deepest level that is one before it, by indent
        where the levels are set in.
        """
        depths = [depth for depth, one in enumerate(self.open) if one.form == POINTED]
        if not depths:
            while self.open and not self.open[-1].heads:
                self.open.pop()
            return
        lefts = {self.open[depth].left for depth in depths} | {left}
        alike = [depth for depth in depths if abs(self.open[depth].left - left) <= _SLACK]
        if len(lefts) > 1 and alike:
            del self.open[alike[-1] :]
            return
        if label.value == 1 or (len(lefts) > 1 and left > self.open[depths[-1]].left + _SLACK):
            return
        before = [depth for depth in depths if self.open[depth].value == (label.value or 0) - 1]
        del self.open[(before or depths)[-1] :]

    def _path(self) -> tuple[str, ...]:
        return self.open[-1].path if self.open else ()

    def _enter_part(self, label: Label, place: tuple[int, int] | None, left: int, text: str) -> Open:
        self.open.clear()
        self.part = part_number(label.tokens[0])
        opened = Open(
            f"PART {label.tokens[0]}", (), "part", label.value, 0, left, place, (text,) if text else (), "",
        )  # fmt: skip
        self.open.append(opened)
        return opened

    def _enter_joined(self, label: Label, place: tuple[int, int] | None, left: int, text: str) -> Open:
        """A label that repeats the end of the chain ("A.1" under A) adds only what is new."""
        if (
            label.tokens[:1]
            and label.tokens[0].isdigit()
            and len(label.tokens) > 2
            and not self._nested(place)
        ):
            self._close_to_prefix(label.tokens)
            return self._push(label.tokens, label, place, left, text)
        self._close_own(place)
        for depth in range(len(self.open), 0, -1):
            path = self.open[depth - 1].path
            for shared in range(len(label.tokens) - 1, 0, -1):
                if path[-shared:] == label.tokens[:shared]:
                    del self.open[depth:]
                    return self._push(path + label.tokens[shared:], label, place, left, text)
        self._close_for(label, place, left)
        return self._push(self._path() + label.tokens, label, place, left, text)

    def _nested(self, place: tuple[int, int] | None) -> bool:
        """Whether the list's own outer level is open inside an article: a legal list within a paragraph."""
        if place is None:
            return False
        return any(
            one.place is not None and one.place[0] == place[0] and one.place[1] < place[1]
            and not one.heads and depth > 0 and any(above.numeric for above in self.open[:depth])
            for depth, one in enumerate(self.open)
        )  # fmt: skip

    def _close_to_prefix(self, tokens: tuple[str, ...]) -> None:
        for depth, one in enumerate(self.open):
            led = one.path and len(one.path) < len(tokens) and tokens[: len(one.path)] == one.path
            if one.form != "part" and not (led and one.form != "heading") and not self._roman_part(one):
                del self.open[depth:]
                return

    def _roman_part(self, one: Open) -> bool:
        return one.level == 0

    def _close_for(self, label: Label, place: tuple[int, int] | None, left: int) -> None:
        """Close the levels that end where an item begins: its own list's first, else those of its form."""
        if self._close_own(place):
            return
        within = place[0] if place is not None else None
        known = any(one.place is not None and one.place[0] == within for one in self.open)
        self._close_like(label, left, within if known else None)

    def _close_own(self, place: tuple[int, int] | None) -> bool:
        """Close the levels of the item's own list that lie at its level or below; whether there were any."""
        if place is not None:
            for depth, one in enumerate(self.open):
                if one.place is not None and one.place[0] == place[0] and one.place[1] >= place[1]:
                    del self.open[depth:]
                    return True
        return False

    def _close_like(self, label: Label, left: int, within: int | None) -> None:
        depth = len(self.open)
        while depth and not self.open[depth - 1].heads:
            one = self.open[depth - 1]
            if one.form == label.form and one.level > 0:
                deeper = left > self.open[-1].left + _SLACK and label.value == 1
                if not deeper:
                    del self.open[depth - 1 :]
                return
            if within is not None and one.place is not None and one.place[0] == within:
                return
            depth -= 1
        rank = _rank(label.form)
        while (
            self.open
            and within is None
            and not self.open[-1].heads
            and any(one.heads for one in self.open)
            and _rank(self.open[-1].form) > rank
            and left + _SLACK < self.open[-1].left
        ):
            self.open.pop()

    def _push(
        self, path: tuple[str, ...], label: Label, place: tuple[int, int] | None, left: int, text: str
    ) -> Open:
        del self.open[_DEEPEST:]
        above = self.open[-1] if self.open else None
        prefix: tuple[str, ...] = ()
        if above is not None and above.form == "part" and above.address and not label.numeric:
            prefix = (above.address.removeprefix("PART "),)
        full = prefix + path
        is_part = (
            above is None and self.part and not label.numeric and text.strip(" .").upper() in _PART_TITLES
        )
        level = 0 if is_part else (1 if above is None else above.level + 1)
        if label.numeric and above is None:
            level = len(label.tokens) - 1
            if not self.part:
                self.part = part_number(label.tokens[0])
        self.numbered |= label.numeric
        article = above.article if above is not None else ""
        if level == 1:
            article = text
        opened = Open(
            ".".join(full), full, label.form, label.value, level, left, place,
            (*(above.trail if above is not None else ()), text), article, label.numeric,
        )  # fmt: skip
        self.open.append(opened)
        return opened

    def enter_heading(self, text: str, left: int, outline: int) -> Open:
        """Open a heading without a number; it closes lists and headings of its rank, not numbered ones."""
        bare = _BARE_PARTS.get(text.upper())
        if (
            bare is not None
            and not self.numbered
            and all(one.form != "part" or not one.address for one in self.open)
        ):
            self.part = bare
            self.open[:] = [Open("", (), "part", bare, 0, left, None, (text,), "")]
            return self.open[0]
        while self.open and not (
            self.open[-1].form == "part" or self.open[-1].numeric or self.open[-1].level == 0
            or (self.open[-1].form == "heading" and self.open[-1].outline < outline)
        ):  # fmt: skip
            self.open.pop()
        above = self.open[-1] if self.open else None
        level = above.level + 1 if above is not None else 1
        opened = Open(
            above.address if above is not None else "", above.path if above is not None else (), "heading",
            None, level, left, None, (*(above.trail if above is not None else ()), text),
            text if level == 1 or above is None else above.article, outline=outline,
        )  # fmt: skip
        if above is not None and above.form == "part" and above.address:
            opened.path = (above.address.removeprefix("PART "),)
        self.open.append(opened)
        return opened

    def stood_under(self, owner: Open | None, style: str, left: int) -> None:
        """Remember how the unnumbered text straight under a heading looked."""
        if owner is not None and owner.heads and owner is self.open[-1] and len(owner.bodies) < _MOST_BODIES:
            owner.bodies += ((style, left),)

    def owner(self, style: str, left: int) -> Open | None:
        """The level that unnumbered text belongs to.

        By indent, the deepest level not set in further than the text. In federal numbering, where a. b. c.
        stand straight under a decimal heading, text not set in as a list item is goes back to the heading.
        """
        if not self.open:
            return None
        depth = len(self.open)
        while depth and not self.open[depth - 1].heads:
            depth -= 1
        if not depth:
            return next((one for one in reversed(self.open) if one.left <= left + _SLACK), self.open[-1])
        heading, items = self.open[depth - 1], self.open[depth:]
        if not items:
            return heading
        if (style, left) in heading.bodies:
            return heading
        federal = heading.form != "part" and (
            len(heading.path) > 2 or not items[0].form.startswith(("A", "I"))
        )
        margin = heading.left + _SLACK if federal else None
        for item in reversed(items):
            if item.left <= left + _SLACK and (margin is None or item.left > margin):
                return item
        return heading


def _rank(form: str) -> int:
    kind = form.strip("().")[:1]
    return _RANK.get(kind, 0) + (5 if ")" in form else 0)
