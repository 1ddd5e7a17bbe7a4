"""Clauses built by hand, and what the shipped readings find in them, as short strings."""

from __future__ import annotations

from collections.abc import Sequence
from functools import cache
from pathlib import Path

from cleatmark.facts import Stated
from cleatmark.fields import FieldBook
from cleatmark.language.rulebooks import load_program
from cleatmark.review.reading import readings_of
from cleatmark.spec.apply import apply_readings
from cleatmark.spec.clauses import Clause, Section, Specification, Table
from cleatmark.spec.reading import Extraction, Reading
from cleatmark.units import Quantity


@cache
def shipped_readings() -> tuple[tuple[Reading, ...], FieldBook]:
    """The readings that ship, and the declared fields."""
    program = load_program(["readings"], Path.cwd())
    return readings_of(program), program.book


ARTICLES = {
    "performance": ("PERFORMANCE REQUIREMENTS", 1),
    "panels": ("ROOF PANELS", 2),
    "materials": ("MATERIALS", 2),
    "clips": ("CLIPS AND FASTENERS", 2),
    "accessories": ("ACCESSORIES", 2),
    "substrate": ("SUBSTRATE", 2),
    "warranty": ("WARRANTY", 1),
    "references": ("REFERENCES", 1),
    "submittals": ("SUBMITTALS", 1),
    "manufacturers": ("MANUFACTURERS", 2),
    "quality": ("QUALITY ASSURANCE", 1),
    "installation": ("INSTALLATION", 3),
    "summary": ("SUMMARY", 1),
}


def clause(
    text: str,
    article: str = "performance",
    above: Sequence[str] = (),
    *,
    ordinal: int = 0,
    table: Table | None = None,
    **more: object,
) -> Clause:
    """A clause of an article; its address is its letter, A for the first."""
    title, part = ARTICLES[article]
    letter = chr(ord("A") + ordinal % 26)
    built = Clause(
        address=letter,
        label=f"{letter}.",
        level=2 + len(above),
        text=text,
        ordinal=ordinal,
        headings=("", title, *above),
        part=part,
        article=title,
        table=table,
    )
    return built if not more else _with(built, more)


def _with(built: Clause, more: dict[str, object]) -> Clause:
    from msgspec.structs import replace

    return replace(built, **more)


def read(*clauses: Clause, title: str = "METAL ROOF PANELS") -> Extraction:
    """What the shipped readings find in a section of these clauses."""
    readings, book = shipped_readings()
    section = Section("07 41 13", title, clauses, True)
    extraction = apply_readings(Specification("spec.docx", (section,)), readings, book)
    assert not extraction.problems
    return extraction


def told(item: Stated) -> str:
    """A requirement in short: "panel.width at most 16 in @corner 10sf [Alternate No. 1] allowable !conflict"."""
    values = " or ".join(_shown(value) for value in item.values) or "-"
    parts = [item.subject, item.relation, values]
    if item.zone:
        parts.append(f"@{item.zone.casefold()}")
    if item.area:
        parts.append(f"{float(item.area.value):g}sf")
    if item.scope:
        parts.append(f"[{item.scope}]")
    if item.level:
        parts.append(item.level)
    parts.extend(f"!{flag}" for flag in item.flags)
    return " ".join(parts)


def _shown(value: object) -> str:
    if not isinstance(value, Quantity):
        return str(value)
    if value.kind == "ratio":
        return f"L/{value.value.denominator}"
    if value.kind == "rating":
        return f"1-{float(value.value):g}"
    unit = {"gauge": "ga", "pressure": "psf", "speed": "mph", "duration": "years", "stress": "ksi"}.get(
        value.kind, "in"
    )
    if value.kind in ("class", "number", "slope"):
        return f"{float(value.value):.4g}"
    return f"{float(value.value):.4g} {unit}"


def found(text: str, article: str = "performance", *above: str) -> set[str]:
    """What one paragraph states, in short."""
    return {told(item) for item in read(clause(text, article, above)).stated}
