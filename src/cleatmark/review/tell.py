"""From an outcome to a finding: message, amounts, causes, missing facts, citations, the rule's chain."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec.structs import replace

from cleatmark.facts import Citation, Fact, Missing, Nothing, Tri, Value
from cleatmark.language import tree as t
from cleatmark.language.judge import Outcome, Shown
from cleatmark.language.logic import Mark
from cleatmark.language.messages import apart, differences, fill
from cleatmark.language.program import Program
from cleatmark.language.world import Frame, Item
from cleatmark.review.model import Amount, Finding
from cleatmark.review.not_counted import not_counted
from cleatmark.review.remedy import lower_first
from cleatmark.units import Quantity, show, to

ORDER = {"spec": 0, "job": 1, "submittal": 2, "evidence": 3, "computed": 4, "published": 5}
TRUTH_OF = {"complies": Tri.YES, "deviates": Tri.NO}
RELATIONS = {
    "at least": "at least {}",
    "at most": "at most {}",
    "equal": "{}",
    "one of": "one of {}",
    "required": "{}",
    "prohibited": "not {}",
}


def finding(program: Program, outcome: Outcome) -> Finding:
    """The finding of one outcome."""
    rule, clauses = outcome.rule, outcome.rule.clauses
    mark = deciding(outcome)
    causes = causes_of(program, outcome, mark)
    missing = unique_missing(outcome.res.missing) if outcome.verdict == "not shown" else ()
    frame = placed(outcome.frame)
    nearest = outcome.nearest
    return Finding(
        rule=rule.id,
        title=rule.title,
        basis=clauses.basis or "practice",
        verdict=outcome.verdict,
        action=clauses.action or "record",
        message=message(program, outcome, mark),
        remedy=fill(program, clauses.remedy, frame, nearest)
        if outcome.verdict in ("deviates", "not shown")
        else "",
        because=fill(program, clauses.because, frame, nearest),
        found=amount(program, mark.left_value, mark.left, mark) if mark else Amount(),
        required=amount(program, mark.right_value, asked(mark), mark) if mark else Amount(),
        margin=margin(mark),
        missing=missing,
        ask=addressee(clauses, missing),
        document=outcome.document.id if outcome.document else "",
        run=outcome.run.id if outcome.run else "",
        roof=_fact(outcome.frame.zone, "zone.roof"),
        zone=_fact(outcome.frame.zone, "zone.name"),
        causes=causes,
        rulebook=tuple(str(link).rstrip(".") for link in outcome.rule.chain),
        citations=citations(program, outcome, clauses),
        trace=trace(program, outcome),
        notices=notices(clauses),
    )


def deciding(outcome: Outcome) -> Mark | None:
    """The comparison that the verdict turns on: of those with its outcome, the last that was made."""
    wanted = TRUTH_OF.get(outcome.verdict, Tri.UNKNOWN)
    judged = next((part.res for part in outcome.shown if part.frame is outcome.frame), outcome.res)
    fitting = [m for m in judged.marks if m.truth is wanted and not m.words.startswith("tested, ")]
    fitting.sort(key=lambda mark: mark.words != "prohibited")
    for mark in reversed(fitting):
        if isinstance(mark.left_value, Quantity):
            return mark
    return next((mark for mark in reversed(fitting) if mark.path.startswith("proposed.")), None)


def asked(mark: Mark | None) -> str:
    """What was asked, with its relation in words."""
    if mark is None:
        return ""
    if mark.words in RELATIONS:
        return RELATIONS[mark.words].format(mark.right)
    return mark.right if mark.words == "is" else f"{mark.words} {mark.right}"


def amount(program: Program, value: Value | None, text: str, mark: Mark | None) -> Amount:
    """A value as the report carries it: its text, and a number in the field's unit."""
    if isinstance(value, Quantity):
        field = program.book.by_path.get(mark.path.removeprefix("proposed.")) if mark else None
        unit = field.unit if field is not None and field.unit else ""
        try:
            return Amount(
                text or value.text, float(to(value, unit) if unit else value.value), unit or value.unit
            )
        except (ValueError, KeyError):
            return Amount(text or value.text, float(value.value), value.unit)
    return Amount(text)


def margin(mark: Mark | None) -> str:
    """How far found stands from required, where both are amounts of one kind."""
    if (
        mark is None
        or not isinstance(mark.left_value, Quantity)
        or not isinstance(mark.right_value, Quantity)
    ):
        return ""
    a, b = mark.left_value, mark.right_value
    if a.kind != b.kind or a.kind in ("class", "rating", "gauge") or a.unit == "ga" or b.unit == "ga":
        return ""
    gap = abs(a.value - b.value)
    if gap == 0:
        return "none to spare" if mark.truth is Tri.YES else ""
    text = show(Quantity(a.kind, gap, b.unit))
    return (
        f"{text} to spare"
        if mark.truth is Tri.YES
        else f"{text} short"
        if a.value < b.value
        else f"{text} over"
    )


