"""What a pre-screen hands over: text, JSON, HTML and DOCX, and the command."""

from __future__ import annotations

import json
from io import BytesIO
from pathlib import Path
from typing import Any
from zipfile import ZipFile

import pytest
from lxml import etree

from cleatmark.cli import main
from cleatmark.report import prescreen_blocks, prescreen_report
from cleatmark.review.model import STANDING_CAUTIONS
from cleatmark.review.prescreen import files_in, prescreen
from cleatmark.review.prescreen_model import PrescreenHead, Screened
from cleatmark.review.prescreen_setup import Setup, head_of, prepare

from .forty import CASES


class Listed(list[Screened]):
    """Systems in memory, as the reports go through them."""

    def counts(self) -> dict[str, int]:
        names = ("meets and holds", "with changes", "not", "not read")
        return {name: sum(one.outcome == name for one in self) for name in names}


@pytest.fixture(scope="module")
def head(setup: Setup) -> PrescreenHead:
    return head_of(setup)


@pytest.fixture(scope="module")
def systems(folder: Path, setup: Setup) -> Listed:
    from cleatmark.review.prescreen_model import order

    return Listed(sorted(prescreen(setup, files_in(folder), folder=folder), key=order))


@pytest.fixture(scope="module")
def text(head: PrescreenHead, systems: Listed) -> str:
    return "".join(prescreen_report.text_parts(head, systems, "systems"))


def test_the_text_tells_what_is_asked_and_every_system(text: str, systems: Listed) -> None:
    flat = " ".join(text.split())
    assert "UL 580 uplift class" in flat
    assert "40 in systems" in flat
    for one in systems:
        assert one.file in flat
    assert "Clip spacing in Perimeter: 18 inches in place of 24 in; Clip spacing in Corner: 12 inches" in flat
    assert "Headroom -7 %." in flat.replace("\u00a0", " ")
    for caution in STANDING_CAUTIONS:
        assert caution in flat


def test_the_order_of_headings_is_that_of_the_outcomes(text: str) -> None:
    places = [text.index(words) for words in prescreen_blocks.HEADINGS.values()]
    assert places == sorted(places)


def test_no_line_is_wider_than_asked(head: PrescreenHead, systems: Listed) -> None:
    lines = "".join(prescreen_report.text_parts(head, systems, "systems", 80)).splitlines()
    assert max(map(len, lines)) <= 80


def test_json_is_one_object_with_all_systems(head: PrescreenHead, systems: Listed) -> None:
    made: dict[str, Any] = json.loads("".join(prescreen_report.json_parts(head, systems)))
    assert [one["file"] for one in made["systems"]] == [one.file for one in systems]
    assert made["counts"]["with changes"] == sum(case.outcome == "with changes" for case in CASES)
    first = made["systems"][0]
    assert (first["outcome"], first["rule"]) == ("meets and holds", "zone_uplift")
    assert first["headroom"] == pytest.approx(1 - 56.0 / 82.5)
    asked = {subject["title"] for group in made["asked"] for subject in group["subjects"]}
    assert "Panel width" in asked


def test_json_without_a_system_is_whole(head: PrescreenHead) -> None:
    made = json.loads("".join(prescreen_report.json_parts(head, Listed())))
    assert made["systems"] == []


