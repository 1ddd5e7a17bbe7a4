"""The text of a field to its value, by what the field declares. No text is taken for more than it says."""

from __future__ import annotations

import re
from datetime import date
from functools import lru_cache

from msgspec.structs import replace

from cleatmark.facts import NONE, Value
from cleatmark.fields import Field
from cleatmark.problems import did_you_mean
from cleatmark.units import Quantity, QuantityError, parse
from cleatmark.yamlfile.nodes import brief

OF_A_PART = ("width", "height", "length", "thickness", "spacing", "head")
"""Last words of an assembly field's name that measure a part: nothing that is there measures zero. A gap, a lap or
a penetration may."""

NOT_VALUES = frozenset(
    {"n/a", "na", "unknown", "not known", "tbd", "tba", "?", "??", "-", "--", "not stated", "null", "~"}
)
"""What people write where they have nothing to write. A missing fact is left out, never stated."""

_ISO = re.compile(r"[0-9]{4}-[0-9]{2}-[0-9]{2}")
_SLASHED = re.compile(r"([0-9]{1,2})[/.-]([0-9]{1,2})[/.-]([0-9]{4})")


class FieldValueError(ValueError):
    """A text that is not a value of its field: one line that says what was expected, then further help."""

    def __init__(self, message: str, help: tuple[str, ...] = ()) -> None:
        self.message = message
        self.help = help
        super().__init__(message)


@lru_cache(maxsize=8192)
def read_value(field: Field, text: str, metal: str = "") -> Value:
    """The value that `text` states for a field. Raises FieldValueError, whose message starts with the path.

    metal  of the sheet that a thickness belongs to, "" where it is not known

    The papers of a submittal, and systems on file, say the same things over and over: each is read once.
    """
    shown = " ".join(text.split())
    folded = shown.casefold()
    if folded in NOT_VALUES:
        raise FieldValueError(
            f'{field.path}: "{shown}" is not a value; leave the line out where nothing is known'
        )
    if folded == "none" and "none" not in field.choices:
        return _none(field)
    if field.kind in ("choice", "list"):
        return _choice(field, shown)
    if field.kind == "yes/no":
        if folded not in ("yes", "no"):
            raise FieldValueError(
                f'{field.path}: "{brief(shown)}" is neither yes nor no; expected "yes" or "no"'
            )
        return folded == "yes"
    if field.kind == "date":
        return _date(field, shown)
    if field.kind == "text":
        return text.strip()
    return _quantity(field, text, shown, metal)


def _none(field: Field) -> Value:
    if field.none:
        return NONE
    raise FieldValueError(
        f'{field.path}: "none" cannot be stated for {field.title}; {_such_as(field, "expected a value")}, '
        "or leave the line out"
    )


def _such_as(field: Field, expected: str) -> str:
    return f'{expected}, such as "{field.example}"' if field.example else expected


def _either(words: tuple[str, ...]) -> str:
    return " or ".join([", ".join(words[:-1]), words[-1]]) if len(words) > 1 else "".join(words)


def _choice(field: Field, shown: str) -> str:
    spelled = {choice.casefold(): choice for choice in field.choices}
    if shown.casefold() in spelled:
        return spelled[shown.casefold()]
    if field.open:
        return shown
    raise FieldValueError(
        f'{field.path}: "{brief(shown)}" is not one of the choices; expected {_either(field.choices)}',
        did_you_mean(shown, field.choices),
    )


def _date(field: Field, shown: str) -> date:
    if _ISO.fullmatch(shown):
        try:
            return date.fromisoformat(shown)
        except ValueError:
            raise FieldValueError(f'{field.path}: there is no day "{shown}"') from None
    match = _SLASHED.fullmatch(shown)
    help: tuple[str, ...] = ()
    if match:
        first, second, year = int(match[1]), int(match[2]), match[3]
        readings = {f"{year}-{m:02d}-{d:02d}" for m, d in ((first, second), (second, first)) if m <= 12}
        help = (f"write {' or '.join(sorted(readings))}, whichever is meant",) if readings else ()
    raise FieldValueError(
        f'{field.path}: "{brief(shown)}" is not a date as year-month-day; '
        + _such_as(field, "expected four, two and two digits"),
        help,
    )


def _quantity(field: Field, text: str, shown: str, metal: str) -> Quantity:
    try:
        found = parse(text, field.kind, metal=metal)
    except QuantityError as error:
        expected = f"; expected {error.expected}" if error.expected else ""
        example = field.example or error.example
        such = f', such as "{example}"' if expected and example else ""
        raise FieldValueError(f"{field.path}: {error.message}{expected}{such}") from None
    if field.choices and str(found.value) not in field.choices:
        raise FieldValueError(
            f'{field.path}: "{brief(shown)}" is not a {field.title}; expected {_either(field.choices)}'
        )
    if field.kind == "number" and found.value < 0:
        raise FieldValueError(f'{field.path}: "{shown}" is negative; {_such_as(field, "expected a number")}')
    if found.value == 0 and _measures_a_part(field):
        none = ', or "none" where there is none' if field.none else ", or leave the line out"
        expected = f'expected more than zero, such as "{field.example or "1 in"}"{none}'
        raise FieldValueError(f'{field.path}: "{shown}" is no size of a part; {expected}')
    return found


def _measures_a_part(field: Field) -> bool:
    return (
        field.block == "assembly"
        and field.kind in ("length", "thickness")
        and field.key.rpartition(".")[2].rpartition("_")[2] in OF_A_PART
    )


def magnitude(value: Value) -> Value:
    """A pressure as its positive amount, its text as written; any other value as it is."""
    if isinstance(value, Quantity) and value.kind == "pressure" and value.value < 0:
        return replace(value, value=-value.value)
    return value
