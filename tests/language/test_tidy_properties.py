"""For any statement that the grammar makes: laid out it says the same, and laid out again it does not change."""

from __future__ import annotations

from collections.abc import Mapping

from hypothesis import HealthCheck, assume, given, settings
from hypothesis import strategies as st
from hypothesis.extra.lark import from_lark
from lark import Lark
from lark.lexer import PatternStr

from cleatmark.language.format import layout, meaning, tidy
from cleatmark.language.grammar import OPTIONS, grammar_text
from cleatmark.language.parse import parse

HEAD = 'rulebook county "County"\n\n'
WORDS: Mapping[str, list[str]] = {
    "NAME": [
        "x",
        "panel.width",
        "proposed.panel.seam_height",
        "misuse",
        "uplift_class",
        "class",
        "Long_name_2.of.it",
    ],
    "STRING": [
        '"a"',
        '"UL 580"',
        '"A longer text, with ( signs ) and -- hyphens in it."',
        '""',
        '"ü … {x.y}"',
    ],
    "QUANTITY": [
        "16 in",
        "1-3/4 in",
        "No. 10",
        "#12",
        "24 ga",
        "3:12",
        "90",
        "105 psf",
        "L/180",
        "2 ft 6 in",
        "1-90",
    ],
    "DATE": ["2026-11", "2024-01-31"],
    "BASIS": ["nominal", "minimum base metal", "allowable level"],
    "QUANTIFIER": ["every", "some", "no"],
    "STATED": ["stated", "known"],
    "BEFORE": ["before", "after", "on or before", "on  or\n   after"],
    "CHOOSE": ["largest", "smallest stated", "first stated"],
    "ADDRESSEE": ["maker", "deck trade", "building  department"],
    "FROM_MEMORY": ["from memory", "from\n      memory"],
    "AT_LEVEL": ["at allowable level", "at  strength level"],
    "AND_A": ["and a", "and an", "and\n    a"],
    "_A": ["a", "an"],
    "IN_ZONE": ["in zone", "in\n     zone"],
    "IT": ["it"],
    "PLUS": ["+", "-"],
    "TIMES": ["*", "/"],
    "ROW_START": ["\n  ", "\n\n    "],
    "COMMENT": ["-- a comment\n  ", '--"a" (\n      ', "\n  -- of its own\n    "],
}
GRAMMAR = Lark(grammar_text(), **OPTIONS)
SPACES = [" ", "  ", "\n    ", "\t", "\n\n  "]


def words() -> dict[str, st.SearchStrategy[str]]:
    """What each terminal may be, with spaces around it."""
    out: dict[str, st.SearchStrategy[str]] = {}
    for terminal in GRAMMAR.terminals:
        if terminal.name in WORDS:
            plain = terminal.name in ("ROW_START", "COMMENT")
            shown = WORDS[terminal.name] if plain else [f" {word} " for word in WORDS[terminal.name]]
            out[terminal.name] = st.sampled_from(shown)
        elif isinstance(terminal.pattern, PatternStr):
            out[terminal.name] = st.just(f" {terminal.pattern.value} ")
        else:
            out[terminal.name] = st.sampled_from(SPACES)
    return out


STATEMENTS = from_lark(GRAMMAR, start="start", explicit=words())


def text_of(drawn: list[str]) -> str:
    return HEAD + "\n\n".join(statement.strip() for statement in drawn) + "\n"


@settings(
    max_examples=150, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
@given(st.lists(STATEMENTS, min_size=1, max_size=3))
def test_layout_says_the_same_and_is_stable(drawn: list[str]) -> None:
    text = text_of(drawn)
    tree, problems = parse(text, "county.rules")
    assume(tree is not None and not problems)
    laid = layout(text)
    again, others = parse(laid, "county.rules")
    assert not others, laid
    assert again is not None
    assert tree is not None
    assert meaning(again) == meaning(tree), laid
    assert layout(laid) == laid
    assert tidy(text, "county.rules").text == laid


@settings(
    max_examples=100, deadline=None, suppress_health_check=[HealthCheck.too_slow, HealthCheck.filter_too_much]
)
@given(st.lists(STATEMENTS, min_size=1, max_size=2))
def test_every_comment_is_kept_in_order(drawn: list[str]) -> None:
    text = text_of(drawn)
    tree, problems = parse(text, "county.rules")
    assume(tree is not None and not problems)
    assert comments(layout(text)) == comments(text)


def comments(text: str) -> list[str]:
    from cleatmark.language.cuts import code_of

    return [line[len(code_of(line)) :].rstrip() for line in text.splitlines() if code_of(line) != line]
