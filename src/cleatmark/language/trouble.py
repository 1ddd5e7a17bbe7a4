"""Where the parser stopped in a statement: the word it could not take, what it read before, what it takes there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import TYPE_CHECKING, Any

from msgspec import Struct

from cleatmark.language.build import Built
from cleatmark.language.cuts import code_of, last_code, piece_at
from cleatmark.language.examples import CLAUSES
from cleatmark.language.grammar import grammar
from cleatmark.problems import Place, Problem

if TYPE_CHECKING:
    from lark import Token


class Trouble(Struct, frozen=True):
    """One place where a statement does not parse.

    word     the word the statement starts with
    clause   the word the clause starts with; that of the statement in its first line
    token    what stands there; "" at the end of the statement
    kind     its terminal; "" where it is none
    line     from 1
    column   from 1
    before   what was read of this clause before it, in order
    above    the last words read, of whichever clause
    accepts  terminals that would have been taken; "$END" for the end
    lines    the whole file
    part     the clause's first line and the line behind its last, from 0
    starts   whether it is the first word of its clause
    """

    word: str
    clause: str
    token: str
    kind: str
    line: int
    column: int
    before: tuple[Token, ...]
    above: tuple[Token, ...]
    accepts: frozenset[str]
    lines: Sequence[str]
    part: tuple[int, int]
    file: str
    starts: bool

    @property
    def text(self) -> str:
        """The line it is on."""
        return self.lines[self.line - 1]

    @property
    def rest(self) -> str:
        """The code of the line from the trouble on."""
        return code_of(self.text)[self.column - 1 :].rstrip()

    def tell(self, message: str, *help_: str, token: Token | None = None, span: int = 0) -> Problem:
        """A problem here, or at an earlier token."""
        line, column = self.line, self.column
        width = span or len(self.token) or 1
        if token is not None:
            line, column, width = token.line or line, token.column or column, len(token)
        return Problem(Place(self.file, line, column), message, tuple(help_), self.lines[line - 1], width)


def read(
    lines: Sequence[str],
    hidden: Sequence[str],
    start: int,
    end: int,
    parts: Sequence[tuple[int, int]],
    file: str,
) -> Built | Trouble:
    """Parses lines[start:end] as they stand in `hidden`, where clauses already told are blank."""
    from lark import UnexpectedCharacters, UnexpectedToken

    text = "\n" * start + "\n".join(hidden[start:end])
    parser: Any = grammar().parse_interactive(text)
    tokens: list[Token] = []
    at: tuple[int, int, str, str]
    try:
        tokens.extend(parser.iter_parse())
        built = parser.feed_eof(tokens[-1] if tokens else None)
        assert isinstance(built, Built)
        return built
    except UnexpectedCharacters as error:
        at = (error.line, error.column, "", "")
    except UnexpectedToken as error:
        token: Token = error.token
        if token.type == "$END":
            line, column = last_code(hidden, start, end)
            at = (line, column, "", "$END")
        else:
            at = (token.line or start + 1, token.column or 1, str(token).split("\n")[0].rstrip(), token.type)
    at = _swallowed(tokens, hidden, parts, at)
    tokens = _before(text, at)
    accepts = _accepts(tokens)
    line, column, shown, kind = at
    part = parts[piece_at(parts, line - 1)]
    if kind not in ("$END",) and not kind:
        shown = _run(lines[line - 1], column)
    if kind in ("ROW_START",):
        line, column, shown = _row(hidden, line, end)
        part = parts[piece_at(parts, line - 1)]
    own = tuple(token for token in tokens if part[0] < (token.line or 0) <= part[1])
    starts = not own and part[0] > start
    words = code_of(lines[part[0]]).split()
    heads = lines[start].split()
    return Trouble(
        word=heads[0] if heads else "",
        clause=words[0] if words else "",
        token=shown,
        kind=kind,
        line=line,
        column=column,
        before=own,
        above=tuple(tokens[-4:]),
        accepts=accepts,
        lines=lines,
        part=part,
        file=file,
        starts=starts,
    )


def _swallowed(
    tokens: Sequence[Token],
    lines: Sequence[str],
    parts: Sequence[tuple[int, int]],
    at: tuple[int, int, str, str],
) -> tuple[int, int, str, str]:
    """Where an unfinished line took the next clause's first word for a name: that word; otherwise `at`."""
    first = {low + 1 for low, _ in parts[1:]}
    for token in tokens:
        line, column = token.line or 0, token.column or 0
        if (line, column) >= at[:2]:
            return at
        starts = line in first and not lines[line - 1][: column - 1].strip()
        if starts and token.type == "NAME" and str(token) in CLAUSES:
            return line, column, str(token), token.type
    return at


def _before(text: str, at: tuple[int, int, str, str]) -> list[Token]:
    """The tokens that the parser took before the place."""
    from lark import UnexpectedInput

    taken: list[Token] = []
    parser = grammar().parse_interactive(text)
    try:
        for token in parser.iter_parse():
            if at[3] != "$END" and (token.line or 0, token.column or 0) >= at[:2]:
                break
            taken.append(token)
    except UnexpectedInput:
        pass
    return taken


def _accepts(tokens: Sequence[Token]) -> frozenset[str]:
    """What the parser takes after these tokens."""
    parser: Any = grammar().parse_interactive("")
    for token in tokens:
        parser.feed_token(token)
    return frozenset(parser.accepts())


def _run(line: str, column: int) -> str:
    """The characters that stand together from a column on."""
    rest = line[column - 1 :].split()
    return rest[0] if rest else ""


def _row(lines: Sequence[str], line: int, end: int) -> tuple[int, int, str]:
    """The first word below a line: a row's start is white space, and the trouble is what follows it."""
    for number in range(line, end):
        code = code_of(lines[number])
        if code.strip():
            return (
                number + 1,
                len(code) - len(code.lstrip()) + 1,
                _run(code, len(code) - len(code.lstrip()) + 1),
            )
    return line, 1, ""
