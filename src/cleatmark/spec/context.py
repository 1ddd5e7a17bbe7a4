"""Where a sentence stands: its headings, and the kinds of article they make of it."""

from __future__ import annotations

import re
from collections.abc import Sequence
from functools import lru_cache

from msgspec import Struct

from cleatmark.spec.lazy import lazily
from cleatmark.spec.lexemes import Lexeme, lex
from cleatmark.spec.lines import Line, line_of
from cleatmark.spec.papers import papers_asked_for
from cleatmark.spec.subjects import END, subject_kinds
from cleatmark.spec.wording import plain, word_set

_KINDS: tuple[tuple[str, re.Pattern[str]], ...] = tuple(
    (kind, lazily(written, re.IGNORECASE, needs))
    for kind, written, needs in (
        ("references", r"^(?:\W|the\b)*(?:references?|referenced\b.*|reference (?:standards?|publications?|documents?)|"
                       r"applicable (?:publications?|standards?|codes.*)|codes(?:,)? (?:and|&) standards|publications?|"
                       r"standards? referenced|industry standards?|abbreviations.*)\W*$",
         "referenc|applicable|publication|standard|abbreviation"),
        ("references", r"^(?=.*\b(?:referenc|publications|cited))(?:\W|\b(?:applicable|relevant|"
                       r"industry|cited|related|referenced?|references|codes?|standards?|publications?|regulations?|documents?|and|of|in|to|this|the|section|"
                       r"specifications?|listed|abbreviations|acronyms|by|trade|technical)\b)+$",
         "referenc|publications|cited"),
        ("standards", r"^\W*(?:(?:applicable|relevant|industry|governing|trade|current|and|of|the|codes?|regulations?|"
                      r"specifications?|technical)\W+)*standards(?:\W+(?:and|codes?|regulations?|specifications?|"
                      r"guidelines?|definitions?))*\W*$",
         "standards"),
        ("definitions", r"^\W*(?:definitions?|terminology|abbreviations.*)\W*$",
         "definition|terminology|abbreviation"),
        ("related", r"\brelated (?:sections?|work|requirements?|documents?)\b|\bwork (?:specified|included) elsewhere"
                    r"|\bproducts (?:furnished|installed) (?:but|under)|\bsection excludes",
         "related|elsewhere|products|excludes"),
        ("summary", r"^\W*(?:summary|scope|scope of work|section includes|description(?: of work)?|work included|"
                    r"general description|section summary|summary of work)\W*$",
         "summary|scope|includes|description|included"),
        ("submittals", r"\bsubmittals?\b|^\W*SD-\d\d|^\W*submit\b|\bto be submitted\b|^\W*(?:action|informational) |"
                       r"\bshop drawings?\W*$|^\W*(?:samples|product data|certificates|test reports?)\W*$",
         "submit|sd-|action|informational|shop drawing|samples|product data|certificates|test report"),
        ("quality", r"\bquality assurance\b|\bregulatory requirements?\b",
         "quality|regulatory"),
        ("qualifications", r"\bqualifications?\b|\bexperience\b",
         "qualification|experience"),
        ("performance", r"\bperformance\b|\bdesign (?:requirements?|criteria|loads?)\b|\bsystem description\b|"
                        r"\b(?:wind|uplift|structural) (?:loads?|requirements?|design|resistance|pressures?)\b",
         "performance|design|description|wind|uplift|structural"),
        ("warranty", r"\bwarrant(?:y|ies)\b|\bguarant(?:y|ee|ees)\b|\bbond\b",
         "warrant|guarant|bond"),
        ("delivery", r"\bdelivery\b|\bstorage\b|\bhandling\b",
         "delivery|storage|handling"),
        ("manufacturers", r"\bmanufacturers?\W*$|\bacceptable manufacturers\b|\bsubstitutions?\b|"
                          r"\bbasis[- ]of[- ]design\b",
         "manufacturer|substitution|basis"),
        ("accessories", r"\baccessor(?:y|ies)\b",
         "accessor"),
        ("parts", r"^(?!.*\b(?:panels?|roof(?:s|ing)?|seams?|clips?|pans?|sheets?|fasten|attach)).*\b(?:gutters?|"
                  r"downspouts?|flashings?|trim|skylights?|copings?|snow (?:guards?|retention|rails?|fences?)|"
                  r"hatche?s?|curbs?|closures?|"
                  r"ventilators?|louvers?)\b",
         "gutter|downspout|flashing|trim|skylight|coping|snow|hatch|curb|closure|ventilator|louver"),
        ("fabrication", r"\bfabrication\b",
         "fabrication"),
        ("fastening", r"^\W*(?:(?:panel|roof|exposed|concealed|metal|all)\s)*(?:fasteners?|fastenings?|screws?)\W*$",
         "fasten|screw"),
        ("clips", r"^\W*(?:(?:panel|roof|concealed|metal|anchor|hold-?down|sliding|fixed|expansion)\s)*clips?\W*$",
         "clip"),
        ("alternates", r"^\W*(?:add |deduct )?alternates?\b",
         "alternate"),
        ("maintenance", r"\b(?:extra|maintenance) (?:materials?|stock)\b|\bmaintenance\W*$",
         "maintenance|extra"),
        ("walls", r"^(?!.*\broof).*\b(?:walls?|siding|liners?|soffits?|curtain\s?wall|windows?|doors?|facades?)\b"
                  r"|\broof (?:hatch(?:es)?|scuttles?|curbs?|drains?)\b|\bskylights?\b|\bsmoke vents?\b",
         "wall|siding|liner|soffit|window|door|facade|hatch|scuttle|curb|drain|skylight|smoke vent"),
        ("mockup", r"\bmock-?ups?\b",
         "mock"),
        ("conditions", r"\bpre-?(?:installation|roofing|construction|application)\b.*\b(?:meetings?|conferences?)\b|"
                  r"^\W*(?:project |site |field |environmental |job )?conditions\W*$|\bdelivery\b|\bstorage\b|"
                  r"\bextra (?:materials?|stock)\b|\battic stock\b|\bmaintenance materials?\b|"
                  r"^\W*(?:sequencing|coordination|scheduling|cleaning|protection)\b.*$|\brelated documents\b",
         "meeting|conference|conditions|delivery|storage|extra|stock|material|sequencing|coordination|scheduling|cleaning|protection|documents"),
    )
)  # fmt: skip
KINDS = (
    *(kind for kind in dict.fromkeys(kind for kind, _ in _KINDS) if kind != "standards"),
    "general",
    "products",
    "execution",
    "framing",
    "existing",
    "papers",
)
"""Article kinds that a reading can name after `in` and `not in`."""

