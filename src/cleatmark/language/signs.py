"""Signs and words of other languages, with the form that is right here."""

from __future__ import annotations

import re
from collections.abc import Callable

from cleatmark.language.cuts import code_of
from cleatmark.language.examples import CLAUSES
from cleatmark.language.trouble import Trouble
from cleatmark.problems import Problem

COMPARISONS = {
    ">=": "at least",
    "=>": "at least",
    "≥": "at least",
    "<=": "at most",
    "=<": "at most",
    "≤": "at most",
    "!=": "is not",
    "<>": "is not",
    "≠": "is not",
    "==": "is",
    "=": "is",
    ">": "more than",
    "<": "less than",
    "&&": "and",
    "&": "and",
    "||": "or",
    "|": "or",
    "!": "not",
}
WORDS = {
    "equals": "is",
    "equal": "is",
    "are": "is",
    "was": "is",
    "be": "is",
    "greater": "more than",
    "larger": "more than",
    "higher": "more than",
    "bigger": "more than",
    "exceeds": "more than",
    "above": "more than",
    "over": "more than",
    "smaller": "less than",
    "lower": "less than",
    "fewer": "less than",
    "below": "less than",
    "under": "less than",
    "minimum": "at least",
    "min": "at least",
    "maximum": "at most",
    "max": "at most",
    "contains": "includes",
    "contain": "includes",
    "include": "includes",
    "has": "includes",
    "like": "mentions",
    "matches": "mentions",
    "meet": "meets",
    "satisfies": "meets",
    "complies": "meets",
    "must": "shall",
    "should": "shall",
    "requires": "shall",
    "exists": "is stated",
    "given": "is stated",
    "specified": "is stated",
    "present": "is stated",
    "all": "every",
    "each": "every",
    "any": "some",
    "true": "yes",
    "false": "no",
    "null": "none",
    "nothing": "none",
    "with": "having",
    "which": "where",
    "that": "where",
    "if": "when",
    "unless": "when not",
    "except": "and not",
    "but": "and",
    "reason": "because",
    "why": "because",
    "import": "builds on",
    "extends": "builds on",
    "effective": "in force from",
    "expires": "in force until",
    "allow": "allows",
    "permits": "allows",
    "fix": "remedy",
    "per": "source",
    "reference": "source",
    "citation": "source",
    "deviates": "otherwise",
    "else": "otherwise",
    "default": "as",
    "means": "as",
    "since": "from",
    "till": "until",
    "through": "until",
    "pass": "complies",
    "passes": "complies",
    "ok": "complies",
    "met": "complies",
    "fail": "deviates",
    "fails": "deviates",
    "unknown": "not shown",
    "missing": "not shown",
    "inapplicable": "does not apply",
    "returns": "gives",
}
STARTS = {
    "given": "with",
    "when": "with",
    "if": "applies when",
    "then": "expect",
    "expects": "expect",
    "assert": "expect",
    "should": "shall",
    "because_of": "because",
    "since": "in force from",
    "title": "because",
    "note": "because",
    "value": "as",
}
"""Words that people start a clause with, and the clause that is meant."""


def unclosed_quote(trouble: Trouble) -> Problem | None:
    """A quotation mark that does not close on its line."""
    if not trouble.token.startswith('"') or trouble.rest.count('"') % 2 == 0:
        return None
    return trouble.tell(
        "the quotation mark is not closed on this line",
        f"close it before the line ends: {_closed(trouble.rest)}",
        span=len(trouble.rest),
    )


def _closed(rest: str) -> str:
    text = rest[1:].strip()
    return f'"{text}"' if len(text) < 60 else f'"{text[:40]} ... "'


def unpaired_quotes(trouble: Trouble) -> Problem | None:
    """A line whose quotation marks do not pair, met behind the text that took the wrong one."""
    line = code_of(trouble.text)
    text = next((token for token in reversed(trouble.before) if token.type == "STRING"), None)
    if trouble.starts or text is None or text.line != trouble.line or line.count('"') % 2 == 0:
        return None
    return trouble.tell(
        "the quotation marks of this line do not pair",
        "text stands between two of them, and none stands within it",
        token=text,
    )


