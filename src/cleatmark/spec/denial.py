"""Whether a sentence asks for the thing it names, refuses it, or only speaks of it.

"Snap-lock or batten seams are not permitted" refuses both; "approvals without X will be rejected" asks for X;
"where zinc is used" and "the existing copper roof" ask for nothing. The words are stems, a comma stands for any
punctuation inside the sentence.
"""

from __future__ import annotations

from collections.abc import Sequence

from cleatmark.spec.lazy import lazily
from cleatmark.spec.lines import Line
from cleatmark.spec.wording import word_set

_COMPARED = (
    r"(?:more|less|fewer|greater|later|sooner|earlier|longer|further|farther|other|wider|larger|smaller|heavier|"
    r"lighter|thinner|closer|exceed|exceeding|over|under)"
)
_AFTER = lazily(
    r"(?<!\S)(?:(?:(?:is|are|be|shall|will|was|were|may|must|also|as) )*(?:not|never) (?:be )?(?:considered )?"
    r"(?:acceptable|accepted|permitted|allowed|used|considered(?! (?:complete|as|to|part|evidence))|approved|allowable|"
    r"substituted|an acceptable|installed|provided|permissible|reviewed|entertained|permit|accept|allow|proposed|"
    r"an? (?:equal|equivalent|alternative|alternate|substitute)|"
    r"offered|furnished|submitted(?! (?:until|before|with|without|by|after|later|as|for|to|in)(?!\S)))|"
    r"(?:is|are|be|shall be) (?:prohibited|unacceptable|forbidden|excluded|rejected|refused|barred|ruled out|"
    r"returned|disallowed)|prohibited|unacceptable|(?:ground|cause) for rejection|(?:is|are|will|shall) not$|"
    r"(?:do|does|will|shall) not (?:comply|qualify|satisfy (?:this|the) (?:section|requirement))|"
    r"cannot be (?:used|accepted|considered|permitted|allowed|approved)|(?:is|are) not an (?:option|acceptable option)|"
    rf"in no case(?! (?:\S+ ){{0,3}}{_COMPARED}(?!\S)))(?!\S)"
)
_BEFORE = lazily(
    r"(?<!\S)(?:(?P<act>do not (?:use|provide|install|furnish|substitute|allow|accept|submit|propose|permit)|"
    r"(?:shall|will|must|may|can) not (?:use|be|have|include|contain|consist of|accept|substitute|propose|provide|"
    r"furnish|install|allow)|(?:in|under) no (?:case|event|circumstance) (?:shall|will|may|is|are|should)|avoid)|"
    r"(?P<told>not permitted|not acceptable|unacceptable|prohibited|not be accepted|not allowed)|"
    r"(?P<but>other than|except(?: for)?(?! (?:one|at|where|in)(?!\S))|excluding))(?!\S)"
)
_STOPS = frozenset(["and", "provide", "shall", "use"])
_ASIDE = word_set(
    "under over below beneath above on onto against near where at as for to by when until before adjacent contact "
    "unless without lacking because"
)
_NOT_OF = (
    r"(?!(?:per|by|to|under|when|at|through|during|using|in|than|shall|is|are|be|provide|and|with|of|for|where|if|"
    r"will|may|can|unless|without)(?!\S))"
)
_NO = lazily(
    r"(?<!\S)(?:no|nothing of|(?<!do )(?<!shall )(?<!must )(?<!will )(?<!may )(?<!does )not|nor|neither)"
    rf"(?! (?:\S+ )?{_COMPARED}(?!\S))(?: {_NOT_OF}[^\s,]+){{0,2}}"
    rf"(?:(?: ,| or| nor)+(?: {_NOT_OF}(?!or|nor)[^\s,]+){{0,2}}){{0,6}}(?: or| nor| ,)?$",
    needs="neither|no",
)
_LACKING = lazily(
    r"(?<!\S)(?:(?P<without>without|lacking|missing)|(?P<unless>unless|until)|"
    r"not (?:holding|bearing|carrying|having|possessing|covered by|accompanied by|supported by)|"
    r"(?:do|does|is|are|has|have) not (?:have|hold|bear|carry|include|possess|meet|show|comply with|conform to)|"
    r"(?:having|with|have|has|hold|holding|bear|bearing) no|"
    r"not (?:\S+ )?\w+ed(?: \S+){0,2}? (?:by|to|in|under|per|with|for)|"
    r"(?:fail|failing) to \S+|absent)"
    r"(?: (?!shall|is|are|will|must|be|may|provide|has|have|when|where|during|under|tested)[^\s,]+){0,6}$"
)
_NONE = lazily(
    rf"(?<!\S)no(?! {_COMPARED}(?!\S)) (?:\S+ ){{1,4}}?(?:shall|will|may|is|are|can|must) (?:\S+ )*$"
)
_NONE_PAST = lazily(
    rf"(?<!\S)(?<!in )(?<!at )(?<!under )no(?! {_COMPARED}(?!\S)) (?:(?!not |no )[^\s,]+ ){{1,7}}"
    r"(?:(?:\w+er|less|more) than|below)$",
    needs=" than|below",
)
_LIMITED = lazily(r"^(?:[^\s,]+ ){0,3}(?:\w+er|less|more|in excess) (?:than|of) <")
_SHORT_OF = lazily(r"(?<!\S)(?:\w+er|less) than <?(?:[^\s,]+ ){1,4}(?:under|by|to|per|in|of)$")
_ACTS = lazily(
    r"(?<!\S)(?<!that )(?<!which )(?:provide|furnish|use(?! of)|install|shall|must|is|are|comply|have|will|require)"
    r"(?!\S)",
    needs="are|comply|have|install|is|must|provide|require|shall|use|will",
)
_ALLOWS = lazily(
    r"(?<!\S)(?<!not )(?<!not be )(?:permitted|allowed|acceptable|used|required)(?!\S)",
    needs="acceptable|allowed|permitted|required|used",
)
_BREAK = lazily(r"(?<!\S)(?:,|and|but)(?!\S)")
_SHEET = ("<gauge", "<length=thin", "<weight")
_QUALIFIED = lazily(r"^(?:\w+(?:ed|ing)|mill finish|bare|recycled|reclaimed|salvaged)$")


