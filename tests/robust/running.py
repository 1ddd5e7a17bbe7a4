"""Commands as new processes, with the limits of a small machine."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).parents[2]
LIBRARY = ROOT / "samples" / "library"
JOB = LIBRARY / "job.yaml"
TESTED = LIBRARY / "submittals" / "a_tested.yaml"
SWAP = LIBRARY / "submittals" / "c_quiet_swap.yaml"
SPEC = LIBRARY / "spec.docx"

LIMITED = """
import resource, sys
resource.setrlimit(resource.RLIMIT_AS, (900 << 20, 900 << 20))
resource.setrlimit(resource.RLIMIT_CPU, (60, 60))
"""
"""Address space and processor seconds: far above what an honest file takes, far below what a bomb would."""

COMMAND = """
from cleatmark.cli import main
sys.exit(main(sys.argv[1:]))
"""


def run(
    *arguments: str | Path,
    before: str = "",
    folder: Path | None = None,
    environment: dict[str, str] | None = None,
) -> subprocess.CompletedProcess[bytes]:
    """A command in a process of its own; `before` is Python that runs in it first."""
    code = "import sys\n" + before + COMMAND
    return subprocess.run(
        [sys.executable, "-c", code, *map(str, arguments)],
        capture_output=True,
        cwd=folder,
        env={**os.environ, "COLUMNS": "100", **(environment or {})},
        timeout=300,
        check=False,
    )


def refused(done: subprocess.CompletedProcess[bytes]) -> str:
    """The reason of a command that refused its input: status 2, nothing on standard output, no traceback."""
    told = done.stderr.decode()
    assert done.returncode == 2, (done.returncode, told[-500:])
    assert done.stdout == b""
    assert "Traceback" not in told
    return told


def one_line(told: str) -> str:
    """The one line of a reason, its help lines left aside."""
    heads = [line for line in told.splitlines() if not line.startswith("    ")]
    assert len(heads) == 1, told
    return heads[0]
