"""What the words around a value make of it: a bound, a prohibition, a permission, a level, a direction."""

from __future__ import annotations

import re
from collections.abc import Sequence

from msgspec import Struct

from cleatmark.spec import bounds, denial
from cleatmark.spec.lazy import lazily
from cleatmark.spec.lexemes import Lexeme
from cleatmark.spec.lines import Line
from cleatmark.spec.segments import segment, segment_end

_NOT_ASKED = lazily(
    r"^(?:\S+ ){0,3}?(?:(?:is|are|,) not (?:required|needed|necessary|part)|, none(?: required| needed)?)(?!\S)",
    needs=", none|necessary|needed|part|required",
)
_PLACED = frozenset(["over", "on", "onto", "above"])
_NEEDLESS = lazily(r"(?<!\S)not (?:be )?(?:required|needed|necessary)$")
"""Behind which a place tells where some other thing is left out: "underlayment is not required over purlins"."""
_NOT_ENOUGH = lazily(
    r"(?<!\S)(?:do|does|shall|will|is|are|can|may)(?: \S+)? not (?:satisfy|meet|fulfill|constitute|take the place|"
    r"substitute for|"
    r"replace|relieve|suffice|sufficient|apply|considered evidence)(?!\S)",
    needs="apply|considered|constitute|fulfill|meet|place|relieve|replace|satisfy|substitute|suffic",
)
_BARE_HIGH = lazily(
    r"^(?:less than|thinner than|lighter than|lower than|smaller than)$",
    needs="less than|lighter than|lower than|smaller than|thinner than",
)
_BEYOND = lazily(
    r"(?<!\S)(?:(?P<low>below|under|short of|(?:shorter|fewer|narrower) than)|"
    r"(?P<high>in excess of|above|beyond|over|longer than))$"
)
_BARE_LOW = lazily(
    r"^(?:greater|wider|more|larger|farther|higher) than$|^exceeding$|^over$",
    needs="exceeding|farther|greater|higher|larger|more|over|wider",
)
_AS_THAT = lazily(
    r"(?<!\S)(?:not be (?:accepted|considered|acceptable|used|permitted|allowed)|not (?:acceptable|permitted|allowed)|"
    r"prohibited|unacceptable) (?:as|for|in|over|on|under)(?: \S+){0,3}$"
)
_NEGATED = frozenset(["no", "none", "neither", "nor", "without"])
_INSUFFICIENT = lazily(
    r"(?<!\S)(?:alone|only|by itself|by themselves?|in itself|on its own|solely)(?: \S+)? "
    r"(?:is|are|be|shall|will|may|does|do) not(?!\S)",
    needs="alone|by itself|by themselve|in itself|on its own|only|solely",
)
_MODAL = lazily(
    r"(?<!\S)(?<!as )(?:may(?! require| result| affect| occur)|should|(?:is|are) recommended|recommended(?! by)|"
    r"optional|at (?:the )?(?:contractor|manufacturer|installer|architect)(?: s)? option|"
    r"(?:is|are|be|also|will be) (?:acceptable(?! to)|accepted|permitted|allowed|considered|permissible)|"
    r"acceptable alternate|"
    r"acceptable alternative|for information|preferred|desired)(?!\S)"
)
_SHALL = lazily(r"(?<!\S)(?:shall|must|provide|furnish|install|comply|required)(?!\S)")
_CONDITION = lazily(
    r"(?<!\S)(?:where|if|when|unless|as|otherwise|not|never) (?:\S+ ){0,3}$",
    needs="as|if|never|not|otherwise|unless|when|where",
)
_LEVEL = lazily(
    r"(?<!\S)(?:(?P<allowable>asd|allowable(?: stress)?(?: design)?|service(?: level| load)?|"
    r"working stress|nominal wind pressure|unfactored)|"
    r"(?P<strength>lrfd|uls|ultimate limit state|limit state design|"
    r"strength (?:level|design|based)|(?<=pressure )strength|"
    r"(?<=load )strength|ultimate|factored|"
    r"load and resistance factor|strength pressure))(?!\S)",
    needs="allowable|asd|factor|limit state|lrfd|nominal|service|strength|uls|ultimate|working",
)
_SPEED = lazily(r"(?<!\S)(?:speed|velocity|vult|vasd|v|mph|<speed[^ ]*)(?!\S)")
_DOWN = r"inward(?:ly)?|positive|downward|pushing|toward|down(?! to(?!\S))"
_UP = r"outward(?:ly)?|negative|uplift|suction|upward|away|up(?! to(?!\S))"
_BOTH = lazily(
    rf"(?<!\S)(?:(?:{_DOWN}) (?:and|or|and/or)(?: \S+)? (?:{_UP})|(?:{_UP}) (?:and|or|and/or)(?: \S+)? (?:{_DOWN})|"
    r"(?:either|both) directions?|plus or minus|inward outward|positive negative)(?!\S)",
    needs="both|down|either|inward|plus or minus|positive|pushing|toward",
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
    start = segment(line.items, first)
    stop = segment_end(line.items, last)
    before, after = line.items[start:first], _with_commas(line, lexemes, last + 1, stop)
    value = line.items[first : last + 1]
    said = line.items[start:stop]
    if "not" in said and (
        _NOT_ASKED.search(" ".join(after[:12]))
        or _NOT_ENOUGH.search(" ".join(said))
        or _INSUFFICIENT.search(" ".join(after))
    ):
        return Sense("replaced")
    if value[0] in _PLACED and _NEEDLESS.search(" ".join(before)):
        return Sense("replaced")
    if subject != "roof.slope" and _AS_THAT.search(" ".join(before)):
        return Sense("replaced")
    ahead, behind = " ".join(_with_commas(line, lexemes, start, first, ends=True)), " ".join(after)
    if denial.only_named(line, ahead, value, behind, subject, amount=amount):
        return Sense("replaced")
    near = bounds.window(bounds.without_closed(ahead))
    bound, words = bounds.bound(near, after) if amount else ("", "")
    if amount and not bound and own:
        bound, words = bounds.led(line.items[:own])
    if amount and not bound:
        bound, words = bounds.shared(line.items, first, own)
    if amount and not bound and (head := bounds.paired(line.items, first)) >= own:
        return sense(line, lexemes, head, head, amount=True, own=own, subject=subject, name=name)
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
        if not amount and _BARE_HIGH.match(" ".join(before[-2:])):
            return Sense("at least")
        if subject.startswith("warranty.") or (not amount and denial.qualified(ahead, value, behind, name)):
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
    own = list(_DIRECTION.finditer(" ".join(before[-4:])))
    if own and close and after[0] in ("and", "or") and items[last + len(after) + 1 : last + len(after) + 2]:
        return (str(own[-1].lastgroup),)
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
    between, here = line.tokens[index - 1] + 1, line.tokens[index]
    return between < here and any(lexemes[token].key in ",:()" for token in range(between, here))


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
