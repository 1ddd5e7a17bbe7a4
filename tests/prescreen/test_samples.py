"""The dozen systems of the sample library, as its README says, and as its builder writes them."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

from cleatmark.review.prescreen import files_in, prescreen
from cleatmark.review.prescreen_setup import Setup

LIBRARY = Path(__file__).resolve().parents[2] / "samples" / "library"
SAYS = {"meets and holds": "meets and holds", "would": "with changes", "not shown": "not", "deviates": "not"}


def rows() -> dict[str, str]:
    """What the README says of each system."""
    text = (LIBRARY / "README.md").read_text("utf-8").split("## Systems on file")[1]
    return dict(re.findall(r"^\| (\w+/\w+) \| (.+) \|$", text, re.M))


def test_the_readme_names_every_system() -> None:
    systems = LIBRARY / "systems"
    names = {path.relative_to(systems).with_suffix("").as_posix() for path in files_in(systems)}
    assert set(rows()) == names
    assert len(names) == 12


def test_each_is_told_as_the_readme_says(setup: Setup) -> None:
    systems = LIBRARY / "systems"
    told = rows()
    for one in prescreen(setup, files_in(systems), folder=systems):
        says = told[one.file.removesuffix(".yaml")]
        lead = next(words for words in SAYS if says.startswith(words))
        assert one.outcome == SAYS[lead], one.file
        if lead in ("not shown", "deviates"):
            assert one.verdict == lead, one.file


def test_the_builder_writes_the_same_bytes(tmp_path: Path) -> None:
    order = [sys.executable, "-m", "samples.library.build_systems", str(tmp_path)]
    subprocess.run(order, cwd=LIBRARY.parents[1], check=True, timeout=120)
    systems = LIBRARY / "systems"
    for path in files_in(systems):
        assert (tmp_path / path.relative_to(systems)).read_bytes() == path.read_bytes()
