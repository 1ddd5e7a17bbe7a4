"""Numbers beside LibreOffice's text export: the worked cases, and random walks through lists.

LibreOffice is no oracle for `isLgl`, for `lvlRestart`, for a level known only by the list's link to a style, and
for a start that a list overrides below the level it begins at; nor for what its export shows though paper does
not (deleted and hidden text). Those are worked by hand in test_docx_numbering.py and kept out of the walks.
"""

from __future__ import annotations

import random
import shutil
import subprocess
from pathlib import Path

import pytest
from docx_build import abstract, build, lvl, num, numbered, p, restart, style
from test_docx_numbering import CASES, NORMAL, labels

OFFICE = shutil.which("soffice")
pytestmark = pytest.mark.skipif(OFFICE is None, reason="LibreOffice (soffice) is not installed here")

COMPARED = [name for name, case in CASES.items() if case.office]
WALKS = range(16)
FORMATS = ("decimal", "upperLetter", "lowerLetter", "upperRoman", "lowerRoman", "decimalZero")


def walk(seed: int) -> tuple[list[str], str, str]:
    """Paragraphs that wander over two abstract lists with restarts, a replaced level, starts and style links."""
    chance = random.Random(seed)
    lists, second = "", 1
    for key in (1, 2):
        levels = []
        for at in range(6):
            joined = at > 0 and chance.random() < 0.4
            text = ".".join(f"%{up + 1}" for up in range(at + 1)) if joined else f"%{at + 1}"
            signs = chance.choice(("{}.", "{})", "({})", "{}"))
            fmt, start = chance.choice(FORMATS), chance.choice((1, 1, 1, 3))
            second = start if at == 1 else second
            levels.append(lvl(at, fmt, signs.format(text), start=start, style=f"S{key}{at}"))
        lists += abstract(key, *levels)
    replaced = lvl(1, "lowerRoman", "%2)", start=second)
    lists += num(1, 1) + num(2, 2) + num(3, 1, restart(0)) + num(4, 1, restart(0, 4)) + num(5, 2)
    lists += num(6, 2, f'<w:lvlOverride w:ilvl="1">{replaced}</w:lvlOverride>')
    styles = NORMAL + "".join(
        style(f"S{key}{at}", ppr=numbered(key, at)) for key in (1, 2) for at in range(6)
    )
    blocks, level, begun = [], 0, set()
    for at in range(70):
        level = max(0, min(5, level + chance.choice((-2, -1, -1, 0, 0, 0, 1, 1, 2))))
        if chance.random() < 0.35:
            blocks.append(p(f"item{at}", f"S{chance.choice((1, 2))}{level}"))
        elif chance.random() < 0.1:
            blocks.append(p(f"item{at}"))
        else:
            key = chance.choice((1, 1, 1, 2, 3, 4, 5, 6))
            level = level if key in begun or key not in (3, 4) else 0
            begun.add(key)
            blocks.append(p(f"item{at}", num=(key, level)))
    return blocks, lists, styles


@pytest.fixture(scope="module")
def exported(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with every document and its text export; one start of LibreOffice for all."""
    folder = tmp_path_factory.mktemp("oracle")
    for at, name in enumerate(COMPARED):
        case = CASES[name]
        build(folder / f"case{at}.docx", case.blocks, numbering=case.numbering, styles=case.styles)
    for seed in WALKS:
        blocks, lists, styles = walk(seed)
        build(folder / f"walk{seed}.docx", blocks, numbering=lists, styles=styles)
    assert OFFICE is not None
    profile = (tmp_path_factory.mktemp("profile") / "user").as_uri()
    subprocess.run(
        [
            OFFICE, f"-env:UserInstallation={profile}", "--headless", "--convert-to", "txt:Text (encoded):UTF8",
            "--outdir", str(folder), *map(str, sorted(folder.glob("*.docx"))),
        ],
        check=True, capture_output=True, timeout=300,
    )  # fmt: skip
    return folder


def lines(folder: Path, name: str) -> list[str]:
    return [" ".join(line.split()) for line in (folder / f"{name}.txt").read_text("utf-8-sig").splitlines()]


def printed(path: Path) -> list[str]:
    """Our reading in the same form: the label, and the text behind it."""
    from cleatmark.spec.document import read_docx

    clauses = [clause for section in read_docx(path)[0].sections for clause in section.clauses]
    return [f"{clause.label} {clause.text}".strip() for clause in clauses]


@pytest.mark.parametrize("name", COMPARED)
def test_worked_cases_agree(exported: Path, name: str) -> None:
    at, expected = COMPARED.index(name), CASES[name].labels
    assert labels(exported / f"case{at}.docx") == expected
    for line, label in zip(lines(exported, f"case{at}"), expected, strict=True):
        assert line.startswith(f"{label} ") if label else " " not in line


@pytest.mark.parametrize("seed", WALKS)
def test_random_walks_agree(exported: Path, seed: int) -> None:
    assert printed(exported / f"walk{seed}.docx") == lines(exported, f"walk{seed}")
