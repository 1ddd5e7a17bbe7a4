"""The phrases of readings as the proofreader sees them: parts in order, without matching anything.

The specification room matches phrases; the words for value kinds and article kinds are the same there, and a test
keeps them so.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from functools import lru_cache
from itertools import pairwise

from msgspec import Struct

from cleatmark.problems import did_you_mean

SLOTS = {
    "number": ("number", "class", "stress", "thickness"),
    "class": ("class", "number"),
    "rating": ("rating", "class"),
    "length": ("length", "thickness"),
    "thickness": ("thickness", "length"),
    "mils": ("thickness", "length"),
    "pressure": ("pressure",),
    "stress": ("stress",),
    "speed": ("speed",),
    "area": ("area",),
    "slope": ("slope",),
    "ratio": ("ratio",),
    "years": ("duration",),
    "duration": ("duration",),
    "days": ("duration",),
    "standard": (),
    "coating": (),
    "size": ("screw size",),
    "section": (),
    "angle": ("angle", "slope"),
    "percent": ("ratio", "slope"),
    "text": ("class",),
    "word": (),
    "open": ("",),
    "zone": ("",),
}
"""Value kinds of a phrase, each with the kinds of quantity that it can give; text takes them all, "" is any."""

ARTICLES = (
    *("references", "definitions", "related", "summary", "submittals", "quality", "qualifications"),
    *("performance", "warranty", "delivery", "manufacturers", "accessories", "fabrication", "alternates"),
    *(
        "maintenance",
        "walls",
        "mockup",
        "general",
        "products",
        "execution",
        "fastening",
        "clips",
        "conditions",
        "papers",
    ),
    *("parts", "framing", "existing"),
    "listing_conditions",
)
FLAGS = (
    *("reference only", "unedited choice", "blank", "conflict", "defers to drawings", "delegated design"),
    *("misuse", "obsolete standard", "tracked change", "alternate", "prohibited", "optional", "no value"),
    "specifier note",
)
MOST_GAPS = 4
MOST_TOGETHER = 2
GAP_WORDS = 10
_PART = re.compile(
    r"(?P<slot>\{[^{}]*\})|(?P<gap>…|\.\.\.)|(?P<sign>[()|{}])"
    r"|(?P<standard>\b(?:ANSI/)?(?:UL|FM|ASTM|TAS|ASCE|AAMA|CSA|NFPA|ISO|AISI|SPRI|EN)[ -]?[A-Z]?\d[\w.]*)"
    r"|(?P<word>[^\s(){}|…]+)"
)
_VALUE = "a value is written {length} or {number: 30, 60, 90}"
_SLOT = re.compile(r"\{\s*([A-Za-z][\w ]*?)\s*(?::\s*(.*?)\s*)?\}")


class Part(Struct, frozen=True):
    """One part of a phrase: slot, gap, sign, standard or word; `at` counts characters from 0; `depth` how many
    parentheses it stands in, `other` whether it is one of several words to choose from."""

    form: str
    text: str
    at: int
    depth: int = 0


class Fault(Struct, frozen=True):
    """What is wrong in a phrase, where (characters from 0), how far, and the right form."""

    message: str
    help: tuple[str, ...]
    at: int
    span: int = 1


@lru_cache(maxsize=512)
def parts(phrase: str) -> tuple[Part, ...]:
    """The parts of a phrase in order."""
    out: list[Part] = []
    depth = 0
    for match in _PART.finditer(phrase):
        form = match.lastgroup or "word"
        depth -= match.group() == ")"
        out.append(Part(form, match.group(), match.start(), depth))
        depth += match.group() == "("
    return tuple(out)


def slots(phrase: str) -> Iterator[tuple[str, str, Part]]:
    """The value kinds of a phrase with the values they name."""
    for part in parts(phrase):
        match = _SLOT.fullmatch(part.text) if part.form == "slot" else None
        if match:
            yield match[1].strip(), match[2] or "", part


def faults(phrase: str) -> Iterator[Fault]:
    """Everything that is wrong in a phrase by itself."""
    found = parts(phrase)
    if not found:
        yield Fault("the phrase has no words", ('for example: from "class {number: 30, 60, 90}"',), 0)
        return
    yield from _signs(found)
    yield from _values(phrase)
    yield from _gaps(found)


def _signs(found: tuple[Part, ...]) -> Iterator[Fault]:
    opened: list[Part] = []
    for index, part in enumerate(found):
        if part.text == "(":
            opened.append(part)
        elif part.text == ")":
            if not opened:
                yield Fault(
                    "this parenthesis closes nothing in the phrase", ("(a) marks an optional word",), part.at
                )
            else:
                opened.pop()
        elif part.form == "sign" and part.text in "{}":
            yield Fault(
                "a brace of the phrase closes nothing",
                ("a value is written {length} or {number: 30, 60}",),
                part.at,
            )
        elif part.text == "|" and (index in (0, len(found) - 1) or found[index + 1].text in ("|", ")")):
            yield Fault(
                "`|` stands between two words of which either will do",
                ("for example: class|rating",),
                part.at,
            )
    for part in opened:
        yield Fault(
            "the phrase opens a parenthesis and does not close it", ("(a) marks an optional word",), part.at
        )


def _values(phrase: str) -> Iterator[Fault]:
    first = ""
    for kind, allowed, part in slots(phrase):
        span = len(part.text)
        if kind not in SLOTS:
            listed = "value kinds are: " + ", ".join(SLOTS)
            yield Fault(
                f"there is no value kind {{{kind}}}", (*did_you_mean(kind, SLOTS), listed), part.at, span
            )
            continue
        if kind == "zone":
            continue
        if first:
            message = f"a phrase gives one value; {part.text} is a second beside {first}"
            yield Fault(message, ("write a reading for each value",), part.at, span)
        first = first or part.text
        if kind == "text" and not allowed.strip():
            yield Fault("{text} names no words", ("for example: {text: plywood, OSB}",), part.at, span)
    for match in re.finditer(r"\{([^{}]*)\}", phrase):
        if not _SLOT.fullmatch(match.group()):
            yield Fault(
                f"{match.group()} is no value", (_VALUE,),
                match.start(), len(match.group()),
            )  # fmt: skip


def _gaps(found: tuple[Part, ...]) -> Iterator[Fault]:
    gaps = [index for index, part in enumerate(found) if part.form == "gap"]
    for index in gaps:
        if index in (0, len(found) - 1):
            where = "start" if index == 0 else "end"
            yield Fault(
                f"a gap at the {where} of a phrase takes in nothing", ("leave it out",), found[index].at, 1
            )
    if len(gaps) > MOST_GAPS:
        yield Fault(
            f"the phrase has {len(gaps)} gaps: so loose a phrase may take another thing's value",
            ("name more of the words that stand between",),
            found[gaps[MOST_GAPS]].at,
        )
    run = 1
    for index, after in pairwise(gaps):
        between = [part for part in found[index + 1 : after] if part.form in ("word", "standard", "slot")]
        run = run + 1 if all(part.depth for part in between) else 1
        if run == MOST_TOGETHER + 1:
            yield Fault(
                f"{run} gaps with nothing certain between them take in {run * GAP_WORDS} words: too wide, "
                "the value may be another thing's",
                ("name a word that must stand between them",),
                found[after].at,
            )
    yield from _crossings(found, gaps)


def _crossings(found: tuple[Part, ...], gaps: list[int]) -> Iterator[Fault]:
    """Gaps that run from one standard to another one's name, so that nobody can say whose the value is."""
    for index in gaps:
        before = next((part for part in reversed(found[:index]) if part.form in ("standard", "slot")), None)
        behind: Part | None = None
        for part in found[index + 1 :]:
            if part.form == "standard" or (part.form == "slot" and part.text.startswith("{standard")):
                behind = part
                break
            if part.form == "slot":
                break
        if before is None or behind is None or before.form == "slot":
            continue
        if _key(before) == _key(behind) or _choice(found, before, behind):
            continue
        yield Fault(
            f"the gap runs from {before.text} to another standard, {behind.text}: whose value is it?",
            ("give each standard a phrase of its own, joined by `or`",),
            found[index].at,
        )
        return


def _key(part: Part) -> str:
    return re.sub(r"[\s-]", "", part.text).casefold()


def _choice(found: tuple[Part, ...], one: Part, other: Part) -> bool:
    """Whether two standards stand as alternatives: `UL-580|UL-1897`."""
    between = [part for part in found if one.at < part.at < other.at]
    return all(part.form in ("sign", "standard") for part in between)