def refused(before: str, value: Sequence[str], after: str, *, amount: bool) -> bool | None:
    """Whether the sentence excludes the value; None where it excludes what lacks the value or is beyond a bound, and
    so asks for the value."""
    if amount and _NONE_PAST.search(before):
        return True
    if not amount and _LIMITED.match(after):
        return None
    if not amount and _SHORT_OF.search(before) and _AFTER.search(after):
        return None
    excluded = _excluded(before, amount=amount)
    lack = None if amount else lacking(before, value)
    rejected = _rejected("" if lack else before, after)
    if lack:
        ahead = f"{before} {' '.join(value[:-1])}"[: lack[0]]
        if rejected or any(word.search(ahead) for word in (_BEFORE, _NO, _NONE)) or "not be" in ahead:
            return None
    if excluded and rejected:
        return None
    return excluded or rejected


def lacking(before: str, value: Sequence[str]) -> tuple[int, str] | None:
    """Where the words begin that make the value something lacked ("without", "not holding"), and which they are."""
    found = _LACKING.search(f"{before} {' '.join(value[:-1])}".rstrip())
    if not found:
        return None
    return found.start(), next((name for name, word in found.groupdict().items() if word), "")


def refusal_follows(text: str) -> bool:
    """Whether words that refuse stand in a text."""
    return bool(_AFTER.search(text))


def _excluded(before: str, *, amount: bool) -> bool:
    excluded = False
    for match in _BEFORE.finditer(before):
        between = before[match.end() :].split()
        if amount and match["but"]:
            continue
        if match["told"] and not _opens_list(before[: match.start()], between):
            continue
        if len(between) <= 9 and _STOPS.isdisjoint(between) and (amount or _ASIDE.isdisjoint(between)):
            excluded = match.group() not in ("shall not be", "may not be") or not amount
    return excluded or (not amount and bool(_NO.search(before)))


def _opens_list(subject: str, between: Sequence[str]) -> bool:
    """Whether what is refused follows: "Not permitted: ...", "the following are prohibited: ..."."""
    return not subject.strip() or "following" in subject or between[:1] in ([","], ["to"])


def _rejected(before: str, after: str) -> bool:
    later = _AFTER.search(after)
    if not later:
        return False
    between = after[: later.start()]
    words = between.split()
    if len(words) > 14 or _ALLOWS.search(between):
        return False
    if any(_ACTS.fullmatch(word) for word in words[:-1]):
        return False
    acts = list(_ACTS.finditer(before))
    return not acts or bool(_BREAK.search(before, acts[-1].end()) and "," not in words)


