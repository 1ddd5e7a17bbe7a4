"""The review as one HTML file: nothing to load, nothing that runs."""

from __future__ import annotations

import os
from base64 import b64encode
from collections.abc import Iterable
from importlib.resources import files
from itertools import groupby
from typing import Any
from zlib import crc32

from jinja2 import DictLoader, Environment, StrictUndefined
from markupsafe import Markup
from msgspec import Struct
from msgspec.structs import replace

from cleatmark.report import blocks as b
from cleatmark.report.blocks import Block, Spans, anchors_of
from cleatmark.report.clean import clean, inline
from cleatmark.report.content import blocks
from cleatmark.report.saving import save
from cleatmark.report.svg import safe_svg
from cleatmark.report.widths import broken
from cleatmark.report.words import TITLE
from cleatmark.review.model import Plan, Review


class Section(Struct):
    """What stands under one heading of the page."""

    heading: b.Heading
    anchor: str
    blocks: list[Block]


def html_text(review: Review) -> str:
    """The full report as the text of an HTML file."""
    job, submittal = review.job, review.submittal
    title = " – ".join(part for part in (TITLE, job.name, submittal.id) if part)
    foot = " · ".join(part for part in (job.name, job.section, submittal.id, job.date) if part)
    return page_text(title, foot, blocks(review, full=True))


def page_text(title: str, foot: str, made: Iterable[Block]) -> str:
    """Blocks as the text of an HTML file; they begin with a heading."""
    made = tuple(made)
    first, *sections = _sections(made)
    page = _environment().get_template("report.html.j2")
    return page.render(title=title, head=first, sections=sections, anchors=anchors_of(made), foot=foot)


def write_html(review: Review, path: str | os.PathLike[str]) -> None:
    """Write the full report to `path`, whole or not at all. InputError where it cannot be written."""
    save(html_text(review).encode("utf-8"), path)


def _sections(made: Iterable[Block]) -> list[Section]:
    sections: list[Section] = []
    for block in made:
        if isinstance(block, b.Heading) and block.level <= 2:
            anchor = block.anchor or f"part-{len(sections)}"
            sections.append(Section(block, anchor, []))
        else:
            sections[-1].blocks.append(block)
    return sections


def _environment() -> Environment:
    folder = files("cleatmark.report").joinpath("templates")
    names = ("report.html.j2", "report.css")
    loader = DictLoader({name: folder.joinpath(name).read_text("utf-8") for name in names})
    environment = Environment(
        loader=loader,
        autoescape=True,
        undefined=StrictUndefined,
        trim_blocks=True,
        lstrip_blocks=True,
        finalize=_fit,
    )
    environment.filters["kind"] = lambda block: type(block).__name__
    environment.filters["slug"] = lambda text: text.replace(" ", "-")
    environment.filters["drawing"] = _drawing
    environment.filters["under"] = _under
    environment.filters["loose"] = _loose
    return environment


def _fit(value: Any) -> Any:
    """Every text that the template puts out is cleaned here; what is markup already is our own."""
    return inline(value) if isinstance(value, str) and not isinstance(value, Markup) else value


def _under(lines: Iterable[tuple[str, Spans]]) -> list[tuple[str, list[Spans]]]:
    """Lines that follow each other under one label, together."""
    return [(label, [held for _, held in group]) for label, group in groupby(lines, key=lambda line: line[0])]


def _loose(cell: Spans) -> Spans:
    """A cell's spans, with what is too long for a column left to break."""
    return tuple(replace(span, text=broken(span.text)) for span in cell)


def _drawing(plan: Plan) -> Markup:
    """The plan as inline SVG, else as a picture held in the file, else nothing."""
    drawing = safe_svg(plan.svg, clean(plan.alt), _prefix(plan)) if plan.svg else ""
    if not drawing and plan.png:
        source = f"data:image/png;base64,{b64encode(plan.png).decode('ascii')}"
        return Markup('<img alt="{}" src="{}">').format(clean(plan.alt), source)
    return Markup(drawing)


def _prefix(plan: Plan) -> str:
    """What sets the plan's ids apart from those of the other plans on the page."""
    return f"plan-{crc32(plan.svg.encode('utf-8', 'replace')):08x}-"
