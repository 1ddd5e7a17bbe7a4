"""The finished pre-screen: what a specification asks, what is to be asked before bidding, and each system on file."""

from __future__ import annotations

from msgspec import Struct

from cleatmark.facts import Stated
from cleatmark.review.model import Advice, Amendment, JobHead, Request, RulebookHead

MEETS, CHANGES, NOT, UNREAD = "meets and holds", "with changes", "not", "not read"
OUTCOMES = (MEETS, CHANGES, NOT, UNREAD)
"""What a pre-screen says of a system, in the order in which it is told."""


class AskedFor(Struct, frozen=True):
    """What is asked of one part of the roof ("Panel"): a title for each subject, with its requirements."""

    title: str
    subjects: tuple[tuple[str, tuple[Stated, ...]], ...]


class PrescreenHead(Struct, frozen=True):
    """All of a pre-screen but the systems. Nothing in it depends on what is on file."""

    job: JobHead
    rulebooks: tuple[RulebookHead, ...]
    asked: tuple[AskedFor, ...]
    questions: tuple[Request, ...]
    advice: tuple[Advice, ...]
    amendments: tuple[Amendment, ...]
    notices: tuple[str, ...]
    cautions: tuple[str, ...]


class SystemChange(Struct, frozen=True):
    """One change that a system needs: from what is on file to what it would be; zones () for all."""

    title: str
    before: str
    to: str
    zones: tuple[str, ...] = ()


class Screened(Struct, frozen=True):
    """One system on file.

    file      beside the folder, with /
    digest    of the file's bytes
    outcome   one of OUTCOMES
    verdict   of the requirement that decides: complies, deviates or not shown
    rule      the requirement that decides, with its title; `where` it is asked, `basis` it stands on
    told      what it says, in a sentence
    zone      the roof zone that decides, where one does
    headroom  what is left of the allowable over the demand, as a part of it (0.3 for 70 % used), with the changes
              made; negative where it falls short, None where no uplift was compared
    also      titles of the other requirements that are open
    changes   that turn every requirement, and nothing worse
    problems  why the file could not be read
    """

    file: str
    digest: str
    outcome: str
    id: str = ""
    title: str = ""
    maker: str = ""
    asked: str = ""
    site: str = ""
    verdict: str = ""
    rule: str = ""
    rule_title: str = ""
    basis: str = ""
    told: str = ""
    where: tuple[str, ...] = ()
    margin: str = ""
    zone: str = ""
    headroom: float | None = None
    also: tuple[str, ...] = ()
    changes: tuple[SystemChange, ...] = ()
    problems: tuple[str, ...] = ()


def order(one: Screened) -> tuple[int, int, float, int, str]:
    """By outcome, then headroom, the largest first; what deviates after what is only not shown; then by name."""
    spare = -one.headroom if one.headroom is not None else float("inf")
    deviates = one.outcome == NOT and one.verdict == "deviates"
    return OUTCOMES.index(one.outcome), int(deviates), spare, len(one.changes), one.file
