"""A job as its file states it: facts with their sources, and what the job stands on."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path

from msgspec import Struct

from cleatmark.facts import Citation, Fact
from cleatmark.problems import Place
from cleatmark.units import Quantity


class Reference(Struct, frozen=True):
    """A file or a rulebook that the job names. `path` is the file, seen from the job's folder, or None."""

    text: str
    place: Place
    path: Path | None = None


class Roof(Struct, frozen=True):
    """One roof: its name ("roof" where the job has one without a name) and its facts, as job.roof.slope."""

    name: str
    facts: Mapping[str, Fact]
    place: Place


class StatedPressures(Struct, frozen=True):
    """Pressures that a drawing or an engineer states for the job, by zone as written.

    uplift, inward  facts under zone.required, in psf as positive magnitudes, at `level`
    level           allowable, strength, or "" where it is not stated
    roof            the roof they are for, "" for all
    area            effective wind area, sq ft
    """

    source: str
    uplift: Mapping[str, Fact]
    place: Place
    citation: Citation
    inward: Mapping[str, Fact] = {}
    dated: str = ""
    level: str = ""
    roof: str = ""
    area: Quantity | None = None


class ContractFact(Struct, frozen=True):
    """An assembly fact that stands on contract documents, under contract.PATH; its citations say where.

    zone, roof  the zone and roof it is for, "" for all
    """

    fact: Fact
    field: str
    where: str
    place: Place
    zone: str = ""
    roof: str = ""


class Job(Struct, frozen=True):
    """One job. `facts` are under job.PATH, with those of the roof where there is only one."""

    file: str
    name: str
    facts: Mapping[str, Fact]
    roofs: tuple[Roof, ...] = ()
    specification: Reference | None = None
    rules: tuple[Reference, ...] = ()
    addenda: tuple[Reference, ...] = ()
    pressures: tuple[StatedPressures, ...] = ()
    contract: tuple[ContractFact, ...] = ()

    def for_roof(self, name: str) -> Mapping[str, Fact]:
        """The job's facts with those of one roof; without the roof's where no roof has the name."""
        own = next((roof.facts for roof in self.roofs if roof.name == name), {})
        return {**self.facts, **own}
