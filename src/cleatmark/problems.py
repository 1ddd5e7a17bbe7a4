"""Mistakes in what the user handed in: where, what, what was expected. One form for every room."""

from __future__ import annotations

from collections.abc import Iterable

from msgspec import Struct


class Place(Struct, frozen=True, order=True):
    """A place in a file as an editor counts it: line and column start at 1; 0 means the whole file."""

    file: str
    line: int = 0
    column: int = 0

    def __str__(self) -> str:
        return f"{self.file}:{self.line}:{self.column}"


class Problem(Struct, frozen=True):
    """One mistake. Two are the same when place and message are.

    `source` is the text of the line the place is on, for the caret; `span` how many characters it underlines.
    `help` are further lines: the right form, an example, the near name, a second place.
    """

    place: Place
    message: str
    help: tuple[str, ...] = ()
    source: str = ""
    span: int = 1

    def __str__(self) -> str:
        return f"{self.place}: {self.message}"


class InputError(Exception):
    """What was handed in cannot be used. Carries every problem found; the command ends with status 2."""

    def __init__(self, problems: Iterable[Problem]) -> None:
        self.problems: tuple[Problem, ...] = tuple(problems)
        super().__init__("\n".join(str(problem) for problem in self.problems))


def near_name(word: str, known: Iterable[str]) -> str | None:
    """The known name that a reader would take `word` for, or None where nothing is close."""
    from difflib import get_close_matches

    folded = {name.casefold(): name for name in known}
    close = get_close_matches(word.casefold(), list(folded), n=1, cutoff=0.66)
    if close:
        return folded[close[0]]
    tails = {name.rsplit(".", 1)[-1]: name for name in folded}
    close = get_close_matches(word.casefold().rsplit(".", 1)[-1], list(tails), n=1, cutoff=0.75)
    return folded[tails[close[0]]] if close else None


def did_you_mean(word: str, known: Iterable[str]) -> tuple[str, ...]:
    """A help line with the near name, or nothing."""
    near = near_name(word, known)
    return (f'did you mean "{near}"?',) if near else ()


def render(problem: Problem) -> str:
    """The problem as printed: one line `FILE:LINE:COL: message`, the source line with a caret, then the help. A name or
    a value with a line end in it makes no line of its own."""
    lines = [str(problem)]
    if problem.source:
        shown = problem.source.replace("\t", " ")
        lines.append(f"    {shown}")
        lines.append("    " + " " * max(problem.place.column - 1, 0) + "^" * max(problem.span, 1))
    lines.extend(f"    {line}" for line in problem.help)
    return "\n".join(printable(line).replace("\n", "\ufffd") for line in lines)


def printable(text: str) -> str:
    """The text with a mark in place of each sign that a terminal would obey or not show."""
    if text.isprintable():
        return text
    return "".join(sign if sign.isprintable() or sign in SPACES else "\ufffd" for sign in text)


SPACES = "\t\n\u00a0\u2007\u2009\u202f"
"""Signs that Python does not call printable, and that a terminal shows as space."""
