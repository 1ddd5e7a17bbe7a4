"""What every check needs: the merged rulebooks, the names they may use, and a way to note a mistake at its place."""

from __future__ import annotations

from collections.abc import Iterable

from cleatmark.language import tree as t
from cleatmark.language.layers import Merged
from cleatmark.language.names import Name, Unknown
from cleatmark.language.program import fields_of, names_of
from cleatmark.problems import Place, Problem, did_you_mean

Context = tuple[str, ...]


class Desk:
    """One proofreading of a merged set of rulebooks. `file` is the one that is being read."""

    def __init__(self, merged: Merged) -> None:
        self.merged = merged
        self.book = fields_of(merged.files)
        self.names = names_of(merged, self.book)
        self.kinds = {s.id: s.names for _, s in merged.others if isinstance(s, t.KindStatement)}
        self.groups = {
            path[:end]: path
            for path in reversed(list(self.book.by_path))
            for end, sign in enumerate(path)
            if sign == "."
        }
        self.file = merged.files[0]
        self.spoilt = {item.id for file in merged.files for item in file.spoilt}
        self.spoilt_lines: frozenset[int] = frozenset()
        self._lost = lost(merged.files)
        self._told: dict[tuple[Place, str], Problem] = {}

    def open(self, file: t.RuleFile) -> None:
        """Turns to another file."""
        self.file = file
        self.spoilt_lines = frozenset(item.line for item in file.spoilt)

    @property
    def problems(self) -> tuple[Problem, ...]:
        """What was told, each mistake once."""
        return tuple(self._told.values())

    def tell(self, at: t.Node | t.Pos, message: str, *help_: str) -> None:
        """Notes a mistake at a node or a position of the current file."""
        pos = at if isinstance(at, t.Pos) else at.pos
        place = Place(self.file.file, pos.line, pos.column)
        self._told.setdefault(
            (place, message), Problem(place, message, help_, self.line(pos.line), max(pos.span, 1))
        )

    def add(self, problems: Iterable[Problem]) -> None:
        """Notes mistakes found elsewhere."""
        for problem in problems:
            self._told.setdefault((problem.place, problem.message), problem)

    def line(self, number: int) -> str:
        """A line of the current file, counted from 1."""
        return self.file.lines[number - 1] if 0 < number <= len(self.file.lines) else ""

    def whole(self, node: t.Node) -> bool:
        """Whether a statement was read without a mistake of form; of another nothing is missed."""
        return node.pos.line not in self.spoilt_lines

    def blameless(self, word: str) -> bool:
        """Whether an unknown name is no fault of who names it: its declaration is spoilt, or a rulebook is missing in
        which it may stand."""
        return self.file.file in self._lost or word in self.spoilt or word.rsplit(".", 1)[-1] in self.spoilt

    def unknown(self, at: t.Node | t.Pos, name: Unknown, *help_: str) -> None:
        """Notes a name that means nothing here."""
        if self.blameless("".join(name.message.split("`")[1:2])):
            return
        near = (f'did you mean "{name.near}"?',) if name.near else ()
        self.tell(at, name.message, *near, *(help_ or name.help))

    def one_of(self, at: t.Node | t.Pos, word: str, known: Iterable[str], message: str) -> bool:
        """Whether a word is one of those known; told with the near one and the list where it is not."""
        listed = list(known)
        if word in listed:
            return True
        if not self.blameless(word):
            self.tell(
                at,
                message,
                *did_you_mean(word, listed),
                *(("one of: " + ", ".join(listed),) if listed else ()),
            )
        return False

    def resolve(self, at: t.Node, path: str, context: Context) -> Name | None:
        """What a name means, or None where that is told."""
        name = self.names.resolve(path, context)
        if isinstance(name, Name):
            return name
        self.unknown(at, name)
        return None

    def find(self, text: str, pos: t.Pos, lines: int = 12) -> t.Pos:
        """Where a piece of text stands from a position on; the position itself where it is not found."""
        for number in range(pos.line, pos.line + lines):
            at = self.line(number).find(text, pos.column - 1 if number == pos.line else 0)
            if at >= 0:
                return t.Pos(number, at + 1, len(text))
        return pos

    def where(self, file: t.RuleFile, node: t.Node) -> str:
        """A second place as a message names it: the line, with the file where it is another."""
        line = f"line {node.pos.line}"
        return line if file.file == self.file.file else f"{file.file}, {line}"


def lost(files: Iterable[t.RuleFile]) -> frozenset[str]:
    """Files that build, directly or further down, on a rulebook that is not there or cannot be told."""
    known = {file.head.id for file in files}
    out: set[str] = set()
    names: set[str] = set()
    for file in files:
        untold = not file.head.builds_on and any(item.word == "rulebook" for item in file.spoilt)
        if untold or any(below not in known or below in names for below in file.head.builds_on):
            out.add(file.file)
            names.add(file.head.id)
    return frozenset(out)


def a(kind: str) -> str:
    """A kind with its article: "a length", "an area", "yes or no"."""
    if kind == "yes/no":
        return "yes or no"
    if kind in ("text", "choice", "list"):
        return "text"
    return f"{'an' if kind[:1] in 'aeiou' else 'a'} {kind}"


def listed(words: Iterable[str]) -> str:
    """Words in quotation marks with commas."""
    return ", ".join(f'"{word}"' for word in words)
