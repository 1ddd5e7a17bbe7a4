"""Findings put in the order in which they are told: one root cause, one numbered item."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from cleatmark.review.model import Finding, Review

ACTIONS = ("stop", "resubmit", "correct", "record")
STOPS, DEVIATES, NOT_SHOWN = "stops", "deviates", "not shown"
_PARTS = (STOPS, DEVIATES, NOT_SHOWN)
_VERDICTS = ("deviates", "not shown", "complies", "does not apply")


class Item(Struct, frozen=True):
    """One root cause.

    part     stops, deviates or not shown: the part of the report it is told in
    head     the finding that heads it
    follows  what follows from it and is told nowhere before
    again    findings that follow from it too but are told under another item: title and that item's number
    action   the gravest action of all that follows from it, told here or elsewhere
    """

    number: int
    part: str
    cause: str
    title: str
    head: Finding
    follows: tuple[Finding, ...]
    again: tuple[tuple[str, int], ...] = ()
    action: str = ""


class _Group(Struct):
    cause: str
    title: str
    members: list[Finding]


def is_open(finding: Finding) -> bool:
    """Whether the finding leaves something to be done."""
    return finding.verdict in ("deviates", "not shown")


def _groups(review: Review) -> list[_Group]:
    groups = []
    for root in review.root_causes:
        members = [finding for finding in (root.head, *root.follows) if is_open(finding)]
        if members:
            groups.append(_Group(root.cause, root.title, members))
    told = {finding for group in groups for finding in map(_key, group.members)}
    for finding in review.findings:
        if is_open(finding) and _key(finding) not in told:
            groups.append(_Group(finding.rule, finding.title, [finding]))
    return groups


def _key(finding: Finding) -> tuple[str, ...]:
    names = (finding.rule, finding.roof, finding.zone, finding.document, finding.run)
    return (*names, finding.verdict, finding.message)


def _part(members: Iterable[Finding]) -> str:
    members = tuple(members)
    if any(member.action == "stop" for member in members):
        return STOPS
    return DEVIATES if any(member.verdict == "deviates" for member in members) else NOT_SHOWN


def _gravest(members: Iterable[Finding]) -> str:
    asked = {member.action for member in members}
    return next((action for action in ACTIONS if action in asked), "")


def _rank(group: _Group) -> tuple[int, int, int]:
    head = group.members[0]
    action = ACTIONS.index(head.action) if head.action in ACTIONS else len(ACTIONS)
    return _PARTS.index(_part(group.members)), 0 if head.verdict == "deviates" else 1, action


def items(review: Review) -> tuple[Item, ...]:
    """What stops fabrication first, then the other deviations, then what is not shown.

    A finding that two causes share is told under the first of them and named under the other.
    """
    told: dict[tuple[str, ...], int] = {}
    made: list[Item] = []
    for group in sorted(_groups(review), key=_rank):
        new = [member for member in group.members if _key(member) not in told]
        if not new:
            continue
        number = len(made) + 1
        head, *follows = new
        again = tuple((member.title, told[_key(member)]) for member in group.members if _key(member) in told)
        told.update((_key(member), number) for member in new)
        title = group.title if head is group.members[0] else head.title
        made.append(
            Item(
                number,
                _part(group.members),
                group.cause,
                title or head.title,
                head,
                tuple(follows),
                again,
                _gravest(group.members),
            )
        )
    return tuple(made)


def numbers_of(rules: Iterable[str], told: Iterable[Item]) -> tuple[int, ...]:
    """The numbers of the items in which the rules are told."""
    wanted = set(rules)
    return tuple(
        item.number for item in told if wanted & {item.head.rule, *(finding.rule for finding in item.follows)}
    )


def number_of(finding: Finding, told: Iterable[Item]) -> int:
    """The number of the item in which the finding is told; 0 where it is told in none."""
    key = _key(finding)
    return next((item.number for item in told if key in map(_key, (item.head, *item.follows))), 0)


def in_reading_order(findings: Iterable[Finding], told: tuple[Item, ...]) -> list[tuple[Finding, int]]:
    """Each finding with its item's number: the items' in their order, then what complies, then the rest."""

    def rank(pair: tuple[Finding, int]) -> tuple[bool, int, int]:
        verdict = pair[0].verdict
        return not pair[1], pair[1], _VERDICTS.index(verdict) if verdict in _VERDICTS else len(_VERDICTS)

    return sorted(((finding, number_of(finding, told)) for finding in findings), key=rank)
