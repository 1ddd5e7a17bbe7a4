"""Files made to harm, as a command meets them: one line, status 2, within a small machine's memory."""

from __future__ import annotations

import io
import os
import shutil
import subprocess
import sys
import zipfile
from pathlib import Path

import pytest

from .running import JOB, LIBRARY, LIMITED, SPEC, TESTED, one_line, refused, run

MAIN = "word/document.xml"
WORD = "http://schemas.openxmlformats.org/wordprocessingml/2006/main"


def changed(path: Path, part: str, data: bytes) -> Path:
    """The sample's specification with one part replaced."""
    with zipfile.ZipFile(SPEC) as source, zipfile.ZipFile(path, "w", zipfile.ZIP_DEFLATED) as target:
        for name in source.namelist():
            target.writestr(name, data if name == part else source.read(name))
    return path


def bomb(path: Path) -> Path:
    text = f'<w:t xmlns:w="{WORD}">'.encode() + b"A" * 400_000_000
    return changed(path, MAIN, b'<?xml version="1.0"?>' + text)


def quadratic(path: Path) -> Path:
    entity = "A" * 100_000
    inside = (
        f'<!DOCTYPE d [<!ENTITY a "{entity}">]><w:document xmlns:w="{WORD}">{"&a;" * 10_000}</w:document>'
    )
    return changed(path, MAIN, inside.encode())


def deep(path: Path) -> Path:
    head = f'<w:document xmlns:w="{WORD}"><w:body>'
    return changed(path, MAIN, (head + "<w:tbl><w:tr><w:tc>" * 30_000).encode())


def broken(path: Path) -> Path:
    return changed(path, MAIN, b"<w:document>")


def empty(path: Path) -> Path:
    with zipfile.ZipFile(path, "w"):
        pass
    return path


def old(path: Path) -> Path:
    path.write_bytes(b"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1" + b"\0" * 600)
    return path


def climbing(path: Path) -> Path:
    shutil.copy(SPEC, path)
    with zipfile.ZipFile(path, "a") as file:
        file.writestr("../../outside.xml", "<a/>")
    return path


def nested_bombs(path: Path) -> Path:
    data = b"0" * 50_000_000
    for _ in range(3):
        inside = io.BytesIO()
        with zipfile.ZipFile(inside, "w", zipfile.ZIP_DEFLATED) as file:
            for number in range(4):
                file.writestr(f"{number}.xml", data)
        data = inside.getvalue()
    path.write_bytes(data)
    return path


DOCX = {make.__name__: make for make in (bomb, quadratic, deep, broken, empty, old, climbing, nested_bombs)}


@pytest.mark.parametrize("name", DOCX)
def test_a_hostile_specification_is_refused_in_one_line(name: str, tmp_path: Path) -> None:
    path = DOCX[name](tmp_path / "spec.docx")
    line = one_line(refused(run("read", path, before=LIMITED)))
    assert line.startswith(f"{path}:")


@pytest.mark.parametrize("name", ["bomb", "deep"])
def test_a_hostile_form_is_refused_in_one_line(name: str, tmp_path: Path) -> None:
    path = DOCX[name](tmp_path / "submittal.docx")
    assert str(path) in one_line(refused(run("review", JOB, path, before=LIMITED)))


YAML = {
    "alias bomb": "l0: &l0 [lol]\n" + "".join(f"l{i}: &l{i} [{', '.join([f'*l{i - 1}'] * 9)}]\n" for i in range(1, 12)),
    "deep": "[" * 200_000,
    "tag": "proposed: !!python/object/apply:os.system [echo]\n",
    "twice": "proposed:\n  panel:\n    width: 16 in\n    width: 12 in\n",
    "huge text": "id: " + "x" * 1_900_000,
    "not a number": "proposed:\n  panel:\n    width: .nan in\n",
    "without end": "proposed:\n  panel:\n    width: .inf\n",
    "1e999": "proposed:\n  panel:\n    width: 1e999999 in\n",
    "long number": f"proposed:\n  panel:\n    width: {'9' * 19_000} in\n",
}  # fmt: skip

YAML["many documents"] = "proposed: {panel: {width: 16 in}}\ndocuments:\n" + "".join(
    f"  - {{id: D{number}, kind: data sheet}}\n" for number in range(6_000)
)


@pytest.mark.parametrize("name", YAML)
def test_a_hostile_submittal_is_refused(name: str, tmp_path: Path) -> None:
    path = tmp_path / "s.yaml"
    path.write_text(YAML[name], encoding="utf-8")
    told = refused(run("review", JOB, path, before=LIMITED))
    heads = [line for line in told.splitlines() if not line.startswith("    ")]
    assert heads
    assert all(line.startswith(f"{path}:") for line in heads), told
    assert max(map(len, told.splitlines())) < 500


