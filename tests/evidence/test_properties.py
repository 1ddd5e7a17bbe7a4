"""What must hold of any job, at fixed demand: a safer roof is never judged worse, a greater demand never better, and
a fact taken away never makes a pass."""

from __future__ import annotations

from collections.abc import Iterator
from copy import deepcopy
from fractions import Fraction
from itertools import pairwise
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from .stage import ROOF, Tree, changed, report, reviewed, stated
from .test_listings import listing

PASS = 2
RANK = {"deviates": 0, "not shown": 1, "complies": PASS, "does not apply": PASS}
SPEC = (
    stated("uplift.class", "90", relation="at least", kind="class", verb="tested"),
    stated("panel.width", "16 in", relation="at most", kind="length"),
    stated("panel.thickness", "24 ga", relation="at least", kind="thickness"),
    stated("clip.spacing", "24 in", relation="at most", kind="length"),
    stated("listing_body", "UL", relation="required"),
)
JUDGED = ("uplift_class", "zone_uplift", "panel_width", "panel_thickness", "clip_spacing", "ul", "insurer_fm")
STEPS = {
    "panel.width": ["24 in", "20 in", "18 in", "16 in", "14 in", "12 in"],
    "panel.thickness": ["26 ga, nominal", "24 ga, nominal", "22 ga, nominal", "20 ga, nominal"],
    "panel.yield_strength": ["33 ksi, minimum", "40 ksi, minimum", "50 ksi, minimum", "80 ksi, minimum"],
    "panel.seam_height": ["1-1/2 in", "2 in", "2-1/2 in"],
    "clip.thickness": ["18 ga", "16 ga", "14 ga"],
    "clip.spacing": ["36 in", "30 in", "24 in", "18 in", "12 in"],
    "fastener.size": ["No. 8", "No. 9", "No. 10", "No. 12", "No. 14"],
    "fastener.length": ["1 in", "1-1/2 in", "2 in"],
    "fastener.head": ["0.400 in", "0.435 in", "0.500 in"],
    "fastener.count": ["1", "2", "3"],
    "fastener.penetration": ["7/16 in", "15/32 in", "19/32 in"],
    "deck.thickness": ["7/16 in", "15/32 in", "19/32 in"],
    "deck.fastener_spacing": ["12 in", "6 in", "4 in"],
    "support.spacing": ["32 in", "24 in", "16 in"],
}
"""Values of the proposal from worse to better, as the substitution rules have it. Common practice, no source."""

# Four papers of one roof, of which some cover it and some do not.
PAPERS = (
    report(ROOF),
    report(
        changed(ROOF, clip__spacing="12 in"),
        {
            "id": "1",
            "standard": "UL 1897",
            "edition": "2015",
            "held": "165 psf",
            "failure_mode": "seam opened",
        },
        id="T-2",
    ),
    listing({"text": "Deck nailed to supports", "state": "on contract documents", "where": "Sheet S-1"}),
    report(
        changed(ROOF, panel__manufacturer="Another Maker (invented)"),
        {
            "id": "1",
            "standard": "UL 1897",
            "edition": "2015",
            "held": "240 psf",
            "failure_mode": "seam opened",
        },
        id="T-4",
    ),
)
papers = st.lists(st.sampled_from(range(len(PAPERS))), min_size=1, max_size=4, unique=True)
proposals = st.fixed_dictionaries(
    {},
    optional={field: st.integers(0, len(steps) - 1) for field, steps in STEPS.items()},
)


def offered(levels: dict[str, int]) -> Tree:
    return changed(ROOF, **{f.replace(".", "__"): STEPS[f][level] for f, level in levels.items()})


def demand(psf: Fraction) -> Tree:
    zones = {"field": f"-{float(psf / 2):.2f} psf", "corner": f"-{float(psf):.2f} psf"}
    return {"pressures": [{"source": "Sheet S-001", "level": "allowable", "zones": zones}]}


def verdicts(proposed: Tree, documents: list[Tree], **job: Any) -> dict[str, str]:
    review = reviewed(proposed, *documents, spec=SPEC, job=job)
    return {finding.rule: finding.verdict for finding in review.findings}


@settings(max_examples=40, deadline=None)
@given(proposals, st.sampled_from(sorted(STEPS)), papers, st.sampled_from([20, 52, 53, 80, 120]))
def test_a_safer_attribute_is_never_judged_worse(
    levels: dict[str, int], field: str, chosen: list[int], psf: int
) -> None:
    documents = [PAPERS[n] for n in chosen]
    start = STEPS[field].index(_now(field, levels))
    ranks = []
    for level in range(start, len(STEPS[field])):
        found = verdicts(offered({**levels, field: level}), documents, **demand(Fraction(psf)))
        ranks.append({rule: RANK[found[rule]] for rule in JUDGED})
    for worse, better in pairwise(ranks):
        lost = {rule for rule in JUDGED if worse[rule] == PASS and better[rule] < PASS}
        assert not lost


def _now(field: str, levels: dict[str, int]) -> str:
    group, name = field.split(".")
    return STEPS[field][levels[field]] if field in levels else ROOF[group][name]


@settings(max_examples=30, deadline=None)
@given(proposals, papers, st.integers(10, 130), st.integers(1, 60))
def test_a_greater_demand_is_never_judged_better(
    levels: dict[str, int], chosen: list[int], psf: int, more: int
) -> None:
    documents = [PAPERS[n] for n in chosen]
    less = verdicts(offered(levels), documents, **demand(Fraction(psf)))
    greater = verdicts(offered(levels), documents, **demand(Fraction(psf + more)))
    assert RANK[greater["zone_uplift"]] <= RANK[less["zone_uplift"]]


def leaves(node: Any, path: tuple[Any, ...] = ()) -> Iterator[tuple[Any, ...]]:
    """Paths of all values below a node."""
    items = node.items() if isinstance(node, dict) else enumerate(node) if isinstance(node, list) else ()
    for key, value in items:
        if isinstance(value, dict | list):
            yield from leaves(value, (*path, key))
        else:
            yield (*path, key)


def without(node: Any, path: tuple[Any, ...]) -> Any:
    out = deepcopy(node)
    parent = out
    for key in path[:-1]:
        parent = parent[key]
    if isinstance(parent, list):
        parent.pop(path[-1])
    else:
        del parent[path[-1]]
    return out


@settings(max_examples=60, deadline=None)
@given(proposals, papers, st.sampled_from([20, 52, 53, 80, 120]), st.data())
def test_a_fact_taken_away_never_makes_a_pass(
    levels: dict[str, int], chosen: list[int], psf: int, data: st.DataObject
) -> None:
    whole = {"proposed": offered(levels), "documents": [PAPERS[n] for n in chosen]}
    places = [path for path in leaves(whole) if path[-1] not in ("id", "text")]
    less = without(whole, data.draw(st.sampled_from(places)))
    before = verdicts(whole["proposed"], whole["documents"], **demand(Fraction(psf)))
    after = verdicts(less["proposed"], less["documents"], **demand(Fraction(psf)))
    gained = {
        rule for rule, v in before.items() if v in ("deviates", "not shown") and after[rule] == "complies"
    }
    assert not gained
