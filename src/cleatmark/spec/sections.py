"""Where the sections of a project manual begin, and which of them are about metal roofs."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from cleatmark.spec.blocks import Block, Grid, Paragraph
from cleatmark.spec.labels import automatic, typed
from cleatmark.spec.outline import END

_NUMBER = r"(\d{2}[ .-]?\d{2}[ .-]?\d{2}(?:\.\d{2})?(?: \d{2})?|\d{5})(?![\d/])"
_LINE = re.compile(
    rf"(SECTION|DOCUMENT)\s+(?:(?:NO\.?|NUMBER)\s*)?[#:]?\s*{_NUMBER}\s*(?:[-–—:|]\s*)*(.*)\Z", re.I
)
_BARE = re.compile(rf"{_NUMBER}\s*(?:[-–—:|]\s*)*(.*)\Z")
_TITLED = re.compile(
    rf"(.{{3,80}}?)\s*(?:[-–—:|]\s*)?(?:SECTION\s+)?{_NUMBER}(?:\s*[-–—]\s*\d{{1,3}})?\s*\Z", re.I
)
_ANYWHERE = re.compile(rf"(?<![\d.]){_NUMBER}(?:\s*[-–—]\s*\d{{1,3}})?(?!\s*[\d/])")
_PAGE = re.compile(r"(?:\t|\.{3,})\s*\d{1,4}\s*\Z")
_FIRST = frozenset(("1.01", "1.1", "1.0", "1.00", "1.1.1"))
_BEGINNINGS = frozenset(("GENERAL", "SUMMARY", "SCOPE", "DESCRIPTION", "SECTION INCLUDES", "REFERENCES"))
_FURTHEST, _TITLE_LINES = 60, 3

METAL_ROOF = re.compile(
    r"\b(?:standing[\s-]+seam|(?:metal|steel|alumin(?:i)?um|copper|zinc|batten[\s-]+seam|flat[\s-]+seam|structural"
    r"|formed|sheet[\s-]+metal)\s+(?:and\s+\w+\s+)?roof(?:s|ing)?(?!\s+(?:deck|hatch|drain|access|insul|edge|curb))"
    r"|(?:metal|steel|alumin(?:i)?um|formed)\s+(?:wall\s+and\s+)?roof(?:\s+and\s+wall)?\s+panels?"
    r"|roof(?:\s+and\s+wall)?\s+panels?|roof(?:ing)?\s+and\s+siding\s+panels?)\b",
    re.I,
)
OTHER = re.compile(
    r"\b(?:wall\s+panels?|curtain\s*walls?|siding|membranes?|bitumin|shingles?|tiles?|TPO|EPDM|PVC|KEE|thermoplastic"
    r"|built-up|flashing|gutters?|soffits?|deck(?:ing)?|insulation|accessories|translucent|skylights?)\b",
    re.I,
)
_ROOF_PREFIXES = (
    "074113",
    "074100",
    "074163",
    "0761",
    "133419",
    "13341",
    "07410",
    "07411",
    "07412",
    "07610",
    "1312",
)


class Start(Struct, frozen=True):
    """A section's title line: where it stands, number in pairs, title, where its text begins."""

    at: int
    number: str
    title: str
    body: int


def fold(number: str) -> str:
    """A section number in pairs: "074113.16" as "07 41 13.16"; five old digits stay together."""
    main, dot, suffix = number.partition(".") if re.search(r"\.\d{2}(?: \d{2})?\Z", number) and len(
        re.sub(r"\D", "", number)) > 6 else (number, "", "")  # fmt: skip
    digits = re.sub(r"\D", "", main)
    if len(digits) < 6:
        return digits
    folded = " ".join(digits[at : at + 2] for at in range(0, 6, 2))
    extra = digits[6:]
    return folded + (f"{dot}{suffix}" if dot else "") + (f" {extra}" if extra else "")


def is_roof(number: str, title: str) -> bool:
    """Whether a section is about metal roofing: by its number, unless its title is of another thing."""
    digits = re.sub(r"\D", "", number)
    named = METAL_ROOF.search(title)
    other = OTHER.search(title)
    if digits.startswith(_ROOF_PREFIXES):
        return bool(named) or not other
    return bool(named) and not other