def test_a_hostile_job_is_refused(tmp_path: Path) -> None:
    path = tmp_path / "job.yaml"
    path.write_text("wind: {speed: 1e400 mph, exposure: " + "C" * 15_000 + "}\n", encoding="utf-8")
    assert len(refused(run("wind", path, before=LIMITED))) < 2_000


HEAD = 'rulebook hostile "Hostile"\n  builds on base\n\n'
RULES = {
    "deep": 'requirement deep "Deep"\n  shall ' + "(" * 5_000 + "proposed.panel.width at least 1 in" + ")" * 5_000,
    "not not": 'requirement nots "Nots"\n  shall ' + "not " * 400 + "proposed.panel.width at least 1 in",
    "circle": "define a of run as b\n\ndefine b of run as a\n",
    "phrase": 'reading huge gives spec.panel.width\n  from "' + "a|b " * 1_100 + '{length}"',
    "gaps": 'reading gaps gives spec.panel.width\n  from "' + "a … " * 60 + '{length}"',
    "one line": 'requirement wide "' + "w" * 1_900_000 + '"\n',
    "signs": "\x00\x01" * 1_000,
}  # fmt: skip


@pytest.mark.parametrize("name", RULES)
def test_a_hostile_rulebook_is_refused(name: str, tmp_path: Path) -> None:
    path = tmp_path / "hostile.rules"
    path.write_text(HEAD + RULES[name] + "\n", encoding="utf-8")
    told = refused(run("review", JOB, TESTED, "--rules", path, before=LIMITED, folder=tmp_path))
    assert "hostile.rules:" in told.splitlines()[0]
    assert len(told) < 20_000


@pytest.mark.parametrize("code", ["utf-16", "utf-16-le", "utf-16-be"])
def test_a_rulebook_in_utf_16_is_told_as_such(code: str, tmp_path: Path) -> None:
    path = tmp_path / "wide.rules"
    path.write_bytes((HEAD + RULES["circle"]).encode(code))
    told = run("rules", "proofread", path, before=LIMITED, folder=tmp_path)
    assert told.returncode == 2
    assert told.stderr.decode().startswith("wide.rules:1:1: the rule file is UTF-16 text")


def test_comment_signs_of_another_language_hide_no_rulebook(tmp_path: Path) -> None:
    """Too many mistakes are cut off; the rulebook that heads the file is not said to be missing for that."""
    path = tmp_path / "signs.rules"
    path.write_text(HEAD + "// a note\n" * 20_000, encoding="utf-8")
    told = run("rules", "proofread", path, before=LIMITED, folder=tmp_path).stderr.decode()
    assert "names no rulebook" not in told
    assert told.count("a comment starts with") == 500


def test_many_defines_in_a_row_are_no_circle_and_bounded(tmp_path: Path) -> None:
    """A chain that is no circle ends in a verdict or in a reason; it does not exhaust the stack."""
    chain = "".join(f"define d{i} of run as d{i + 1}\n\n" for i in range(1_500))
    path = tmp_path / "chain.rules"
    path.write_text(
        HEAD.replace("hostile", "chain") + chain + "define d1500 of run as pressure\n", encoding="utf-8"
    )
    done = run("rules", "proofread", path, before=LIMITED)
    assert b"Traceback" not in done.stderr
    assert done.returncode == 0 or done.stderr


def test_files_of_the_job_do_not_lead_out_to_devices(tmp_path: Path) -> None:
    shutil.copytree(LIBRARY, tmp_path / "library")
    job = tmp_path / "library" / "job.yaml"
    text = job.read_text(encoding="utf-8")
    assert "spec.docx" in text
    job.write_text(text.replace("spec.docx", "/dev/zero"), encoding="utf-8")
    refused(run("review", job, TESTED, before=LIMITED))


def test_a_panel_without_width_is_judged_without_a_schedule(tmp_path: Path) -> None:
    path = tmp_path / "s.yaml"
    text = TESTED.read_text(encoding="utf-8")
    assert text.count("\n    width: 16 in\n") >= 1
    path.write_text(text.replace("\n    width: 16 in\n", "\n", 1), encoding="utf-8")
    done = run("review", JOB, path)
    assert done.returncode == 1
    assert done.stderr == b""


@pytest.mark.parametrize("key", ["width: 16 in", "seam_height: 1-3/4 in", "length: 4 in", "thickness: 16 ga"])
@pytest.mark.parametrize("amount", ["0 in", "0", "-1 in"])
def test_a_part_of_no_size_is_refused_where_it_stands(key: str, amount: str, tmp_path: Path) -> None:
    path = tmp_path / "s.yaml"
    text = TESTED.read_text(encoding="utf-8")
    name = key.partition(":")[0]
    assert f"\n    {key}\n" in text
    path.write_text(text.replace(f"\n    {key}\n", f"\n    {name}: {amount}\n", 1), encoding="utf-8")
    line = one_line(refused(run("review", JOB, path)))
    assert f'{name}: "{amount}"' in line


