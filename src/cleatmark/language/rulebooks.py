"""Finding rulebooks by name or file, with all that they build on; parsed ones are kept under a hash of their text."""

from __future__ import annotations

import os
import stat
from collections.abc import Iterable, Sequence
from functools import lru_cache
from hashlib import sha256
from pathlib import Path

from msgspec import MsgspecError, Raw, Struct, msgpack
from msgspec.structs import replace

from cleatmark.language import tree as t
from cleatmark.language.kept import cache_folder, keep, mark_of
from cleatmark.language.layers import Merged, merge, no_foundation
from cleatmark.language.program import Program, compile_program
from cleatmark.problems import InputError, Place, Problem, did_you_mean

MAKERS = (
    *("grammar.lark", "build.py", "parse.py", "recover.py", "syntax.py", "signs.py", "tree.py"),
    *("trouble.py", "cuts.py", "examples.py", "expected.py", "heads.py", "slips.py", "closing.py"),
)
"""Modules on which a kept tree, with the mistakes told of it, depends beside its text."""

CHECKERS = (
    *(
        "check.py",
        "check_conditions.py",
        "check_fields.py",
        "check_messages.py",
        "check_names.py",
        "check_practice.py",
        "check_reach.py",
    ),
    *(
        "check_readings.py",
        "check_tables.py",
        "check_values.py",
        "check_words.py",
        "checking.py",
        "phrases.py",
    ),
    *(
        "names.py",
        "reads.py",
        "layers.py",
        "compile.py",
        "values.py",
        "compare.py",
        "program.py",
        "../fields.py",
    ),
    *("../units/parse.py", "../units/tables.py", "../units/quantity.py"),
)
"""Modules on which it depends whether a set of files is right."""


MOST_BYTES = 8_000_000
"""Of a rule file, so that none is read whole that could not be parsed: four to each of the characters it may have."""


class ParsedFile(Struct, frozen=True):
    """A rule file parsed: its tree and its problems."""

    tree: t.RuleFile | None
    problems: tuple[Problem, ...]


class KeptFile(Struct, frozen=True):
    """A parsed file as kept: the tree without its lines, which the text gives, and without its cases, two thirds of
    what it holds, which only those who prove rules read."""

    tree: t.RuleFile | None
    problems: tuple[Problem, ...]
    cases: Raw


def rules_folder() -> Path:
    """The folder of the rulebooks that ship: inside an installed package, or beside src/ in a checkout."""
    package = Path(__file__).resolve().parent.parent
    inside = package / "rules"
    return inside if inside.is_dir() else package.parent.parent / "rules"


def shipped() -> dict[str, Path]:
    """Rulebooks that ship, by name: the file name, or folder and file name ("jurisdictions/florida")."""
    folder = rules_folder()
    found = {}
    for path in sorted(folder.rglob("*.rules")):
        found[path.relative_to(folder).with_suffix("").as_posix()] = path
        found.setdefault(path.stem, path)
    return found


def read_file(path: Path, shown: str, cache: Path | None, *, cases: bool = True) -> ParsedFile:
    """Parses a rule file, or takes the kept tree of the same text; without its cases where they are not asked for. A
    damaged or foreign one is made anew."""
    data, text, problem = text_of(path, shown)
    return ParsedFile(None, (problem,)) if problem is not None else _parsed(data, text, shown, cache, cases)


@lru_cache(maxsize=64)
def _parsed(data: bytes, text: str, shown: str, cache: Path | None, cases: bool) -> ParsedFile:
    place: Path | None = None
    if cache is not None:
        key = sha256(b"\0".join([mark_of(*MAKERS), shown.encode(), data])).hexdigest()
        place = cache / f"{key}.msgpack"
        try:
            return _whole(msgpack.decode(place.read_bytes(), type=KeptFile), text, cases)
        except (OSError, MsgspecError, UnicodeDecodeError):
            pass
    from cleatmark.language.parse import parse

    kept = _apart(*parse(text, shown))
    if place is not None:
        keep(place, msgpack.encode(kept))
    return _whole(kept, text, cases)


def _apart(tree: t.RuleFile | None, problems: Iterable[Problem]) -> KeptFile:
    """A file as it is kept."""
    statements = tree.statements if tree is not None else ()
    cases = [statement for statement in statements if isinstance(statement, t.Case)]
    if tree is not None:
        others = tuple(statement for statement in statements if not isinstance(statement, t.Case))
        tree = replace(tree, statements=others, lines=())
    return KeptFile(tree, tuple(problems), Raw(msgpack.encode(cases)))


def _whole(kept: KeptFile, text: str, cases: bool) -> ParsedFile:
    """A kept file as it was parsed, its statements in order. Raises as msgpack does where its cases are damaged."""
    tree = kept.tree
    if tree is not None:
        statements = tree.statements
        if cases:
            found = msgpack.decode(kept.cases, type=list[t.Case])
            statements = tuple(sorted((*statements, *found), key=lambda one: one.pos.line))
        tree = replace(tree, statements=statements, lines=tuple(text.splitlines()))
    return ParsedFile(tree, kept.problems)


