"""Changes of the corpus from a fixed seed: what is run where there is no coverage-guided fuzzer."""

from __future__ import annotations

import random
from collections.abc import Iterator
from pathlib import Path

WORDS = (
    *(b"(", b")", b'"', b"\n", b"\n  ", b": ", b"- ", b"{", b"}", b"[", b"&", b"*", b"\x00", b"\xff", b"\xe2\x80\xa6"),
    *(b"1-3/4 in", b"12 ga", b"99999999999999999999", b"1/0", b"-", b"not ", b" and ", b"every run has ( "),
    *(b"<w:p>", b"</w:p>", b"<w:tbl>", b'<w:numId w:val="-1"/>', b"<!DOCTYPE a>", b"]]>", b"&#0;"),
)  # fmt: skip


def corpus(folder: Path) -> list[bytes]:
    """The files of a corpus, in order of name."""
    return [path.read_bytes() for path in sorted(folder.iterdir())]


def changed(seeds: list[bytes], count: int, seed: int = 7) -> Iterator[bytes]:
    """`count` changes of the seeds: pieces cut, doubled, joined, words put in, single bytes turned."""
    chance = random.Random(seed)
    for _ in range(count):
        data = bytearray(chance.choice(seeds))
        for _ in range(chance.randint(1, 4)):
            at, to = sorted((chance.randint(0, len(data)), chance.randint(0, len(data))))
            kind = chance.randint(0, 4)
            if kind == 0:
                del data[at : min(to, at + 40)]
            elif kind == 1:
                data[at:at] = data[at : min(to, at + 200)]
            elif kind == 2:
                data[at:at] = chance.choice(WORDS)
            elif kind == 3 and data:
                data[at % len(data)] = chance.randint(0, 255)
            else:
                data[at:at] = chance.choice(seeds)[:200]
        yield bytes(data)
