"""A roof plan as a picture in a DOCX: its words for those who cannot see it, its white edge left away."""

from __future__ import annotations

from io import BytesIO

from docx.oxml import OxmlElement
from docx.oxml.ns import qn
from docx.shape import InlineShape
from docx.shared import Emu
from docx.text.paragraph import Paragraph

from cleatmark.report.clean import clean
from cleatmark.report.drawn import drawn_box, sheet_of
from cleatmark.report.svg import drawing_of
from cleatmark.review.model import Plan


def draw(holder: Paragraph, plan: Plan, width: int, height: int, close: bool) -> None:
    """The plan's PNG, as large as fits in width and height (EMU); `close` without its title and key."""
    shape = holder.add_run().add_picture(BytesIO(plan.png))
    _crop(shape, plan.svg, close)
    scale = min(width / shape.width, height / shape.height)
    shape.height, shape.width = Emu(int(shape.height * scale)), Emu(int(shape.width * scale))
    shape._inline.docPr.set("descr", clean(plan.alt))
    shape._inline.docPr.set("title", clean(plan.name))


def _crop(shape: InlineShape, svg: str, close: bool) -> None:
    """Leaves away the white edge of a picture that was made of the drawing."""
    root = drawing_of(svg)
    sheet = sheet_of(root) if root is not None else None
    box = drawn_box(root, close) if root is not None else None
    if sheet is None or box is None:
        return
    left, top = (box[0] - sheet[0]) / sheet[2], (box[1] - sheet[1]) / sheet[3]
    wide, high = box[2] / sheet[2], box[3] / sheet[3]
    edges = {"l": left, "t": top, "r": 1 - left - wide, "b": 1 - top - high}
    cut = OxmlElement("a:srcRect")
    for name, share in edges.items():
        cut.set(name, str(round(share * 100_000)))
    fill = next(shape._inline.iter(qn("pic:blipFill")))
    fill.insert(1, cut)
    shape.width, shape.height = Emu(int(shape.width * wide)), Emu(int(shape.height * high))
