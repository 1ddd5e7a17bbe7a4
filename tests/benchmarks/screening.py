"""A folder of systems pre-screened with rules beside the shipped ones, on one core and on two."""

from __future__ import annotations

import tempfile
from pathlib import Path

from .making import SAMPLE, own_rules, systems
from .timing import command, line, title

RULES = 200
FEW, MANY = 40, 440
"""Two sizes, so that what is done once falls out of the difference."""


def main() -> None:
    title(f"Pre-screen by {RULES} rules beside those of base", "s", "ms a system", "s for 10,000", "MiB")
    with tempfile.TemporaryDirectory() as folder:
        base = Path(folder)
        rules = own_rules(base / "checks.rules", RULES, basis="specification")
        for jobs in ("1", "2"):
            taken = []
            for size in (FEW, MANY):
                here = systems(base / f"systems{size}", size)
                words = ("prescreen", str(SAMPLE / "job.yaml"), "--systems", str(here), "--jobs", jobs)
                taken.append(command(*words, "--rules", "base", str(rules), times=1))
            each = (taken[1][0] - taken[0][0]) / (MANY - FEW)
            whole = (taken[0][0] + each * (10_000 - FEW)) / 1000
            line(f"{MANY} systems, {jobs} process(es)", taken[1][0] / 1000, each, whole, taken[1][1])
