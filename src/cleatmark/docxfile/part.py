"""One XML part of a DOCX while it is unpacked: counted, and looked at before the parser sees it."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import IO, NoReturn

from cleatmark.docxfile.archive import ARCHIVE_ERRORS, mib, reason, refuse
from cleatmark.docxfile.limits import Limits

W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
M = "{http://schemas.openxmlformats.org/officeDocument/2006/math}"
MC = "{http://schemas.openxmlformats.org/markup-compatibility/2006}"
_TRANSITIONAL = (
    (b"http://purl.oclc.org/ooxml/wordprocessingml/main", W[1:-1].encode()),
    (
        b"http://purl.oclc.org/ooxml/officeDocument/relationships",
        b"http://schemas.openxmlformats.org/officeDocument/2006/relationships",
    ),
    (
        b"http://purl.oclc.org/ooxml/officeDocument/math",
        b"http://schemas.openxmlformats.org/officeDocument/2006/math",
    ),
)
_PROLOG = 64 * 1024
_ROOT = re.compile(
    rb"\A(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)?(?>\s+|<\?.*?\?>|<!--.*?-->)*+<(!(?!--)|[A-Za-z_])", re.S
)
_ENCODING = re.compile(rb"""\A[^<]{0,3}<\?xml[^>]*?encoding\s*=\s*["']([^"']*)["']""")


class Budget:
    """What all parts of one file together may still unpack to."""

    def __init__(self, limits: Limits) -> None:
        self.limits, self.spent = limits, 0


class Part:
    """A part being read: counts bytes, refuses a DTD before the parser sees one, and names what broke.

    The reader sets `mark` to `count` at the end of each block, so that no single block can fill the memory.
    """

    def __init__(self, file: str, name: str, source: IO[bytes], budget: Budget, side: bool) -> None:
        self.file, self.name, self.count, self.mark = file, name, 0, 0
        self._source, self._limits, self._budget, self._side = source, budget.limits, budget, side
        self._chunks = self._read()

    def __enter__(self) -> Part:
        return self

    def __exit__(self, *_: object) -> None:
        self._source.close()

    def read(self, size: int = -1) -> bytes:
        return next(self._chunks, b"")

    def _read(self) -> Iterator[bytes]:
        chunk = self._checked_prolog(self._unpack(_PROLOG))
        while chunk:
            self.count += len(chunk)
            self._budget.spent += len(chunk)
            limits = self._limits
            most, limit = (
                (limits.side_bytes, "side_bytes") if self._side else (limits.part_bytes, "part_bytes")
            )
            if self.count > most:
                refuse(self.file, f"{self.name} unpacks to more than {mib(most)}", f"The limit is {limit}.")
            if self._budget.spent > limits.read_bytes:
                refuse(self.file, f"the parts that are read unpack to more than {mib(limits.read_bytes)}",
                       "The limit is read_bytes.")  # fmt: skip
            if self.count - self.mark > limits.block_bytes + _PROLOG:
                refuse(self.file, f"one paragraph or table of {self.name} is over {mib(limits.block_bytes)}",
                       "The limit is block_bytes.")  # fmt: skip
            yield chunk
            chunk = self._unpack(_PROLOG)

    def _unpack(self, size: int) -> bytes:
        try:
            return self._source.read(size)
        except ARCHIVE_ERRORS as error:
            refuse(self.file, f"{self.name} cannot be unpacked: {reason(error)}")

    def _checked_prolog(self, chunk: bytes) -> bytes:
        plain = chunk.replace(b"\0", b"")
        encoding = _ENCODING.match(plain)
        if encoding and encoding[1].lower() not in (b"utf-8", b"utf-16", b"us-ascii", b"ascii"):
            shown = encoding[1].decode("ascii", "replace")[:20]
            refuse(self.file, f"{self.name} is encoded as {shown!r}; a DOCX part is UTF-8 or UTF-16")
        root = _ROOT.match(plain)
        if root is None:
            refuse(self.file, f"{self.name} is not XML, or does not begin within its first 64 KiB")
        if root[1] == b"!":
            refuse(self.file, f"{self.name} declares a document type (DTD) or entities; a DOCX never does",
                   "Such a declaration is refused before it is read.")  # fmt: skip
        for strict, transitional in _TRANSITIONAL:
            chunk = chunk.replace(strict, transitional)
        return chunk


def broken_xml(file: str, part: str, error: Exception) -> NoReturn:
    """The part is not well-formed, or nested deeper than the parser's own cap."""
    reason = str(error).split(", line")[0].split("\n")[0][:160]
    if "depth" in reason:
        refuse(file, f"{part} nests its elements deeper than 256 levels")
    line = getattr(error, "lineno", None) or 0
    refuse(file, f"{part} is broken XML: {reason} (line {line} of the part)")
