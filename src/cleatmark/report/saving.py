"""Files put in place whole: a reader never sees half a report."""

from __future__ import annotations

import os
from collections.abc import Iterable
from pathlib import Path
from tempfile import NamedTemporaryFile

from cleatmark.problems import InputError, Place, Problem


def save(data: bytes, path: str | os.PathLike[str]) -> None:
    """Write the bytes beside `path`, then put them in its place. InputError where the folder refuses."""
    save_parts((data,), path)


def save_parts(parts: Iterable[bytes], path: str | os.PathLike[str]) -> None:
    """As `save`, for a file that is made part by part and need not stand in memory whole."""
    target = Path(path)
    spare = ""
    try:
        with NamedTemporaryFile(dir=target.parent, prefix=f".{target.name}.", delete=False) as file:
            spare = file.name
            file.writelines(parts)
        os.chmod(spare, 0o666 & ~_umask())
        os.replace(spare, target)
    except BaseException as error:
        if spare:
            Path(spare).unlink(missing_ok=True)
        if not isinstance(error, OSError):
            raise
        reason = error.strerror or "the system refused"
        raise InputError(
            [Problem(Place(str(path)), f"the report cannot be written here: {reason}")]
        ) from error


def _umask() -> int:
    mask = os.umask(0)
    os.umask(mask)
    return mask
