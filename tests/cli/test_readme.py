"""The README shows what the commands print. `python -m tests.cli.test_readme` writes it anew."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
BLOCK = re.compile(r"<!-- (?P<name>\w+) up to: (?P<end>[^\n]+?) -->\n(?P<text>.*?)<!-- end -->", re.S)


def printed(name: str, end: str) -> str:
    """What the review of a sample submittal prints to a pipe, up to the line that starts with `end`, as code."""
    command = [sys.executable, "-m", "cleatmark.cli", "review", "samples/library/job.yaml"]
    command.append(f"samples/library/submittals/{name}.yaml")
    environment = {**os.environ, "COLUMNS": "100"}
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, env=environment)
    assert (done.returncode in (0, 1), done.stderr) == (True, "")
    lines = done.stdout.splitlines()
    stop = next(n for n, line in enumerate(lines) if line.strip().startswith(end))
    return "".join(f"    {line}\n" if line else "\n" for line in lines[:stop]).rstrip("\n")


def blocks(text: str) -> list[re.Match[str]]:
    return list(BLOCK.finditer(text))


@pytest.mark.parametrize("name", ["a_tested", "c_quiet_swap"])
def test_the_output_in_the_readme_is_real(name: str) -> None:
    found = {match["name"]: match for match in blocks((ROOT / "README.md").read_text(encoding="utf-8"))}
    assert found[name]["text"].strip("\n") == printed(name, found[name]["end"])


if __name__ == "__main__":
    readme = ROOT / "README.md"
    text = BLOCK.sub(
        lambda m: f"<!-- {m['name']} up to: {m['end']} -->\n\n{printed(m['name'], m['end'])}\n\n<!-- end -->",
        readme.read_text(encoding="utf-8"),
    )
    readme.write_text(text, encoding="utf-8")
