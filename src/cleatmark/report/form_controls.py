"""Content controls of the blank form: a field to write in, a list to choose from, a day."""

from __future__ import annotations

from collections.abc import Iterable

from docx.oxml import OxmlElement
from docx.oxml.ns import qn
from lxml.etree import _Element

from cleatmark.fields import Field, FieldBook
from cleatmark.forms import CHOOSE, EMPTY, SUCH_AS, choices, tags

_LONGEST = 64
"""Characters that Word allows for a control's tag, its title and an entry of its list."""


def element(tag: str, /, *children: _Element, **attributes: str) -> _Element:
    """An element of WordprocessingML; attribute names without their prefix."""
    made = OxmlElement(f"w:{tag}")
    for name, value in attributes.items():
        made.set(qn(f"w:{name}"), value)
    made.extend(children)
    return made


class Controls:
    """Makes controls, each with a number of its own."""

    def __init__(self, book: FieldBook) -> None:
        self._titles = tags(book)
        self._made = 0

    def field(self, tag: str, field: Field, long: bool = False) -> _Element:
        """A control for a declared field: a day, a list to choose from, or a line to write on."""
        words = choices(field)
        if field.kind == "date":
            return self._control(tag, _hint(field), _day())
        if words:
            return self._control(tag, CHOOSE, _list(words, field.open))
        return self._control(tag, _hint(field), _line(long))

    def chosen(self, tag: str, words: Iterable[str]) -> _Element:
        """A list to choose from."""
        return self._control(tag, CHOOSE, _list(tuple(words), False))

    def written(self, tag: str, text: str = "", long: bool = False) -> _Element:
        """A line to write on, with a text in it already where one is given."""
        return self._control(tag, "", _line(long), text)

    def _control(self, tag: str, hint: str, kind: _Element, text: str = "") -> _Element:
        """No control can be deleted by itself; one that is empty shows its hint, and what is typed has its own look.

        The grey of the hint is the paragraph's too: a word processor may know one look for a line of plain text.
        """
        self._made += 1
        properties = element(
            "sdtPr",
            _style("FormTyped"),
            element("alias", val=self._titles[tag][:_LONGEST]),
            element("tag", val=tag[:_LONGEST]),
            element("id", val=str(self._made)),
            element("lock", val="sdtLocked"),
        )
        if not text:
            properties.append(element("showingPlcHdr"))
        properties.append(kind)
        run = element("r")
        run.append(_style("FormTyped" if text else "FormHint"))
        words = element("t")
        words.text = text or hint or EMPTY
        run.append(words)
        return element("sdt", properties, element("sdtContent", run))


def _style(name: str) -> _Element:
    return element("rPr", element("rStyle", val=name))


def _hint(field: Field) -> str:
    return SUCH_AS + field.example if field.example else ""


def _line(long: bool) -> _Element:
    return element("text", multiLine="1") if long else element("text")


def _list(words: tuple[str, ...], open: bool) -> _Element:
    entries = [element("listItem", displayText=word[:_LONGEST], value=word[:_LONGEST]) for word in words]
    return element("comboBox" if open else "dropDownList", *entries)


def _day() -> _Element:
    return element(
        "date",
        element("dateFormat", val="yyyy-MM-dd"),
        element("lid", val="en-US"),
        element("storeMappedDataAs", val="date"),
        element("calendar", val="gregorian"),
    )
