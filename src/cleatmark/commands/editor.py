"""`cleatmark rules editor`: files that make an editor complete and check what people write."""

from __future__ import annotations

import argparse
import sys
from pathlib import Path
from typing import Any

from cleatmark.fields import FieldBook
from cleatmark.problems import InputError, Place, Problem, printable


def run(arguments: argparse.Namespace) -> int:
    """Writes the schemas of job and submittal files and the highlighting of rule files into `arguments.folder`."""
    import msgspec

    from cleatmark.language.program import fields_of
    from cleatmark.language.rulebooks import load
    from cleatmark.report.plain import write
    from cleatmark.report.saving import save
    from cleatmark.schema.highlighting import textmate

    book = fields_of(load(arguments.rules or ["fields"], Path()).files)
    folder: Path = arguments.folder
    files = {f"{name}.schema.json": data for name, data in schemas(book).items()}
    files["cleatmark-rules.tmLanguage.json"] = textmate()
    for name, data in files.items():
        text = msgspec.json.format(msgspec.json.encode(data), indent=2) + b"\n"
        try:
            folder.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            reason = (error.strerror or "the system refused").lower()
            raise InputError([Problem(Place(str(folder / name)), f"cannot be written: {reason}")]) from error
        save(text, folder / name)
        write(f"{printable(str(folder / name))}\n", sys.stdout)
    return 0


def schemas(book: FieldBook) -> dict[str, dict[str, Any]]:
    """The JSON Schemas of job and submittal files, from the declared fields."""
    from cleatmark.job.load import KEYS as JOB_KEYS
    from cleatmark.job.schema import JOB_FILE
    from cleatmark.schema.files import Fields, File, schema
    from cleatmark.submittal.load import KEYS as SUBMITTAL_KEYS
    from cleatmark.submittal.schema import SUBMITTAL_FILE

    job = File(
        "Cleatmark job",
        JOB_FILE,
        {"": Fields("job"), "roofs/*": Fields("job", under="roof.")},
        tuple(JOB_KEYS),
    )
    specimen = Fields("assembly")
    submittal = File(
        "Cleatmark submittal",
        SUBMITTAL_FILE,
        {
            "": Fields("submittal"),
            "proposed": Fields("assembly", zones=True),
            "installed": specimen,
            "documents/*": Fields("document"),
            "documents/*/specimen": specimen,
            "documents/*/runs/*": Fields("run"),
            "documents/*/runs/*/specimen": specimen,
            "documents/*/conditions/*": Fields("condition"),
        },
        tuple(SUBMITTAL_KEYS),
    )
    return {"job": schema(job, book), "submittal": schema(submittal, book)}
