"""Attachment by zone: spacing, area and demand together; nothing beyond what was tested."""

from __future__ import annotations

import math

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec.structs import replace

from cleatmark.uplift import runs as tested
from cleatmark.uplift.attachment import Demand, Panel, attachment, buildable_spacings

WIDE = tested.TestedRun(24, 52.5, "clip released", "T-1", "1", inward_psf=30)
CLOSE = tested.TestedRun(12, 90.0, "clip released", "T-1", "2")
SEAM = tested.TestedRun(12, 80.0, "seam opened", "T-2", "1")
PANEL = Panel(16, screws_per_clip=2)


def falling(zone: str, area: float) -> Demand:
    """Demand that falls with the area, as GCp does."""
    return Demand({"1": 40.0, "3": 70.0}[zone] - 8 * math.log10(area), 9.6)


def test_the_area_is_the_clips_own_and_solved_with_the_demand() -> None:
    """At 24 in: 24 x 16 / 144 = 2.667 sq ft; 40 - 8 log10(2.667) = 36.59 psf against 52.5."""
    found = attachment(["1", "3"], falling, PANEL, [WIDE, CLOSE])
    field, corner = found.zones
    assert field.chosen is not None
    assert field.chosen.area_sqft == pytest.approx(24 * 16 / 144)
    assert field.chosen.demand_psf == pytest.approx(36.59, abs=0.01)
    assert field.chosen.ratio == pytest.approx(36.59 / 52.5, abs=0.001)
    assert corner.chosen is not None
    assert (corner.chosen.spacing_in, corner.chosen.allowable_psf) == (12, 90)
    assert corner.chosen.demand_psf == pytest.approx(70 - 8 * math.log10(12 * 16 / 144))


def test_counts_and_one_spacing_everywhere() -> None:
    """1,000 sq ft at 24 x 16 in: 375 clips; 100 sq ft at 12 in: 75. At 12 in everywhere: 750 + 75."""
    found = attachment(["1", "3"], falling, PANEL, [WIDE, CLOSE], surfaces={"1": 1000, "3": 100})
    assert [(zone.clips, zone.screws) for zone in found.zones] == [(375, 750), (75, 150)]
    assert (found.clips, found.everywhere_in, found.everywhere_clips) == (450, 12, 825)


def test_a_test_shows_no_wider_spacing() -> None:
    assert tested.shown_at([CLOSE], 16) is None
    assert attachment(["1"], falling, PANEL, [CLOSE], supports_in=24).zones[0].verdict == "not shown"


def test_a_tighter_spacing_is_shown_by_a_wider_test() -> None:
    found = tested.shown_at([WIDE], 16)
    assert found is not None
    assert found.allowable_psf == 52.5
    assert "wider" in found.steps[0]


LEAVE = "county, 4.1"


def with_leave(run: tested.TestedRun) -> tested.TestedRun:
    return replace(run, leave=LEAVE)


def test_interpolation_needs_leave_for_both_runs_and_one_failure_mode() -> None:
    """Between 90 at 12 in and 52.5 at 24 in: 90 - 37.5 x 4/12 = 77.5 at 16 in."""
    bare = (tested.TestedRun(24, 52.5, leave=LEAVE), tested.TestedRun(12, 90, leave=LEAVE))
    for pair in (
        (WIDE, CLOSE),
        (with_leave(WIDE), CLOSE),
        (WIDE, with_leave(CLOSE)),
        (with_leave(WIDE), with_leave(SEAM)),
        bare,
    ):
        plain = tested.shown_at(pair, 16)
        assert plain is not None
        assert plain.allowable_psf == 52.5
        assert not plain.interpolated
    allowed = tested.shown_at([with_leave(WIDE), with_leave(CLOSE)], 16)
    assert allowed is not None
    assert allowed.allowable_psf == pytest.approx(77.5)
    assert allowed.interpolated
    assert LEAVE in allowed.steps[0]


def test_interpolation_never_reaches_beyond_what_was_tested() -> None:
    pair = [with_leave(WIDE), with_leave(CLOSE)]
    assert tested.shown_at(pair, 24.5) is None
    tighter = tested.shown_at(pair, 8)
    assert tighter is not None
    assert (tighter.allowable_psf, tighter.interpolated) == (90, False)


def test_interpolation_does_not_pass_over_a_run_between() -> None:
    poor = tested.TestedRun(18, 55, "seam opened", "T-3", "1", leave=LEAVE)
    found = tested.shown_at([with_leave(WIDE), with_leave(CLOSE), poor], 16)
    assert found is not None
    assert found.allowable_psf == 55


