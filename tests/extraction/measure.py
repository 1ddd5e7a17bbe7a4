"""Measures what is found in the sections of this set against what a careful reader finds.

    python -m tests.extraction.measure [NAME ...] [--misses] [--holdout | --unseen]

Prints precision, recall and clause accuracy by subject. A fact counts as found where subject, value, zone, area,
level, scope and relation are as expected; its clause is counted apart.
`--holdout` measures the sections that the readings are not tuned to, `--unseen` those that others wrote blind, for
which the readings were mended afterwards.
"""

from __future__ import annotations

import sys
import tempfile
from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

import yaml

from cleatmark.facts import Stated
from cleatmark.spec.apply import apply_readings
from cleatmark.spec.document import read_docx
from cleatmark.spec.reading import Extraction
from cleatmark.units import Quantity

from .build import HOLDOUT, SECTIONS, UNSEEN, build, names
from .rulebook import shipped_readings

OPEN = frozenset(["unedited choice", "blank", "defers to drawings", "delegated design", "no value"])
TOLERANCE = 0.002


@dataclass
class Score:
    """Counts of one subject or of all."""

    found: Counter[str] = field(default_factory=Counter)
    expected: Counter[str] = field(default_factory=Counter)
    right: Counter[str] = field(default_factory=Counter)
    placed: Counter[str] = field(default_factory=Counter)
    notes: list[str] = field(default_factory=list)

    def add(self, other: Score) -> None:
        """Adds another section's counts."""
        for mine, theirs in zip(self._counters(), other._counters(), strict=True):
            mine.update(theirs)
        self.notes.extend(other.notes)

    def _counters(self) -> Sequence[Counter[str]]:
        return (self.found, self.expected, self.right, self.placed)

    def rates(self, subject: str = "") -> tuple[float, float, float]:
        """Precision, recall and clause accuracy of a subject, or of all."""
        found, expected, right, placed = (
            counter[subject] if subject else sum(counter.values()) for counter in self._counters()
        )
        return (
            right / found if found else 1.0,
            right / expected if expected else 1.0,
            placed / right if right else 1.0,
        )


def extraction_of(name: str, folder: Path, sections: Path = SECTIONS) -> Extraction:
    """What is read from a section of the set."""
    readings, book = shipped_readings()
    specification, _ = read_docx(build(name, folder, sections))
    return apply_readings(specification, readings, book)


def expectations(name: str, sections: Path = SECTIONS) -> dict[str, Any]:
    """What a careful reader finds in a section."""
    loaded: dict[str, Any] = yaml.safe_load((sections / f"{name}.yaml").read_text(encoding="utf-8"))
    return loaded


def judge(name: str, extraction: Extraction, sections: Path = SECTIONS) -> Score:
    """Sets what was found beside what was expected."""
    expected = expectations(name, sections)
    score = Score()
    real = [item for item in extraction.stated if "reference only" not in item.flags]
    valued = [item for item in real if item.values]
    wanted = list(expected["stated"])
    _match(name, wanted, valued, score)
    _match(
        name,
        [{**item, "open": True} for item in expected.get("open", ())],
        [i for i in real if not i.values],
        score,
    )
    _flags(name, expected, extraction, score)
    for wrong in expected.get("never", ()):
        for item in valued:
            if _same(wrong, item, strict=False) and wrong.get("flags", "") in ("", *item.flags):
                score.notes.append(f"{name}: WRONG {_told(item)}")
    return score


def _match(name: str, wanted: list[dict[str, Any]], found: list[Stated], score: Score) -> None:
    left = list(found)
    for want in sorted(wanted, key=lambda item: "optional" in item):
        fits = [item for item in left if _same(want, item, strict=True)]
        fits.sort(key=lambda item: item.clause != str(want["at"]))
        if not fits and want.get("optional"):
            continue
        score.expected[want["subject"]] += 1
        if not fits:
            score.notes.append(f"{name}: MISSED {want}")
            continue
        left.remove(fits[0])
        score.right[want["subject"]] += 1
        score.found[want["subject"]] += 1
        if fits[0].clause == str(want["at"]):
            score.placed[want["subject"]] += 1
        else:
            score.notes.append(f"{name}: PLACED at {fits[0].clause}, not {want['at']}: {_told(fits[0])}")
    for item in left:
        score.found[item.subject] += 1
        score.notes.append(f"{name}: SURPLUS {_told(item)}")


