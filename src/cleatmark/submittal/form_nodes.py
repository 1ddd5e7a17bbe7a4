"""A filled DOCX form as the keys and values that a submittal file would have, each with its place in the form."""

from __future__ import annotations

from pathlib import Path

from cleatmark.fields import FieldBook
from cleatmark.forms import NAME_OF_ZONE, PROPERTY, VALUE, by_title
from cleatmark.problems import Place, Problem, near_name
from cleatmark.submittal.form_fields import Filled
from cleatmark.yamlfile import Entry, Mapping, Node, Sequence, Text, brief, problem_at

Group = dict[str, Node]
_LOST = "write the value into the same row of a fresh form"
_NO_FORM = (
    "make a blank one with: cleatmark form FILE.docx",
    "a form saved by a program that drops content controls has lost its fields",
)


class FormNodes:
    """Builds the tree. `labels` has, by place and line, what the form calls the field; `problems` what was wrong.

    Fields side by side in one row can share a place, where their labels are of one length; their lines differ.
    """

    def __init__(self, path: str | Path, book: FieldBook) -> None:
        self._file, self._book = str(path), book
        self._titles = by_title(book)
        self._names = {field.path: field.title for field in book}
        self.problems: list[Problem] = []
        self.labels: dict[tuple[Place, str], str] = {}

    def build(self, fields: list[Filled]) -> Mapping | None:
        """The root of the submittal; None where the file is no form at all."""
        listed = [field for field in fields if "." in field.tag]
        if not listed:
            self.problems.append(
                Problem(
                    Place(self._file),
                    "this DOCX is not a submittal form: it has none of its fields",
                    _NO_FORM,
                )
            )
            return None
        for field in fields:
            if not field.tag and field.text:
                self._tell(
                    field, field.label or "Field", "this field has lost its name, and is not read", _LOST
                )
        root: Group = {}
        proposed: Group = {}
        installed: Group = {}
        for field in listed:
            scope, _, key = field.tag.partition(".")
            if scope == "submittal" and field.text:
                self._put(root, key, field, "submittal")
            elif scope == "proposed" and field.text:
                self._put(proposed, key, field, "proposed")
        self._zoned(proposed, listed)
        departures = self._departures(listed)
        for row in _rows(listed, "installed"):
            self._chosen(installed, row, "changed in the field")
        documents = self._documents(listed)
        if proposed:
            root["proposed"] = self._mapping(proposed)
        else:
            self.problems.append(Problem(Place(self._file), "the proposed assembly is not filled in"))
            root["proposed"] = Mapping((), Place(self._file))
        if installed:
            root["installed"] = self._mapping(installed)
        if departures:
            root["departures"] = Sequence(tuple(departures), Place(self._file))
        if documents:
            root["documents"] = Sequence(tuple(documents), Place(self._file))
        return self._mapping(root)

    # Parts ------------------------------------------------------------------------------------------------------

    def _zoned(self, proposed: Group, listed: list[Filled]) -> None:
        """Values by roof zone: a row for each property, the zone's name at the head of the column."""
        names = {(f.table, f.column): f.text for f in listed if f.tag == NAME_OF_ZONE}
        for row in _rows(listed, "zoned"):
            path = self._property(row)
            values: Group = {}
            for field in row:
                if field.tag.endswith(f".{PROPERTY}") or not field.text or not path:
                    continue
                zone = names.get((field.table, field.column), "")
                if not zone:
                    self._tell(field, self._names[path], "the column has no name of a roof zone at its head")
                    continue
                values[zone] = self._text(field, f"{self._names[path]} ({zone})")
            if not values:
                continue
            first = next(iter(values.values()))
            if path in proposed:
                other = proposed[path].place.line
                name = self._names[path]
                at = problem_at(
                    first, f"{name} is stated for the whole roof and by zone", f"first in row {other}"
                )
                self.problems.append(at)
            proposed[path] = self._mapping(values)

    def _departures(self, listed: list[Filled]) -> list[Mapping]:
        made = []
        for row in _rows(listed, "departure"):
            text = next((f for f in row if f.tag == "departure.text" and f.text), None)
            about = next((f for f in row if f.tag == "departure.field" and f.text), None)
            group: Group = {}
            if text is not None:
                group["text"] = self._text(text, "Departure")
            if about is not None:
                path = self._path(about, "Departure, property")
                if text is None:
                    self._tell(about, "Departure", "it is not said in words what departs")
                elif path:
                    group["field"] = self._text(about, "Departure, property", path)
            if "text" in group:
                made.append(self._mapping(group))
        return made

    def _documents(self, listed: list[Filled]) -> list[Mapping]:
        """A document begins with its name, also in a block that was copied."""
        blocks: list[list[Filled]] = []
        for field in listed:
            scope = field.tag.partition(".")[0]
            if field.tag == "document.id":
                blocks.append([])
            if scope in ("document", "specimen", "run", "own", "condition") and blocks:
                blocks[-1].append(field)
        made = []
        for number, block in enumerate(blocks, 1):
            if any(field.text for field in block):
                made.append(self._document(block, number))
        return made

    def _document(self, block: list[Filled], number: int) -> Mapping:
        named = block[0].text
        where = f"document {named}" if named else f"document {number}"
        group: Group = {}
        specimen: Group = {}
        for field in block:
            scope, _, key = field.tag.partition(".")
            if scope == "document" and field.text:
                if key == "claims":
                    group[key] = self._list(field, where)
                else:
                    self._put(group, key, field, where)
            elif scope == "specimen" and field.text:
                self._put(specimen, key, field, f"{where}, specimen")
        if not named:
            self._tell(block[0], self._label("document.id", where), "it is left empty; name the paper")
            group["id"] = self._text(block[0], self._label("document.id", where), f"document {number}")
        if specimen:
            group["specimen"] = self._mapping(specimen)
        runs, conditions = self._runs(block, where), self._conditions(block, where)
        if runs:
            group["runs"] = Sequence(tuple(runs), runs[0].place)
        if conditions:
            group["conditions"] = Sequence(tuple(conditions), conditions[0].place)
        return self._mapping(group)

    def _runs(self, block: list[Filled], where: str) -> list[Mapping]:
        made: list[Mapping] = []
        chosen = {f.line: f for f in block if f.tag == f"own.{PROPERTY}"}
        for column in _columns(block, ("run", "own")):
            told = next((f.text for f in column if f.tag == "run.id" and f.text), str(len(made) + 1))
            of_run = f"{where}, run {told}"
            group: Group = {}
            own: Group = {}
            for field in column:
                scope, _, key = field.tag.partition(".")
                if scope == "run":
                    self._put(group, key, field, of_run)
                elif key == VALUE:
                    head = chosen.get(field.line)
                    row = [field] if head is None else [head, field]
                    self._chosen(own, row, of_run)
                else:
                    self._put(own, key, field, of_run)
            if own:
                group["specimen"] = self._mapping(own)
            made.append(self._mapping(group))
        return made

    def _conditions(self, block: list[Filled], where: str) -> list[Mapping]:
        made = []
        for number, column in enumerate(_columns(block, ("condition",)), 1):
            group: Group = {}
            of_condition = f"{where}, condition {number}"
            for field in column:
                key = field.tag.partition(".")[2]
                if key == "field":
                    label = self._label(field.tag, of_condition)
                    path = self._path(field, label)
                    if path:
                        group[key] = self._text(field, label, path)
                else:
                    self._put(group, key, field, of_condition)
            if "text" not in group:
                self._tell(
                    column[0],
                    self._label("condition.text", of_condition),
                    "it is left empty; quote the paper",
                )
                group["text"] = self._text(column[0], of_condition, f"condition {number}")
            made.append(self._mapping(group))
        return made

    # Pieces -----------------------------------------------------------------------------------------------------

    def _chosen(self, group: Group, row: list[Filled], where: str) -> None:
        """A row of a chosen property and its value."""
        value = next((f for f in row if f.tag.endswith(f".{VALUE}") and f.text), None)
        path = self._property(row)
        if value is not None and path:
            if path in group:
                self._tell(value, self._names[path], f"it is given twice, {where}; keep one")
            group[path] = self._text(value, f"{self._names[path]} ({where})")

    def _property(self, row: list[Filled]) -> str:
        """The path that a row is about: by its tag, or chosen in its first field."""
        fixed = next((f for f in row if not f.tag.endswith((f".{PROPERTY}", f".{VALUE}"))), None)
        if fixed is not None:
            path = fixed.tag.partition(".")[2]
            return path if path in self._names else ""
        filled = [f for f in row if f.tag.endswith(f".{VALUE}") and f.text]
        head = next((f for f in row if f.tag.endswith(f".{PROPERTY}")), None)
        if head is not None and head.text:
            return self._path(head, "Property")
        if filled:
            self._tell(filled[0], "Property", "a value is given, and it is not chosen what the row is about")
        return ""

    def _path(self, field: Filled, label: str) -> str:
        """The field of the assembly that a list of properties names by title; told where there is none."""
        path = self._titles.get(field.text.casefold(), "")
        if not path:
            titles = [own.title for own in self._book.block("assembly").values()]
            near = near_name(field.text[:80], titles)
            help = (f'did you mean "{near}"?',) if near else ()
            self._tell(field, label, f'no property is called "{brief(field.text)}"', *help)
        return path

    def _put(self, group: Group, key: str, field: Filled, where: str) -> None:
        """A field under its key. One with a tag that is not declared, as an older form may have, is passed over."""
        path = field.tag if field.tag in self._names else key
        if not field.text or path not in self._names:
            return
        label = self._label(path, where)
        if key in group:
            first = group[key].place.line
            self._tell(field, label, "it is given twice", f"first in row {first}; keep one")
            return
        group[key] = self._text(field, label)

    def _label(self, path: str, where: str) -> str:
        return f"{self._names.get(path, path)} ({where})"

    def _list(self, field: Filled, where: str) -> Sequence:
        label = self._label(field.tag, where)
        parts = [part.strip() for part in field.text.split(";") if part.strip()]
        texts = tuple(self._text(field, label, part) for part in parts)
        return Sequence(texts, texts[0].place)

    def _text(self, field: Filled, label: str, value: str = "") -> Text:
        """The text at its place: the row as it is numbered, and the column behind the label in the line shown."""
        shown = field.text or value
        line = f"{label}: {shown}"
        place = Place(self._file, field.row, len(label) + 3)
        self.labels[place, line] = label
        return Text(value or field.text, place, line)

    def _tell(self, field: Filled, label: str, message: str, *help: str) -> None:
        text = self._text(field, label)
        self.problems.append(problem_at(text, message, *help))

    def _mapping(self, group: Group) -> Mapping:
        entries = tuple(
            Entry(Text(key, node.place, getattr(node, "line", "")), node) for key, node in group.items()
        )
        return Mapping(entries, entries[0].value.place if entries else Place(self._file))


def _rows(listed: list[Filled], scope: str) -> list[list[Filled]]:
    """The fields of a scope by row, rows with nothing in them left out."""
    rows: dict[int, list[Filled]] = {}
    for field in listed:
        if field.tag.startswith(f"{scope}."):
            rows.setdefault(field.line, []).append(field)
    return [row for row in rows.values() if any(field.text for field in row)]


def _columns(block: list[Filled], scopes: tuple[str, ...]) -> list[list[Filled]]:
    """What is filled in by table and column: one run, or one condition, each."""
    columns: dict[tuple[int, int], list[Filled]] = {}
    for field in block:
        if (
            field.text
            and field.tag.startswith(tuple(f"{s}." for s in scopes))
            and f".{PROPERTY}" not in field.tag
        ):
            columns.setdefault((field.table, field.column), []).append(field)
    return [columns[key] for key in sorted(columns)]
