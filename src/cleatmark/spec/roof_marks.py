"""The marks by which a section calls its roofs and panel types: "RP-1", "Type A", "System 2", "Area B"."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence
from functools import lru_cache

from cleatmark.spec.clauses import Clause, Marks
from cleatmark.spec.lazy import lazily
from cleatmark.spec.wording import plain

_MARK = (
    r"(?!(?:AZM?|ZF|ZM|GF|UL|FM|SD|ISO|ES|TAS|PS|WPI|UBC|IBC|DIN|EN|CSA|NFPA|ASTM|ASCE|AAMA|RAL|ANSI|SPRI|ICC|ESR|"
    r"CAN|ULC|LTTR|LEED|GR|CL|NO|HS|PVDF|FEVE|SMP|TDI|NOA)-?\d)"
    r"(?:[A-Z]{2,5}-?\d{1,2}[A-Z]?|(?<=[Mm]ark )[A-Z]-?\d{1,2}|(?<=MARK )[A-Z]-?\d{1,2}|(?<=Type )[A-Z]-\d{1,2}|"
    r"(?<=[Pp]anel )[A-Z]-\d{1,2}|(?<=[Pp]anels )[A-Z]-\d{1,2}|(?<=PANEL )[A-Z]-\d{1,2}|(?<=PANELS )[A-Z]-\d{1,2}|"
    r"(?:(?:SS)?MRP?|[MFC]?RP|SSRP?|RF|MTL|MP|SSP)-[A-Z])"
    r"(?![\w/]|-\w|\.\d)"
)
_NAME = (
    r"(?i:(?:(?:roof(?:ing)?|panel)\s){0,2}(?:type|system|assembly|area))\s(?i:no\.?\s|number\s)?"
    r"(?:[A-HJ-UWYZ]|\d{1,2}[A-Z]?)(?![\w/'-]|\.[\d\w]|\s(?:\d|in\b|inch|ga\b|gauge|psf|f(?:oo|ee)?t\b|mm\b|x\b))"
)
_MARKS = lazily(rf"\b(?:{_MARK}|{_NAME})")
_MARKED = lazily(r"[A-Z]{1,5}-?\d{1,2}[A-Z]?|[A-Z]{2,5}-[A-Z]")
_LINE = lazily(
    r"\W*(?i:(?:(?:roof|panel|drawings?|type|reference|design)\s){0,3}(?:mark|designation|tag|symbol|keynote|"
    r"identification)s?(?:\son\s(?:the\s)?drawings)?\s?(?::|-|is))\s*[\"'(]?"
    r"(?P<mark>[A-Z]{1,5}-?\d{1,2}[A-Z]?|[A-Z]{2,5}-[A-Z])\W*",
    needs="designation|identification|keynote|mark|symbol|tag",
)
"""A line that only gives the mark of what it stands under: "Mark: RP-1."."""
_ROOFED = (
    r"panels?\b(?!\s(?:clips?|fasteners?|anchors?|screws?)\b)|standing[\s-]seam|"
    r"(?:roof(?:ing|s)?|ssmr?)\b(?!\s(?:curb|hatch|drain|deck|insul|edge|accessor|vent|penetr|opening|scuttle|walk))"
)
_OTHER = (
    r"walls?|siding|soffits?|liners?|fascias?|doors?|windows?|curbs?|hatch(?:es)?|drains?|deck(?:s|ing)?|insulation|"
    r"underlayments?|felt|membranes?|gutters?|downspouts?|flashings?|trim|copings?|snow|screws?|fasteners?|anchors?|"
    r"clips?|colou?rs?|paint|finish(?:es)?|sealants?|louvers?|skylights?|details?|sheets?(?=\s[A-Z]-?\d)|drawings?|"
    r"sections?|purlins?|girts?|coatings?|primers?|glass|tiles?|shingles?|ceilings?|partitions?|columns?|frames?"
)
_TELLING = lazily(rf"\b(?:(?P<roof>{_ROOFED})|(?P<other>{_OTHER})\b)", re.IGNORECASE)
_LETTERS = lazily(r"\b(?:(?:[MFC]|SS)?R[FPS]?|(?:SS)?MRP?S?|SSR?P?)-?\d|\b[Aa](?:rea|REA)\s[A-Z\d]")
"""What by itself is a roof's: the letters that offices give roof panels, and an area in a section on roofs."""
_TITLE_END = lazily(r":|\.\s|\.$")
_DESIGNATED = lazily(
    r"\b(?:designated|marked|identified|tagged|labell?ed|noted|called|shown)\s(?:as\s)?", re.IGNORECASE
)
_REFERRED = lazily(
    r"\b(?:match(?:es|ing)?|align(?:s|ed|ing)?\s(?:with|to)|(?:same|identical|similar|adjacent|next|equal)\s(?:as|to)|"
    r"same\sas\s(?:specified\s)?(?:for|in|at|under)|adjoining|abutting|adjacent|joining|meets?|transitions?\s(?:to|from|at)|"
    r"as\s(?:for|in|at|with|specified\s(?:for|in|at|under)|described\s(?:for|in))|(?:other|lower|higher|rather)\sthan|unlike|"
    r"not\s(?:at|for|on|to)|except(?:ing)?(?:\s(?:for|at|on))?|excluding|beyond|below\sthose\sof)\s"
    r"(?:(?:that|those|the|of|for|at|color|colou?r|roof|roofing|metal|panels?|type)\s){0,4}[\"']?$",
    re.IGNORECASE,
)
_FIRST = lazily(r"(?<![a-z\d])(?:[a-z]+)?0?[1a]$")
_LONGEST_TITLE = 110
_WORDS = 14
_LOOK = 160
_MOST = 60
"""Names that are kept of one section."""


