"""The sample addendum changes the class from 90 to 60 and deletes a paragraph: the review shows both."""

from __future__ import annotations

import filecmp
import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from cleatmark.report.docx_report import docx_bytes
from cleatmark.report.html_report import html_text
from cleatmark.report.json_report import to_json
from cleatmark.report.text import review_text
from cleatmark.review.model import Review
from cleatmark.review.run import run_reviews

ROOT = Path(__file__).resolve().parents[2]
LIBRARY = ROOT / "samples" / "library"


@pytest.fixture(scope="module")
def review() -> Review:
    (made,) = run_reviews(LIBRARY / "job_addendum.yaml", [LIBRARY / "submittals" / "a_tested.yaml"])
    return made


def findings(review: Review, rule: str) -> list[dict[str, Any]]:
    return [finding for finding in to_json(review)["findings"] if finding["rule"] == rule]


def test_the_builder_writes_the_same_bytes(tmp_path: Path) -> None:
    target = tmp_path / "addendum.docx"
    order = [sys.executable, "-m", "samples.library.build_addendum", str(target)]
    subprocess.run(order, cwd=ROOT, check=True, timeout=120)
    assert filecmp.cmp(target, LIBRARY / "addendum_1.docx", shallow=False)


def test_the_changed_class_cites_paragraph_and_item(review: Review) -> None:
    (finding,) = findings(review, "uplift_class")
    assert "class 60 is specified" in finding["message"]
    cited = {c["where"]: c for c in finding["citations"] if c["kind"] == "spec"}
    assert set(cited) == {"07 41 13, 1.03.B", "Addendum 1, item 2.A"}
    assert cited["Addendum 1, item 2.A"]["dated"] == "July 1, 2026"
    assert "Class 60" in cited["Addendum 1, item 2.A"]["quote"]


def test_the_deleted_paragraph_asks_for_nothing(review: Review) -> None:
    (before,) = run_reviews(LIBRARY / "job.yaml", [LIBRARY / "submittals" / "a_tested.yaml"])
    assert findings(before, "air_test")[0]["verdict"] == "complies"
    assert findings(review, "air_test")[0]["verdict"] == "does not apply"
    assert not [stated for stated in review.stated if stated.clause == "1.03.H"]


def test_the_report_says_what_was_amended_in_every_form(review: Review) -> None:
    shown = " ".join(review_text(review, full=True).split())
    assert "as amended by Addendum 1 of July 1, 2026" in shown
    assert "Addendum 1, item 2.A revises 1.03.B." in shown
    assert "[Addendum 1, item 2.B] [07 41 13, 1.03.H]" in shown
    assert "Addendum 1, item 2.F could not be placed: there is no paragraph 1.09.A" in shown
    assert "item 2.B" in html_text(review)
    assert docx_bytes(review)
    items = to_json(review)["amendments"]
    assert [item["did"] for item in items] == ["revised", "deleted", "changed", "revised", "added", ""]
    assert json.dumps(items)


def test_the_notice_counts_what_is_about_other_sections(review: Review) -> None:
    assert "Addendum 1: 1 item is about other sections, and not read" in review.notices
