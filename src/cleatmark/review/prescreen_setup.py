"""What a pre-screen reads once: the job, its specification and rules, and what they ask before any system is seen."""

from __future__ import annotations

import hashlib
import pickle
from collections.abc import Iterable, Sequence
from datetime import date
from pathlib import Path
from typing import NamedTuple

import msgspec

from cleatmark import __version__
from cleatmark.facts import Stated
from cleatmark.job.load import load_job
from cleatmark.job.model import Job
from cleatmark.language.layers import Merged
from cleatmark.language.program import Program, compile_program
from cleatmark.language.stated import binding, open_missing, reason_open
from cleatmark.problems import InputError, Problem
from cleatmark.review.advice import advise
from cleatmark.review.causes import ADDRESSEES, question_for
from cleatmark.review.demand import demand
from cleatmark.review.engine import SpecificationRead, job_head, rulebook_head
from cleatmark.review.model import Request
from cleatmark.review.prescreen_model import AskedFor, PrescreenHead
from cleatmark.review.run import declared_fields, program_for, read_specification
from cleatmark.review.world import build, settled
from cleatmark.submittal.model import Submittal


class Setup(NamedTuple):
    """Everything that screening a system needs beside its file."""

    job: Job
    read: SpecificationRead | None
    program: Program
    permit: date | None

    def packed(self) -> bytes:
        """The setup as bytes that another process can open."""
        return pickle.dumps((self.job, self.read, self.program.merged, self.permit), protocol=5)

    def mark(self) -> str:
        """A mark of everything that results depend on beside the systems: the files' bytes, the rules, the version."""
        base = Path(self.job.file).parent
        named = [self.job.specification, *self.job.addenda]
        files = [
            Path(self.job.file),
            *(base / reference.text for reference in named if reference is not None),
        ]
        rules = msgspec.json.encode(self.program.merged.files, order="deterministic")
        return digest_of(b"\0".join([__version__.encode(), rules, *(file.read_bytes() for file in files)]))

    @property
    def stated(self) -> tuple[Stated, ...]:
        return settled(self.read.stated) if self.read is not None else ()


def unpacked(data: bytes) -> Setup:
    """A setup from bytes that `packed` made in this program; never from a file of somebody else's."""
    job, read, merged, permit = pickle.loads(data)
    assert isinstance(merged, Merged)
    return Setup(job, read, compile_program(merged), permit)


def digest_of(data: bytes) -> str:
    """A short mark of some bytes: of a setup, of a file."""
    return hashlib.sha256(data).hexdigest()[:24]


def prepare(job_file: Path, rules: Sequence[str] = ()) -> Setup:
    """Reads the job, its specification with its addenda, and the rules. Raises InputError with every problem."""
    problems: list[Problem] = []
    job, found = load_job(job_file, declared_fields())
    problems.extend(found)
    try:
        program = program_for(job, job_file.parent, rules)
        read = read_specification(job, job_file.parent, program) if job is not None else None
    except InputError as error:
        raise InputError((*problems, *error.problems)) from None
    if problems or job is None:
        raise InputError(problems)
    permit = job.facts.get("job.permit_date")
    day = permit.value if permit is not None and isinstance(permit.value, date) else None
    return Setup(job, read, program, day)


def head_of(setup: Setup) -> PrescreenHead:
    """What the specification asks, and what is to be asked before bidding."""
    job, read, program, _ = setup
    spec = read or SpecificationRead()
    nobody = Submittal(job.file, "", {}, {})
    load = demand(job, nobody, setup.stated, program.book, drawn=False)
    world = build(job, nobody, setup.stated, load.zones, spec.clauses, spec.file)
    advice = (*advise(program, world), *load.advice)
    questions = [(item.ask, item.question) for item in advice if item.question]
    questions += open_questions(setup.stated, program)
    if not load.zones:
        questions.append(
            ("designer", "What are the design uplift pressures of the roof zones, and at which level?")
        )
    return PrescreenHead(
        job=job_head(job, spec),
        rulebooks=tuple(rulebook_head(head) for head in program.merged.heads),
        asked=asked_for(spec.stated, program),
        questions=by_addressee(questions),
        advice=advice,
        amendments=spec.amendments,
        notices=(*spec.notices, *load.notices),
        cautions=program.cautions,
    )


def open_questions(stated: Iterable[Stated], program: Program) -> list[tuple[str, str]]:
    """A question for each subject that the specification asks for and leaves open."""
    fields = program.book.block("spec")
    by_subject: dict[str, list[Stated]] = {}
    for item in binding(stated):
        if reason_open(item):
            by_subject.setdefault(item.subject, []).append(item)
    lacks = [open_missing(subject, fields.get(subject), items) for subject, items in by_subject.items()]
    return [(lack.ask, question_for(lack)) for lack in lacks]


def by_addressee(questions: Iterable[tuple[str, str]]) -> tuple[Request, ...]:
    """Questions by whom they go to, each once."""
    asked: dict[str, dict[str, None]] = {}
    for to, question in questions:
        asked.setdefault(to or "designer", {})[question] = None
    known = {name: at for at, name in enumerate(ADDRESSEES)}
    return tuple(Request(to, tuple(asked[to])) for to in sorted(asked, key=lambda name: known.get(name, 99)))


_GROUPS = {
    "uplift": "Wind uplift",
    "safety_factor": "Wind uplift",
    "wind": "Wind",
    "approval": "Approvals and listings",
    "listing_body": "Approvals and listings",
    "fire": "Approvals and listings",
    "impact": "Approvals and listings",
    "panel": "Panel",
    "clip": "Clips and fasteners",
    "fastener": "Clips and fasteners",
    "deck": "Deck, supports and layers",
    "support": "Deck, supports and layers",
    "insulation": "Deck, supports and layers",
    "underlayment": "Deck, supports and layers",
    "air_seal": "Deck, supports and layers",
    "roof": "Deck, supports and layers",
    "water": "Air and water",
    "air": "Air and water",
    "warranty": "Warranties",
}
_REST = "Procedure"


def asked_for(stated: Iterable[Stated], program: Program) -> tuple[AskedFor, ...]:
    """The requirements that bind, by part of the roof and by subject, in the order of the specification."""
    fields = program.book.block("spec")
    groups: dict[str, dict[str, list[Stated]]] = {
        name: {} for name in (*dict.fromkeys(_GROUPS.values()), _REST)
    }
    for item in binding(stated):
        name = _GROUPS.get(item.subject.split(".", 1)[0], _REST)
        field = fields.get(item.subject)
        groups[name].setdefault(field.title if field is not None else item.subject, []).append(item)
    return tuple(
        AskedFor(name, tuple((title, tuple(items)) for title, items in subjects.items()))
        for name, subjects in groups.items()
        if subjects
    )
