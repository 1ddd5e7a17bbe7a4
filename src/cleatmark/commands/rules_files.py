"""`cleatmark rules proofread` and `cleatmark rules tidy`: rule files checked, and laid out alike."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cleatmark.problems import Place, Problem, printable, render

if TYPE_CHECKING:
    from cleatmark.language.proofread import Proofread


def proofread(arguments: argparse.Namespace) -> int:
    """Tells every mistake of the rule files in `arguments.files`; status 2 where there is one.

    Mistakes go to standard error and the count to standard output; with `arguments.format` "json" one object with
    both goes to standard output.
    """
    from cleatmark.language.proofread import proofread as read

    result = read(arguments.files, Path())
    if arguments.format == "json":
        sys.stdout.buffer.write(as_json(result))
    else:
        tell(result.problems)
        sys.stdout.write(summary(result) + "\n")
    return 2 if result.problems else 0


def tell(problems: Sequence[Problem]) -> None:
    """Prints mistakes to standard error, each with its line and caret."""
    sys.stdout.flush()
    for problem in problems:
        print(render(problem), file=sys.stderr)
    sys.stderr.flush()


def summary(result: Proofread) -> str:
    """ "5 files, 162 statements, 3 mistakes"."""
    mistakes = len(result.problems)
    counted = f"{mistakes} mistake{'' if mistakes == 1 else 's'}" if mistakes else "no mistakes"
    files = f"{len(result.files)} file{'' if len(result.files) == 1 else 's'}"
    statements = f"{result.statements} statement{'' if result.statements == 1 else 's'}"
    return f"{files}, {statements}, {counted}"


def as_json(result: Proofread) -> bytes:
    """The proofreading as one JSON object."""
    import msgspec

    mistakes = [
        {
            "file": problem.place.file,
            "line": problem.place.line,
            "column": problem.place.column,
            "message": problem.message,
            "help": list(problem.help),
            "source": problem.source,
            "span": problem.span,
        }
        for problem in result.problems
    ]
    whole = {"files": list(result.files), "statements": result.statements, "mistakes": mistakes}
    return msgspec.json.format(msgspec.json.encode(whole), indent=2) + b"\n"


def tidy(arguments: argparse.Namespace) -> int:
    """Lays the files in `arguments.files` out, each in one step; with `arguments.check` says which would change.

    A file with mistakes is left as it is and its mistakes are told. Status 0 where all is laid out, 1 where `--check`
    finds a file that is not, 2 where a file has mistakes or cannot be read.
    """
    from cleatmark.report.plain import write

    status = 0
    for name in arguments.files:
        done, problems = _tidy_one(Path(name), check=arguments.check)
        tell(problems)
        if problems:
            write(f"{printable(name)}: left as it is\n", sys.stdout)
            status = 2
        else:
            write(f"{printable(name)}: {done}\n", sys.stdout)
            status = max(status, int(arguments.check and done != LAID_OUT))
    return status


LAID_OUT = "laid out already"


def _tidy_one(path: Path, *, check: bool) -> tuple[str, tuple[Problem, ...]]:
    """What was done with a file, or its mistakes."""
    from cleatmark.language.format import tidy as lay_out
    from cleatmark.language.rulebooks import text_of

    before, text, problem = text_of(path, str(path))
    if problem is not None:
        return "", (problem,)
    result = lay_out(text, str(path))
    if result.text is None:
        return "", result.problems
    data = result.text.encode("utf-8")
    if data == before:
        return LAID_OUT, ()
    if check:
        return "would be laid out anew", ()
    refused = _replace(path.resolve(), data)
    return "laid out anew", (refused,) if refused is not None else ()


def _replace(path: Path, data: bytes) -> Problem | None:
    """Writes beside the file, then puts the new one in its place with the rights of the old."""
    import shutil
    from tempfile import NamedTemporaryFile

    spare = ""
    try:
        with NamedTemporaryFile(dir=path.parent, prefix=f".{path.name}.", delete=False) as file:
            spare = file.name
            file.write(data)
        shutil.copymode(path, spare)
        os.replace(spare, path)
    except OSError as error:
        if spare:
            Path(spare).unlink(missing_ok=True)
        reason = (error.strerror or "the system refused").lower()
        return Problem(Place(path.name), f"the rule file cannot be written: {reason}")
    return None


def editor(arguments: argparse.Namespace) -> int:
    """Writes the files that help an editor."""
    from cleatmark.commands.editor import run

    return run(arguments)


def add_to(actions: Any) -> None:
    """Adds `proofread`, `tidy` and `editor` to the subparsers of `rules`. Each leaves its function under `run`."""
    raw = argparse.RawDescriptionHelpFormatter
    one = actions.add_parser(
        "proofread",
        help="tell every mistake in rule files",
        description="Reads rulebooks with all that they build on and tells every mistake: its place, what was "
        "expected, an example, the near name. Status 0 where there is none, 2 where there is one.",
        epilog="examples:\n  cleatmark rules proofread\n  cleatmark rules proofread county.rules --format json",
        formatter_class=raw,
    )
    one.add_argument(
        "files",
        metavar="NAME|FILE",
        nargs="*",
        help="rulebooks by name, or files ending in .rules; all that ship",
    )
    one.add_argument("--format", choices=("text", "json"), default="text", help="how results are printed")
    one.set_defaults(run=proofread)
    two = actions.add_parser(
        "tidy",
        help="lay rule files out alike",
        description="Lays rule files out: indents, blank lines, broken lines, columns. Words and comments stay.",
        epilog="examples:\n  cleatmark rules tidy county.rules\n  cleatmark rules tidy --check county.rules",
        formatter_class=raw,
    )
    two.add_argument("files", metavar="FILE", nargs="+", help="rule files")
    two.add_argument("--check", action="store_true", help="change nothing, say which files would change")
    two.set_defaults(run=tidy)
    three = actions.add_parser(
        "editor",
        help="write files that help an editor complete and check",
        description="Writes JSON Schemas of job and submittal files, from the declared fields, and a highlighting "
        "grammar for rule files in the TextMate form.",
        epilog="example:\n  cleatmark rules editor .editor --rules county.rules",
        formatter_class=raw,
    )
    three.add_argument("folder", metavar="FOLDER", type=Path, help="where to write them")
    three.add_argument(
        "--rules", metavar="NAME|FILE", nargs="+", default=[], help="rulebooks that declare further fields"
    )
    three.set_defaults(run=editor)
