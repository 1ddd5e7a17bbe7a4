"""Words from short lists, dates, sources, and which clauses a statement takes and must have."""

from __future__ import annotations

from collections.abc import Iterable

from cleatmark.language import tree as t
from cleatmark.language.check_values import date
from cleatmark.language.checking import Desk
from cleatmark.language.examples import CLAUSES, TAKES

BASES = ("specification", "code", "demand", "insurer", "practice")
ACTIONS = ("stop", "resubmit", "correct", "record")
ASK = (
    *("designer", "maker", "laboratory", "building department", "insurer", "deck trade"),
    *("contractor", "owner"),
)
CONFIDENCE = ("high", "medium", "low")
CLAUSE_OF = {
    "applies": ("applies when", "needed when", "when"),
    "unknown": ("if not shown",),
    "fine": ("if met",),
    "sources": ("source",),
    "in_force_from": ("in force from",),
    "in_force_until": ("in force until",),
    "hidden_after": ("hidden after",),
    "same_as": ("same meaning",),
}
"""Names of clauses in the tree that are written otherwise."""


def taken(desk: Desk, node: t.Statement, word: str, clauses: t.Clauses) -> None:
    """Tells clauses that such a statement has no use for."""
    takes = TAKES[word]
    for name, pos in clauses.places.items():
        written = CLAUSE_OF.get(name, (name,))
        if not set(written) & set(takes):
            line = desk.line(pos.line)
            first = t.Pos(pos.line, len(line) - len(line.lstrip()) + 1, len(written[0]))
            desk.tell(
                first if line.lstrip().startswith(written[0]) else pos,
                f"{_a(word)} takes no `{written[0]}`",
                f"{_a(word)} takes: " + (", ".join(takes) or "no clauses"),
            )


def words(desk: Desk, clauses: t.Clauses) -> None:
    """Basis, action, whom to ask, confidence."""
    places = clauses.places
    for name, word, known in (("basis", clauses.basis, BASES), ("action", clauses.action, ACTIONS)):
        if word is not None:
            desk.one_of(places[name], word, known, f'no {name} is called "{word}"')
    if clauses.ask is not None:
        desk.one_of(clauses.ask, clauses.ask.to, ASK, f'nobody to ask is called "{clauses.ask.to}"')
    sources(desk, clauses.sources)


def sources(desk: Desk, found: Iterable[t.Source]) -> None:
    """The confidence of sources, and text that says nothing."""
    for source in found:
        if source.confidence:
            pos = desk.find(f"confidence {source.confidence}", source.pos)
            desk.one_of(pos, source.confidence, CONFIDENCE, f'no confidence is called "{source.confidence}"')
        if not source.title.strip():
            help_ = "name the standard or the document, or write: source common practice"
            desk.tell(source, "the source names nothing", help_)


def dates(desk: Desk, node: t.Clauses | t.RulebookHead) -> None:
    """Days that are days, the first before the last."""
    start, end = node.in_force_from or "", node.in_force_until or ""
    good = [
        date(desk, node.places[name], written)
        for name, written in (("in_force_from", start), ("in_force_until", end))
        if written and name in node.places
    ]
    if start and end and all(good) and end < start:
        desk.tell(
            node.places["in_force_until"],
            f"in force until {end}, before it is in force from {start}",
            "write the first day behind `from` and the last behind `until`",
        )


def needs(desk: Desk, node: t.Statement, clauses: t.Clauses, word: str, wanted: Iterable[str]) -> None:
    """Clauses without which such a statement says nothing."""
    if not desk.whole(node):
        return
    whose = node.id
    have = {
        "shall": clauses.shall is not None,
        "source": bool(clauses.sources),
        "action": clauses.action is not None,
        "allows": bool(clauses.allows),
        "usual": bool(clauses.usual),
        "when": clauses.applies is not None,
        "needed when": clauses.applies is not None,
        "because": clauses.because is not None,
        "source or because": bool(clauses.sources) or clauses.because is not None,
    }
    says = {
        "shall": "requires nothing: it has no `shall`",
        "source": "has no source",
        "action": "does not say what the reviewer does: it has no `action`",
        "allows": "does not say which change it allows",
        "usual": "does not say what is usual",
        "when": "does not say when it is raised",
        "needed when": "does not say when it is needed",
        "because": "does not say why",
        "source or because": "says neither why nor by what: it has no `source` and no `because`",
    }
    for clause in wanted:
        if not have[clause]:
            example = CLAUSES[clause.split()[0]]
            more = ", or: source common practice" if clause == "source" else ""
            desk.tell(node, f'{word} "{whose}" {says[clause]}', f"add a line, such as: {example}{more}")


def _a(word: str) -> str:
    return f"{'an' if word[:1] in 'aeiou' else 'a'} `{word}`"
