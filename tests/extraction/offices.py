"""How invented offices set their sections: automatic numbers through styles, decimal numbers, typed numbers."""

from __future__ import annotations

from samples.docx_office import Level, Office

_CSI_LISTS = (("Part", "Article", "Para", "Item", "Sub", "Deep"),)


def _csi(article: str, kind: str, font: str) -> Office:
    return Office(
        font=font,
        points=10,
        styles=(
            Level("Title", before=2, after=2, center=True, bold=True),
            Level("Part", "PART %1 -", before=18, follow="space", bold=True, outline=0),
            Level("Article", article, kind, 43, 43, 14, bold=True, outline=1),
            Level("Para", "%3.", "upperLetter", 72, 29, 8, outline=2),
            Level("Item", "%4.", "decimal", 101, 29, 2, outline=3),
            Level("Sub", "%5.", "lowerLetter", 130, 29, 2, outline=4),
            Level("Deep", "%6)", "decimal", 160, 29, 2),
            Level("Caption", left=72, before=8, after=4, bold=True),
            Level("Note", left=43, before=8),
            Level("Body", left=72, before=8),
            Level("Cell", before=2, after=2),
        ),
        lists=_CSI_LISTS,
    )


_TYPED = Office(
    font="Courier New",
    points=10,
    styles=(
        Level("Title", before=2, after=2, center=True, bold=True),
        Level("Part", before=16, bold=True),
        Level("Article", left=36, hanging=36, before=12),
        Level("Para", left=64, hanging=28, before=6),
        Level("Item", left=92, hanging=28, before=3),
        Level("Sub", left=120, hanging=28, before=3),
        Level("Deep", left=150, hanging=28, before=3),
        Level("Caption", left=64, before=8, after=4),
        Level("Note", before=8),
        Level("Body", left=64, before=6),
        Level("Cell", before=1, after=1),
    ),
)

_FEDERAL = Office(
    font="Courier New",
    points=10,
    styles=(
        Level("Title", before=4, after=4, center=True, bold=True),
        Level("Part", "PART %1", before=18, follow="space", bold=True, outline=0),
        Level("Article", "%1.%2", before=14, left=36, hanging=36, outline=1),
        Level("Head3", "%1.%2.%3", before=12, left=48, hanging=48, outline=2),
        Level("Head4", "%1.%2.%3.%4", before=12, left=60, hanging=60, outline=3),
        Level("Body", before=8),
        Level("Publisher", before=10, center=True),
        Level("Publication", before=4, left=180, hanging=144),
        Level("Letter", "%1.", "lowerLetter", 30, 30, 6),
        Level("Caption", before=8, after=4, bold=True),
        Level("Note", before=8),
        Level("Cell", before=2, after=2),
    ),
    lists=(("Part", "Article", "Head3", "Head4"), ("Letter",)),
)

OFFICES = {
    "two digits": _csi("%1.%2", "decimalZero", "Arial"),
    "one digit": _csi("%1.%2", "decimal", "Calibri"),
    "typed": _TYPED,
    "federal": _FEDERAL,
}
"""Offices by the name that a section's first line gives."""

STYLES = {
    "TITLE": "Title", "PART": "Part", "ART": "Article", "A": "Para", "1": "Item", "a": "Sub", "1)": "Deep",
    "CAPTION": "Caption", "NOTE": "Note", "T": "Body", "3": "Head3", "4": "Head4", "BODY": "Publisher",
    "P": "Publication", "L": "Letter", "L:": "Letter",
}  # fmt: skip
"""The word in a section's text for each style. `L:` starts the lettered list again."""
