"""The tree of a rule file, one struct a form. Every node carries its position; no later stage changes a node."""

from __future__ import annotations

from collections.abc import Mapping

from msgspec import Struct, field

from cleatmark.problems import Place


class Pos(Struct, frozen=True):
    """Line and column in the file, both from 1, and how many characters the node's first word spans."""

    line: int
    column: int
    span: int = 1


class Node(Struct, frozen=True, kw_only=True):
    """What every node has."""

    pos: Pos


# Values ---------------------------------------------------------------------------------------------------------


class Literal(Node, frozen=True, tag="literal", kw_only=True):
    """A quantity, text, date, yes, no or none, with the text as written.

    form   text, quantity, date, yes/no or none
    text   as written; what a quantity is depends on the field that it meets ("90" is a class beside a class, a
           number beside a number), so only the compiler makes a value of it
    """

    text: str
    form: str


class Path(Node, frozen=True, tag="path", kw_only=True):
    """A dotted name: `proposed.panel.width`, `zone.required`, `class`."""

    name: str


class Arithmetic(Node, frozen=True, tag="arithmetic", kw_only=True):
    """left op right, op one of + - * /."""

    op: str
    left: Operand
    right: Operand


class Choose(Node, frozen=True, tag="choose", kw_only=True):
    """`largest of (...)`, `smallest of (...)`, `first stated of (...)`: how is largest, smallest or first.

    stated_only: operands that nobody states are passed over; one that is stated but open still makes it unknown.
    """

    how: str
    operands: tuple[Operand, ...]
    stated_only: bool = False


class Lookup(Node, frozen=True, tag="lookup", kw_only=True):
    """`TABLE for (a, b)`, `TABLE.COLUMN for (a, b)`."""

    table: str
    keys: tuple[Operand, ...]


Operand = Literal | Path | Arithmetic | Choose | Lookup

# Conditions -----------------------------------------------------------------------------------------------------


class Compare(Node, frozen=True, tag="compare", kw_only=True):
    """left OP right. op: is, is not, at least, at most, more than, less than, before, after, meets, includes,
    mentions, or a field's direction word ("narrower")."""

    op: str
    left: Operand
    right: Operand


class OneOf(Node, frozen=True, tag="one_of", kw_only=True):
    """`left is one of a, b` (negated: `is not one of`)."""

    left: Operand
    options: tuple[Operand, ...]
    negated: bool = False


class IsStated(Node, frozen=True, tag="is_stated", kw_only=True):
    """`x is stated`, `x is known` and their negations. word is stated or known."""

    operand: Operand
    word: str
    negated: bool = False


class Covers(Node, frozen=True, tag="covers", kw_only=True):
    """`it covers proposed`, `it covers proposed in zone`."""

    in_zone: bool = False


class And(Node, frozen=True, tag="and", kw_only=True):
    parts: tuple[Condition, ...]


class Or(Node, frozen=True, tag="or", kw_only=True):
    parts: tuple[Condition, ...]


class Not(Node, frozen=True, tag="not", kw_only=True):
    part: Condition


class Quantified(Node, frozen=True, tag="quantified", kw_only=True):
    """`every zone where (A) has (B)`. quantifier: every, some, no. over: zone, run, document, condition, clause, or a
    declared kind of document."""

    quantifier: str
    over: str
    has: Condition
    where: Condition | None = None


Condition = Compare | OneOf | IsStated | Covers | And | Or | Not | Quantified


class ShownBy(Node, frozen=True, tag="shown_by", kw_only=True):
    """`[every zone [where (Z)]] be shown by a KIND [where (A)] having (B)`.

    spoken  the words before `be shown by` where they are others than `every zone`; the checker tells
    """

    kind: str
    where: Condition | None = None
    having: Condition | None = None
    every_zone: bool = False
    zone_where: Condition | None = None
    spoken: str = ""


# Clauses shared by statements ------------------------------------------------------------------------------------


