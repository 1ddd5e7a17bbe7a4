"""Parts and spacings as tested: by zone where zones differ, once where they are the same."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct

from cleatmark.report.blocks import Block, Column, Row, Spans, Table, plain
from cleatmark.report.figures import NBSP, NONE, Figures
from cleatmark.review.model import AttachmentRow, Difference, Review, RunRow, ZoneRow

ZONES_ABREAST = 5
"""So many columns of zones stand beside each other; more are told in rows, where no more parts than these differ:"""
PARTS_ABREAST = 3

PARTS: tuple[tuple[str, tuple[tuple[str, str], ...]], ...] = (
    (
        "Panel",
        (
            ("panel.profile", "{}"),
            ("panel.material", "{}"),
            ("panel.thickness", "{}"),
            ("panel.width", "{} wide"),
        ),
    ),
    (
        "Seam",
        (("panel.seam_type", "{}"), ("panel.seam_height", "{} high"), ("panel.seam_sealant", "sealant {}")),
    ),
    (
        "Clip",
        (
            ("clip.model", "{}"),
            ("clip.type", "{}"),
            ("clip.thickness", "{}"),
            ("clip.length", "base {} long"),
        ),
    ),
    ("Bearing plate", (("clip.bearing_plate", "{}"),)),
    ("Screw", (("fastener.size", "{}"), ("fastener.type", "{}"))),
    ("Screw length", (("fastener.length", "{}"),)),
    ("Thread", (("fastener.thread", "{}"),)),
    ("Head", (("fastener.head", "{}"),)),
    ("Washer", (("fastener.washer", "{}"),)),
    ("Screws per clip", (("fastener.count", "{}"),)),
    ("Penetration", (("fastener.penetration", "{}"),)),
    ("Deck", (("deck.type", "{}"), ("deck.thickness", "{}"))),
    ("Deck fastening", (("deck.attachment", "{}"), ("deck.fastener_spacing", "at {}"))),
    ("Deck joints", (("deck.joints", "{}"), ("deck.edges", "edges {}"))),
    ("Supports", (("support.type", "{}"), ("support.thickness", "{}"), ("support.spacing", "at {}"))),
    ("Insulation", (("insulation.type", "{}"), ("insulation.thickness", "{}"))),
    ("Underlayment", (("underlayment.type", "{}"),)),
    ("Air sealing", (("air_seal.type", "{}"),)),
)
"""What the installer needs of a run, in the order in which it is built up: by field, and how it is said."""


class _Alike(Struct, frozen=True):
    """Zones that are built alike: their names, and what stands beside each title."""

    zones: tuple[str, ...]
    told: tuple[str, ...]


def tested_parts(review: Review, zones: list[ZoneRow]) -> list[Block]:
    """A table by zone of spacings, of parts that differ and of what holds; a table of the parts that do not."""
    runs = [run_of(review, row) if shown(row) else None for row in zones]
    told = [(title, [as_tested(run, fields) for run in runs]) for title, fields in PARTS]
    alike, apart = [], []
    for title, values in told:
        known = {value for value, run in zip(values, runs, strict=True) if run is not None}
        if len(known) == 1 and known != {""}:
            alike.append((title, known.pop()))
        elif known - {""}:
            apart.append((title, values))
    figures = Figures(review.job.units)
    checks = _checks(review, zones, figures)
    apart += [(title, values) for title, values in checks if any(values)]
    titles = ("Clips at", *(title for title, _ in apart), "Holds", "Shown by")
    groups: dict[tuple[str, ...], list[str]] = {}
    for n, (zone, run) in enumerate(zip(zones, runs, strict=True)):
        parts = (values[n] or NONE for _, values in apart)
        key = (_spacing(zone, figures), *parts, _holds(zone, figures), _source(zone, run))
        groups.setdefault(key, []).append(zone.zone)
    built = [_Alike(tuple(names), key) for key, names in groups.items()]
    down = len(built) > ZONES_ABREAST and len(apart) <= PARTS_ABREAST
    made: list[Block] = []
    for start in range(0, len(built), len(built) if down else ZONES_ABREAST):
        made.append(_down(built, titles) if down else _across(built[start : start + ZONES_ABREAST], titles))
    return [*made, _alike(alike, all(runs))] if alike else made


CAPTION = "By roof zone, as tested"
_FIRST = "strong"
"""The look of the clip spacing, which is looked for most."""


def _down(built: Iterable[_Alike], titles: tuple[str, ...]) -> Table:
    """One row for the zones that are built alike."""
    rows = tuple(
        Row((_name(", ".join(one.zones)), plain(one.told[0], _FIRST), *map(plain, one.told[1:])))
        for one in built
    )
    return Table(CAPTION, (Column("Zone"), *map(Column, titles)), rows)


def _across(built: list[_Alike], titles: tuple[str, ...]) -> Table:
    """One column for the zones that are built alike."""
    rows = tuple(
        Row((_name(title), *(plain(one.told[n], _FIRST if n == 0 else "") for one in built)))
        for n, title in enumerate(titles)
    )
    return Table(CAPTION, (Column("As tested"), *(Column(", ".join(one.zones)) for one in built)), rows)


def _alike(alike: list[tuple[str, str]], everywhere: bool) -> Table:
    """Two parts abreast, so that the sheet stays on its page; what there is none of in one place."""
    without = [title.lower() for title, value in alike if value == "none"]
    alike = [(title, value) for title, value in alike if value != "none"]
    if without:
        alike.append(("Without", ", ".join(without)))
    half = (len(alike) + 1) // 2
    rows = []
    for n in range(half):
        left, right = alike[n], alike[n + half] if n + half < len(alike) else ("", "")
        rows.append(Row((_name(left[0]), plain(left[1]), _name(right[0]), plain(right[1]))))
    columns = (Column("Part"), Column("As tested"), Column("Part"), Column("As tested"))
    where = "In every zone" if everywhere else "In every zone that is shown to hold"
    return Table(f"{where}, as tested", columns, tuple(rows))


def _name(title: str) -> Spans:
    return plain(title, "strong")


def _spacing(row: ZoneRow, figures: Figures) -> str:
    if not shown(row):
        return "not shown"
    return figures.with_unit(figures.length(row.clip_spacing_in), figures.length_unit)


def shown(row: ZoneRow) -> bool:
    """Whether a document shows the zone to hold."""
    return not row.refused and row.verdict == "complies" and bool(row.document)


def run_of(review: Review, row: ZoneRow) -> RunRow | None:
    """The run that the zone is shown by."""
    for paper in review.evidence:
        if paper.id == row.document:
            return next((run for run in paper.runs if run.run == row.run), None)
    return None


def as_tested(run: RunRow | None, fields: Iterable[tuple[str, str]]) -> str:
    """The run's own values, for what was tested is what holds; the proposal's beside them where it differs."""
    if run is None:
        return ""
    rows = {difference.field: difference for difference in run.differences}
    known = [(rows[field], form) for field, form in fields if field in rows and rows[field].tested]
    return ", ".join(form.format(row.tested) + _apart(row) for row, form in known)


def _apart(row: Difference) -> str:
    apart = row.proposed and row.verdict != "same" and row.proposed != row.tested
    return f" (proposed: {row.proposed})" if apart else ""


def _holds(row: ZoneRow, figures: Figures) -> str:
    if not shown(row):
        return row.refused or "not shown"
    demand = figures.with_unit(figures.pressure(row.required_psf, row.allowable_psf), figures.pressure_unit)
    allowed = figures.with_unit(figures.pressure(row.allowable_psf, row.required_psf), figures.pressure_unit)
    return f"{allowed}, where {demand} is needed"


def _checks(review: Review, zones: list[ZoneRow], figures: Figures) -> list[tuple[str, list[str]]]:
    """The inward pressure of the run and the screws at its spacing, zone by zone, "" where they are not known."""
    rows = [_scheduled(review, zone) for zone in zones]
    return [
        ("Inward, holds", [_inward(row, figures) for row in rows]),
        ("Screws, advisory", [_screws(row, figures) for row in rows]),
    ]


def _scheduled(review: Review, zone: ZoneRow) -> AttachmentRow | None:
    """The zone's row in the attachment schedule, where that is of the run and the spacing shown here."""
    for roof in review.attachment:
        for row in roof.zones if roof.roof in ("", zone.roof) else ():
            built = (row.zone, row.document, row.run, row.spacing_in)
            if shown(zone) and built == (zone.zone, zone.document, zone.run, zone.clip_spacing_in):
                return row
    return None


def _inward(row: AttachmentRow | None, figures: Figures) -> str:
    if row is None or row.inward_allowable_psf is None or row.inward_demand_psf is None:
        return ""
    allowed = figures.pressure(row.inward_allowable_psf, row.inward_demand_psf)
    needed = figures.pressure(row.inward_demand_psf, row.inward_allowable_psf)
    unit = figures.pressure_unit
    return f"{figures.with_unit(allowed, unit)}, where {figures.with_unit(needed, unit)} is needed"


def _screws(row: AttachmentRow | None, figures: Figures) -> str:
    if row is None or row.screw_capacity_lb is None or row.clip_load_lb is None:
        return ""
    unit = figures.force_unit
    carried = figures.with_unit(figures.force(row.screw_capacity_lb), unit)
    return f"{carried} by {row.screw_kind}, where {figures.with_unit(figures.force(row.clip_load_lb), unit)} comes"


def _source(row: ZoneRow, run: RunRow | None) -> str:
    if run is None:
        return NONE
    page = f", page{NBSP}{run.page}" if run.page else ""
    return f"{row.document}, run{NBSP}{run.run}{page}"
