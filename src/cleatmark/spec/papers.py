"""Where a sentence asks for papers or samples, under whatever title: "Send calculations bearing the seal"."""

from __future__ import annotations

from collections.abc import Sequence
from itertools import pairwise

from cleatmark.spec.wording import word_set

_SEND = word_set(
    "send give deliver forward transmit furnish provide supply present hand mail upload email submit"
)
_SENT = word_set(
    "sent given delivered forwarded transmitted furnished provided supplied presented submitted turned"
)
_MODALS = word_set("shall must will to contractor installer manufacturer builder and")
_PAPERS = word_set("sample literature calculation calc report certificate brochure manual certification")
_PAIRS = frozenset(
    [("shop", "drawing"), ("installation", "drawing"), ("erection", "drawing"), ("layout", "drawing"),
     ("product", "data"), ("data", "sheet"), ("maintenance", "data"), ("maintenance", "instruction"),
     ("catalog", "cut"), ("catalog", "data"), ("technical", "data"), ("test", "data"), ("color", "chart"),
     ("color", "chip"), ("warranty", "form")]
)  # fmt: skip
_DRAFTS = word_set("draft copy original specimen signed executed sample")
_CUT = word_set(
    "of for with at in on by from per as that which where when matching conforming complying if until"
)
_FURTHEST, _SUBJECT = 14, 10


def papers_asked_for(items: Sequence[str], start: int = 0) -> tuple[int, int] | None:
    """The items first and last among which a sentence asks for papers or samples: behind a verb of sending that has one
    for its object, or before "shall be sent"; None where it asks for none."""
    for at in range(start, len(items)):
        word = items[at]
        if word in _SEND and (at == start or items[at - 1] in _MODALS or at - start <= _SUBJECT):
            if at > start and items[at - 1] in ("not", "a", "the"):
                continue
            if _papers(_object(items, at + 1)):
                return at, len(items)
        elif word in _SENT and at > start and items[at - 1] == "be":
            asked = _papers(items[start:at][:_SUBJECT]) and items[start] not in _CUT
            return (start, at) if asked else None
    return None


def _object(items: Sequence[str], at: int) -> Sequence[str]:
    """The words of a verb's object: past "to the Architect", and past "copies of", to the first other preposition."""
    if at < len(items) and items[at] == "to":
        at += 2
    end = at
    while end < min(len(items), at + _FURTHEST):
        word = items[end]
        if word == ";" or (
            word in _CUT and not (word == "of" and items[end - 1] in _DRAFTS | {"set", "print"})
        ):
            break
        end += 1
    return items[at:end]


def _papers(words: Sequence[str]) -> bool:
    if not _PAPERS.isdisjoint(words):
        return True
    if any(pair in _PAIRS for pair in pairwise(words)):
        return True
    promised = next((at for at, word in enumerate(words) if word in ("warranty", "guarantee")), -1)
    return promised >= 0 and not _DRAFTS.isdisjoint(words[:promised])