class Source(Node, frozen=True, kw_only=True):
    """Where a rule or a number comes from. title "common practice" and "from memory" are sources of their own kind."""

    title: str
    at: str = ""
    confidence: str = ""
    from_memory: bool = False

    def __str__(self) -> str:
        text = f"{self.title}, {self.at}" if self.at else self.title
        if self.from_memory:
            text = f"{text} (from memory)" if self.title != "from memory" else text
        return text


class Text(Node, frozen=True, kw_only=True):
    """A message with `{path}` places."""

    text: str


class Ask(Node, frozen=True, kw_only=True):
    """Whom to ask and what; question "" where the missing fact's title says enough."""

    to: str
    question: str = ""


class Replacement(Node, frozen=True, kw_only=True):
    """Text proposed for the paragraph that advice is about: for the words `words` of it, "" for all of it."""

    text: Text
    words: str = ""


class Clauses(Struct, frozen=True, kw_only=True):
    """Clauses that requirements, approvals, substitutions, practice, advice and amendments share. None: not written.

    places  where each clause stands, by its name here
    """

    basis: str | None = None
    applies: Condition | None = None
    shall: Condition | ShownBy | None = None
    action: str | None = None
    sources: tuple[Source, ...] = ()
    because: Text | None = None
    otherwise: Text | None = None
    unknown: Text | None = None
    fine: Text | None = None
    remedy: Text | None = None
    ask: Ask | None = None
    in_force_from: str | None = None
    in_force_until: str | None = None
    formerly: tuple[str, ...] = ()
    allows: tuple[str, ...] | None = None
    caution: Text | None = None
    usual: tuple[str, ...] | None = None
    hidden_after: str | None = None
    trade: str | None = None
    message: Text | None = None
    replace: Replacement | None = None
    same_as: tuple[Text, ...] = ()
    places: Mapping[str, Pos] = field(default_factory=dict)


# Statements -----------------------------------------------------------------------------------------------------


class Statement(Node, frozen=True, kw_only=True):
    """What every statement has: its id, and the lines it stands on."""

    id: str
    title: str = ""


class RulebookHead(Statement, frozen=True, tag="rulebook", kw_only=True):
    edition: str = ""
    builds_on: tuple[str, ...] = ()
    in_force_from: str = ""
    in_force_until: str = ""
    checked_on: str = ""
    status: str = ""
    sources: tuple[Source, ...] = ()
    places: Mapping[str, Pos] = field(default_factory=dict)


class FieldStatement(Statement, frozen=True, tag="field", kw_only=True):
    kind: str
    unit: str = ""
    less: str = ""
    more: str = ""
    choices: tuple[str, ...] = ()
    example: str = ""
    ask: str = ""
    none: bool = False
    open: bool = False
    note: str = ""
    places: Mapping[str, Pos] = field(default_factory=dict)


class KindStatement(Statement, frozen=True, tag="kind", kw_only=True):
    """`kind report is "tested report"`: what a requirement may ask to be shown by."""

    names: tuple[str, ...]


class ReadingStatement(Statement, frozen=True, tag="reading", kw_only=True):
    gives: str = ""
    relation: str = ""
    patterns: tuple[str, ...] = ()
    value: str = ""
    like: str = ""
    flags: tuple[str, ...] = ()
    kinds: tuple[str, ...] = ()
    not_in: tuple[str, ...] = ()
    near: tuple[str, ...] = ()
    not_near: tuple[str, ...] = ()
    ask: Ask | None = None
    sources: tuple[Source, ...] = ()
    because: Text | None = None
    places: Mapping[str, Pos] = field(default_factory=dict)


class Requirement(Statement, frozen=True, tag="requirement", kw_only=True):
    clauses: Clauses


class Substitution(Statement, frozen=True, tag="substitution", kw_only=True):
    field: str
    clauses: Clauses