def message(program: Program, outcome: Outcome, mark: Mark | None) -> str:
    """The rule's own message for the verdict, or what was asked and offered in plain words."""
    clauses, verdict = outcome.rule.clauses, outcome.verdict
    if verdict == "does not apply":
        return outcome.why or "Not asked for here."
    text = {
        "deviates": clauses.otherwise,
        "not shown": clauses.unknown or (clauses.otherwise if outcome.rule.shown is not None else None),
        "complies": clauses.fine,
    }
    if outcome.rule.shown is not None and outcome.rule.shown.every_zone and not outcome.shown:
        return (
            "No design uplift pressure is stated for any roof zone, in the specification or in the job file."
        )
    own = fill(program, text[verdict], placed(outcome.frame), outcome.nearest)
    if own and verdict in ("deviates", "not shown"):
        others = [
            part for part in outcome.shown if part.verdict == verdict and part.frame is not outcome.frame
        ]
        if outcome.rule.shown is not None and others:
            own = _also(program, text[verdict], own, others, outcome)
        if outcome.rule.hold is not None:
            own = _naming(own, outcome)
        elif verdict == "not shown":
            own = " ".join(part for part in (own, not_counted(program, outcome, own)) if part)
    if own:
        return own
    if mark is not None and verdict in ("complies", "deviates"):
        by_zone = apart(outcome.frame, mark.path.removeprefix("proposed."))
        where = f" in the {outcome.frame.variant}" if outcome.frame.variant and by_zone else ""
        comma = "," if "," in mark.left else ""
        return f"{asked_where(outcome, mark)}; {mark.left}{comma} is proposed{where}."
    lacking = "; ".join(
        dict.fromkeys(f"{lower_first(item.title)}, {item.reason}" for item in outcome.res.missing)
    )
    since = f", since {outcome.why}" if outcome.why else ""
    return f"Not shown{since}: {lacking}." if lacking else f"Not shown{since}."


def _also(program: Program, text: t.Text | None, own: str, others: list[Shown], outcome: Outcome) -> str:
    """The other zones that fare alike: each with its numbers where it deviates, by name where it is not shown."""
    if outcome.verdict == "deviates":
        return " ".join([own, *(fill(program, text, placed(part.frame), outcome.nearest) for part in others)])
    names = ", ".join(_fact(placed(part.frame).zone, "zone.name") for part in others if part.frame.zone)
    return f"{own} The same holds for {names}." if names else own


def _naming(own: str, outcome: Outcome) -> str:
    """The message with the papers that it is about, where it names none itself."""
    assert outcome.rule.hold is not None
    judged = outcome.rule.hold(outcome.frame) if not outcome.why else outcome.res
    read = [c.where for fact in judged.reads for c in fact.citations if c.kind == "evidence"]
    if outcome.verdict == "not shown":
        read = [c.where for item in judged.missing for c in item.citations if c.kind == "evidence"]
    papers = dict.fromkeys(where.split(",", 1)[0] for where in read)
    return f"{own.rstrip('.')}: {', '.join(papers)}." if papers else own


def asked_where(outcome: Outcome, mark: Mark) -> str:
    """What was asked and by which paragraphs, for every comparison of the field that came out as the verdict did."""
    alike = [m for m in outcome.res.marks if m.path == mark.path and m.truth is mark.truth]
    phrases: dict[str, list[str]] = {}
    for one in sorted(alike, key=lambda m: m.words == "prohibited"):
        refused = one.words == "prohibited"
        verb = f"does not accept {lower_first(one.right)}" if refused else f"asks for {asked(one)}"
        phrases.setdefault(one.source or "the specification", []).append(verb)
    text = "; ".join(f"{source} {' and '.join(dict.fromkeys(verbs))}" for source, verbs in phrases.items())
    return text[:1].upper() + text[1:]


def causes_of(program: Program, outcome: Outcome, mark: Mark | None) -> tuple[str, ...]:
    """The fields at the root: the one that deviates itself, or those that keep the nearest run from covering."""
    if outcome.verdict not in ("deviates", "not shown"):
        return ()
    if outcome.rule.hold is not None:
        return (mark.path.removeprefix("proposed."),) if mark and mark.path.startswith("proposed.") else ()
    if outcome.nearest is None:
        return ()
    found = differences(program, outcome.frame, outcome.nearest)
    return tuple(change.substitution.field.path for _, change in found if change.res.truth is Tri.NO)