def several(marks: Marks) -> bool:
    """Whether a section tells several roofs or panel types by their marks: where there is an RP-2, there is an RP-1."""
    known = {mark.casefold() or name for name, mark in marks.names}
    return len(known) > 1 or any(not _FIRST.search(name) for name in known)


def marks_of(clauses: Sequence[Clause]) -> Marks:
    """The marks that titles, labels and designations of a section give its roofs and panels.

    A title tells what it marks; where it is the mark alone, the words behind it do, else the nearest title above.
    """
    names: dict[str, str] = {}
    seen: set[str] = set()
    for clause in clauses:
        if clause.hidden or clause.table is not None or len(names) >= _MOST:
            continue
        for at, title in enumerate(clause.headings):
            if title and title not in seen:
                seen.add(title)
                _learn(plain(title[:_LOOK]), clause.headings[:at], names)
        if line := _LINE.fullmatch(clause.text[:_LOOK]):
            names.setdefault(fold(line["mark"]), line["mark"])
        elif clause.text not in seen:
            _learn(plain(clause.text[:_LOOK]), clause.headings, names)
    return Marks(tuple(sorted(names.items())), _lines(clauses))


def _lines(clauses: Iterable[Clause]) -> tuple[tuple[tuple[str, ...], str], ...]:
    """Titles under which two marks are given have none."""
    found: dict[tuple[str, ...], set[str]] = {}
    for clause in clauses:
        line = None if clause.hidden or len(found) >= _MOST else _LINE.fullmatch(clause.text[:_LOOK])
        if line and _of_roofs("", "", clause.headings):
            found.setdefault(clause.headings, set()).add(line["mark"])
    return tuple((titles, next(iter(given))) for titles, given in found.items() if len(given) == 1)


def _learn(text: str, above: Sequence[str], names: dict[str, str]) -> None:
    if not _MARKS.search(text):
        return
    if designated := _DESIGNATED.search(text):
        title, behind = text[designated.end() :].partition(" on ")[0][:40], text[: designated.start()]
    else:
        stop = _TITLE_END.search(text)
        title = text[: stop.start()] if stop else text
        behind = text[stop.end() :] if stop else ""
    if len(title) > _LONGEST_TITLE or len(title.split()) > _WORDS:
        return
    found = [one for one in _MARKS.finditer(title) if not _REFERRED.search(title, 0, one.start())]
    if not found or not _of_roofs(title, behind, above):
        return
    last = None
    for one in found:
        name = fold(one.group())
        marked = bool(_MARKED.fullmatch(one.group()))
        if last and marked and title[last.end() : one.start()] in (" (", ", ", " - ", ": "):
            names[fold(last.group())] = one.group()
        names.setdefault(name, one.group() if marked else "")
        last = None if marked else one


def _of_roofs(title: str, behind: str, above: Sequence[str]) -> bool:
    for words in (title, behind, *reversed([plain(head[:_LOOK]) for head in above])):
        if telling := _TELLING.search(words):
            return bool(telling["roof"])
    return bool(_LETTERS.search(title))


def fold(name: str) -> str:
    """A name without its case, and without "No."."""
    return re.sub(r"\b(?:no\.?|number)\s", "", " ".join(name.casefold().split()))


@lru_cache(maxsize=64)
def _pattern(marks: Marks) -> re.Pattern[str] | None:
    if not marks.names:
        return None
    one_of = "|".join(
        re.escape(name).replace(r"\ ", r"\s(?:no\.?\s|number\s)?")
        for name, _ in sorted(marks.names, key=lambda pair: -len(pair[0]))
    )
    return re.compile(rf"(?<![\w/-])(?:{one_of})(?![\w/]|-\w|\.\d|\s(?:{_OTHER})\b)", re.IGNORECASE)


def named(marks: Marks, text: str, start: int, end: int) -> list[tuple[int, int, str]]:
    """Where a text names a roof of the section by its mark: from, to, the name."""
    pattern = _pattern(marks)
    if pattern is None:
        return []
    stands_for = dict(marks.names)
    return [
        (one.start(), one.end(), stands_for[fold(one.group())] or " ".join(one.group().split()))
        for one in pattern.finditer(text, start, end)
    ]


def referred(text: str, start: int, at: int) -> bool:
    """Whether a roof is named there only to compare with it: "to match RP-1", "same as RP-1", "adjacent to RP-1"."""
    return bool(_REFERRED.search(text, max(start, at - 80), at))


def is_mark(name: str) -> bool:
    """Whether a roof's name is a mark alone: "RP-1", and not "Roof Area A"."""
    return bool(_MARKED.fullmatch(name))


def kin(name: str) -> str:
    """A roof's name as it is compared: "Panel Type RP-1", "RP1" and "RP-1" are one."""
    short = re.sub(r"^(?:(?:roof|roofing|panels?|mark|type|system)\s)+(?=[a-z]{1,5}-?\d)", "", fold(name))
    return (
        re.sub(r"(?<=[a-z])-(?=\d)", "", short)
        if re.fullmatch(r"[a-z]{1,5}-?\d{1,2}[a-z]?", short)
        else short
    )
