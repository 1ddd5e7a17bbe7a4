"""Words that give no value: they leave it to the drawings, or to what somebody works out.

Each way to say so is a pattern of its own, looked at where its first word stands.
"""

from __future__ import annotations

import re

from cleatmark.spec.lazy import lazily

_SHEET = r"(?:\ (?:no\.?\ )?[A-Z]{1,2}-?\d[\d.]*)?"
_LED = r"(?:as|where|when|that\ are|which\ are|are|is)?\ ?"
_LEADS = "as where when that which are is"
_WAYS = (
    ("defer", f"{_LEADS} indicated shown noted scheduled detailed specified given listed tabulated tabled set plotted",
     "drawing|dwg|sheet|plan|schedule|notes|detail|document", rf"""
      {_LED}(?:indicated|shown|noted|scheduled|detailed|specified|given|listed|stated|described|called\ for|defined|
          tabulated|tabled|set\ out|set\ forth|plotted)
         (?:\ and\ (?:indicated|shown|noted|scheduled|detailed))?
         \ (?:on|in|by|per)\ (?:the\ )?(?:(?:structural|contract|architectural|roof|design|engineering|wind|project)\ )*
         (?:drawings?|dwgs?\.?|sheets?|documents?\ drawings?|plans?|schedules?|structural\ notes|general\ notes|
            details?|(?:contract\ )?documents)\b{_SHEET}"""),
    ("defer", f"{_LEADS} indicated shown scheduled", "indicated on|shown on|scheduled on",
     rf"{_LED}(?:indicated|shown|scheduled)\ on\ [A-Z]{{1,2}}-?\d[\d.]*"),
    ("defer", "refer see per from in according", "drawing|dwg|sheet|plan|notes|structural", rf"""
      (?:refer\ to|see|per|from|in\ accordance\ with|according\ to)\ (?:the\ )?
      (?:(?:structural|struct\.|contract|architectural|arch\.|roof|design|engineering|wind|general)\ )*
      (?:drawings?|dwgs?\b\.?|sheets?(?=\ (?:no\.?\ )?[A-Z]{{1,2}}-?\d)|plans?|
       (?<=structural\ )notes|(?<=general\ )notes|structural)\b{_SHEET}"""),
    ("defer", "given on in", "drawing|plan|sheet", r"""
      (?:(?<=loads\ )|(?<=loads:\ )|(?<=pressures:\ )|(?<=pressures\ )|(?<=forces\ )|
         (?<=criteria\ )|(?<=values\ ))(?:given\ )?(?:on|in)\ (?:the\ )?
      (?:(?:structural|contract|architectural|roof|design|engineering|wind)\ )*
      (?:drawings?|plans?|sheets?\ (?:no\.?\ )?[A-Z]{1,2}-?\d[\d.]*)\b"""),
    ("defer", "refer see per", "",
     r"(?:refer\ to|see|per)\ (?:sheet\ |drawing\ )?[A-Z]{1,2}-?\d{1,3}(?:\.\d{1,2})?\b(?!\s*(?:gauge|ga))"),
    ("defer", "as is are be", "drawing|plan|schedule", r"""
      (?:as|is|are|be)\ (?:that|those|the\ ones)\ (?:(?:shown|indicated|given)\ )?(?:of|on|in)\ the[ ]
      (?:(?:structural|contract|architectural|roof|design|engineering)\ )*(?:drawings?|plans?|schedules?)\b"""),
    ("defer", "as", "as indicated|as shown|as scheduled", r"as\ (?:indicated|shown|scheduled)(?=\s*[.;]|\s*$)"),
    ("none", "as where when if", "req|recommended|determined|needed|necessary|specified|established|dictated", r"""
      (?:as|where|when|if)\ (?:required|req'?d\.?|recommended|determined|needed|necessary|specified|established|
          dictated)\ ?
        (?:by|per|to|for|from)\ (?:the\ )?(?:panel\ |roof\ |roofing\ |system\ |metal\ |contractor's\ |delegated\ |
          wind\ |structural\ |design\ |tested\ |manufacturer's\ |design-builder's\ |licensed\ )*
        (?:engineer(?:ing|'s)?|engr\b\.?|manufacturer(?:'s)?|mfr(?:\.|'s|s)?|calculations?|calcs?\b\.?|analysis|
           design(?!-)|loads?|uplift|code|installer|
           professional\ engineer|listing|(?:florida\ |product\ |fm\ )*approval|noa|evaluation\ report|
           meet|resist|withstand|comply|tests?|testing|test\ report)\b"""),
    ("none", "in", "in accordance with ", r"""
      in\ accordance\ with\ (?:the\ )?(?:[a-z]+\ ){0,2}(?:engineering|calculations?|listing|test\ reports?|
          manufacturer's\ (?:written\ |printed\ |published\ )?
            (?:instructions|recommendations|engineering|calculations?))"""),
    ("none", "to", "to be ", r"to\ be\ (?:determined|established|calculated|decided)\b"),
    ("none", "as", "calculation|engineering|analysis", r"""
      as\ (?:the\ )?(?:[a-z']+\ ){0,3}(?:calculations?|engineering|analysis)
          \ (?:show|require|indicate|dictate|call\ for)s?\b"""),
    ("none", "as", "as required",
     r"as\ required(?=\s*[.;,]|\s*$|\ to\ (?:meet|resist|withstand|comply|satisfy))"),
)  # fmt: skip
"""What is said, the words it may start with, words that it needs, and how it is written; the first that fits holds."""

_BY_START: dict[str, list[tuple[str, re.Pattern[str]]]] = {}
for _kind, _starts, _needs, _written in _WAYS:
    _pattern = lazily(_written, re.VERBOSE | re.IGNORECASE, _needs)
    for _start in _starts.split():
        _BY_START.setdefault(_start, []).append((_kind, _pattern))

STARTS = frozenset(_BY_START)
"""Words with which these may start."""


def deferral_at(text: str, at: int, end: int, word: str) -> tuple[str, int] | None:
    """ "defer" or "none" where such words start exactly at `at`, and where they end; `word` is the first of them."""
    for kind, pattern in _BY_START.get(word, ()):
        if found := pattern.match(text, at, end):
            return kind, found.end()
    return None
