"""What is measured: specifications of any length, rules in any number, systems and papers."""

from __future__ import annotations

import shutil
import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).parents[1] / "spec"))
from docx_build import build, p, r, row, tbl

SAMPLE = Path(__file__).parents[2] / "samples" / "library"
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


def paragraph(style: str, text: str, wordy: bool, at: int) -> str:
    if not wordy:
        return p(f"{text}{at}.", style)
    half = len(text) // 2
    runs = r(text[:half], WORDY) + r(text[half:] + f"{at}.", WORDY)
    return p(runs, style, props='<w:keepNext/><w:spacing w:before="240" w:after="60"/>', mark=WORDY)


def manual(path: Path, paragraphs: int, wordy: bool) -> Path:
    """A specification; "wordy" as Word writes it, with fonts and languages on every run."""
    blocks = [p("SECTION 07 41 13 - METAL ROOF PANELS"), p("GENERAL", "PRT")]
    table = tbl(*(row(*(f"{line * 4 + column} psf" for column in range(4))) for line in range(10)))
    for at in range(paragraphs - 2):
        style, text = ROUND[at % len(ROUND)]
        blocks.append(paragraph(style, text, wordy, at))
        if at % 500 == 499:
            blocks.append(table)
    return build(path, blocks)


def own_rules(path: Path, count: int, basis: str = "practice") -> Path:
    """A rulebook of so many requirements on the proposal. A pre-screen judges those of basis specification."""
    path.write_text(rule_text(count, basis=basis), encoding="utf-8")
    return path


def systems(folder: Path, count: int) -> Path:
    """The sample's systems over and over."""
    kept = sorted((SAMPLE / "systems").rglob("*.yaml"))
    folder.mkdir(exist_ok=True)
    for number in range(count):
        shutil.copy(kept[number % len(kept)], folder / f"s{number:05}.yaml")
    return folder


def rule_text(count: int, builds_on: str = "base", basis: str = "practice") -> str:
    parts = [f'rulebook checks "Checks"\n  edition 2026-11\n  builds on {builds_on}\n']
    for number in range(count):
        parts.append(
            f'requirement check_{number} "Check {number}"\n'
            f"  basis {basis}\n"
            f"  shall proposed.panel.width at most {12 + number % 12} in\n"
            '    and proposed.deck.type is one of "plywood", "OSB"\n'
            "  action correct\n"
            "  source common practice\n"
            '  because "Measured, not asked."\n'
            f'  otherwise "Check {number} is not met."\n'
        )
    return "\n".join(parts)
