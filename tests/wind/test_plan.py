"""The roof plan: to scale, readable in black and white, safe to stand in a page, told in words."""

from __future__ import annotations

import re
import struct

import pytest
from lxml import etree

from cleatmark.wind.plan import FONTS, PNG_ZOOM, Drawing, plan_drawing
from cleatmark.wind.report import wind_report

from .given import facts


def drawn(units: str = "US", **changes: str) -> Drawing:
    found = plan_drawing(wind_report(facts(**changes)), units=units)
    assert found is not None
    return found


def test_png_has_the_sheet_size_and_ink() -> None:
    png = drawn().png
    assert png.startswith(b"\x89PNG")
    assert struct.unpack(">II", png[16:24]) == (1056 * PNG_ZOOM, 816 * PNG_ZOOM)


def test_words_are_drawn_with_the_font_that_ships() -> None:
    """Without a font the letters vanish: the same sheet with its text taken out is a smaller picture."""
    found = drawn()
    from cleatmark.wind.plan import png_of

    silent = re.sub(r"<text.*?</text>", "", found.svg)
    assert len(found.png) > len(png_of(silent)) + 5000
    assert (FONTS / "LICENSE.txt").is_file()


def test_black_and_white_only() -> None:
    colours = set(re.findall(r'(?:fill|stroke)="(#[0-9a-f]+)"', drawn().svg))
    assert colours == {"#111", "#fff"}


def test_the_drawing_is_to_the_scale_it_names() -> None:
    svg = drawn().svg
    assert "Scale 1 in = 20 ft" in svg
    outline = re.findall(r'<path d="(M[^"]+) Z" fill="none"', svg)[0]
    xs = [float(x) for x in re.findall(r"[ML] ?(-?[\d.]+) ", outline)]
    assert (max(xs) - min(xs)) / 96 * 20 == pytest.approx(120, abs=0.1)


def test_zone_names_dimensions_and_key() -> None:
    root = etree.fromstring(drawn().svg.encode())
    texts = [element.text for element in root.iter("{http://www.w3.org/2000/svg}text")]
    for expected in ("1'", "3", "120'-0\"", "80'-0\"", "15'-0\"", "5'-0\"", "Zone 2", "4,600 sq ft"):
        assert expected in texts


def test_widths_go_up_to_the_next_inch() -> None:
    """0.6 x 26 ft = 15.6 ft = 15 ft 7.2 in."""
    assert ">15&#x27;-8&quot;<" in drawn(mean_height="26 ft").svg


def test_north_is_drawn_only_where_the_job_gives_it() -> None:
    assert "none drawn" in drawn().svg
    turned = drawn(north="30 deg").svg
    assert "rotate(30)" in turned
    assert "none drawn" not in turned


def test_metric_plan() -> None:
    found = drawn("SI", length="30 m", width="20 m", mean_height="8 m", plan="")
    assert "30.00 m" in found.svg
    assert re.search(r"Scale 1:\d+", found.svg)
    assert "m²" in found.alt


def test_alt_text_tells_what_is_shown() -> None:
    assert drawn().alt == (
        "Roof plan to scale, 1 in = 20 ft: a rectangle, 120'-0\" by 80'-0\". Zones by ASCE 7-16, Fig. 30.3-2A: zone 1 "
        "3,300 sq ft in 1 part; zone 1' 1,200 sq ft in 1 part; zone 2 4,600 sq ft in 1 part; zone 3 500 sq ft in 4 "
        "parts."
    )


def test_strips_that_are_not_divided_say_so() -> None:
    svg = drawn(shape="gable", slope="3:12").svg
    assert "not divided here" in svg
    assert "not on file" in " ".join(re.findall(r">([^<]+)</text>", svg))


def test_no_plan_where_the_layout_is_not_known() -> None:
    assert plan_drawing(wind_report(facts(standard="ASCE 7-22", shape="gable", slope="4:12"))) is None


def test_a_roof_name_cannot_break_the_drawing() -> None:
    found = plan_drawing(wind_report(facts(), roof="<script>&\"'"), png=False)
    assert found is not None
    assert etree.fromstring(found.svg.encode()).tag.endswith("svg")
    assert "<script>" not in found.svg
