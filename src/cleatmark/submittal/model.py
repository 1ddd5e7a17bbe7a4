"""A submittal as its file states it: the proposed assembly, the documents offered for it, their runs."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct

from cleatmark.facts import Citation, Fact
from cleatmark.problems import Place


class Departure(Struct, frozen=True):
    """A departure that the submitter declares: the field it is about, or "", and the words."""

    field: str
    text: str
    place: Place
    citation: Citation


class Run(Struct, frozen=True):
    """One specimen, one result.

    facts   under run.PATH
    tested  the specimen under tested.PATH: what the document says of all runs, and over it what this run says
    own     paths of the specimen that this run states itself
    """

    id: str
    facts: Mapping[str, Fact]
    tested: Mapping[str, Fact]
    place: Place
    own: frozenset[str] = frozenset()


class Condition(Struct, frozen=True):
    """One condition of a listing.

    facts  under condition.PATH; condition.value is read by the kind of the field that the condition is about
    field  that field's path, "" where the condition names none
    """

    field: str
    facts: Mapping[str, Fact]
    place: Place


class Document(Struct, frozen=True):
    """One document of the evidence.

    name      as a citation names it: "tested report T-118"
    facts     under document.PATH
    specimen  what it says of every specimen, under tested.PATH
    claims    under document.claims, one fact a claim
    """

    id: str
    name: str
    facts: Mapping[str, Fact]
    place: Place
    specimen: Mapping[str, Fact] = {}
    runs: tuple[Run, ...] = ()
    conditions: tuple[Condition, ...] = ()
    claims: tuple[Fact, ...] = ()


class Submittal(Struct, frozen=True):
    """One submittal.

    facts      under submittal.PATH
    proposed   under proposed.PATH, what is the same in every zone
    by_zone    under proposed.PATH and zone as written, what differs by roof zone
    installed  under installed.PATH, what was changed in the field
    """

    file: str
    id: str
    facts: Mapping[str, Fact]
    proposed: Mapping[str, Fact]
    by_zone: Mapping[str, Mapping[str, Fact]] = {}
    installed: Mapping[str, Fact] = {}
    departures: tuple[Departure, ...] = ()
    documents: tuple[Document, ...] = ()

    @property
    def zones(self) -> tuple[str, ...]:
        """Zones that the proposal names, in the order of the file."""
        return tuple(dict.fromkeys(zone for variants in self.by_zone.values() for zone in variants))

    def in_zone(self, zone: str) -> Mapping[str, Fact]:
        """The proposed assembly in one zone. A field that differs by zone and does not state this one is left
        out: it is not known there."""
        own = {path: variants[zone] for path, variants in self.by_zone.items() if zone in variants}
        return {**self.proposed, **own}
