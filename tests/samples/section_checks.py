"""What the checks on the sample sections share: visible text, and full addresses from printed lines."""

from __future__ import annotations

import re
from collections.abc import Iterable

from lxml.etree import _Element

W = "{http://schemas.openxmlformats.org/wordprocessingml/2006/main}"
RANKS = (r"PART (\d)(?: -)?", r"(\d\.\d+)", r"([A-Z]{1,2})\.", r"(\d+)\.", r"([a-z])\.")


def visible(paragraph: _Element) -> str:
    """The text of a paragraph with changes accepted, hidden text left out."""
    runs = [run for run in paragraph.iter(f"{W}r") if run.find(f"{W}rPr/{W}vanish") is None]
    marks = {f"{W}noBreakHyphen": "-", f"{W}tab": "\t", f"{W}br": "\n"}
    return "".join(
        marks.get(node.tag) or node.text or ""
        for run in runs
        for node in run
        if node.tag == f"{W}t" or node.tag in marks
    )


def addresses(lines: Iterable[str], ranks: tuple[str, ...] = RANKS) -> dict[str, str]:
    """Texts by full address (1.03.C.2) of lines that begin with PART 1, 1.01, A., 1., a."""
    found: dict[str, str] = {}
    above: dict[int, str] = {}
    for line in lines:
        for depth, rank in enumerate(ranks):
            if number := re.fullmatch(rf"\s*{rank}\s+(.*)", line):
                above = {level: label for level, label in above.items() if level < depth} | {depth: number[1]}
                address = ".".join([label for level, label in above.items() if level]) or f"PART {number[1]}"
                assert address not in found, f"{address} prints twice"
                found[address] = number[2].replace("\u2011", "-")
                break
    return found
