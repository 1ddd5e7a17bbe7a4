"""The world of a case: its settings read as a submittal's values are, each citing its line of the rule file."""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.facts import Citation, Fact, Stated, Value
from cleatmark.language import tree as t
from cleatmark.language.names import Name, Names
from cleatmark.language.world import Item, World, variant_for
from cleatmark.problems import Problem, did_you_mean
from cleatmark.units import Quantity, QuantityError, parse
from cleatmark.yamlfile import FieldValueError, magnitude, read_value

BLOCKS = ("run", "condition", "zone", "clause")
CONTEXTS: Mapping[str, tuple[str, ...]] = {
    "": ("run", "document"),
    "document": ("run", "document"),
    "run": ("run", "document"),
    "condition": ("condition",),
    "zone": ("zone",),
    "clause": ("clause",),
}
IMPLIED = {"run": "report", "condition": "listing"}
"""What kind of paper is put up for a run, or for a condition, that a case names without one."""


class Vocabulary(Struct, frozen=True):
    """What the settings of cases may name. `known` keeps values by field, text and metal: assemblies repeat them."""

    names: Names
    kinds: Mapping[str, tuple[str, ...]]
    assemblies: Mapping[str, t.Assembly]
    known: dict[tuple[str, str, str], Value] = {}


class Given(NamedTuple):
    """One setting: the name it resolves to, and the setting as written."""

    name: Name
    setting: t.Setting


class Draft(Struct):
    """A document, run, condition, zone or clause while its settings are gathered."""

    block: str
    kind: str
    name: str
    node: t.Node
    given: list[Given]
    runs: list[Draft]
    conditions: list[Draft]


def world_of(case: t.Case, file: t.RuleFile, words: Vocabulary) -> tuple[World, tuple[Problem, ...]]:
    """The world that a case puts up, and what is wrong with its settings."""
    stage = Stage(case, file, words)
    for item in case.given:
        if isinstance(item, t.Setting):
            stage.set(item, "")
        else:
            stage.put(item)
    return stage.world(), tuple(stage.problems)


