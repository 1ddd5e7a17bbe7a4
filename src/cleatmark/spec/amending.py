"""Instructions of an addendum carried out on the clauses of a section. What cannot be placed is told."""

from __future__ import annotations

from collections.abc import Callable

from msgspec import Struct
from msgspec.structs import replace

from cleatmark.facts import Citation
from cleatmark.spec.clauses import Clause
from cleatmark.spec.instructions import Instruction, Line, Tokens, tokens
from cleatmark.spec.lazy import lazily
from cleatmark.spec.new_text import counted, counts, label_of, made_of, pattern, swapped, told

_SENTENCE = lazily(r"[.:;]\s|[.;:]\Z")
_LONGEST_TITLE = 60


class Change(Struct, frozen=True):
    """What one instruction did: revised, deleted, added, changed; "" where it could not be placed, and `why`.

    clause  the address as the specification prints it
    note    what else a reader should know
    """

    item: str
    clause: str
    did: str
    before: str = ""
    after: str = ""
    why: str = ""
    note: str = ""
    quote: str = ""


class NotPlacedError(Exception):
    """Why an instruction could not be carried out."""


class Amending:
    """The clauses of one section while they are amended."""

    def __init__(self, clauses: tuple[Clause, ...], cite: Callable[[Instruction], Citation]) -> None:
        self.clauses = list(clauses)
        self._cite = cite

    def carry_out(self, order: Instruction) -> Change:
        """Carries out one instruction and says what became of it."""
        acts = {
            "revise": self._revise,
            "replace": self._revise,
            "delete": self._delete,
            "add": self._add,
            "change": self._change,
            "insert": self._change,
        }
        act = acts.get(order.kind)
        try:
            if act is None:
                raise NotPlacedError("the instruction is not understood")
            return act(order)
        except NotPlacedError as error:
            return Change(order.item, order.address, "", why=str(error), quote=order.quote)

    # Finding ----------------------------------------------------------------------------------------------------

    def has(self, address: str) -> bool:
        """Whether a paragraph of that address stands in the section."""
        wanted = tokens(address)
        return any(clause.label and tokens(clause.address) == wanted for clause in self.clauses)

    def _at(self, address: str) -> int:
        """Where the paragraph stands that is printed with the address."""
        wanted = tokens(address)
        for at, clause in enumerate(self.clauses):
            if clause.label and not clause.hidden and tokens(clause.address) == wanted:
                return at
        near = self._nearest(wanted)
        raise NotPlacedError(
            f"there is no paragraph {address}" + (f"; {near} is the last before it" if near else "")
        )

    def _nearest(self, wanted: Tokens) -> str:
        """The last paragraph of the same article that stands before the wanted one."""
        same = [c.address for c in self.clauses if c.label and tokens(c.address)[:-1] == wanted[:-1]]
        return same[-1] if same else ""

    def _end(self, at: int) -> int:
        """Where the paragraph ends, with what is printed below it."""
        wanted = tokens(self.clauses[at].address)
        end = at + 1
        while end < len(self.clauses) and tokens(self.clauses[end].address)[: len(wanted)] == wanted:
            if tokens(self.clauses[end].address) == wanted and self.clauses[end].label:
                break
            end += 1
        return end

    # Instructions -----------------------------------------------------------------------------------------------

    def _delete(self, order: Instruction) -> Change:
        at = self._at(order.address)
        end = self._end(self._at(order.to) if order.to else at)
        gone = self.clauses[at:end]
        if end <= at:
            raise NotPlacedError(f"{order.to} does not follow {order.address}")
        del self.clauses[at:end]
        last = f" to {order.to}" if order.to else ""
        return Change(order.item, f"{gone[0].address}{last}", "deleted", told(gone), quote=order.quote)

    def _revise(self, order: Instruction) -> Change:
        at = self._at(order.address)
        if order.lines and all(line.table is not None for line in order.lines):
            return self._tables(order, at)
        old, end = self.clauses[at], self._end(at)
        before = told(self.clauses[at:end] if order.kind == "replace" else self.clauses[at : at + 1])
        own = [
            at + 1 + n for n, clause in enumerate(self.clauses[at + 1 : end]) if clause.address == old.address
        ]
        body = [n for n in own if self.clauses[n].table is None and not self.clauses[n].hidden]
        titled = bool(body) and len(old.text) <= _LONGEST_TITLE and not _SENTENCE.search(old.text)
        made = self._made(order, old, old.address)
        below = [clause for clause in made if clause.label and clause is not made[0]]
        if titled and order.kind == "revise":
            return self._below_title(order, at, body, made)
        keep: list[Clause] = []
        note = ""
        if order.kind == "revise" and not below:
            keep = [self._under(clause, old, made[0]) for clause in self.clauses[at + 1 : end]]
            children = [clause.address for clause in keep if clause.label]
            if children:
                note = f"what is printed below it, from {children[0]} on, is read as it stands"
        self.clauses[at:end] = [*made, *keep]
        return Change(order.item, old.address, "revised", before, told(made), note=note, quote=order.quote)

    def _below_title(self, order: Instruction, at: int, body: list[int], made: list[Clause]) -> Change:
        """A numbered title over text without a number: the text is what is revised."""
        title = self.clauses[at]
        before = told([self.clauses[n] for n in body])
        first = made[0].text
        if first.casefold().startswith(title.text.casefold()):
            first = first[len(title.text) :].lstrip(" .:-–—")
        like = self.clauses[body[0]]
        new = (
            [replace(like, text=first, spans=(), flags=(), deleted="", amended=made[0].amended)]
            if first
            else []
        )
        rest = [replace(clause, level=like.level) if not clause.label else clause for clause in made[1:]]
        for n in reversed(body):
            del self.clauses[n]
        self.clauses[body[0] : body[0]] = [*new, *rest]
        return Change(order.item, title.address, "revised", before, told([*new, *rest]), quote=order.quote)

    def _tables(self, order: Instruction, at: int) -> Change:
        """A table given as the new text takes the place of the paragraph's own."""
        address = self.clauses[at].address
        tables = [n for n, c in enumerate(self.clauses) if c.table is not None and c.address == address]
        if len(tables) != len(order.lines):
            raise NotPlacedError(
                f"{address} has {counted(len(tables), 'table')}, and {len(order.lines)} is given"
            )
        before = told([self.clauses[n] for n in tables])
        for n, line in zip(tables, order.lines, strict=True):
            old = self.clauses[n]
            table = replace(line.table, caption=old.table.caption) if line.table and old.table else line.table
            self.clauses[n] = replace(old, table=table, flags=(), deleted="", amended=self._cited(old, order))
        after = told([self.clauses[n] for n in tables])
        return Change(order.item, address, "revised", before, after, quote=order.quote)

    def _add(self, order: Instruction) -> Change:
        first = order.lines[0] if order.lines else Line("", "")
        label, _ = label_of(first)
        address, note = order.address, ""
        if order.after:
            anchor = self._at(order.after)
            parent = self.clauses[anchor].address.rpartition(".")[0]
            address = address or (f"{parent}.{label}" if label else "")
            if not address:
                raise NotPlacedError(f"the paragraph to follow {order.after} has no letter or number")
            at = self._end(anchor)
        elif self.has(address) and label and tokens(label) != tokens(address)[-1:]:
            address, at = f"{self.clauses[self._at(address)].address}.{label}", self._end(self._at(address))
        else:
            at = self._place(address)
        if self.has(address):
            note = f"{address} stands already; what is added is read before it, and later ones keep their letters"
            at = self._at(address)
        model = self._model(address)
        made = self._made(order, model, address)
        self.clauses[at:at] = made
        return Change(order.item, address, "added", "", told(made), note=note, quote=order.quote)

    def _place(self, address: str) -> int:
        """Where a new paragraph goes: behind the last of its article that is printed before it."""
        wanted = tokens(address)
        best = -1
        for at, clause in enumerate(self.clauses):
            own = tokens(clause.address)
            if clause.label and own[: len(wanted) - 1] == wanted[:-1] and len(own) <= len(wanted):
                if len(own) == len(wanted) and counts(own[-1]) > counts(wanted[-1]):
                    continue
                best = at
        if best < 0:
            raise NotPlacedError(f"there is nothing that {address} could stand under")
        whole = len(tokens(self.clauses[best].address)) == len(wanted)
        return self._end(best) if whole else self._own_end(best)

    def _own_end(self, at: int) -> int:
        """Behind the paragraph and its own text, before what is numbered below it."""
        end = at + 1
        while (
            end < len(self.clauses)
            and not self.clauses[end].label
            and self.clauses[end].address == self.clauses[at].address
        ):
            end += 1
        return end

    def _model(self, address: str) -> Clause:
        """A clause to take level and headings from: a neighbour, else one made from what it stands under."""
        wanted = tokens(address)
        for clause in self.clauses:
            if (
                clause.label
                and len(tokens(clause.address)) == len(wanted)
                and tokens(clause.address)[:-1] == wanted[:-1]
            ):
                return clause
        for clause in self.clauses:
            if clause.label and tokens(clause.address) == wanted[:-1]:
                return replace(
                    clause,
                    level=clause.level + 1,
                    headings=(*clause.headings, clause.text),
                    table=None,
                    label="",
                )
        raise NotPlacedError(f"there is nothing that {address} could stand under")

    def _change(self, order: Instruction) -> Change:
        """Words for words in a paragraph; each must stand there, and once where not every one is meant."""
        scope = self._scope(order)
        before: list[str] = []
        after: list[str] = []
        edited: dict[int, Clause] = {}
        for old, new in order.pairs:
            places = [(n, self._count(edited.get(n, self.clauses[n]), old)) for n in scope]
            own = [(n, count) for n, count in places if count]
            total = sum(count for _, count in own)
            if not own:
                raise NotPlacedError(f'"{old}" does not stand there')
            if total > 1 and not order.every and not order.address:
                standing = ", ".join(dict.fromkeys(self.clauses[n].address for n, _ in own))
                raise NotPlacedError(f'it is not said in which paragraph: "{old}" stands in {standing}')
            if total > 1 and not order.every:
                raise NotPlacedError(f'"{old}" stands there {total} times, and it is not said which is meant')
            for n, _ in own:
                clause = edited.get(n, self.clauses[n])
                text = f"{old} {new}" if order.kind == "insert" else new
                edited[n] = replace(swapped(clause, old, text), amended=self._cited(self.clauses[n], order))
        for n, clause in edited.items():
            before.append(told([self.clauses[n]]))
            after.append(told([clause]))
            self._retitle(n, _edited(self.clauses[n], clause))
        touched = dict.fromkeys(clause.address for clause in edited.values())
        address = self.clauses[min(edited)].address if order.address else ", ".join(touched)
        return Change(
            order.item, address, "changed", " / ".join(before), " / ".join(after), quote=order.quote
        )

    def _scope(self, order: Instruction) -> list[int]:
        if not order.address:
            return [n for n, clause in enumerate(self.clauses) if not clause.hidden]
        at = self._at(order.address)
        inside = [n for n in range(at, self._end(at)) if not self.clauses[n].hidden]
        own = [n for n in inside if self.clauses[n].address == self.clauses[at].address]
        first = order.pairs[0][0]
        return own if not order.every and any(self._count(self.clauses[n], first) for n in own) else inside

    def _count(self, clause: Clause, words: str) -> int:
        found = pattern(words)
        cells = clause.table.cells if clause.table is not None else ()
        return len(found.findall(clause.text)) + sum(len(found.findall(cell.text)) for cell in cells)

    def _retitle(self, at: int, new: Clause) -> None:
        """Puts a changed clause in place, and its new words at the head of what stands under it."""
        old = self.clauses[at]
        for n in range(at + 1, self._end(at) if old.label else at + 1):
            self.clauses[n] = self._under(self.clauses[n], old, new)
        self.clauses[at] = new

    def _under(self, clause: Clause, old: Clause, new: Clause) -> Clause:
        """A clause below a changed one: it is read under the new words, and rests on them too."""
        headings = tuple(new.text if text == old.text else text for text in clause.headings)
        article = new.text if clause.article == old.text else clause.article
        amended = clause.amended
        if headings != clause.headings and new.level > 1:
            amended = (*amended, new.amended[-1])
        return replace(clause, headings=headings, article=article, amended=amended)

    def _made(self, order: Instruction, model: Clause, address: str) -> list[Clause]:
        stands = self.has(address)
        cited = self._cited(model, order) if stands else (self._cite(order),)
        made = made_of(order, model, address, stands, cited)
        if not made:
            raise NotPlacedError("its new text is not found")
        return made

    def _cited(self, clause: Clause, order: Instruction) -> tuple[Citation, ...]:
        return (*clause.amended, self._cite(order))


def _edited(clause: Clause, edit: Clause) -> Clause:
    """A clause where it stands now, with the words of its edited copy."""
    return replace(clause, text=edit.text, spans=edit.spans, table=edit.table, amended=edit.amended)
