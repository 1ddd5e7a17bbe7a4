"""Files that a command is asked to write, looked at before the work is done."""

from __future__ import annotations

from collections.abc import Iterable
from pathlib import Path
from typing import TYPE_CHECKING

from cleatmark.problems import InputError, Place, Problem, did_you_mean

if TYPE_CHECKING:
    from cleatmark.job.model import Job


def check_outputs(written: Iterable[Path], read: Iterable[Path] = ()) -> None:
    """InputError where a file to be written has no folder, is named twice, or is one of the files that are read."""
    inputs = {same(path) for path in read}
    seen: set[Path] = set()
    found: list[Problem] = []
    for path in written:
        place, one = Place(str(path)), same(path)
        if one in seen:
            found.append(Problem(place, "this file is named twice to be written", ("name each file once",)))
        elif one in inputs:
            help_ = ("name another file, so that what was handed in stays as it is",)
            found.append(Problem(place, "this file is read, and would be written over", help_))
        elif not path.parent.is_dir():
            found.append(
                Problem(place, f'there is no folder "{path.parent}" to write it in', _near(path.parent))
            )
        seen.add(one)
    if found:
        raise InputError(found)


def named_by(job: Job) -> tuple[Path, ...]:
    """The job file, and the specification, addenda and coefficients that it names."""
    file = Path(job.file)
    coefficients = job.facts.get("job.wind.coefficients")
    named = [
        one.text for one in (job.specification, *job.addenda, *job.rules, coefficients) if one is not None
    ]
    return (file, *(file.parent / name for name in named))


def same(path: Path) -> Path:
    """The file that a path names, whichever way it is written."""
    try:
        return path.resolve()
    except (OSError, RuntimeError, ValueError):
        return path


def _near(folder: Path) -> tuple[str, ...]:
    try:
        names = [item.name for item in sorted(folder.parent.iterdir())[:500] if item.is_dir()]
    except OSError:
        return ()
    return did_you_mean(folder.name, names) or ("make the folder first, or name another",)
