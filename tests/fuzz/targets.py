"""One function for each reader: bytes in, nothing out. What it raises is a finding."""

from __future__ import annotations

import io
import tempfile
import zipfile
from collections.abc import Callable
from functools import cache
from pathlib import Path

from cleatmark.language.check import check
from cleatmark.language.layers import merge
from cleatmark.language.parse import parse as parse_rules
from cleatmark.language.rulebooks import gather
from cleatmark.problems import InputError, render
from cleatmark.review.reading import readings_of
from cleatmark.review.run import program_for
from cleatmark.spec.apply import apply_readings
from cleatmark.spec.clauses import Clause, Section, Specification
from cleatmark.spec.document import read_docx
from cleatmark.spec.pattern import Phrase, PhraseError
from cleatmark.units import KINDS, QuantityError, parse, show
from cleatmark.yamlfile import load

CORPUS = Path(__file__).parent / "corpus"
SPEC = Path(__file__).parents[2] / "samples" / "library" / "spec.docx"


def text_of(data: bytes) -> str:
    return data.decode("utf-8", "replace")


def quantity(data: bytes) -> None:
    """A quantity as somebody types it, for each kind that a field may have."""
    text = text_of(data)
    for kind in ("", *KINDS):
        try:
            found = parse(text, kind)
        except QuantityError:
            continue
        assert parse(show(found), found.kind).kind == found.kind


def yaml(data: bytes) -> None:
    """A job or submittal file as text."""
    _, problems = load("f.yaml", text=text_of(data))
    for problem in problems:
        render(problem)


def rules(data: bytes) -> None:
    """A rule file: parsed, laid over the fields that ship, and proofread."""
    tree, problems = parse_rules(text_of(data), "f.rules")
    found = list(problems)
    if tree is not None:
        merged, more = merge([*_fields(), tree])
        found += [*more, *check(merged)]
    for problem in found:
        render(problem)


@cache
def _fields() -> tuple[object, ...]:
    files, _ = gather(["fields"], Path())
    return tuple(files)


def phrase(data: bytes) -> None:
    """The phrase of a reading."""
    try:
        Phrase(text_of(data))
    except PhraseError:
        return


def clause(data: bytes) -> None:
    """The text of one clause, read with all readings that ship."""
    program = program_for(None, Path(), ())
    own = Clause(address="1.01.A", label="A.", level=3, text=text_of(data)[:2_000], ordinal=0)
    section = Section("07 41 13", "METAL ROOF PANELS", (own,), True)
    apply_readings(Specification("spec.docx", (section,)), readings_of(program), program.book)


def docx(data: bytes) -> None:
    """The first byte says what is hostile: the archive itself, or one part of a sound one."""
    parts = ("word/document.xml", "word/numbering.xml", "word/styles.xml")
    kind, rest = (data[0] % 4, data[1:]) if data else (0, b"")
    with tempfile.TemporaryDirectory() as folder:
        path = Path(folder) / "spec.docx"
        path.write_bytes(rest if kind == 3 else _with(parts[kind], rest))
        try:
            read_docx(path)
        except InputError:
            return


def _with(part: str, data: bytes) -> bytes:
    out = io.BytesIO()
    with zipfile.ZipFile(io.BytesIO(_sound())) as source, zipfile.ZipFile(out, "w") as target:
        for name in source.namelist():
            target.writestr(name, data if name == part else source.read(name))
    return out.getvalue()


@cache
def _sound() -> bytes:
    return SPEC.read_bytes()


TARGETS: dict[str, Callable[[bytes], None]] = {
    "quantity": quantity,
    "yaml": yaml,
    "rules": rules,
    "phrase": phrase,
    "clause": clause,
    "docx": docx,
}
