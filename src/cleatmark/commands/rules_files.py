"""`cleatmark rules proofread` and `cleatmark rules tidy`: rule files checked, and laid out alike."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Sequence
from pathlib import Path
from typing import TYPE_CHECKING

from cleatmark.problems import Problem, render

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