def unique_missing(missing: Iterable[Missing]) -> tuple[Missing, ...]:
    """Missing facts once each, in the order in which they were met."""
    return tuple({(item.path, item.title, item.reason, item.ask): item for item in missing}.values())


def addressee(clauses: t.Clauses, missing: tuple[Missing, ...]) -> str:
    """Whom the finding's question goes to: the rule's word, else whoever can supply the first missing fact."""
    if clauses.ask is not None:
        return clauses.ask.to
    return next((item.ask for item in missing if item.ask), "")


def citations(program: Program, outcome: Outcome, clauses: t.Clauses) -> tuple[Citation, ...]:
    """Everything the verdict rests on, each place once: the specification first, the rule's source last."""
    found: dict[tuple[str, str, str], Citation] = {}
    for fact in outcome.res.reads:
        for citation in fact.citations:
            found.setdefault((citation.kind, citation.where, citation.quote), citation)
    for item in outcome.res.missing:
        for citation in item.citations:
            found.setdefault((citation.kind, citation.where, citation.quote), citation)
    if outcome.nearest is not None and outcome.verdict != "complies":
        for _, change in differences(program, outcome.frame, outcome.nearest):
            for fact in change.res.reads:
                for citation in fact.citations:
                    found.setdefault((citation.kind, citation.where, citation.quote), citation)
    run: Item | None = outcome.run or outcome.nearest
    if run is not None:
        found.setdefault((run.citation.kind, run.citation.where, run.citation.quote), run.citation)
    for source in clauses.sources:
        quote = f"confidence {source.confidence}" if source.confidence else ""
        citation = Citation("published", str(source), quote)
        found.setdefault((citation.kind, citation.where, citation.quote), citation)
    return tuple(sorted(found.values(), key=lambda citation: ORDER.get(citation.kind, 9)))


def trace(program: Program, outcome: Outcome) -> tuple[str, ...]:
    """The working: what was read and where, what was compared, what was missing."""
    lines = [_fact_line(program, fact) for fact in dict.fromkeys(f for f in outcome.res.reads if f.path)]
    lines += [
        f"{titled(program, mark.path) or 'compared'}: {mark.left}, {mark.words} {mark.right}: {mark.truth.value}"
        for mark in outcome.res.marks
    ]
    lines += [f"missing: {item.title}, {item.reason}" for item in unique_missing(outcome.res.missing)]
    return tuple(dict.fromkeys(lines))


def _fact_line(program: Program, fact: Fact) -> str:
    where = f" [{fact.citations[0].where}]" if fact.citations else ""
    shown = "none" if isinstance(fact.value, Nothing) else fact.text
    return f"{titled(program, fact.path)}: {shown}{where}"


def titled(program: Program, path: str) -> str:
    """What a fact is called on paper: "Panel width, proposed"; its path where no field declares it."""
    root, _, rest = path.partition(".")
    if root == "spec" and rest.endswith(".verb"):
        return f"{titled(program, path.removesuffix('.verb'))}, to be shown as"
    blocks = {"proposed": "assembly", "tested": "assembly", "spec": "spec"}
    field = program.book.block(blocks[root]).get(rest) if root in blocks else program.book.by_path.get(path)
    if field is None:
        return path
    side = {"proposed": ", proposed", "tested": ", tested", "spec": ", specified"}.get(root, "")
    return f"{field.title}{side}"


def notices(clauses: t.Clauses) -> tuple[str, ...]:
    """What a reader should check because the rule's source is remembered or of middling confidence."""
    return tuple(
        f"{source.title}: check against the adopted text"
        for source in clauses.sources
        if source.from_memory or source.confidence in ("medium", "low")
    )


def placed(frame: Frame) -> Frame:
    """The frame with its zone named by its roof too, where the job has zones of several roofs: "Main hall, Zone 3"."""
    zone, name = frame.zone, _fact(frame.zone, "zone.name")
    roofs = {_fact(other, "zone.roof") for other in frame.world.zones}
    if zone is None or len(roofs) < 2 or not name:
        return frame
    text = f"{_fact(zone, 'zone.roof')}, {name}"
    fact = replace(zone.facts["zone.name"], value=text, text=text)
    return frame._replace(zone=replace(zone, facts={**zone.facts, "zone.name": fact}))


def _fact(zone: Item | None, path: str) -> str:
    fact = zone.facts.get(path) if zone is not None else None
    return fact.text if fact is not None else ""
