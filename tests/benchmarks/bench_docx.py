"""Reading a long specification, as ratios: this reader beside python-docx and bare Python, in one run.

    python tests/benchmarks/bench_docx.py [PARAGRAPHS ...]

Each measurement is a new process; the table gives the median of five, the ratio to `python -c pass` of the
same run, and the peak memory of the process (Linux; else 0). "plain" is a file of short XML, "wordy" one as Word writes
it, with fonts and languages on every run.
"""

from __future__ import annotations

import json
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from importlib import metadata
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "spec"))
from docx_build import build, p, r, row, tbl

WORDY = (
    '<w:rFonts w:ascii="Arial" w:hAnsi="Arial" w:cs="Arial"/><w:sz w:val="20"/><w:szCs w:val="20"/>'
    '<w:lang w:val="en-US"/>'
)
ROUND = (
    ("ART", "PERFORMANCE REQUIREMENTS"),
    ("PR1", "Provide metal roof panel assemblies that withstand the effects of loads and stresses "),
    ("PR2", "Wind uplift: comply with UL 580 for Class 90 when tested over the deck indicated "),
    ("PR3", "Panels of 24 gauge steel sheet, 16 inches wide, with a seam 1-3/4 inches high "),
    ("PR3", "Clips at 24 inches on center in the field and at 12 inches in corners "),
    ("PR2", "Warranty period of twenty years from the date of Substantial Completion "),
)
OURS = """
import sys; from pathlib import Path
from cleatmark.spec.document import read_docx
spec, _ = read_docx(Path(sys.argv[1]))
assert sum(len(s.clauses) for s in spec.sections) > 100
"""
THEIRS = """
import sys, docx
document = docx.Document(sys.argv[1])
seen = [(paragraph.text, paragraph.style.name) for paragraph in document.paragraphs]
cells = [cell.text for table in document.tables for line in table.rows for cell in line.cells]
assert len(seen) > 100
"""
PEAK = """
try:
    with open("/proc/self/status") as status:
        print(next(int(line.split()[1]) / 1024 for line in status if line.startswith("VmHWM")))
except OSError:
    print(0)
"""


def paragraph(style: str, text: str, wordy: bool, at: int) -> str:
    if not wordy:
        return p(f"{text}{at}.", style)
    half = len(text) // 2
    runs = r(text[:half], WORDY) + r(text[half:] + f"{at}.", WORDY)
    return p(runs, style, props='<w:keepNext/><w:spacing w:before="240" w:after="60"/>', mark=WORDY)


def manual(path: Path, paragraphs: int, wordy: bool) -> Path:
    blocks = [p("SECTION 07 41 13 - METAL ROOF PANELS"), p("GENERAL", "PRT")]
    table = tbl(*(row(*(f"{line * 4 + column} psf" for column in range(4))) for line in range(10)))
    for at in range(paragraphs - 2):
        style, text = ROUND[at % len(ROUND)]
        blocks.append(paragraph(style, text, wordy, at))
        if at % 500 == 499:
            blocks.append(table)
    return build(path, blocks)


def measure(code: str, *arguments: str) -> tuple[float, float]:
    """Median milliseconds of five fresh processes, and the peak memory in MiB."""
    times, peak = [], 0.0
    for _ in range(5):
        begun = time.perf_counter()
        done = subprocess.run(
            [sys.executable, "-c", code + PEAK, *arguments], capture_output=True, text=True, check=True
        )
        times.append((time.perf_counter() - begun) * 1000)
        peak = max(peak, float(json.loads(done.stdout.strip().splitlines()[-1])))
    return statistics.median(times), peak


def main() -> None:
    sizes = [int(text) for text in sys.argv[1:]] or [400, 5_000, 20_000]
    print(
        f"Python {platform.python_version()}, lxml {metadata.version('lxml')}, "
        f"python-docx {metadata.version('python-docx')}"
    )
    bare, bare_peak = measure("pass\n")
    print(f"{'':34}{'ms':>8}{'x bare':>8}{'MiB':>8}{'us each':>9}")
    print(f"{'bare Python':34}{bare:8.0f}{1:8.1f}{bare_peak:8.0f}")
    with tempfile.TemporaryDirectory() as folder:
        for size in sizes:
            for wordy in (False, True):
                path = str(manual(Path(folder) / "manual.docx", size, wordy))
                for name, code in (("this reader", OURS), ("python-docx, text and style", THEIRS)):
                    taken, peak = measure(code, path)
                    each = (taken - bare) * 1000 / size
                    title = f"{size:,} {'wordy' if wordy else 'plain'}: {name}"
                    print(f"{title:34}{taken:8.0f}{taken / bare:8.1f}{peak:8.0f}{each:9.1f}")


if __name__ == "__main__":
    main()
