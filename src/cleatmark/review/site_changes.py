"""Which single change of the site's inputs would turn a zone that holds: exposure, opening, edition, height."""

from __future__ import annotations

from collections.abc import Iterable, Mapping

from cleatmark.facts import Fact
from cleatmark.fields import FieldBook
from cleatmark.job.model import Job
from cleatmark.review.beside import LEAST_AREA, governing
from cleatmark.review.demand import Demand, own_blocks
from cleatmark.review.model import TippingPoint, ZoneRow
from cleatmark.units import Quantity, show
from cleatmark.wind.report import RoofWind, wind_report

EXPOSURES = {"B": "C", "C": "D"}
EDITIONS = ("ASCE 7-10", "ASCE 7-16", "ASCE 7-22")
HEIGHTS = (5, 10, 15, 20, 25, 30)
"""Feet added to the mean roof height, one after another, until a zone turns; not beyond 60 ft."""


def site_points(
    job: Job, load: Demand, zones: Iterable[ZoneRow], book: FieldBook
) -> tuple[TippingPoint, ...]:
    """For each roof the single changes after which ASCE 7, worked out again, asks more than a zone's run allows. An
    edition or a figure that is refused turns nothing here: it would be not shown."""
    rows = [row for row in zones if row.verdict == "complies" and row.allowable_psf is not None]
    points: list[TippingPoint] = []
    own = own_blocks(job)
    for wind in load.winds:
        if wind.basis is None or not rows:
            continue
        facts = dict(job.for_roof(wind.roof))
        seen: set[str] = set()
        for path, now, then, changed in single_changes(facts):
            if path in seen:
                continue
            other = wind_report(
                {**facts, path: changed},
                [LEAST_AREA],
                roof=wind.roof,
                book=book,
                own=own,
                drawn=False,
            )
            turned = [(row, asked) for row in rows if (asked := over(row, wind, other)) is not None]
            if turned:
                if path != "job.wind.standard":
                    seen.add(path)
                points.append(tell(book, path, now, then, other.standard, turned))
    return tuple(points)


def single_changes(facts: Mapping[str, Fact]) -> Iterable[tuple[str, str, str, Fact]]:
    """Field, its value now, the value tried, and the fact that carries it."""

    def word(path: str, then: str) -> tuple[str, str, str, Fact]:
        return path, facts[path].text, then, Fact(path, then, then, ())

    exposure, enclosure = facts.get("job.wind.exposure"), facts.get("job.wind.enclosure")
    if exposure is not None and exposure.text in EXPOSURES:
        yield word("job.wind.exposure", EXPOSURES[exposure.text])
    if enclosure is not None and enclosure.text in ("enclosed", "partially open"):
        yield word("job.wind.enclosure", "partially enclosed")
    standard = facts.get("job.wind.standard")
    if standard is not None:
        yield from (word("job.wind.standard", edition) for edition in EDITIONS if edition != standard.text)
    height = facts.get("job.roof.mean_height")
    if height is not None and isinstance(height.value, Quantity):
        for more in HEIGHTS:
            inches = height.value.value + 12 * more
            if inches > 60 * 12:
                return
            taller = Quantity("length", inches, "ft", "")
            text = show(taller, "ft")
            fact = Fact("job.roof.mean_height", Quantity("length", inches, "ft", text), text, ())
            yield "job.roof.mean_height", height.text, text, fact


def over(row: ZoneRow, wind: RoofWind, other: RoofWind) -> float | None:
    """What the changed site asks of a zone where it is more than its run allows and more than before."""
    area = row.area_sqft or LEAST_AREA
    if row.roof and row.roof != wind.roof:
        return None
    asked, before = governing(other, row.zone, area), governing(wind, row.zone, area)
    if asked is None or before is None or row.allowable_psf is None:
        return None
    return asked if asked > row.allowable_psf and asked > before else None


def tell(
    book: FieldBook, path: str, now: str, then: str, standard: str, turned: list[tuple[ZoneRow, float]]
) -> TippingPoint:
    """The change in a sentence, with the zones that turn."""
    title = book.by_path[path].title if path in book.by_path else path
    zones = "; ".join(
        f"{row.zone} {asked:.1f} psf where {row.document}, run {row.run}, allows {row.allowable_psf:.1f}"
        for row, asked in turned
    )
    message = f"{title} {then} in place of {now}: {standard} would ask of {zones}."
    return TippingPoint(title, now, then, ("zone_uplift",), message)
