"""python -m tests.fuzz TARGET [SECONDS]"""

from __future__ import annotations

import sys

from .changing import changed, corpus
from .targets import CORPUS, TARGETS


def main() -> int:
    if len(sys.argv) < 2 or sys.argv[1] not in TARGETS:
        print(f"usage: python -m tests.fuzz {{{','.join(TARGETS)}}} [SECONDS]", file=sys.stderr)
        return 2
    name, seconds = sys.argv[1], sys.argv[2] if len(sys.argv) > 2 else "60"
    target, folder = TARGETS[name], CORPUS / name
    try:
        import atheris
    except ImportError:
        print("atheris is not installed (extra fuzz): the corpus is changed at random instead")
        for data in changed(corpus(folder), 20_000):
            target(data)
        print(f"{name}: 20,000 inputs, no finding")
        return 0
    atheris.instrument_all()
    words = [sys.argv[0], f"-max_total_time={seconds}", "-max_len=4096", "-timeout=20", str(folder)]
    atheris.Setup(words, target)
    atheris.Fuzz()
    return 0


if __name__ == "__main__":
    sys.exit(main())
