"""Messages: every place in braces is a fact that the rule reads, or that names what was judged."""

from __future__ import annotations

import re
from collections.abc import Iterator

from cleatmark.language import tree as t
from cleatmark.language.checking import Context, Desk
from cleatmark.language.names import Name
from cleatmark.language.program import RUN_CONTEXT
from cleatmark.language.reads import COVERS, Reader
from cleatmark.problems import near_name

PLACES = re.compile(r"\{([^{}]*)\}")
NAMING = frozenset(
    [
        *("document.id", "document.title", "document.number", "document.kind", "document.offered_as"),
        *("document.date", "document.holder", "document.laboratory", "document.body", "document.page"),
        *("run.id", "run.page", "zone.name", "zone.roof", "zone.area", "zone.required"),
        *("submittal.id", "submittal.title", "job.name", "job.code", "job.permit_date"),
    ]
)
"""Facts that name what was judged; a message may always use them where such a thing is judged."""


def messages(desk: Desk, node: t.Statement, clauses: t.Clauses, rule: t.Statement, whole: t.Clauses) -> None:
    """Checks the messages of `clauses`. `rule` is the statement that they belong to and `whole` its clauses with all
    amendments: what it reads."""
    reads = reads_of(desk, rule, whole)
    context = judged(rule, whole, reads)
    for text in texts(clauses):
        for match in PLACES.finditer(text.text):
            place(desk, text, match, context, reads)
        loose = PLACES.sub("", text.text)
        for brace in "{}":
            if brace in loose:
                at = t.Pos(text.pos.line, text.pos.column + 1 + text.text.index(brace), 1)
                desk.tell(
                    at, "a brace of the message closes nothing", "a fact is named so: {spec.panel.width}"
                )
                break


def place(desk: Desk, text: t.Text, match: re.Match[str], context: Context, reads: set[str]) -> None:
    """One place of a message."""
    path = match[1]
    at = t.Pos(text.pos.line, text.pos.column + 1 + match.start(), len(match[0]))
    if path.startswith("nearest."):
        nearest(desk, at, path)
        return
    name = desk.names.resolve(path.strip(), context)
    if not isinstance(name, Name):
        missing = unread(desk, path, context)
        if missing:
            desk.tell(at, f"the message names `{path}`, and {missing}", *_instead(reads))
        else:
            near = name.near or elsewhere(desk, path)
            shown = (f'did you mean "{near}"?',) if near else ()
            if path.split(".")[0] in desk.names.tables:
                shown = ("it is a table: give what is looked up a name with `define`",)
            desk.tell(at, f"the message names `{path}`, which is no fact", *shown, *_instead(reads))
        return
    if path != path.strip():
        desk.tell(at, "no spaces stand inside the braces of a message", f"write: {{{path.strip()}}}")
    known = name.path in reads or name.path in NAMING or name.scope == "clause" or name.define is not None
    beside = COVERS in reads and name.scope in ("proposed", "tested")
    if not known and not beside:
        desk.tell(
            at,
            f"the message names `{path}`, which this rule never reads",
            "a message may name only what its verdict rests on",
            *_instead(reads),
        )


def nearest(desk: Desk, at: t.Pos, path: str) -> None:
    """`{nearest.X}`: the nearest paper, and any fact of it."""
    key = path.removeprefix("nearest.")
    block = desk.book.block
    known = ["id", "run", "kind", "differences", *block("run"), *block("document"), *block("assembly")]
    known += [key for key, define in desk.names.defines.items() if define.of in ("run", "document")]
    if key not in known:
        near = near_name(key, known)
        shown = (f'did you mean "nearest.{near}"?',) if near else ()
        desk.tell(at, f"the message names `{path}`, which is no fact", *shown)


def elsewhere(desk: Desk, path: str) -> str:
    """The same fact under the thing that has it: run.class for document.class."""
    key = path.partition(".")[2]
    blocks = ("run", "document", "zone", "condition", "job", "submittal")
    return next((f"{block}.{key}" for block in blocks if key in desk.book.block(block)), "")


def unread(desk: Desk, path: str, context: Context) -> str:
    """Why a known fact cannot be named here; "" where the name is unknown altogether."""
    everywhere = ("run", "document", "condition", "zone", "clause")
    name = desk.names.resolve(path, everywhere)
    if not isinstance(name, Name):
        return ""
    block = "run" if name.scope == "tested" else name.scope
    return f"this rule judges no single {block}"


def judged(rule: t.Statement, clauses: t.Clauses, reads: set[str]) -> Context:
    """The things that are at hand when the rule's messages are filled, innermost first."""
    if isinstance(rule, t.AdviceStatement):
        return ("clause",) if any(path.startswith("clause.") for path in reads) else ()
    if isinstance(rule, t.Approval | t.Substitution | t.Practice):
        return RUN_CONTEXT
    if isinstance(clauses.shall, t.ShownBy):
        return (*RUN_CONTEXT, "zone") if clauses.shall.every_zone else RUN_CONTEXT
    return ()


def reads_of(desk: Desk, rule: t.Statement, clauses: t.Clauses) -> set[str]:
    """Everything that the rule reads."""
    reader = Reader(desk.names, desk.kinds)
    own: Context = RUN_CONTEXT if isinstance(rule, t.Substitution) else ()
    if isinstance(rule, t.AdviceStatement):
        own = ("clause",)
    reader.condition(clauses.applies, own)
    shall = clauses.shall
    if isinstance(shall, t.ShownBy):
        inside = (*RUN_CONTEXT, "zone") if shall.every_zone else RUN_CONTEXT
        reader.condition(shall.where, inside)
        reader.condition(shall.having, inside)
        reader.condition(shall.zone_where, ("zone",))
    else:
        reader.condition(shall, RUN_CONTEXT if isinstance(rule, t.Approval) else own)
    if isinstance(rule, t.Approval):
        reader.paths |= {COVERS, "document.body"}
    if isinstance(rule, t.Substitution | t.Practice):
        reader.paths |= {f"proposed.{rule.field}", f"tested.{rule.field}"}
    return reader.paths


def texts(clauses: t.Clauses) -> Iterator[t.Text]:
    """Every text of a rule in which facts may be named."""
    for text in (
        *(clauses.otherwise, clauses.unknown, clauses.fine, clauses.remedy, clauses.because, clauses.message),
        *(clauses.caution, clauses.replace.text if clauses.replace is not None else None),
    ):
        if text is not None:
            yield text


def _instead(reads: set[str]) -> tuple[str, ...]:
    listed = sorted(path for path in reads if path != COVERS)
    return ("it reads: " + ", ".join(listed),) if listed and len(listed) <= 12 else ()