def test_paper_tells_the_first_of_many(
    head: PrescreenHead, systems: Listed, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(prescreen_blocks, "SHOWN_LIMIT", 3)
    page = prescreen_report.html_text(head, systems, "systems")
    assert page.count("are not told here") == 3
    assert prescreen_blocks.HEADINGS["not"].split(",")[0] in page


def test_html_is_whole_and_loads_nothing(head: PrescreenHead, systems: Listed) -> None:
    page = prescreen_report.html_text(head, systems, "systems")
    etree.HTML(page)
    assert "<script" not in page
    assert "src=" not in page
    assert "maker_0/as_tested.yaml" in page


def test_docx_is_the_same_each_time_and_has_the_systems(head: PrescreenHead, systems: Listed) -> None:
    data = prescreen_report.docx_bytes(head, systems, "systems")
    assert prescreen_report.docx_bytes(head, systems, "systems") == data
    with ZipFile(BytesIO(data)) as package:
        root = etree.fromstring(package.read("word/document.xml"))
    shown = "".join(root.itertext())
    assert "maker_0/as_tested.yaml" in shown
    assert "What to ask before bidding" in shown


def test_text_of_a_system_is_text_in_html(head: PrescreenHead) -> None:
    one = Screened(
        "a.yaml", "", "not", title="<b>x</b>", rule_title="Deck", told="\x1b[31mred", verdict="deviates"
    )
    page = prescreen_report.html_text(head, Listed([one]), "systems")
    assert "<b>x" not in page
    shown = "".join(prescreen_report.text_parts(head, Listed([one]), "systems"))
    assert "\x1b" not in shown


# Questions ------------------------------------------------------------------------------------------------------


def test_what_is_left_open_is_asked_of_whom_it_concerns(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text("name: Bare job (invented)\n", "utf-8")
    head = head_of(prepare(path))
    asked = {request.to: request.questions for request in head.questions}
    assert "What are the design uplift pressures of the roof zones, and at which level?" in asked["designer"]
    shown = "".join(prescreen_report.text_parts(head, Listed(), "systems"))
    assert "To the designer" in shown
    assert prescreen_blocks.NOTHING_ASKED.split(";")[0] in " ".join(shown.split())


def test_a_job_that_asks_nothing_passes_no_system(folder: Path, tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text("name: Bare job (invented)\n", "utf-8")
    (one,) = prescreen(path, [folder / "maker_0" / "as_tested.yaml"], folder=folder)
    assert one.outcome == "not"
    assert one.verdict == "not shown"


# The command ----------------------------------------------------------------------------------------------------


def test_the_command_prints_and_writes(
    folder: Path, job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    files = [tmp_path / f"out{ending}" for ending in (".docx", ".html", ".json", ".txt")]
    order = ["prescreen", str(job), "--systems", str(folder / "maker_0"), "--jobs", "1", "--format", "json"]
    assert main([*order, "--report", *map(str, files)]) == 1
    printed = capsys.readouterr()
    assert json.loads(printed.out) == json.loads(files[2].read_text("utf-8"))
    assert printed.err == ""
    assert all(path.stat().st_size > 1000 for path in files)


def test_two_processes_print_the_same_as_one(
    folder: Path, job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    shown = []
    for jobs in ("1", "2"):
        main(["prescreen", str(job), "--systems", str(folder), "--jobs", jobs])
        shown.append(capsys.readouterr().out)
    assert shown[0] == shown[1]


def test_the_status_is_0_only_where_every_system_fits(folder: Path, job: Path, tmp_path: Path) -> None:
    fit = tmp_path / "fit"
    fit.mkdir()
    (fit / "a.yaml").write_bytes((folder / "maker_0" / "as_tested.yaml").read_bytes())
    order = ["prescreen", str(job), "--systems", str(fit), "--jobs", "1"]
    assert main(order) == 0
    (fit / "b.yaml").write_text("proposed: [", "utf-8")
    assert main(order) == 1


@pytest.mark.parametrize(
    ("more", "told"),
    [
        (["--systems", "no/such/folder"], "there is no such folder"),
        (["--systems", "{folder}", "--report", "out.pdf"], "ends in none of"),
        (["--systems", "{folder}", "--rules", "nonesuch"], "no such rulebook"),
    ],
)
def test_a_call_that_is_wrong_ends_with_2(
    more: list[str], told: str, folder: Path, job: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert main(["prescreen", str(job), *(word.format(folder=folder) for word in more)]) == 2
    assert told in capsys.readouterr().err


def test_the_command_takes_up_kept_results(
    folder: Path, job: Path, tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    kept = tmp_path / "results.jsonl"
    order = [
        "prescreen",
        str(job),
        "--systems",
        str(folder / "maker_1"),
        "--jobs",
        "1",
        "--resume",
        str(kept),
    ]
    main(order)
    first = capsys.readouterr().out
    size = kept.stat().st_size
    main(order)
    assert capsys.readouterr().out == first
    assert kept.stat().st_size == size
