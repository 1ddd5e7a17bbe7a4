"""Results of a pre-screen on disk, a line a system: taken up again after a stop, and read back in their order."""

from __future__ import annotations

import os
from collections import Counter
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from tempfile import TemporaryFile
from typing import IO

import msgspec

from cleatmark.problems import InputError, Place, Problem
from cleatmark.review.prescreen_model import OUTCOMES, Screened, order
from cleatmark.review.prescreen_setup import digest_of

_FORM = "cleatmark prescreen 1"
Key = tuple[int, int, float, int, str]


@contextmanager
def _spare() -> Iterator[IO[bytes]]:
    with TemporaryFile() as file:
        yield file


class _Head(msgspec.Struct):
    """The first line: the form of the file, and the mark of the job, specification and rules."""

    form: str
    setup: str


class _Earlier(msgspec.Struct, frozen=True):
    """A result of an earlier run: of which state of the file, and where it stands."""

    digest: str
    key: Key
    at: int


class Results:
    """Results written line by line, each whole before the next is begun.

    path  where they are kept; None for a file of their own that goes away with them
    mark  of the setup they are made under. A kept file of another one is refused

    Results of an earlier run are taken up where `done` is asked for them; a line that a stop cut short is not. What
    is held in memory is the place of each line, about 200 bytes a system.
    """

    def __init__(self, path: Path | None, mark: str) -> None:
        self._path, self._mark = path, mark
        self._earlier: dict[str, _Earlier] = {}
        self._order: list[tuple[Key, int]] = []
        self._encode = msgspec.json.Encoder().encode
        self._decode = msgspec.json.Decoder(Screened).decode
        self._open = ExitStack()
        self._file = self._open.enter_context(_spare() if path is None else self._kept(path))

    def __enter__(self) -> Results:
        return self

    def __exit__(self, *_: object) -> None:
        self._open.close()

    def counts(self) -> dict[str, int]:
        """How many systems there are of each outcome."""
        found = Counter(key[0] for key, _ in self._order)
        return {outcome: found[at] for at, outcome in enumerate(OUTCOMES)}

    def __len__(self) -> int:
        return len(self._order)

    def done(self, name: str, path: Path) -> bool:
        """Whether the file was screened before as it is now; its result is then among these."""
        before = self._earlier.get(name)
        if before is None or not before.digest:
            return False
        try:
            same = path.is_file() and digest_of(path.read_bytes()) == before.digest
        except OSError:
            return False
        if same:
            self._order.append((before.key, before.at))
        return same

    def add(self, one: Screened) -> None:
        """Writes a result at the end, in one piece."""
        at = self._file.seek(0, os.SEEK_END)
        self._file.write(self._encode(one) + b"\n")
        self._file.flush()
        self._order.append((order(one), at))

    def __iter__(self) -> Iterator[Screened]:
        """The results by outcome and headroom, read one at a time."""
        for _, at in sorted(self._order):
            self._file.seek(at)
            yield self._decode(self._file.readline())

    def _kept(self, path: Path) -> IO[bytes]:
        try:
            file: IO[bytes] = path.open("r+b" if path.exists() else "x+b")
        except (OSError, ValueError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            raise self._problem(f"results cannot be kept here: {reason}") from None
        try:
            self._lock(file)
            self._take_up(file)
        except BaseException:
            file.close()
            raise
        return file

    def _lock(self, file: IO[bytes]) -> None:
        """Two runs do not write into one file, where the system can tell."""
        try:
            import fcntl
        except ImportError:
            return
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except OSError:
            raise self._problem("another pre-screen is writing to this file") from None

    def _take_up(self, file: IO[bytes]) -> None:
        first = file.readline()
        if not first.endswith(b"\n"):
            if first and not self._encode(self._head).startswith(first):
                raise self._problem("this is no file of pre-screen results", "name a new file: results.jsonl")
            file.seek(0)
            file.truncate()
            file.write(self._encode(self._head) + b"\n")
            file.flush()
            return
        try:
            head = msgspec.json.decode(first, type=_Head)
        except (msgspec.MsgspecError, UnicodeDecodeError):
            head = _Head("", "")
        if head.form != _FORM:
            raise self._problem("this is no file of pre-screen results", "name a new file: results.jsonl")
        if head.setup != self._mark:
            words = "these results were made under another job, specification, set of rules or version"
            raise self._problem(words, "name a new file, or take this one away to begin again")
        whole = file.tell()
        while (line := file.readline()).endswith(b"\n"):
            try:
                one = self._decode(line)
            except (msgspec.MsgspecError, UnicodeDecodeError):
                break
            self._earlier[one.file] = _Earlier(one.digest, order(one), whole)
            whole = file.tell()
        file.truncate(whole)

    @property
    def _head(self) -> _Head:
        return _Head(_FORM, self._mark)

    def _problem(self, message: str, *help: str) -> InputError:
        return InputError([Problem(Place(str(self._path)), message, help)])
