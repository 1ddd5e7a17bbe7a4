"""Documents changed at random, well-formed and not, and archives with changed bytes: a reading or one refusal."""

from __future__ import annotations

import copy
import random
import re
from pathlib import Path

import pytest
from docx_build import cell, dele, ins, p, pack, parts, r, row, tbl
from lxml import etree
from test_docx_numbering import CASES
from test_docx_outline import CSI_TYPED, FEDERAL_TYPED
from test_docx_text import GONE, box, field

from cleatmark.problems import InputError
from cleatmark.spec.clauses import Specification
from cleatmark.spec.document import read_docx

BLOCKS = [
    p("SECTION 07 41 13 - METAL ROOF PANELS"),
    *(block for _, block in (*CSI_TYPED, *FEDERAL_TYPED)),
    *(block for case in CASES.values() for block in case.blocks[:6]),
    p(r("a") + box(p("x")) + dele("z") + ins("y") + field("REF", r("q")), "PR1", mark=GONE),
    tbl(
        row(cell("a", props='<w:vMerge w:val="restart"/>'), "b", props="<w:tblHeader/>"),
        row(cell("", props="<w:vMerge/>"), cell(tbl(row("n", "m")))),
    ),
]
BASE = parts(BLOCKS, headers=[p("07 41 13 - 1")])
PARTS = tuple(name for name in BASE if name.startswith("word/"))
ODD = ("0", "-1", "99999999999", "", "x", "PR1", "restart", "none")


def rearranged(chance: random.Random, content: str) -> str:
    """Elements taken out, copied elsewhere, attributes changed; still well-formed."""
    root = etree.fromstring(content.encode())
    elements = [element for element in root.iter() if element.getparent() is not None]
    for _ in range(chance.randint(1, 8)):
        one, other, what = chance.choice(elements), chance.choice(elements), chance.random()
        parent = one.getparent()
        if what < 0.4 and parent is not None:
            parent.remove(one)
        elif what < 0.8:
            other.append(copy.deepcopy(one))
        else:
            for name in one.attrib:
                one.set(name, chance.choice(ODD))
    return etree.tostring(root, xml_declaration=True, encoding="UTF-8").decode()


def broken(chance: random.Random, content: str) -> str:
    """Tags dropped, doubled, swapped or cut, mostly no longer well-formed."""
    pieces = re.findall(r"<[^>]+>|[^<]+", content)
    for _ in range(chance.randint(1, 5)):
        at, other = chance.randrange(1, len(pieces)), chance.randrange(1, len(pieces))
        match chance.randrange(4):
            case 0:
                del pieces[at]
            case 1:
                pieces.insert(at, pieces[other])
            case 2:
                pieces[at], pieces[other] = pieces[other], pieces[at]
            case _:
                pieces[at] = pieces[at][:-1]
    return "".join(pieces)


def outcome(path: Path) -> tuple[Specification | None, list[str]]:
    try:
        specification, problems = read_docx(path)
    except InputError as refused:
        return None, [problem.message for problem in refused.problems]
    return specification, [problem.message for problem in problems]


def ends_well(path: Path) -> None:
    specification, messages = outcome(path)
    assert not any("\n" in message for message in messages)
    if specification is None:
        assert len(messages) == 1
        return
    for section in specification.sections:
        for clause in section.clauses:
            assert all(0 <= span.start < span.end <= len(clause.text) for span in clause.spans)


@pytest.mark.parametrize("seed", range(60))
def test_a_part_changed_at_random(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    for change in (rearranged, rearranged, broken):
        name = chance.choice(PARTS)
        ends_well(pack(tmp_path / "changed.docx", {**BASE, name: change(chance, BASE[name])}))


@pytest.mark.parametrize("seed", range(40))
def test_bytes_of_the_archive_changed_at_random(tmp_path: Path, seed: int) -> None:
    chance = random.Random(seed)
    whole = pack(tmp_path / "whole.docx", BASE).read_bytes()
    for _ in range(5):
        content = bytearray(whole)
        for _ in range(chance.randint(1, 3)):
            at = chance.choice((chance.randrange(len(content)), len(content) - chance.randint(1, 600)))
            content[at] = chance.randrange(256)
        path = tmp_path / "bytes.docx"
        path.write_bytes(bytes(content))
        ends_well(path)
