"""A DOCX as an archive: what the file is, and what it would unpack to, asked before anything is unpacked."""

from __future__ import annotations

import re
import struct
import zipfile
import zlib
from pathlib import Path
from typing import NoReturn

from cleatmark.docxfile.limits import MIB, Limits
from cleatmark.problems import InputError, Place, Problem

_KNOWN_STARTS = (
    (b"%PDF", "it is a PDF"),
    (b"{\\rtf", "it is an RTF file"),
    (b"<", "it is an XML or HTML page"),
)
_OLE = b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1"
SAVE_AS = "Save it from Word as a .docx without a password, and name that file."


ARCHIVE_ERRORS = (zipfile.BadZipFile, zlib.error, EOFError, OSError, RuntimeError, struct.error, ValueError)


def refuse(file: str, message: str, *help_lines: str) -> NoReturn:
    """End the reading: the file cannot be used, and why."""
    raise InputError([Problem(Place(file), message, help_lines)])


def reason(error: Exception) -> str:
    if isinstance(error, NotImplementedError):
        return "it is packed in a way a DOCX never is"
    if "CRC" in str(error):
        return "its checksum does not match, so the file is damaged or its sizes are false"
    return str(error).splitlines()[0][:120] if str(error) else "the data end early"


def mib(count: int) -> str:
    return f"{count / MIB:,.4g} MiB"


def open_archive(path: Path, limits: Limits) -> zipfile.ZipFile:
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
            refuse(file, f"the file has {mib(size)}, over the limit of {mib(limits.file_bytes)}",
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
    except ARCHIVE_ERRORS as error:
        refuse(file, f"the file is a damaged ZIP archive: {reason(error)}", SAVE_AS)
    try:
        _check_members(file, archive.infolist(), limits)
    except InputError:
        archive.close()
        raise
    return archive


def _check_start(file: str, head: bytes) -> None:
    if head.startswith(_OLE):
        if "EncryptedPackage".encode("utf-16-le") in head:
            refuse(file, "the document is encrypted with a password and cannot be read", SAVE_AS)
        if "WordDocument".encode("utf-16-le") in head:
            refuse(file, "this is an old .doc file under another name", SAVE_AS)
        refuse(file, "this is an encrypted document or an old .doc file, not a DOCX", SAVE_AS)
    if head.startswith(b"PK"):
        return
    if not head:
        refuse(file, "the file is empty")
    for start, what in _KNOWN_STARTS:
        if head.lstrip(b"\xef\xbb\xbf \r\n\t").startswith(start):
            refuse(file, f"this is not a DOCX: {what}", SAVE_AS)
    refuse(file, "this is not a DOCX: it is not a ZIP archive at all", SAVE_AS)


def _check_directory(file: str, tail: bytes, path: Path, limits: Limits) -> None:
    """The archive's table of contents, weighed before the library loads it."""
    at = tail.rfind(b"PK\x05\x06")
    if at < 0 or len(tail) - at < 22:
        refuse(file, "the file is a damaged ZIP archive: its table of contents is missing", SAVE_AS)
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
            refuse(file, "the file is a damaged ZIP archive: its table of contents is missing", SAVE_AS)
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
        refuse(file, f"the file unpacks to {mib(total)}, over the limit of {mib(limits.total_bytes)}",
               "The limit is total_bytes.")  # fmt: skip


def _climbs(name: str) -> bool:
    return (
        name.startswith(("/", "\\"))
        or "\\" in name
        or ".." in name.split("/")
        or bool(re.match(r"[A-Za-z]:", name))
        or not name.isprintable()
    )


def check_weight(file: str, info: zipfile.ZipInfo, limits: Limits) -> None:
    if info.flag_bits & 1:
        refuse(file, f"the part {info.filename} is encrypted and cannot be read", SAVE_AS)
    if info.file_size > limits.part_bytes:
        refuse(
            file,
            f"{info.filename} unpacks to {mib(info.file_size)}, over the limit of {mib(limits.part_bytes)}",
            "The limit is part_bytes.",
        )
    if info.file_size > limits.ratio_from and info.file_size > limits.ratio * max(info.compress_size, 1):
        ratio = info.file_size // max(info.compress_size, 1)
        refuse(
            file,
            f"{info.filename} unpacks to {ratio:,} times its packed size, over the limit of {limits.ratio}",
            "The limit is ratio.",
        )
