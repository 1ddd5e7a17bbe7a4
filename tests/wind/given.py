"""Facts as a job file would state them."""

from __future__ import annotations

from cleatmark.facts import Citation, Fact, Value
from cleatmark.units import parse

KINDS = {
    "speed": "speed",
    "topographic_factor": "number",
    "ground_elevation": "length",
    "slope": "slope",
    "mean_height": "length",
    "length": "length",
    "width": "length",
    "parapet": "length",
    "overhang": "length",
    "north": "angle",
    "hill.height": "length",
    "hill.half_length": "length",
    "hill.distance": "length",
}

STANDARD = {
    "standard": "ASCE 7-16",
    "speed": "120 mph",
    "exposure": "C",
    "risk_category": "II",
    "enclosure": "enclosed",
    "topographic_factor": "1.0",
    "ground_elevation": "0 ft",
    "shape": "flat",
    "slope": "1/4:12",
    "mean_height": "25 ft",
    "length": "120 ft",
    "width": "80 ft",
}
ROOF = ("shape", "slope", "mean_height", "length", "width", "parapet", "overhang", "north", "plan")


def fact(path: str, text: str) -> Fact:
    kind = KINDS.get(path.removeprefix("job.wind.").removeprefix("job.roof."))
    value: Value = parse(text, kind) if kind else text
    if text in ("yes", "no"):
        value = text == "yes"
    return Fact(path, value, text, (Citation("job", "job.yaml:9"), Citation("job", "Sheet S-001")))


def facts(**changes: str) -> dict[str, Fact]:
    """The standard job, changed: a key with "" leaves its fact out. `hill_height` is job.wind.hill.height."""
    stated = {**STANDARD, **{key.replace("hill_", "hill."): text for key, text in changes.items()}}
    found = {}
    for key, text in stated.items():
        if text:
            path = f"job.{'roof' if key in ROOF else 'wind'}.{key}"
            found[path] = fact(path, text)
    return found