def test_a_folder_of_systems_may_hold_anything(tmp_path: Path) -> None:
    """A pipe that nobody writes to, a device without end, loops, bytes that are no name: each is told, none waits."""
    folder = tmp_path / "systems"
    folder.mkdir()
    shutil.copy(TESTED, folder / "a.yaml")
    (folder / "empty.yaml").write_bytes(b"")
    (folder / "loop.yaml").symlink_to("loop.yaml")
    (folder / "again").symlink_to(".")
    (folder / "zero.yaml").symlink_to("/dev/zero")
    os.mkfifo(folder / "pipe.yaml")
    Path(os.fsdecode(os.fsencode(folder) + b"/\xff\xfe.yaml")).write_bytes(b"x")
    done = run("prescreen", JOB, "--systems", folder, "--format", "json", before=LIMITED, folder=tmp_path)
    assert b"Traceback" not in done.stderr
    assert done.returncode in (1, 2), done.stderr[-300:]
    assert b"pipe.yaml" in done.stdout


def test_results_without_an_output_end_with_a_reason() -> None:
    command = [sys.executable, "-m", "cleatmark.cli", "review", str(JOB), str(TESTED)]
    done = subprocess.run(["bash", "-c", '"$@" >&-', "bash", *command], capture_output=True)
    assert done.returncode == 2
    assert done.stderr == b"cleatmark: standard output is closed, and results go there\n"


@pytest.mark.parametrize("kind", ["device", "pipe"])
@pytest.mark.parametrize("option", ["--rules", "--earlier"])
def test_what_is_no_file_is_not_read_for_ever(kind: str, option: str, tmp_path: Path) -> None:
    """A device gave bytes until the memory was full, and a pipe was waited for."""
    path = tmp_path / ("x.rules" if option == "--rules" else "x.json")
    path.symlink_to("/dev/zero") if kind == "device" else os.mkfifo(path)
    told = refused(run("review", JOB, TESTED, option, path, before=LIMITED, folder=tmp_path))
    assert "ordinary file" in one_line(told)


def test_a_rule_file_of_any_size_is_not_read_whole(tmp_path: Path) -> None:
    path = tmp_path / "large.rules"
    with path.open("wb") as file:
        file.truncate(2 << 30)
    told = run("rules", "proofread", path, before=LIMITED, folder=tmp_path)
    assert told.returncode == 2
    assert "larger than 8,000,000 bytes" in one_line(told.stderr.decode())


def test_a_link_to_itself_is_no_file(tmp_path: Path) -> None:
    path = tmp_path / "s.yaml"
    path.symlink_to("s.yaml")
    for call in (["review", JOB, path], ["review", path, TESTED], ["wind", path]):
        assert str(path) in one_line(refused(run(*call)))
    path.unlink()
    path.symlink_to("nowhere")
    assert "did you mean" not in refused(run("review", JOB, path))


def test_a_name_with_a_line_end_makes_no_line(tmp_path: Path) -> None:
    """Neither a file's name nor a key can put a message of its own into the list of mistakes."""
    fake = "job.yaml:1:1: this job is refused"
    told = refused(run("review", JOB, tmp_path / f"a\n{fake}"))
    assert fake not in told.splitlines()
    path = tmp_path / "s.yaml"
    path.write_text(f'"x\\n{fake}": 1\n', encoding="utf-8")
    told = refused(run("review", JOB, path))
    assert fake in told
    assert fake not in told.splitlines()


@pytest.mark.parametrize("encoding", ["ascii", "latin-1"])
@pytest.mark.parametrize("call", [["read", SPEC], ["wind", JOB], ["rules", "why", "uplift_class"]])
def test_a_terminal_of_few_signs_gets_others_in_their_place(call: list[str], encoding: str) -> None:
    done = run(*call, environment={"PYTHONIOENCODING": encoding})
    assert (done.returncode, done.stderr) == (0, b"")
    assert len(done.stdout.decode(encoding).splitlines()) > 5


def test_a_rule_file_may_have_a_name_of_any_bytes(tmp_path: Path) -> None:
    name = os.fsdecode(b"own\xff.rules")
    try:
        (tmp_path / name).write_text('rulebook own "Own"\n  builds on base\n', encoding="utf-8")
    except OSError:
        pytest.skip("this system has no such names")
    cache = {"XDG_CACHE_HOME": str(tmp_path / "cache")}
    for call in (
        ["rules", "proofread", name],
        ["rules", "tidy", name],
        ["review", JOB, TESTED, "--rules", name],
    ):
        done = run(*call, folder=tmp_path, environment=cache)
        assert (done.returncode, done.stderr) == (0, b""), done.stderr[-300:]
