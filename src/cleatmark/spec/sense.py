"""What the words around a value make of it: a bound, a prohibition, a permission, a level, a direction."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from cleatmark.spec import denial
from cleatmark.spec.lazy import lazily
from cleatmark.spec.lexemes import Lexeme
from cleatmark.spec.lines import Line

_NOWHERE = (
    r"(?:nowhere|never|(?:at|in) no (?:\S+ )?(?:zone|case|event|instance|point|place|location|area))"
    r"(?: (?:be|to|spaced|placed|set))*"
)
_BELOW = r"(?:below|under|less than|flatter than)"
_LOW = (
    r"minimum|min|at least|in no (?:case|event|instance) (?:be )?(?:less|lighter|thinner|smaller|lower) than|"
    r"(?:not|no|nor) (?:(?:be|taken|assumed|considered|as|to) ){0,3}(?:less|lower|lighter|thinner|smaller|"
    r"narrower|fewer|shorter|flatter) than|"
    rf"{_NOWHERE} (?:less|lower|lighter|thinner|smaller|closer|narrower) than|"
    rf"not (?:be )?(?:used|installed|laid|permitted|allowed)(?: (?:on|at|for)(?: \S+){{1,3}}?)? {_BELOW}|"
    r"not less|equal to or (?:greater|better|heavier) than|(?:greater|more|larger|heavier|better) than or equal to|"
    r"down to|meet or exceed|meeting or exceeding|(?:lighter|thinner|less|lower|smaller) than"
)
_HIGH = (
    r"maximum|max|in no (?:case|event|instance) (?:be )?(?:(?:more|greater|larger|wider|farther) than|exceed(?:ing)?)|"
    r"(?:not|no|nor) (?:\S+ ){0,2}(?:more|greater|larger|wider|farther|higher|longer|heavier) than|not over|"
    r"(?:shall |will |to |must )?(?:not|never) (?:to )?exceed(?:ing)?|not in excess of|up to|less than or equal to|"
    r"(?:limited|limit) to|no farther apart than|"
    rf"{_NOWHERE} (?:more|greater|larger|wider|farther|exceed|exceeding)(?: apart)?(?: than)?|"
    r"(?:greater|wider|more|larger|farther|higher) than|exceeding|over"
)
_BOUND_BEFORE = lazily(rf"(?<!\S)(?:(?P<low>{_LOW})|(?P<high>{_HIGH}))(?!\S)")
_NOT_ASKED = lazily(r"^(?:\S+ ){0,3}?(?:is|are|,) not (?:required|needed|necessary|part)(?!\S)")
_NOT_ENOUGH = lazily(
    r"(?<!\S)(?:do|does|shall|will|is|are|can|may)(?: \S+)? not (?:satisfy|meet|fulfill|constitute|take the place|"
    r"substitute for|"
    r"replace|relieve|suffice|sufficient|apply|considered evidence)(?!\S)"
)
_BOUND_AFTER = lazily(
    r"^(?: ,)?(?: (?:oc|thick|wide|high|deep|nominal|in|thickness|coverage|psf|apart|on center|each|gauge|clear|yield|"
    r"strength|uncoated|base metal|spacing|rating|rated|year|metal|steel|"
    r"aluminum|sheet|class|of|width|height|uplift)){0,4}?"
    r"(?: ,)? (?:(?:(?:is|are|be) )?(?:the )?(?P<low>minimum|min|"
    r"(?:or|and|nor) (?:greater|more|better|heavier|higher|thicker|larger|above|longer|steeper|over|up))"
    r"|(?P<high>maximum|max|(?:or|and) (?:less|flatter|below|under|fewer|closer|lower|tighter|narrower|smaller)))"
    r"(?!\S)(?! <)"
)
_BARE_HIGH = lazily(r"^(?:less than|thinner than|lighter than|lower than|smaller than)$")
_BEYOND = lazily(r"(?<!\S)(?:(?P<low>below|under|short of)|(?P<high>in excess of|above|beyond|over))$")
_BARE_LOW = lazily(r"^(?:greater|wider|more|larger|farther|higher) than$|^exceeding$|^over$")
_AS_THAT = lazily(
    r"(?<!\S)(?:not be (?:accepted|considered|acceptable|used|permitted|allowed)|not (?:acceptable|permitted|allowed)|"
    r"prohibited|unacceptable) (?:as|for|in|over|on|under)(?: \S+){0,3}$"
)
_NEGATED = frozenset(["no", "none", "neither", "nor", "without"])
_INSUFFICIENT = lazily(
    r"(?<!\S)(?:alone|only|by itself|by themselves?|in itself|on its own|solely)(?: \S+)? "
    r"(?:is|are|be|shall|will|may|does|do) not(?!\S)"
)
_MODAL = lazily(
    r"(?<!\S)(?<!as )(?:may(?! require| result| affect| occur)|should|(?:is|are) recommended|recommended(?! by)|"
    r"optional|at (?:the )?(?:contractor|manufacturer|installer|architect)(?: s)? option|"
    r"(?:is|are|be|also|will be) (?:acceptable(?! to)|accepted|permitted|allowed|considered|permissible)|"
    r"acceptable alternate|"
    r"acceptable alternative|for information|preferred|desired)(?!\S)"
)
_SHALL = lazily(r"(?<!\S)(?:shall|must|provide|furnish|install|comply|required)(?!\S)")
_CONDITION = lazily(r"(?<!\S)(?:where|if|when|unless|as|otherwise|not|never) (?:\S+ ){0,3}$")
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
    r"(?<!\S)(?:not|no|never|without|in lieu of|instead of)(?: (?:be|merely|only|been|further|additional|simply))* $"
)
_DENIED_AFTER = lazily(
    r" (?:is|are|need|will|shall|was) not (?:be )?(?:required|needed|necessary|done)(?!\S)"
)
_LEVEL = lazily(
    r"(?<!\S)(?:(?P<allowable>asd|allowable(?: stress)?(?: design)?|service(?: level| load)?|"
    r"working stress|nominal wind pressure)|(?P<strength>lrfd|strength (?:level|design|based)|(?<=pressure )strength|"
    r"(?<=load )strength|ultimate|factored|"
    r"load and resistance factor|strength pressure))(?!\S)"
)
_SPEED = lazily(r"(?<!\S)(?:speed|velocity|vult|vasd|v|mph|<speed[^ ]*)(?!\S)")
_DOWN = r"inward(?:ly)?|positive|downward|pushing|toward"
_UP = r"outward(?:ly)?|negative|uplift|suction|upward|away"
_BOTH = lazily(
    rf"(?<!\S)(?:(?:{_DOWN}) (?:and|or|and/or)(?: \S+)? (?:{_UP})|(?:{_UP}) (?:and|or|and/or)(?: \S+)? (?:{_DOWN})|"
    r"(?:either|both) directions?|plus or minus|inward outward|positive negative)(?!\S)"
)
_DIRECTION = lazily(rf"(?<!\S)(?:(?P<down>{_DOWN})|(?P<up>{_UP}))(?!\S)")
_BASIS = tuple(
    (name, lazily(rf"(?<!\S)(?:{words})(?!\S)"))
    for name, words in (
        (
            "minimum base metal",
            "base metal|uncoated|bare metal|base steel|before coating|exclusive of coating",
        ),
        ("minimum coated", "minimum coated|total coated|coated thickness|including coating"),
        ("nominal", "nominal(?:ly)?"),
    )
)


class Sense(Struct, frozen=True):
    """relation: at least, at most, prohibited, "replaced" (the value is named to be put aside), or "" where no
    word tells; `optional` where the sentence only permits."""

    relation: str = ""
    optional: bool = False


def sense(
    line: Line,
    lexemes: Sequence[Lexeme],
    first: int,
    last: int,
    *,
    amount: bool,
    own: int = 0,
    subject: str = "",
    name: str = "",
) -> Sense:
    """What the sentence makes of the value at items first..last. `amount`: whether it is a quantity; `own`: the item
    with which the sentence's own words begin, behind those that lead to it; `subject`: what it is a value of, without
    `spec.`; `name`: a fixed value that the phrase stands for ("plywood")."""
    segment = _segment(line.items, first)
    stop = _segment_end(line.items, last)
    before, after = line.items[segment:first], _with_commas(line, lexemes, last + 1, stop)
    value = line.items[first : last + 1]
    if _NOT_ASKED.search(" ".join(after[:12])) or _NOT_ENOUGH.search(" ".join(line.items[segment:stop])):
        return Sense("replaced")
    if _INSUFFICIENT.search(" ".join(after)) or _AS_THAT.search(" ".join(before)):
        return Sense("replaced")
    ahead, behind = " ".join(_with_commas(line, lexemes, segment, first, ends=True)), " ".join(after)
    if denial.only_named(line, ahead, value, behind, subject, amount=amount):
        return Sense("replaced")
    near = _window(_without_closed(ahead))
    bound, words = _bound(near, after) if amount else ("", "")
    if amount and not bound and own:
        bound, words = _led(line.items[:own])
    if amount and not bound:
        bound, words = _shared(line.items, first, own)
    refused = denial.refused(ahead, value, behind, amount=amount)
    optional = (
        refused is False
        and not denial.singled_out(ahead)
        and value[0] not in _NEGATED
        and _optional(before, after)
    )
    if refused:
        if amount and words and _BARE_HIGH.match(words):
            return Sense("at least")
        if amount and words and _BARE_LOW.match(words):
            return Sense("at most")
        if bound and not words.endswith("than"):
            return Sense(bound)
        if amount and (side := _BEYOND.search(" ".join(before[-3:]))):
            return Sense("at least" if side["low"] else "at most")
        if subject.startswith("warranty.") or (not amount and denial.qualified(ahead, value, name)):
            return Sense("replaced")
        return Sense("prohibited")
    if refused is False and not amount and (told := denial.lacked(ahead, value, subject)):
        return Sense(told)
    if optional and subject.startswith(("approval", "listing_body")) and denial.held(ahead):
        return Sense("replaced")
    if words and _BARE_HIGH.match(words):
        bound = "at most"
    elif words and _BARE_LOW.match(words):
        bound = "at least" if words not in ("over", "exceeding") else ""
    return Sense(bound, optional)


def verb(line: Line, first: int, last: int) -> str:
    """tested, listed or approved: the nearest of them to the value in its sentence, "" where there is none.

    The value's own predicate goes before those of its neighbours: "has a class 90 rating and shall have been tested to
    another standard" does not say that the class was tested. What is denied ("testing is not required") is no verb.
    """
    items = line.items
    low, high = _segment(items, first), _segment_end(items, last)
    stop = next((at for at in range(last + 1, high) if _new_predicate(items, at)), high)
    if not any(item[:1] == "§" for item in items[stop:high]):
        stop = high
    for start, end in (
        (low, stop),
        (0, stop),
        (low, _sharing(items, high) if stop == _segment_end(items, last) else stop),
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
        return _segment_end(items, high)
    return high


_TOLD = {
    "strength": "strength",
    "ultimate": "strength",
    "lrfd": "strength",
    "factored": "strength",
    "asd": "allowable",
    "allowable": "allowable",
    "unfactored": "allowable",
    "service": "allowable",
}


def level(items: Sequence[str], first: int = -1) -> str:
    """allowable, strength or "": the level that a sentence gives its pressures, not its wind speed."""
    if 0 <= first < len(items) - 1 and (told := _TOLD.get(items[first + 1])):
        return told
    text = " ".join(items)
    at = len(" ".join(items[:first])) if first >= 0 else len(text)
    best, found = 10_000, ""
    for match in _LEVEL.finditer(text):
        around = text[max(match.start() - 14, 0) : match.start()] + " " + text[match.end() : match.end() + 32]
        near_speed = _SPEED.search(" ".join(around.split()[:8]))
        near_pressure = re.search(r"(?<!\S)(?:pressure|load|uplift|psf|<pressure[^ ]*)(?!\S)", around)
        if near_speed and not (near_pressure and near_pressure.start() < near_speed.start()):
            continue
        if text[match.end() : match.end() + 9].startswith((" deflect", " yield", " tensile")):
            continue
        gap = abs(match.start() - at)
        if gap < best:
            best, found = gap, str(match.lastgroup)
    return found


def speed_level(items: Sequence[str], first: int, last: int) -> str:
    """The level of a wind speed: ultimate (strength) or nominal (allowable)."""
    ahead: list[str] = []
    for item in reversed(items[max(first - 6, 0) : first]):
        if item[:1] in "<;":
            break
        ahead.insert(0, item)
    behind: list[str] = []
    for item in items[last + 1 : last + 4]:
        if item[:1] in "<;" or item in ("vult", "vasd", "and"):
            break
        behind.append(item)
    speeds = [index for index, item in enumerate(items) if item.startswith("<speed")]
    follows = bool(speeds) and speeds[0] < first and not _level_word(items[max(speeds[0] - 6, 0) : speeds[0]])
    return next(filter(None, map(_level_word, (behind, ahead) if follows else (ahead, behind))), "")


def _level_word(items: Sequence[str]) -> str:
    text = " ".join(items)
    if re.search(r"(?<!\S)(?:ultimate|vult|strength|v ult)(?!\S)", text):
        return "strength"
    if re.search(r"(?<!\S)(?:nominal|vasd|asd|allowable|v asd)(?!\S)", text):
        return "allowable"
    return ""


def directions(items: Sequence[str], first: int, last: int, start: int = 0) -> tuple[str, ...]:
    """The directions of a pressure: ("up",), ("down",), both, or () where no word tells.

    `start` is the first item of the sentence's own words.
    """
    after: list[str] = []
    for item in items[last + 1 : last + 9]:
        if item.startswith(("<pressure", ";")):
            break
        after.append(item)
    before: list[str] = []
    for item in reversed(items[max(first - 10, start) : first]):
        if item == ";":
            break
        before.insert(0, item)
    behind, ahead = " ".join(after), " ".join(before)
    if _BOTH.search(behind):
        return ("down", "up")
    close = _DIRECTION.search(" ".join(after[:4]))
    if close:
        return (str(close.lastgroup),)
    if _BOTH.search(ahead):
        return ("down", "up")
    found = list(_DIRECTION.finditer(ahead))
    if found:
        return (str(found[-1].lastgroup),)
    whole = " ".join(items[start:])
    if _BOTH.search(whole):
        return ("down", "up")
    ways = {str(match.lastgroup) for match in _DIRECTION.finditer(whole)}
    return tuple(ways) if len(ways) == 1 else ()


def basis(items: Sequence[str], first: int, last: int) -> str:
    """The basis of a thickness, by the words beside it."""
    before: list[str] = []
    for item in reversed(items[max(first - 6, 0) : first]):
        if item[:1] in "<;":
            break
        before.insert(0, item)
    after: list[str] = []
    for item in items[last + 1 : last + 5]:
        if item[:1] in "<;":
            break
        after.append(item)
    text = " ".join(before + after)
    return next((name for name, pattern in _BASIS if pattern.search(text)), "")


def _with_commas(
    line: Line, lexemes: Sequence[Lexeme], start: int, stop: int, *, ends: bool = False
) -> list[str]:
    """The items start..stop, with a comma where punctuation parts them from the one before; `ends`: also where it
    stands behind the last of them."""
    out: list[str] = []
    for index in range(start, stop):
        if index and index > (start if ends else start - 1) and _parted(line, lexemes, index):
            out.append(",")
        out.append(line.items[index])
    if ends and out and stop < len(line.items) and _parted(line, lexemes, stop):
        out.append(",")
    return out


def _parted(line: Line, lexemes: Sequence[Lexeme], index: int) -> bool:
    return any(
        lexemes[token].key in ",:()" for token in range(line.tokens[index - 1] + 1, line.tokens[index])
    )


_BUT_THAT = frozenset(["nothing", "none"])


def _segment(items: Sequence[str], first: int) -> int:
    for index in range(first - 1, -1, -1):
        if items[index] == ";" or (items[index] == "but" and items[max(index - 1, 0)] not in _BUT_THAT):
            return index + 1
    return 0


def _segment_end(items: Sequence[str], last: int) -> int:
    for index in range(last + 1, len(items)):
        if items[index] in (";", "but"):
            return index
    return len(items)


_CLOSED = lazily(
    r"(?P<first><(?!zone|defer|none)\S+(?: [^\s,<]+){0,3}) "
    r"(?:minimum|min|maximum|max|or (?:more|less|greater|better))(?: [^\s,<]+){0,2} ,"
)


def _without_closed(ahead: str) -> list[str]:
    """The words before a value without commas, and without a bound that a comma closes behind an earlier value:
    "18 inches wide maximum, 1-1/2 inch seams"."""
    return [item for item in _CLOSED.sub(r"\g<first>", ahead).split() if item != ","]


_NEGATIONS = frozenset(["not", "no", "nor"])
_MOST_BETWEEN = 3


def _window(before: Sequence[str]) -> list[str]:
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


def _bound(before: Sequence[str], after: Sequence[str]) -> tuple[str, str]:
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


def _shared(items: Sequence[str], first: int, own: int) -> tuple[str, str]:
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
    return _bound(_window(items[own:head]), [])


_WITH = lazily(r"(?<!\S)(?:including|based|using)(?!\S)")


def _led(lead: Sequence[str]) -> tuple[str, str]:
    """The bound that the words leading to a list give its items: "not less than the following pressures:"."""
    text = " ".join(lead)
    found = list(_BOUND_BEFORE.finditer(text))
    if not found:
        return "", ""
    behind = _WITH.split(text[found[-1].end() :])[0].split()
    if any(item[:1] == "<" and not item.startswith(("<area", "<zone")) for item in behind):
        return "", ""
    return ("at least" if found[-1]["low"] else "at most"), found[-1].group()


def _optional(before: Sequence[str], after: Sequence[str]) -> bool:
    ahead, behind = " ".join(before), " ".join(after)
    modal = [m for m in _MODAL.finditer(ahead) if not _CONDITION.search(ahead[: m.start()])]
    shall = list(_SHALL.finditer(ahead))
    if modal and not (shall and shall[-1].start() > modal[-1].start()):
        return True
    later = _MODAL.search(behind)
    if later and not shall and not _CONDITION.search(behind[: later.start()]):
        return not _SHALL.search(behind[: later.start()])
    return False


def _placed(items: Sequence[str], first: int, last: int) -> tuple[str, int, int]:
    head = " ".join(items[:first])
    text = " ".join(items)
    return text, len(head), len(" ".join(items[: last + 1]))
