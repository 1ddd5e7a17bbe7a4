"""Tables typed as paragraphs: columns parted by " | ", or numbers set with tabs under a line of headings."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec.structs import replace

from cleatmark.spec.clauses import Cell, Clause, Table
from cleatmark.spec.lazy import lazily
from cleatmark.spec.wording import plain

_BAR = lazily(r"\s?\|\s?")
_NUMBERS = lazily(r"(?:(?<=\s)|^)(?:[-+]?\(?\d[\d.,]*\)?(?:\s|$))+$")
_HEADING = lazily(
    r"(?:(?:roof\s)?zones?|locations?|(?:effective\s(?:wind\s)?)?areas?|roof\sareas?|"
    r"(?:ultimate|strength(?:\slevel)?|allowable|ASD|LRFD|nominal|positive|negative|inward|outward|uplift|downward|suction|"
    r"pressure)(?:\s(?:pressure|uplift|psf|\(psf\)|\(Pa\)|\(kPa\)))?|"
    r"field|interior|perimeter|edges?|corners?|zone\s[1-5]'?|\d+\s(?:sq\.?\sft\.?|sf|ft2)|"
    r"(?:clip\s)?spacing(?:,?\s\(?(?:in\.?|inches|mm)\)?)?)(?=\s|$)",
    re.IGNORECASE,
)
"""A heading that may stand over a column of numbers, read off a line in which tabs are no more than spaces."""
_PLACE = lazily(
    r"^(?:(?:roof\s)?zones?|locations?|(?:effective\s(?:wind\s)?)?areas?|roof\sareas?)$", re.IGNORECASE
)
_LONGEST = 200
_LABEL = 4
"""Words at most of what stands before a row's numbers."""


def tabled(clauses: Sequence[Clause]) -> tuple[Clause, ...]:
    """The clauses with runs of paragraphs that are rows of one table made one clause, at the first one's address."""
    out: list[Clause] = []
    at = 0
    while at < len(clauses):
        rows = _rows(clauses, at)
        if rows:
            out.append(_table(clauses[at], rows))
            at += len(rows)
        else:
            out.append(clauses[at])
            at += 1
    return tuple(out)


def _rows(clauses: Sequence[Clause], at: int) -> list[list[str]]:
    """The cells of the rows that begin with a clause; none where it begins no table."""
    first = clauses[at]
    if not _plain(first) or first.label:
        return []
    text = plain(first.text)
    head = [cell.strip() for cell in _BAR.split(text.strip("| "))] if "|" in text else _headings(text)
    if len(head) < 2:
        return []
    barred = "|" in text
    rows = [head]
    for clause in clauses[at + 1 :]:
        row = _row(clause, len(head), barred) if _plain(clause) else []
        if not row:
            break
        rows.append(row)
    return rows if len(rows) > 2 or (barred and len(rows) == 2 and len(head) > 2) else []


def _row(clause: Clause, width: int, barred: bool) -> list[str]:
    text = plain(clause.text)
    if barred:
        cells = (
            [cell.strip() for cell in _BAR.split(text.strip("| "))]
            if "|" in text and not clause.label
            else []
        )
        return cells if len(cells) == width else []
    numbers = _NUMBERS.search(text)
    if numbers is None:
        return []
    cells = numbers.group().split()
    label = " ".join(filter(None, (clause.label.strip("."), text[: numbers.start()].strip())))
    if len(cells) == width and (not label or label.casefold() == "zone"):
        label = f"{label} {cells.pop(0)}".strip()
    return [label, *cells] if label and len(cells) == width - 1 and len(label.split()) <= _LABEL else []


def _headings(text: str) -> list[str]:
    """The headings that a line is made of and nothing else, the first that of places."""
    found: list[str] = []
    at = 0
    while at < len(text):
        heading = _HEADING.match(text, at)
        if heading is None:
            return []
        found.append(heading.group())
        at = heading.end() + 1
    return found if found and _PLACE.match(found[0]) else []


def _plain(clause: Clause) -> bool:
    """Whether a clause is an ordinary short paragraph, so that it may stand as a row."""
    return (
        clause.table is None
        and not (clause.hidden or clause.flags or clause.spans or clause.deleted or clause.amended)
        and 0 < len(clause.text) <= _LONGEST
    )


def _table(first: Clause, rows: list[list[str]]) -> Clause:
    cells = [
        Cell(text, row, column, header=not row)
        for row, texts in enumerate(rows)
        for column, text in enumerate(texts)
    ]
    return replace(first, text="", table=Table(tuple(cells), len(rows), len(rows[0])))
