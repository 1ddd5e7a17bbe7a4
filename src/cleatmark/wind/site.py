"""What the job says of wind and roof, as plain amounts, and what it does not say. Nothing is filled in for it."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from cleatmark.facts import Fact, Missing
from cleatmark.fields import FieldBook
from cleatmark.units import Quantity, QuantityError, to
from cleatmark.wind.topography import Hill

QUESTIONS = {
    "job.wind.standard": "Which edition of ASCE 7 does the adopted code name for this building?",
    "job.wind.speed": "What is the basic wind speed, from the map of the building's risk category?",
    "job.wind.exposure": "Which exposure category holds, and for which wind directions was it found?",
    "job.wind.enclosure": "Is the building enclosed, partially enclosed, partially open or open, and who says so?",
    "job.wind.topographic_factor": "Does the building stand on or near a hill, ridge or escarpment? "
    "State Kzt (1.0 where it does not), or describe the hill.",
    "job.wind.hill.shape": "Is it a ridge, an escarpment or a hill round on all sides?",
    "job.wind.hill.height": "How high is the crest above the ground upwind of it?",
    "job.wind.hill.half_length": "How far upwind of the crest has the ground risen to half of its height?",
    "job.wind.hill.distance": "How far is the building from the crest?",
    "job.wind.hill.side": "Does the building stand upwind or downwind of the crest?",
    "job.roof.shape": "Is the roof flat, gable, hip or monoslope?",
    "job.roof.slope": "What is the slope of the roof?",
    "job.roof.mean_height": "What is the mean roof height above ground?",
    "job.roof.width": "What are the roof's length and width in plan?",
}
"""What to ask where an input is missing."""

HILL = "job.wind.hill."


class Site(Struct, frozen=True):
    """The inputs of a wind computation; None or "" where the job does not say. Speed in mph, lengths in ft.

    slope      degrees from the horizontal
    elevation  of the ground above sea level
    parapet    the least height round the whole perimeter
    """

    edition: str = ""
    speed: float | None = None
    exposure: str = ""
    enclosure: str = ""
    kzt: float | None = None
    hill: Hill | None = None
    elevation: float | None = None
    shape: str = ""
    slope: float | None = None
    height: float | None = None
    length: float | None = None
    width: float | None = None
    parapet: float | None = None
    overhang: float | None = None
    low_rise_alternative: bool = False
    risk_category: str = ""
    surroundings: str = ""
    large_doors: bool | None = None

    @property
    def least_dimension(self) -> float | None:
        """The least horizontal dimension, known only where both are stated."""
        return None if self.length is None or self.width is None else min(self.length, self.width)


def amount(facts: Mapping[str, Fact], path: str, unit: str) -> float | None:
    """A fact's amount in a unit, None where it is not stated or is no such quantity."""
    fact = facts.get(path)
    if fact is None or not isinstance(fact.value, Quantity):
        return None
    try:
        return float(to(fact.value, unit))
    except QuantityError:
        return None


def word(facts: Mapping[str, Fact], path: str) -> str:
    """A fact's text value, "" where it is not stated."""
    fact = facts.get(path)
    return fact.value if fact is not None and isinstance(fact.value, str) else ""


def _slope(facts: Mapping[str, Fact]) -> float | None:
    return amount(facts, "job.roof.slope", "deg")


def site_of(facts: Mapping[str, Fact]) -> Site:
    """The inputs that a roof's facts state."""
    doors = facts.get("job.wind.large_doors")
    alternative = facts.get("job.wind.low_rise_alternative")
    return Site(
        edition=word(facts, "job.wind.standard"),
        speed=amount(facts, "job.wind.speed", "mph"),
        exposure=word(facts, "job.wind.exposure"),
        enclosure=word(facts, "job.wind.enclosure"),
        kzt=amount(facts, "job.wind.topographic_factor", ""),
        hill=_hill(facts),
        elevation=amount(facts, "job.wind.ground_elevation", "ft"),
        shape=word(facts, "job.roof.shape"),
        slope=_slope(facts),
        height=amount(facts, "job.roof.mean_height", "ft"),
        length=amount(facts, "job.roof.length", "ft"),
        width=amount(facts, "job.roof.width", "ft"),
        parapet=amount(facts, "job.roof.parapet", "ft"),
        overhang=amount(facts, "job.roof.overhang", "ft"),
        low_rise_alternative=alternative is not None and alternative.value is True,
        risk_category=word(facts, "job.wind.risk_category"),
        surroundings=word(facts, "job.wind.surroundings"),
        large_doors=doors.value if doors is not None and isinstance(doors.value, bool) else None,
    )


def _hill(facts: Mapping[str, Fact]) -> Hill | None:
    shape, side = word(facts, f"{HILL}shape"), word(facts, f"{HILL}side")
    height, half = amount(facts, f"{HILL}height", "ft"), amount(facts, f"{HILL}half_length", "ft")
    distance = amount(facts, f"{HILL}distance", "ft")
    if not shape or not side or height is None or not half or distance is None:
        return None
    return Hill(shape, height, half, distance, side)


def _asked(path: str, book: FieldBook | None, reason: str = "not stated") -> Missing:
    field = book.by_path.get(path) if book is not None else None
    title = field.title if field is not None else path.rpartition(".")[2].replace("_", " ")
    ask = (field.ask if field is not None else "") or "designer"
    return Missing(path, title, reason, ask, QUESTIONS.get(path, ""))


def missing_inputs(site: Site, facts: Mapping[str, Fact], book: FieldBook | None) -> tuple[Missing, ...]:
    """Every input that has to be stated and is not, or cannot be used, with whom to ask."""
    found: list[Missing] = []
    needed = {
        "job.wind.standard": site.edition,
        "job.wind.speed": site.speed,
        "job.wind.exposure": site.exposure,
        "job.wind.enclosure": site.enclosure,
        "job.roof.shape": site.shape,
        "job.roof.slope": site.slope,
        "job.roof.mean_height": site.height,
    }
    found.extend(_asked(path, book) for path, value in needed.items() if value is None or value == "")
    for path, value in (("job.wind.speed", site.speed), ("job.roof.mean_height", site.height)):
        if value is not None and value <= 0:
            found.append(_asked(path, book, "is not more than zero"))
    found.extend(_topography_missing(site, facts, book))
    return tuple(found)


def _topography_missing(site: Site, facts: Mapping[str, Fact], book: FieldBook | None) -> list[Missing]:
    if site.kzt is not None:
        below = site.kzt < 1
        return (
            [_asked("job.wind.topographic_factor", book, "is below 1.0, which no hill gives")]
            if below
            else []
        )
    if site.hill is not None:
        return []
    stated = [path for path in facts if path.startswith(HILL)]
    if not stated:
        return [_asked("job.wind.topographic_factor", book)]
    parts = ("shape", "height", "half_length", "distance", "side")
    return [_asked(f"{HILL}{part}", book) for part in parts if f"{HILL}{part}" not in facts]
