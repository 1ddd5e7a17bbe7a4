"""What bounds an amount: "not less than", "18 inches maximum", and the bound that a whole list shares."""

from __future__ import annotations

from collections.abc import Sequence

from cleatmark.spec.lazy import lazily

_NOWHERE = (
    r"(?:nowhere|never|(?:(?:at|in) )?no (?:\S+ )?(?:zone|case|event|instance|point|place|location|area))"
    r"(?: (?:be|to|spaced|placed|set|shall|taken|as|wind|uplift|pressure|the|design))*"
)
_BELOW = r"(?:below|under|less than|flatter than)"
_LOW = (
    r"minimum|min|at least|in no (?:case|event|instance) (?:be )?(?:less|lighter|thinner|smaller|lower) than|"
    r"(?:not|no|nor) (?:(?:be|taken|assumed|considered|as|to) ){0,3}(?:less|lower|lighter|thinner|smaller|"
    r"narrower|fewer|shorter|flatter) than|"
    rf"{_NOWHERE} (?:less|lower|lighter|thinner|smaller|closer|narrower) than|"
    rf"not (?:be )?(?:used|installed|laid|permitted|allowed)(?: (?:on|at|for)(?: \S+){{1,3}}?)? {_BELOW}|"
    r"not less|equal to or (?:greater|better|heavier) than|(?:greater|more|larger|heavier|better) than or equal to|"
    r"down to|as (?:low|little|small|flat|thin) as|meet or exceed|meeting or exceeding|"
    r"(?:lighter|thinner|less|lower|smaller) than"
)
_HIGH = (
    r"maximum|max|in no (?:case|event|instance) (?:be )?(?:(?:more|greater|larger|wider|farther) than|exceed(?:ing)?)|"
    r"(?:not|no|nor) (?:\S+ ){0,2}(?:more|greater|larger|wider|farther|higher|longer|heavier) than|not over|"
    r"(?:shall |will |to |must )?(?:not|never) (?:to )?exceed(?:ing)?|not in excess of|up to|"
    r"as (?:high|steep|much) as|less than or equal to|"
    r"(?:limited|limit) to|no farther apart than|"
    rf"{_NOWHERE} (?:more|greater|larger|wider|farther|exceed|exceeding)(?: apart)?(?: than)?|"
    r"(?:greater|wider|more|larger|farther|higher) than|exceeding|over"
)
_BOUND_BEFORE = lazily(rf"(?<!\S)(?:(?P<low>{_LOW})|(?P<high>{_HIGH}))(?!\S)")
_BOUND_AFTER = lazily(
    r"^(?: ,)?(?: (?:oc|thick|wide|high|deep|nominal|in|thickness|coverage|psf|apart|on center|each|gauge|clear|yield|"
    r"strength|uncoated|base metal|spacing|rating|rated|year|metal|steel|"
    r"aluminum|sheet|class|of|width|height|uplift)){0,4}?"
    r"(?: ,)? (?:(?:(?:is|are|be) )?(?:the )?(?P<low>minimum|min|"
    r"(?:or|and|nor) (?:greater|more|better|heavier|higher|thicker|larger|above|longer|steeper|over|up))"
    r"|(?P<high>maximum|max|(?:or|and) (?:less|flatter|below|under|fewer|closer|lower|tighter|narrower|smaller)))"
    r"(?!\S)(?! <)"
)
_CLOSED = lazily(
    r"(?P<first><(?!zone|defer|none)\S+(?: [^\s,<]+){0,3}) "
    r"(?:minimum|min|maximum|max|or (?:more|less|greater|better))(?: [^\s,<]+){0,2} ,"
)


def without_closed(ahead: str) -> list[str]:
    """The words before a value without commas, and without a bound that a comma closes behind an earlier value:
    "18 inches wide maximum, 1-1/2 inch seams"."""
    return [item for item in _CLOSED.sub(r"\g<first>", ahead).split() if item != ","]


_NEGATIONS = frozenset(["not", "no", "nor"])
_MOST_BETWEEN = 3


def window(before: Sequence[str]) -> list[str]:
    """The words that may bound the value: back to the last other quantity, eight at most, and the "not" of "not less
    than" that stands right before them."""
    window: list[str] = []
    for item in reversed(before[-8:]):
        if item[:1] == "<" and not item.startswith(("<zone", "<defer", "<none")):
            return window
        window.insert(0, item)
    ahead = list(before[-8 - _MOST_BETWEEN : -8])
    negated = next((at for at in range(len(ahead) - 1, -1, -1) if ahead[at] in _NEGATIONS), -1)
    if negated >= 0 and not any(item[:1] == "<" for item in ahead[negated:]):
        window = [*ahead[negated:], *window]
    return window


def bound(before: Sequence[str], after: Sequence[str]) -> tuple[str, str]:
    """at least or at most, and the words that say so, beside a value; ("", "") where none do."""
    behind = _BOUND_AFTER.match(" " + " ".join(after[:7]) + " ")
    if behind:
        return ("at least" if behind["low"] else "at most"), behind["low"] or behind["high"]
    found = list(_BOUND_BEFORE.finditer(" ".join(before)))
    if not found:
        return "", ""
    match = found[-1]
    if match["high"] == "over" and not " ".join(before).endswith("over"):
        return "", ""
    return ("at least" if match["low"] else "at most"), match.group()


_LISTING = frozenset(
    [
        "and",
        "at",
        "in",
        "the",
        "for",
        "on",
        "of",
        "to",
        "along",
        "psf",
        "oc",
        "center",
        ";",
        "both",
        "each",
        "all",
    ]
)


def shared(items: Sequence[str], first: int, own: int) -> tuple[str, str]:
    """The bound that stands before the first of several values told zone by zone: "not less than 30 psf in the field,
    45 psf at the perimeter and 60 psf at corners"."""
    kind = items[first].split("=")[0]
    head, zoned = first, False
    for at in range(first - 1, own - 1, -1):
        item = items[at]
        if item.startswith("<zone"):
            zoned = True
        elif item.split("=")[0] == kind and zoned:
            head, zoned = at, False
        elif item not in _LISTING:
            break
    if head == first:
        return "", ""
    return bound(window(items[own:head]), [])


_AT = frozenset(["at", "in", "on", "for"])


def paired(items: Sequence[str], first: int) -> int:
    """The first of two values that "and" joins, each told for a place of its own; -1 where the value is no such
    second: "below 3:12 at the annex and 1/2:12 at the gymnasium"."""
    if first < 2 or first + 1 >= len(items) or items[first + 1] not in _AT or items[first - 1] != "and":
        return -1
    kind = items[first].split("=")[0]
    for at in range(first - 2, max(first - 2 - _WORDS_OF_A_PLACE, 0), -1):
        if items[at].split("=")[0] == kind:
            return at if items[at + 1] in _AT else -1
        if items[at] == ";" or items[at][:1] in "<§":
            return -1
    return -1


_WORDS_OF_A_PLACE = 6
_WITH = lazily(r"(?<!\S)(?:including|based|using)(?!\S)")


def led(lead: Sequence[str]) -> tuple[str, str]:
    """The bound that the words leading to a list give its items: "not less than the following pressures:"."""
    text = " ".join(lead)
    found = list(_BOUND_BEFORE.finditer(text))
    if not found:
        return "", ""
    behind = _WITH.split(text[found[-1].end() :])[0].split()
    if any(item[:1] == "<" and not item.startswith(("<area", "<zone")) for item in behind):
        return "", ""
    return ("at least" if found[-1]["low"] else "at most"), found[-1].group()
