"""Which sections are about metal roofs: by the number, by the words of the title."""

from __future__ import annotations

import re

from cleatmark.spec.lazy import lazily

METAL_ROOF = lazily(
    r"\b(?:standing[\s-]+seam|(?:metal|steel|alumin(?:i)?um|copper|zinc|batten[\s-]+seam|flat[\s-]+seam|structural"
    r"|formed|sheet[\s-]+metal)\s+(?:and\s+\w+\s+)?roof(?:s|ing)?(?!\s+(?:deck|hatch|drain|access|insul|edge|curb))"
    r"|(?:metal|steel|alumin(?:i)?um|formed)\s+(?:wall\s+and\s+)?roof(?:\s+and\s+wall)?\s+panels?"
    r"|roof(?:\s+and\s+wall)?\s+panels?|roof(?:ing)?\s+and\s+siding\s+panels?)\b",
    re.I,
)
OTHER = lazily(
    r"\b(?:wall\s+panels?|curtain\s*walls?|siding|membranes?|bitumin|shingles?|tiles?|TPO|EPDM|PVC|KEE|thermoplastic"
    r"|built-up|flashing|gutters?|soffits?|deck(?:ing)?|insulation|accessories|translucent|skylights?)\b",
    re.I,
)
_NEVER = lazily(
    r"\b(?:membranes?|bitumin\w*|shingles?|tiles?|TPO|EPDM|PVC|KEE|thermoplastic|built-up|curtain\s*walls?|deck(?:ing)?"
    r"|insulation|accessories|translucent|skylights?)\b",
    re.I,
)
_ROOF_NUMBERS = ("074113", "074100", "074163", "0761", "133419")
_OLD_NUMBERS = ("07410", "07411", "07412", "07610", "1312")


def is_roof(number: str, title: str) -> bool:
    """Whether a section is about metal roofing: by its number, unless its title is of another thing."""
    digits = re.sub(r"\D", "", number)
    named = METAL_ROOF.search(title)
    if digits.startswith(_OLD_NUMBERS if len(digits) == 5 else _ROOF_NUMBERS):
        return bool(named) or not OTHER.search(title)
    return bool(named) and not _NEVER.search(title)
