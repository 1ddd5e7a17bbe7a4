"""A roof's wind report: pressures by zone and area, the zones' widths and areas, notices, inputs, advice."""

from __future__ import annotations

from collections.abc import Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.facts import Fact, Missing
from cleatmark.fields import FieldBook
from cleatmark.problems import Place, Problem
from cleatmark.wind.advice import WindAdvice, advice_on
from cleatmark.wind.basis import Refused, basis_of
from cleatmark.wind.coefficient import Basis
from cleatmark.wind.curves import Block
from cleatmark.wind.layout import Layout, layout_of
from cleatmark.wind.notices import notices_on
from cleatmark.wind.overhang import overhang_pressure
from cleatmark.wind.pressure import ZonePressure, zone_pressure
from cleatmark.wind.rectangles import Plan, plan_of
from cleatmark.wind.site import missing_inputs, site_of
from cleatmark.wind.widths import Widths, widths
from cleatmark.zones import answering

DEFAULT_AREAS = (10.0,)
"""Effective wind areas in sq ft where none is asked for: the least that most figures tell apart."""

CAUTIONS = (
    "For regular-shaped buildings, not for sites where the wind is channeled or that stand in the wake of others.",
    "Confirm every pressure with a licensed design professional before it is relied on; the adopted code and the "
    "authority having jurisdiction govern.",
)


class Input(Struct, frozen=True):
    """One input as the job states it, and who says so."""

    path: str
    title: str
    text: str
    sources: tuple[str, ...]


class RoofWind(Struct, frozen=True):
    """The wind on one roof. `refused` is why the whole roof has no pressures, "" where it has some."""

    roof: str
    standard: str
    zones: tuple[ZonePressure, ...] = ()
    overhangs: tuple[ZonePressure, ...] = ()
    basis: Basis | None = None
    plan: Plan | None = None
    widths: Widths | None = None
    layout: Layout | None = None
    layout_notes: tuple[str, ...] = ()
    notices: tuple[str, ...] = ()
    inputs: tuple[Input, ...] = ()
    advice: tuple[WindAdvice, ...] = ()
    missing: tuple[Missing, ...] = ()
    refused: str = ""
    problems: tuple[Problem, ...] = ()

    @property
    def complete(self) -> bool:
        """Whether nothing is refused."""
        return not self.refused and not any(
            row.refused or row.inward_refused for row in (*self.zones, *self.overhangs)
        )

    def zone(self, name: str, area: float) -> ZonePressure | None:
        """A zone's pressure at any effective wind area in sq ft; None where the roof has no such zone or no basis."""
        if self.basis is None or name not in self.basis.block.zones:
            return None
        return zone_pressure(self.basis, name, area)

    def worst(self, name: str, area: float) -> ZonePressure | None:
        """The zone that a name is for: of several ("field" is 1' and 1) the one with the most suction.

        One that is refused governs over all others. None where no zone of the roof answers to the name.
        """
        zones = self.basis.block.zones if self.basis is not None else ()
        rows = [row for zone in answering(name, zones) if (row := self.zone(zone, area)) is not None]
        return min(
            rows,
            key=lambda row: float("-inf") if row.strength_psf is None else row.strength_psf,
            default=None,
        )


def wind_report(
    facts: Mapping[str, Fact],
    areas: Sequence[float] = DEFAULT_AREAS,
    *,
    roof: str = "roof",
    book: FieldBook | None = None,
    own: tuple[Block, ...] = (),
    place: Place | None = None,
    drawn: bool = True,
) -> RoofWind:
    """The wind on one roof from the job's facts (job.wind.*, job.roof.*), at effective wind areas in sq ft.

    book   the declared fields, for titles and whom to ask
    own    coefficient blocks that the user supplies (see blocks.read_own)
    place  of the roof in the job file, for problems
    drawn  whether the zones are laid out in plan, which pressures do not need
    Never raises for what a job states: what is missing or not known is told in the report.
    """
    place = place or Place("job.yaml")
    inputs = _inputs(facts, book)
    site = site_of(facts)
    plan, problems = plan_of(facts, place)
    if plan is not None and facts.get("job.roof.plan") is not None:
        problems = (*problems, *_sides(site.length, site.width, plan, place))
        site = replace(site, length=plan.size[0], width=plan.size[1])
    report = RoofWind(
        roof, site.edition, inputs=inputs, plan=plan, advice=advice_on(site, facts), problems=problems
    )
    missing = missing_inputs(site, facts, book)
    if missing:
        names = ", ".join(f"{item.title} ({item.reason})" for item in missing)
        return replace(report, missing=missing, refused=f"No pressures without: {names}.")
    basis = basis_of(site, own)
    if isinstance(basis, Refused):
        rows = tuple(
            ZonePressure(zone, area, basis.figure, "none", refused=basis.why, inward_refused=basis.why)
            for zone in basis.zones
            for area in areas
        )
        return replace(report, zones=rows, refused=basis.why)
    zones = basis.block.zones
    rows = tuple(zone_pressure(basis, zone, area) for zone in zones for area in areas)
    over = tuple(
        overhang_pressure(basis, zone, area)
        for zone in zones
        for area in areas
        if site.overhang is not None and site.overhang > 0
    )
    wide = widths(basis.block.layout, site.height or 0.0, site.least_dimension, basis.named)
    layout = layout_of(basis, plan, wide) if drawn and plan is not None and wide is not None else None
    return replace(
        report,
        zones=rows,
        overhangs=over,
        basis=basis,
        widths=wide,
        layout=layout,
        layout_notes=_layout_notes(basis, plan, wide, layout) if drawn else (),
        notices=notices_on(basis, rows, over),
    )


def _sides(length: float | None, width: float | None, plan: Plan, place: Place) -> tuple[Problem, ...]:
    """A stated length or width that the plan contradicts."""
    found: list[Problem] = []
    for name, stated, drawn in (("length", length, plan.size[0]), ("width", width, plan.size[1])):
        if stated is not None and abs(stated - drawn) > 0.05:
            message = f"roof.{name} is {stated:g} ft, and the plan's rectangles reach over {drawn:g} ft"
            found.append(Problem(place, message, ("correct one, or leave length and width out",)))
    return tuple(found)


def _layout_notes(
    basis: Basis, plan: Plan | None, wide: Widths | None, layout: Layout | None
) -> tuple[str, ...]:
    if layout is not None:
        return layout.notes
    if plan is None:
        return ("The roof's length and width are not both stated: the zones cannot be laid out.",)
    if basis.block.layout == "not known":
        return (f"How {basis.named} draws its zones is not on file: their widths and areas are not given.",)
    if wide is None:
        return ("The least horizontal dimension is not known: the zones cannot be laid out.",)
    if (
        basis.block.layout in ("ridge strips and squares", "strips, corners not known")
        and len(plan.rectangles) > 1
    ):
        return (
            "Ridges, hips and valleys of several rectangles do not follow from the plan: the zones are not laid out.",
        )
    return ("The rectangles of the plan do not touch along their sides: state each as a roof of its own.",)


def _inputs(facts: Mapping[str, Fact], book: FieldBook | None) -> tuple[Input, ...]:
    found: list[Input] = []
    for path, fact in facts.items():
        if path.startswith(("job.wind.", "job.roof.")):
            field = book.by_path.get(path) if book is not None else None
            title = field.title if field is not None else path.removeprefix("job.")
            said = tuple(dict.fromkeys(citation.where for citation in fact.citations))
            found.append(Input(path, title, fact.text, said))
    return tuple(found)
