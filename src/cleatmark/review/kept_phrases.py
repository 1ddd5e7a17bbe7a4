"""What readings' phrases say, parsed, kept beside the parsed rulebooks.

To parse them takes a tenth of a short review, and they change only with the rulebooks.
"""

from __future__ import annotations

from collections.abc import Sequence
from hashlib import sha256
from pathlib import Path

import msgspec

from cleatmark.language.kept import cache_folder, keep, mark_of
from cleatmark.spec import abbreviations, pattern
from cleatmark.spec.reading import Reading


def learn_phrases(readings: Sequence[Reading]) -> None:
    """Takes up what was kept of these readings' phrases; where nothing was, it is made and kept."""
    folder = cache_folder()
    if folder is None:
        return
    phrases = [written for reading in readings for written in reading.patterns]
    plain = [text for reading in readings for text in (*reading.near, *reading.not_near)]
    made_by = sorted(f"../spec/{path.name}" for path in Path(pattern.__file__).parent.glob("*.py"))
    digest = sha256(mark_of(*made_by))
    digest.update("\n".join((repr(abbreviations.TABLE), *phrases, "", *plain)).encode())
    kept = folder / f"phrases-{digest.hexdigest()}.msgpack"
    try:
        pattern.learn(msgspec.msgpack.decode(kept.read_bytes(), type=pattern.Known))
    except (OSError, msgspec.MsgspecError, UnicodeDecodeError):
        keep(kept, msgspec.msgpack.encode(pattern.known_of(phrases, plain), order="deterministic"))
