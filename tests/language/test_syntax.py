"""The grammar, the words that messages have for it, and the examples that they show."""

from __future__ import annotations

import logging

import pytest
from lark import Lark, logger

from cleatmark.language import expected
from cleatmark.language.build import Built
from cleatmark.language.cuts import code_of, pieces, statements
from cleatmark.language.examples import CLAUSES, STATEMENTS, TAKES
from cleatmark.language.grammar import OPTIONS, grammar, grammar_text, layout_grammar
from cleatmark.language.parse import parse

HEAD = 'rulebook county "County"\n'


def test_the_grammar_has_no_conflict(caplog: pytest.LogCaptureFixture) -> None:
    before = logger.level
    logger.setLevel(logging.DEBUG)
    try:
        with caplog.at_level(logging.DEBUG, logger=logger.name):
            Lark(grammar_text(), **OPTIONS, debug=True)
    finally:
        logger.setLevel(before)
    assert "conflict" not in caplog.text.lower()


@pytest.mark.parametrize("word", sorted(STATEMENTS))
def test_each_statement_example_parses(word: str) -> None:
    built = grammar().parse(STATEMENTS[word])
    assert isinstance(built, Built)
    assert STATEMENTS[word].split()[0] == word
    assert layout_grammar().parse(STATEMENTS[word]) is not None


@pytest.mark.parametrize("word", sorted(CLAUSES))
def test_each_clause_example_parses_in_some_statement(word: str) -> None:
    assert CLAUSES[word].split()[0] == word
    fits = [
        host
        for host in STATEMENTS
        if not parse(f"{HEAD}{STATEMENTS[host]}\n  {CLAUSES[word]}\n", "county.rules")[1]
        or (host == "rulebook" and not parse(f"{STATEMENTS[host]}\n  {CLAUSES[word]}\n", "county.rules")[1])
    ]
    assert fits, word


OTHER_EXAMPLES = {
    "in force until": "in force until 2027-12-31",
    "not near": 'not near "wall"',
    "if met": 'if met "It complies."',
}


@pytest.mark.parametrize("host", sorted(TAKES))
def test_what_each_statement_takes_is_what_the_grammar_takes(host: str) -> None:
    for clause in TAKES[host]:
        example = OTHER_EXAMPLES.get(clause) or CLAUSES[clause.split()[0]]
        if (host, clause) == ("reading", "in"):
            example = "in products"
        elif (host, clause) == ("field", "ask"):
            example = "ask maker"
        assert example.startswith(clause)
        text = f"{STATEMENTS[host]}\n  {example}\n"
        problems = parse(text if host == "rulebook" else HEAD + text, "county.rules")[1]
        assert not problems, (clause, [problem.message for problem in problems])


def test_every_statement_says_what_it_takes() -> None:
    assert set(TAKES) == set(STATEMENTS)


def test_every_terminal_has_words() -> None:
    for terminal in grammar().terminals:
        if terminal.name in ("COMMENT", "__IGNORE_1"):
            continue
        said = expected.wanted([terminal.name])
        assert said
        assert terminal.name not in said.replace("`", " ").split(), said


def test_words_are_grouped_as_an_author_thinks() -> None:
    accepts = grammar().parse_interactive('requirement a "A" shall panel.width').accepts
    parser = grammar().parse_interactive('requirement a "A" shall panel.width')
    parser.exhaust_lexer()
    assert expected.wanted(parser.accepts()).startswith("a comparison, such as")
    parser = grammar().parse_interactive('requirement a "A" applies when')
    parser.exhaust_lexer()
    assert expected.wanted(parser.accepts()) == 'a condition, such as: proposed.deck.type is "plywood"'
    assert accepts is not None


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("  action stop -- now", "  action stop "),
        ('  because "a -- b" -- c', '  because "a -- b" '),
        ("-- all", ""),
        ('  source "a', '  source "a'),
        ("", ""),
        ("a - b", "a - b"),
    ],
)
def test_comments_are_cut_outside_text(line: str, code: str) -> None:
    assert code_of(line) == code


def test_statements_are_cut_where_column_1_is_used() -> None:
    lines = ["-- c", "a", "  b", "-- d", "", "c", "   -- e"]
    assert list(statements(lines)) == [(1, 5), (5, 7)]


def test_clauses_are_cut_by_their_indent() -> None:
    lines = [
        "requirement a",
        "  applies when x is",
        "      y",
        "    and z",
        "  and w",
        "  action stop",
        "  kinds a,",
        "  b",
    ]
    assert pieces(lines, 0, len(lines)) == [(0, 1), (1, 5), (5, 6), (6, 8)]


def test_a_kept_table_parses_as_a_new_one(tmp_path: object, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.delenv("CLEATMARK_CACHE", raising=False)
    text = 'requirement a "A"\n  shall x.y at least 16 in and not ( z is "q" )\n  source common practice\n'
    grammar.cache_clear()
    first = grammar().parse(text)
    grammar.cache_clear()
    second = grammar().parse(text)
    grammar.cache_clear()
    assert first == second


def test_a_damaged_table_is_made_anew(tmp_path: object, monkeypatch: pytest.MonkeyPatch) -> None:
    from cleatmark.language.kept import cache_folder

    monkeypatch.setenv("XDG_CACHE_HOME", str(tmp_path))
    monkeypatch.delenv("CLEATMARK_CACHE", raising=False)
    grammar.cache_clear()
    grammar()
    folder = cache_folder()
    assert folder is not None
    for path in folder.glob("grammar-*"):
        path.write_bytes(b"\x81\xa1a\x01 not a table")
    grammar.cache_clear()
    assert isinstance(grammar().parse('caution a "A"'), Built)
    grammar.cache_clear()


@pytest.mark.parametrize(
    "line", ["    * 0.6", "    * (held - 5 psf)", "    * safety_factor + pressure", "    * 2 -- twice"]
)
def test_a_sum_goes_on_in_a_line_that_starts_with_its_sign(line: str) -> None:
    assert parse(f"{HEAD}\ndefine a of run as pressure\n{line}\n", "county.rules")[1] == ()


@pytest.mark.parametrize("line", ["* a note on seams", "  * a note on seams", "  // seams", "/* seams */"])
def test_a_comment_of_another_language_is_told(line: str) -> None:
    _, problems = parse(f"{HEAD}\n{line}\n", "county.rules")
    assert [problem.message.partition(" not ")[0] for problem in problems] == [
        "a comment starts with two hyphens,"
    ]
