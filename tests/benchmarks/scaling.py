"""How the cost grows: each size four times the one before. Linear is a steady last column."""

from __future__ import annotations

import tempfile
from pathlib import Path

from .making import SAMPLE, manual, own_rules, systems
from .start import larger_job
from .timing import command, line, process, title


def main() -> None:
    bare, _ = process("-c", "pass")
    with tempfile.TemporaryDirectory() as folder:
        base = Path(folder)
        title("Scaling, new process", "ms", "ms above none", "us each", "MiB")
        for name, make, sizes in (
            ("paragraphs of a specification, read", _paragraphs, (400, 1_600, 6_400)),
            ("rules of a rulebook, reviewed", _rules, (50, 200, 800)),
            ("documents of a submittal, reviewed", _documents, (4, 16, 64)),
            ("systems, pre-screened by one process", _systems, (8, 32, 128)),
            ("zones of a job, reviewed", _zones, (3, 12, 48)),
        ):
            none = None
            for size in sizes:
                taken, peak = command(*make(base, size), times=2)
                none = taken if none is None else none
                above = taken - none
                each = above * 1000 / (size - sizes[0]) if size > sizes[0] else None
                line(f"{size:,} {name}", taken, above, each, peak)
    line("python -c pass", bare)


def _paragraphs(base: Path, size: int) -> tuple[str, ...]:
    return "read", str(manual(base / "scaling.docx", size, wordy=False))


def _rules(base: Path, size: int) -> tuple[str, ...]:
    job = larger_job(base, 60)
    rules = str(own_rules(base / "checks.rules", size))
    return "review", str(job), str(SAMPLE / "submittals" / "a_tested.yaml"), "--rules", "base", rules


def _documents(base: Path, size: int) -> tuple[str, ...]:
    """The sample's papers over and over, each with an id of its own."""
    text = (SAMPLE / "submittals" / "b_listing.yaml").read_text(encoding="utf-8")
    head, _, papers = text.partition("\ndocuments:\n")
    found = [f"  - {part}" for part in papers.split("\n  - ")[0:] if part.strip()]
    found[0] = found[0].replace("  -   - ", "  - ", 1)
    out = []
    for number in range(size):
        paper = found[number % len(found)].rstrip("\n")
        out.append(paper.replace("id: ", f"id: n{number}-", 1))
    path = base / "documents.yaml"
    path.write_text(f"{head}\ndocuments:\n" + "\n".join(out) + "\n", encoding="utf-8")
    return "review", str(SAMPLE / "job.yaml"), str(path)


def _systems(base: Path, size: int) -> tuple[str, ...]:
    folder = systems(base / f"systems{size}", size)
    return "prescreen", str(SAMPLE / "job.yaml"), "--systems", str(folder), "--jobs", "1"


def _zones(base: Path, size: int) -> tuple[str, ...]:
    zones = "".join(f'      "Zone {n}": {20 + n % 40} psf\n' for n in range(1, size + 1))
    path = base / "zones.yaml"
    path.write_text(
        "pressures:\n  - source: sheet S-101\n    level: allowable\n    zones:\n" + zones, encoding="utf-8"
    )
    return "review", str(path), str(SAMPLE / "submittals" / "a_tested.yaml")
