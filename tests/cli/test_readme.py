"""The README shows what the commands print."""

from __future__ import annotations

import re
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]


def printed() -> str:
    """What the README's first command prints to a pipe, as a code block."""
    command = [sys.executable, "-m", "cleatmark.cli", "review", "samples/library/job.yaml"]
    command.append("samples/library/submittals/a_tested.yaml")
    done = subprocess.run(command, cwd=ROOT, capture_output=True, text=True, check=False, env=environment())
    assert done.returncode == 0, done.stderr
    return "".join(f"    {line}\n" if line else "\n" for line in done.stdout.splitlines())


def environment() -> dict[str, str]:
    import os

    return {**os.environ, "COLUMNS": "100"}


def block(text: str) -> str:
    match = re.search(r"<!-- output -->\n\n?(.*?)\n?<!-- end of output -->", text, re.S)
    assert match
    return match.group(1)


def test_the_output_in_the_readme_is_real() -> None:
    assert block((ROOT / "README.md").read_text(encoding="utf-8")).strip() == printed().strip()


if __name__ == "__main__":
    readme = ROOT / "README.md"
    text = readme.read_text(encoding="utf-8")
    start, end = "<!-- output -->", "<!-- end of output -->"
    head, rest = text.split(start)
    readme.write_text(f"{head}{start}\n\n{printed()}\n{end}{rest.split(end)[1]}", encoding="utf-8")
