"""The highlighting grammar is kept in step with the language's own grammar."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest
from lark.lexer import PatternStr

from cleatmark.language.examples import CLAUSES, STATEMENTS
from cleatmark.language.grammar import grammar
from cleatmark.language.rulebooks import rules_folder
from cleatmark.schema.highlighting import keywords, textmate

COMMITTED = rules_folder() / "editor" / "cleatmark-rules.tmLanguage.json"


def test_the_committed_copy_is_the_one_written() -> None:
    told = "write it anew: cleatmark rules editor FOLDER, and copy it to rules/editor/"
    assert json.loads(COMMITTED.read_text(encoding="utf-8")) == textmate(), told


def test_every_keyword_of_the_grammar_is_there() -> None:
    words = {
        terminal.pattern.value
        for terminal in grammar().terminals
        if isinstance(terminal.pattern, PatternStr) and terminal.pattern.value.isidentifier()
    }
    assert words - set(keywords()) - set(STATEMENTS) - set(CLAUSES) == set()


def test_every_keyword_is_of_the_grammar() -> None:
    text = (Path(rules_folder()).parent / "src/cleatmark/language/grammar.lark").read_text(encoding="utf-8")
    for word in keywords():
        assert re.search(rf"\b{word}\b", text), word


def test_every_pattern_is_a_regular_expression() -> None:
    data = textmate()
    for name, entry in data["repository"].items():
        for key in ("match", "begin", "end"):
            if key in entry:
                assert re.compile(entry[key]), name
    assert {item["include"] for item in data["patterns"]} == {f"#{name}" for name in data["repository"]}


@pytest.mark.parametrize(
    ("name", "line", "found"),
    [
        ("statement", 'requirement uplift_class "Uplift class"', "requirement uplift_class"),
        ("statement", "listing_body ul by", "listing_body ul"),
        ("clause", "  applies when x", "  applies"),
        ("clause", "  shall be shown by", "  shall"),
        ("comment", "  action stop -- at once", "-- at once"),
        ("quantity", "at least 1-3/4 in", "1-3/4 in"),
        ("quantity", "held 105 psf", "105 psf"),
        ("quantity", "size No. 10", "No. 10"),
        ("date", "from 2026-11-01", "2026-11-01"),
        ("field", "shall proposed.panel.width meets", "proposed.panel.width"),
        ("verdict", "  expect uplift_class not shown", "not shown"),
        ("word", "is one of", "is"),
    ],
)
def test_patterns_find_what_they_are_for(name: str, line: str, found: str) -> None:
    match = re.search(textmate()["repository"][name]["match"], line)
    assert match
    assert match.group() == found
