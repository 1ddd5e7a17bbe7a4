"""`cleatmark rules prove|why|index`: what a consultant asks of rulebooks."""

from __future__ import annotations

import argparse
import sys
from collections.abc import Callable, Iterable
from pathlib import Path
from typing import TYPE_CHECKING, Any

from cleatmark.commands import rules_files

if TYPE_CHECKING:
    from cleatmark.language.index import Standing
    from cleatmark.language.layers import Merged
    from cleatmark.problems import Place

Add = Callable[..., argparse.ArgumentParser]
RAW = argparse.RawDescriptionHelpFormatter


def add_parser(add: Add) -> None:
    """Adds `rules` with its five actions to the command line. Each leaves its function under `run`,
    which takes the arguments and gives the exit status."""
    rules = add(
        "rules",
        help="proofread, tidy and prove rulebooks, explain a rule, list what they hold",
        description="What a writer of rules asks of rulebooks.",
        epilog="examples:\n  cleatmark rules proofread county.rules\n  cleatmark rules why uplift_class",
        formatter_class=RAW,
    )
    actions = rules.add_subparsers(dest="action", metavar="ACTION", required=True)
    rules_files.add_to(actions)
    add_to(actions)


def add_to(actions: Any) -> None:
    """Adds `prove`, `why` and `index` to the subparsers of `rules`."""
    add: Add = actions.add_parser
    prove = add(
        "prove",
        help="run the cases of rulebooks and try small changes on their rules",
        description="Runs every case, names rules without a case for a verdict, and changes each rule in small ways: a "
        "change that no case notices is told. Status 0 where all is proven, 1 where something is not.",
        epilog="examples:\n  cleatmark rules prove\n  cleatmark rules prove county.rules",
        formatter_class=RAW,
    )
    _files(prove)
    _format(prove)
    prove.set_defaults(run=run_prove)
    why = add(
        "why",
        help="explain a rule, or how it was judged in a job",
        description="Shows a rule as it stands after all layers, with its chain, sources and cases; with a job and a "
        "submittal, the tree of its evaluation.",
        epilog="examples:\n  cleatmark rules why uplift_class\n"
        "  cleatmark rules why zone_uplift --job job.yaml --submittal submittals/a.yaml",
        formatter_class=RAW,
    )
    why.add_argument("id", metavar="ID", help="id of a rule, table or define; an old id answers too")
    why.add_argument("--rules", metavar="NAME|FILE", nargs="+", default=[], help="rulebooks, by name or file")
    why.add_argument("--job", metavar="JOB.yaml", type=Path)
    why.add_argument("--submittal", metavar="SUBMITTAL", type=Path)
    _format(why)
    why.set_defaults(run=run_why)
    index = add(
        "index",
        help="list what rulebooks hold",
        description="Lists ids, titles, sources, confidence, dates in force, and whether each rule is proven.",
        epilog="examples:\n  cleatmark rules index\n  cleatmark rules index base --format json",
        formatter_class=RAW,
    )
    _files(index)
    _format(index)
    index.set_defaults(run=run_index)


def _files(command: argparse.ArgumentParser) -> None:
    command.add_argument(
        "files",
        metavar="NAME|FILE",
        nargs="*",
        help="rulebooks by name, or files ending in .rules; all that ship",
    )


def _format(command: argparse.ArgumentParser) -> None:
    command.add_argument("--format", choices=("text", "json"), default="text", help="how results are printed")


def run_prove(arguments: argparse.Namespace) -> int:
    """Proves rulebooks; 0 where all is proven, 1 where not."""
    from cleatmark.commands import rules_text as text
    from cleatmark.language.prove import prove

    proofs = prove(arguments.files, Path())
    proven = all(proof.proven for proof in proofs)
    if arguments.format == "json":
        _json({"proven": proven, "rulebooks": [text.proof_data(proof) for proof in proofs]})
    else:
        _text(line for proof in proofs for line in text.proof_lines(proof))
    return 0 if proven else 1


