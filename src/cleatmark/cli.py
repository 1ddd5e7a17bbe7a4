"""The commands, thin. Results go to standard output, diagnostics to standard error.

Exit status: 0 nothing deviates and nothing is left not shown; 1 something does, or a zone is refused; 2 the input or
the call is wrong.
"""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Callable, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, NoReturn

from cleatmark.commands.completion import SHELLS, PrintCompletion

if TYPE_CHECKING:
    from cleatmark.wind.area import WindArea

Add = Callable[..., argparse.ArgumentParser]
"""Adds a command's parser."""


EXAMPLES = """\
examples:
  cleatmark read spec.docx                                  what a specification asks
  cleatmark prescreen job.yaml --systems systems            what on file can meet it, before bidding
  cleatmark form submittal.docx                             a form to fill in
  cleatmark review job.yaml submittal.docx                  what it meets, and where it does not
  cleatmark review job.yaml a.yaml --report review.docx     the report to hand over
  cleatmark COMMAND --help                                  more on a command

exit status:
  0  nothing deviates and nothing is left not shown
  1  something deviates or is not shown, or a roof zone is refused
  2  the input or the call is wrong
"""


class Parser(argparse.ArgumentParser):
    """Argument errors in one line, then the near word and the way to the help, and status 2."""

    def error(self, message: str) -> NoReturn:
        from cleatmark.commands.calls import told

        help_ = (*told(message, self), f"see: {self.prog} --help")
        self.exit(2, "\n    ".join((f"{self.prog}: {help_[0]}", *help_[1:])) + "\n")