def unprintable(trouble: Trouble) -> Problem | None:
    """A character that nobody sees, left by another program."""
    sign = trouble.rest[:1] or trouble.text[trouble.column - 1 : trouble.column]
    if not sign or (sign.isprintable() and sign != "\ufeff"):
        return None
    return trouble.tell(
        f"a character that cannot be seen stands here (U+{ord(sign):04X})",
        "delete it; it was left by another program",
        span=1,
    )


def curly_quotes(trouble: Trouble) -> Problem | None:
    """Typographer's quotation marks, single ones, guillemets."""
    first = trouble.token[:1]
    if not first or first not in "“”„‘’«»'`":
        return None
    inner = re.match(r"[“”„‘’«»'`]+([^“”„‘’«»'`]*)[“”„‘’«»'`]?", trouble.rest)
    written = inner.group(0) if inner else first
    right = f'"{inner.group(1)}"' if inner and inner.group(1) else '"UL 580"'
    return trouble.tell(
        f"text stands between straight double quotation marks: {right}",
        "a word processor makes curly marks; type them in a plain text editor",
        span=len(written),
    )


def comment_sign(trouble: Trouble) -> Problem | None:
    """The comment signs of other languages."""
    for sign in ("//", "/*", "#", ";", "—", "–", "%", "REM "):
        if trouble.rest.startswith(sign) and not re.match(r"#\s?\d", trouble.rest):
            after = trouble.rest[len(sign) :].strip(" */#-—–;")
            if sign == ";" and not (trouble.starts and after):
                return None
            return trouble.tell(
                f"a comment starts with two hyphens, not with {sign.strip()}",
                f"write: -- {after}" if after else "write: -- and the comment",
                span=len(sign),
            )
    return None


def comparison_sign(trouble: Trouble) -> Problem | None:
    """Signs where the language has words."""
    for sign, word in COMPARISONS.items():
        if not trouble.rest.startswith(sign):
            continue
        after = trouble.rest[len(sign) :].split()
        value = after[0] if after else "16 in"
        if len(after) > 1 and value[:1].isdigit():
            value = f"{value} {after[1]}"
        if word in ("and", "or"):
            example = f'for example: deck.type is "plywood" {word} deck.joints is "taped"'
        elif word == "not":
            example = 'for example: not ( deck.type is "plywood" )'
        else:
            left = trouble.before[-1] if trouble.before else "panel.width"
            example = f"for example: {left} {word} {value}"
        return trouble.tell(f"write `{word}` in words, not the sign {sign}", example, span=len(sign))
    return None


def punctuation(trouble: Trouble) -> Problem | None:
    """Semicolons, colons, brackets and full stops."""
    sign = trouble.rest[:1]
    if sign == ";":
        return trouble.tell(
            "leave the semicolon out: a clause ends with its line",
            "conditions are joined by `and` or `or`, lists by commas",
            span=1,
        )
    if sign == ":":
        clause = trouble.clause.rstrip(":")
        example = CLAUSES.get(clause)
        shown = f"for example: {example}" if example else "write the value right behind the word"
        return trouble.tell("leave the colon out", shown, span=1)
    if sign in ("[", "]", "{", "}"):
        return trouble.tell(
            "conditions and lists stand in round parentheses: ( ... )",
            "a fact named in braces stands inside the text of a message only",
            span=1,
        )
    if sign == "." and "$END" in trouble.accepts:
        return trouble.tell("leave the full stop out: a clause ends with its line", span=1)
    if sign == "," and "AND" in trouble.accepts:
        return trouble.tell(
            "conditions are joined by `and` or `or`, not by a comma",
            'a list of values needs `is one of`: deck.type is one of "plywood", "OSB"',
            span=1,
        )
    if sign == "," and trouble.clause == "expect":
        return trouble.tell("each expectation stands on a line of its own, behind `expect`", span=1)
    if sign == "," and trouble.clause == "with":
        return trouble.tell("what a case states is joined by `and`, not by a comma", span=1)
    if sign == "," and "$END" in trouble.accepts:
        return trouble.tell(f"a comma is not expected here; `{trouble.clause}` takes one value", span=1)
    return None


SITUATIONS: tuple[Callable[[Trouble], Problem | None], ...] = (
    unprintable,
    unclosed_quote,
    unpaired_quotes,
    curly_quotes,
    comment_sign,
    comparison_sign,
    punctuation,
)
