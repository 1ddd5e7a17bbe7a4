"""Puts up a job and a submittal of invented parts as files, and reviews them with the rulebooks that ship.

`ROOF` is a complete standing seam roof over nailed plywood; `PURLINS` one on open framing. A test changes what it is
about and leaves the rest: proposed and tested are the same until it does.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from copy import deepcopy
from functools import cache
from pathlib import Path
from typing import Any

import yaml

from cleatmark.facts import Citation, Stated, Value
from cleatmark.job.load import load_job
from cleatmark.language.program import Program
from cleatmark.language.rulebooks import load_program
from cleatmark.problems import render
from cleatmark.review.engine import SpecificationRead, review
from cleatmark.review.model import Difference, Evidence, Finding, Review
from cleatmark.review.run import declared_fields
from cleatmark.submittal.load import load_submittal
from cleatmark.units import parse

Tree = dict[str, Any]

ROOF: Tree = {
    "panel": {
        "manufacturer": "Fen Hollow Panels (invented)",
        "profile": "FH-2 standing seam",
        "material": "steel",
        "coating": "AZ50",
        "thickness": "24 ga, nominal",
        "yield_strength": "50 ksi, minimum",
        "width": "16 in",
        "seam_height": "2 in",
        "seam_type": "180 degree mechanical",
        "seam_sealant": "none",
        "attachment": "concealed clip",
        "length": "10 ft",
        "end_laps": "no",
        "spans": "5",
    },
    "clip": {
        "model": "FH-C",
        "type": "two-piece floating",
        "thickness": "16 ga",
        "length": "4 in",
        "spacing": "24 in",
        "bearing_plate": "none",
    },
    "fastener": {
        "type": "pancake head wood screw",
        "thread": "Type 17, coarse",
        "size": "No. 10",
        "length": "1-1/2 in",
        "head": "0.435 in",
        "washer": "none",
        "count": "2",
        "penetration": "15/32 in",
    },
    "deck": {
        "type": "plywood",
        "thickness": "15/32 in",
        "attachment": "nailed",
        "fastener_spacing": "6 in",
        "joints": "open",
        "edges": "clips",
    },
    "support": {"type": "wood trusses", "spacing": "24 in"},
    "insulation": {"type": "none", "thickness": "none"},
    "underlayment": {"type": "self-adhered sheet"},
    "air_seal": {"type": "none"},
}

PURLINS: Tree = {
    **ROOF,
    "panel": {
        **ROOF["panel"],
        "profile": "FH-3 trapezoidal",
        "width": "24 in",
        "seam_height": "3 in",
        "seam_type": "trapezoidal mechanical",
    },
    "clip": {**ROOF["clip"], "model": "FH-A", "type": "articulating", "spacing": "60 in"},
    "fastener": {
        **ROOF["fastener"],
        "type": "self-drilling screw",
        "thread": "14 to the inch",
        "size": "No. 12",
        "length": "1-1/4 in",
        "head": "0.415 in",
        "penetration": "1/2 in",
    },
    "deck": {"type": "open framing", "attachment": "none"},
    "support": {"type": "steel purlins", "spacing": "60 in", "thickness": "14 ga"},
    "insulation": {"type": "glass fiber blanket", "thickness": "4 in"},
    "underlayment": {"type": "none"},
}

REPORT: Tree = {
    "kind": "tested report",
    "offered_as": "tested report",
    "number": "T-1 (invented)",
    "date": "2024-03-08",
    "holder": "Fen Hollow Panels (invented)",
    "laboratory": "Dunmarrow Test Laboratory (invented)",
    "accreditation": "ISO/IEC 17025",
    "accreditation_scope": "UL 580, UL 1897, ASTM E1592",
    "signed_by": "J. Orrin (invented)",
    "pages": "20",
}
UL_580: Tree = {
    "id": "1",
    "standard": "UL 580",
    "edition": "5th edition, 2006",
    "class": "90",
    "held": "105 psf",
    "failure_mode": "none to the last step",
}
JOB: Tree = {
    "name": "A job (invented)",
    "place": {"city": "Carrow", "county": "Ettin", "state": "Marrow"},
    "code": "IBC 2021",
    "permit_date": "2026-06-15",
    "date": "2026-11-20",
    "insurer": "none",
    "rules": ["base"],
    "roof": {"shape": "gable", "slope": "3:12", "mean_height": "20 ft", "length": "120 ft", "width": "80 ft"},
    "pressures": [
        {
            "source": "Sheet S-001, note 4",
            "level": "allowable",
            "area": "10 sq ft",
            "zones": {"field": "-30 psf", "corner": "-52.5 psf"},
        }
    ],
}


def changed(tree: Tree, **changes: str | Mapping[str, str] | None) -> Tree:
    """A copy of the tree with values set by path, `panel__width="18 in"`; None takes one out."""
    out = deepcopy(tree)
    for path, value in changes.items():
        *above, last = path.split("__")
        node = out
        for name in above:
            node = node.setdefault(name, {})
        if value is None:
            node.pop(last, None)
        else:
            node[last] = value
    return out


def report(specimen: Tree, *runs: Tree, id: str = "T-1", **facts: Any) -> Tree:
    """A tested report of one specimen; a fact that is None is left out."""
    given = {**REPORT, **facts}
    named = {name: value for name, value in given.items() if value is not None}
    return {"id": id, **named, "specimen": specimen, "runs": list(runs or (UL_580,))}


def stated(
    subject: str,
    *values: str | Value,
    relation: str = "equal",
    kind: str = "",
    verb: str = "",
    zone: str = "",
    flags: tuple[str, ...] = (),
) -> Stated:
    """One requirement, as a specification would state it."""
    read = tuple(parse(v, kind) if kind and isinstance(v, str) else v for v in values)
    text = " or ".join(str(value) for value in values)
    citation = Citation("spec", f"07 41 13, 1.03 ({subject})", text)
    return Stated(subject, relation, read, text, "1.03", text, citation, zone=zone, verb=verb, flags=flags)


@cache
def program(*rules: str) -> Program:
    """The rulebooks that ship, by name."""
    return load_program(rules or ("base",), Path())


def reviewed(
    proposed: Tree,
    *documents: Tree,
    rules: tuple[str, ...] = ("base",),
    spec: Iterable[Stated] | None = None,
    job: Tree | None = None,
    **more: Any,
) -> Review:
    """The review of a submittal, through the loaders: both files are written as a user writes them."""
    book = declared_fields()
    site = {**JOB, **(job or {})}
    site = {name: value for name, value in site.items() if value is not None}
    paper = {"id": "S-1", "kind": "submittal", "contractor_stamp": "yes", "proposed": proposed, **more}
    if documents:
        paper["documents"] = list(documents)
    read_job, problems = load_job("job.yaml", book, text=_text(site))
    submittal, found = load_submittal("submittal.yaml", book, text=_text(paper))
    wrong = "\n".join(render(problem) for problem in (*problems, *found))
    assert read_job is not None, wrong
    assert submittal is not None, wrong
    assert not wrong, wrong
    read = SpecificationRead(file="spec.docx", stated=tuple(spec)) if spec is not None else None
    return review(read_job, submittal, read, program(*rules))


class _Plain(yaml.SafeDumper):
    """Writes everything out, as a user does: no anchors."""

    def ignore_aliases(self, data: object) -> bool:
        return True


def _text(tree: Tree) -> str:
    return yaml.dump(tree, Dumper=_Plain, sort_keys=False, allow_unicode=True)


# Reading a review -----------------------------------------------------------------------------------------------


def paper(result: Review, id: str = "T-1") -> Evidence:
    return next(document for document in result.evidence if document.id == id)


def verdict(result: Review, rule: str) -> str:
    return finding(result, rule).verdict


def finding(result: Review, rule: str) -> Finding:
    return next(item for item in result.findings if item.rule == rule)


def differing(document: Evidence, run: str = "1") -> dict[str, str]:
    """Fields of a run that are not the same as proposed, with how they stand."""
    row = next(item for item in document.runs if item.run == run)
    return {d.field: d.verdict for d in row.differences if d.verdict != "same"}


def difference(document: Evidence, field: str) -> Difference:
    return next(d for d in document.runs[0].differences if d.field == field)


def standing(document: Evidence, rule: str) -> str:
    """How a document stands for a requirement; "" where it is no paper that the requirement speaks of."""
    return next((item.standing for item in document.standings if item.rule == rule), "")


def because(document: Evidence, rule: str) -> str:
    return "; ".join(reason for item in document.standings if item.rule == rule for reason in item.because)
