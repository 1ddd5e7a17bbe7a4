"""What the writers and the reader of a blank submittal form share: parts, tags of its fields, placeholders.

A field of the DOCX form is a content control whose tag is the field's path in its part: `submittal.date`,
`proposed.panel.width`, `document.laboratory`, `run.held`. Where a part stands more than once its place tells
which is meant: a document begins with its `document.id`, and a zone, a run and a condition are a column.
"""

from __future__ import annotations

from collections.abc import Mapping

from cleatmark.fields import Field, FieldBook

SUCH_AS = "such as "
"""Begins the placeholder of a field to write in; the example follows."""
CHOOSE = "choose"
"""The placeholder of a field to choose in."""
EMPTY = "…"
"""The placeholder of a field that has no example."""

ZONES = ("field", "perimeter", "corner")
"""Roof zones that the form names beforehand; the names can be written over."""

BY_ZONE = ("clip.spacing",)
"""What the form expects to differ by roof zone, and by run of one document; anything else is chosen from a list."""

NAME_OF_ZONE = "zone.name"
PROPERTY, VALUE = "property", "value"
"""`zoned.property`, `own.value`: a row whose first field says what the row is about."""

ROW_STYLE = "FormRow"
"""The style of the number at the head of a row; a mistake names the row by it."""

_SCOPES = {
    "submittal": "submittal",
    "proposed": "proposed",
    "zoned": "by zone",
    "zone": "by zone",
    "departure": "departure",
    "installed": "as built",
    "document": "document",
    "specimen": "specimen",
    "run": "run",
    "own": "run, specimen",
    "condition": "condition",
}
"""First words of tags, and what the form calls them. `own` is what a run has for itself."""
_ASSEMBLY = ("proposed", "zoned", "specimen", "own")
_BLOCKS = ("submittal", "document", "run", "condition")
_FREE = {
    NAME_OF_ZONE: "Roof zone",
    "departure.text": "Departure",
    "departure.field": "Property",
    **{f"{scope}.{PROPERTY}": "Property" for scope in ("zoned", "installed", "own")},
    **{f"{scope}.{VALUE}": "Value" for scope in ("zoned", "installed", "own")},
}


def tags(book: FieldBook) -> dict[str, str]:
    """Every tag that a form may have, with the title of its control: "Panel width (specimen)".

    Titles are unique too: a word processor that loses the tag keeps the title.
    """
    fields = {f"{scope}.{f.path}": f.title for scope in _ASSEMBLY for f in book.block("assembly").values()}
    fields |= {field.path: field.title for block in _BLOCKS for field in book.block(block).values()}
    return {tag: f"{title} ({_SCOPES[tag.split('.', 1)[0]]})" for tag, title in {**fields, **_FREE}.items()}


def titled(path: str) -> str:
    """The heading of a group of fields: "Air seal" of air_seal.type."""
    return path.split(".", 1)[0].replace("_", " ").capitalize()


def groups(book: FieldBook) -> Mapping[str, list[Field]]:
    """The assembly's fields by the part they belong to, in the order of their declarations."""
    found: dict[str, list[Field]] = {}
    for field in book.block("assembly").values():
        found.setdefault(titled(field.path), []).append(field)
    return found


_MEASURES = {
    "thickness": "gauge or inches",
    "date": "year-month-day",
    "yes/no": "yes or no",
    "slope": "rise:run",
    "rating": "class-number",
}


def measure(field: Field) -> str:
    """What a value of the field is written in: its unit, or its form. "" where any words do."""
    return _MEASURES.get(field.kind, field.unit)


def choices(field: Field) -> tuple[str, ...]:
    """The words to choose from, `none` among them where it may be stated; () where the field is written."""
    words = ("yes", "no") if field.kind == "yes/no" else field.choices
    return (*words, "none") if words and field.none and "none" not in words else words


def by_title(book: FieldBook) -> dict[str, str]:
    """Paths of the assembly's fields by title and by path, folded: what a list of properties holds."""
    fields = book.block("assembly").values()
    return {name.casefold(): field.path for field in fields for name in (field.path, field.title)}
