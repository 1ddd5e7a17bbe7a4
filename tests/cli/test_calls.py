"""A wrong call, and a file that cannot be written, in a reader's words: what is wrong, then what to do; status 2."""

from __future__ import annotations

import shutil
from pathlib import Path

import pytest

from cleatmark.cli import main

ROOT = Path(__file__).parents[2]
LIBRARY = ROOT / "samples" / "library"
JOB = str(LIBRARY / "job.yaml")
SUBMITTAL = str(LIBRARY / "submittals" / "a_tested.yaml")


def refused(call: list[str], capsys: pytest.CaptureFixture[str]) -> list[str]:
    """The lines of a call that is refused: nothing on standard output."""
    with pytest.raises(SystemExit) as end:
        raise SystemExit(main(call))
    assert end.value.code == 2
    out, err = capsys.readouterr()
    assert out == ""
    return err.splitlines()


@pytest.mark.parametrize(
    ("call", "lines"),
    [
        (
            ["revew", JOB],
            [
                'cleatmark: there is no command "revew"; expected review, read, wind, rules, form or prescreen',
                '    did you mean "review"?',
                "    see: cleatmark --help",
            ],
        ),
        (
            ["review", JOB],
            [
                "cleatmark review: SUBMITTAL is missing",
                "    for example: cleatmark review job.yaml submittals/a.yaml --report review.docx",
                "    see: cleatmark review --help",
            ],
        ),
        (
            ["review"],
            [
                "cleatmark review: JOB.yaml and SUBMITTAL are missing",
                "    for example: cleatmark review job.yaml submittals/a.yaml --report review.docx",
                "    see: cleatmark review --help",
            ],
        ),
        (
            ["review", JOB, SUBMITTAL, "--repotr", "x.docx"],
            [
                'cleatmark: "--repotr x.docx" is not expected here',
                '    did you mean "--report"?',
                "    see: cleatmark --help",
            ],
        ),
        (
            ["review", JOB, SUBMITTAL, "--format", "xml"],
            [
                'cleatmark review: --format: "xml" is not one of the choices; expected text or json',
                "    see: cleatmark review --help",
            ],
        ),
        (
            ["review", JOB, SUBMITTAL, "--report"],
            ["cleatmark review: --report needs a value behind it", "    see: cleatmark review --help"],
        ),
        (
            ["wind", JOB, "--area", "wide"],
            [
                'cleatmark wind: --area: "wide" is no effective wind area; expected a number of sq ft, or a panel\'s '
                'span x width, such as "5 ft x 16 in"',
                "    see: cleatmark wind --help",
            ],
        ),
        (
            ["rules", "prof"],
            [
                'cleatmark rules: there is no action "prof"; expected proofread, tidy, editor, prove, why or index',
                '    did you mean "prove"?',
                "    see: cleatmark rules --help",
            ],
        ),
    ],
)
def test_a_wrong_call_says_what_to_do(
    call: list[str], lines: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    assert refused(call, capsys) == lines


def test_job_and_submittal_in_each_others_place_are_one_mistake_each(
    capsys: pytest.CaptureFixture[str],
) -> None:
    told = refused(["review", SUBMITTAL, JOB], capsys)
    assert [line.split(": ", 1)[1] for line in told if not line.startswith(" ")] == [
        "this is a submittal; a job file is expected here",
        "this is a job file; a submittal is expected here",
    ]
    assert "    for example: cleatmark review job.yaml submittal.yaml" in told


def test_a_submittal_named_twice_is_told(capsys: pytest.CaptureFixture[str]) -> None:
    again = str(LIBRARY / "systems" / ".." / "submittals" / "a_tested.yaml")
    first, *help_ = refused(["review", JOB, SUBMITTAL, again], capsys)
    assert first == f"{again}:0:0: this submittal is named twice"
    assert help_ == ["    name each submittal once; to compare with an earlier review: --earlier FILE.json"]


def test_what_was_handed_in_is_never_written_over(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    for name in ("job.yaml", "spec.docx"):
        shutil.copy(LIBRARY / name, tmp_path)
    spec, before = tmp_path / "spec.docx", (tmp_path / "spec.docx").read_bytes()
    told = refused(["review", str(tmp_path / "job.yaml"), SUBMITTAL, "--report", str(spec)], capsys)
    assert told[0] == f"{spec}:0:0: this file is read, and would be written over"
    form = tmp_path / "form.docx"
    shutil.copy(LIBRARY / "spec.docx", form)
    told = refused(["review", JOB, str(form), "--packet", str(form)], capsys)
    assert told[0] == f"{form}:0:0: this file is read, and would be written over"
    assert before == spec.read_bytes() == form.read_bytes()


@pytest.mark.parametrize(
    ("call", "name"),
    [
        (["review", "job.yaml", "s.yaml", "--report", "extra.docx"], "extra.docx"),
        (["review", "job.yaml", "s.yaml", "form-2.docx", "--report", "form.docx"], "form-2.docx"),
        (["prescreen", "job.yaml", "--systems", ".", "--report", "extra.docx"], "extra.docx"),
        (["prescreen", "job.yaml", "--systems", ".", "--report", "spec.docx"], "spec.docx"),
        (["prescreen", "job.yaml", "--systems", ".", "--resume", "job.yaml"], "job.yaml"),
    ],
)
def test_nor_is_what_the_job_names_or_what_a_number_makes_of_the_name(
    call: list[str],
    name: str,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
) -> None:
    text = (LIBRARY / "job.yaml").read_text(encoding="utf-8")
    assert "specification: spec.docx\n" in text
    added = text.replace("specification: spec.docx\n", "specification: spec.docx\naddenda: [extra.docx]\n")
    (tmp_path / "job.yaml").write_text(added, encoding="utf-8")
    for source, copy in (("spec", "spec"), ("addendum_1", "extra"), ("spec", "form-2")):
        shutil.copy(LIBRARY / f"{source}.docx", tmp_path / f"{copy}.docx")
    shutil.copy(SUBMITTAL, tmp_path / "s.yaml")
    monkeypatch.chdir(tmp_path)
    before = {path: path.read_bytes() for path in tmp_path.iterdir()}
    told = refused(call, capsys)
    assert told[0] == f"{name}:0:0: this file is read, and would be written over"
    assert {path: path.read_bytes() for path in tmp_path.iterdir()} == before


def test_results_are_not_kept_in_the_report(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    both = str(tmp_path / "r.json")
    call = ["prescreen", JOB, "--systems", str(LIBRARY / "systems"), "--report", both, "--resume", both]
    assert refused(call, capsys)[0] == f"{both}:0:0: this file is named twice to be written"


@pytest.mark.parametrize("name", ["county.rules", "base"])
def test_a_rulebook_out_of_place_is_told_its_place(name: str, capsys: pytest.CaptureFixture[str]) -> None:
    first, second, _ = refused(["rules", "why", "uplift_class", name], capsys)
    assert first == f'cleatmark: "{name}" is not expected here'
    assert second == f"    rulebooks are named behind --rules, for example: --rules {name}"
    assert len(refused(["read", "spec.docx", "other.docx"], capsys)) == 2


def test_a_folder_that_is_not_there_is_told_before_the_work(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (tmp_path / "reports").mkdir()
    asked = tmp_path / "report" / "review.html"
    for call in (
        ["review", JOB, SUBMITTAL, "--report", str(asked)],
        ["prescreen", JOB, "--systems", str(LIBRARY / "systems"), "--report", str(asked)],
    ):
        told = refused(call, capsys)
        assert told == [
            f'{asked}:0:0: there is no folder "{tmp_path / "report"}" to write it in',
            '    did you mean "reports"?',
        ]


def test_two_reports_of_one_name_are_told(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    asked = str(tmp_path / "a.docx")
    told = refused(["review", JOB, SUBMITTAL, "--report", asked, asked], capsys)
    assert told == [f"{asked}:0:0: this file is named twice to be written", "    name each file once"]


def test_a_folder_without_systems_is_a_mistake(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    told = refused(["prescreen", JOB, "--systems", str(tmp_path)], capsys)
    assert told == [
        f"{tmp_path}:0:0: there is no system in this folder, nor in the folders under it",
        "    a system is a submittal file that ends in .yaml",
        "    for a blank one: cleatmark form system.yaml",
    ]
    told = refused(["prescreen", JOB, "--systems", SUBMITTAL], capsys)
    assert told[0] == f"{SUBMITTAL}:0:0: this is a file; a folder of systems is expected"


def test_an_old_word_file_is_named_as_one(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    old = tmp_path / "submittal.doc"
    old.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + bytes(64))
    told = refused(["review", JOB, str(old)], capsys)
    assert (
        told[0] == f"{old}:0:0: this is an old .doc file, or an encrypted one; a YAML text file is expected"
    )
    assert "a filled .docx form" in told[1]
