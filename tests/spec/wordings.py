"""Lines of tests/spec/wording/*.txt: how offices write a thing, with what must be read from it.

A file begins with `subjects: A, B`: a line is judged on these alone. Each other line, but for comments (`#`), is

    article | text | expected

article   a key of reading_build.ARTICLES, or a title and its part: "SYSTEM DESIGN/1"
text      paragraphs parted by ` // `; `> ` before one makes it a child of the one above, `>> ` a grandchild;
          `TABLE(caption) head ^ head ^^ cell ^ cell` is a table; `<` in it is a place that the cell above covers, `<<`
          one that the cell on the left covers
expected  `-` for nothing of the file's subjects, else items parted by `;`, each as `reading_build.told` writes it:
          subject relation value @zone area [scope] level !flag. What an item leaves out (relation, zone, area, scope,
          level, flag; or all behind the subject) is not judged; `!!FLAG` alone asks for a flag on a clause,
          `!!no FLAG` for none.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from pathlib import Path

from msgspec import Struct
from msgspec.structs import replace
from reading_build import clause, read, told

from cleatmark.facts import Stated
from cleatmark.spec.clauses import Cell, Clause, Table

FOLDER = Path(__file__).parent / "wording"
_RELATIONS = ("at least", "at most", "equal", "one of", "required", "prohibited")
_LEVELS = ("allowable", "strength")
_TABLE = re.compile(r"TABLE\((.*?)\) (.*)")


class Wording(Struct, frozen=True):
    """One line: where it stands, its paragraphs, what is expected of which subjects."""

    place: str
    subjects: tuple[str, ...]
    article: str
    text: str
    expected: tuple[str, ...]


def wordings(path: Path) -> list[Wording]:
    """The lines of one file."""
    found: list[Wording] = []
    subjects: tuple[str, ...] = ()
    for number, line in enumerate(path.read_text(encoding="utf-8").splitlines(), 1):
        if not line.strip() or line.startswith("#"):
            continue
        if line.startswith("subjects:"):
            subjects = tuple(name.strip() for name in line.partition(":")[2].split(","))
            continue
        article, text, expected = (part.strip() for part in line.split(" | "))
        items = tuple(item.strip() for item in expected.split(" ; ") if item.strip() != "-")
        found.append(Wording(f"{path.stem}:{number}", subjects, article, text, items))
    return found


def every() -> list[Wording]:
    """The lines of all files."""
    return [wording for path in sorted(FOLDER.glob("*.txt")) for wording in wordings(path)]


def clauses(wording: Wording) -> list[Clause]:
    """The paragraphs of a line as clauses."""
    built: list[Clause] = []
    open_: list[str] = []
    for ordinal, piece in enumerate(wording.text.split(" // ")):
        depth = len(piece) - len(piece.lstrip(">"))
        text = piece[depth:].strip()
        del open_[depth:]
        table = _table(text)
        title, _, part = wording.article.rpartition("/")
        one = clause(
            "" if table else text,
            "performance" if title else wording.article,
            tuple(open_),
            ordinal=ordinal,
            table=table,
        )
        if title:
            one = replace(one, article=title, part=int(part), headings=("", title, *open_))
        built.append(one)
        open_.append(text)
    return built


def _table(text: str) -> Table | None:
    match = _TABLE.fullmatch(text)
    if match is None:
        return None
    rows = [[cell.strip() for cell in row.split(" ^ ")] for row in match[2].split(" ^^ ")]
    cells = [
        Cell(cell, y, x, 1 + _run([line[x] for line in rows[y + 1 :]], "<"), 1 + _run(row[x + 1 :], "<<"))
        for y, row in enumerate(rows)
        for x, cell in enumerate(row)
        if cell not in ("<", "<<")
    ]
    return Table(tuple(cells), len(rows), len(rows[0]), match[1])


def _run(cells: Sequence[str], mark: str) -> int:
    """How many cells from the first bear a mark."""
    return next((at for at, cell in enumerate(cells) if cell != mark), len(cells))


def judged(wording: Wording) -> list[str]:
    """What is wrong with what is read from a line; nothing where all is right."""
    extraction = read(*clauses(wording))
    stated = [item for item in extraction.stated if item.subject in wording.subjects]
    flags = {item.flag for item in extraction.flagged} | {f for item in extraction.stated for f in item.flags}
    wrong: list[str] = []
    for item in wording.expected:
        if item.startswith("!!no "):
            wrong += [f"wrongly flagged {item[5:]}"] if item[5:] in flags else []
            continue
        if item.startswith("!!"):
            wrong += [] if item[2:] in flags else [f"not flagged {item[2:]}"]
            continue
        match = next((one for one in stated if _fits(item, one)), None)
        if match is None:
            wrong.append(f"missed {item}")
        else:
            stated.remove(match)
    return wrong + [f"surplus {told(one)} by {one.reading}" for one in stated]


def _fits(item: str, one: Stated) -> bool:
    item, *flags = (part.strip() for part in item.split("!"))
    words, scope = item, ""
    if match := re.search(r"\[(.*?)\]", words):
        scope, words = match[1], words.replace(match[0], " ")
    level = next((name for name in _LEVELS if words.endswith(f" {name}")), "")
    words = words.removesuffix(level).strip()
    if match := re.search(r"(?<!\S)([\d.]+)sf(?!\S)", words):
        if one.area is None or float(one.area.value) != float(match[1]):
            return False
        words = words.replace(match[0], " ").strip()
    head, at, zone = words.partition("@")
    bare = told(replace(one, zone="", area=None, scope="", level="", flags=()))
    if not any(name in head for name in _RELATIONS):
        bare = bare.replace(f" {one.relation} ", " ", 1)
    head = head.strip()
    if head == one.subject:
        bare = head
    return (
        head == bare
        and (not at or zone.strip().casefold() == one.zone.casefold())
        and (not scope or scope == one.scope)
        and (not level or level == one.level)
        and set(flags) <= set(one.flags)
    )
