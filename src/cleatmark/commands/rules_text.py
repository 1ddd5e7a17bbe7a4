"""Proofs, rules and indexes as text of 80 to 140 columns, and as plain data for JSON."""

from __future__ import annotations

import shutil
import textwrap
from collections.abc import Iterable, Iterator
from typing import Any

from cleatmark.language.index import Entry, Listed, Standing
from cleatmark.language.prove import Proof
from cleatmark.language.why import Step
from cleatmark.problems import Place, Problem, render

SHOWN = 14
"""How many lines of reasons a failing case shows."""


def columns() -> int:
    """The width of the terminal, from 80 to 140."""
    return min(max(shutil.get_terminal_size((100, 24)).columns, 80), 140)


def wrap(text: str, first: str = "", then: str = "", width: int = 0) -> Iterator[str]:
    """A text in lines; `first` and `then` stand before the first and the further ones."""
    yield from textwrap.wrap(
        text,
        width or columns(),
        initial_indent=first,
        subsequent_indent=then or " " * len(first),
        break_long_words=False,
        break_on_hyphens=False,
    ) or [first.rstrip()]


# Proofs -----------------------------------------------------------------------------------------------------------


def proof_lines(proof: Proof) -> Iterator[str]:
    """One rulebook's proof: what fails, what lacks a case, what no case noticed, what is declared the same."""
    for failing in proof.failing:
        yield f'{failing.place}: case "{failing.case}"'
        yield f"    {failing.rule}: expected {failing.expected}, got {failing.got}"
        for line in failing.why[:SHOWN]:
            yield from wrap(line.strip(), "      " + " " * (len(line) - len(line.lstrip())))
        if len(failing.why) > SHOWN:
            yield f"      ... and {len(failing.why) - SHOWN} lines more"
    for _, problem in (*proof.lacking, *proof.unnoticed):
        yield from render(problem).splitlines()
    for same in proof.declared:
        for change, why in zip(same.changes, same.why, strict=True):
            yield f"{same.place}: {same.rule}: {change}, declared to mean the same"
            yield from wrap(why, "    ")
    yield summary(proof)


def summary(proof: Proof) -> str:
    """One line on a proof."""
    parts = [
        counted(len(proof.failing), "failing case"),
        counted(len(proof.lacking), "verdict without a case", "verdicts without a case"),
        counted(len(proof.unnoticed), "change unnoticed", "changes unnoticed"),
    ]
    open_ = ", ".join(part for part in parts if part)
    declared = sum(len(same.changes) for same in proof.declared)
    same = f", {declared} declared to mean the same" if declared else ""
    held = (
        f"{counted(len(proof.units), 'rule') or 'no rules'}, {counted(proof.cases, 'case') or 'no cases'}, "
        f"{counted(proof.changes, 'change') or 'no changes'} tried{same}"
    )
    if proof.proven:
        return f"{proof.file}: {'proven' if proof.units else 'nothing to prove'}: {held}"
    return f"{proof.file}: not proven: {open_} ({held})"


def counted(number: int, one: str, many: str = "") -> str:
    """ "1 case", "3 cases"; "" for none."""
    return f"{number} {one if number == 1 else many or one + 's'}" if number else ""


def proof_data(proof: Proof) -> dict[str, Any]:
    """A proof as plain data."""
    return {
        "rulebook": proof.rulebook,
        "file": proof.file,
        "proven": proof.proven,
        "rules": len(proof.units),
        "cases": proof.cases,
        "changes": proof.changes,
        "failing": [
            {
                "case": item.case,
                "place": str(item.place),
                "rule": item.rule,
                "expected": item.expected,
                "got": item.got,
                "why": [line.strip() for line in item.why],
            }
            for item in proof.failing
        ],
        "lacking": [problem_data(rule, problem) for rule, problem in proof.lacking],
        "unnoticed": [problem_data(rule, problem) for rule, problem in proof.unnoticed],
        "same_meaning": [
            {
                "rule": same.rule,
                "place": str(same.place),
                "changes": list(same.changes),
                "because": list(same.why),
            }
            for same in proof.declared
        ],
    }


def problem_data(rule: str, problem: Problem) -> dict[str, Any]:
    """A finding of a proof as plain data."""
    return {"rule": rule, "place": str(problem.place), "message": problem.message, "help": list(problem.help)}


# Why --------------------------------------------------------------------------------------------------------------


