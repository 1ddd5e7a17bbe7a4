"""Filling the `{path}` places of a rule's messages from the frame in which it was judged."""

from __future__ import annotations

import re

from cleatmark.facts import Tri, shown
from cleatmark.language import tree as t
from cleatmark.language.coverage import Change
from cleatmark.language.names import Name
from cleatmark.language.program import Program
from cleatmark.language.world import Frame, Item

PLACES = re.compile(r"\{([^{}]*)\}")


def context_here(frame: Frame) -> tuple[str, ...]:
    """The blocks that the frame holds, innermost first."""
    blocks = (
        ("run", frame.run),
        ("condition", frame.condition),
        ("document", frame.document),
        ("zone", frame.zone),
        ("clause", frame.clause),
    )
    return tuple(block for block, item in blocks if item is not None)


def fill(program: Program, text: t.Text | None, frame: Frame, nearest: Item | None) -> str:
    """The message with its places filled; a fact that is not there reads "not stated"."""
    if text is None:
        return ""

    def place(match: re.Match[str]) -> str:
        path = match.group(1)
        if path.startswith("nearest."):
            return nearest_text(program, path.removeprefix("nearest."), frame, nearest)
        name = program.names.resolve(path, context_here(frame))
        if not isinstance(name, Name):
            return "not stated"
        got = program.compiler.path(name)(frame)
        return shown(got.value, got.reads[-1].text if got.reads else "")

    return " ".join(PLACES.sub(place, text.text).split())


def differences(program: Program, frame: Frame, run: Item) -> tuple[tuple[str, Change], ...]:
    """What keeps a run from covering, once for each attribute, with the zone variant where it shows first."""
    seen: dict[str, tuple[str, Change]] = {}
    for variant, facts in frame.world.variants.items():
        inside = frame._replace(variant=variant, proposed=facts, zone=None)
        for change in program.coverage.changes(inside.enter(run), run):
            if change.res.truth is Tri.YES:
                continue
            key = change.substitution.field.path
            earlier = seen.get(key)
            if earlier is None or (earlier[1].res.truth is Tri.UNKNOWN and change.res.truth is Tri.NO):
                seen[key] = (variant, change)
    return tuple(seen.values())


def nearest_text(program: Program, key: str, frame: Frame, nearest: Item | None) -> str:
    """`nearest.id`, `.run`, `.kind`, `.differences`, any fact of the run and what is defined of it; empty where there
    is no paper."""
    if nearest is None:
        return "" if key == "differences" else "none"
    if key == "id":
        return nearest.parent.id if nearest.parent is not None else nearest.id
    if key == "run":
        return nearest.id
    if key == "differences":
        return differences_text(program, frame, nearest)
    for path in (f"run.{key}", f"document.{key}", f"tested.{key}"):
        fact = nearest.facts.get(path) or (nearest.parent.facts.get(path) if nearest.parent else None)
        if fact is not None:
            return fact.text
    name = program.names.resolve(key, ("run", "document"))
    if isinstance(name, Name) and name.define is not None:
        return shown(program.compiler.path(name)(frame.enter(nearest)).value)
    return "not stated"


def differences_text(program: Program, frame: Frame, run: Item) -> str:
    """A sentence that sets the nearest run beside the proposal."""
    failing: list[str] = []
    unknown: list[str] = []
    for variant, change in differences(program, frame, run):
        title = change.substitution.field.title.lower()
        zone = f" ({variant})" if variant and apart(frame, change.substitution.field.path) else ""
        if change.res.truth is Tri.NO:
            failing.append(f"{title} {change.proposed} proposed{zone}, {change.tested} tested")
        elif change.tested and change.proposed:
            unknown.append(f"{title} {change.proposed} proposed{zone}, {change.tested} tested")
        else:
            unknown.append(title)
    states = [str(c.facts["condition.state"].value) for c in _conditions(run) if "condition.state" in c.facts]
    unmet = sum(state != "on contract documents" for state in states)
    parts: list[str] = []
    if failing:
        parts.append(f"{run.label} differs: {'; '.join(failing)}")
    if unknown:
        parts.append(f"{run.label} cannot be compared: {'; '.join(unknown)}")
    if unmet:
        conditions = "1 condition is" if unmet == 1 else f"{unmet} conditions are"
        parts.append(f"{run.label}: {conditions} not on contract documents")
    text = ". ".join(part[:1].upper() + part[1:] for part in parts)
    return f"{text}." if text else ""


def apart(frame: Frame, path: str) -> bool:
    """Whether a field of the proposal differs by zone."""
    values = [facts.get(f"proposed.{path}") for facts in frame.world.variants.values()]
    return any(value != values[0] for value in values)


def _conditions(run: Item) -> tuple[Item, ...]:
    return run.parent.conditions if run.parent is not None else ()
