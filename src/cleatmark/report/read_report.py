"""A specification as read: JSON, and the list that a bidder works from."""

from __future__ import annotations

import textwrap
from itertools import zip_longest

from msgspec import to_builtins

from cleatmark.facts import Stated
from cleatmark.report.amended import told
from cleatmark.report.clean import clean
from cleatmark.report.json_report import Json, stated_json
from cleatmark.review.model import ReadResult

OPEN_FLAGS = (
    "unedited choice",
    "blank",
    "conflict",
    "defers to drawings",
    "delegated design",
    "no value",
    "misuse",
)
_LEAVE = ("prohibited", "optional")
"""Flags of a clause that is neither open nor doubtful: it tells what may not be, or need not be."""
RELATIONS = {
    "at least": "at least ",
    "at most": "at most ",
    "prohibited": "not ",
    "one of": "one of ",
}


def read_json(result: ReadResult) -> Json:
    """The result of `read` as plain dictionaries and lists."""
    return {
        "spec": result.spec,
        "section": result.section,
        "title": result.title,
        "dated": result.dated,
        "stated": [stated_json(item) for item in result.stated],
        "clauses_flagged": [to_builtins(row) for row in result.clauses_flagged],
        "advice": [to_builtins(item) for item in result.advice],
        "notices": list(result.notices),
        "addenda": list(result.addenda),
        "amendments": [to_builtins(item) for item in result.amendments],
    }


def read_text(result: ReadResult, titles: dict[str, str], width: int = 100) -> str:
    """What the specification asks for by subject, then what is open in it and what to ask. Plain text."""
    lines: list[str] = []
    head = " ".join(part for part in (result.section, result.title) if part) or "section without a number"
    dated = f", dated {result.dated}" if result.dated else ""
    dated += f", as amended by {', '.join(result.addenda)}" if result.addenda else ""
    lines += [clean(f"{head} ({result.spec}{dated})"), "═" * min(width, 100), ""]
    groups: dict[str, list[Stated]] = {}
    for item in result.stated:
        groups.setdefault(item.subject, []).append(item)
    lines += _heading("What it asks for", width)
    if not groups:
        lines.append("Nothing was found that this program knows how to read.")
    for subject, items in groups.items():
        lines.append(titles.get(subject, subject))
        for item, following in zip_longest(items, items[1:]):
            told_below = following is not None and _place(item) == _place(following)
            lines += _item(item, width, quoted=not told_below)
    if result.amendments:
        lines += ["", *_heading("What the addenda change", width)]
        for change in result.amendments:
            lines += _wrap("".join(span.text for span in told(change, None, full=True)), width)
    open_items = [item for item in result.stated if set(item.flags) & set(OPEN_FLAGS)]
    left = [row for row in result.clauses_flagged if row.flag not in _LEAVE]
    if open_items or left:
        lines += ["", *_heading("What is open or doubtful", width)]
        for item in open_items:
            flags = ", ".join(item.flags)
            lines += _wrap(
                f"{item.clause}  {titles.get(item.subject, item.subject)}: {flags}: {item.quote}", width
            )
        for row in left:
            detail = f" ({row.detail})" if row.detail else ""
            lines += _wrap(f"{row.flag}{detail}: {row.quote}", width, lead=row.clause)
    if leave := [row for row in result.clauses_flagged if row.flag in _LEAVE]:
        lines += ["", *_heading("What it refuses, or only permits", width)]
        for row in leave:
            lines += _wrap(f"{row.flag}: {row.quote}", width, lead=row.clause)
    if result.advice:
        lines += ["", *_heading("What to ask", width)]
        for advice in result.advice:
            lines += _wrap(advice.message, width, lead=advice.clause or "-")
            if advice.question:
                lines += _wrap(f"Ask the {advice.ask}: {advice.question}", width, indent=15)
    for notice in result.notices:
        lines += ["", *_wrap(notice, width, indent=0)]
    return "\n".join(lines) + "\n"


def _heading(text: str, width: int) -> list[str]:
    return [f"{text} " + "─" * max(0, min(width, 100) - len(text) - 1)]


def _place(item: Stated) -> tuple[str, str]:
    return item.clause, item.quote


def _item(item: Stated, width: int, *, quoted: bool) -> list[str]:
    """One requirement; its quote only under the last of those that one sentence states."""
    value = item.text or "no value"
    relation = RELATIONS.get(item.relation, "")
    if value.casefold().startswith(relation.strip() or "\0"):
        relation = ""
    where = ", ".join(
        part
        for part in (
            item.zone,
            item.area.text if item.area else "",
            item.scope,
            item.roof,
            f"{item.level} level" if item.level else "",
            item.verb,
        )
        if part
    )
    flags = f"  [{', '.join(item.flags)}]" if item.flags else ""
    first = f"{relation}{value}" + (f" ({where})" if where else "") + flags
    quote = _wrap(f"“{item.quote}”", width, indent=15) if quoted else []
    return [*_wrap(first, width, lead=item.clause), *quote]


def _wrap(text: str, width: int, indent: int = 2, lead: str = "") -> list[str]:
    pad = " " * indent
    first = f"{pad}{clean(lead):<12} " if lead else pad
    rest = " " * len(first) if lead else f"{pad}  "
    return textwrap.wrap(clean(text), min(width, 100), initial_indent=first, subsequent_indent=rest) or [""]
