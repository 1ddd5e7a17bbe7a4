"""Where the sections of a project manual begin: title lines, and the page header as a last resort."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from cleatmark.spec.blocks import Block, Grid, Paragraph
from cleatmark.spec.labels import as_roman, automatic, typed
from cleatmark.spec.lazy import lazily
from cleatmark.spec.outline import END

_NUMBER = r"(\d{2}[ .-]?\d{2}[ .-]?\d{2}(?:\.\d{2})?(?: \d{2})?|\d{5})(?![\d/])"
_LINE = lazily(
    rf"(SECTION|DOCUMENT)\s+(?:(?:NO\.?|NUMBER)\s*)?[#:]?\s*{_NUMBER}\s*(?:[-–—:|]\s*)*(.*)\Z", re.I
)
_BARE = lazily(rf"{_NUMBER}\s*(?:[-–—:|]\s*)*(.*)\Z")
_TITLED = lazily(
    rf"(.{{3,80}}?)\s*(?:[-–—:|]\s*)?(?:SECTION\s+)?{_NUMBER}(?:\s*[-–—]\s*\d{{1,3}})?\s*\Z", re.I
)
_PAGE = lazily(r"(?:\t|\.{3,})\s*\d{1,4}\s*\Z")
_FIRST = frozenset(("1.01", "1.1", "1.0", "1.00"))
_BEGINNINGS = frozenset(("GENERAL", "SUMMARY", "SCOPE", "DESCRIPTION", "SECTION INCLUDES", "REFERENCES"))
_FURTHEST, _TITLE_LINES = 60, 3


class Start(Struct, frozen=True):
    """A section's title line: where it stands, number in pairs, title, where its text begins."""

    at: int
    number: str
    title: str
    body: int


def fold(number: str) -> str:
    """A section number in pairs: "074113.16" as "07 41 13.16"; five old digits stay together."""
    digits = re.sub(r"\D", "", number)
    if len(digits) < 6:
        return digits
    main, rest = " ".join((digits[:2], digits[2:4], digits[4:6])), digits[6:]
    if rest and re.search(r"\.\d{2}(?: \d{2})?\Z", number):
        main, rest = f"{main}.{rest[:2]}", rest[2:]
    return f"{main} {rest}" if rest else main


def starts(blocks: Sequence[Block]) -> list[Start]:
    """The section title lines among the blocks; cross-references and tables of contents are none."""
    found: list[Start] = []
    first, after_end = True, False
    for at, block in enumerate(blocks):
        if not isinstance(block, Grid):
            raw = block.words.raw
            if not raw or raw.isspace() or block.hidden:
                continue
            if raw[0] in "E e*-" and END.match(raw):
                after_end = True
                continue
        candidate = _candidate(block)
        if candidate is not None:
            number, title, keyword = candidate
            prominent = first or after_end or isinstance(block, Grid) or _stands_out(block)
            if _accepted(blocks, at, keyword, prominent, title):
                title, body = _title(blocks, at, title)
                found.append(Start(at, fold(number), title, body))
                after_end = False
        first = False
    return found


def _stands_out(block: Paragraph) -> bool:
    return block.centered or block.style.title or block.style.outline == 0


def _candidate(block: Block) -> tuple[str, str, str] | None:
    """Number, title and keyword of a paragraph, or a title block in a table, that may begin a section."""
    if isinstance(block, Grid):
        if len(block.table.cells) > 6:
            return None
        raw = " ".join(cell.text for cell in block.table.cells)
        return _title_line(raw)
    raw = block.words.raw
    if raw.lstrip()[:1] not in "Ss0123456789Dd" or len(raw) > 200 or block.contents:
        return None
    if (block.number is not None and block.number.counts) or _PAGE.search(raw):
        return None
    line = _title_line(raw)
    if line is not None:
        return line
    bare = _BARE.match(" ".join(raw.split()))
    if bare is None or not (_six(bare[1]) or bare[1].isdigit()):
        return None
    rest = bare[2].strip()
    fits = rest[:1].isalpha() and rest[0].isupper() and len(rest) <= 110 and not rest.endswith(".")
    return (bare[1], rest, "") if fits else None


def _title_line(raw: str) -> tuple[str, str, str] | None:
    line = _LINE.match(" ".join(raw.split()))
    if line is None:
        return None
    rest = line[3].strip()
    if rest and (rest[0].islower() or rest.endswith((".", ";", ",")) or len(rest) > 110):
        return None
    return line[2], rest, line[1]


def _accepted(blocks: Sequence[Block], at: int, keyword: str, prominent: bool, title: str) -> bool:
    """A title line is followed by the beginning of a section, and not by its middle or another title."""
    ahead = _ahead(blocks, at)
    if ahead == "article" and _within_part(blocks, at):
        return False
    begins = ahead in ("part", "article")
    if keyword:
        return begins or (not ahead and prominent and keyword == "SECTION")
    return begins and (prominent or title == title.upper() or _title_case(title))


def _title_case(title: str) -> bool:
    return len(title) <= 70 and sum(word[0].isupper() for word in title.split()) * 2 > len(title.split())


