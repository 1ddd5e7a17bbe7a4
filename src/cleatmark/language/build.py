"""From the parser's pieces to the typed tree. Meaning is not looked at: names are not resolved."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import Any

from lark import Token, Transformer, v_args
from msgspec import Struct

from cleatmark.language import tree as t


class Part(Struct, frozen=True):
    """One clause on its way into a statement: its name, its value, where it stands."""

    name: str
    value: Any
    pos: t.Pos


class Doubled(Struct, frozen=True):
    """A clause that stands twice in one statement."""

    name: str
    pos: t.Pos
    first: t.Pos


class Built(Struct, frozen=True):
    """A statement with what is wrong in its outer form."""

    statement: t.AnyStatement
    doubled: tuple[Doubled, ...]


def pos_of(token: Token) -> t.Pos:
    """Position of a token."""
    return t.Pos(token.line or 0, token.column or 0, len(token))


def _is_string(item: object) -> bool:
    return isinstance(item, Token) and item.type == "STRING"


def unquote(token: Token) -> str:
    """The text between the quotation marks."""
    return str(token)[1:-1]


REPEATABLE = frozenset(
    {"sources", "formerly", "row", "alternative", "given", "expect", "patterns", "same_as"}
)
CLAUSE_WORDS = {
    "shall": "shall",
    "applies": "applies when",
    "unknown": "if not shown",
    "fine": "if met",
    "sources": "source",
    "same_as": "same meaning",
}


def _words(name: str) -> str:
    """A clause as its author wrote it; of a table's row the part before the row."""
    name = name.partition(" of a row")[0]
    return CLAUSE_WORDS.get(name, name.replace("_", " "))


_ROW_FORCE = frozenset({"in_force_from", "in_force_until"})


def fold(parts: Sequence[Part]) -> tuple[dict[str, Any], tuple[Doubled, ...]]:
    """Clauses by name; a repeatable one becomes a tuple, another that stands twice is told."""
    out: dict[str, Any] = {}
    seen: dict[str, t.Pos] = {}
    doubled: list[Doubled] = []
    for part in parts:
        if part.name in REPEATABLE:
            value = part.value if isinstance(part.value, tuple) else (part.value,)
            out[part.name] = (*out.get(part.name, ()), *value)
        elif part.name in seen:
            doubled.append(Doubled(_words(part.name), part.pos, seen[part.name]))
        else:
            seen[part.name] = part.pos
            out[part.name] = part.value
    out["places"] = {part.name: part.pos for part in reversed(parts)}
    return out, tuple(doubled)


def clauses_of(parts: Sequence[Part]) -> tuple[t.Clauses, tuple[Doubled, ...]]:
    """The shared clauses of a requirement and its kin."""
    values, doubled = fold(parts)
    return t.Clauses(**values), doubled


def _text(name: str) -> Callable[[Builder, Token], Part]:
    def build(_: Builder, token: Token) -> Part:
        return Part(name, t.Text(text=unquote(token), pos=pos_of(token)), pos_of(token))

    return build


def _string(name: str) -> Callable[[Builder, Token], Part]:
    def build(_: Builder, token: Token) -> Part:
        return Part(name, unquote(token), pos_of(token))

    return build


def _word(name: str) -> Callable[[Builder, Token], Part]:
    def build(_: Builder, token: Token) -> Part:
        return Part(name, str(token), pos_of(token))

    return build


def _names(name: str) -> Callable[[Builder, tuple[Token, ...]], Part]:
    def build(_: Builder, tokens: tuple[Token, ...]) -> Part:
        return Part(name, tuple(str(token) for token in tokens), pos_of(tokens[0]))

    return build


def _strings(name: str) -> Callable[[Builder, tuple[Token, ...]], Part]:
    def build(_: Builder, tokens: tuple[Token, ...]) -> Part:
        return Part(name, tuple(unquote(token) for token in tokens), pos_of(tokens[0]))

    return build