def starts(blocks: Sequence[Block]) -> list[Start]:
    """The section title lines among the blocks; cross-references and tables of contents are none."""
    found: list[Start] = []
    first, after_end = True, False
    for at, block in enumerate(blocks):
        if isinstance(block, Grid):
            continue
        raw = block.words.raw
        if not raw or raw.isspace() or block.hidden:
            continue
        if END.match(raw):
            after_end = True
            continue
        candidate = _candidate(block)
        if candidate is not None:
            number, title, keyword = candidate
            prominent = first or after_end or block.centered or block.style.title or block.style.outline == 0
            if _accepted(blocks, at, keyword, prominent, title):
                title, body = _title(blocks, at, title)
                found.append(Start(at, fold(number), title, body))
                after_end = False
        first = False
    return found


def _candidate(block: Paragraph) -> tuple[str, str, str] | None:
    """Number, title and keyword of a paragraph that may be a title line."""
    raw = block.words.raw
    if len(raw) > 200 or block.contents or (block.number is not None and block.number.counts):
        return None
    lead = raw.lstrip()[:1]
    if lead not in "Ss0123456789Dd" or _PAGE.search(raw):
        return None
    text = " ".join(raw.split())
    line = _LINE.match(text)
    if line is not None:
        rest = line[3].strip()
        if rest and (rest[0].islower() or rest.endswith((".", ";", ",")) or len(rest) > 110):
            return None
        return line[2], rest, line[1]
    bare = _BARE.match(text)
    if bare is not None and len(re.sub(r"\D", "", bare[1])) >= 5:
        rest = bare[2].strip()
        if not rest or not rest[0].isalpha() or rest[0].islower() or len(rest) > 110 or rest.endswith("."):
            return None
        return bare[1], rest, ""
    return None


def _accepted(blocks: Sequence[Block], at: int, keyword: str, prominent: bool, title: str) -> bool:
    """A title line is followed by the beginning of a section, and not by its middle or another title."""
    ahead = _ahead(blocks, at)
    if keyword:
        return ahead == "start" or (ahead == "" and prominent and keyword == "SECTION")
    return ahead == "start" and (prominent or title == title.upper())


def _ahead(blocks: Sequence[Block], at: int) -> str:
    """What structure comes next: "start" of a section, "middle" of one, or "" for nothing known."""
    seen = 0
    for block in blocks[at + 1 : at + 1 + _FURTHEST]:
        if isinstance(block, Grid) or not block.words.raw.strip() or block.hidden:
            continue
        seen += 1
        if _candidate(block) is not None or END.match(block.words.raw):
            return "" if seen > 1 or not _LINE.match(" ".join(block.words.raw.split())) else "middle"
        kind = _structure(block)
        if kind:
            return kind
    return ""


def _structure(block: Paragraph) -> str:
    raw = block.words.raw
    number = block.number
    if number is not None and number.counts:
        label = automatic(number.label, number.value)
        rest = raw
    else:
        known = typed(raw)
        if known is None:
            return "start" if " ".join(raw.split()).upper() in ("GENERAL", "SUMMARY") else ""
        label, rest = known, raw[known.end :]
    if label.form == "part":
        return "start" if label.value == 1 else "middle"
    if label.numeric:
        return "start" if label.shown.rstrip(".") in _FIRST else "middle"
    if label.value == 1:
        return "start" if " ".join(rest.split()).upper().rstrip(".") in _BEGINNINGS else ""
    return "middle" if label.sure else ""


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


def from_header(lines: Sequence[str]) -> tuple[str, str] | None:
    """Section number and title as a page header or footer prints them."""
    for line in lines:
        for piece in re.split(r"\t+|\s{3,}|\n", line):
            text = " ".join(piece.split())
            known = _LINE.match(text) or None
            if known is not None:
                return fold(known[2]), _untailed(known[3])
            titled = _TITLED.match(text)
            if (
                titled is not None
                and titled[1].upper() == titled[1]
                and len(re.sub(r"\D", "", titled[2])) >= 6
            ):
                return fold(titled[2]), titled[1].strip(" -–—")
            bare = _BARE.match(text)
            if bare is not None and len(re.sub(r"\D", "", bare[1])) >= 6:
                return fold(bare[1]), _untailed(bare[2])
    return None


def _untailed(title: str) -> str:
    return re.sub(
        r"(?:^|\s*[-–—|]\s*|\s+)(?:page\s+)?\d{1,3}(?:\s+of\s+\d+)?\Z", "", title, flags=re.I
    ).strip(" -–—")