def _flags(name: str, expected: dict[str, Any], extraction: Extraction, score: Score) -> None:
    told = {(item.clause, item.flag) for item in extraction.flagged}
    told |= {(item.clause, flag) for item in extraction.stated for flag in item.flags}
    for want in expected.get("flags", ()):
        score.expected["(flags)"] += 1
        if (str(want["at"]), want["flag"]) in told:
            for counter in (score.right, score.found, score.placed):
                counter["(flags)"] += 1
        else:
            score.notes.append(f"{name}: NOT FLAGGED {want}")
    for wrong in expected.get("unflagged", ()):
        if (str(wrong["at"]), wrong["flag"]) in told:
            score.found["(flags)"] += 1
            score.notes.append(f"{name}: WRONGLY FLAGGED {wrong}")
    listed = {value for item in extraction.stated if "reference only" in item.flags for value in item.values}
    listed |= {
        item.detail.partition(" is ")[0] for item in extraction.flagged if item.flag == "reference only"
    }
    for standard in expected.get("reference_only", ()):
        if standard not in listed:
            score.notes.append(f"{name}: NOT REFERENCE ONLY {standard}")


def _same(want: dict[str, Any], item: Stated, *, strict: bool) -> bool:
    if item.subject != want["subject"] or ("at" in want and not strict and item.clause != str(want["at"])):
        return False
    if want.get("open"):
        return want["flag"] in item.flags and item.clause == str(want["at"])
    if "value" in want and not _value(want["value"], want.get("unit", ""), item):
        return False
    if "scope" in want and item.scope != want["scope"]:
        return False
    if not strict:
        return True
    if "relation" in want and item.relation != want["relation"]:
        return False
    if not set(want.get("flags", ())) <= set(item.flags):
        return False
    if want.get("zone", "").casefold() not in item.zone.casefold() or bool(item.zone) != ("zone" in want):
        return False
    if "area" in want and (item.area is None or abs(float(item.area.value) - want["area"]) > 0.01):
        return False
    if want.get("level", item.level) != item.level:
        return False
    return bool(want.get("verb", item.verb) == item.verb)


def _value(want: Any, unit: str, item: Stated) -> bool:
    if isinstance(want, list):
        return {_shown(value) for value in item.values} == {str(part) for part in want}
    if len(item.values) != 1:
        return False
    value = item.values[0]
    if not isinstance(value, Quantity):
        return str(value).casefold() == str(want).casefold()
    if isinstance(want, str):
        return value.kind == "ratio" and want == f"L/{value.value.denominator}"
    if (unit == "ga") != (value.kind == "gauge") and unit:
        return False
    return abs(float(value.value) - want) <= TOLERANCE * max(abs(want), 0.01)


def _shown(value: Any) -> str:
    return f"{float(value.value):g} {value.unit}" if isinstance(value, Quantity) else str(value)


def _told(item: Stated) -> str:
    values = [
        f"{float(v.value):g} {v.unit}".strip() if isinstance(v, Quantity) else str(v) for v in item.values
    ]
    extra = " ".join(
        filter(None, [item.zone, item.area.text if item.area else "", item.scope, item.level, item.verb])
    )
    flags = f"{list(item.flags)} by {item.reading}"
    return f"{item.subject} {item.relation} {values} [{item.text}] {extra} {item.clause} {flags}"


def measure(wanted: Iterable[str], sections: Path = SECTIONS) -> Score:
    """The score of several sections."""
    total = Score()
    with tempfile.TemporaryDirectory() as folder:
        for name in wanted:
            total.add(judge(name, extraction_of(name, Path(folder), sections), sections))
    return total


def table(score: Score) -> str:
    """Precision, recall and clause accuracy by subject."""
    lines = [f"{'subject':24}{'expected':>9}{'found':>7}{'precision':>11}{'recall':>8}{'clause':>8}"]
    for subject in sorted({*score.found, *score.expected}):
        precision, recall, placed = score.rates(subject)
        lines.append(
            f"{subject:24}{score.expected[subject]:9}{score.found[subject]:7}{precision:11.3f}{recall:8.3f}{placed:8.3f}"
        )
    precision, recall, placed = score.rates()
    total = (sum(score.expected.values()), sum(score.found.values()))
    lines.append(f"{'all':24}{total[0]:9}{total[1]:7}{precision:11.3f}{recall:8.3f}{placed:8.3f}")
    return "\n".join(lines)


if __name__ == "__main__":
    place = HOLDOUT if "--holdout" in sys.argv else UNSEEN if "--unseen" in sys.argv else SECTIONS
    chosen = [word for word in sys.argv[1:] if not word.startswith("-")] or names(place)
    result = measure(chosen, place)
    if "--misses" in sys.argv:
        print("\n".join(result.notes))
    print(table(result))
