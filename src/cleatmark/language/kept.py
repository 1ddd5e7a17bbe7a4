"""The folder for what is kept between runs: plain data only, under a hash of all that it was made from."""

from __future__ import annotations

import os
from functools import cache
from pathlib import Path

from cleatmark import __version__

MOST_FILES = 64


def cache_folder() -> Path | None:
    """A folder that only the user can write to. None where there is no such place, or none is wanted."""
    if os.environ.get("CLEATMARK_CACHE") == "off":
        return None
    from platformdirs import user_cache_path

    folder = user_cache_path("cleatmark") / f"rules-{__version__}"
    try:
        folder.mkdir(mode=0o700, parents=True, exist_ok=True)
        if hasattr(os, "getuid") and (folder.stat().st_uid != os.getuid() or folder.stat().st_mode & 0o022):
            return None
    except OSError:
        return None
    return folder


def keep(path: Path, data: bytes) -> None:
    """Writes beside and moves into place, so that two runs do not disturb each other; failure is no harm."""
    beside = path.with_suffix(f".{os.getpid()}.tmp")
    try:
        beside.write_bytes(data)
        beside.chmod(0o600)
        beside.replace(path)
        kept = sorted(path.parent.glob("*.msgpack"), key=lambda item: item.stat().st_mtime)
        for old in kept[:-MOST_FILES]:
            old.unlink(missing_ok=True)
    except OSError:
        beside.unlink(missing_ok=True)


@cache
def mark_of(*names: str) -> bytes:
    """What a kept thing depends on beside its text: size and time of the modules that make it."""
    folder = Path(__file__).parent
    marks = []
    for name in names:
        stat = (folder / name).stat()
        marks.append(f"{name}:{stat.st_size}:{stat.st_mtime_ns}")
    return "|".join(marks).encode()
