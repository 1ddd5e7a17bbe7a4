"""Opening a DOCX without trusting it: what it is, what it unpacks to, and its parts as checked XML."""

from __future__ import annotations

import posixpath
import re
import struct
import zipfile
import zlib
from collections.abc import Iterator
from pathlib import Path
from typing import IO, TYPE_CHECKING, NoReturn

from msgspec import Struct

from cleatmark.docxfile.limits import MIB, Limits
from cleatmark.problems import InputError, Place, Problem

if TYPE_CHECKING:
    from lxml.etree import _Element

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
_ROOT = re.compile(rb"\A(?:\xef\xbb\xbf|\xff\xfe|\xfe\xff)?(?:\s+|<\?.*?\?>|<!--.*?-->)*<(!|[A-Za-z_])", re.S)
_ENCODING = re.compile(rb"""\A[^<]{0,3}<\?xml[^>]*?encoding\s*=\s*["']([^"']*)["']""")
_KNOWN_STARTS = (
    (b"%PDF", "it is a PDF"),
    (b"{\\rtf", "it is an RTF file"),
    (b"<", "it is an XML or HTML page"),
)
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
_SAVE_AS = "Save it from Word as a .docx without a password, and name that file."


def refuse(file: str, message: str, *help_lines: str) -> NoReturn:
    """End the reading: the file cannot be used, and why."""
    raise InputError([Problem(Place(file), message, help_lines)])


class Relationship(Struct, frozen=True):
    """A link from one part to another inside the package. External ones are never followed."""

    id: str
    kind: str
    target: str
    external: bool


class Package:
    """An open DOCX whose weight and names were checked. Close it, or use it in a `with`."""

    def __init__(self, path: Path, limits: Limits) -> None:
        self.file = str(path)
        self.limits = limits
        self._archive = _open_archive(path, limits)
        self._names = {info.filename.casefold(): info for info in self._archive.infolist()}

    def __enter__(self) -> Package:
        return self

    def __exit__(self, *_: object) -> None:
        self._archive.close()

    def has(self, part: str) -> bool:
        return part.casefold() in self._names

    def stream(self, part: str) -> Part:
        """The part's bytes, counted as they are unpacked."""
        info = self._names.get(part.casefold())
        if info is None:
            refuse(self.file, f"the part {part} is missing, so this is not a whole DOCX")
        _check_weight(self.file, info, self.limits)
        try:
            return Part(self.file, part, self._archive.open(info), self.limits)
        except _ARCHIVE_ERRORS as error:
            refuse(self.file, f"the part {part} cannot be unpacked: {_reason(error)}")

    def root(self, part: str) -> _Element:
        """The root element of a small part (relationships, styles, numbering, a header)."""
        from lxml import etree

        with self.stream(part) as stream:
            parser = etree.XMLParser(
                resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False,
                remove_comments=True, remove_pis=True,
            )  # fmt: skip
            try:
                while chunk := stream.read():
                    if stream.count > self.limits.side_bytes:
                        refuse(self.file, f"{part} unpacks to more than {_mib(self.limits.side_bytes)}",
                               "The limit is side_bytes.")  # fmt: skip
                    parser.feed(chunk)
                    stream.mark = stream.count
                root = parser.close()
            except etree.XMLSyntaxError as error:
                broken_xml(self.file, part, error)
        if root.getroottree().docinfo.internalDTD is not None:
            refuse(self.file, f"{part} declares a document type (DTD) or entities; a DOCX never does")
        return root

    def relationships(self, part: str) -> dict[str, Relationship]:
        """Links of a part by their id; `part` "" for the package itself."""
        folder, name = posixpath.split(part)
        rels = posixpath.join(folder, "_rels", name + ".rels")
        if not self.has(rels):
            return {}
        found: dict[str, Relationship] = {}
        for link in self.root(rels):
            target = link.get("Target", "")
            external = link.get("TargetMode", "") == "External"
            if not external:
                joined = target if target.startswith("/") else posixpath.join("/", folder, target)
                target = posixpath.normpath(joined).lstrip("/")
            kind = link.get("Type", "").rsplit("/", 1)[-1]
            found[link.get("Id", "")] = Relationship(link.get("Id", ""), kind, target, external)
        return found

    def content_type(self, part: str) -> str:
        """The declared type of a part, "" where none is declared."""
        types = "[Content_Types].xml"
        if not self.has(types):
            refuse(self.file, "this is a ZIP archive but not a DOCX: it has no [Content_Types].xml", _SAVE_AS)
        extension, by_extension = part.rsplit(".", 1)[-1].casefold(), ""
        for entry in self.root(types):
            if entry.get("PartName", "").lstrip("/").casefold() == part.casefold():
                return entry.get("ContentType", "")
            if entry.get("Extension", "").casefold() == extension:
                by_extension = entry.get("ContentType", "")
        return by_extension


