"""A run made ready to be judged: its method under one name, and whose panel the paper speaks of."""

from __future__ import annotations

import re

from msgspec.structs import replace

from cleatmark.facts import Fact, Nothing
from cleatmark.language.program import Program
from cleatmark.language.world import Item, World
from cleatmark.spec.designations import STANDARD, named

METHOD, MAKER, PROPOSED = "run.standard", "tested.panel.manufacturer", "proposed.panel.manufacturer"
_RUN_ON = re.compile(r"\b(UL|FM|TAS|CSA)(\d)", re.IGNORECASE)
_REMARK = re.compile(r"\s*\([^()]*\)")


def settle_run(world: World, document: Item, run: Item) -> None:
    """Adds what follows from the run's own facts and its document's; takes nothing away."""
    run.facts = {**run.facts, **method(run), **maker(world, document, run)}


def body(program: Program, document: Item) -> dict[str, Fact]:
    """The issuing body under its one name, by the rulebooks' table of bodies."""
    fact, table = document.facts.get("document.body"), program.tables.get("body_name")
    for row in table.rows if table is not None and fact is not None else ():
        written = row.keys[0]
        if fact is not None and written is not None and plain(written.text) == plain(fact.text):
            return {"document.body": replace(fact, value=row.values[0].text)}
    return {}


def method(run: Item) -> dict[str, Fact]:
    """The method under its one name, "ASTM E1592" of "ASTM E1592-05(2017)"; the edition with it where the run states
    none of its own."""
    fact = run.facts.get(METHOD)
    if fact is None:
        return {}
    written = _RUN_ON.sub(r"\1 \2", fact.text)
    match = STANDARD.search(written) or STANDARD.search(f"ASTM {written}")
    if match is None:
        return {}
    out = {METHOD: replace(fact, value=named(match))}
    edition = re.search(r"(?<=\d)\s?-\s?(\d{2,4}\b.*)", match.group())
    if edition and "run.edition" not in run.facts:
        out["run.edition"] = Fact("run.edition", edition[1], edition[1], fact.citations)
    return out


def maker(world: World, document: Item, run: Item) -> dict[str, Fact]:
    """The maker that the paper speaks of: the specimen's, else the holder, or one that it names beside them. Where it
    names the proposed maker, in whatever words, it speaks of that one."""
    offered = next((f for facts in world.variants.values() if (f := facts.get(PROPOSED)) is not None), None)
    beside = document.facts.get("document.also_names")
    told = [run.facts.get(MAKER) or document.facts.get("document.holder")]
    told += [beside] if beside is not None and not isinstance(beside.value, Nothing) else []
    named_in = [fact for fact in told if fact is not None]
    if not named_in:
        return {}
    if offered is not None:
        for fact in named_in:
            if plain(offered.text) in firms(fact.text):
                return {MAKER: Fact(MAKER, offered.value, fact.text, fact.citations)}
    return {MAKER: Fact(MAKER, named_in[0].text, named_in[0].text, named_in[0].citations)}


def plain(text: str) -> str:
    """A firm's name without remarks in parentheses, folded."""
    return " ".join(_REMARK.sub("", text).casefold().split()).strip(" .,;")


def firms(text: str) -> frozenset[str]:
    """The firms that a text lists."""
    bare = _REMARK.sub("", text)
    return frozenset(plain(part) for part in (bare, *re.split(r"[,;]|\band\b", bare)))
