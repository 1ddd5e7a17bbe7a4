"""What a name in a rule means: which scope it reads, of which kind its value is."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from msgspec import Struct

from cleatmark.fields import Field, FieldBook
from cleatmark.language import tree as t
from cleatmark.language.amounts import amount
from cleatmark.problems import near_name
from cleatmark.units import QuantityError

ITEM_BLOCKS = ("run", "document", "condition", "clause", "zone")
SCOPES = (
    "proposed",
    "tested",
    "spec",
    "job",
    "submittal",
    "document",
    "run",
    "condition",
    "zone",
    "clause",
    "nearest",
)
CLAUSE_FIELDS = {
    "address": "text",
    "text": "text",
    "subject": "text",
    "relation": "text",
    "verb": "text",
    "flags": "list",
    "detail": "text",
    "level": "text",
    "value": "text",
    "about": "text",
    "flag": "text",
    "reading": "text",
    "others": "text",
    "scope": "text",
    "part": "number",
    "article": "text",
}
NEAREST = {"id": "text", "run": "text", "differences": "text", "kind": "text", "class": "text"}


class Name(Struct, frozen=True):
    """A resolved name: scope it reads in, full path of the fact, kind of value, its field or define."""

    scope: str
    path: str
    kind: str
    field: Field | None = None
    define: t.Define | None = None


class Unknown(Struct, frozen=True):
    """A name that means nothing here: why, and the near name."""

    message: str
    near: str | None = None
    help: tuple[str, ...] = ()


class Names:
    """Resolves names against the declared fields, defines and tables of a set of rulebooks.

    likes  for a path of the specification, those of the proposal whose values it may be told by: "at every purlin"
    """

    def __init__(
        self,
        book: FieldBook,
        defines: Mapping[str, t.Define],
        tables: Mapping[str, t.Table],
        likes: Mapping[str, frozenset[str]],
    ) -> None:
        self.book = book
        self.likes = likes
        self.defines = defines
        self.tables = tables
        self._define_kinds: dict[str, str] = {}
        self._resolved: dict[tuple[str, tuple[str, ...]], Name | Unknown] = {}

    def resolve(self, name: str, context: Iterable[str] = ()) -> Name | Unknown:
        """What `name` means inside the blocks of `context` (innermost first), such as ("run", "document")."""
        key = name, tuple(context)
        found = self._resolved.get(key)
        if found is None:
            found = self._resolved[key] = self._resolve(*key)
        return found

    def _resolve(self, name: str, blocks: tuple[str, ...]) -> Name | Unknown:
        head, _, rest = name.partition(".")
        if not rest:
            return self._bare(name, blocks)
        if head in ("proposed", "tested"):
            if head == "tested" and "run" not in blocks:
                return Unknown(
                    f"`{name}` can be read only where a run is spoken of",
                    help=("put it inside `by a report where ( ... )`, or inside `every run has ( ... )`",),
                )
            return self._field(name, head, rest, "assembly", f"{head}.{rest}")
        if head == "spec":
            subject = rest.removesuffix(".verb")
            if subject != rest and subject in self.book.block("spec"):
                return Name("spec", name, "list")
            return self._field(name, "spec", rest, "spec", f"spec.{rest}")
        if head in ("job", "submittal"):
            return self._field(name, head, rest, head, name)
        if head == "nearest":
            return Name("nearest", name, NEAREST.get(rest, "text"))
        if head == "clause":
            if "clause" not in blocks:
                return self._outside(name, "clause")
            if rest in CLAUSE_FIELDS:
                return Name("clause", name, CLAUSE_FIELDS[rest])
            return Unknown(f"a clause has no `{rest}`", near_name(rest, CLAUSE_FIELDS))
        if head in ITEM_BLOCKS:
            if head not in blocks:
                return self._outside(name, head)
            define = self.defines.get(rest)
            if define is not None and define.of == head:
                return Name(head, name, self.kind_of_define(define), define=define)
            return self._field(name, head, rest, head, name)
        if name in self.book.block("assembly"):
            if "condition" in blocks or not blocks:
                return self._field(name, "proposed", name, "assembly", f"proposed.{name}")
            return Unknown(
                f"`{name}` does not say whose it is",
                help=(f"write proposed.{name}, tested.{name} or spec.{name}",),
            )
        known = [f"{scope}.{key}" for scope in ("proposed", "spec") for key in self.book.block(scope)]
        known += list(self.book.by_path)
        return Unknown(f"no field is called `{name}`", near_name(name, known))

    def _outside(self, name: str, block: str) -> Unknown:
        return Unknown(
            f"`{name}` can be read only where a {block} is spoken of",
            help=(f"put it inside `every {block} has ( ... )` or `by a {block} where ( ... )`",),
        )

    def _field(self, name: str, scope: str, key: str, block: str, path: str) -> Name | Unknown:
        field = self.book.block(block).get(key)
        if field is None:
            near = self.book.near(block, key)
            return Unknown(f"no field is called `{name}`", f"{scope}.{near}" if near else None)
        return Name(scope, path, field.kind, field=field)

    def _bare(self, name: str, blocks: tuple[str, ...]) -> Name | Unknown:
        known: list[str] = []
        for block in blocks:
            define = self.defines.get(name)
            if define is not None and define.of == block:
                return Name(block, f"{block}.{name}", self.kind_of_define(define), define=define)
            if block == "clause":
                if name in CLAUSE_FIELDS:
                    return Name("clause", f"clause.{name}", CLAUSE_FIELDS[name])
                known += CLAUSE_FIELDS
                continue
            field = self.book.block(block).get(name)
            if field is not None:
                return Name(block, f"{block}.{name}", field.kind, field=field)
            known += self.book.block(block)
            known += [key for key, value in self.defines.items() if value.of == block]
        if name in self.defines:
            of = self.defines[name].of
            return Unknown(f"`{name}` is defined of a {of}, and none is spoken of here")
        if not blocks:
            scoped = [
                f"{s}.{key}" for s in ("proposed", "spec", "job", "submittal") for key in self.book.block(s)
            ]
            return Unknown(
                f"`{name}` does not say whose it is",
                near_name(name, scoped),
                ("a name starts with proposed., spec., job. or submittal.; text stands in quotation marks",),
            )
        return Unknown(
            f"nothing is called `{name}` here",
            near_name(name, known),
            ("text stands in quotation marks",),
        )

    def kind_of_define(self, define: t.Define) -> str:
        """The kind of value a define gives: that of its first alternative whose kind can be told."""
        if define.id in self._define_kinds:
            return self._define_kinds[define.id]
        self._define_kinds[define.id] = "number"
        kind = ""
        context = context_of(define.of)
        for alternative in define.alternatives:
            kind = self.kind_of(alternative.value, context)
            if kind and kind != "number":
                break
        self._define_kinds[define.id] = kind or "number"
        return self._define_kinds[define.id]

    def kind_of(self, operand: t.Operand, context: Iterable[str]) -> str:
        """The kind of an operand; "" for a literal whose kind depends on what it meets."""
        if isinstance(operand, t.Path):
            name = self.resolve(operand.name, context)
            return name.kind if isinstance(name, Name) else ""
        if isinstance(operand, t.Literal):
            return "" if operand.form in ("quantity", "none") else operand.form
        if isinstance(operand, t.Choose):
            kinds = [self.kind_of(item, context) for item in operand.operands]
            return next((kind for kind in kinds if kind), "")
        if isinstance(operand, t.Lookup):
            return self.kind_of_table(operand.table)
        left, right = self.kind_of(operand.left, context), self.kind_of(operand.right, context)
        if operand.op == "/" and left == right:
            return "number"
        if left in ("number", ""):
            return right or left
        return left

    def kind_of_table(self, name: str) -> str:
        """The kind of a table's value: text, or the kind of its first quantity."""
        table = self.tables.get(name.split(".", 1)[0])
        if table is None or not table.rows:
            return ""
        column = name.split(".", 1)[1] if "." in name else ""
        index = table.gives.index(column) if column in table.gives else 0
        values = table.rows[0].values
        if index >= len(values):
            return ""
        literal = values[index]
        if literal.form == "quantity":
            try:
                return amount(literal.text).kind
            except QuantityError:
                return "number"
        return {"text": "text", "date": "date"}.get(literal.form, "yes/no")


def context_of(block: str) -> tuple[str, ...]:
    """Blocks that can be read inside an item of `block`, innermost first."""
    return {
        "run": ("run", "document"),
        "document": ("document",),
        "condition": ("condition", "document"),
        "zone": ("zone",),
        "clause": ("clause",),
    }.get(block, ())