def parser(command: str = "") -> Parser:
    """The command line. Where a command is named, that one alone is built: it needs no other's options, and building
    all six takes 8 ms."""
    top = Parser(
        prog="cleatmark",
        description="Reviews metal roof panel assemblies against a specification and the wind uplift of the site.",
        epilog=EXAMPLES,
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    top.add_argument("--version", action="store_true", help="print the version and stop")
    top.add_argument(
        "--print-completion",
        action=PrintCompletion,
        choices=SHELLS,
        metavar="SHELL",
        help=f"print the completion script for {', '.join(SHELLS[:-1])} or {SHELLS[-1]} and stop",
    )
    commands = top.add_subparsers(dest="command", metavar="COMMAND", parser_class=Parser)
    for name, add_to in COMMANDS.items():
        if name == command or command not in COMMANDS:
            add_to(commands.add_parser)
    return top


def _review(add: Add) -> None:
    one = add(
        "review",
        help="review submittals under a job",
        description="Reviews one or more submittals under a job: does it meet what was asked, and does it hold on this "
        "site?",
        epilog="example:\n  cleatmark review job.yaml submittals/a.yaml --report review.docx",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    _job(one)
    one.add_argument(
        "submittals", metavar="SUBMITTAL", type=Path, nargs="+", help="a .yaml file, or a filled .docx form"
    )
    _rules(one)
    _report(one)
    _format(one)
    one.add_argument(
        "--packet",
        metavar="FILE.docx",
        type=Path,
        help="also write the questions by addressee, ready to edit and send",
    )
    one.add_argument(
        "--field-sheet", metavar="FILE.docx", type=Path, help="also write the installer's field sheet"
    )
    one.add_argument(
        "--earlier",
        metavar="FILE.json",
        type=Path,
        help="the JSON report of an earlier review: tells what has been answered since",
    )
    one.add_argument(
        "--more",
        action="store_true",
        help="print the questions, the documents, what complies, the advice and the notices too",
    )
    one.add_argument(
        "--full",
        action="store_true",
        help="print all of it, with the comparison, every citation and the working",
    )


def _read(add: Add) -> None:
    read = add(
        "read",
        help="list what a specification asks for",
        description="Reads a specification and lists what it asks for, where, and what is open in it.",
        epilog="example:\n  cleatmark read spec.docx --format json",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    read.add_argument("spec", metavar="SPEC.docx", type=Path, help="the section, as a Word file")
    read.add_argument(
        "--addendum",
        metavar="FILE.docx",
        type=Path,
        action="append",
        default=[],
        help="read the specification as this addendum amends it; again for each, in their order",
    )
    _rules(read)
    _format(read)


def _wind(add: Add) -> None:
    wind = add(
        "wind",
        help="work out the uplift on each roof zone",
        description="Works out ASCE 7 components and cladding pressures by roof zone, with the working of each.",
        epilog="example:\n  cleatmark wind job.yaml --area 10 50 --plan roof.svg",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    _job(wind)
    wind.add_argument(
        "--area",
        metavar="SQFT",
        type=_area,
        nargs="+",
        default=[],
        help='effective wind areas in sq ft, or spans x widths of a panel ("5 ft x 16 in"); 10 if not given',
    )
    wind.add_argument("--plan", metavar="FILE", type=Path, help="also write the roof plan as .svg or .png")
    _format(wind)


def _rulebooks(add: Add) -> None:
    from cleatmark.commands.rules import add_parser

    add_parser(add)


def _form(add: Add) -> None:
    form = add(
        "form",
        help="write a blank submittal form",
        description="Writes a blank submittal form, to be filled in with a word processor (.docx) or an editor "
        "(.yaml). A filled form is reviewed as any submittal.",
        epilog="examples:\n  cleatmark form submittal.docx\n  cleatmark review job.yaml submittal.docx",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    form.add_argument(
        "file",
        metavar="FILE.docx|FILE.yaml",
        type=Path,
        help="the form to write; a file that is there is not replaced",
    )
    form.add_argument("--paper", choices=("Letter", "A4"), default="Letter", help="paper of a DOCX form")


def _prescreen(add: Add) -> None:
    screen = add(
        "prescreen",
        help="find the systems on file that a job can take",
        description="Before bidding: what the specification asks, what is to be asked of whom, and for each system on "
        "file whether it meets and holds, would with changes, or does not, and the requirement that decides it.\nA "
        "system is a submittal file without the documents of a project; the folder is searched at any depth.",
        epilog="examples:\n  cleatmark prescreen job.yaml --systems systems\n"
        "  cleatmark prescreen job.yaml --systems systems --report prescreen.docx --resume results.jsonl",
        formatter_class=argparse.RawDescriptionHelpFormatter,
    )
    _job(screen)
    screen.add_argument(
        "--systems", metavar="FOLDER", type=Path, required=True, help="the systems, as YAML files"
    )
    _rules(screen)
    _report(screen)
    _format(screen)
    screen.add_argument(
        "--jobs",
        metavar="N",
        type=_count,
        default=0,
        help="number of processes; one for each core if not given",
    )
    screen.add_argument(
        "--cluster", metavar="ADDRESS", default="", help="address of a running Dask cluster to work on"
    )
    screen.add_argument(
        "--resume",
        metavar="FILE.jsonl",
        type=Path,
        help="keep results in this file as they come, and do not judge again what is in it",
    )


COMMANDS: dict[str, Callable[[Add], None]] = {
    "review": _review,
    "read": _read,
    "wind": _wind,
    "rules": _rulebooks,
    "form": _form,
    "prescreen": _prescreen,
}
"""What adds each command to the command line, in the order of the help."""


def _job(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "job", metavar="JOB.yaml", type=Path, help="the job: place, code, wind and roof, specification"
    )


def _count(text: str) -> int:
    if not text.isdecimal() or not 0 < int(text) <= 512:
        raise argparse.ArgumentTypeError(f'"{text}" is not a number of processes, such as 2')
    return int(text)


def _area(text: str) -> WindArea:
    from cleatmark.units import QuantityError
    from cleatmark.wind.area import area_of

    try:
        return area_of(text)
    except QuantityError as error:
        raise argparse.ArgumentTypeError(str(error)) from error


def _report(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--report",
        metavar="FILE",
        type=Path,
        nargs="+",
        action="extend",
        default=[],
        help="also write the report as .docx, .html, .json or .txt",
    )
    command.add_argument("--paper", choices=("Letter", "A4"), default="Letter", help="paper of a DOCX report")


def _rules(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "--rules",
        metavar="NAME|FILE",
        nargs="+",
        default=[],
        help="rulebooks by name, or files ending in .rules, in place of those that the job names",
    )


def _format(command: argparse.ArgumentParser) -> None:
    command.add_argument("--format", choices=("text", "json"), default="text", help="how results are printed")


def main(argv: Sequence[str] | None = None) -> int:
    """Runs one command; gives its exit status."""
    if argv is None:
        _live_briefly()
    words = sys.argv[1:] if argv is None else list(argv)
    arguments = parser(words[0] if words else "").parse_args(words) if words != ["--version"] else None
    if arguments is None or arguments.version:
        from cleatmark import __version__

        try:
            print(f"cleatmark {__version__}", flush=True)
        except OSError as error:
            return _not_written(error)
        return 0
    if arguments.command is None:
        parser().print_help()
        return 2
    from cleatmark.problems import InputError, render

    if sys.stdout is None:
        print("cleatmark: standard output is closed, and results go there", file=sys.stderr)
        return 2
    try:
        status = run(arguments)
        sys.stdout.flush()
        return status
    except InputError as error:
        for problem in error.problems:
            print(render(problem), file=sys.stderr)
        return 2
    except BrokenPipeError:
        sys.stderr.close()
        return 2
    except OSError as error:
        return _not_written(error)
    except KeyboardInterrupt:
        print("stopped", file=sys.stderr)
        return 2
    except MemoryError:
        print("cleatmark: there is not memory enough for this: split the input", file=sys.stderr)
        return 2
    except RecursionError:
        print("cleatmark: the input is nested too deeply: flatten it", file=sys.stderr)
        return 2


def _not_written(error: OSError) -> int:
    """Tells why a file or standard output failed. What is left for an output that takes no more goes nowhere; else it
    would fail again on the way out."""
    print(f"cleatmark: {error.strerror or error}", file=sys.stderr)
    try:
        sys.stdout.flush()
    except OSError:
        os.dup2(os.open(os.devnull, os.O_WRONLY), 1)
    return 2


def _live_briefly() -> None:
    """A command is over before there is much to collect: the collector looks seldom, and not at all on the way out.
    Measured: a tenth of a cold review."""
    import atexit
    import gc

    gc.set_threshold(200_000, 5, 5)
    atexit.register(gc.freeze)


def run(arguments: argparse.Namespace) -> int:
    """Runs the command; each is imported when it is called."""
    from importlib import import_module

    own = getattr(arguments, "run", None)
    if own is not None:
        return int(own(arguments))
    return int(import_module(f"cleatmark.commands.{arguments.command}").run(arguments))


if __name__ == "__main__":
    sys.exit(main())
