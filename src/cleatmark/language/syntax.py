"""Mistakes of form in the author's words: where, what was expected, an example, the near name."""

from __future__ import annotations

import re
from collections.abc import Callable

from cleatmark.language import closing, signs, slips
from cleatmark.language.examples import CLAUSES, STATEMENTS, TAKES
from cleatmark.language.expected import clause_words, either, keywords, texts, wanted
from cleatmark.language.trouble import Trouble
from cleatmark.problems import Place, Problem, near_name
from cleatmark.units import unit_name

UNITS = ["in", "ft", "mm", "ga", "mil", "oz", "psf", "psi", "ksi", "kPa", "mph", "sq ft", "years", "deg"]
UNIT_WORDS = ["inches", "inch", "feet", "gauge", "nominal", "minimum", "measured"]


def explain(trouble: Trouble) -> Problem:
    """The problem that a writer sees for one trouble of the parser."""
    for situation in (*signs.SITUATIONS, *slips.SITUATIONS, *SITUATIONS):
        problem = situation(trouble)
        if problem is not None:
            return problem
    return otherwise(trouble)


def capitals(trouble: Trouble) -> Problem | None:
    """Keywords are small letters."""
    low = trouble.token.casefold()
    if low != trouble.token and low in {**keywords(trouble.accepts), **_more_words(trouble.accepts)}:
        return trouble.tell(f"`{low}` is written in small letters")
    return None


def _more_words(accepts: frozenset[str]) -> dict[str, str]:
    """Words of terminals that stand for several."""
    out: dict[str, str] = {}
    for name, words in (
        ("QUANTIFIER", "every some no"),
        ("STATED", "stated known"),
        ("BEFORE", "before after"),
        ("IT", "it"),
        ("CHOOSE", "largest smallest first"),
    ):
        if name in accepts:
            out |= dict.fromkeys(words.split(), name)
    return out


def second_word(trouble: Trouble) -> Problem | None:
    """A name with a hyphen, a space or a leading digit."""
    previous = trouble.before[-1] if trouble.before else None
    if trouble.token.startswith("-") and previous is not None and previous.type == "NAME":
        together = previous.end_line == trouble.line and previous.end_column == trouble.column
        tail = re.match(r"[\w.-]+", trouble.rest)
        if together and tail:
            whole = f"{previous}{tail.group()}"
            right = whole.replace("-", "_")
            return Problem(
                Place(trouble.file, previous.line or 1, previous.column or 1),
                f'"{whole}" is no name: names have letters, digits and underscores',
                (f"write: {right}",),
                trouble.text,
                len(whole),
            )
    if trouble.accepts == {"NAME"} and trouble.token[:1].isdigit():
        run = re.match(r"[\w.-]+", trouble.rest)
        shown = run.group() if run else trouble.token
        return trouble.tell(f'"{shown}" is no name: a name starts with a letter', span=len(shown))
    return None


def unquoted(trouble: Trouble) -> Problem | None:
    """Words where text in quotation marks is wanted."""
    if "STRING" not in trouble.accepts or not re.match(r"[^\W\d]", trouble.token):
        return None
    if trouble.token in CLAUSES:
        return None
    if trouble.accepts & {"NAME", "QUANTITY"} and "ROW_START" not in trouble.accepts and trouble.starts:
        return None
    if "NAME" in trouble.accepts or trouble.token in keywords(trouble.accepts):
        return None
    if "$END" in trouble.accepts or "COMPLIES" in trouble.accepts or misspelt_word(trouble):
        return None
    run = re.match(r"[^\"(),]+", trouble.rest)
    words = (run.group() if run else trouble.token).strip()
    word = trouble.clause or trouble.word
    place = "here" if trouble.clause == trouble.word else f"behind `{word}`"
    return trouble.tell(f"text stands in quotation marks {place}", f'write: "{words}"', span=len(words))


def quoted_name(trouble: Trouble) -> Problem | None:
    """Quotation marks where a name or a word is wanted."""
    if not trouble.token.startswith('"') or "STRING" in trouble.accepts:
        return None
    inner = trouble.token.strip('"')
    if trouble.accepts & {"NAME", "ADDRESSEE"} and re.fullmatch(r"[A-Za-z_][\w. ]*", inner):
        return trouble.tell("a name stands without quotation marks", f"write: {inner.replace(' ', '_')}")
    if trouble.accepts == {"DATE"}:
        return trouble.tell("a date stands without quotation marks", "a date is written 2026-11-01")
    return None


def no_date(trouble: Trouble) -> Problem | None:
    """Something else where a date is wanted."""
    if trouble.accepts != {"DATE"} or not trouble.token:
        return None
    run = trouble.rest.split("  ")[0]
    slashed = re.match(r"(\d{1,2})[/.](\d{1,2})[/.](\d{4})", run)
    year = re.fullmatch(r"\d{4}", run.strip())
    help_ = ["a date is written year, month, day: 2026-11-01, or year and month: 2026-11"]
    if slashed:
        first, second, of = int(slashed[1]), int(slashed[2]), slashed[3]
        days = sorted({f"{of}-{m:02d}-{d:02d}" for m, d in ((first, second), (second, first)) if m <= 12})
        help_.insert(0, f"write {either(days)}, whichever is meant" if len(days) > 1 else f"write {days[0]}")
    elif year:
        help_.insert(0, f"write the month too, such as {year.group()}-01")
    return trouble.tell(f'"{run}" is no date', *help_, span=len(run))


