"""The parts of a job file around its fields: files, stated pressures, facts on contract documents."""

from __future__ import annotations

from collections.abc import Sequence as Items
from pathlib import Path

from msgspec.structs import replace

from cleatmark.facts import Citation, Fact
from cleatmark.fields import FieldBook
from cleatmark.job.model import ContractFact, Reference, StatedPressures
from cleatmark.job.schema import LEVELS
from cleatmark.problems import Problem, did_you_mean, near_name
from cleatmark.units import Quantity, QuantityError, parse
from cleatmark.yamlfile import (
    LIMITS,
    FieldValueError,
    Mapping,
    Node,
    Sequence,
    Text,
    brief,
    cited,
    groups,
    magnitude,
    problem_at,
    read_value,
    text_of,
)


def file_named(text: Text, folder: Path, found: list[Problem]) -> Reference | None:
    """The file that a text names, seen from the job's folder; None, and told, where it is not there."""
    if not text.value or len(found) >= LIMITS.told:
        return None
    path = folder / text.value
    try:
        there, is_folder = path.is_file(), path.is_dir()
    except (OSError, ValueError):
        there = is_folder = False
    if there:
        return Reference(text.value, text.place, path)
    if is_folder:
        found.append(problem_at(text, f'"{brief(text.value)}" is a folder; name a file in it'))
    else:
        found.append(problem_at(text, f'there is no file "{brief(text.value)}"', *_beside(path)))
    return None


def _beside(path: Path) -> tuple[str, ...]:
    try:
        names = sorted(item.name for item in path.parent.iterdir())[:500]
    except (OSError, ValueError):
        return (f'the folder "{brief(str(path.parent))}" cannot be read',)
    return did_you_mean(path.name[:80], names)


def rules_named(node: Node | None, folder: Path, found: list[Problem]) -> tuple[Reference, ...]:
    """Rulebooks by name, and files by their path: whatever ends in .rules or has a folder in it."""
    rules: list[Reference] = []
    for item in node.items if isinstance(node, Sequence) else ():
        if isinstance(item, Text) and item.value and len(found) < LIMITS.told:
            is_file = item.value.endswith(".rules") or "/" in item.value or "\\" in item.value
            named = file_named(item, folder, found) if is_file else Reference(item.value, item.place)
            rules.extend([named] if named else [])
    return tuple(rules)


def _roof(node: Mapping, roofs: Items[str], found: list[Problem]) -> str:
    """The roof that a part is for; told where the job has no such roof."""
    at = node.get("roof")
    if isinstance(at, Text) and at.value and roofs and at.value not in roofs:
        near = near_name(at.value[:80], roofs)
        help = (f'did you mean "{near}"?',) if near else ()
        found.append(
            problem_at(at, f'the job has no roof "{brief(at.value)}"; it has {", ".join(roofs)}', *help)
        )
    return text_of(node, "roof")


def stated_pressures(
    node: Node | None, roofs: Items[str], found: list[Problem]
) -> tuple[StatedPressures, ...]:
    """Stated sets of pressures, each at one level, its uplift and inward values as positive magnitudes."""
    sets: list[StatedPressures] = []
    for item in groups(node, found):
        level = text_of(item, "level")
        source, dated = text_of(item, "source"), text_of(item, "dated")
        citation = Citation("job", source, "", dated)
        sets.append(
            StatedPressures(
                source,
                _zones(item.get("zones"), level, citation, -1, found),
                item.place,
                citation,
                _zones(item.get("inward"), level, citation, 1, found),
                dated,
                level if level in LEVELS else "",
                _roof(item, roofs, found),
                _area(item.get("area"), found),
            )
        )
    return tuple(sets)


def _area(node: Node | None, found: list[Problem]) -> Quantity | None:
    if not isinstance(node, Text) or not node.value:
        return None
    try:
        return parse(node.value, "area")
    except QuantityError as error:
        found.append(problem_at(node, f"area: {error}"))
        return None


def _zones(
    node: Node | None, level: str, source: Citation, sign: int, found: list[Problem]
) -> dict[str, Fact]:
    """Pressures by zone. `sign` is -1 for uplift, 1 for inward: a value signed the other way is told."""
    read: dict[str, Fact] = {}
    for entry in node.entries if isinstance(node, Mapping) else ():
        if len(found) >= LIMITS.told:
            break
        text, zone = entry.value, entry.key.value
        if not isinstance(text, Text) or text.spoilt:
            continue
        if not text.value:
            found.append(
                problem_at(text, f"{brief(zone)} is left blank; state its pressure, or leave the line out")
            )
            continue
        try:
            value = parse(text.value, "pressure")
        except QuantityError as error:
            found.append(problem_at(text, f"{brief(zone)}: {error}"))
            continue
        if value.level and level in LEVELS and value.level != level:
            found.append(
                problem_at(text, f"{zone}: {value.level} level here, and the set is at {level} level")
            )
        if sign < 0 and text.value.startswith("+"):
            found.append(
                problem_at(text, f'{zone}: "{text.value}" acts inward', "put inward pressures under inward:")
            )
        if sign > 0 and value.value < 0:
            found.append(problem_at(text, f'{zone}: "{text.value}" acts outward', "put uplift under zones:"))
        stated = magnitude(replace(value, level=value.level or (level if level in LEVELS else "")))
        read[zone] = Fact("zone.required", stated, value.text, (cited("job", text), source))
    return read


def contract_facts(
    node: Node | None, book: FieldBook, roofs: Items[str], found: list[Problem]
) -> tuple[ContractFact, ...]:
    """Assembly facts that stand on contract documents, each with the place there and in the job file."""
    known = book.block("assembly")
    facts: list[ContractFact] = []
    for item in groups(node, found):
        name, value = item.get("field"), item.get("value")
        if not isinstance(name, Text) or not name.value:
            continue
        field = known.get(name.value)
        if field is None:
            found.append(
                problem_at(
                    name,
                    f'no field of the assembly is called "{brief(name.value)}"',
                    *did_you_mean(name.value[:80], known),
                )
            )
            continue
        if not isinstance(value, Text) or not value.value:
            continue
        try:
            read = read_value(field, value.value)
        except FieldValueError as error:
            found.append(problem_at(value, error.message, *error.help))
            continue
        where = text_of(item, "where")
        sources = (Citation("job", where), cited("job", value)) if where else (cited("job", value),)
        fact = Fact(f"contract.{field.key}", read, " ".join(value.value.split()), sources)
        facts.append(
            ContractFact(
                fact, field.path, where, item.place, text_of(item, "zone"), _roof(item, roofs, found)
            )
        )
    return tuple(facts)
