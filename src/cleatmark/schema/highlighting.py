"""A highlighting grammar for rule files in the TextMate form, its keywords taken from the language's grammar."""

from __future__ import annotations

import re
from typing import Any

from cleatmark.language.examples import CLAUSES, STATEMENTS
from cleatmark.language.grammar import grammar_text
from cleatmark.units import QUANTITY_PATTERN

VERDICTS = ("complies", "deviates", "not shown", "does not apply", "raised", "not raised", "usual", "unusual")
QUANTITY = (
    r"(?<![\w.])(?:[#№]|No\.)? ?[-+]?(?:\d{1,4}[- ]\d{1,3}/\d{1,3}|\d{1,4}/\d{1,3}|\d[\d,]*(?:\.\d+)?|\.\d+)"
    r"(?::\d+|[- ]?(?:in|ft|mm|cm|m|mil|ga|oz|psf|psi|Pa|kPa|ksi|MPa|mph|sq ft|years?|months?|deg|lb|kip|N|kN|%)\b)?"
)
"""Near enough for colors; what a quantity is, the program itself says."""


def keywords() -> list[str]:
    """Every word of the language, from the quoted words of grammar.lark."""
    text = re.sub(r"//[^\n]*", "", grammar_text().replace(QUANTITY_PATTERN, ""))
    text = re.sub(r"/(?:\\/|[^/\n])+/", " ", re.sub(r"(?m)^[A-Z_]+(?:\.\d+)?:[^\n]*", "", text))
    words = set(re.findall(r'"([a-z_]+)"', text))
    return sorted(words | {"it", "yes", "no", "none", "may", "or", "source", "is"} | TERMINAL_WORDS)


TERMINAL_WORDS = frozenset(
    [
        *(
            "stated",
            "known",
            "every",
            "some",
            "no",
            "before",
            "after",
            "largest",
            "smallest",
            "first",
            "from",
        ),
        *("memory", "level", "and", "a", "an", "zone"),
    ]
)
"""Words of terminals that grammar.lark writes as patterns."""


def textmate() -> dict[str, Any]:
    """The grammar as plain data, for a file named cleatmark-rules.tmLanguage.json."""
    statements = "|".join(sorted(STATEMENTS, key=len, reverse=True))
    clauses = "|".join(sorted(CLAUSES, key=len, reverse=True))
    every = "|".join(sorted(keywords(), key=len, reverse=True))
    verdicts = "|".join(word.replace(" ", r"\s+") for word in VERDICTS)
    return {
        "name": "Cleatmark rules",
        "scopeName": "source.cleatmark-rules",
        "fileTypes": ["rules"],
        "patterns": [
            {"include": f"#{name}"}
            for name in (
                "comment",
                "text",
                "statement",
                "clause",
                "verdict",
                "date",
                "quantity",
                "field",
                "word",
            )
        ],
        "repository": {
            "comment": {"name": "comment.line.double-dash.cleatmark-rules", "match": "--.*$"},
            "text": {
                "name": "string.quoted.double.cleatmark-rules",
                "begin": '"',
                "end": '"|$',
                "patterns": [{"name": "variable.parameter.cleatmark-rules", "match": r"\{[^{}\"]*\}"}],
            },
            "statement": {
                "match": rf"^({statements})\b(?:\s+([A-Za-z_][\w.]*))?",
                "captures": {
                    "1": {"name": "keyword.declaration.cleatmark-rules"},
                    "2": {"name": "entity.name.cleatmark-rules"},
                },
            },
            "clause": {"name": "keyword.control.cleatmark-rules", "match": rf"^\s+(?:{clauses})\b"},
            "verdict": {"name": "constant.language.cleatmark-rules", "match": rf"\b(?:{verdicts})\b"},
            "date": {
                "name": "constant.numeric.date.cleatmark-rules",
                "match": r"(?<![\w.])\d{4}-\d{2}(?:-\d{2})?(?![\w./-])",
            },
            "quantity": {"name": "constant.numeric.cleatmark-rules", "match": QUANTITY},
            "field": {
                "name": "variable.other.cleatmark-rules",
                "match": r"\b[A-Za-z_]\w*(?:\.[A-Za-z_]\w*)+\b",
            },
            "word": {"name": "keyword.operator.cleatmark-rules", "match": rf"(?<![\w.])(?:{every})(?![\w.])"},
        },
    }
