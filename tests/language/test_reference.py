"""rules/README.md is the language's reference: short enough to print, and in step with what it describes.

`CLEATMARK_WRITE_EXPECTED=1 pytest tests/language/test_reference.py` writes its list of fields anew.
"""

from __future__ import annotations

import os
import re
from pathlib import Path
from textwrap import dedent, wrap

from cleatmark.fields import Field
from cleatmark.language import phrases
from cleatmark.language.check_words import ACTIONS, ASK, BASES, CONFIDENCE
from cleatmark.language.examples import CLAUSES, STATEMENTS, TAKES
from cleatmark.language.parse import parse
from cleatmark.language.program import fields_of
from cleatmark.language.proofread import proofread
from cleatmark.language.rulebooks import rules_folder
from cleatmark.problems import render
from cleatmark.units import KINDS

PATH = rules_folder() / "README.md"
TEXT = PATH.read_text(encoding="utf-8")
REFERENCE = TEXT.split("\n# Tutorial")[0]
LINES_OF_TEN_PAGES = 550
BLOCKS = {
    "assembly": "Assembly",
    "spec": "Stated by a specification only",
    "job": "Job",
    "submittal": "Submittal",
    "document": "Document",
    "run": "Run",
    "condition": "Condition of a listing",
    "zone": "Roof zone",
}
HEAD = 'rulebook county "County"\n  builds on base\n'


def declared() -> list[Field]:
    tree, problems = parse((rules_folder() / "fields.rules").read_text(encoding="utf-8"), "fields.rules")
    assert tree is not None
    assert problems == ()
    return list(fields_of([tree]))


def listed() -> str:
    """The list of fields as it stands in the reference."""
    out = []
    for block, title in BLOCKS.items():
        shown = [
            f"`{field.path}` {field.kind}" + (f" ({field.less}, {field.more})" if field.less else "")
            for field in declared()
            if field.block == block
        ]
        out.append("\n".join(wrap(f"**{title}.** " + "; ".join(shown) + ".", 90, break_on_hyphens=False)))
    return "\n\n".join(out)


def taken() -> str:
    """What each statement takes, as it stands in the reference."""
    out = []
    for word, example in STATEMENTS.items():
        clauses = ", ".join(TAKES[word]) or {"assembly": "fields with their values"}.get(word, "no clauses")
        line = f"- `{example}`: {clauses}."
        out += wrap(line, 90, subsequent_indent="  ", break_on_hyphens=False)
    return "\n".join(out)


def between(name: str, right: str) -> str:
    """What stands in the reference between two marks; written anew where that is asked for."""
    start, end = f"<!-- {name} -->\n", f"<!-- end of {name} -->"
    text = PATH.read_text(encoding="utf-8")
    before, _, rest = text.partition(start)
    inner, _, after = rest.partition(end)
    if os.environ.get("CLEATMARK_WRITE_EXPECTED") and inner != right:
        PATH.write_text(f"{before}{start}{right}{end}{after}", encoding="utf-8")
        return right
    return inner


def test_the_list_of_fields_is_that_of_the_declarations() -> None:
    assert between("fields", listed() + "\n") == listed() + "\n"


def test_the_list_of_clauses_is_what_the_proofreader_takes() -> None:
    assert between("clauses", taken() + "\n") == taken() + "\n"


def test_it_fits_ten_printed_pages() -> None:
    lines = REFERENCE.splitlines()
    assert len(lines) <= LINES_OF_TEN_PAGES
    assert [line for line in lines if len(line) > 90 and not line.startswith("|")] == []


def test_every_word_that_a_writer_needs_is_in_it() -> None:
    words = {*STATEMENTS, *CLAUSES, *BASES, *ACTIONS, *ASK, *CONFIDENCE, *KINDS}
    words |= {*phrases.SLOTS, *phrases.ARTICLES, *phrases.FLAGS}
    text = re.sub(r"\s+", " ", REFERENCE)
    missing = [word for word in sorted(words) if not re.search(rf"\b{re.escape(word)}\b", text)]
    assert missing == []


def blocks() -> list[str]:
    """The examples of statements in the reference."""
    found = [dedent(block).strip("\n") for block in re.findall(r"(?m)(?:^(?: {4}| {8}).*\n|^\n)+", REFERENCE)]
    return [block for block in found if block and block.split()[0] in STATEMENTS]


def test_every_example_is_right(tmp_path: Path) -> None:
    """Each is proofread over the base review; that the base states some of them already is no fault."""
    examples = blocks()
    assert len(examples) >= 10
    for block in examples:
        whole = block if block.startswith("rulebook") else f"{HEAD}\n{block}\n"
        (tmp_path / "county.rules").write_text(whole, encoding="utf-8")
        told = [render(problem) for problem in proofread(["county.rules"], tmp_path).problems]
        assert [text for text in told if "is stated twice" not in text] == []


def test_examples_show_every_statement() -> None:
    words = {line.split()[0] for block in blocks() for line in block.splitlines() if line[:1].strip()}
    assert set(STATEMENTS) - words == {"kind"}
