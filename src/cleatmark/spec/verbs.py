"""Whether a value is asked for as tested, listed or approved, by its own predicate."""

from __future__ import annotations

from collections.abc import Sequence

from cleatmark.spec import denial
from cleatmark.spec.lazy import lazily
from cleatmark.spec.lines import Line
from cleatmark.spec.segments import segment, segment_end

_BY = r"(?: (?:for|as to)(?: (?:and )?(?!by)\S+){1,4})? by(?!\S)"
"""A body that evaluates, and what for, approves."""
_VERBS = tuple(
    (name, lazily(rf"(?<!\S)(?:{words})(?!\S)"))
    for name, words in (
        ("tested", rf"tested|testing|test|determined|test report|evaluated(?!{_BY})"),
        ("listed", "listed|listing|labeled|label|labelled|classified|classification|directory"),
        ("approved", rf"approved|approval|notice of acceptance|noa|evaluation|evaluated(?={_BY})"),
    )
)
_LISTED_AS_TESTED = lazily(
    r"(?<!\S)(?:listed|labeled|classified)(?: \S+){0,8}? as (?:having been |being )?tested(?!\S)"
)
_AUXILIARIES = frozenset(["shall", "must", "will", "has", "have", "is", "are", "to"])
_DENIED_BEFORE = lazily(
    r"(?<!\S)(?:not|no|never|without|in lieu of|instead of)(?: (?:be|merely|only|been|further|additional|simply))* $",
    needs="in lieu of|instead of|never|no|without",
)
_DENIED_AFTER = lazily(
    r" (?:is|are|need|will|shall|was) not (?:be )?(?:required|needed|necessary|done)(?!\S)"
)


def verb(line: Line, first: int, last: int) -> str:
    """tested, listed or approved: the nearest of them to the value in its sentence, "" where there is none.

    The value's own predicate goes before those of its neighbours: "has a class 90 rating and shall have been tested to
    another standard" does not say that the class was tested. What is denied ("testing is not required") is no verb.
    """
    items = line.items
    low, high = segment(items, first), segment_end(items, last)
    stop = next((at for at in range(last + 1, high) if _new_predicate(items, at)), high)
    if not any(item[:1] == "§" for item in items[stop:high]):
        stop = high
    for start, end in (
        (low, stop),
        (0, stop),
        (low, _sharing(items, high) if stop == segment_end(items, last) else stop),
    ):
        found = _verb_between(items[start:end], first - start, last - start)
        if found:
            return found
    return ""


def _verb_between(items: Sequence[str], first: int, last: int) -> str:
    text, at, end = _placed(items, first, last)
    if (whole := _LISTED_AS_TESTED.search(text)) and whole.end() <= at:
        return "listed"
    best, found = 10_000, ""
    for name, pattern in _VERBS:
        for match in pattern.finditer(text):
            if _DENIED_AFTER.match(text, match.end()):
                continue
            if _DENIED_BEFORE.search(text[: match.start()]) and not denial.refusal_follows(text[end:]):
                continue
            gap = max(at - match.end(), match.start() - end, -1)
            if gap < best:
                best, found = gap, name
    return found


def _new_predicate(items: Sequence[str], at: int) -> bool:
    """Whether a second predicate begins: "and shall", "and has been"."""
    return items[at] in ("and", "but") and at + 1 < len(items) and items[at + 1] in _AUXILIARIES


def _sharing(items: Sequence[str], high: int) -> int:
    """Where the part behind a semicolon ends, if it says no subject of its own: "Class 90; tested by others"."""
    if high + 1 < len(items) and any(pattern.match(items[high + 1]) for _, pattern in _VERBS):
        return segment_end(items, high)
    return high


def _placed(items: Sequence[str], first: int, last: int) -> tuple[str, int, int]:
    head = " ".join(items[:first])
    text = " ".join(items)
    return text, len(head), len(" ".join(items[: last + 1]))
