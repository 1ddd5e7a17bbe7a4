"""What an addendum puts in the place of a paragraph: new clauses with their letters, words for words."""

from __future__ import annotations

import re

from msgspec.structs import replace

from cleatmark.facts import Citation
from cleatmark.spec.clauses import Clause, Span
from cleatmark.spec.instructions import Instruction, Line, tokens
from cleatmark.spec.labels import typed


def made_of(
    order: Instruction, model: Clause, address: str, stands: bool, cited: tuple[Citation, ...]
) -> list[Clause]:
    """The clauses of a new text: the paragraph itself, and what is lettered below it.

    model  a clause whose level and headings they take; where the paragraph `stands` already, it is that one
    Empty where there is no text.
    """
    parts = [label_of(line) for line in order.lines if line.table is None]
    if not parts or not parts[0][1]:
        return []
    own, text = parts[0]
    if own and tokens(own)[-1:] != tokens(address)[-1:]:
        text = f"{own}. {text}"
    label = model.label if stands else f"{address.rpartition('.')[2]}."
    first = replace(
        model, address=address, label=label, text=text, hidden=False, flags=(), deleted="", spans=(), table=None,
        amended=cited,
    )  # fmt: skip
    made = [first]
    forms = [_form(address)]
    chain = [first]
    for line in order.lines[1:]:
        if line.table is not None:
            made.append(replace(chain[-1], label="", text="", table=line.table, level=chain[-1].level + 1))
            continue
        mark, words = label_of(line)
        if not mark:
            above = chain[-1]
            headings = (*above.headings, above.text)
            made.append(replace(above, label="", text=words, level=above.level + 1, headings=headings))
            continue
        form = _form(mark)
        depth = forms.index(form) if form in forms else len(forms)
        forms, chain = forms[:depth], chain[:depth]
        over = chain[-1] if chain else None
        base = over.address if over is not None else address.rpartition(".")[0]
        made.append(
            replace(
                first,
                address=f"{base}.{mark}",
                label=f"{mark}.",
                text=words,
                level=over.level + 1 if over is not None else first.level,
                headings=(*over.headings, over.text) if over is not None else first.headings,
            )
        )
        forms.append(form)
        chain.append(made[-1])
    return made


def label_of(line: Line) -> tuple[str, str]:
    """The letter or number at the head of a line, without its signs, and the words behind it."""
    if line.label:
        return _bare(line.label), line.text
    found = typed(line.text)
    if found is None or found.form == "part" or (not found.sure and len(found.tokens) < 2):
        return "", line.text
    return _bare(found.shown), line.text[found.end :].strip()


def _bare(label: str) -> str:
    parts = re.findall(r"\d+|[A-Za-z]+", label)
    return parts[-1] if parts else ""


def _form(address: str) -> str:
    last = address.rpartition(".")[2].strip("() ")
    return "1" if last.isdigit() else "A" if last.isupper() else "a"


def counts(token: str) -> tuple[int, str]:
    return (int(token), "") if token.isdigit() else (len(token), token)


def counted(count: int, noun: str) -> str:
    return f"no {noun}" if not count else f"{count} {noun}{'s' if count > 1 else ''}"


def pattern(words: str) -> re.Pattern[str]:
    """Words as they may stand: white space and hyphens alike, and no part of a longer word or number."""
    text = r"[\s-]+".join(re.escape(part) for part in re.split(r"(?<=\w)[\s-]+(?=\w)", words))
    before = r"(?<![\w.])" if words[:1].isalnum() else ""
    after = r"(?!\w|\.\d)" if words[-1:].isalnum() else ""
    return re.compile(f"{before}{text}{after}", re.I)


def swapped(clause: Clause, old: str, new: str) -> Clause:
    found = pattern(old)
    if clause.table is not None:
        cells = tuple(
            replace(cell, text=_tidy(found.sub(lambda _: new, cell.text)), spans=())
            if found.search(cell.text)
            else cell
            for cell in clause.table.cells
        )
        clause = replace(clause, table=replace(clause.table, cells=cells))
    spans: list[Span] = list(clause.spans)
    text = clause.text
    for match in reversed(list(found.finditer(text))):
        text = text[: match.start()] + new + text[match.end() :]
        by = len(new) - len(match[0])
        kept = [span for span in spans if span.end <= match.start() or span.start >= match.end()]
        spans = [
            replace(span, start=span.start + by, end=span.end + by) if span.start >= match.end() else span
            for span in kept
        ]
    return replace(clause, text=text if spans else _tidy(text), spans=tuple(spans))


def _tidy(text: str) -> str:
    """A text from which words were taken, without the gaps that they left."""
    return re.sub(r"\s+([,.;:])", r"\1", " ".join(text.split()))


def told(clauses: list[Clause]) -> str:
    """Clauses as one text, for a report."""
    parts = []
    for clause in clauses:
        if clause.table is not None:
            parts.append(" | ".join(cell.text for cell in clause.table.cells if cell.text))
        elif clause.text and not clause.hidden:
            parts.append(f"{clause.label} {clause.text}" if clause.label and parts else clause.text)
    return " ".join(parts)
