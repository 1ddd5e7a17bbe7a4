"""`cleatmark form`: a blank submittal form to fill in."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path

from cleatmark.commands.outputs import check_outputs
from cleatmark.problems import InputError, Place, Problem, printable

ENDINGS = (".docx", ".yaml", ".yml")


def run(arguments: argparse.Namespace) -> int:
    """Writes the blank form in the form that the file's ending names. A file that is there is not replaced."""
    from cleatmark.report.plain import write
    from cleatmark.report.saving import save

    file: Path = arguments.file
    check_outputs([file])
    there = _there(file)
    data = blank(file, arguments.paper)
    if there and file.read_bytes() != data:
        message = "there is a file of this name already, and a blank form does not replace it"
        raise InputError([Problem(Place(str(file)), message, ("name another file, or move that one away",))])
    save(data, file)
    write(f"{printable(str(file))}: {'there already' if there else 'a blank form to fill in'}\n", sys.stdout)
    return 0


def _there(file: Path) -> bool:
    """Whether there is a file; a folder, or what cannot be looked at, is told."""
    try:
        if file.is_dir():
            raise InputError(
                [
                    Problem(
                        Place(str(file)),
                        "this is a folder; a file is expected",
                        ("for example: submittal.docx",),
                    )
                ]
            )
        return file.exists()
    except (OSError, ValueError) as error:
        reason = getattr(error, "strerror", None) or str(error)
        raise InputError([Problem(Place(str(file)), f"the form cannot be written here: {reason}")]) from error


def blank(file: Path, paper: str) -> bytes:
    """The form's bytes, by the ending of the file's name."""
    from cleatmark.review.run import declared_fields

    ending = file.suffix.casefold()
    if ending not in ENDINGS:
        message = f'"{file.name}" ends in neither .docx nor .yaml, so the kind of form is not known'
        raise InputError([Problem(Place(str(file)), message, ("for example: submittal.docx",))])
    if ending == ".docx":
        from cleatmark.report.form_docx import form_bytes

        return form_bytes(declared_fields(), paper)
    from cleatmark.report.form_yaml import form_yaml

    return form_yaml(declared_fields()).encode("utf-8")
