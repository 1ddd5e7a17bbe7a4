"""The issue date as a document prints it."""

from __future__ import annotations

import re
from collections.abc import Iterable

from cleatmark.spec.lazy import lazily

_MONTH = (
    r"(?:Jan(?:uary)?|Feb(?:ruary)?|Mar(?:ch)?|Apr(?:il)?|May|June?|July?|Aug(?:ust)?|Sept?(?:ember)?|Oct(?:ober)?"
    r"|Nov(?:ember)?|Dec(?:ember)?)\.?"
)
_FULL = lazily(
    rf"\b(?:{_MONTH}\s+\d{{1,2}}(?:st|nd|rd|th)?,?\s+(?:19|20)\d{{2}}|\d{{1,2}}\s+{_MONTH},?\s+(?:19|20)\d{{2}}"
    r"|(?:19|20)\d{2}-\d{2}-\d{2}|\d{1,2}[/.]\d{1,2}[/.](?:(?:19|20)\d{2}|\d{2}))\b",
    re.I,
)
_MONTH_ONLY = lazily(
    rf"\b{_MONTH},?\s+(?:19|20)\d{{2}}\b", re.I, needs="apr|aug|dec|feb|jan|jul|jun|mar|may|nov|oct|sep"
)


def printed_date(lines: Iterable[str]) -> str:
    """The first full date in the lines as printed, else the first month and year, else ""."""
    kept = list(lines)
    for pattern in (_FULL, _MONTH_ONLY):
        for line in kept:
            match = pattern.search(line)
            if match is not None:
                return " ".join(match[0].split())
    return ""
