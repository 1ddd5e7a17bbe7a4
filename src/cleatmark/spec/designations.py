"""Designations of standards and ratings, however they are written, under one name each.

"U.L. 580", "UL580" and "ANSI/UL 580" are "UL 580"; "ASTM E 1592-05(2017)" is "ASTM E1592"; the edition is kept for
ASCE 7 alone, where it changes the loads. A body said once stands for the numbers after it.
"""

from __future__ import annotations

import re

from cleatmark.spec.lazy import lazily
from cleatmark.spec.wording import word_set

_ASTM_TAIL = (
    r"M?(?:\s*/\s*(?:ASTM\s+)?[A-G][-\s]?\d{1,4}M?)?"
    r"(?:\s?-\s?\d{2,4}[a-z]?\b(?!\s*(?:ga|in|mm|psf|mil))(?:e\d)?)?"
    r"(?:\s*\((?:\d{4}|R\s?\d{4}|Rev|reapproved)[^()]{0,40}\))?"
)
STANDARD = lazily(
    rf"""
      (?:ANSI\s*/\s*)?(?:U\.\s?L\.?|UL(?![A-Z])|Underwriters'?s?\ Laborator(?:y|ies)(?:,?\ Inc\.?)?(?:\ \(UL\))?,?)
        (?:\ Standards?\b|\ Test\b|\ Method\b|\ Procedure\b|\ No\.?|\ Subject\b)*[-\s]*
        (?P<ul>\d{{3,4}}[A-Z]?)\b(?:-\d\d(?:\d\d)?\b)?
    | (?:ANSI\s*/\s*)?(?:F\.M\.|FM(?![A-Z])|FMG\b|FMRC\b|FACTORY\ MUTUAL)
        (?:\ (?:GLOBAL|APPROVALS?|RESEARCH|CORPORATION|INSURANCE|COMPANY|STANDARDS?|ANSI|CLASS|TEST|METHOD|
             NUMBER|NO\.?|\(FMG?\))|,)*[-\s]*(?P<fm>4[4-9]\d\d)\b
    | ASTM(?:\ International)?(?:\ \(ASTM\))?(?:\ Standards?|\ Test\ Methods?|\ Designation)*:?[-\s]*
        (?P<astm>[A-G][-\s]?\d{{1,4}}){_ASTM_TAIL}
    | (?:ANSI\s*/\s*)?(?:ASCE|SEI|American\ Society\ of\ Civil\ Engineers(?:\ \(ASCE\))?)
        (?:\s*/\s*(?:SEI|ASCE|ANSI))?(?:\ Standard)?[-\s]*
        (?P<asce>7)(?:\s*-\s*(?P<year>(?:19|20)?\d\d)\b|,?\ (?P<edition>20\d\d)\ edition\b)?(?!\d|\.\d)
    | (?:FGIA\s*/\s*)?AAMA[-\s]*(?P<aama>\d{{3,4}}(?:\.\d)?)\b(?:-\d\d(?:\d\d)?\b)?
    | (?:Testing\ Application\ Standard\ )?\(?TAS\)?[-\s]*(?:No\.?\ ?)?(?P<tas>\d{{3}}[A-Z]?)\b
        (?:\s?-\s?\d\d(?:\d\d)?\b)?
    | (?:CAN\s*/\s*)?CSA[-\s]*(?P<csa>A?\s?123\.21)(?:[-:]\d\d(?:\d\d)?)?
    | NFPA[-\s]*(?P<nfpa>\d{{2,4}}[A-Z]?)\b
    | (?:ANSI\s*/\s*)?AISI[-\s]*(?P<aisi>S?\d{{3}})\b(?:-\d\d(?:\d\d)?)?
    | (?:ANSI\s*/\s*)?SPRI[-\s]*(?P<spri>[A-Z]{{2}}-\d{{1,2}})\b
    """,
    re.VERBOSE | re.IGNORECASE,
)
_NAMES = {
    "ul": "UL", "fm": "FM", "astm": "ASTM", "aama": "AAMA", "tas": "TAS", "csa": "CSA", "nfpa": "NFPA",
    "aisi": "AISI", "spri": "SPRI",
}  # fmt: skip

STARTS = word_set(
    "ansi ul u.l f.m u f fm fmg fmrc underwriters underwriter factory astm asce sei fgia aama testing tas csa can nfpa "
    "aisi spri american"
)
"""First words of a designation, without which none is looked for."""

NEXT_ASTM = lazily(rf"(?P<astm>[A-G]-?\d{{2,4}}|[A-G]\s\d{{3,4}})(?!\d){_ASTM_TAIL}")
NEXT_NUMBER = lazily(
    r"(?P<number>\d{3,4}[A-Z]?)\b(?:-\d\d\b)?(?!\s*(?:psf|psi|Pa|lb|mm|in|ft|hours?)\b)(?![.,]\d)"
)
LONE_METHOD = lazily(
    r"(?P<astm>E[-\s]?(?:84|96|108|119|136|283|330|331|1592|1637|1646|1680|2140))\b" + _ASTM_TAIL,
    needs="108|119|136|1592|1637|1646|1680|2140|283|330|331|84|96",
)
"""Methods of this trade that nobody needs to be told are ASTM's."""

RATING = lazily(
    r"[1I]\s?A?\s?-\s?(?P<psf>\d{2,3})\b(?![-.,]\d|/(?!1A?-\d\d)\d)(?!\s*(?:psf|inch|in\.|mm|ga|ft|day|year|\"|'))",
    re.IGNORECASE,
)
"""A windstorm rating: the test pressure after the dash is a step of 15 psf."""

_COATING = (
    r"(?:AZM?[-\s]?\d{2,3}|ZM?[-\s]?\d{3}|G[-\s]?(?:30|40|60|90|115|140|165|185|210|235)|ZF\s?\d{3}|"
    r"GF\s?\d{2})\b"
)
COATING = lazily(_COATING, re.IGNORECASE)
OTHER_COATING = lazily(rf"\s?[(/\[]?\s?(?P<again>{_COATING})[)\]]?", re.IGNORECASE)
"""The same coating by its other unit, right behind it: "Z275 (G90)"."""


def named(match: re.Match[str]) -> str:
    """The one name of the standard that STANDARD matched."""
    body = match.lastgroup or ""
    if body in ("asce", "year", "edition"):
        year = match.group("year") or match.group("edition")
        return f"ASCE 7-{year[-2:]}" if year else "ASCE 7"
    number = match.group(body).upper().replace(" ", "").replace("-", "")
    if body == "csa":
        number = "A123.21"
    if body == "spri":
        number = match.group(body).upper()
    return f"{_NAMES[body]} {number}"


def rating(match: re.Match[str]) -> str:
    """ "1-90" of "1A-90", "I-90" or "Class 1-90"; "" where the number is no step of the ratings."""
    psf = int(match.group("psf"))
    return f"1-{psf}" if psf >= 60 and psf % 15 == 0 and psf <= 990 else ""


_METRIC = lazily(r"(?:AZM|ZM?)\d{3}|AZ1\d\d")


def customary_coating(key: str, other: re.Match[str] | None) -> str:
    """A coating by its customary name, where both are written: "AZ50" of "AZM150 (AZ50)"."""
    if other is None or not _METRIC.fullmatch(key):
        return key
    if "/" in other.group():
        return key
    again = other["again"].upper().replace(" ", "").replace("-", "")
    return key if _METRIC.fullmatch(again) else again


def coating(match: re.Match[str]) -> str:
    """ "AZ50" of "AZ-50" or "az 50"."""
    return match.group().upper().replace(" ", "").replace("-", "")
