"""What a clause shows of the state of its document: notes, changes, choices and blanks left in it."""

from __future__ import annotations

import re
from collections.abc import Iterable, Sequence

from cleatmark.facts import Citation, Stated
from cleatmark.spec import permits
from cleatmark.spec.clauses import Clause
from cleatmark.spec.lazy import lazily
from cleatmark.spec.pattern import Hit, Phrase
from cleatmark.spec.reading import FlaggedClause, Reading
from cleatmark.spec.sentences import Sentence

_TO_DRAWINGS = lazily(
    r"(?:as|see|refer|is|are|be)\b.*(?:drawings?|sheets?|plans?|dwgs?|notes)\b|(?:as|see|refer)\b.*\b[A-Z]{1,2}-?\d",
    re.IGNORECASE,
)
_ELSEWHERE = frozenset(
    ["references", "definitions", "related", "submittals", "walls", "mockup", "conditions", "qualifications"]
)
_ALTERNATE = lazily(
    r"(?:(?:for|under|in)\s)?(?P<name>(?:(?:add|deduct|bid)(?:itive|ive)?[\s-]+)?alternate(?:\s(?:bid|no\.?|number|item))*\s#?"
    r"(?:\d{1,2}|[A-Z]))\s?(?:[:,]|\s[-\u2014]\s)",
    re.IGNORECASE,
    needs="alternate",
)
_DEFERS = "defers to drawings"
_LEFT_OPEN = frozenset(["choice", "blank", "defer", "none"])


def of_clause(clause: Clause, cited: Citation) -> list[FlaggedClause]:
    """Flags that the clause itself carries."""
    if clause.hidden or "specifier note" in clause.flags:
        detail = "guidance for the specifier, not a requirement"
        return [FlaggedClause(clause.address, "specifier note", clause.text, detail, cited)]
    struck = [clause.text[span.start : span.end] for span in clause.spans if span.kind == "struck"]
    inserted = [clause.text[span.start : span.end] for span in clause.spans if span.kind == "inserted"]
    parts = []
    if clause.deleted:
        parts.append(f'deleted: "{clause.deleted.strip()}"')
    if inserted:
        parts.append(f'inserted: "{" ".join(inserted).strip()}"')
    if struck or "struck" in clause.flags:
        parts.append(f'struck through: "{" ".join(struck).strip() or clause.text}"')
    if parts or "tracked change" in clause.flags:
        detail = "; ".join(parts) or "the paragraph has a tracked change"
        return [
            FlaggedClause(
                clause.address, "tracked change", clause.text or clause.deleted, detail, cited, "designer"
            )
        ]
    return []


def of_sentence(sentence: Sentence, cited: Citation) -> list[FlaggedClause]:
    """Choices and blanks that an editor left in a sentence."""
    found: list[FlaggedClause] = []
    groups = {lexeme.group for lexeme in sentence.lexemes[sentence.first :] if lexeme.group >= 0}
    for group in sorted(groups):
        mark = sentence.marks[group]
        flag = "unedited choice" if mark.kind == "choice" else "blank"
        if len(mark.options) == 1:
            detail = f"keep or delete: {mark.options[0]}"
        else:
            detail = f"choose one: {' / '.join(mark.options)}" if mark.options else "a value is left blank"
        found.append(FlaggedClause(sentence.clause.address, flag, sentence.quote, detail, cited, "designer"))
    for flag, words in (("prohibited", permits.refused(sentence)), ("optional", permits.permitted(sentence))):
        if words:
            found.append(FlaggedClause(sentence.clause.address, flag, sentence.quote, f'"{words}"', cited))
    if not sentence.start and (alternate := _ALTERNATE.match(sentence.text, _own_start(sentence))):
        detail = f"asked for under {' '.join(alternate['name'].split())} alone"
        found.append(FlaggedClause(sentence.clause.address, "alternate", sentence.quote, detail, cited))
    if words := _left_to_drawings(sentence):
        found.append(
            FlaggedClause(
                sentence.clause.address, _DEFERS, sentence.quote, f"left to the drawings: {words}", cited
            )
        )
    return found


def _own_start(sentence: Sentence) -> int:
    return sentence.lexemes[min(sentence.first, len(sentence.lexemes) - 1)].start


def _left_to_drawings(sentence: Sentence) -> str:
    """The words by which a sentence leaves something to the drawings: "as indicated on Sheet A-502"."""
    if not _ELSEWHERE.isdisjoint(sentence.kinds):
        return ""
    for lexeme in sentence.lexemes[sentence.first :]:
        if lexeme.kind == "defer":
            words = " ".join(sentence.text[lexeme.start : lexeme.end].split())
            if _TO_DRAWINGS.match(words):
                return words
    return ""


def of_reading(
    reading: Reading, hits: Sequence[tuple[Phrase, Hit]], sentence: Sentence, cited: Citation
) -> list[FlaggedClause]:  # fmt: skip
    """What a reading that flags says of the sentence it matched, its question filled in with the value."""
    told = [one for one in hits if sentence.lexemes[one[1].value_first].kind not in _LEFT_OPEN]
    if not told:
        return []
    phrase, hit = told[0]
    question = reading.question
    if phrase.slot and "{" in question:
        lexemes = sentence.lexemes[hit.value_first : hit.value_last + 1]
        written = " ".join(sentence.text[lexemes[0].start : lexemes[-1].end].split())
        question = question.replace("{" + phrase.kind + "}", written).replace("{value}", written)
    return [
        FlaggedClause(sentence.clause.address, flag, sentence.quote, question, cited, reading.ask, reading.id)
        for flag in reading.flags
    ]


def once(flagged: Sequence[FlaggedClause], stated: Iterable[Stated] = ()) -> list[FlaggedClause]:
    """Each flag of a clause told once; what a stated requirement leaves to the drawings is told with it."""
    kept: dict[tuple[str, str, str, str], FlaggedClause] = {}
    deferred = {item.clause for item in stated if _DEFERS in item.flags}
    for item in flagged:
        if item.flag == _DEFERS and not item.reading and item.clause in deferred:
            continue
        kept.setdefault((item.clause, item.flag, item.quote, item.detail), item)
    return list(kept.values())