def qualified(before: str, value: Sequence[str], after: str, name: str) -> bool:
    """Whether a kind of the thing is named and not the thing: fire-retardant treated plywood, lead-coated copper,
    0.032 inch aluminum.

    Coated steel is all the steel that roofs are made of."""
    words = name.casefold().replace("-", " ").split()
    starts = [at for at in range(len(value)) if words and list(value[at : at + len(words)]) == words]
    if not starts:
        return False
    ahead = [*before.split(), *value[: starts[0]]]
    behind = [*value[starts[0] + len(words) :], *after.split()[:1]]
    if any(item.startswith(_SHEET) for item in (*ahead[-1:], *behind)):
        return True
    if not ahead:
        return False
    if (name == "steel" and ahead[-1] == "coated") or ahead[-1] == "uncoated":
        return False
    pair = " ".join(ahead[-2:])
    return bool(_QUALIFIED.match(ahead[-1])) or bool(_QUALIFIED.match(pair))


_REPLACED = lazily(
    r"(?<!\S)(?:(?:instead|in lieu|in place) of|rather than|omit|delete|eliminate|replace(?:s|d|ing)?|substituted for)"
    r"(?: (?!provide|furnish|use|install|with|,)\S+){0,4}$"
)
_MEASURED = lazily(r"(?<!\S)(?:no|not|never) (?:more|less|fewer|greater)$")
_SURPASSED = lazily(
    r"^(?: \S+){0,8}? (?:extended|increased|changed|lengthened|raised|modified|revised|reduced)(?: from)?(?: \S+)? to "
    r"(?P<kind><[a-z]+)(?![^ ]*(?: (?:at|in|for|within|along|the|roof)){1,3} <zone)",
    needs="changed|extended|increased|lengthened|modified|raised|reduced|revised",
)
_RAISES = lazily(
    r"(?<!\S)(?:extend|extended|increase|increased|lengthen|lengthened|raise|raised|change|changed|reduce|reduced)"
    r"(?: (?:from|the|it|thi|standard|usual))*$"
)
_TO_ANOTHER = lazily(r"^(?: [^\s,]+){0,6}? to (?:be )?(?P<kind><[a-z]+)")
_NOT_DONE = lazily(
    r"(?<!\S)(?:do|shall|must|will|may) not (?:\S+ ){1,3}$|(?<!\S)(?:do|shall|must|will|may) not \S+$",
    needs=" not ",
)
_STATE = lazily(
    r"^(?: [^\s,]+){0,4}? (?:when|while|until|before|if|unless|in contact|directly|during|where|"
    r"(?:over|on|onto|in) (?:wet|damp|frozen|uneven|dirty|rain))(?!\S)"
)
_NEED_NOT = lazily(r"^(?: [^\s,]+){0,3}? (?:need|needs) not(?!\S)")
_NO_EQUAL = lazily(
    r"^(?: [^\s,]+){0,4}? (?:is|are|be|shall|will) not (?:be )?(?:considered )?(?:an? )?(?:acceptable )?"
    r"(?:(?P<refused>substitute|alternative|alternate|equivalent|equal)|replacement|evidence)(?!\S)",
    needs=" not ",
)
_CONDITION = lazily(
    r"(?<!\S)(?:where(?! (?:indicated|shown|noted|scheduled)(?!\S))|wherever|if|in case)"
    r"(?: (?!shall|provide|use|must|install|will|furnish|follow|comply|,)\S+){0,8}$",
    needs="if|in case|where",
)
_MIGHT = lazily(
    r"(?<!\S)(?:may|might|can|could) (?:also )?(?:require|request|ask for)(?: \S+){0,2}$",
    needs="ask for|request|require",
)
_WHEN = lazily(r"(?<!\S)when(?: (?!shall|provide|use|must|,|tested|test)\S+){0,4}$", needs="when")
_CHOSEN = lazily(
    r"^(?: (?!shall|provide|,)\S+){0,4} (?:is|are) "
    r"(?:used|furnished|provided|selected|proposed|installed|offered|chosen)(?!\S)"
)
_SOURCE = lazily(
    r"(?<!\S)(?:(?:printed|list|listed|shown|given|stated|permitted|allowed|described|indicated|set forth|published) "
    r"(?:in|by|on|for) (?:the|it|their)|(?:than|that|those)(?: \S+)? (?:in|of|by|on) (?:the|it|their))(?: \S+)?$",
    needs="allowed|described|given|indicated|list|permitted|printed|published|set forth|shown|stated|than|that|those",
)
_IN_A_PAPER = lazily(
    r"(?<!\S)(?:pressure|spacing|value|figure|load|table|drawing|limit|number|assembly) (?:in|of|by|from) (?:the|it)$",
    needs="assembly|drawing|figure|limit|load|number|pressure|spacing|table|value",
)
_IN_WIND = lazily(
    r"(?<!\S)(?:when|if|while|during|until|unless|in|at|against|under)(?: \S+)? (?:wind|gust)(?: speed| velocity)?"
    r"(?: [^\s,]+){0,4}$"
)
_DESIGNS = lazily(
    r"(?<!\S)(?:design|designed|basic|ultimate|vult|vasd|resist|withstand|load|exposure|category|asce|code|remain)(?!\S)"
)
_ALREADY = lazily(r"(?<!\S)already(?: [^\s,]+){1,6}$")
_SPEAKS = lazily(
    r"^ (?:list|show|permit|allow|state|limit|give|describe|disagree|conflict|differ|pressure|spacing|value|number|"
    r"limit|drawing)(?:s)?(?!\S)"
)
_HOLDER = lazily(r"(?<!\S)(?:holding|having|with|bearing|carrying|hold|have)(?: (?!shall|must)\S+){0,4}$")
_EXISTING = lazily(
    r"(?<!\S)(?<!match )(?<!match the )(?<!matching )existing(?: (?!and|or|provide|with|new|,)\S+){0,3}$",
    needs="existing",
)
_REMOVES = lazily(
    r"^(?:\S+ ){0,3}?(?:remove|demolish|strip|tear off|take off|dispose of|salvage|leave)"
    r"(?: (?!from|before|after|until|and|provide|install|,)\S+){0,6}$",
    needs="demolish|dispose of|leave|remove|salvage|strip|take off|tear off",
)
_REMOVED = lazily(
    r"^(?: (?!,)\S+){0,8} (?:(?:is|are|shall be|will be|to be|be) (?:to be )?(?:removed|taken off|taken up|demolished|"
    r"stripped|torn off|salvaged|left in place)|(?:is|are|shall|will|to) (?:to )?remain)(?!\S)",
    needs="demolished|left in place|remain|removed|salvaged|stripped|taken off|taken up|torn off",
)
_OUTSIDE = lazily(
    r"(?<!\S)not (?:in|part of) (?:this |the )?(?:contract|project|work)(?!\S)", needs="contract|project|work"
)
_AT_SLOPES = lazily(
    r"(?<!not )(?<!not be )(?<!\S)(?:on|at|for|where|if|with|when)"
    r"(?: (?!not|no|nor|shall|min|minimum|max|maximum|provide|install|use|,)\S+){0,4} (?:slope|pitch)"
    r"(?: (?!not|no|nor|shall|min|minimum|max|maximum|provide|,)\S+){0,3}$"
)
_LAID = lazily(
    r"(?<!\S)(?:not|never|no)(?!\S)|^(?:\S+ ){0,3}?(?:install|lay|use|apply)(?: only)? (?:on|at|where)(?!\S)|"
    r"(?<!\S)(?:suitable|intended|capable|designed|rated|recommended|approved|permitted|for use|used) "
    r"(?:for|on|at|of)(?!\S)"
)
_PAST = lazily(
    r"(?<!\S)(?:below|under|above|over|(?:steeper|flatter) than)$",
    needs="above|below|flatter|over|steeper|under",
)
_FOR_ONE = lazily(r"<(?:gauge|thin|length|weight)[^ ]*(?: thick)? for$", needs=" for")
_COMPARES = lazily(r"(?<!\S)(?:than|under|below|over|above|exceed|exceeding|between|up to|from)(?: of)?$")
_FURTHER = lazily(
    r"^(?: ,)? (?:or|and) (?:greater|more|less|steeper|flatter|over|above|below|under|higher|lower|up)"
)
_DWINDLES = lazily(
    r"(?<!\S)(?<!non )(?<!not )(?:prorated|prorate|pro rated|declining|decline|decreasing|decrease|reducing)"
    r"(?: \S+){0,2}? (?:after|from|beyond|beginning|following|starting)(?: \S+){0,2}$",
    needs="after|beginning|beyond|following|from|starting",
)
_ONLY = lazily(
    r"(?<!\S)(?:(?:only|nothing but|nothing other than|none but|no other than|solely)(?: [^\s,]+){0,2}|"
    r"no (?:[^\s,]+ ){1,3}(?:\w+er|less|more) than)$"
)
_NEW = ("panel.", "clip.", "fastener.", "underlayment.", "insulation.", "roof.")
_PRODUCTS = ("panel.", "clip.", "fastener.", "underlayment.", "insulation.")
_EVIDENCE = (
    "approval",
    "listing_body",
    "uplift.test",
    "water.test",
    "air.test",
    "fire.class",
    "impact.class",
)
_CONDITIONAL = (
    "panel.material",
    "panel.seam_type",
    "panel.finish",
    "clip.type",
    "underlayment.type",
    *_EVIDENCE,
)


