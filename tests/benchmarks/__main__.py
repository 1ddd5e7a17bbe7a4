"""python -m tests.benchmarks [start] [reading] [checks] [parsing] [screening] [scaling]

Prints one table: us beside bare Python, python-docx, docx2python, a Rust and a Python implementation of the Common
Expression Language, jsonschema and rule-engine, as ratios of one run, with versions. Peers come with the extra
`bench`. Medians of new processes, or the best of some calls; differences under 15 % are noise.
"""

from __future__ import annotations

import os
import platform
import sys

from . import checks, parsing, reading, scaling, screening, start
from .timing import version

SECTIONS = {
    "start": start.main,
    "reading": reading.main,
    "checks": checks.main,
    "parsing": parsing.main,
    "screening": screening.main,
    "scaling": scaling.main,
}


def main() -> int:
    wanted = sys.argv[1:] or list(SECTIONS)
    if not set(wanted) <= set(SECTIONS):
        print(__doc__)
        return 2
    print(
        f"cleatmark {version('cleatmark')}, Python {platform.python_version()}, {platform.system()} "
        f"{platform.machine()}, {os.cpu_count()} cores; in use by others: {os.getloadavg()[0]:.1f} cores"
    )
    os.environ.pop("PYTHONDONTWRITEBYTECODE", None)
    for name in wanted:
        SECTIONS[name]()
    return 0


if __name__ == "__main__":
    sys.exit(main())
