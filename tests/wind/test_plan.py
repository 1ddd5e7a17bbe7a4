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
    found = drawn()
    root = etree.fromstring(found.svg.encode())
    _, _, wide, high = (float(part) for part in root.get("viewBox", "").split())
    assert wide == 720
    assert struct.unpack(">II", png[16:24]) == pytest.approx((wide * PNG_ZOOM, high * PNG_ZOOM), abs=2)


@pytest.mark.parametrize("units", ["US", "SI"])
def test_words_come_to_eight_points_where_the_sheet_is_as_wide_as_the_text_of_a_page(units: str) -> None:
    """6.5 in of text on a Letter page: 720 units are 468 points. Names inside narrow zones may be of 7."""
    for changes in (
        {},
        {"shape": "gable", "slope": "3:12"},
        {"plan": "180 ft x 100 ft; 80 ft x 90 ft at 0 ft, 100 ft"},
    ):
        root = etree.fromstring(drawn(units, **changes).svg.encode())
        for element in root.iter("{http://www.w3.org/2000/svg}text"):
            named = element.get("font-weight") == "bold"
            assert float(element.get("font-size", "0")) * 468 / 720 >= (6.8 if named else 8), element.text


def test_nothing_is_drawn_beyond_the_sheet() -> None:
    root = etree.fromstring(drawn(plan="180 ft x 100 ft; 80 ft x 90 ft at 0 ft, 100 ft").svg.encode())
    high = float(root.get("viewBox", "").split()[3])
    lows = [float(element.get("y", "0")) for element in root.iter("{http://www.w3.org/2000/svg}text")]
    assert high - 30 < max(lows) < high


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
        "Roof plan to scale, 1 in = 20 ft: a rectangle, 120'-0\" by 80'-0\". Zones by ASCE 7-16, Fig. 30.3-2A: zone 1' "
        "1,200 sq ft in 1 part; zone 1 3,300 sq ft in 1 part; zone 2 4,600 sq ft in 1 part; zone 3 500 sq ft in 4 "
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


def texts_of(found: Drawing) -> list[str]:
    root = etree.fromstring(found.svg.encode())
    return [element.text or "" for element in root.iter("{http://www.w3.org/2000/svg}text")]


def test_the_key_gives_every_width() -> None:
    """h = 20 ft: zones 1 and 2 are 12 ft wide, the legs of zone 3 4 ft wide and 12 ft long."""
    texts = texts_of(drawn(mean_height="20 ft"))
    for expected in (
        "field",
        "field, 12'-0\" wide",
        "perimeter, 12'-0\" wide",
        "corner, 4'-0\" wide, 12'-0\" long",
    ):
        assert expected in texts


def test_a_width_too_short_to_dimension_stands_in_the_key_alone() -> None:
    """600 x 60 ft at 1 in = 100 ft: strips of 8.4 ft are a twelfth of an inch on the sheet."""
    texts = texts_of(drawn(length="600 ft", width="60 ft", mean_height="14 ft"))
    assert "8'-5\"" not in texts
    assert "2" not in texts
    assert "perimeter, 8'-5\" wide" in texts


def test_a_zone_that_the_roof_does_not_have_is_not_dimensioned() -> None:
    """20 x 12 ft, h = 10 ft: zones 2 and 3 alone; 6 ft stands once, for the length of a corner leg."""
    texts = texts_of(drawn(length="20 ft", width="12 ft", mean_height="10 ft"))
    assert texts.count("6'-0\"") == 1


@pytest.mark.parametrize("units", ["US", "SI"])
@pytest.mark.parametrize("side", ["3 ft", "47 ft", "120 ft", "333 ft", "2000 ft", "3000000 ft"])
def test_the_scale_bar_stays_on_the_sheet(side: str, units: str) -> None:
    svg = drawn(units, length=side, width=side).svg
    ends = [
        float(x) + float(wide)
        for x, wide in re.findall(r'<rect x="([\d.]+)" y="[\d.]+" width="([\d.]+)" height="7"', svg)
    ]
    assert len(ends) == 4
    assert max(ends) <= 720 - 40
