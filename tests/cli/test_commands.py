"""The commands as a user calls them: results, exit status, and wrong input."""

from __future__ import annotations

import json
import shutil
from pathlib import Path

import pytest

from cleatmark.cli import main

LIBRARY = Path(__file__).parents[2] / "samples" / "library"
JOB = str(LIBRARY / "job.yaml")
TESTED = str(LIBRARY / "submittals" / "a_tested.yaml")


@pytest.fixture
def library(tmp_path: Path) -> Path:
    return Path(shutil.copytree(LIBRARY, tmp_path / "library"))


def edited(path: Path, old: str, new: str) -> str:
    text = path.read_text(encoding="utf-8")
    assert old in text
    path.write_text(text.replace(old, new, 1), encoding="utf-8")
    return str(path)


def test_status_says_whether_anything_is_open(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", JOB, TESTED]) == 0
    assert main(["review", JOB, str(LIBRARY / "submittals" / "c_quiet_swap.yaml")]) == 1
    assert capsys.readouterr().err == ""


def test_json_is_one_object_and_a_list_for_several(capsys: pytest.CaptureFixture[str]) -> None:
    main(["review", JOB, TESTED, "--format", "json"])
    one = json.loads(capsys.readouterr().out)
    assert one["answers"] == {"asked": "complies", "site": "complies"}
    main(["review", JOB, TESTED, str(LIBRARY / "submittals" / "b_listing.yaml"), "--format", "json"])
    assert [r["submittal"]["id"] for r in json.loads(capsys.readouterr().out)] == [
        "07 41 13-01",
        "07 41 13-02",
    ]


def test_a_misspelt_key_gets_the_near_name(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = edited(library / "submittals" / "a_tested.yaml", "seam_height:", "seam_hight:")
    assert main(["review", str(library / "job.yaml"), file]) == 2
    captured = capsys.readouterr()
    assert captured.out == ""
    assert "seam_hight" in captured.err
    assert 'did you mean "seam_height"?' in captured.err
    assert captured.err.splitlines()[0].startswith(f"{file}:21:")


def test_a_missing_unit_is_told_with_an_example(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = edited(library / "submittals" / "a_tested.yaml", "width: 16 in\n", "width: 16\n")
    assert main(["review", str(library / "job.yaml"), file]) == 2
    assert "16 in" in capsys.readouterr().err


def test_there_is_no_class_95(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    file = edited(library / "submittals" / "a_tested.yaml", "class: 90", "class: 95")
    assert main(["review", str(library / "job.yaml"), file]) == 2
    error = capsys.readouterr().err
    assert "95" in error
    assert "90" in error


def test_a_rule_with_a_wrong_field_points_to_it(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    rules = library / "own.rules"
    rules.write_text(
        'rulebook own "Own"\n  edition 2026-11\n  builds on base\n\n'
        'requirement own_width "Width"\n  basis practice\n  shall proposed.panel.widht at most 16 in\n'
        "  action record\n  source common practice\n",
        encoding="utf-8",
    )
    assert main(["review", JOB, TESTED, "--rules", str(rules)]) == 2
    error = capsys.readouterr().err
    assert "own.rules:7:9: no field is called `proposed.panel.widht`" in error
    assert 'did you mean "proposed.panel.width"?' in error


def test_a_renamed_zip_is_no_specification(library: Path, capsys: pytest.CaptureFixture[str]) -> None:
    shutil.make_archive(str(library / "other"), "zip", library / "submittals")
    (library / "other.zip").replace(library / "spec.docx")
    assert main(["review", str(library / "job.yaml"), TESTED]) == 2
    error = capsys.readouterr().err
    assert "spec.docx" in error
    assert "Traceback" not in error


@pytest.mark.parametrize("name", ["job.yaml", "submittals/a_tested.yaml", "spec.docx"])
def test_a_missing_file_is_named(library: Path, name: str, capsys: pytest.CaptureFixture[str]) -> None:
    (library / name).unlink()
    arguments = ["review", str(library / "job.yaml"), str(library / "submittals" / "a_tested.yaml")]
    assert main(arguments) == 2
    error = capsys.readouterr().err
    assert Path(name).name in error.splitlines()[0]
    assert "Traceback" not in error


def test_an_unknown_rulebook_gets_the_near_name(capsys: pytest.CaptureFixture[str]) -> None:
    assert main(["review", JOB, TESTED, "--rules", "bse"]) == 2
    assert 'did you mean "base"?' in capsys.readouterr().err


def test_reports_are_written_in_the_form_of_their_ending(tmp_path: Path) -> None:
    files = [tmp_path / f"review.{ending}" for ending in ("docx", "html", "json", "txt")]
    main(["review", JOB, TESTED, "--report", *map(str, files)])
    assert [file.stat().st_size > 1000 for file in files] == [True] * 4
    again = tmp_path / "again.docx"
    main(["review", JOB, TESTED, "--report", str(again)])
    assert again.read_bytes() == files[0].read_bytes()


def test_a_report_of_unknown_kind_is_refused_before_the_work(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["review", JOB, TESTED, "--report", str(tmp_path / "review.pdf")]) == 2
    assert ".docx" in capsys.readouterr().err


def test_an_earlier_review_says_what_was_answered(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    earlier = tmp_path / "earlier.json"
    main(["review", JOB, str(LIBRARY / "submittals" / "c_quiet_swap.yaml"), "--report", str(earlier)])
    capsys.readouterr()
    main(["review", JOB, TESTED, "--earlier", str(earlier), "--format", "json"])
    states = {row["rule"]: row["state"] for row in json.loads(capsys.readouterr().out)["earlier"]}
    assert states["deck_type"] == states["zone_uplift"] == "answered"
    earlier.write_text("{}", encoding="utf-8")
    assert main(["review", JOB, TESTED, "--earlier", str(earlier)]) == 2


def test_the_screen_drops_the_date_of_an_addendum_with_its_place(capsys: pytest.CaptureFixture[str]) -> None:
    main(["review", str(LIBRARY / "job_addendum.yaml"), str(LIBRARY / "submittals" / "c_quiet_swap.yaml")])
    told = " ".join(capsys.readouterr().out.split())
    assert "Not shown for this assembly: UL 580 uplift class; " in told
    assert "as amended by Addendum 1 of July 1, 2026" in told


def test_read_lists_what_is_asked_with_its_clause(capsys: pytest.CaptureFixture[str]) -> None:
    main(["read", str(LIBRARY / "spec.docx"), "--format", "json"])
    read = json.loads(capsys.readouterr().out)
    assert read["section"] == "07 41 13"
    stated = {(s["subject"], s["clause"]): s for s in read["stated"]}
    assert stated["uplift.class", "1.03.B"]["value"] == 90
    assert stated["panel.width", "2.02.C"]["value"] == 16
    assert stated["panel.width", "2.02.C"]["unit"] == "in"
    assert "reference only" in stated["uplift.test", "1.02.A.5"]["flags"]


def test_a_call_that_is_wrong_ends_with_two(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stop:
        main(["review", JOB])
    assert stop.value.code == 2
    assert main([]) == 2
    capsys.readouterr()
