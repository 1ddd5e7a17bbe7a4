"""What a condition would take in the field: deck screws, feet of sealant or blocking, clips. Estimates, no waste."""

from __future__ import annotations

from collections.abc import Callable
from math import sqrt

from cleatmark.facts import Fact
from cleatmark.language.program import Program
from cleatmark.language.world import Item, World
from cleatmark.units import Quantity, parse, to

FASTENERS = {"screwed": "screws", "nailed": "nails"}
Feet = Callable[[float, float], float]


def quantity(program: Program, world: World, condition: Item) -> str:
    """How much of it the roof would need; "" where that cannot be told from what is stated."""
    area = roof_area(world)
    if area is None:
        return ""
    field, value = text(condition, "condition.field"), text(condition, "condition.value")
    sheet = deck_sheet(program, world, condition)
    if field == "deck.attachment":
        return _deck_fasteners(world, condition, area, sheet) if sheet else ""
    if field == "deck.joints" and value in ("sealed", "taped"):
        thing = "sealant" if value == "sealed" else "tape"
        return _by_sheets(area, sheet, lambda long, wide: long + wide, f"ft of {thing}") if sheet else ""
    if field == "deck.edges" and value == "blocked":
        return _by_sheets(area, sheet, lambda long, _: long, "ft of blocking") if sheet else ""
    if field in ("clip.spacing", "clip.bearing_plate", "fastener.count"):
        return _clips(world, condition, area)
    width = inches(_proposed(world, "panel.width"))
    if field == "panel.seam_sealant" and width:
        return f"about {rounded(area * 12 / width)} ft of sealant in the seams"
    return ""


def roof_area(world: World) -> float | None:
    """The area of the roof's surface in sq ft, from its plan and slope; None where they are not stated."""
    sides = [
        float(to(fact.value, "ft"))
        for path in ("job.roof.length", "job.roof.width")
        if (fact := world.facts.get(path)) is not None and isinstance(fact.value, Quantity)
    ]
    slope = world.facts.get("job.roof.slope")
    if len(sides) < 2 or slope is None or not isinstance(slope.value, Quantity):
        return None
    return sides[0] * sides[1] * sqrt(1 + float(slope.value.value) ** 2)


def deck_sheet(program: Program, world: World, condition: Item) -> tuple[float, float] | None:
    """Length and width in ft of the sheet that the deck is laid from, by the rulebooks' table."""
    table = program.tables.get("deck_sheet")
    deck = _proposed(world, "deck.type") or _specimen(condition, "deck.type")
    for row in table.rows if table is not None and deck is not None else ():
        if deck is not None and row.keys[0] is not None and row.keys[0].text == deck.text:
            long, wide = (float(to(parse(value.text, "length"), "ft")) for value in row.values)
            return long, wide
    return None


def _deck_fasteners(world: World, condition: Item, area: float, sheet: tuple[float, float]) -> str:
    """Fasteners in every support under a sheet, at the listed spacing along it."""
    siblings = condition.parent.conditions if condition.parent is not None else (condition,)
    about = {text(item, "condition.field"): item for item in siblings}
    kind = FASTENERS.get(text(condition, "condition.value"), "")
    listed = about.get("deck.fastener_spacing")
    fact = listed.facts.get("condition.value") if listed is not None else None
    spacing = inches(fact or _specimen(condition, "deck.fastener_spacing"))
    supports = inches(_proposed(world, "support.spacing"))
    if not kind or not spacing or not supports:
        return ""
    long, wide = sheet
    each = (int(long * 12 // supports) + 1) * (int(wide * 12 // spacing) + 1)
    count = area / (long * wide) * each
    return (
        f"about {rounded(count)} deck {kind}: {each} in each {long:g} by {wide:g} ft sheet, {kind} at {spacing:g} in, "
        f"supports at {supports:g} in"
    )


def _by_sheets(area: float, sheet: tuple[float, float], feet: Feet, unit: str) -> str:
    long, wide = sheet
    count = area / (long * wide) * feet(long, wide)
    return f"about {rounded(count)} {unit}, in {long:g} by {wide:g} ft sheets"


def _clips(world: World, condition: Item, area: float) -> str:
    width = inches(_proposed(world, "panel.width"))
    listed = text(condition, "condition.field") == "clip.spacing"
    asked = inches(condition.facts.get("condition.value")) if listed else None
    by_zone = {inches(facts.get("proposed.clip.spacing")) for facts in world.variants.values()}
    spacings = [asked] if asked else sorted(spacing for spacing in by_zone if spacing)
    if not width or not spacings:
        return ""
    counts = [rounded(area * 144 / (width * spacing)) for spacing in reversed(spacings)]
    if len(counts) == 1:
        return f"about {counts[0]} clips"
    return f"between {counts[0]} and {counts[-1]} clips, by how the zones are spaced"


def _proposed(world: World, field: str) -> Fact | None:
    return next((f for v in world.variants.values() if (f := v.get(f"proposed.{field}")) is not None), None)


def _specimen(condition: Item, field: str) -> Fact | None:
    runs = condition.parent.runs if condition.parent is not None else ()
    return next((f for run in runs if (f := run.facts.get(f"tested.{field}")) is not None), None)


def inches(fact: Fact | None) -> float | None:
    """A length in inches."""
    if fact is not None and isinstance(fact.value, Quantity) and fact.value.kind == "length":
        return float(to(fact.value, "in"))
    return None


def text(item: Item | None, path: str) -> str:
    """The text of a fact, or ""."""
    fact = item.facts.get(path) if item is not None else None
    return fact.text if fact is not None else ""


def rounded(amount: float) -> str:
    """To three figures: the count is an estimate."""
    digits = max(len(str(int(amount))) - 3, 0)
    return f"{int(round(amount, -digits)):,}"
