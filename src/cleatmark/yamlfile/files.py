"""A YAML file from disk to nodes: what cannot be opened, is too large or is not text is told in one line."""

from __future__ import annotations

import re
import stat
from pathlib import Path

from cleatmark.problems import Place, Problem
from cleatmark.yamlfile.compose import LIMITS, Composer, Limits
from cleatmark.yamlfile.nodes import Node

AS_TEXT = (
    "job files and submittals are plain text that ends in .yaml; a submittal may also be a filled .docx form",
)
_CONTROL = re.compile("[\x00-\x08\x0b\x0c\x0e-\x1f\x7f\x80-\x84\x86-\x9f\ufffe\uffff]")


def load(
    path: str | Path, *, text: str | None = None, limits: Limits = LIMITS
) -> tuple[Node | None, tuple[Problem, ...]]:
    """The root node of a YAML file and every mistake found in it.

    text  what the file holds, where it has been read already
    The node is None where the file cannot be read, is empty, or breaks YAML's syntax.
    """
    file = str(path)
    if text is None:
        text, problem = _read(Path(path), file, limits)
        if problem:
            return None, (problem,)
    control = _CONTROL.search(text)
    if control:
        before = text[: control.start()]
        row, column = before.count("\n"), control.start() - (before.rfind("\n") + 1)
        place = Place(file, row + 1, column + 1)
        return None, (
            Problem(place, f"a control character ({ord(control[0]):#04x}); the file must be plain text"),
        )
    composer = Composer(file, text, limits)
    root = composer.compose()
    if root is None and not composer.problems:
        composer.problems.append(Problem(Place(file), "the file is empty", ("check that it was saved",)))
    return root, tuple(composer.problems)


def _read(path: Path, file: str, limits: Limits) -> tuple[str, Problem | None]:
    def wrong(message: str, *help: str, line: int = 0) -> tuple[str, Problem]:
        return "", Problem(Place(file, line, 1 if line else 0), message, help)

    try:
        found = path.stat()
        if stat.S_ISDIR(found.st_mode):
            return wrong("this is a folder; a file is expected", "name the file in it")
        if not stat.S_ISREG(found.st_mode):
            return wrong("this is not a file")
        with path.open("rb") as stream:
            data = stream.read(limits.size + 1)
    except FileNotFoundError:
        return wrong("there is no such file", *(_beside(path) or ("check its name and its folder",)))
    except (OSError, ValueError) as error:
        return wrong(f"the file cannot be read: {getattr(error, 'strerror', None) or error}")
    if len(data) > limits.size:
        return wrong(f"the file is larger than {limits.size:,} bytes")
    if data[:4] == b"PK\x03\x04":
        return wrong("this is a ZIP or Word file; a YAML text file is expected", *AS_TEXT)
    if data[:4] == b"\xd0\xcf\x11\xe0":
        return wrong("this is an old .doc file, or an encrypted one; a YAML text file is expected", *AS_TEXT)
    if data[:5] == b"%PDF-":
        return wrong("this is a PDF; a YAML text file is expected", *AS_TEXT)
    coding = "utf-16" if data[:2] in (b"\xff\xfe", b"\xfe\xff") else "utf-8-sig"
    try:
        return data.decode(coding), None
    except UnicodeDecodeError as error:
        line = data[: error.start].count(b"\n") + 1
        return wrong("the file is not UTF-8 text", "save it as UTF-8", line=line)


def _beside(path: Path) -> tuple[str, ...]:
    """The file in the same folder whose name is nearest, as a help line."""
    from cleatmark.problems import did_you_mean

    try:
        names = [item.name for item in sorted(path.parent.iterdir())[:500]]
    except OSError:
        return ()
    return did_you_mean(path.name, (name for name in names if name != path.name))
