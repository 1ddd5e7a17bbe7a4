"""Trees in words: conditions, operands and settings on one line, as an author writes them."""

from __future__ import annotations

from collections.abc import Iterable

from cleatmark.language import tree as t


def operand(node: t.Operand) -> str:
    """A value as written."""
    if isinstance(node, t.Literal):
        return literal(node)
    if isinstance(node, t.Path):
        return node.name
    if isinstance(node, t.Arithmetic):
        return f"{_bracketed(node.left)} {node.op} {_bracketed(node.right)}"
    if isinstance(node, t.Choose):
        stated = " stated" if node.stated_only else ""
        return f"{node.how}{stated} of ( {listed(node.operands)} )"
    return f"{node.table} for ( {listed(node.keys)} )"


def listed(nodes: Iterable[t.Operand]) -> str:
    """Values with commas between."""
    return ", ".join(operand(node) for node in nodes)


def literal(node: t.Literal) -> str:
    """A literal as written; text in quotation marks."""
    return f'"{node.text}"' if node.form == "text" else node.text


def condition(node: t.Condition) -> str:
    """A condition as written."""
    if isinstance(node, t.And | t.Or):
        word = " and " if isinstance(node, t.And) else " or "
        return word.join(_grouped(part, node) for part in node.parts)
    if isinstance(node, t.Not):
        return f"not {_grouped(node.part, node)}"
    if isinstance(node, t.Compare):
        word = node.op if node.op in PLAIN else f"is {node.op} than"
        return f"{operand(node.left)} {word} {operand(node.right)}"
    if isinstance(node, t.OneOf):
        return f"{operand(node.left)} is {'not ' if node.negated else ''}one of {listed(node.options)}"
    if isinstance(node, t.IsStated):
        return f"{operand(node.operand)} is {'not ' if node.negated else ''}{node.word}"
    if isinstance(node, t.Covers):
        return "it covers proposed" + (" in zone" if node.in_zone else "")
    where = f" where ( {condition(node.where)} )" if node.where is not None else ""
    return f"{node.quantifier} {node.over}{where} has ( {condition(node.has)} )"


PLAIN = frozenset(
    {"is", "is not", "at least", "at most", "more than", "less than", "before", "after", "on or before"}
    | {"on or after", "meets", "includes", "mentions"}
)


def shall(node: t.Condition | t.ShownBy) -> str:
    """What a rule requires, without the word `shall`."""
    if not isinstance(node, t.ShownBy):
        return condition(node)
    zones = ""
    if node.every_zone:
        zones = "every zone "
        if node.zone_where is not None:
            zones += f"where ( {condition(node.zone_where)} ) "
    article = "an" if node.kind[:1] in "aeiou" else "a"
    text = f"{zones}be shown by {article} {node.kind}"
    if node.where is not None:
        text += f" where ( {condition(node.where)} )"
    if node.having is not None:
        text += f" having ( {condition(node.having)} )"
    return text


def _grouped(node: t.Condition, parent: t.Condition) -> str:
    loose = isinstance(node, t.Or) or (isinstance(node, t.And) and not isinstance(parent, t.Or))
    return f"( {condition(node)} )" if loose and not isinstance(node, type(parent)) else condition(node)


def _bracketed(node: t.Operand) -> str:
    return f"( {operand(node)} )" if isinstance(node, t.Arithmetic) else operand(node)


# Statements -----------------------------------------------------------------------------------------------------


def source(node: t.Source) -> str:
    """A source with its locator and confidence."""
    memory = ", from memory" if node.from_memory and node.title != "from memory" else ""
    at = f", {node.at}" if node.at else ""
    sure = f" (confidence {node.confidence})" if node.confidence else ""
    return f"{node.title}{at}{memory}{sure}"


def head(node: t.AnyStatement) -> str:
    """A statement's first line."""
    if isinstance(node, t.Requirement | t.AdviceStatement | t.Caution):
        word = "advice" if isinstance(node, t.AdviceStatement) else type(node).__name__.lower()
        return f'{word} {node.id} "{node.title}"'
    if isinstance(node, t.Substitution | t.Practice):
        return f"{type(node).__name__.lower()} {node.id} for {node.field}"
    if isinstance(node, t.Approval):
        word = "listing_body" if node.evidence == "listing" else "approval"
        return f'{word} {node.id} by "{node.body}"'
    if isinstance(node, t.Table):
        gives = f" gives {', '.join(node.gives)}" if node.gives else ""
        return f"table {node.id} by {', '.join(node.by)}{gives}"
    if isinstance(node, t.Define):
        return f"define {node.id} of {node.of}"
    if isinstance(node, t.FieldStatement):
        return f'field {node.id} "{node.title}" {node.kind}' + (f" in {node.unit}" if node.unit else "")
    word = {"KindStatement": "kind", "ReadingStatement": "reading"}.get(type(node).__name__, "")
    return f"{word or type(node).__name__.lower()} {node.id}"


def clauses(node: t.Clauses) -> list[str]:
    """The clauses that are written, one a line, in the order in which a rule is read."""
    lines = [f"basis {node.basis}"] if node.basis else []
    if node.applies is not None:
        lines.append(f"applies when {condition(node.applies)}")
    if node.shall is not None:
        lines.append(f"shall {shall(node.shall)}")
    if node.allows is not None:
        lines.append(f"allows {', '.join(node.allows)}")
    if node.usual is not None:
        lines.append("usual " + ", ".join(f'"{word}"' for word in node.usual))
    lines += [f"action {node.action}"] if node.action else []
    texts = (
        ("because", node.because),
        ("message", node.message),
        ("otherwise", node.otherwise),
        ("if not shown", node.unknown),
        ("if met", node.fine),
        ("remedy", node.remedy),
        ("caution", node.caution),
    )
    lines += [f'{word} "{text.text}"' for word, text in texts if text is not None]
    if node.replace is not None:
        words = f'"{node.replace.words}" ' if node.replace.words else ""
        lines.append(f'replace {words}with "{node.replace.text.text}"')
    if node.ask is not None:
        lines.append(f"ask {node.ask.to}" + (f' "{node.ask.question}"' if node.ask.question else ""))
    return lines


def body(node: t.AnyStatement) -> list[str]:
    """What a statement says below its first line, sources apart."""
    if isinstance(node, t.Define):
        lines = []
        for item in node.alternatives:
            when = f" when {condition(item.when)}" if item.when is not None else ""
            lines.append(f"as {operand(item.value)}{when}")
        return [*lines, *([f"at {node.level} level"] if node.level else [])]
    if isinstance(node, t.Table):
        return [
            ", ".join(literal(key) if key is not None else "any" for key in row.keys)
            + ": "
            + ", ".join(literal(value) for value in row.values)
            + (f" ({source(row.source)})" if row.source is not None else "")
            for row in node.rows
        ]
    if isinstance(node, t.KindStatement):
        return [", ".join(node.names)]
    if isinstance(node, t.ReadingStatement):
        return [f'from "{pattern}"' for pattern in node.patterns]
    found: t.Clauses | None = getattr(node, "clauses", None)
    return clauses(found) if found is not None else []


def sources_of(node: t.AnyStatement) -> tuple[t.Source, ...]:
    """The sources of a statement; of a table, its own and its rows', each once."""
    if isinstance(node, t.Table):
        rows = [row.source for row in node.rows if row.source is not None]
        return tuple({source(item): item for item in (*node.sources, *rows)}.values())
    found: t.Clauses | None = getattr(node, "clauses", None)
    own: tuple[t.Source, ...] = getattr(node, "sources", ())
    return found.sources if found is not None else own
