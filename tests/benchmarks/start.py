"""A command from the shell's prompt to its end, as multiples of `python -c pass` of the same run."""

from __future__ import annotations

import tempfile
from pathlib import Path

from .making import SAMPLE, manual, own_rules
from .timing import command, line, process, title

REVIEW_PARAGRAPHS = 400
REVIEW_CHECKS = 200


def main() -> None:
    bare, least = process("-c", "pass", times=9)
    title("Start-up, new process, rulebooks parsed before", "ms", "x bare", "MiB")
    line("python -c pass", bare, 1.0, least)
    with tempfile.TemporaryDirectory() as folder:
        base = Path(folder)
        job, submittal = str(SAMPLE / "job.yaml"), str(SAMPLE / "submittals" / "a_tested.yaml")
        larger = larger_job(base, REVIEW_PARAGRAPHS)
        rules = str(own_rules(base / "checks.rules", REVIEW_CHECKS))
        calls = {
            "cleatmark --version": ("--version",),
            "review of the sample job, text": ("review", job, submittal),
            "review of the sample job, JSON": ("review", job, submittal, "--format", "json"),
            f"review, {REVIEW_PARAGRAPHS} paragraphs, {REVIEW_CHECKS} checks": (
                *("review", str(larger), submittal, "--rules", "base", rules),
            ),
            "read of the sample specification": ("read", str(SAMPLE / "spec.docx")),
            "wind of the sample job": ("wind", job),
        }
        for name, words in calls.items():
            taken, peak = command(*words)
            line(name, taken, taken / bare, peak)


def larger_job(folder: Path, paragraphs: int) -> Path:
    """The sample's job with a specification of so many paragraphs."""
    manual(folder / "spec.docx", paragraphs, wordy=False)
    path = folder / "job.yaml"
    path.write_text((SAMPLE / "job.yaml").read_text(encoding="utf-8"), encoding="utf-8")
    return path
