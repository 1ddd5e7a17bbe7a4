"""Field declarations as the rooms see them. The declarations themselves stand in rules/fields.rules."""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping
from functools import lru_cache

from msgspec import Struct

from cleatmark.problems import Place, near_name

BLOCKS = ("job", "submittal", "document", "run", "condition", "zone")
"""First segments that name a block of their own. Every other field belongs to the assembly, and is read as
`proposed.PATH`, `tested.PATH`, `spec.PATH` and, in a listing's condition, as the field the condition is about."""


class Field(Struct, frozen=True, cache_hash=True):
    """One declared field.

    path      "panel.width" for the assembly, "job.insurer", "document.laboratory", "run.held" for a block,
              "spec.uplift.class" for a subject that only a specification states
    kind      a quantity kind of units.KINDS, or text, choice, list, date, yes/no
    unit      in which it is shown and in which JSON carries it; "" for the kind's base unit
    less      the trade's words for a lesser and a greater value ("narrower", "wider"); "" where the field
    more      has no direction
    choices   the allowed words of a choice or list
    example   a value in the right form
    ask       whom to ask when it is missing
    none      whether `none` may be stated ("no insulation")
    """

    path: str
    title: str
    kind: str
    place: Place
    unit: str = ""
    less: str = ""
    more: str = ""
    choices: tuple[str, ...] = ()
    example: str = ""
    ask: str = ""
    none: bool = False
    note: str = ""
    open: bool = False

    @property
    def block(self) -> str:
        """job, submittal, document, run, condition, zone, spec, or "assembly"."""
        return _placed(self.path)[0]

    @property
    def key(self) -> str:
        """The path inside its block: "insurer" of job.insurer, "panel.width" of the assembly's panel.width."""
        return _placed(self.path)[1]


@lru_cache(maxsize=4096)
def _placed(path: str) -> tuple[str, str]:
    """The block of a path, and the path inside it."""
    first, _, rest = path.partition(".")
    return (first, rest) if first in BLOCKS or first == "spec" else ("assembly", path)


class FieldBook:
    """All declared fields, by path and by block."""

    def __init__(self, fields: Iterable[Field]) -> None:
        self.by_path: Mapping[str, Field] = {field.path: field for field in fields}
        blocks: dict[str, dict[str, Field]] = {}
        for field in self.by_path.values():
            blocks.setdefault(field.block, {})[field.key] = field
        site = {k: field for k, field in blocks.get("job", {}).items() if k.startswith(("wind.", "roof."))}
        blocks["spec"] = {**blocks.get("assembly", {}), **site, **blocks.get("spec", {})}
        self._blocks = blocks

    def __iter__(self) -> Iterator[Field]:
        return iter(self.by_path.values())

    def block(self, name: str) -> Mapping[str, Field]:
        """Fields of a block by key. "spec" gives the specification's own subjects, the assembly's fields, and
        the job's wind and roof."""
        if name in ("proposed", "tested"):
            name = "assembly"
        return self._blocks.get(name, {})

    def near(self, block: str, key: str) -> str | None:
        """The declared key of the block that `key` most likely means."""
        return near_name(key, self.block(block))
