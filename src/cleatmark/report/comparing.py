"""The record's two tables: specified, proposed and tested beside each other; and what the specification asks."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import groupby

from cleatmark.facts import Stated
from cleatmark.report import words
from cleatmark.report.blocks import Block, Column, Heading, Paragraph, Row, Table, plain
from cleatmark.report.citing import Links, unbroken
from cleatmark.report.papers import UNTOLD
from cleatmark.report.requirement import MANY, by_zone, requirement
from cleatmark.review.model import Compared, Review

ALIKE = "Proposed as tested, and not specified: "
UNSHOWN = "Proposed, not specified, and not stated of what was tested: "


def comparison(review: Review) -> list[Block]:
    """Specified, proposed and tested beside each other; what nobody asked and nothing differs in, in a line."""
    if not review.comparison:
        return []
    made: list[Block] = [Heading(words.COMPARISON)]
    told = [row for row in review.comparison if not _unasked(row)]
    if told:
        made.append(_table(told))
    for standing, lead in ((("same",), ALIKE), (("not shown", ""), UNSHOWN)):
        listed = [row for row in review.comparison if _unasked(row) and row.to_tested in standing]
        if listed:
            names = "; ".join(f"{_lower(row.title)} {row.proposed}" for row in listed)
            made.append(Paragraph(plain(f"{lead}{names}.")))
    return made


def _unasked(row: Compared) -> bool:
    """Whether the specification does not ask for it and nothing tested differs from it."""
    untested = row.to_tested in ("not shown", "") and row.tested in UNTOLD
    alike = row.to_tested == "same"
    return bool(row.proposed) and not row.specified and not row.installed and (alike or untested)


def _lower(title: str) -> str:
    """The title within a sentence; an abbreviation keeps its capitals."""
    return title if title[1:2].isupper() else title[:1].lower() + title[1:]


def _table(rows: Iterable[Compared]) -> Table:
    rows = tuple(rows)
    installed = any(row.installed for row in rows)
    columns = [
        Column("Property"),
        Column("Specified"),
        Column("Proposed"),
        Column("Tested"),
        *([Column("Installed")] if installed else []),
        Column("To specified"),
        Column("To tested"),
    ]
    made = []
    for row in rows:
        clause = f" [{row.clause}]" if row.clause else ""
        standing = f"{row.to_specified} (declared)" if row.declared else row.to_specified
        cells = [
            plain(row.title),
            (*plain(row.specified or "—"), *plain(clause, "where")),
            plain(row.proposed or "not shown"),
            plain(row.tested or "—"),
            *([plain(row.installed or "—")] if installed else []),
            plain(standing or "—", _weight(row.to_specified)),
            plain(row.to_tested or "—", _weight(row.to_tested)),
        ]
        made.append(Row(tuple(cells)))
    return Table("Tested stands for the nearest run", tuple(columns), tuple(made))


def _weight(standing: str) -> str:
    return "strong" if standing in ("unsafe side", "different kind") else ""


def stated(review: Review, links: Links) -> list[Block]:
    """What the specification asks, clause by clause: what was read there, and its words."""
    if not review.stated:
        return []
    columns = (Column("Clause"), Column("What was read"), Column("Words"))
    rows = []
    numbered = enumerate(review.stated, 1)
    for _, group in groupby(numbered, key=lambda pair: (pair[1].citation.where, pair[1].quote)):
        members = list(group)
        first, one = members[0]
        where = one.citation.where or one.clause
        anchor = f"stated-{first}" if links.stated.get(one.citation.where) == f"stated-{first}" else ""
        read = _several([member for _, member in members])
        also = "".join(f"; {unbroken(cited.where)}" for cited in one.also)
        rows.append(
            Row((plain(f"{unbroken(where)}{also}", "where"), plain(read), plain(one.quote, "quote")), anchor)
        )
    return [Heading(words.STATED), Table("", columns, tuple(rows))]


def _several(members: list[Stated]) -> str:
    """What was read in one clause, a subject once: "uplift pressure: -32.3 psf (Field); -19.6 psf (Field)"."""
    told = []
    for subject, group in groupby(members, key=lambda one: one.subject):
        of_one = list(group)
        zoned = len(of_one) > MANY and all(one.zone and one.area for one in of_one)
        values = by_zone(of_one) if zoned else map(requirement, of_one)
        told.append(f"{words.subject(subject)}: {'; '.join(values)}")
    return ". ".join(told)
