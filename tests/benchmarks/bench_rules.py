"""Reading rule files, as ratios to `python -c pass` and to each other, in one run.

    python tests/benchmarks/bench_rules.py [LINES]

A file of LINES lines (2,000 where none is given) is made from requirements, substitutions, tables, defines, readings
and cases as the rulebooks that ship have them. Each measurement of a whole process is the median of five new ones;
the parts inside one process are the best of seven. Nothing here fails: the table is to be read.
"""

from __future__ import annotations

import os
import platform
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

ROUND = """
requirement r_{n} "Requirement {n}"
  basis specification
  applies when spec.panel.width is stated
  shall be shown by a report where ( standard is one of "UL 580", "UL 1897" and it covers proposed )
    having ( held at least {p} psf and class at least 60 )
  action resubmit
  ask maker
  source "A standard" at "{n}.1" confidence high
  because "A reason in a sentence of ordinary length, as rules have them."
  otherwise "{{document.id}}, run {{run.id}}, held {{held}}."
  if not shown "No report shows it. {{nearest.differences}}"
  remedy "Send the report that covers this assembly."

requirement s_{n} "Seam {n}"
  shall proposed.panel.seam_height at least 1-1/2 in and proposed.panel.width at most 24 in
  action stop
  source common practice

table t_{n} by method, metal
  "UL 580",  any      2.0  source common practice
  "FM 4474", "steel"  1.8  source "A standard" at "4.2"
  any,       any      3.0  source common practice

define d_{n} of run
  as held / t_{n} for ( standard, tested.panel.material ) when held is stated
  as class_pressure for ( class ) / 2
  source common practice

reading g_{n} gives spec.panel.width
  from "width (of) {{length}}" or "{{length}} wide"
  not in references
  source common practice

case "case {n}"
  with proposed.panel.seam_height 1 in and proposed.panel.width 16 in
  expect s_{n} deviates

"""
WHOLE = {
    "python -c pass": "pass",
    "import of the language": "import cleatmark.language.rulebooks",
    "load, nothing kept": "load([sys.argv[1]], Path())",
    "load again, unchanged": "load([sys.argv[1]], Path())",
}
BEFORE = "import sys; from pathlib import Path; from cleatmark.language.rulebooks import load; "


def text_of(lines: int) -> str:
    """A rulebook of about so many lines."""
    head = 'rulebook bench "Bench"\n  edition 2026-11\n  builds on fields, allowables\n'
    rounds = max(lines // ROUND.count("\n"), 1)
    return head + "".join(ROUND.format(n=n, p=30 + n % 90) for n in range(rounds))


def whole(code: str, argument: str, cache: Path, *, cold: bool) -> float:
    """Median milliseconds of five new processes, after one that fills the cache."""
    taken = []
    for number in range(6):
        if cold:
            for path in cache.rglob("*.msgpack"):
                if not path.name.startswith("grammar-"):
                    path.unlink()
        start = time.perf_counter()
        environment = {**os.environ, "XDG_CACHE_HOME": str(cache)}
        subprocess.run([sys.executable, "-c", code, argument], check=True, env=environment)
        if number:
            taken.append(time.perf_counter() - start)
    return statistics.median(taken) * 1000


def best(work: Callable[[], object]) -> float:
    """Best milliseconds of the processor's time of seven."""
    taken = []
    for _ in range(7):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return min(taken) * 1000


def main() -> None:
    """Prints the table."""
    from cleatmark.language.check import check
    from cleatmark.language.format import tidy
    from cleatmark.language.grammar import grammar
    from cleatmark.language.layers import merge
    from cleatmark.language.parse import parse
    from cleatmark.language.rulebooks import gather, load

    text = text_of(int(sys.argv[1]) if len(sys.argv) > 1 else 2_000)
    lines = text.count("\n")
    print(f"{platform.python_implementation()} {platform.python_version()}, {lines:,} lines\n")
    with tempfile.TemporaryDirectory() as folder:
        file, cache = Path(folder) / "bench.rules", Path(folder) / "cache"
        file.write_text(text, encoding="utf-8")
        os.environ["XDG_CACHE_HOME"] = str(cache)
        base = 0.0
        print(f"{'a whole process':32} {'ms':>7}  {'times python':>12}")
        for name, code in WHOLE.items():
            runs = code if code in ("pass",) or code.startswith("import") else BEFORE + code
            taken = whole(runs, str(file), cache, cold="nothing kept" in name)
            base = base or taken
            print(f"{name:32} {taken:7.1f}  {taken / base:12.1f}")
        grammar()
        tree, problems = parse(text, "bench.rules")
        assert tree is not None
        assert problems == ()
        files = [*gather(["allowables"], Path())[0], tree]
        merged = merge(files)[0]
        assert check(merged) == ()
        load([str(file)], Path())
        words = len(text.split())
        parts = {
            "parse": best(lambda: parse(text, "bench.rules")),
            "merge": best(lambda: merge(files)),
            "check, as a review does": best(lambda: check(merged, cases=False)),
            "check with its cases": best(lambda: check(merged)),
            "load again, unchanged": best(lambda: load([str(file)], Path())),
            "tidy": best(lambda: tidy(text, "bench.rules")),
        }
        print(f"\n{'inside a process':32} {'ms':>7}  {'times parse':>12}  {'µs a word':>9}")
        for name, taken in parts.items():
            print(f"{name:32} {taken:7.1f}  {taken / parts['parse']:12.2f}  {taken * 1000 / words:9.2f}")


if __name__ == "__main__":
    main()