def only_named(
    line: Line, before: str, value: Sequence[str], after: str, subject: str, *, amount: bool
) -> bool:
    """Whether a sentence speaks of a thing and asks for none: what another replaces, a condition, a source of
    values, what is there already. `subject` without `spec.`."""
    behind = " " + after
    if _REPLACED.search(before) or (_MEASURED.search(before) and behind.startswith(" than")):
        return True
    surpassed = _SURPASSED.match(behind) or (_RAISES.search(before) and _TO_ANOTHER.match(behind))
    if surpassed and value[0].startswith(surpassed["kind"]):
        return True
    if not amount and _NEED_NOT.match(behind):
        return True
    if not amount and (equal := _NO_EQUAL.match(behind)):
        return not (equal["refused"] and subject.startswith(_PRODUCTS))
    if not amount and _NOT_DONE.search(before) and _STATE.match(behind):
        return True
    if subject.startswith(_NEW) and (
        _EXISTING.search(before)
        or _OUTSIDE.search(" ".join(line.items))
        or _REMOVES.search(before)
        or _REMOVED.match(behind)
    ):
        return True
    if subject == "roof.slope" and _PAST.search(before) and not _LAID.search(before):
        return True
    if subject == "panel.material" and _FOR_ONE.search(f"{before} {' '.join(value[:-1])}".rstrip()):
        return True
    if subject == "roof.slope" and _AT_SLOPES.search(before) and not _LAID.search(before):
        return bool(_COMPARES.search(before) or _FURTHER.match(behind))
    if subject.startswith("warranty.") and _DWINDLES.search(before):
        return True
    if subject == "submittal" and value[-1] in ("noa", "acceptance", "approval") and _SPEAKS.match(behind):
        return True
    up_to = f"{before} {' '.join(value[:-1])}".rstrip()
    if subject.startswith(("safety_factor", "approval")) and _ALREADY.search(up_to):
        return True
    if subject == "wind.speed" and _IN_WIND.search(before) and not _DESIGNS.search(" ".join(line.items)):
        return True
    if amount or not subject.startswith(_CONDITIONAL):
        return False
    if _CONDITION.search(before) or _MIGHT.search(before) or (_WHEN.search(before) and _CHOSEN.match(behind)):
        return True
    if subject.startswith(("approval", "listing_body")):
        if _SOURCE.search(before) or _IN_A_PAPER.search(before):
            return True
        return "the" in before.split()[-3:] and bool(_SPEAKS.match(behind))
    return False


def lacked(before: str, value: Sequence[str], subject: str) -> str:
    """What a thing lacked is where nothing is refused for its lack: "without battens" is prohibited, what stands
    "unless the other is shown" is only named; "" where nothing is lacked."""
    lack = lacking(before, value)
    if lack is None:
        return ""
    if lack[1] == "without" and not subject.startswith(_EVIDENCE):
        near = " ".join(before.split()[-3:])
        return "prohibited" if "without" in near else ""
    return "replaced" if subject.startswith(_CONDITIONAL) else ""


def singled_out(before: str) -> bool:
    """Whether a permission is for the value alone, and so asks for it: "only X will be accepted", "no warranty
    shorter than X will be accepted"."""
    return bool(_ONLY.search(before))


def held(before: str) -> bool:
    """Whether the value is what a thing holds that the sentence permits: "manufacturers holding an approval may"."""
    return bool(_HOLDER.search(before))
