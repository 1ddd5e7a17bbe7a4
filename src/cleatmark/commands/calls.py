"""What is wrong with a call, in the words of a reader; argparse's own words are for programmers."""

from __future__ import annotations

import argparse
import re

from cleatmark.problems import did_you_mean, near_name

_CHOICE = re.compile(
    r"argument (?P<name>.+?): invalid choice: (?P<given>'.*'|\".*\") \(choose from (?P<known>.+)\)"
)
_MISSING = re.compile(r"the following arguments are required: (?P<names>.+)")
_UNKNOWN = re.compile(r"unrecognized arguments: (?P<words>.+)")
_VALUE = re.compile(r"argument (?P<name>\S+): expected (?:at least )?one argument")
_OTHER = re.compile(r"argument (?P<name>[^:]+): (?P<rest>.+)", re.S)


def told(message: str, parser: argparse.ArgumentParser) -> tuple[str, ...]:
    """The mistake in one line, then help: the near word, or the form wanted."""
    if found := _CHOICE.fullmatch(message):
        return _choice(found["name"], found["given"][1:-1], re.findall(r"'([^']*)'", found["known"]))
    if found := _MISSING.fullmatch(message):
        names = found["names"].split(", ")
        verb = "is" if len(names) == 1 else "are"
        return (f"{' and '.join(names)} {verb} missing", *_example(parser))
    if found := _UNKNOWN.fullmatch(message):
        return _unknown(found["words"], parser)
    if found := _VALUE.fullmatch(message):
        return (f"{found['name']} needs a value behind it",)
    if found := _OTHER.fullmatch(message):
        return (f"{found['name']}: {found['rest']}",)
    return (message,)


def _choice(name: str, given: str, known: list[str]) -> tuple[str, ...]:
    listed = ", ".join(known[:-1]) + f" or {known[-1]}" if len(known) > 1 else "".join(known)
    what = (
        f'there is no {name.lower()} "{given}"'
        if name.isupper()
        else f'{name}: "{given}" is not one of the choices'
    )
    return (f"{what}; expected {listed}", *did_you_mean(given, known))


def _example(parser: argparse.ArgumentParser) -> tuple[str, ...]:
    """The first example of the parser's help."""
    found = re.search(r"^  (cleatmark \S.*?)(?:\s{3,}.*)?$", parser.epilog or "", re.M)
    return (f"for example: {found[1]}",) if found else ()


def _unknown(words: str, parser: argparse.ArgumentParser) -> tuple[str, ...]:
    word = words.split()[0]
    what, options = f'"{words}" is not expected here', _options(parser)
    if word.startswith("-"):
        near = near_name(word, options)
        return (what, *((f'did you mean "{near}"?',) if near else ()))
    if "--rules" in options and re.search(r"(^|/)[^./]+(\.rules)?$", word):
        return (what, f"rulebooks are named behind --rules, for example: --rules {word}")
    return (what,)


def _options(parser: argparse.ArgumentParser) -> list[str]:
    """Every option of the parser and of the commands under it."""
    from cleatmark.commands.completion import actions

    return sorted({option for action in actions(parser) for option in action.option_strings})
