"""The texts of the rules that ship: whom to ask, what to do and why are always said, in whole sentences."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from cleatmark.language.program import Program
from cleatmark.review.run import program_for

BOOKS = ("base", "model_code", "fm_insured", "school_district", "florida", "texas_coast")
JARGON = re.compile(r"\b(None|True|False|null|node|fact|field path|leaf|YAML|boolean)\b|cannot be told")
OTHER_WORDS = re.compile(
    r"\bpapers?\b|\bproposed assembly\b|\btest reports?\b|\bcapacity\b|\btaken by the code\b"
)
TEXTS = ("because", "otherwise", "unknown", "fine", "remedy", "message")


@pytest.fixture(scope="module", params=BOOKS)
def program(request: pytest.FixtureRequest) -> Program:
    return program_for(None, Path(), [request.param])


def texts(program: Program) -> list[tuple[str, str, str]]:
    """Every text that a reader may see: the rule, the clause, and its words without what is filled in."""
    said = [(rule.id, rule.clauses) for rule in program.rules]
    said += [(advice.statement.id, advice.statement.clauses) for advice in program.advice]
    return [
        (id_, name, re.sub(r"\{[^}]*\}", "{}", text.text.strip()))
        for id_, clauses in said
        for name in TEXTS
        if (text := getattr(clauses, name)) is not None
    ]


def test_every_requirement_says_whom_to_ask_what_to_do_and_why(program: Program) -> None:
    for rule in program.rules:
        clauses = rule.clauses
        assert None not in (clauses.ask, clauses.remedy, clauses.because), rule.id


def test_texts_are_sentences_without_a_programmers_words(program: Program) -> None:
    assert texts(program)
    for text in texts(program):
        written = text[2]
        assert re.search(r"[.?}]$", written), text
        assert not written[0].islower(), text
        assert not JARGON.search(written), text
        assert "..." not in written, text


def test_a_question_ends_as_one(program: Program) -> None:
    for advice in program.advice:
        ask = advice.statement.clauses.ask
        if ask is not None and ask.question:
            assert "?" in ask.question or ask.question.endswith("}"), (advice.statement.id, ask.question)


def test_one_word_for_one_thing(program: Program) -> None:
    """The words on the right of the table under "Wording" in DEVELOPERS.md are not used."""
    for text in texts(program):
        assert not OTHER_WORDS.search(text[2]), text
