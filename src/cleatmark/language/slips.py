"""Slips of people who write as they speak: a comma or a small word too few or too many, text without its marks."""

from __future__ import annotations

import re
from collections.abc import Callable

from cleatmark.language.examples import CLAUSES
from cleatmark.language.trouble import Trouble
from cleatmark.problems import Problem

ARTICLES = ("the", "a", "an")
MORE = frozenset(
    [
        *(
            "heavier",
            "more",
            "greater",
            "larger",
            "higher",
            "longer",
            "wider",
            "thicker",
            "above",
            "stronger",
        ),
        *("better", "over"),
    ]
)
LESS = frozenset(
    [
        *(
            "lighter",
            "less",
            "smaller",
            "lower",
            "shorter",
            "narrower",
            "thinner",
            "below",
            "weaker",
            "under",
        ),
        *("fewer", "closer", "tighter"),
    ]
)


def missing_comma(trouble: Trouble) -> Problem | None:
    """Two names or two texts of a list that stand side by side."""
    previous = trouble.before[-1] if trouble.before else None
    kind = "STRING" if trouble.token.startswith('"') else "NAME" if _is_word(trouble.token) else ""
    if previous is None or "COMMA" not in trouble.accepts or previous.type != kind:
        return None
    if trouble.starts or previous.line != trouble.line or trouble.token in CLAUSES:
        return None
    return trouble.tell(
        "a comma is missing before this: the parts of a list have commas between them",
        f"write: {previous}, {trouble.token}",
    )


def missing_colon(trouble: Trouble) -> Problem | None:
    """The words of a choice without the colon before them."""
    if trouble.kind != "STRING" or "COLON" not in trouble.accepts:
        return None
    previous = trouble.before[-1] if trouble.before else "choice"
    return trouble.tell("a colon is missing before the words", f"write: {previous}: {trouble.rest}")


def article(trouble: Trouble) -> Problem | None:
    """An article where the language has none."""
    previous = trouble.before[-1] if trouble.before else None
    if trouble.token in ARTICLES and not {"A", "AN", "_A"} & trouble.accepts:
        return trouble.tell(f"leave out `{trouble.token}`")
    if previous is not None and previous in ARTICLES and previous.type == "NAME":
        return trouble.tell(f"leave out `{previous}`", token=previous)
    return None


def missing_article(trouble: Trouble) -> Problem | None:
    """`be shown by run` without its article, or with more than one word behind it."""
    if trouble.accepts and trouble.accepts <= {"A", "AN", "_A"}:
        word = "an" if trouble.token[:1] in "aeiou" else "a"
        return trouble.tell(f"write `{word}` before it: {word} {trouble.token}")
    words = [str(token) for token in trouble.before[-3:]]
    if _is_word(trouble.token) and len(words) == 3 and words[0] == "by" and words[1] in ARTICLES:
        return trouble.tell(
            f'"{words[2]} {trouble.token}" is two words; what a requirement is shown by is one',
            "for example: shall be shown by a report",
        )
    return None


def missing_at(trouble: Trouble) -> Problem | None:
    """The place in a source without `at` before it."""
    if trouble.clause != "source" or "AT" not in trouble.accepts or trouble.starts:
        return None
    if trouble.kind in ("STRING", "QUANTITY", "DATE", "NAME"):
        run = re.match(r'"[^"]*"|\S+', trouble.rest)
        place = run.group().strip('"') if run else trouble.token
        return trouble.tell("write `at` before the place in the source", f'for example: at "{place}"')
    return None


def missing_because(trouble: Trouble) -> Problem | None:
    """A reason that stands by itself."""
    if trouble.kind != "STRING" or "BECAUSE" not in trouble.accepts or trouble.starts:
        return None
    if trouble.word not in ("waive", "amend") or len(trouble.before) != 2:
        return None
    return trouble.tell("write `because` before the reason", f"for example: because {trouble.token}")


def number_for_text(trouble: Trouble) -> Problem | None:
    """A number or a date where text is wanted."""
    if trouble.kind not in ("QUANTITY", "DATE") or "STRING" not in trouble.accepts:
        return None
    if {"QUANTITY", "DATE", "$END"} & trouble.accepts:
        return None
    run = re.match(r"\S+", trouble.rest)
    shown = max(trouble.token, run.group() if run else "", key=len)
    return trouble.tell("text stands in quotation marks", f'write: "{shown}"')


def is_not(trouble: Trouble) -> Problem | None:
    """`not` right behind a name."""
    if trouble.token != "not" or "IS_" not in trouble.accepts or trouble.starts:
        return None
    return trouble.tell("write `is not` here", f"write: is {trouble.rest}")


def row_without_value(trouble: Trouble) -> Problem | None:
    """A row of a table whose last key was meant as its value."""
    if trouble.word != "table" or "COMMA" not in trouble.accepts:
        return None
    if {"SOURCE", "$END"} & trouble.accepts or not {"STRING", "QUANTITY"} <= trouble.accepts:
        return None
    last = trouble.above[-1]
    keys = [str(token) for token in trouble.above if token.line == last.line and token.type != "COMMA"]
    return trouble.tell(
        "the row has keys and no value",
        "commas stand between keys only; a value stands behind them: " + "  ".join(keys).strip(),
        token=last,
    )


def comma_in_case(trouble: Trouble) -> Problem | None:
    """Facts of a case with commas between them."""
    previous = trouble.before[-1] if trouble.before else None
    if trouble.clause != "with" or previous is None or previous.type != "COMMA" or "." not in trouble.token:
        return None
    return trouble.tell("what a case states is joined by `and`, not by a comma", token=previous)


def list_in_parentheses(trouble: Trouble) -> Problem | None:
    """`is one of ( "a", "b" )`."""
    words = [str(token) for token in trouble.before[-2:]]
    if trouble.token[:1] != "(" or words != ["one", "of"]:
        return None
    inner = trouble.rest.strip("() ").split(")")[0].strip()
    return trouble.tell(
        "the list behind `is one of` stands without parentheses", f"write: is one of {inner}", span=1
    )


def or_more(trouble: Trouble) -> Problem | None:
    """`is 24 ga or heavier`, `2 in or more`."""
    words = [str(token) for token in trouble.above[-3:]]
    if len(words) < 2 or "or" not in [*words[-2:], trouble.token]:
        return None
    last = trouble.token if words[-1] == "or" else words[-1]
    way = "at least" if last in MORE else "at most" if last in LESS else ""
    amount = words[-2] if words[-1] == "or" else words[-3] if len(words) == 3 else ""
    if not way or not amount:
        return None
    at = trouble.above[-1] if words[-1] != "or" else None
    return trouble.tell(f"write `{way}`, not `or {last}`", f"write: {way} {amount}", token=at)


def _is_word(token: str) -> bool:
    return re.fullmatch(r"[A-Za-z_][\w.]*", token) is not None


SITUATIONS: tuple[Callable[[Trouble], Problem | None], ...] = (
    missing_comma,
    missing_colon,
    missing_article,
    article,
    missing_at,
    missing_because,
    number_for_text,
    is_not,
    row_without_value,
    comma_in_case,
    list_in_parentheses,
    or_more,
)
