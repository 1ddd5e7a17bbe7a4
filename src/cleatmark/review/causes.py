"""One root cause, one finding; and the questions, by whom they go to."""

from __future__ import annotations

from collections.abc import Iterable

from cleatmark.facts import Missing
from cleatmark.review.model import Evidence, Finding, Request, RootCause

ACTIONS = ("stop", "resubmit", "correct", "record")
ADDRESSEES = (
    "designer",
    "maker",
    "laboratory",
    "building department",
    "insurer",
    "deck trade",
    "contractor",
    "owner",
)
STATED = ("spec.", "job.", "proposed.")
TRADES = {"deck": "deck trade", "carpenter": "contractor", "roofer": "contractor", "insulation": "contractor"}


def root_causes(findings: Iterable[Finding], titles: dict[str, str]) -> tuple[RootCause, ...]:
    """Deviations by root cause: what stops fabrication first. Findings that only follow stand under their cause."""
    open_ = [finding for finding in findings if finding.verdict in ("deviates", "not shown")]
    heads = [f for f in open_ if f.verdict == "deviates" and len(f.causes) == 1]
    told: set[str] = set()
    out: list[RootCause] = []
    for head in heads:
        cause = head.causes[0]
        follows = tuple(f for f in open_ if f is not head and cause in f.causes and f not in heads)
        told |= {f.rule for f in follows}
        out.append(RootCause(cause, titles.get(cause, head.title), head, follows))
    headed = {cause.cause for cause in out}
    for finding in open_:
        if finding in heads or (finding.rule in told and set(finding.causes) <= headed):
            continue
        if finding.rule in told:
            continue
        out.append(RootCause(finding.rule, finding.title, finding))
    return tuple(sorted(out, key=_weight))


def _weight(cause: RootCause) -> tuple[int, int]:
    """A cause weighs as the gravest of what it heads or entails."""
    everything = (cause.head, *cause.follows)
    stop = any(f.verdict == "deviates" and f.action == "stop" for f in everything)
    deviates = cause.head.verdict == "deviates"
    return (
        0 if stop else 1 if deviates else 2,
        ACTIONS.index(cause.head.action) if cause.head.action in ACTIONS else 9,
    )


def requests(findings: Iterable[Finding], evidence: Iterable[Evidence]) -> tuple[Request, ...]:
    """Questions grouped by whom they go to, each once, ready to send."""
    asked: dict[str, dict[str, list[str]]] = {}

    def put(to: str, question: str, rule: str) -> None:
        rules = asked.setdefault(to or "contractor", {}).setdefault(question, [])
        if rule and rule not in rules:
            rules.append(rule)

    for finding in findings:
        if finding.verdict == "not shown":
            asked_for = [(item, question) for item in finding.missing if (question := question_for(item))]
            if finding.remedy and finding.ask and not _asks_all(asked_for, finding.missing):
                put(finding.ask, finding.remedy, finding.rule)
            for item, question in asked_for:
                put(item.ask or finding.ask, question, finding.rule)
    for document in evidence:
        for condition in document.conditions:
            if condition.state != "on contract documents":
                to = TRADES.get(condition.trade, "contractor")
                put(to, condition_question(document.id, condition.text, condition.state, condition.where), "")
    order = {name: index for index, name in enumerate(ADDRESSEES)}
    return tuple(
        Request(
            to,
            tuple(questions),
            tuple(dict.fromkeys(rule for rules in questions.values() for rule in rules)),
            tuple(map(tuple, questions.values())),
        )
        for to, questions in sorted(asked.items(), key=lambda item: order.get(item[0], 99))
    )


def _asks_all(asked_for: list[tuple[Missing, str]], missing: tuple[Missing, ...]) -> bool:
    """Whether the questions ask for all that is missing of job, specification and proposal: no remedy adds to them."""
    return len(asked_for) == len(missing) > 0 and all(item.path.startswith(STATED) for item in missing)


def question_for(item: Missing) -> str:
    """The sentence to send for one missing fact; "" where another question carries it."""
    if item.question:
        return item.question
    if item.path == "condition" or item.reason == "not submitted":
        return ""
    where = f" ({item.citations[0].where})" if item.citations else ""
    if item.path.startswith("spec."):
        return f"{item.title}: the specification leaves it open{where}: {item.reason}. What is required?"
    if item.path.startswith("job."):
        return f"{item.title}: {item.reason}{where}. What is it on this job?"
    if item.path.startswith("tested."):
        return f"{item.title} of the specimen: {item.reason}{where}. What was tested, and on which page does it stand?"
    if item.path.startswith("proposed."):
        return f"{item.title} of the assembly proposed: {item.reason}{where}. What is proposed?"
    return f"{item.title}: {item.reason}{where}. Please state it, and send the page that shows it."


def condition_question(document: str, text: str, state: str, where: str) -> str:
    """The sentence to send for a condition that is not on contract documents."""
    by = f" ({where})" if where else ""
    text = text.rstrip(".")
    if state == "contradicted":
        return f'{document} holds only if: "{text}". The contract documents show otherwise{by}. Will it be built so?'
    if state == "claimed only":
        return (
            f'{document} holds only if: "{text}". It is claimed{by}, and no contract document shows it. '
            "On which drawing does it stand?"
        )
    return f'{document} holds only if: "{text}". Will it be built so, and on which drawing is it shown?'
