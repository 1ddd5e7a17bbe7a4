"""Papers that a requirement passes over for what they are, or for their dates: said beside "no run covers"."""

from __future__ import annotations

from collections.abc import Iterator

from cleatmark.language.judge import Outcome, covers, first_frame
from cleatmark.language.logic import NO
from cleatmark.language.program import Program
from cleatmark.language.world import Item, World
from cleatmark.review.quantities import text

PROVE_NOTHING = {"engineering letter": "a letter", "data sheet": "a data sheet"}
"""Kinds that show nothing by themselves, and what they are called."""
EXPIRES, PERMIT = "document.expires", "job.permit_date"


def not_counted(program: Program, outcome: Outcome, told: str) -> str:
    """A sentence for each paper that might have been meant and does not count; "" where there is none.

    told  the message so far: a paper whose date it names already is not told again
    """
    world = outcome.frame.world
    sentences = [
        *_dates(program, outcome, world, told),
        *(_kind(program, outcome, document) for document in world.documents),
    ]
    return " ".join(sentence for sentence in sentences if sentence)


def _kind(program: Program, outcome: Outcome, document: Item) -> str:
    """A letter, or a data sheet, offered as what it is not."""
    kind, offered = text(document, "document.kind"), text(document, "document.offered_as")
    shown = outcome.rule.shown
    if shown is None or kind not in PROVE_NOTHING or not offered or offered in PROVE_NOTHING:
        return ""
    if shown.kind != "run" and offered not in program.kinds.get(shown.kind, (offered,)):
        return ""
    article = "an" if offered[0] in "aeiou" else "a"
    return f"{document.id} is offered as {article} {offered} and is {PROVE_NOTHING[kind]}, which does not count as one."


def _dates(program: Program, outcome: Outcome, world: World, told: str) -> Iterator[str]:
    """Papers that cover what is proposed, or may, and are not in force or not known to be."""
    get = program.get("in_force")
    if get is None or EXPIRES not in outcome.rule.paths:
        return
    for document in world.documents:
        kind = text(document, "document.kind")
        runs = [run for run in document.runs if covers(program, world, run) is not NO]
        if kind in PROVE_NOTHING or not runs:
            continue
        value = get(first_frame(world).enter(runs[0]))
        if value.value is None:
            yield _open(document, kind, {item.path for item in value.missing})
        elif value.value != "in force" and not (document.id in told and str(value.value) in told):
            yield f"{document.id} does not count: it is {value.value} on the permit date."


def _open(document: Item, kind: str, missing: set[str]) -> str:
    if EXPIRES in missing:
        return f"{document.id} does not count yet: this {kind} does not show the date on which it expires."
    if PERMIT in missing:
        return f"{document.id} does not count yet: the permit date, by which it has to be in force, is not stated."
    return ""
