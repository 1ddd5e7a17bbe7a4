"""What stands beside a value and is no part of it: a label, what is put aside, a fragment behind the sentence."""

from __future__ import annotations

from collections.abc import Sequence

from cleatmark.spec.lazy import lazily
from cleatmark.spec.reading import Reading
from cleatmark.spec.sentences import Sentence
from cleatmark.spec.wording import word_set


def without_label(sentence: Sentence, reading: Reading, first: int, last: int) -> str:
    """What a phrase that is itself the value says behind its label: "Two-piece" of "Clips: Two-piece"."""
    own = max(first, sentence.first)
    colon = next((at for at in range(last - 1, own - 1, -1) if sentence.lexemes[at].key == ":"), -1)
    written = ""
    if reading.value and colon >= own:
        text = sentence.text[sentence.lexemes[colon + 1].start : sentence.lexemes[last].end]
        written = " ".join(text.split())
    return written


_ASIDE = ("in lieu of", "instead of", "in place of", "rather than")
_OVER = word_set("over above atop under beneath below onto on to")


def put_aside(sentence: Sentence, reading: Reading, first: int, last: int) -> bool:
    """Whether a value is named for something else: what another stands in place of, or the felt that a sheet lies
    over ("over the felt"), which is asked for elsewhere."""
    line = sentence.line
    at = line.item_of(first)
    inside = " ".join(line.items[at : line.item_of(last) + 1]) if first < last else ""
    if reading.value and any(words in inside for words in _ASIDE):
        return True
    if reading.gives.endswith("clip.type") and _at_one_place(
        [one.key for one in sentence.lexemes[last + 1 : last + 5]]
    ):
        return True
    if reading.gives.endswith("clip.type") and [
        one.key for one in sentence.lexemes[max(first - 2, 0) : first]
    ] == [
        "except",
        "one",
    ]:
        return True
    if not reading.gives.endswith("underlayment.type") or at < 2:
        return False
    if line.items[at - 1] == "between":
        return True
    return line.items[at - 1] == "the" and line.items[at - 2] in _OVER


_ONE_PLACE = word_set("ridge eave peak hip point midpoint end")


def _at_one_place(after: Sequence[str]) -> bool:
    """Whether what follows puts a clip at one place of the panel, where others hold the rest of it."""
    return after[:1] == ["at"] and not _ONE_PLACE.isdisjoint(after[1:])


WHOLE_WORD = lazily(r"[A-Za-z]{4,}\.$")
"""A word, not an abbreviation, before the full stop that ends the sentence."""
_VERB_BEHIND = lazily(r"\s*(Tested|Listed|Approved)\b[^.;]{0,40}(?:\.|$)", needs="Approved|Listed|Tested")


def verb_behind(sentence: Sentence) -> str:
    """The verb of a fragment that goes on with the sentence: "UL 580, Class 90. Tested, not calculated."."""
    found = _VERB_BEHIND.match(sentence.text, sentence.lexemes[-1].end)
    return found[1].casefold() if found else ""