def text_of(path: Path, shown: str) -> tuple[bytes, str, Problem | None]:
    """A rule file's bytes and text, or why it cannot be read."""
    try:
        mode = path.stat().st_mode
        if not stat.S_ISREG(mode) and not stat.S_ISDIR(mode):
            return b"", "", Problem(Place(shown), "this is not an ordinary file; a rule file is expected")
        with path.open("rb") as file:
            data = file.read(MOST_BYTES + 1)
    except (OSError, ValueError) as error:
        reason = str(getattr(error, "strerror", None) or error).lower()
        return b"", "", Problem(Place(shown), f"the rule file cannot be read: {reason}")
    if len(data) > MOST_BYTES:
        return b"", "", Problem(Place(shown), f"the rule file is larger than {MOST_BYTES:,} bytes")
    try:
        text = data.decode("utf-8-sig")
        return data, text, _not_utf8(data, 0, shown) if "\0" in text[:2] else None
    except UnicodeDecodeError as error:
        return data, "", _not_utf8(data, error.start, shown)


def _not_utf8(data: bytes, at: int, shown: str) -> Problem:
    line = data[:at].count(b"\n") + 1
    column = at - (data.rfind(b"\n", 0, at) + 1) + 1
    wide = data[:2] in (b"\xff\xfe", b"\xfe\xff") or b"\0" in data[:2]
    message = "the rule file is UTF-16 text" if wide else "the rule file is not UTF-8 text"
    return Problem(Place(shown, line, column), message, ("save it as UTF-8 in a plain text editor",))


def gather(
    wanted: Iterable[str], base: Path, *, cases: bool = True
) -> tuple[list[t.RuleFile], list[Problem]]:
    """The rule files named (a name of a rulebook that ships, or a file relative to `base`) and all below them; without
    their cases where those are not asked for."""
    known = shipped()
    cache = cache_folder()
    trees: list[t.RuleFile] = []
    problems: list[Problem] = []
    queue: list[tuple[str, str]] = [(name, "") for name in wanted]
    seen: set[Path] = set()
    beside: dict[str, Path] = {}
    while queue:
        name, asked_by = queue.pop(0)
        path = known.get(name) if not name.endswith(".rules") else base / name
        if path is None and name in beside:
            path = beside[name]
        if path is None or not path.exists():
            if asked_by and path is None:
                continue
            near = did_you_mean(name, known)
            help_ = (*near, "a rulebook that ships is named without .rules; a file of your own with it")
            problems.append(Problem(Place(name), "no such rulebook", help_))
            continue
        path = path.resolve()
        if path in seen:
            continue
        seen.add(path)
        shown = _shown(path, base).encode(errors="backslashreplace").decode()
        parsed = read_file(path, shown, cache, cases=cases)
        problems.extend(parsed.problems)
        if parsed.tree is None:
            continue
        trees.append(parsed.tree)
        for sibling in path.parent.glob("*.rules"):
            beside.setdefault(sibling.stem, sibling)
        queue.extend((below, name) for below in parsed.tree.head.builds_on)
    there = {tree.head.id for tree in trees}
    for tree in trees:
        missing = [below for below in tree.head.builds_on if below not in there]
        problems.extend(no_foundation(tree, below, {**known, **beside}) for below in missing)
    return trees, problems


def _shown(path: Path, base: Path) -> str:
    """A rule file as named in messages and citations: never a whole path of a machine."""
    folder = rules_folder().resolve()
    if path.is_relative_to(folder):
        return f"rules/{path.relative_to(folder).as_posix()}"
    return os.path.relpath(path, base) if path.is_relative_to(base.resolve()) else path.name


def load(wanted: Sequence[str], base: Path, *, cases: bool = False) -> Merged:
    """Rulebooks parsed, merged and checked. Raises InputError with every problem of every file.

    A set of files that was found right is not checked again while its texts and the checks stay as they are.
    """
    files, problems = gather(wanted, base, cases=cases)
    kept = _right(files)
    if problems or kept is None or not kept.exists():
        _check(wanted, base)
        if kept is not None:
            keep(kept, b"")
    return merge(files)[0]


def _check(wanted: Sequence[str], base: Path) -> None:
    """Raises InputError where rulebooks, with their cases, are not right."""
    from cleatmark.language.check import check

    files, problems = gather(wanted, base)
    merged, found = merge(files)
    problems = [*problems, *found, *check(merged, cases=False)]
    if problems:
        once = {(problem.place, problem.message): problem for problem in reversed(problems)}
        raise InputError(sorted(once.values(), key=lambda problem: problem.place))


def _right(files: Iterable[t.RuleFile]) -> Path | None:
    """Where it is noted that these files were found right."""
    cache = cache_folder()
    if cache is None:
        return None
    digest = sha256(mark_of(*MAKERS, *CHECKERS))
    for file in sorted(files, key=lambda file: file.file):
        digest.update("\n".join((file.file, *file.lines, "")).encode())
    return cache / f"right-{digest.hexdigest()}.msgpack"


def load_program(wanted: Sequence[str], base: Path) -> Program:
    """Rulebooks ready to run."""
    return compile_program(load(wanted, base))