class Part:
    """A part being read: counts bytes, refuses a DTD before the parser sees one, and names what broke.

    The reader sets `mark` to `count` at the end of each block, so that no single block can fill the memory.
    """

    def __init__(self, file: str, name: str, source: IO[bytes], limits: Limits) -> None:
        self.file, self.name, self.count, self.mark = file, name, 0, 0
        self._source, self._limits = source, limits
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
            if self.count > self._limits.part_bytes:
                refuse(self.file, f"{self.name} unpacks to more than {_mib(self._limits.part_bytes)}",
                       "The limit is part_bytes.")  # fmt: skip
            if self.count - self.mark > self._limits.block_bytes + _PROLOG:
                refuse(
                    self.file,
                    f"one paragraph or table of {self.name} is larger than {_mib(self._limits.block_bytes)}",
                    "The limit is block_bytes.",
                )
            yield chunk
            chunk = self._unpack(_PROLOG)

    def _unpack(self, size: int) -> bytes:
        try:
            return self._source.read(size)
        except _ARCHIVE_ERRORS as error:
            refuse(self.file, f"{self.name} cannot be unpacked: {_reason(error)}")

    def _checked_prolog(self, chunk: bytes) -> bytes:
        plain = chunk.replace(b"\0", b"")
        encoding = _ENCODING.match(plain)
        if encoding and encoding[1].lower() not in (b"utf-8", b"utf-16", b"us-ascii", b"ascii"):
            shown = encoding[1].decode("ascii", "replace")[:20]
            refuse(self.file, f"{self.name} is encoded as {shown!r}; a DOCX part is UTF-8 or UTF-16")
        root = _ROOT.match(plain)
        if root is None:
            refuse(self.file, f"{self.name} is not XML")
        if root[1] == b"!":
            refuse(self.file, f"{self.name} declares a document type (DTD) or entities; a DOCX never does",
                   "Such a declaration is refused before it is read.")  # fmt: skip
        for strict, transitional in _TRANSITIONAL:
            chunk = chunk.replace(strict, transitional)
        return chunk


_ARCHIVE_ERRORS = (zipfile.BadZipFile, zlib.error, EOFError, OSError, RuntimeError, struct.error, ValueError)


def _reason(error: Exception) -> str:
    if isinstance(error, NotImplementedError):
        return "it is packed in a way a DOCX never is"
    if "CRC" in str(error):
        return "its checksum does not match, so the file is damaged or its sizes are false"
    return str(error).splitlines()[0][:120] if str(error) else "the data end early"


def broken_xml(file: str, part: str, error: Exception) -> NoReturn:
    """The part is not well-formed, or nested deeper than the parser's own cap."""
    reason = str(error).split(", line")[0].split("\n")[0][:160]
    if "depth" in reason:
        refuse(file, f"{part} nests its elements deeper than 256 levels")
    line = getattr(error, "lineno", None) or 0
    refuse(file, f"{part} is broken XML: {reason} (line {line} of the part)")


def _mib(count: int) -> str:
    return f"{count / MIB:,.4g} MiB"


def _open_archive(path: Path, limits: Limits) -> zipfile.ZipFile:
    file = str(path)
    try:
        if path.is_dir():
            refuse(file, "this is a folder; a .docx file is expected")
        if not path.exists():
            refuse(file, "there is no such file")
        if not path.is_file():
            refuse(file, "this is not an ordinary file")
        size = path.stat().st_size
        if size > limits.file_bytes:
            refuse(file, f"the file has {_mib(size)}, over the limit of {_mib(limits.file_bytes)}",
                   "The limit is file_bytes.")  # fmt: skip
        with path.open("rb") as source:
            head = source.read(MIB)
            source.seek(max(size - 66_000, 0))
            tail = source.read()
    except OSError as error:
        refuse(file, f"the file cannot be read: {error.strerror or error}")
    except ValueError as error:
        refuse(file, f"the file cannot be read: {error}")
    _check_start(file, head)
    _check_directory(file, tail, path, limits)
    try:
        archive = zipfile.ZipFile(path)
    except _ARCHIVE_ERRORS as error:
        refuse(file, f"the file is a damaged ZIP archive: {_reason(error)}", _SAVE_AS)
    try:
        _check_members(file, archive.infolist(), limits)
    except InputError:
        archive.close()
        raise
    return archive


