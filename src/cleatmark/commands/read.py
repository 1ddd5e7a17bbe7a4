"""`cleatmark read`: what a specification asks for."""

from __future__ import annotations

import argparse
import shutil
import sys
from pathlib import Path


def run(arguments: argparse.Namespace) -> int:
    """Reads a specification and prints what it asks for; status 1 where something in it is left open."""
    from cleatmark.report.plain import write
    from cleatmark.report.read_report import OPEN_FLAGS, read_json, read_text
    from cleatmark.review.run import program_for, read_alone

    program = program_for(None, Path(), arguments.rules)
    result = read_alone(arguments.spec, program, arguments.addendum)
    if arguments.format == "json":
        from cleatmark.report.json_report import write_json

        sys.stdout.write(write_json(read_json(result)))
    else:
        titles = {
            field.path.removeprefix("spec.").removeprefix("job."): field.title for field in program.book
        }
        width = shutil.get_terminal_size((100, 24)).columns
        write(read_text(result, titles, width), sys.stdout)
    return 1 if any(set(item.flags) & set(OPEN_FLAGS) for item in result.stated) else 0
