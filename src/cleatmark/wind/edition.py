"""What an edition of ASCE 7 states once for all roofs: constants, classes, equations and their sections."""

from __future__ import annotations

from functools import cache

from msgspec import Struct

from cleatmark.problems import InputError
from cleatmark.wind.curves import Curve
from cleatmark.wind.library import FOLDER, folder_of
from cleatmark.wind.reading import Reader
from cleatmark.yamlfile import Mapping, load


class Exposure(Struct, frozen=True):
    """Constants of one exposure category; the gradient height in ft."""

    alpha: float
    gradient_ft: float


class Edition(Struct, frozen=True):
    """One edition's constants. Heights in ft, pressures in psf.

    kd_in_pressure  whether Kd stands in the equation for the pressure instead of in qh
    elevation       the coefficient of Ke per ft of ground elevation, None where the edition has no Ke
    floor           category, height below which it holds, least Kz; None where there is none
    """

    name: str
    symbols: str
    section: str
    constant: float
    kd: float
    kd_in_pressure: bool
    elevation: float | None
    elevation_section: str
    source: str
    confidence: str
    kz_symbols: str
    kz_section: str
    kz_factor: float
    kz_least_ft: float
    exposures: dict[str, Exposure]
    floor: tuple[str, float, float] | None
    gcpi: dict[str, float]
    gcpi_section: str
    pressure_symbols: str
    equation_to_60: str
    equation_above_60: str
    minimum_psf: float
    minimum_section: str
    allowable: float
    allowable_section: str
    topography_section: str
    parapet_ft: float
    free_roofs: str
    codes: tuple[str, ...]


class _Part:
    """One group of keys of the file: what is missing from a file that ships is a mistake."""

    def __init__(self, reader: Reader, root: Mapping, key: str = "") -> None:
        node = root.get(key) if key else root
        self.reader = reader
        self.node = node if isinstance(node, Mapping) else Mapping((), root.place)
        if not isinstance(node, Mapping):
            reader.tell(root, f'"{key}" is missing')

    def text(self, key: str) -> str:
        found = self.reader.text(self.node, key)
        if not found:
            self.reader.tell(self.node, f'"{key}" is missing')
        return found

    def amount(self, key: str, kind: str = "number", unit: str = "") -> float:
        found = self.reader.amount(self.node, key, kind, unit)
        if found is None:
            self.reader.tell(self.node, f'"{key}" is missing')
        return found or 0.0

    def part(self, key: str) -> _Part:
        return _Part(self.reader, self.node, key)


@cache
def edition(name: str) -> Edition:
    """The edition of that name ("ASCE 7-16"). Raises InputError where its file is broken."""
    root, problems = load(folder_of(name) / "edition.yaml")
    if not isinstance(root, Mapping) or problems:
        raise InputError(problems)
    reader = Reader()
    whole = _Part(reader, root)
    velocity, exposure, enclosure = whole.part("velocity"), whole.part("exposure"), whole.part("enclosure")
    pressure, minimum, allowable = whole.part("pressure"), whole.part("minimum"), whole.part("allowable")
    parapet = whole.part("parapet")
    categories, classes = exposure.part("categories"), enclosure.part("classes")
    has_elevation = velocity.text("elevation") != "none"
    found = Edition(
        name=whole.text("edition"),
        symbols=velocity.text("symbols"),
        section=velocity.text("section"),
        constant=velocity.amount("constant"),
        kd=velocity.amount("directionality"),
        kd_in_pressure=velocity.text("directionality_in") == "pressure",
        elevation=velocity.amount("elevation") if has_elevation else None,
        elevation_section=velocity.text("elevation_section") if has_elevation else "",
        source=velocity.text("source"),
        confidence=reader.confidence(velocity.node, "confidence", "none"),
        kz_symbols=exposure.text("symbols"),
        kz_section=exposure.text("section"),
        kz_factor=exposure.amount("factor"),
        kz_least_ft=exposure.amount("least_height", "length", "ft"),
        exposures={
            entry.key.value: _exposure(categories.part(entry.key.value)) for entry in categories.node.entries
        },
        floor=_floor(exposure.part("floor")) if exposure.node.get("floor") else None,
        gcpi={entry.key.value: classes.amount(entry.key.value) for entry in classes.node.entries},
        gcpi_section=enclosure.text("section"),
        pressure_symbols=pressure.text("symbols"),
        equation_to_60=pressure.text("to_60_ft"),
        equation_above_60=pressure.text("above_60_ft"),
        minimum_psf=minimum.amount("pressure", "pressure", "psf"),
        minimum_section=minimum.text("section"),
        allowable=allowable.amount("factor"),
        allowable_section=allowable.text("section"),
        topography_section=whole.part("topography").text("section"),
        parapet_ft=parapet.amount("least_height", "length", "ft"),
        free_roofs=whole.text("free_roofs"),
        codes=reader.words(root.get("codes")),
    )
    if reader.problems:
        raise InputError(reader.problems)
    return found


def _exposure(part: _Part) -> Exposure:
    return Exposure(part.amount("alpha"), part.amount("gradient_height", "length", "ft"))


def _floor(part: _Part) -> tuple[str, float, float]:
    return part.text("category"), part.amount("below", "length", "ft"), part.amount("value")


class Walls(Struct, frozen=True):
    """Pressure toward walls (zones 4 and 5), which parapets and overhangs borrow; reduced up to a slope in degrees."""

    figure: str
    toward: Curve
    reduced: float
    reduced_to: float
    confidence: str

    def at(self, area: float, slope: float) -> float:
        """GCp toward the wall at an area in sq ft, beside a roof of a slope in degrees."""
        return self.toward.at(area) * (self.reduced if slope <= self.reduced_to else 1.0)


@cache
def walls(name: str, *, above_60: bool) -> Walls:
    """The wall coefficients of an edition. Raises InputError where the file is broken."""
    root, problems = load(FOLDER / "walls.yaml")
    if not isinstance(root, Mapping) or problems:
        raise InputError(problems)
    reader = Reader()
    part = _Part(reader, root).part("above_60_ft" if above_60 else "up_to_60_ft")
    toward = part.node.get("toward")
    curve = reader.curve(toward, "toward", 1) if toward is not None else None
    reduced = part.part("reduced") if part.node.get("reduced") else None
    found = Walls(
        part.part("figures").text(name),
        curve or Curve(((10.0, 0.0),)),
        reduced.amount("factor") if reduced else 1.0,
        reduced.amount("slope_to", "angle", "deg") if reduced else 0.0,
        reader.confidence(part.node, "confidence", "none"),
    )
    if reader.problems or curve is None:
        raise InputError(reader.problems)
    return found
