"""Papers passed over for their date or their kind are named where nothing covers."""

from __future__ import annotations

import shutil
from pathlib import Path

from cleatmark.review.model import Review
from cleatmark.review.run import run_reviews

SCHOOL = Path(__file__).parents[2] / "samples" / "coastal_school"


def message(review: Review, rule: str) -> str:
    return next(finding.message for finding in review.findings if finding.rule == rule)


def school(folder: Path, submittal: str, drop: str = "", job_drop: str = "") -> Review:
    for name in ("job.yaml", "spec.docx", "district.rules"):
        shutil.copy(SCHOOL / name, folder / name)
    job = folder / "job.yaml"
    lines = job.read_text(encoding="utf-8").splitlines(keepends=True)
    job.write_text("".join(one for one in lines if not job_drop or job_drop not in one), encoding="utf-8")
    lines = (SCHOOL / "submittals" / submittal).read_text(encoding="utf-8").splitlines(keepends=True)
    path = folder / submittal
    path.write_text("".join(one for one in lines if not drop or drop not in one), encoding="utf-8")
    (review,) = run_reviews(job, [path], drawn=False)
    return review


def test_an_approval_that_shows_no_expiry_is_named_as_the_reason(tmp_path: Path) -> None:
    review = school(tmp_path, "a_current.yaml", drop="    expires:")
    told = "OCB-2214 does not count yet: this product approval does not show the date on which it expires."
    for rule in ("zone_uplift", "board_approval", "approval_named", "code_method"):
        assert message(review, rule).endswith(told), rule


def test_without_a_permit_date_that_is_the_reason(tmp_path: Path) -> None:
    review = school(tmp_path, "a_current.yaml", job_drop="permit_date:")
    told = "by which it has to be in force, is not stated."
    assert told in message(review, "approval_named")


def test_a_letter_offered_as_an_approval_is_named_as_no_approval(tmp_path: Path) -> None:
    review = school(tmp_path, "b_expired.yaml")
    letter = "L-31 is offered as a product approval and is a letter, which does not count as one."
    expired = "OCB-1809 does not count: it is expired on the permit date."
    assert message(review, "zone_uplift").endswith(f"{expired} {letter}")


def test_papers_that_count_are_not_told_of(tmp_path: Path) -> None:
    assert not [f for f in school(tmp_path, "c_corner_clips.yaml").findings if "does not count" in f.message]
