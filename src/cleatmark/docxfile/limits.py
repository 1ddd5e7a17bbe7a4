"""What a DOCX may weigh before it is refused. It is somebody else's file."""

from __future__ import annotations

from msgspec import Struct

MIB = 1024 * 1024


class Limits(Struct, frozen=True):
    """Caps on one DOCX. Each can be raised by whoever trusts the file; a refusal names the cap it met.

    file_bytes   the file as it lies on disk
    entries      members of the archive
    part_bytes   one XML part unpacked; a 20,000-paragraph manual as Word writes it has about 15 MiB
    total_bytes  all members unpacked, pictures included, by their declared sizes
    ratio        unpacked to packed size of a part over `ratio_from`; text reaches 10 to 60, a bomb 1,000
    block_bytes  one paragraph or one outermost table of the document, as XML
    side_bytes   any other part that is read: styles, numbering, a header, a footer
    read_bytes   all parts that are read, together
    depth        tables and text boxes inside one another
    paragraphs   paragraphs of the document, those in tables counted too
    """

    file_bytes: int = 256 * MIB
    entries: int = 5_000
    part_bytes: int = 96 * MIB
    total_bytes: int = 1_024 * MIB
    ratio: int = 250
    ratio_from: int = 24 * MIB
    block_bytes: int = 8 * MIB
    side_bytes: int = 16 * MIB
    read_bytes: int = 160 * MIB
    depth: int = 20
    paragraphs: int = 200_000
