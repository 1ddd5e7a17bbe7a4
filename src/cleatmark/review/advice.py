"""Advice on the specification and on the inputs: rules that are raised, each with the clause it is about."""

from __future__ import annotations

import re
from collections.abc import Iterable

from msgspec.structs import replace

from cleatmark.facts import Citation
from cleatmark.language import tree as t
from cleatmark.language.custom import by_clause, raised
from cleatmark.language.judge import first_frame
from cleatmark.language.logic import Res
from cleatmark.language.messages import fill
from cleatmark.language.program import CompiledAdvice, Program
from cleatmark.language.world import Frame, World
from cleatmark.review.model import Advice


def advise(program: Program, world: World) -> tuple[Advice, ...]:
    """All advice raised, in the order of the rulebooks and of the specification."""
    out: list[Advice] = []
    frame = first_frame(world)
    clauses = by_clause(frame)
    for rule in program.advice:
        out.extend(_tell(program, *found) for found in raised(rule, frame, clauses))
    return _once(out)


def _once(found: Iterable[Advice]) -> tuple[Advice, ...]:
    """What says the same of several clauses is told once, at the first, and cites them all."""
    kept: dict[tuple[str, str, str], Advice] = {}
    for item in found:
        key = (item.id, item.message, item.question)
        first = kept.get(key, item)
        kept[key] = replace(first, citations=tuple(dict.fromkeys((*first.citations, *item.citations))))
    return tuple(kept.values())


def _tell(program: Program, rule: CompiledAdvice, frame: Frame, res: Res) -> Advice:
    clauses = rule.statement.clauses
    clause = frame.clause
    cited: list[Citation] = [clause.citation] if clause is not None else []
    cited += [c for fact in res.reads for c in fact.citations]
    cited += [Citation("published", str(source)) for source in clauses.sources]
    ask = clauses.ask
    question = ""
    if ask is not None and ask.question:
        question = fill(program, t.Text(text=ask.question, pos=ask.pos), frame, None)
    return Advice(
        id=rule.statement.id,
        message=fill(program, clauses.message, frame, None) or rule.statement.title,
        clause=clause.facts["clause.address"].text if clause is not None else "",
        quote=clause.citation.quote if clause is not None else "",
        ask=ask.to if ask is not None else "",
        question=question,
        citations=tuple(dict.fromkeys(cited)),
        replacement=_replacement(program, clauses.replace, frame),
    )


def _replacement(program: Program, node: t.Replacement | None, frame: Frame) -> str:
    """The text proposed for the clause; "" where the words to be replaced do not stand in it."""
    if node is None or frame.clause is None:
        return ""
    text = fill(program, node.text, frame, None)
    if not node.words:
        return text
    quote = frame.clause.citation.quote
    found = re.search(re.escape(node.words), quote, re.IGNORECASE)
    return f"{quote[: found.start()]}{text}{quote[found.end() :]}" if found else ""
