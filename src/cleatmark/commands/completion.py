"""`cleatmark --print-completion SHELL`: the script that lets a shell complete commands, options and files."""

from __future__ import annotations

import argparse
from collections.abc import Iterator
from pathlib import Path
from typing import Any

SHELLS = ("bash", "zsh", "tcsh")


class PrintCompletion(argparse.Action):
    """Prints the script for a shell and ends. What makes the script is imported here and nowhere else."""

    def __call__(
        self,
        parser: argparse.ArgumentParser,
        namespace: argparse.Namespace,
        values: Any,
        option: str | None = None,
    ) -> None:
        print(script(parser, str(values)))
        parser.exit()


def script(parser: argparse.ArgumentParser, shell: str) -> str:
    """The completion script of the command line for a shell; arguments that are files complete as files."""
    import shtab

    for action in actions(parser):
        if action.type is Path:
            folder = action.metavar == "FOLDER"
            vars(action)["complete"] = shtab.DIRECTORY if folder else shtab.FILE
    made: str = shtab.complete(parser, shell)
    return made


def actions(parser: argparse.ArgumentParser) -> Iterator[argparse.Action]:
    """Every argument of a parser and of the commands under it."""
    for action in parser._actions:
        if isinstance(action, argparse._SubParsersAction):
            for command in action.choices.values():
                yield from actions(command)
        else:
            yield action
