"""What a sentence refuses or only permits of the work, whatever it names: "End laps are not allowed".

How materials are kept and when work may begin is neither: "Do not walk on seams", "Do not begin until the deck is dry".
"""

from __future__ import annotations

import re

from cleatmark.spec.lazy import lazily
from cleatmark.spec.sentences import Sentence
from cleatmark.spec.wording import word_set

_SIGNS = word_set("rejected not no never prohibited unacceptable forbidden avoid disallowed barred")
_LEAVE = word_set("may option acceptable permitted allowed optional permissible accepted")
_ELSEWHERE = frozenset(
    [
        "references",
        "definitions",
        "related",
        "submittals",
        "conditions",
        "mockup",
        "walls",
        "delivery",
        "qualifications",
    ]
)
_NOT_WORK = (_ELSEWHERE - {"walls"}) | {"manufacturers"}
"""Kinds of articles that permit nothing of the work itself: who may propose what is another matter."""
_HANDLING = (
    r"begin|start|proceed|commence|store|stack|walk|deliver|leave|delay|damage|scratch|drag|drop|lift|ship|mark|expose|"
    r"disturb|overload|enter|open|load|rest|bend|kink|interrupt|scale|rely|assume|order|remove|tear|demolish|need|"
    r"exceed|include|require|relieve|begin"
)
_REFUSED = lazily(
    rf"\bdo\s+not\s+(?!(?:{_HANDLING})\b)[a-z]+|\bavoid\b|"
    r"\b(?:is|are|be|will|shall|may|must)\s+(?:not|never)\s+(?:be\s+)?(?:acceptable|accepted|permitted|allowed|used|"
    r"permissible|considered(?=\s*[.;,])|proposed|offered|submitted(?=\s*[.;,]|\s*$)|approved|installed|attached|fastened|secured|penetrate|penetrated|pierced|welded|"
    r"soldered|cut|exposed|painted|caulked)\b(?!\s+(?:to|for|in)\s+(?:exceed|less|more|excess))|"
    r"\b(?:will|shall)\s+be\s+rejected\b|\bcannot\s+be\s+(?:used|accepted|permitted)\b|"
    r"\b(?:prohibited|unacceptable|forbidden|disallowed|barred)\b|(?:^|[,;:]\s*)not\s+(?:permitted|allowed|acceptable|accepted)\b|"
    r"\b(?:under|in)\s+no\s+(?:circumstances?|case|event|instance)\s+(?:shall|will|may|are|is)\b|"
    r"^\W*no\s+(?:[\w'-]+\s+){1,5}(?:shall|will|may|to)\s+(?:be\s+)?(?:used|attached|fastened|secured|installed|"
    r"permitted|allowed|accepted|made|placed|left|penetrate|pass|drilled|driven)\b",
    re.IGNORECASE,
)
_PERFORMANCE = lazily(
    r"\b(?:leak(?:s|age)?|penetration\s+of\s+water|water\s+(?:penetration|entry|infiltration)|damage|deflection|infiltration|"
    r"stress|permanent\s+set|failure|movement)\b[^.;]*$",
    re.IGNORECASE,
    needs="damage|deflection|failure|infiltration|leak|movement|penetration|permanent|stress|water",
)
_FAULTY = lazily(
    r"\b(?:damaged|defective|dented|stained|faulty|bent|scratched|buckled|rusted)\b|\b(?:that|which)\s$",
    re.IGNORECASE,
    needs="bent|buckled|damaged|defective|dented|faulty|rusted|scratched|stained|that|which",
)
"""What is wrong with a thing, and not the thing, is refused: "Remove panels that are not acceptable"."""
_AT_TIMES = lazily(
    r"\b(?:until|before|when|while|during|prior\s+to|over\s+(?:wet|damp|frozen)|in\s+(?:wet|rain|snow|high\s+wind)|wet|"
    r"unless\s+weather|later\s+than|less\s+than|more\s+than|greater\s+than|closer\s+than|farther\s+than|"
    r"after\s+bid)\b",
    re.IGNORECASE,
    needs="after|before|closer|during|farther|greater|high|later|less|more|over|prior|rain|snow|until|wet|when|while",
)
_PERMITTED = lazily(
    r"\bmay\s+(?:also\s+|instead\s+|then\s+)?be\s+(?:used|furnished|provided|formed|installed|substituted|proposed|offered|"
    r"supplied|submitted\s+for|made|fabricated|omitted|increased|combined)\b|"
    r"\b(?:contractor|installer|manufacturer|fabricator|bidder|supplier)\s+may\b(?!\s+not)[^.;]{0,50}?\b(?:furnish|provide|use|"
    r"propose|offer|substitute|install|form)\b|"
    r"\bat\s+(?:the\s+)?(?:contractor|installer|manufacturer|fabricator|bidder|supplier|roofer)'?s?'?\s+option\b|"
    r"\b(?:is|are)\s+(?:also\s+)?(?:acceptable|permitted|allowed|optional|permissible)\b(?!\s+to\b)",
    re.IGNORECASE,
)
_NOT_ONLY = lazily(r"\b(?:not|no|never|nor|only|none|when|as|than)\b[^.;]*$", re.IGNORECASE)


def refused(sentence: Sentence) -> str:
    """The words by which a sentence refuses something of the work; "" where it refuses nothing."""
    if _SIGNS.isdisjoint(sentence.line.atoms) or not _ELSEWHERE.isdisjoint(sentence.kinds):
        return ""
    text = _own(sentence)
    found = _REFUSED.search(text)
    if (
        found is None
        or _FAULTY.search(text[: found.start()])
        or _AT_TIMES.search(text, found.start())
        or _PERFORMANCE.search(text[: found.start() + 40])
    ):
        return ""
    return " ".join(found.group().split())


def permitted(sentence: Sentence) -> str:
    """The words by which a sentence permits something and does not ask for it; "" where none do."""
    if _LEAVE.isdisjoint(sentence.line.atoms) or not _NOT_WORK.isdisjoint(sentence.kinds):
        return ""
    text = _own(sentence)
    found = _PERMITTED.search(text)
    if found is None or _NOT_ONLY.search(text[: found.start()]):
        return ""
    return " ".join(found.group().split())


def _own(sentence: Sentence) -> str:
    lexemes = sentence.lexemes
    return sentence.text[lexemes[min(sentence.first, len(lexemes) - 1)].start : lexemes[-1].end]