class Stage:
    """Gathers what a case gives, in order; a setting belongs to the last thing that can have it."""

    def __init__(self, case: t.Case, file: t.RuleFile, words: Vocabulary) -> None:
        self.case = case
        self.file = file
        self.words = words
        self.problems: list[Problem] = []
        self.site: list[Given] = []
        self.proposed: list[Given] = []
        self.stated: list[Given] = []
        self.documents: list[Draft] = []
        self.zones: list[Draft] = []
        self.clauses: list[Draft] = []

    def tell(self, node: t.Node, message: str, *help_: str) -> None:
        line = self.file.lines[node.pos.line - 1] if node.pos.line <= len(self.file.lines) else ""
        self.problems.append(Problem(self.file.place(node), message, tuple(help_), line, node.pos.span))

    # gathering

    def put(self, thing: t.Thing) -> None:
        """Puts up a thing and its settings."""
        block = "document" if thing.kind in self.words.kinds else thing.kind
        if block not in ("document", *BLOCKS):
            known = (*self.words.kinds, "document", *BLOCKS)
            help_ = did_you_mean(thing.kind, known) or (f"one of: {', '.join(known)}",)
            self.tell(thing, f'a case cannot put up a "{thing.kind}"', *help_)
            return
        draft = Draft(block, thing.kind, thing.name, thing, [], [], [])
        if block == "document":
            self.documents.append(draft)
        elif block == "zone":
            self.zones.append(draft)
        elif block == "clause":
            self.clauses.append(draft)
        else:
            document = self.document(block, thing)
            (document.runs if block == "run" else document.conditions).append(draft)
        for setting in thing.settings:
            self.set(setting, block, draft)

    def document(self, block: str, node: t.Node) -> Draft:
        """The last document put up; one is put up where there is none."""
        if not self.documents:
            kind = IMPLIED[block] if IMPLIED[block] in self.words.kinds else "document"
            self.documents.append(Draft("document", kind, "", node, [], [], []))
        return self.documents[-1]

    def set(self, setting: t.Setting, block: str, draft: Draft | None = None) -> None:
        """Files one setting under what it is about."""
        if setting.like:
            self.like(setting, block, draft)
            return
        name = self.words.names.resolve(setting.path, CONTEXTS[block])
        if not isinstance(name, Name):
            near = (f'did you mean "{name.near}"?',) if name.near else ()
            self.tell(setting, name.message, *near, *name.help)
            return
        if name.define is not None:
            self.tell(setting, f"`{setting.path}` is worked out from other values; a case states those")
            return
        self.file_under(Given(name, setting), block, draft)

    def file_under(self, given: Given, block: str, draft: Draft | None) -> None:
        scope, setting = given.name.scope, given.setting
        if setting.zone and scope not in ("proposed", "spec"):
            self.tell(setting, f"`in {setting.zone}` stands behind what is proposed or specified")
        if setting.relation and scope != "spec":
            self.tell(setting, f"`{setting.relation}` stands behind what is specified; state the value alone")
        if scope == "proposed":
            self.proposed.append(given)
        elif scope == "spec":
            self.stated.append(given)
        elif scope in ("job", "submittal"):
            self.site.append(given)
        elif draft is not None and scope == block:
            draft.given.append(given)
        elif scope in ("run", "tested", "document"):
            document = draft if draft is not None and block == "document" else self.document("run", setting)
            if scope == "document" or block == "document" or not document.runs:
                document.given.append(given)
            else:
                (draft or document.runs[-1]).given.append(given)
        else:
            self.tell(
                setting, f"`{setting.path}` can be set only of a {scope}", f"write: a {scope} having ..."
            )

    def like(self, setting: t.Setting, block: str, draft: Draft | None) -> None:
        """`proposed like NAME`, `tested like NAME`: every setting of the assembly, to be overridden by later ones."""
        assembly = self.words.assemblies.get(setting.like)
        if setting.path not in ("proposed", "tested"):
            self.tell(setting, f"`{setting.path} like` means nothing", "write: proposed like, or tested like")
        elif assembly is None:
            near = did_you_mean(setting.like, self.words.assemblies)
            self.tell(setting, f'no assembly is called "{setting.like}"', *near)
        else:
            for own in assembly.settings:
                name = self.words.names.resolve(f"{setting.path}.{own.path}", ("run", "document"))
                if isinstance(name, Name):
                    self.file_under(Given(name, own), block, draft)

    # reading

    def cite(self, kind: str, node: t.Node, what: str = "") -> Citation:
        line = self.file.lines[node.pos.line - 1].strip() if node.pos.line <= len(self.file.lines) else ""
        where = f"{self.file.file}:{node.pos.line}"
        return Citation(kind, f"{what}, {where}" if what else where, line)

    def facts(self, given: Iterable[Given], kind: str, what: str = "") -> dict[str, Fact]:
        """Settings as facts; of two for one name the later stands."""
        listed = list(given)
        metal = _metal(listed)
        found: dict[str, Fact] = {}
        for item in listed:
            values = self.values(item, metal)
            if values is None:
                continue
            texts = ", ".join(literal.text for literal in item.setting.values)
            many = item.name.kind == "list"
            if not many and len(values) != 1:
                self.tell(item.setting, f"`{item.setting.path}` takes one value")
                continue
            value: Value = tuple(str(value) for value in values) if many else values[0]
            found[item.name.path] = Fact(item.name.path, value, texts, (self.cite(kind, item.setting, what),))
        return found

    def values(self, given: Given, metal: str) -> tuple[Value, ...] | None:
        """The values of a setting as their field reads them; None where one cannot be read, which is told."""
        out: list[Value] = []
        for literal in given.setting.values:
            try:
                out.append(self.value(given.name, literal, metal))
            except FieldValueError as error:
                self.tell(literal, error.message, *error.help)
                return None
            except QuantityError as error:
                self.tell(literal, str(error))
                return None
        return tuple(out)

    def value(self, name: Name, literal: t.Literal, metal: str) -> Value:
        """One value, as a submittal's loader reads it. Raises FieldValueError or QuantityError."""
        field = name.field
        if field is None:
            return _plain(literal, name.kind)
        own = metal if field.key.startswith("panel.") else ""
        key = (field.path, literal.text, own)
        if key not in self.words.known:
            self.words.known[key] = magnitude(read_value(field, literal.text, metal=own))
        return self.words.known[key]

    # the world

    def world(self) -> World:
        """All that was gathered, as a review would see it."""
        plain = [item for item in self.proposed if not item.setting.zone]
        zoned = [item for item in self.proposed if item.setting.zone]
        common = self.facts(plain, "submittal")
        names = tuple(dict.fromkeys(item.setting.zone for item in zoned))
        apart = {item.name.path for item in zoned}
        variants: dict[str, Mapping[str, Fact]] = {}
        for zone in names:
            own = self.facts((*plain, *(item for item in zoned if item.setting.zone == zone)), "submittal")
            stated = {item.name.path for item in zoned if item.setting.zone == zone}
            variants[zone] = {path: fact for path, fact in own.items() if path not in apart or path in stated}
        zones = tuple(self.zone(draft) for draft in self.zones)
        variants = variants or {"": common}
        return World(
            facts={
                **self.facts((g for g in self.site if g.name.scope == "job"), "job"),
                **self.facts((g for g in self.site if g.name.scope == "submittal"), "submittal"),
            },
            variants=variants,
            spec=self.spec(),
            documents=tuple(self.paper(draft, n) for n, draft in enumerate(self.documents, 1)),
            zones=zones,
            clauses=tuple(self.clause(draft, n) for n, draft in enumerate(self.clauses, 1)),
            zone_variant={zone.id: variant_for(zone.facts["zone.name"].text, variants) for zone in zones},
            files={scope: self.cite(scope, self.case) for scope in ("job", "submittal", "spec")},
        )

    def spec(self) -> dict[str, tuple[Stated, ...]]:
        out: dict[str, tuple[Stated, ...]] = {}
        metal = _metal(self.stated)
        for given in self.stated:
            values = self.values(given, metal)
            if values is None:
                continue
            setting, subject = given.setting, given.name.path.removeprefix("spec.")
            if subject.endswith(".verb"):
                own, verb = subject.removesuffix(".verb"), str(values[0])
                out[own] = tuple(replace(stated, verb=verb) for stated in out.get(own, ()))
                continue
            citation = self.cite("spec", setting)
            level = next((v.level for v in values if isinstance(v, Quantity)), "")
            stated = Stated(
                subject=subject,
                relation=setting.relation or "equal",
                values=values,
                text=" or ".join(literal.text for literal in setting.values),
                clause=f"line {setting.pos.line}",
                quote=citation.quote,
                citation=citation,
                zone=setting.zone,
                level=level,
                flags=setting.flags,
            )
            out[subject] = (*out.get(subject, ()), stated)
        return out

    def zone(self, draft: Draft) -> Item:
        name = draft.name or "whole roof"
        citation = self.cite("job", draft.node)
        facts = {"zone.name": Fact("zone.name", name, name, (citation,)), **self.facts(draft.given, "job")}
        return Item("zone", name, name, facts, citation)

    def clause(self, draft: Draft, number: int) -> Item:
        citation = self.cite("spec", draft.node)
        facts = self.facts(draft.given, "spec")
        address = draft.name or f"clause {number}"
        facts.setdefault("clause.address", Fact("clause.address", address, address, (citation,)))
        return Item("clause", str(number), address, facts, citation)

    def paper(self, draft: Draft, number: int) -> Item:
        """A document with its runs and conditions. What it says of a run or a specimen holds for all its runs."""
        kinds = self.words.kinds.get(draft.kind, ())
        id = draft.name or str(number)
        shared = [given for given in draft.given if given.name.scope in ("run", "tested")]
        facts = self.facts((g for g in draft.given if g.name.scope == "document"), "evidence")
        if kinds and "document.kind" not in facts:
            facts["document.kind"] = Fact(
                "document.kind", kinds[0], kinds[0], (self.cite("evidence", draft.node),)
            )
        label = f"{facts['document.kind'].text if 'document.kind' in facts else 'document'} {id}"
        out = Item("document", id, label, facts, self.cite("evidence", draft.node, label))
        runs = draft.runs or [Draft("run", "run", "", draft.node, [], [], [])]
        out.runs = tuple(self.run(run, n, shared, out, bool(draft.runs)) for n, run in enumerate(runs, 1))
        out.conditions = tuple(self.condition(item, n, out) for n, item in enumerate(draft.conditions, 1))
        return out

    def run(self, draft: Draft, number: int, shared: Sequence[Given], parent: Item, own: bool) -> Item:
        id = draft.name or (str(number) if own or shared else "")
        label = f"{parent.label}, run {id}" if id else parent.label
        facts = self.facts((*shared, *draft.given), "evidence", label)
        return Item("run", id, label, facts, self.cite("evidence", draft.node, label), parent=parent)

    def condition(self, draft: Draft, number: int, parent: Item) -> Item:
        """A listing's condition; its value is read by the field that it is about."""
        text = draft.name or f"condition {number}"
        citation = self.cite("evidence", draft.node, f"{parent.label}, condition {number}")
        own = [given for given in draft.given if given.name.path != "condition.value"]
        facts = self.facts(own, "evidence", parent.label)
        facts.setdefault("condition.text", Fact("condition.text", text, text, (citation,)))
        about = facts.get("condition.field")
        for given in draft.given:
            if given.name.path == "condition.value":
                facts |= self.wanted(given, about, parent)
        facts.setdefault(
            "condition.state", Fact("condition.state", "not confirmed", "not confirmed", (citation,))
        )
        return Item("condition", str(number), text, facts, citation, parent=parent)

    def wanted(self, given: Given, about: Fact | None, parent: Item) -> dict[str, Fact]:
        """The value that a condition asks for, read by the field that it is about."""
        if about is None:
            return self.facts([given], "evidence", parent.label)
        name = self.words.names.resolve(f"proposed.{about.text}", ())
        if not isinstance(name, Name):
            self.tell(given.setting, f'no field is called "{about.text}"')
            return {}
        read = self.facts([Given(name, given.setting)], "evidence", parent.label)
        found = read.get(name.path)
        return {"condition.value": replace(found, path="condition.value")} if found is not None else {}


def _metal(given: Sequence[Given]) -> str:
    """The panel's metal among the settings, by which a thickness is read."""
    for item in reversed(given):
        if item.name.path.endswith("panel.material") and item.setting.values:
            return item.setting.values[0].text
    return ""


def _plain(literal: t.Literal, kind: str) -> Value:
    """A value of a clause, which no field declares."""
    return parse(literal.text, kind) if kind == "number" else literal.text
