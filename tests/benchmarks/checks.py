"""The same checks on the same submittals: ours with every citation kept, and general-purpose engines with none."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

from .making import rule_text
from .timing import call, line, title, version

RULES = 200
SUBMITTALS = 500
FEW = 20
"""Submittals for the slow engines; the rate is what is compared."""


def main() -> None:
    from cleatmark.facts import Citation, Fact
    from cleatmark.language.judge import judge_all
    from cleatmark.language.layers import merge
    from cleatmark.language.parse import parse
    from cleatmark.language.program import compile_program
    from cleatmark.language.rulebooks import gather
    from cleatmark.language.world import World
    from cleatmark.units import parse as quantity

    fields, _ = gather(["fields"], Path())
    tree, problems = parse(rule_text(RULES, "fields"), "checks.rules")
    assert tree is not None, problems
    merged, found = merge([*fields, tree])
    assert not found, found
    program = compile_program(merged)
    given = [(10 + n % 16, ("plywood", "OSB", "steel deck")[n % 3]) for n in range(SUBMITTALS)]

    def world(width: int, deck: str) -> World:
        cited = (Citation("submittal", "s.yaml:1", f"width: {width} in"),)
        facts = {
            "proposed.panel.width": Fact(
                "proposed.panel.width", quantity(f"{width} in"), f"{width} in", cited
            ),
            "proposed.deck.type": Fact("proposed.deck.type", deck, deck, cited),
        }
        return World({}, {"": facts}, {})

    worlds = [world(*one) for one in given]

    def ours() -> int:
        return sum(o.verdict == "complies" for one in worlds for o in judge_all(program, one, None))

    def read() -> int:
        return sum(len(o.res.reads) > 0 for one in worlds for o in judge_all(program, one, None))

    expected = sum(w <= 12 + n % 12 and d != "steel deck" for w, d in given for n in range(RULES))
    assert ours() == expected
    names = "common-expression-language", "cel-python", "jsonschema", "rule-engine"
    title(
        f"{RULES} checks on {SUBMITTALS} submittals (" + ", ".join(f"{n} {version(n)}" for n in names) + ")",
        *("M checks/s", "ours is x", "citations"),
    )
    rate = RULES * SUBMITTALS / call(ours, 3) / 1000
    line("ours", f"{rate:.3f}", "1.0", "all kept")
    assert read() == RULES * SUBMITTALS
    slower = RULES * SUBMITTALS / call(read, 3) / 1000
    line("ours, what each rests on then gathered", f"{slower:.3f}", f"{rate / slower:.1f}", "all read")
    data = [{"width": w, "deck": d} for w, d in given]
    for name, make in PEERS.items():
        if version(name) == "not installed":
            line(f"{name} (not installed)", None, None, "none")
            continue
        count, work = make(data)
        share = expected if count == SUBMITTALS else None
        assert share is None or work() == share, name
        other = RULES * count / call(work, 1) / 1000
        line(name, f"{other:.3f}", f"{rate / other:.1f}", "none")


Work = Callable[[], int]


def rust_cel(data: list[dict[str, Any]]) -> tuple[int, Work]:
    import cel

    programs = [cel.compile(f"width <= {12 + n % 12} && deck in ['plywood', 'OSB']") for n in range(RULES)]
    return len(data), lambda: sum(bool(p.execute(one)) for one in data for p in programs)


def cel_python(data: list[dict[str, Any]]) -> tuple[int, Work]:
    import celpy

    environment = celpy.Environment()
    texts = [f"width <= {12 + n % 12} && deck in ['plywood', 'OSB']" for n in range(RULES)]
    programs = [environment.program(environment.compile(text)) for text in texts]
    few = [celpy.json_to_cel(one) for one in data[:FEW]]
    return FEW, lambda: sum(bool(p.evaluate(one)) for one in few for p in programs)


def json_schema(data: list[dict[str, Any]]) -> tuple[int, Work]:
    import jsonschema

    checkers = [
        jsonschema.Draft202012Validator(
            {
                "required": ["width", "deck"],
                "properties": {"width": {"maximum": 12 + n % 12}, "deck": {"enum": ["plywood", "OSB"]}},
            }
        )
        for n in range(RULES)
    ]
    few = json.loads(json.dumps(data[:FEW]))
    return FEW, lambda: sum(c.is_valid(one) for one in few for c in checkers)


def rule_engine(data: list[dict[str, Any]]) -> tuple[int, Work]:
    import rule_engine as engine

    rules = [engine.Rule(f'width <= {12 + n % 12} and deck in ["plywood", "OSB"]') for n in range(RULES)]
    few = data[:FEW]
    return FEW, lambda: sum(rule.matches(one) for one in few for rule in rules)


PEERS: dict[str, Callable[[list[dict[str, Any]]], tuple[int, Work]]] = {
    "common-expression-language": rust_cel,
    "cel-python": cel_python,
    "jsonschema": json_schema,
    "rule-engine": rule_engine,
}