def test_clips_land_on_purlins_or_ribs() -> None:
    assert buildable_spacings([WIDE], supports_in=7) == (21, 14, 7)
    assert buildable_spacings([tested.TestedRun(60, 40)], supports_in=60) == (60,)
    assert buildable_spacings([WIDE], supports_in=30) == ()
    assert buildable_spacings([WIDE, CLOSE]) == (24, 12)


def test_a_zone_that_no_spacing_holds() -> None:
    found = attachment(["3"], lambda zone, area: Demand(120.0), PANEL, [WIDE, CLOSE])
    assert found.zones[0].verdict == "does not hold"
    assert found.zones[0].chosen is None
    assert "120.0 psf and the allowable 90.0 psf" in found.zones[0].message
    assert found.everywhere_in is None


def test_a_message_names_the_zone_once() -> None:
    for name, head in (("3", "Zone 3: clips"), ("Zone 1'", "Zone 1': clips"), ("corner", "Corner: clips")):
        (zone,) = attachment([name], lambda z, a: Demand(10.0), PANEL, [WIDE]).zones
        assert zone.message.startswith(head)


def test_a_refused_demand_is_not_shown() -> None:
    found = attachment(
        ["2"], lambda zone, area: Demand(None, refused="Fig. X is not on file."), PANEL, [WIDE]
    )
    assert found.zones[0].verdict == "not shown"
    assert "Fig. X is not on file." in found.zones[0].message


def test_inward_capacity() -> None:
    """Shown by the wide run at its own spacing and tighter; by the close run alone it is not."""

    def inward(psf: float, run: tested.TestedRun) -> str:
        return attachment(["1"], lambda zone, area: Demand(10.0, psf), PANEL, [run]).zones[0].inward

    assert inward(29.0, WIDE) == "holds"
    assert inward(29.0, CLOSE) == "not shown"


def test_a_spacing_that_fails_inward_does_not_hold() -> None:
    """At 24 in 30 psf inward are shown and 35 asked; the close run shows 50."""
    close = replace(CLOSE, inward_psf=50)
    (zone,) = attachment(["1"], lambda z, a: Demand(10.0, 35.0), PANEL, [WIDE, close]).zones
    assert [(item.spacing_in, item.verdict, item.inward) for item in zone.tried] == [
        (24, "does not hold", "does not hold"),
        (12, "holds", "holds"),
    ]
    assert "Inward: demand 35.0 psf, allowable 50.0 psf, holds." in zone.message
    (alone,) = attachment(["1"], lambda z, a: Demand(10.0, 35.0), PANEL, [WIDE]).zones
    assert alone.verdict == "does not hold"
    assert "Inward: demand 35.0 psf, allowable 30.0 psf, does not hold." in alone.message


@settings(deadline=None)
@given(
    demand=st.floats(1, 200),
    spacings=st.lists(st.floats(6, 60), min_size=1, max_size=5, unique=True),
    allowables=st.lists(st.floats(10, 150), min_size=5, max_size=5),
)
def test_what_is_chosen_was_tested_and_holds(
    demand: float, spacings: list[float], allowables: list[float]
) -> None:
    plain = [
        tested.TestedRun(spacing, allowable, "clip released")
        for spacing, allowable in zip(spacings, allowables, strict=False)
    ]
    for rows in (plain, [with_leave(run) for run in plain]):
        zone = attachment(["1"], lambda z, a: Demand(demand), PANEL, rows, supports_in=7).zones[0]
        if zone.chosen is not None:
            assert zone.chosen.spacing_in <= max(spacings)
            assert zone.chosen.allowable_psf is not None
            assert demand <= zone.chosen.allowable_psf <= max(allowables)


@settings(deadline=None)
@given(demand=st.floats(20, 120), better=st.floats(0, 40))
def test_a_better_run_never_gives_a_tighter_spacing(demand: float, better: float) -> None:
    """At fixed demand."""

    def chosen(extra: float) -> float:
        rows = [tested.TestedRun(24, 52.5 + extra, "a"), tested.TestedRun(12, 90 + extra, "a")]
        found = attachment(["1"], lambda z, a: Demand(demand), PANEL, rows).zones[0].chosen
        return found.spacing_in if found else 0.0

    assert chosen(better) >= chosen(0.0)
