"""The coefficient files that ship, an edition at a time, and which figure is a roof's."""

from __future__ import annotations

from collections.abc import Iterator
from functools import cache
from itertools import chain
from pathlib import Path

from msgspec.structs import replace

from cleatmark.problems import InputError, Place, Problem
from cleatmark.wind.blocks import EDITIONS, read_figure
from cleatmark.wind.curves import Block

FOLDER = Path(__file__).parent / "coefficients"
PARTING_HEIGHT = 60.0
"""Mean roof height in ft up to which the low-rise figures hold."""


def folder_of(edition: str) -> Path:
    """The folder with an edition's files."""
    return FOLDER / edition.casefold().replace(" ", "_").replace("-", "_")


def figures(edition: str, likely: str = "") -> Iterator[Block]:
    """The figures of an edition as they are asked for, curves of a figure that is the same as another's filled in.

    likely  a word of the names of the files to be read first
    Raises InputError where a file that ships is broken.
    """
    for path in sorted(folder_of(edition).glob("*.yaml"), key=lambda path: (likely not in path.stem, path)):
        if path.name != "edition.yaml":
            yield _figure_in(path)


@cache
def _figure_in(path: Path) -> Block:
    block, same_as, problems = read_figure(path)
    if problems or block is None:
        raise InputError(problems)
    return _filled(block, same_as) if same_as else block


def _filled(block: Block, same_as: str) -> Block:
    """The block with the curves of another figure. Confidences are its own: none is inherited."""
    base = figure(same_as)
    keeps_overhang = block.edition != "ASCE 7-22"
    return replace(
        block,
        suction=base.suction,
        inward=base.inward,
        no_inward=base.no_inward,
        zones=base.zones,
        overhang=base.overhang if keeps_overhang else {},
        overhang_confidence=base.overhang_confidence if keeps_overhang else "",
    )


def figure(id: str) -> Block:
    """The figure with an id ("ASCE 7-10/low slope"). Raises InputError where there is none."""
    edition, _, name = id.partition("/")
    likely = folder_of(edition) / f"{name.replace(' ', '_').replace('-', '_')}.yaml"
    if edition in EDITIONS and likely.is_file():
        block = _figure_in(likely)
        if block.id == id:
            return block
    for block in figures(edition) if edition in EDITIONS else ():
        if block.id == id:
            return block
    raise InputError([Problem(Place(str(FOLDER)), f'no figure is called "{id}"')])


def figure_for(
    edition: str, shape: str, slope: float, *, above_60: bool, own: tuple[Block, ...] = ()
) -> Block | None:
    """The figure for a roof: a user's own block first, then the file that ships; None where no figure is for it.

    slope  degrees
    """
    for block in chain(own, figures(edition, "above" if above_60 else shape)):
        if block.edition == edition and block.above_60 == above_60 and block.holds(shape, slope):
            return block
    return None