def _check_start(file: str, head: bytes) -> None:
    if head.startswith(_OLE):
        if "EncryptedPackage".encode("utf-16-le") in head:
            refuse(file, "the document is encrypted with a password and cannot be read", _SAVE_AS)
        if "WordDocument".encode("utf-16-le") in head:
            refuse(file, "this is an old .doc file under another name", _SAVE_AS)
        refuse(file, "this is an encrypted document or an old .doc file, not a DOCX", _SAVE_AS)
    if head.startswith(b"PK"):
        return
    if not head:
        refuse(file, "the file is empty")
    for start, what in _KNOWN_STARTS:
        if head.lstrip(b"\xef\xbb\xbf \r\n\t").startswith(start):
            refuse(file, f"this is not a DOCX: {what}", _SAVE_AS)
    refuse(file, "this is not a DOCX: it is not a ZIP archive at all", _SAVE_AS)


def _check_directory(file: str, tail: bytes, path: Path, limits: Limits) -> None:
    """The archive's table of contents, weighed before the library loads it."""
    at = tail.rfind(b"PK\x05\x06")
    if at < 0 or len(tail) - at < 22:
        refuse(file, "the file is a damaged ZIP archive: its table of contents is missing", _SAVE_AS)
    entries, size = struct.unpack_from("<HL", tail, at + 10)
    if at >= 20 and tail[at - 20 : at - 16] == b"PK\x06\x07":
        (offset,) = struct.unpack_from("<Q", tail, at - 12)
        try:
            with path.open("rb") as source:
                source.seek(offset)
                record = source.read(56)
        except (OSError, ValueError, OverflowError):
            record = b""
        if len(record) < 56:
            refuse(file, "the file is a damaged ZIP archive: its table of contents is missing", _SAVE_AS)
        entries, size = struct.unpack_from("<QQ", record, 32)
    if entries > limits.entries or size > limits.entries * 400:
        refuse(file, f"the archive has {entries:,} members, over the limit of {limits.entries:,}",
               "The limit is entries.")  # fmt: skip


def _check_members(file: str, members: list[zipfile.ZipInfo], limits: Limits) -> None:
    if len(members) > limits.entries:
        refuse(file, f"the archive has {len(members):,} members, over the limit of {limits.entries:,}",
               "The limit is entries.")  # fmt: skip
    seen: set[str] = set()
    for member in members:
        name = member.filename
        if _climbs(name):
            refuse(file, f"a member of the archive has a name that leaves it: {name[:80]!r}")
        if name.casefold() in seen:
            refuse(file, f"the archive holds {name[:80]!r} twice, and readers would disagree which counts")
        seen.add(name.casefold())
    total = sum(member.file_size for member in members)
    if total > limits.total_bytes:
        refuse(file, f"the file unpacks to {_mib(total)}, over the limit of {_mib(limits.total_bytes)}",
               "The limit is total_bytes.")  # fmt: skip


def _climbs(name: str) -> bool:
    return (
        name.startswith(("/", "\\"))
        or "\\" in name
        or ".." in name.split("/")
        or bool(re.match(r"[A-Za-z]:", name))
        or not name.isprintable()
    )


def _check_weight(file: str, info: zipfile.ZipInfo, limits: Limits) -> None:
    if info.flag_bits & 1:
        refuse(file, f"the part {info.filename} is encrypted and cannot be read", _SAVE_AS)
    if info.file_size > limits.part_bytes:
        refuse(
            file,
            f"{info.filename} unpacks to {_mib(info.file_size)}, over the limit of {_mib(limits.part_bytes)}",
            "The limit is part_bytes.",
        )
    if info.file_size > MIB and info.file_size > limits.ratio * max(info.compress_size, 1):
        ratio = info.file_size // max(info.compress_size, 1)
        refuse(
            file,
            f"{info.filename} unpacks to {ratio:,} times its packed size, over the limit of {limits.ratio}",
            "The limit is ratio.",
        )