_HEAD_END = lazily(
    r"[:.;,(]|\s[-\u2014]\s|\b(?:for|with|over|of|to|shall|is|are|including|on|in|at|under)\b", re.IGNORECASE
)


class Heading(Struct, frozen=True):
    """A heading or a parent paragraph: its text, its tokens, and how many of them are its first noun phrase."""

    text: str
    line: Line
    lexemes: tuple[Lexeme, ...]
    head: int


@lru_cache(maxsize=2048)
def heading(text: str) -> Heading:
    """A heading's text, read once."""
    smooth = plain(text)[:2000]
    lexemes = lex(smooth, 0, len(smooth))
    line = line_of(lexemes)
    stop = _HEAD_END.search(smooth)
    end = stop.start() if stop else len(smooth)
    head = sum(1 for token in line.tokens if lexemes[token].start < end)
    return Heading(smooth, line, tuple(lexemes), head)


@lru_cache(maxsize=2048)
def _named(title: str) -> frozenset[str]:
    return frozenset(kind for kind, pattern in _KINDS if pattern.search(title))


_SAYS = (
    ("warranty", word_set("warranty guarantee warrant warranted guaranty guaranteed")),
    ("qualifications", word_set("experience experienced")),
)
_PUTS = word_set("install fasten secure attach anchor set form fabricate hold")
_ACCESSORIES = word_set("flashing counterflashing trim coping gutter downspout fascia drip closure")
_FASTENS = word_set("fasten secure attach nail screw anchor staple weld")


def said_kinds(line: Line, lexemes: Sequence[Lexeme], start: int = 0) -> dict[str, tuple[int, int]]:
    """The kinds that a sentence's own words put it in, wherever it stands, each with the items for which they do.

    `start` is the item with which the sentence's own words begin.
    """
    kinds = dict(subject_kinds(line, lexemes, start))
    for kind, telling in _SAYS:
        if not telling.isdisjoint(line.atoms):
            kinds[kind] = (next(at for at, item in enumerate(line.items) if item in telling), END)
    first = line.items[start]
    if first in ("submit", "submission"):
        kinds["submittals"] = (0, END)
    if asked := papers_asked_for(line.items, start):
        kinds["papers"] = asked
    if first in _PUTS and not _ACCESSORIES.isdisjoint(line.items[start + 1 : start + 4]):
        kinds["accessories"] = (0, END)
    if first in _FASTENS:
        kinds["fastening"] = (0, END)
    if first == "do" and "<v" in line.atoms:
        kinds["conditions"] = (0, END)
    return kinds


def title_of(text: str) -> str:
    """The title at the start of a paragraph ("Panel Clips: ..."), or the whole of a short one; else ""."""
    head, colon, rest = text.partition(":")
    if colon and rest[:1] in ("", " ") and len(head.split()) <= 8:
        return head
    if len(text) <= 70 and not text.rstrip().endswith(".") and len(text.split()) <= 8:
        return text
    head, stop, rest = text.partition(". ")
    if stop and rest and len(head.split()) <= 4:
        return head
    return ""


_LISTS = frozenset(["references", "standards"])


def lists_standards(line: Line) -> bool:
    """Whether a sentence under "Standards" only lists them: it gives no value, and asks for nothing but that the work
    follow what is listed."""
    items = set(line.items)
    if "class" in items or not any(item[:1] == "§" for item in items):
        return False
    if any(item[:1] == "<" and not item.startswith(("<number", "<date")) for item in items):
        return False
    return _ASKS.isdisjoint(items) or not _LISTING.isdisjoint(items)


_ASKS = word_set("shall must provide tested have carry meet")
_LISTING = word_set("edition publication latest current following standard named reference referred")


def article_kinds(article: str, headings: Sequence[str], own: str, part: int) -> frozenset[str]:
    """The kinds of article that a sentence stands in, by its article, the titles above it and its own title."""
    kinds: set[str] = set()
    for title in (article, *headings[1:], own):
        short = title if len(title) <= 90 else title_of(title)
        if ":" in short.rstrip(": "):
            kinds |= _named(title_of(short)) & _LISTS
        if short:
            kinds |= _named(short.strip().rstrip(":"))
        elif title:
            low = title[:400].casefold()
            if low.lstrip().startswith(("submit ", "submit:")):
                kinds.add("submittals")
            if "warrant" in low or "guarantee" in low:
                kinds.add("warranty")
    if part == 3 and article.strip(" :.").casefold() == "conditions":
        kinds.discard("conditions")
    kinds.add({1: "general", 2: "products", 3: "execution"}.get(part, "general"))
    return frozenset(kinds)
