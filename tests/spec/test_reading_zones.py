"""Which zone a value is for, and lengths that say how wide a zone is."""

from __future__ import annotations

import pytest
from reading_build import found


@pytest.mark.parametrize(
    "text",
    [
        "Clip spacing: 24 inches on center, 12 inches on center in perimeter and corner zones.",
        "Clips at 24 inches on center generally and 12 inches on center within the perimeter and corner zones.",
        "Space clips at 24 inches on center; 12 inches on center in perimeter and corner zones.",
    ],
)
def test_a_value_for_the_roof_stands_before_one_for_two_zones(text: str) -> None:
    assert found(text, "clips") == {
        "clip.spacing at most 24 in",
        "clip.spacing at most 12 in @perimeter",
        "clip.spacing at most 12 in @corner zones",
    }


@pytest.mark.parametrize(
    "text",
    [
        "Wind uplift pressures: 20, 30 and 45 psf in Zones 1, 2 and 3 respectively.",
        "Wind uplift pressures for Zones 1, 2 and 3: 20, 30 and 45 psf, respectively.",
        "Wind uplift: 20 psf, 30 psf, and 45 psf in Zones 1, 2, and 3.",
        "Wind uplift: 20 psf Zone 1; 30 psf Zone 2; 45 psf Zone 3.",
        "Wind uplift: Zone 1, 20 psf; Zone 2, 30 psf; Zone 3, 45 psf.",
    ],
)
def test_a_list_of_values_goes_with_a_list_of_zones(text: str) -> None:
    assert found(text) == {
        "uplift.pressure equal -20 psf @zone 1",
        "uplift.pressure equal -30 psf @zone 2",
        "uplift.pressure equal -45 psf @zone 3",
    }


@pytest.mark.parametrize(
    "text",
    [
        "Edge zone width: 18 feet 7 inches.",
        "Corner zone: 10 feet wide.",
        "Width of edge strip: 8 feet.",
        "Zone 2 is a strip 12 feet wide along the eaves.",
        "Perimeter zone extends 10 feet from the edge.",
    ],
)
def test_the_width_of_a_zone_is_no_panels_width(text: str) -> None:
    assert found(text, "panels") == set()


@pytest.mark.parametrize(
    ("text", "asked"),
    [
        ("End zones are 12 feet wide; panels are 16 inches wide.", {"panel.width equal 16 in"}),
        (
            "Panels 16 inches wide in the field, 12 inches wide in corner zones.",
            {"panel.width equal 16 in @field", "panel.width equal 12 in @corner zones"},
        ),
        ("Panels: corner, 12 inches wide.", {"panel.width equal 12 in"}),
    ],
)
def test_the_width_of_a_panel_beside_a_zone_is_read(text: str, asked: set[str]) -> None:
    assert {
        item.replace(" @corner", "") if "zones" not in item else item for item in found(text, "panels")
    } == asked


@pytest.mark.parametrize(
    "text",
    [
        "Clips at 24 in. o.c.; at eaves and rakes, for a width of 6 feet, 8 in. o.c.",
        "Clips at 24 in. o.c.; for a distance of 6 feet, at eaves and rakes, 8 in. o.c.",
        "Clips at 24 in. o.c.; at eaves and rakes (6 feet) 8 in. o.c.",
    ],
)
def test_how_far_a_spacing_goes_is_no_spacing(text: str) -> None:
    assert found(text, "clips") == {
        "clip.spacing at most 24 in",
        "clip.spacing at most 8 in @eaves",
        "clip.spacing at most 8 in @rakes",
    }


def test_feet_and_inches_behind_a_comma_are_one_length() -> None:
    assert found("Purlins at 5 feet, 6 inches on center.") >= {"support.spacing at most 66 in"}


@pytest.mark.parametrize(
    "text",
    [
        "Reference velocity wind pressure 0.55 kPa.",
        "Hourly wind pressure q(1/50): 0.44 kPa.",
        "Velocity pressure qh = 24.3 psf.",
    ],
)
def test_the_pressure_of_the_climate_is_no_uplift(text: str) -> None:
    assert found(text) == set()
    assert found(text.rstrip(".") + "; net uplift in Zone 1: 40 psf.") == {
        "uplift.pressure equal -40 psf @zone 1"
    }


@pytest.mark.parametrize(
    "text",
    [
        "Panels 16 inches wide, in one length from eave to ridge.",
        "Panels: 16 inches wide, continuous from eave to the ridge.",
        "Panels 16 inches wide without end laps between eave and ridge.",
    ],
)
def test_the_run_of_a_panel_is_no_zone(text: str) -> None:
    assert "panel.width equal 16 in" in found(text, "panels")


def test_the_mass_of_a_coating_is_no_thickness() -> None:
    for text in (
        "Panels: 24 gauge steel, aluminum-zinc coating of 0.55 ounces per square foot.",
        "Panels: 24 gauge steel, coating weight 0.55 oz/sq. ft.",
        "Panels: 24 gauge steel with a coating mass of 0.55 oz per square foot.",
    ):
        told = found(text, "panels")
        assert [item for item in told if "thickness" in item] == ["panel.thickness equal 24 ga"], text
    assert "panel.thickness equal 0.0216 in" in found("Panels: 16 oz copper.", "panels")
