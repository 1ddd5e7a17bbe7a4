"""Tables typed as paragraphs, with bars between their cells or tabs that are no more than spaces."""

from __future__ import annotations

from reading_build import clause, read, told

from cleatmark.spec.clauses import Clause
from cleatmark.spec.typed_tables import tabled


def rows(lead: str, *lines: str, article: str = "performance") -> list[Clause]:
    """A lettered paragraph and the lines below it. A line "1> 30" bears the label "1"."""
    out = [clause(lead, article)]
    for ordinal, line in enumerate(lines, 1):
        label, mark, text = line.partition("> ")
        out.append(
            clause(text if mark else line, article, (lead,), ordinal=ordinal, label=label if mark else "")
        )
    return out


def stated(*clauses: Clause) -> list[str]:
    """What the clauses state, in short."""
    return [told(item) for item in read(*clauses).stated]


def test_columns_set_with_tabs_under_their_headings() -> None:
    lines = ("Zone Ultimate ASD", "1> -50 -30", "2> -80 -48")
    assert set(stated(*rows("Uplift pressures, psf:", *lines))) == {
        "uplift.pressure equal -50 psf @zone 1 strength",
        "uplift.pressure equal -30 psf @zone 1 allowable",
        "uplift.pressure equal -80 psf @zone 2 strength",
        "uplift.pressure equal -48 psf @zone 2 allowable",
    }


def test_words_before_the_numbers_are_the_row() -> None:
    lines = ("Location Positive Negative", "Field 16.0 33.5", "Corners 16.0 71")
    assert set(stated(*rows("Allowable wind pressures, psf:", *lines))) == {
        "uplift.pressure equal 16 psf @field allowable",
        "uplift.pressure equal -33.5 psf @field allowable",
        "uplift.pressure equal 16 psf @corners allowable",
        "uplift.pressure equal -71 psf @corners allowable",
    }


def test_areas_over_columns() -> None:
    lines = ("Zone 10 sf 100 sf", "Zone 1 -30 -26", "Zone 3 -70 -50")
    assert set(stated(*rows("Roof uplift, ASD, psf:", *lines))) == {
        "uplift.pressure equal -30 psf @zone 1 10sf allowable",
        "uplift.pressure equal -26 psf @zone 1 100sf allowable",
        "uplift.pressure equal -70 psf @zone 3 10sf allowable",
        "uplift.pressure equal -50 psf @zone 3 100sf allowable",
    }


def test_bars_between_cells() -> None:
    lines = ("Zone | Clip spacing, inches | Screws", "Field | 24 | 2", "Corner | 12 | 2")
    found = stated(*rows("Attach panels as follows:", *lines, article="clips"))
    assert [item for item in found if item.startswith("clip.spacing")] == [
        "clip.spacing at most 24 in @field",
        "clip.spacing at most 12 in @corner",
    ]


def test_bars_between_properties_and_roofs() -> None:
    lines = ("Item | Roof A | Roof B", "Metal | Aluminum | Steel", "Panel width | 16 in. | 12 in.")
    assert set(stated(*rows("Roof schedule:", *lines, article="panels"))) == {
        "panel.material required aluminum [Roof A]",
        "panel.material required steel [Roof B]",
        "panel.width equal 16 in [Roof A]",
        "panel.width equal 12 in [Roof B]",
    }


def test_prose_is_no_table() -> None:
    for lines in (
        ("Zone 1", "Panels 16 18", "Sheets 20 22"),
        ("Zone Ultimate ASD", "As the engineer directs.", "2> -80 -48"),
        ("Zone Ultimate ASD", "1> -50 -30"),
    ):
        clauses = tuple(rows("Pressures:", *lines))
        assert tabled(clauses) == clauses
