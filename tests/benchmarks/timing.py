"""Times of new processes and of calls, and the lines of the table."""

from __future__ import annotations

import gc
import statistics
import subprocess
import sys
import time
from collections.abc import Callable
from importlib import metadata

PEAK = """
import sys
try:
    with open("/proc/self/status") as status:
        print("PEAK", next(int(line.split()[1]) / 1024 for line in status if line.startswith("VmHWM")), file=sys.stderr)
except OSError:
    pass
"""


def process(*words: str, times: int = 5) -> tuple[float, float]:
    """Median milliseconds of new processes after one that warms the file cache, and the peak memory in MiB (Linux;
    else 0). Code given with -c tells its own peak."""
    code = list(words)
    if code[0] == "-c":
        code[1] += PEAK
    taken, peak = [], 0.0
    for number in range(times + 1):
        begun = time.perf_counter()
        done = subprocess.run([sys.executable, *code], capture_output=True, text=True, check=False)
        if done.returncode not in (0, 1):
            raise RuntimeError(f"{words}: {done.stderr[-400:]}")
        if number:
            taken.append((time.perf_counter() - begun) * 1000)
        for line in done.stderr.splitlines():
            if line.startswith("PEAK "):
                peak = max(peak, float(line.split()[1]))
    return statistics.median(taken), peak


def command(*words: str, times: int = 5) -> tuple[float, float]:
    """As `process`, of a cleatmark command."""
    code = f"import sys; sys.argv = ['cleatmark', *{list(words)!r}]; from cleatmark.cli import main; main()"
    return process("-c", code, times=times)


def call(work: Callable[[], object], times: int = 5) -> float:
    """The shortest of some calls in milliseconds, without the collector between."""
    best = float("inf")
    work()
    gc.collect()
    gc.freeze()
    gc.disable()
    try:
        for _ in range(times):
            begun = time.perf_counter()
            work()
            best = min(best, time.perf_counter() - begun)
    finally:
        gc.enable()
        gc.unfreeze()
    return best * 1000


def version(package: str) -> str:
    try:
        return metadata.version(package)
    except metadata.PackageNotFoundError:
        return "not installed"


def title(text: str, *columns: str) -> None:
    print(f"\n{text}")
    print(f"{'':46}" + "".join(f"{column:>14}" for column in columns))


def line(name: str, *values: str | float | None) -> None:
    shown = ["-" if v is None else v if isinstance(v, str) else f"{v:,.1f}" for v in values]
    print(f"{name:46}" + "".join(f"{value:>14}" for value in shown), flush=True)