def no_unit(trouble: Trouble) -> Problem | None:
    """A word behind a number that is no unit."""
    previous = trouble.before[-1] if trouble.before else None
    if previous is None or previous.type != "QUANTITY" or not re.fullmatch(r"[\d.,/ -]+", previous):
        return None
    word = re.match(r"[^\W\d]+", trouble.rest)
    if not word or word.group() in keywords(trouble.accepts) or unit_name(word.group()):
        return None
    if (
        trouble.starts
        or trouble.line != previous.line
        or word.group() in (set(texts().values()) | {"nominal"})
    ):
        return None
    near = near_name(word.group(), [*UNITS, *UNIT_WORDS])
    close = (f'did you mean "{near}"?',) if near else ()
    return trouble.tell(
        f'"{word.group()}" is no unit', *close, "units are: " + ", ".join(UNITS), span=len(word.group())
    )


def table_text(trouble: Trouble) -> Problem | None:
    """A row of a table that starts with a word."""
    if trouble.word != "table" or "ROW_START" not in trouble.accepts:
        return None
    if not re.match(r"[^\W\d]", trouble.token) or trouble.token in CLAUSES:
        return None
    run = re.match(r"[^\",]+?(?=\s{2}|[\",]|$)", trouble.rest)
    words = run.group().strip() if run else trouble.token
    return trouble.tell(
        "text in a table stands in quotation marks, and `any` takes every key",
        f'write: "{words}"',
        span=len(words),
    )


def other_word(trouble: Trouble) -> Problem | None:
    """A word that says what another word says here."""
    word = trouble.token.casefold()
    right = (signs.STARTS.get(word) if trouble.starts else None) or signs.WORDS.get(word)
    if right is None:
        return None
    known = {**keywords(trouble.accepts), **_more_words(trouble.accepts)}
    if right.split()[0] not in known or word in known:
        return None
    if trouble.starts:
        help_ = (f"for example: {CLAUSES[right.split()[0]]}",) if right.split()[0] in CLAUSES else ()
        return trouble.tell(f'no clause starts with "{trouble.token}"; write `{right}`', *help_)
    return trouble.tell(f'write `{right}` here, not "{trouble.token}"')


def misspelt_clause(trouble: Trouble) -> Problem | None:
    """A clause that starts with no known word, or with one that this statement does not take."""
    if not trouble.starts or not re.match(r"[^\W\d]", trouble.token):
        return None
    takes = TAKES.get(trouble.word, ())
    one = f"{'an' if trouble.word[:1] in 'aeiou' else 'a'} `{trouble.word}`"
    listed = f"{one} takes: " + (", ".join(takes) or "no clauses")
    if trouble.token.casefold() in CLAUSES:
        return trouble.tell(f"{one} takes no `{trouble.token.casefold()}`", listed)
    near = near_name(trouble.token, [word.split()[0] for word in takes]) or near_name(trouble.token, CLAUSES)
    if near:
        return trouble.tell(
            f'no clause starts with "{trouble.token}"',
            f'did you mean "{near}"?',
            f"for example: {CLAUSES.get(near, near)}",
        )
    return trouble.tell(f'no clause starts with "{trouble.token}"', listed)


def misspelt_word(trouble: Trouble) -> Problem | None:
    """A word close to one that would have been taken."""
    if not re.match(r"[^\W\d]", trouble.token):
        return None
    known = [*keywords(trouble.accepts), *_more_words(trouble.accepts)]
    near = near_name(trouble.token.casefold(), [word for word in known if len(word) > 2])
    if near is None or near == trouble.token.casefold():
        return None
    return trouble.tell(
        f'"{trouble.token}" is not expected here; expected {wanted(trouble.accepts)}',
        f'did you mean "{near}"?',
    )


def behind_the_end(trouble: Trouble) -> Problem | None:
    """Something behind a complete statement or clause."""
    if "$END" not in trouble.accepts or trouble.starts:
        return None
    takes_clauses = bool(clause_words(trouble.accepts))
    if not takes_clauses and trouble.accepts <= {"$END", "COMMA", "ROW_START"}:
        return trouble.tell(
            f"the `{trouble.word}` statement ends before this",
            "a further statement starts on a line of its own, in column 1",
            span=len(trouble.rest),
        )
    return None


def otherwise(trouble: Trouble) -> Problem:
    """What is left: what stands here, what was expected, an example of the clause."""
    example = CLAUSES.get(trouble.clause) if trouble.clause != trouble.word else None
    example = example or STATEMENTS.get(trouble.clause)
    shown = (f"for example: {example}",) if example else ()
    what = "text" if trouble.token.startswith('"') else f'"{trouble.token}"'
    return trouble.tell(f"{what} is not expected here; expected {wanted(trouble.accepts)}", *shown)


SITUATIONS: tuple[Callable[[Trouble], Problem | None], ...] = (
    capitals,
    closing.open_parenthesis,
    no_date,
    closing.unfinished,
    closing.extra_parenthesis,
    closing.needs_parentheses,
    second_word,
    no_unit,
    quoted_name,
    table_text,
    unquoted,
    other_word,
    misspelt_clause,
    misspelt_word,
    behind_the_end,
)