def _compare(op: str) -> Callable[..., t.Compare]:
    def build(_: Builder, left: t.Operand, *rest: Any) -> t.Compare:
        return t.Compare(op=op, left=left, right=rest[-1], pos=left.pos)

    return build


def _keyword(form: str) -> Callable[[Builder, Token], t.Literal]:
    def build(_: Builder, token: Token) -> t.Literal:
        return t.Literal(text=str(token), form=form, pos=pos_of(token))

    return build


def _constant(value: str) -> Callable[[Builder], str]:
    def build(_: Builder) -> str:
        return value

    return build


@v_args(inline=True)
class Builder(Transformer[Token, Any]):
    """Builds tree nodes while the parser runs. Pure: every callback gives a value and keeps nothing."""

    # statements

    def start(self, built: Built) -> Built:
        return built

    def rulebook(self, name: Token, title: Token, *parts: Part) -> Built:
        values, doubled = fold(parts)
        head = t.RulebookHead(id=str(name), title=unquote(title), pos=pos_of(name), **values)
        return Built(head, doubled)

    def field(self, name: Token, title: Token, kind: str, *parts: Any) -> Built:
        values: dict[str, Any] = {}
        clauses: list[Part] = []
        for part in parts:
            if isinstance(part, str):
                values["unit"] = part
            elif isinstance(part, tuple):
                values["choices"] = tuple(unquote(token) for token in part)
            else:
                clauses.append(part)
        folded, doubled = fold(clauses)
        less, more = folded.pop("words", ("", ""))
        node = t.FieldStatement(
            id=str(name),
            title=unquote(title),
            kind=kind,
            pos=pos_of(name),
            less=less,
            more=more,
            **values,
            **folded,
        )
        return Built(node, doubled)

    def kind(self, name: Token, names: tuple[Token, ...]) -> Built:
        return Built(
            t.KindStatement(id=str(name), names=tuple(unquote(n) for n in names), pos=pos_of(name)), ()
        )

    def reading(self, name: Token, *parts: Part) -> Built:
        values, doubled = fold(parts)
        subject, relation = values.pop("gives", ("", ""))
        node = t.ReadingStatement(id=str(name), pos=pos_of(name), gives=subject, relation=relation, **values)
        return Built(node, doubled)

    def requirement(self, name: Token, title: Token, *parts: Part) -> Built:
        clauses, doubled = clauses_of(parts)
        return Built(
            t.Requirement(id=str(name), title=unquote(title), clauses=clauses, pos=pos_of(name)), doubled
        )

    def substitution(self, name: Token, field: Token, *parts: Part) -> Built:
        clauses, doubled = clauses_of(parts)
        return Built(
            t.Substitution(id=str(name), field=str(field), clauses=clauses, pos=pos_of(name)), doubled
        )

    def approval(self, name: Token, body: Token, *parts: Part) -> Built:
        return self._body(name, body, "approval", parts)

    def listing_body(self, name: Token, body: Token, *parts: Part) -> Built:
        return self._body(name, body, "listing", parts)

    def _body(self, name: Token, body: Token, evidence: str, parts: Sequence[Part]) -> Built:
        clauses, doubled = clauses_of(parts)
        node = t.Approval(
            id=str(name), body=unquote(body), evidence=evidence, clauses=clauses, pos=pos_of(name)
        )
        return Built(node, doubled)

    def practice(self, name: Token, field: Token, *parts: Part) -> Built:
        clauses, doubled = clauses_of(parts)
        node = t.Practice(
            id=str(name), field=str(field), when=clauses.applies, clauses=clauses, pos=pos_of(name)
        )
        return Built(node, doubled)

    def advice(self, name: Token, title: Token, *parts: Part) -> Built:
        clauses, doubled = clauses_of(parts)
        return Built(
            t.AdviceStatement(id=str(name), title=unquote(title), clauses=clauses, pos=pos_of(name)), doubled
        )

    def caution(self, name: Token, text: Token) -> Built:
        return Built(t.Caution(id=str(name), title=unquote(text), pos=pos_of(name)), ())

    def amend(self, name: Token, *parts: Part) -> Built:
        clauses, doubled = clauses_of(parts)
        return Built(t.Amend(id=str(name), clauses=clauses, pos=pos_of(name)), doubled)

    def waive(self, name: Token, *parts: Part) -> Built:
        clauses, doubled = clauses_of(parts)
        return Built(
            t.Waive(id=str(name), because=clauses.because, clauses=clauses, pos=pos_of(name)), doubled
        )

    def table(self, name: Token, by: tuple[Token, ...], *parts: Any) -> Built:
        gives: tuple[str, ...] = ()
        if parts and isinstance(parts[0], tuple):
            gives = tuple(str(token) for token in parts[0])
            parts = parts[1:]
        flat: list[Part] = []
        for part in parts:
            flat.extend(part if isinstance(part, list) else [part])
        values, doubled = fold(flat)
        node = t.Table(
            id=str(name),
            by=tuple(str(token) for token in by),
            gives=gives,
            rows=values.get("row", ()),
            sources=values.get("sources", ()),
            pos=pos_of(name),
        )
        return Built(node, doubled)

    def define(self, name: Token, of: Token, *parts: Part) -> Built:
        values, doubled = fold(parts)
        node = t.Define(
            id=str(name),
            of=str(of),
            alternatives=values.get("alternative", ()),
            level=values.get("level", ""),
            sources=values.get("sources", ()),
            places=values["places"],
            pos=pos_of(name),
        )
        return Built(node, doubled)

    def case(self, title: Token, *parts: Part) -> Built:
        values, doubled = fold(parts)
        node = t.Case(
            id=unquote(title),
            title=unquote(title),
            given=values.get("given", ()),
            expectations=values.get("expect", ()),
            pos=pos_of(title),
        )
        return Built(node, doubled)

    def assembly(self, name: Token, *settings: t.Setting) -> Built:
        return Built(t.Assembly(id=str(name), settings=settings, pos=pos_of(name)), ())

    # small pieces

    def names(self, *tokens: Token) -> tuple[Token, ...]:
        return tokens

    def strings(self, *tokens: Token) -> tuple[Token, ...]:
        return tokens

    def date(self, token: Token) -> Token:
        return token

    def unit(self, *tokens: Token) -> str:
        return " ".join(tokens)

    def words_(self, *tokens: Token) -> Part:
        return Part("words", " ".join(tokens), pos_of(tokens[0]))

    def article(self) -> None:
        return None

    edition = _word("edition")
    builds_on = _names("builds_on")
    in_force_from = _word("in_force_from")
    in_force_until = _word("in_force_until")
    checked_on = _word("checked_on")
    status = _string("status")

    def field_kind(self, token: Token) -> str:
        return str(token)

    field_yes_no = _constant("yes/no")
    field_screw_size = _constant("screw size")

    def words(self, less: Token, more: Token) -> Part:
        return Part("words", (str(less), str(more)), pos_of(less))

    example = _string("example")

    def field_ask(self, to: Part) -> Part:
        return Part("ask", to.value, to.pos)

    note = _string("note")

    def may_be_none(self, word: Token) -> Part:
        return Part("none", True, pos_of(word))

    def or_another(self, word: Token) -> Part:
        return Part("open", True, pos_of(word))

    def gives(self, subject: Token, relation: str = "") -> Part:
        return Part("gives", (str(subject), relation), pos_of(subject))

    def patterns(self, *tokens: Token) -> Part:
        return Part("patterns", tuple(unquote(token) for token in tokens), pos_of(tokens[0]))

    reading_value = _string("value")

    def reading_flags(self, *words: Part) -> Part:
        return Part("flags", tuple(word.value for word in words), words[0].pos)

    def reading_like(self, name: Token) -> Part:
        return Part("like", str(name), pos_of(name))

    reading_in = _names("kinds")
    reading_not_in = _names("not_in")
    near = _strings("near")
    not_near = _strings("not_near")

    # clauses

    basis = _word("basis")
    action = _word("action")
    otherwise = _text("otherwise")
    unknown = _text("unknown")
    fine = _text("fine")
    remedy = _text("remedy")
    because = _text("because")
    caution_clause = _text("caution")
    message = _text("message")

    def replacement(self, *tokens: Token) -> Part:
        text = t.Text(text=unquote(tokens[-1]), pos=pos_of(tokens[-1]))
        words = unquote(tokens[0]) if len(tokens) > 1 else ""
        pos = pos_of(tokens[0])
        return Part("replace", t.Replacement(text=text, words=words, pos=pos), pos)

    same_as = _text("same_as")
    usual = _strings("usual")
    hidden_after = _string("hidden_after")
    trade = _string("trade")
    formerly = _names("formerly")

    def applies(self, condition: t.Condition) -> Part:
        return Part("applies", condition, condition.pos)

    def shall(self, what: t.Condition | t.ShownBy) -> Part:
        return Part("shall", what, what.pos)

    def allows(self, *tokens: Token) -> Part:
        return Part("allows", tuple(str(token) for token in tokens), pos_of(tokens[0]))

    def addressee(self, words: Token) -> Part:
        return Part("to", " ".join(words.split()), pos_of(words))

    def ask(self, to: Part, question: Token | None = None) -> Part:
        text = unquote(question) if question is not None else ""
        return Part("ask", t.Ask(to=to.value, question=text, pos=to.pos), to.pos)

    def confidence(self, token: Token) -> Part:
        return Part("confidence", str(token), pos_of(token))

    def source_mark(self, words: Token) -> Part:
        return Part("from_memory", True, pos_of(words))

    def source_practice(self, word: Token, *children: Any) -> Part:
        return Part("sources", self._source("common practice", pos_of(word), children), pos_of(word))

    def source_memory(self, word: Token, *children: Any) -> Part:
        title = next((unquote(c) for c in children if _is_string(c)), "from memory")
        source = self._source(title, pos_of(word), children, from_memory=True)
        return Part("sources", source, pos_of(word))

    def source_written(self, title: Token, *children: Any) -> Part:
        at = next((unquote(c) for c in children if isinstance(c, Token)), "")
        return Part("sources", self._source(unquote(title), pos_of(title), children, at=at), pos_of(title))

    def _source(
        self, title: str, pos: t.Pos, children: Sequence[Any], *, at: str = "", from_memory: bool = False
    ) -> t.Source:
        values = {part.name: part.value for part in children if isinstance(part, Part)}
        return t.Source(
            title=title,
            at=at,
            confidence=values.get("confidence", ""),
            from_memory=from_memory or "from_memory" in values,
            pos=pos,
        )

    # conditions

    def group(self, condition: t.Condition) -> t.Condition:
        return condition

    def grouped(self, condition: t.Condition) -> t.Condition:
        return condition

    def or_(self, *parts: t.Condition) -> t.Condition:
        return parts[0] if len(parts) == 1 else t.Or(parts=parts, pos=parts[0].pos)

    def and_(self, *parts: t.Condition) -> t.Condition:
        return parts[0] if len(parts) == 1 else t.And(parts=parts, pos=parts[0].pos)

    def not_(self, part: t.Condition) -> t.Not:
        return t.Not(part=part, pos=part.pos)

    is_ = _compare("is")
    is_not = _compare("is not")
    at_least = _compare("at least")
    at_most = _compare("at most")
    more_than = _compare("more than")
    less_than = _compare("less than")
    meets = _compare("meets")
    includes = _compare("includes")
    mentions = _compare("mentions")

    def direction(self, left: t.Operand, word: Token, right: t.Operand) -> t.Compare:
        return t.Compare(op=str(word), left=left, right=right, pos=left.pos)

    def before(self, left: t.Operand, *rest: Any) -> t.Compare:
        word = next(
            " ".join(item.split()) for item in rest if isinstance(item, Token) and item.type == "BEFORE"
        )
        return t.Compare(op=word, left=left, right=rest[-1], pos=left.pos)

    def one_of(self, left: t.Operand, *options: t.Operand) -> t.OneOf:
        return t.OneOf(left=left, options=options, pos=left.pos)

    def not_one_of(self, left: t.Operand, *options: t.Operand) -> t.OneOf:
        return t.OneOf(left=left, options=options, negated=True, pos=left.pos)

    def stated(self, operand: t.Operand, word: Token) -> t.IsStated:
        return t.IsStated(operand=operand, word=str(word), pos=operand.pos)

    def not_stated(self, operand: t.Operand, word: Token) -> t.IsStated:
        return t.IsStated(operand=operand, word=str(word), negated=True, pos=operand.pos)

    def covers(self, it: Token, in_zone: Token | None = None) -> t.Covers:
        return t.Covers(in_zone=in_zone is not None, pos=pos_of(it))

    def over(self, token: Token) -> Token:
        return token

    def quantified(self, word: Token, over: Token, *groups: t.Condition) -> t.Quantified:
        where = groups[0] if len(groups) == 2 else None
        return t.Quantified(
            quantifier=str(word), over=str(over), where=where, has=groups[-1], pos=pos_of(word)
        )

    def every_zone_shown(self, word: Token, over: Token, *rest: Any) -> t.ShownBy:
        shown: t.ShownBy = rest[-1]
        return t.ShownBy(
            kind=shown.kind,
            where=shown.where,
            having=shown.having,
            every_zone=str(over) == "zone" and str(word) == "every",
            zone_where=rest[0] if len(rest) == 2 else None,
            spoken="" if (word, over) == ("every", "zone") else f"{word} {over}",
            pos=pos_of(word),
        )

    def where_group(self, condition: t.Condition) -> Part:
        return Part("where", condition, condition.pos)

    def having_group(self, condition: t.Condition) -> Part:
        return Part("having", condition, condition.pos)

    def shown_by(self, _: None, kind: Token, *parts: Part) -> t.ShownBy:
        values = {part.name: part.value for part in parts}
        return t.ShownBy(
            kind=str(kind), where=values.get("where"), having=values.get("having"), pos=pos_of(kind)
        )

    # values

    def path(self, token: Token) -> t.Path:
        return t.Path(name=str(token), pos=pos_of(token))

    def text(self, token: Token) -> t.Literal:
        return t.Literal(text=unquote(token), form="text", pos=pos_of(token))

    def quantity(self, token: Token, basis: Token | None = None) -> t.Literal:
        words = str(token).split() + (str(basis).split() if basis is not None else [])
        return t.Literal(text=" ".join(words), form="quantity", pos=pos_of(token))

    def date_literal(self, token: Token) -> t.Literal:
        return t.Literal(text=str(token), form="date", pos=pos_of(token))

    yes = _keyword("yes/no")
    no = _keyword("yes/no")
    none = _keyword("none")

    def arithmetic(self, left: t.Operand, op: Token, right: t.Operand) -> t.Arithmetic:
        return t.Arithmetic(op=str(op), left=left, right=right, pos=left.pos)

    def value_group(self, operand: t.Operand) -> t.Operand:
        return operand

    def lookup(self, table: Token, *keys: t.Operand) -> t.Lookup:
        return t.Lookup(table=str(table), keys=keys, pos=pos_of(table))

    def choose(self, how: Token, *operands: t.Operand) -> t.Choose:
        words = str(how).split()
        return t.Choose(how=words[0], stated_only=len(words) > 1, operands=operands, pos=pos_of(how))

    # tables, defines, cases

    def key(self, literal: t.Literal) -> tuple[str, t.Literal | None]:
        return ("key", literal)

    def any_key(self) -> tuple[str, t.Literal | None]:
        return ("key", None)

    def row_force(self, part: Part) -> Part:
        return part

    def row(self, _: Token, *parts: Any) -> list[Part]:
        """A source on a row's own line is the row's; below it, the table's."""
        keys = tuple(part[1] for part in parts if isinstance(part, tuple))
        values = tuple(part for part in parts if isinstance(part, t.Literal))
        clauses = {part.name: part.value for part in parts if isinstance(part, Part)}
        sources = [part for part in parts if isinstance(part, Part) and part.name == "sources"]
        own = [part for part in sources if part.pos.line == values[-1].pos.line]
        once = own + [part for part in parts if isinstance(part, Part) and part.name in _ROW_FORCE]
        again = [part for part in once if sum(other.name == part.name for other in once) > 1]
        first = next((key for key in keys if key is not None), values[0])
        node = t.Row(
            keys=keys,
            values=values,
            source=own[0].value if own else None,
            in_force_from=clauses.get("in_force_from", ""),
            in_force_until=clauses.get("in_force_until", ""),
            pos=first.pos,
        )
        return [
            Part("row", (node,), first.pos),
            *(part for part in sources if part.pos.line != values[-1].pos.line),
            *(Part(f"{part.name} of a row {first.pos.line}", part.value, part.pos) for part in again),
        ]

    def alternative(self, value: t.Operand, when: t.Condition | None = None) -> Part:
        return Part("alternative", (t.Alternative(value=value, when=when, pos=value.pos),), value.pos)

    def level(self, words: Token) -> Part:
        return Part("level", str(words).split()[1], pos_of(words))

    rel_at_least = _constant("at least")
    rel_at_most = _constant("at most")
    rel_equal = _constant("equal")
    rel_one_of = _constant("one of")
    rel_required = _constant("required")
    rel_prohibited = _constant("prohibited")
    rel_is = _constant("")

    def flags(self, *tokens: Token) -> tuple[Token, ...]:
        return tokens

    def setting(self, path: Token, *rest: Any) -> t.Setting:
        relation = rest[0] if isinstance(rest[0], str) and not isinstance(rest[0], Token) else ""
        values = tuple(item for item in rest if isinstance(item, t.Literal))
        flags = next((item for item in rest if isinstance(item, tuple)), ())
        zone = next((unquote(item) for item in rest if isinstance(item, Token)), "")
        return t.Setting(
            path=str(path),
            relation=relation,
            values=values,
            flags=tuple(unquote(flag) for flag in flags),
            zone=zone,
            pos=pos_of(path),
        )

    def setting_flagged(self, path: Token, flags: tuple[Token, ...]) -> t.Setting:
        return t.Setting(path=str(path), flags=tuple(unquote(flag) for flag in flags), pos=pos_of(path))

    def setting_like(self, path: Token, name: Token) -> t.Setting:
        return t.Setting(path=str(path), like=str(name), pos=pos_of(path))

    def thing(self, kind: Token, *rest: Any) -> t.Thing:
        name = unquote(rest[0]) if rest and isinstance(rest[0], Token) else ""
        settings = tuple(item for item in rest if isinstance(item, t.Setting))
        return t.Thing(kind=str(kind), name=name, settings=settings, pos=pos_of(kind))

    def given(self, *items: Any) -> Part:
        given = tuple(item for item in items if isinstance(item, t.Setting | t.Thing))
        return Part("given", given, given[0].pos)

    complies = _constant("complies")
    deviates = _constant("deviates")
    not_shown = _constant("not shown")
    does_not_apply = _constant("does not apply")
    raised = _constant("raised")
    not_raised = _constant("not raised")
    is_usual = _constant("usual")
    unusual = _constant("unusual")

    def expect_verdict(self, name: Token, verdict: str) -> Part:
        return Part("expect", (t.Expectation(id=str(name), verdict=verdict, pos=pos_of(name)),), pos_of(name))

    def expect_value(self, name: Token, value: t.Literal) -> Part:
        return Part("expect", (t.Expectation(id=str(name), value=value, pos=pos_of(name)),), pos_of(name))

    def expect_lookup(self, operand: t.Lookup | t.Arithmetic, *rest: Any) -> Part:
        values = tuple(item for item in rest if isinstance(item, t.Literal))
        node = t.Expectation(
            id="",
            operand=operand,
            verdict="" if values else str(rest[0]),
            value=values[0] if values else None,
            others=values[1:],
            pos=operand.pos,
        )
        return Part("expect", (node,), operand.pos)