def _ahead(blocks: Sequence[Block], at: int) -> str:
    """What structure comes next: the first part or article of a section, the "middle" of one, or "" for none."""
    seen = 0
    for block in blocks[at + 1 : at + 1 + _FURTHEST]:
        if isinstance(block, Grid) or not block.words.raw.strip() or block.hidden:
            continue
        seen += 1
        if _candidate(block) is not None or END.match(block.words.raw):
            return "middle" if seen == 1 or not _title_line(block.words.raw) else ""
        kind = _structure(block)
        if kind:
            return kind
    return ""


def _within_part(blocks: Sequence[Block], at: int) -> bool:
    """Whether the line stands between the heading of the first part and its first article."""
    for block in reversed(blocks[max(at - _FURTHEST, 0) : at]):
        if isinstance(block, Grid) or not block.words.raw.strip():
            continue
        if END.match(block.words.raw):
            return False
        kind = _structure(block)
        if kind:
            return kind == "part"
    return False


def _structure(block: Paragraph) -> str:
    raw = block.words.raw
    number = block.number
    if number is not None and number.counts:
        label = automatic(number.label, number.value)
        rest = raw
    else:
        known = typed(raw)
        if known is None:
            return "article" if " ".join(raw.split()).upper() in ("GENERAL", "SUMMARY") else ""
        label, rest = known, raw[known.end :]
    if label.form == "part":
        return "part" if label.value == 1 else "middle"
    if label.numeric:
        return "article" if label.shown.rstrip(".") in _FIRST else "middle"
    reading = as_roman(label)
    if label.value == 1 or (reading is not None and reading.value == 1):
        return "article" if " ".join(rest.split()).upper().rstrip(".") in _BEGINNINGS else ""
    return "middle" if label.sure == 2 else ""


def _title(blocks: Sequence[Block], at: int, title: str) -> tuple[str, int]:
    """The title, from the line itself or the lines below it; and the first block of the section's text."""
    lines = [title] if title else []
    body = at + 1
    for ahead in range(at + 1, len(blocks)):
        block = blocks[ahead]
        if isinstance(block, Grid) or block.hidden:
            break
        raw = block.words.raw
        if not raw.strip():
            continue
        text = " ".join(raw.split())
        more = (
            len(lines) < _TITLE_LINES
            and not (block.number is not None and block.number.counts)
            and not _structure(block)
            and len(text) <= 110
            and not text.endswith((".", ":", ";"))
            and _candidate(block) is None
            and (not lines or (block.centered and text == text.upper()))
        )
        if not more or (lines and re.search(r"\d{2,}", text)):
            break
        lines.append(text)
        body = ahead + 1
    return " ".join(lines).strip(" -–—"), body


def opening_title(blocks: Sequence[Block]) -> tuple[str, int]:
    """The title lines a document begins with where none has a number; and the first block after them."""
    lines: list[str] = []
    body = 0
    for at, block in enumerate(blocks):
        if isinstance(block, Grid):
            break
        text = " ".join(block.words.raw.split())
        if not text and not block.deleted:
            continue
        named = block.number is None and 0 < len(text) <= 110 and not text.endswith((".", ":", ";"))
        if not named or _structure(block) or typed(block.words.raw) or len(lines) == _TITLE_LINES:
            break
        if block.hidden or not (_stands_out(block) or text.isupper()) or re.search(r"\d{2,}", text):
            break
        lines.append(text)
        body = at + 1
    return " ".join(lines), body


def from_header(lines: Sequence[str]) -> tuple[str, str] | None:
    """Section number and title as a page header or footer prints them."""
    for line in lines:
        pieces = [" ".join(piece.split()) for piece in re.split(r"\t+|\s{3,}|\n", line)]
        for text in pieces:
            known = _LINE.match(text)
            if known is not None:
                return fold(known[2]), _untailed(known[3]) or _capitals(pieces, text)
            titled = _TITLED.match(text)
            if titled is not None and titled[1].upper() == titled[1] and _six(titled[2]):
                return fold(titled[2]), titled[1].strip(" -–—")
            bare = _BARE.match(text)
            if bare is not None and _six(bare[1]):
                return fold(bare[1]), _untailed(bare[2]) or _capitals(pieces, text)
    return None


def _six(number: str) -> bool:
    """Whether six digits are a section number, and no date or job number."""
    digits = re.sub(r"\D", "", number)
    if len(digits) < 6 or re.match(r"(?:19|20)\d\d[-./]", number):
        return False
    return " " in number or digits.startswith(("0", "13"))


def _capitals(pieces: Sequence[str], but: str) -> str:
    """Another piece of the line, if it is in capitals as a title is."""
    return next((one for one in pieces if one != but and len(one) > 3 and one.isupper()), "")


def _untailed(title: str) -> str:
    return re.sub(
        r"(?:^|\s*[-–—|]\s*|\s+)(?:page\s+)?\d{1,3}(?:\s+of\s+\d+)?\Z", "", title, flags=re.I
    ).strip(" -–—")