def standing_lines(rule: Standing, elsewhere: Iterable[tuple[str, Place]] = ()) -> Iterator[str]:
    """A rule as it stands after its layers."""
    last = rule.versions[0]
    yield from wrap(rule.head)
    for number, version in enumerate(rule.versions):
        if number:
            yield ""
            yield f"before that{f', in force {version.in_force}' if version.in_force else ''}:"
        if version.waived:
            yield from wrap(f"waived: {version.waived}", "  ", "    ")
        for line in version.lines:
            yield from wrap(line, "  ", "    ")
    yield ""
    yield from section("how it came to stand so", rule.chain)
    yield from section("in force", [last.in_force or "always"])
    yield from section("source", rule.sources)
    if rule.checked_on or rule.status:
        yield from section("checked", [" ".join(part for part in (rule.checked_on, rule.status) if part)])
    if rule.formerly:
        yield from section("formerly", [", ".join(rule.formerly)])
    yield from section(
        "cases", [f"{expected}: {title} ({at})" for at, title, expected in rule.cases] or ["none"]
    )
    more = [f"{name} changes it ({place.file}:{place.line})" for name, place in elsewhere]
    if more:
        yield from section("other rulebooks", more)


def section(title: str, lines: Iterable[str]) -> Iterator[str]:
    """A titled list."""
    yield f"{title}:"
    for line in lines:
        yield from wrap(line, "  ", "    ")


def standing_data(rule: Standing) -> dict[str, Any]:
    """A rule as it stands, as plain data."""
    return {
        "id": rule.id,
        "statement": rule.head,
        "place": str(rule.place),
        "versions": [
            {"in_force": version.in_force, "waived": version.waived, "clauses": list(version.lines)}
            for version in rule.versions
        ],
        "chain": list(rule.chain),
        "sources": list(rule.sources),
        "formerly": list(rule.formerly),
        "checked_on": rule.checked_on,
        "status": rule.status,
        "cases": [
            {"place": str(place), "case": title, "expects": expected} for place, title, expected in rule.cases
        ],
    }


def step_lines(step: Step, depth: int = 0) -> Iterator[str]:
    """The tree of an evaluation, wrapped."""
    pad = "  " * min(depth, 12)
    if depth == 0:
        yield from wrap(f"{step.text}: {step.outcome}" if step.outcome else step.text)
    else:
        yield from wrap(f"{step.outcome}: {step.text}" if step.outcome else step.text, pad, pad + "  ")
    for line in (*step.facts, *step.missing):
        yield from wrap(line, pad + "    ", pad + "      ")
    for part in step.inside:
        yield from step_lines(part, depth + 1)


def step_data(step: Step) -> dict[str, Any]:
    """The tree of an evaluation as plain data."""
    return {
        "text": step.text,
        "outcome": step.outcome,
        "facts": list(step.facts),
        "missing": list(step.missing),
        "inside": [step_data(part) for part in step.inside],
    }


# Index ------------------------------------------------------------------------------------------------------------


def index_lines(book: Listed) -> Iterator[str]:
    """One rulebook with its statements: a line each on a wide terminal, two on a narrow one."""
    width = columns()
    yield from wrap(f"{book.id}: {book.title} ({book.file})")
    facts = (
        f"edition {book.edition}" if book.edition else "",
        f"builds on {', '.join(book.builds_on)}" if book.builds_on else "",
        f"in force {book.in_force}" if book.in_force else "",
        f"checked on {book.checked_on}" if book.checked_on else "",
        "proven" if book.proven else "not proven",
    )
    yield from wrap("; ".join(fact for fact in facts if fact), "  ")
    if book.status:
        yield from wrap(book.status, "  ")
    ids = min(max((len(entry.id) for entry in book.entries), default=0), 36)
    for entry in book.entries:
        yield from entry_lines(entry, ids, width)


def entry_lines(entry: Entry, ids: int, width: int) -> Iterator[str]:
    """One statement."""
    sure = f" ({entry.confidence})" if entry.confidence else ""
    source = f"{'; '.join(entry.sources)}{sure}" if entry.sources else ""
    dates = f"in force {entry.in_force}" if entry.in_force else ""
    head = f"  {entry.id:<{ids}}  {entry.kind:<12}  {entry.proven:<10}  "
    if width >= 120:
        rest = "; ".join(part for part in (entry.title, dates, source) if part)
        yield from (line.rstrip() for line in wrap(rest, head, width=width))
        return
    yield f"{head}{dates}".rstrip()
    yield from wrap("; ".join(part for part in (entry.title, source) if part), "      ", width=width)


def index_data(book: Listed) -> dict[str, Any]:
    """A rulebook's index as plain data."""
    return {
        "rulebook": book.id,
        "title": book.title,
        "file": book.file,
        "edition": book.edition,
        "builds_on": list(book.builds_on),
        "in_force": book.in_force,
        "checked_on": book.checked_on,
        "status": book.status,
        "proven": book.proven,
        "statements": [
            {
                "id": entry.id,
                "kind": entry.kind,
                "title": entry.title,
                "place": str(entry.place),
                "sources": list(entry.sources),
                "confidence": entry.confidence,
                "in_force": entry.in_force,
                "proven": entry.proven,
            }
            for entry in book.entries
        ],
    }
