"""The JSON report: the shape that programs read, numbers unrounded, the same bytes each time."""

from __future__ import annotations

import json

import pytest
from msgspec.structs import replace

from cleatmark.report.json_report import dumps, to_json
from cleatmark.review.model import STANDING_CAUTIONS

from .fixture import COMPLIES, LISTED, STATES, SWAP

KEYS = {
    "": "job submittal rulebooks answers disposition stated zones evidence findings comparison advice "
    "cautions",
    "stated": "subject relation value unit zone area_sqft scope level clause quote flags",
    "zones": "roof zone area_sqft level required_psf allowable_psf clip_spacing_in ratio document run "
    "refused steps",
    "evidence": "id kind runs conditions",
    "findings": "rule title basis verdict action message remedy found required margin missing ask document "
    "roof rulebook citations",
    "comparison": "property specified proposed tested to_specified to_tested",
}


@pytest.mark.parametrize("state", STATES)
def test_every_named_key_is_there(state: str) -> None:
    made = json.loads(dumps([STATES[state]]))
    assert set(KEYS[""].split()) <= set(made)
    for name in ("stated", "zones", "evidence", "findings", "comparison"):
        for one in made[name]:
            assert set(KEYS[name].split()) <= set(one)
    for finding in made["findings"]:
        assert set(finding["found"]) == set(finding["required"]) == {"text", "value", "unit"}
        assert finding["verdict"] in ("complies", "deviates", "not shown", "does not apply")
        for citation in finding["citations"]:
            assert set(citation) - {"dated"} == {"kind", "where", "quote"}
    for paper in made["evidence"]:
        for run in paper["runs"]:
            assert {"run", "covers", "differences"} <= set(run)
            assert all({"field", "tested", "proposed", "verdict"} <= set(one) for one in run["differences"])
        for condition in paper["conditions"]:
            assert {"text", "field", "state", "unusual", "trade"} <= set(condition)
            assert isinstance(condition["unusual"], bool)
    assert set(made["answers"]) == {"asked", "site"}
    assert made["cautions"][: len(STANDING_CAUTIONS)] == list(STANDING_CAUTIONS)


def test_numbers_are_not_rounded() -> None:
    zone = replace(COMPLIES.zones[0], required_psf=48.2 + 1e-9, ratio=(48.2 + 1e-9) / 52.5)
    made = json.loads(dumps([replace(COMPLIES, zones=(zone,))]))["zones"][0]
    assert made["required_psf"] == 48.2 + 1e-9
    assert made["ratio"] == (48.2 + 1e-9) / 52.5


def test_a_stated_quantity_is_a_number_in_the_unit_beside_it() -> None:
    stated = {one["subject"]: one for one in to_json(COMPLIES)["stated"]}
    assert (stated["uplift.pressure"]["value"], stated["uplift.pressure"]["unit"]) == (48.2, "psf")
    assert (stated["panel.width"]["value"], stated["panel.width"]["unit"]) == (16, "in")
    assert stated["uplift.pressure"]["area_sqft"] == 10
    assert stated["panel.thickness"]["area_sqft"] is None


def test_what_is_not_finite_is_null() -> None:
    zone = replace(COMPLIES.zones[0], ratio=float("inf"), allowable_psf=float("nan"))
    made = json.loads(dumps([replace(COMPLIES, zones=(zone,))]))["zones"][0]
    assert (made["ratio"], made["allowable_psf"]) == (None, None)


def test_one_review_is_an_object_and_several_are_a_list() -> None:
    assert isinstance(json.loads(dumps([COMPLIES])), dict)
    several = json.loads(dumps([COMPLIES, SWAP]))
    assert [one["submittal"]["id"] for one in several] == ["07 41 13-01", "07 41 13-03"]


def test_the_same_review_gives_the_same_text_closed_by_a_newline() -> None:
    run = SWAP.evidence[0].runs[0]
    turned = replace(run, covers_zones=dict(reversed(run.covers_zones.items())))
    other = replace(SWAP, evidence=(replace(SWAP.evidence[0], runs=(turned, SWAP.evidence[0].runs[1])),))
    assert dumps([SWAP]) == dumps([other])
    assert dumps([SWAP]).endswith("}\n")


def test_root_causes_point_to_their_findings() -> None:
    made = to_json(LISTED)
    cause = made["root_causes"][0]
    assert made["findings"][cause["head"]["finding"]]["rule"] == "uplift_class"
    assert [one["rule"] for one in cause["follows"]] == ["zone_uplift"]


def test_control_codes_are_escaped_and_come_back_unchanged() -> None:
    hostile = "\x1b[2J \x9b31m \u202e \ud800 \u2028 é"
    text = dumps([replace(COMPLIES, notices=(hostile,))])
    assert text.encode("utf-8")
    assert not set(text) & set("\x1b\x9b\u202e\ud800\u2028")
    assert "é" in text
    assert json.loads(text)["notices"] == [hostile]