def run_index(arguments: argparse.Namespace) -> int:
    """Lists rulebooks; always 0."""
    from cleatmark.commands import rules_text as text
    from cleatmark.language.index import index

    books = index(arguments.files, Path())
    if arguments.format == "json":
        _json({"rulebooks": [text.index_data(book) for book in books]})
    else:
        lines: list[str] = []
        for book in books:
            lines += [*text.index_lines(book), ""]
        _text(lines[:-1])
    return 0


def run_why(arguments: argparse.Namespace) -> int:
    """Explains a rule; with a job and a submittal, how it was judged."""
    from cleatmark.problems import InputError, Place, Problem

    if (arguments.job is None) != (arguments.submittal is None):
        help_ = ("name both: --job JOB.yaml --submittal SUBMITTAL.yaml",)
        raise InputError(
            [
                Problem(
                    Place("rules why"),
                    "a rule is judged in a job with a submittal; only one of the two is named",
                    help_,
                )
            ]
        )
    if arguments.job is not None:
        return _judged(arguments)
    from cleatmark.commands import rules_text as text

    rule, elsewhere = find(arguments.id, arguments.rules)
    if arguments.format == "json":
        changed = [{"rulebook": name, "place": str(place)} for name, place in elsewhere]
        _json({**text.standing_data(rule), "changed_by": changed})
    else:
        _text(text.standing_lines(rule, elsewhere))
    return 0


def find(id: str, rules: list[str]) -> tuple[Standing, tuple[tuple[str, Place], ...]]:
    """The rule of that id in the rulebooks named; without any, in the rulebook that ships and states it, with the
    other rulebooks that ship and change it. Raises InputError with the near name."""
    from cleatmark.language import tree as t
    from cleatmark.language.index import standing_of
    from cleatmark.language.prove import each
    from cleatmark.language.rulebooks import load

    if rules:
        merged = load(rules, Path(), cases=True)
        found = standing_of(id, merged)
        if found is None:
            raise _no_rule(id, [merged])
        return found, ()
    books = each((), Path())
    rule = next((found for merged in books if (found := standing_of(id, merged)) is not None), None)
    if rule is None:
        raise _no_rule(id, books)
    changes = tuple(
        (merged.files[-1].head.id, merged.files[-1].place(node))
        for merged in books
        for node in merged.files[-1].statements
        if isinstance(node, t.Amend | t.Waive) and merged.aliases.get(node.id, node.id) == rule.id
    )
    return rule, changes


def _no_rule(id: str, books: Iterable[Merged]) -> Exception:
    from cleatmark.language.index import ids_of
    from cleatmark.problems import InputError, Place, Problem, did_you_mean

    known = dict.fromkeys(name for merged in books for name in ids_of(merged))
    help_ = did_you_mean(id, known) or ("cleatmark rules index lists all ids",)
    return InputError([Problem(Place("rules why"), f'no rule is called "{id}"', help_)])


def _judged(arguments: argparse.Namespace) -> int:
    from cleatmark.commands import rules_text as text
    from cleatmark.commands.rules_job import world_for
    from cleatmark.language.expect import Judge
    from cleatmark.language.index import standing_of
    from cleatmark.language.why import explain, explain_value
    from cleatmark.language.world import permit_date

    program, world = world_for(arguments.job, arguments.submittal, arguments.rules)
    merged = program.merged
    id = merged.aliases.get(arguments.id, arguments.id)
    rule = standing_of(id, merged)
    if rule is None:
        raise _no_rule(arguments.id, [merged])
    judge = Judge(program)
    if id in judge.rules:
        _, step = explain(program, judge.rules[id], world, permit_date(world))
    else:
        step = explain_value(program, id, world)
    if arguments.format == "json":
        _json({**text.standing_data(rule), "judged": text.step_data(step)})
    else:
        _text([*text.step_lines(step), "", *text.section("how it came to stand so", rule.chain)])
    return 0


def _json(made: dict[str, Any]) -> None:
    from cleatmark.report.json_report import write_json

    sys.stdout.write(write_json(made))


def _text(lines: Iterable[str]) -> None:
    import re

    from cleatmark.report.clean import inline
    from cleatmark.report.plain import write

    for line in lines:
        pieces = re.split("( {2,})", line.rstrip())
        write("".join(piece if piece.isspace() else inline(piece) for piece in pieces) + "\n", sys.stdout)
