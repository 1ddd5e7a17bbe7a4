"""The tutorial of rules/README.md, run as it is told: files written, commands typed, output compared.

A line `...` in the tutorial stands for any lines, `...` within one for any words; how many files and statements the
rules that ship have may change.
"""

from __future__ import annotations

import os
import re
import shutil
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path

from cleatmark.language.rulebooks import rules_folder

TEXT = (rules_folder() / "README.md").read_text(encoding="utf-8")
TUTORIAL = TEXT.split("\n# Tutorial", 1)[1]
SAMPLE = rules_folder().parent / "samples" / "library"
COUNT = re.compile(r"\d+ files?, \d+ statements?")


def steps() -> Iterator[tuple[str, str]]:
    """What to write, what to add, what to type, in order."""
    parts = re.split(r"^```(rules)?\n(.*?)^```$\n", TUTORIAL, flags=re.DOTALL | re.MULTILINE)
    for before, kind, body in zip(parts[::3], parts[1::3], parts[2::3], strict=False):
        last = before.strip().split("\n\n")[-1]
        if kind:
            yield ("write" if "Write this" in last else "add"), body
        else:
            yield "type", body


def run(command: str, folder: Path) -> str:
    words = command.split()
    assert words[0] == "cleatmark"
    done = subprocess.run(
        [sys.executable, "-m", "cleatmark.cli", *words[1:]],
        cwd=folder,
        stdout=subprocess.PIPE,
        stderr=subprocess.STDOUT,
        text=True,
        check=False,
        env={**os.environ, "COLUMNS": "90", "XDG_CACHE_HOME": str(folder / "cache")},
    )
    return COUNT.sub("N files, N statements", done.stdout)


def test_every_step_of_the_tutorial(tmp_path: Path) -> None:
    shutil.copytree(SAMPLE, tmp_path / "library")
    county = tmp_path / "county.rules"
    county.touch()
    typed = 0
    for what, body in steps():
        if what == "write":
            county.write_text(body, encoding="utf-8")
        elif what == "add":
            county.write_text(f"{county.read_text(encoding='utf-8').rstrip()}\n\n{body}", encoding="utf-8")
        else:
            for block in re.split(r"(?m)^\$ ", body)[1:]:
                command, _, expected = block.partition("\n")
                printed = run(command, tmp_path)
                shown = COUNT.sub("N files, N statements", expected.rstrip("\n"))
                pattern = re.escape(shown).replace(r"\.\.\.", r"[\s\S]*?")
                assert re.fullmatch(pattern, printed.rstrip("\n")), f"{command}\n{printed}"
                typed += 1
    assert typed >= 10
    assert "proven" in run("cleatmark rules prove county.rules", tmp_path)
