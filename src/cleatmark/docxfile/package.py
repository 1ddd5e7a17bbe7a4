"""Opening a DOCX without trusting it: its parts as checked XML, and how they are linked."""

from __future__ import annotations

import posixpath
from pathlib import Path
from typing import TYPE_CHECKING

from msgspec import Struct

from cleatmark.docxfile.archive import ARCHIVE_ERRORS, SAVE_AS, check_weight, open_archive, reason, refuse
from cleatmark.docxfile.limits import Limits
from cleatmark.docxfile.part import MC, Budget, M, Part, W, broken_xml

if TYPE_CHECKING:
    from lxml.etree import _Element

__all__ = ["MC", "M", "Package", "Part", "Relationship", "W", "broken_xml", "refuse"]


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
        self._budget = Budget(limits)
        self._archive = open_archive(path, limits)
        self._names = {info.filename.casefold(): info for info in self._archive.infolist()}

    def __enter__(self) -> Package:
        return self

    def __exit__(self, *_: object) -> None:
        self._archive.close()

    def has(self, part: str) -> bool:
        return part.casefold() in self._names

    def stream(self, part: str, side: bool = False) -> Part:
        """The part's bytes, counted as they are unpacked; `side` for any part but the document itself."""
        info = self._names.get(part.casefold())
        if info is None:
            refuse(self.file, f"the part {part} is missing, so this is not a whole DOCX")
        check_weight(self.file, info, self.limits)
        try:
            return Part(self.file, part, self._archive.open(info), self._budget, side)
        except ARCHIVE_ERRORS as error:
            refuse(self.file, f"the part {part} cannot be unpacked: {reason(error)}")

    def root(self, part: str) -> _Element:
        """The root element of a small part (relationships, styles, numbering, a header)."""
        from lxml import etree

        with self.stream(part, side=True) as stream:
            parser = etree.XMLParser(
                resolve_entities=False, no_network=True, load_dtd=False, huge_tree=False,
                remove_comments=True, remove_pis=True,
            )  # fmt: skip
            try:
                while chunk := stream.read():
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
            refuse(self.file, "this is a ZIP archive but not a DOCX: it has no [Content_Types].xml", SAVE_AS)
        extension, by_extension = part.rsplit(".", 1)[-1].casefold(), ""
        for entry in self.root(types):
            if entry.get("PartName", "").lstrip("/").casefold() == part.casefold():
                return entry.get("ContentType", "")
            if entry.get("Extension", "").casefold() == extension:
                by_extension = entry.get("ContentType", "")
        return by_extension