class Approval(Statement, frozen=True, tag="approval", kw_only=True):
    """`approval ID by BODY` and `listing_body ID by BODY`; evidence is the kind of paper that serves."""

    body: str
    evidence: str
    clauses: Clauses


class Practice(Statement, frozen=True, tag="practice", kw_only=True):
    field: str
    when: Condition | None
    clauses: Clauses


class AdviceStatement(Statement, frozen=True, tag="advice", kw_only=True):
    clauses: Clauses


class Caution(Statement, frozen=True, tag="caution", kw_only=True):
    """A caution that every report prints."""


class Row(Node, frozen=True, kw_only=True):
    """A table row: keys (None is `any`), values by column, source, dates in force."""

    keys: tuple[Literal | None, ...]
    values: tuple[Literal, ...]
    source: Source | None = None
    in_force_from: str = ""
    in_force_until: str = ""


class Table(Statement, frozen=True, tag="table", kw_only=True):
    by: tuple[str, ...]
    gives: tuple[str, ...]
    rows: tuple[Row, ...]
    sources: tuple[Source, ...] = ()


class Alternative(Node, frozen=True, kw_only=True):
    """One `as VALUE [when CONDITION]` of a define."""

    value: Operand
    when: Condition | None = None


class Define(Statement, frozen=True, tag="define", kw_only=True):
    of: str
    alternatives: tuple[Alternative, ...]
    level: str = ""
    sources: tuple[Source, ...] = ()
    places: Mapping[str, Pos] = field(default_factory=dict)


class Amend(Statement, frozen=True, tag="amend", kw_only=True):
    clauses: Clauses


class Waive(Statement, frozen=True, tag="waive", kw_only=True):
    because: Text | None
    clauses: Clauses


class Setting(Node, frozen=True, tag="setting", kw_only=True):
    """`proposed.panel.width 18 in`, `spec.uplift.class at least 90`, `spec.uplift.class flagged "blank"`,
    `proposed like NAME`."""

    path: str
    relation: str = ""
    values: tuple[Literal, ...] = ()
    flags: tuple[str, ...] = ()
    like: str = ""
    zone: str = ""


class Thing(Node, frozen=True, tag="thing", kw_only=True):
    """A document, run, condition or zone that a case puts up: `a report "T-1" having class 90`."""

    kind: str
    name: str = ""
    settings: tuple[Setting, ...] = ()


class Expectation(Node, frozen=True, kw_only=True):
    """`expect ID VERDICT`, `expect allowable 52.5 psf` for a define, `expect class_pressure for ( 90 ) 105 psf` for a
    table: then `operand` is what is looked up and `others` are the values of the further columns."""

    id: str
    verdict: str = ""
    value: Literal | None = None
    operand: Operand | None = None
    others: tuple[Literal, ...] = ()


class Case(Statement, frozen=True, tag="case", kw_only=True):
    given: tuple[Setting | Thing, ...]
    expectations: tuple[Expectation, ...]


class Assembly(Statement, frozen=True, tag="assembly", kw_only=True):
    settings: tuple[Setting, ...] = field(default_factory=tuple)


AnyStatement = (
    RulebookHead
    | FieldStatement
    | KindStatement
    | ReadingStatement
    | Requirement
    | Substitution
    | Approval
    | Practice
    | AdviceStatement
    | Caution
    | Table
    | Define
    | Amend
    | Waive
    | Case
    | Assembly
)


class Spoilt(Struct, frozen=True):
    """A statement whose form has a mistake: what can be told of it, so that nothing else is blamed for it."""

    word: str
    id: str
    line: int


class RuleFile(Struct, frozen=True):
    """A rule file parsed: its head, its statements in order, its lines, the statements that did not parse."""

    file: str
    head: RulebookHead
    statements: tuple[AnyStatement, ...]
    lines: tuple[str, ...] = ()
    spoilt: tuple[Spoilt, ...] = ()

    def place(self, node: Node) -> Place:
        """The place of a node of this file."""
        return Place(self.file, node.pos.line, node.pos.column)
