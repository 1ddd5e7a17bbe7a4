"""A reader never sees half a file: what fails or is killed on the way leaves the old one."""

from __future__ import annotations

import errno
import os
import signal
import subprocess
import sys
from pathlib import Path

import pytest

from cleatmark.problems import InputError
from cleatmark.report.saving import save

from .running import JOB, LIBRARY, TESTED, one_line, refused, run

OLD = b"the report of last week"
FULL = """
import errno, os, tempfile
class Full:
    def __init__(self, file): self.file = file
    def __getattr__(self, name): return getattr(self.file, name)
    def __enter__(self): self.file.__enter__(); return self
    def __exit__(self, *words): return self.file.__exit__(*words)
    def write(self, data): raise OSError(errno.ENOSPC, os.strerror(errno.ENOSPC))
    def writelines(self, parts): self.write(b"")
real = tempfile.NamedTemporaryFile
tempfile.NamedTemporaryFile = lambda *words, **named: Full(real(*words, **named))
"""
KILLED = """
import os, signal
os.replace = lambda *words: os.kill(os.getpid(), signal.SIGKILL)
"""
ENDED = """
import os, signal
from cleatmark.review.prescreen_results import Results
add = Results.add
def added(self, one):
    add(self, one)
    if len(self) == 3:
        os.kill(os.getpid(), signal.SIGTERM)
Results.add = added
"""
FORMS = ("docx", "html", "json", "txt")


@pytest.mark.parametrize("form", FORMS)
def test_a_full_disk_leaves_the_old_report(form: str, tmp_path: Path) -> None:
    path = tmp_path / f"r.{form}"
    path.write_bytes(OLD)
    line = one_line(refused(run("review", JOB, TESTED, "--report", path, before=FULL)))
    assert "No space left on device" in line
    assert path.read_bytes() == OLD
    assert os.listdir(tmp_path) == [path.name]


@pytest.mark.parametrize("form", FORMS)
def test_a_killed_process_leaves_the_old_report(form: str, tmp_path: Path) -> None:
    path = tmp_path / f"r.{form}"
    path.write_bytes(OLD)
    done = run("review", JOB, TESTED, "--report", path, before=KILLED)
    assert done.returncode == -signal.SIGKILL
    assert path.read_bytes() == OLD


def test_a_killed_process_leaves_no_half_form_and_the_old_rules(tmp_path: Path) -> None:
    form = tmp_path / "form.yaml"
    assert run("form", form, before=KILLED).returncode == -signal.SIGKILL
    assert not form.exists()
    assert run("rules", "editor", tmp_path / "editor", before=KILLED).returncode == -signal.SIGKILL
    assert not list(tmp_path.glob("editor/*.json"))
    rules = tmp_path / "own.rules"
    text = b'rulebook own   "Own"\n   edition 2026-11\n'
    rules.write_bytes(text)
    assert run("rules", "tidy", rules, before=KILLED).returncode == -signal.SIGKILL
    assert rules.read_bytes() == text


def test_a_folder_that_refuses_is_told(tmp_path: Path) -> None:
    missing = tmp_path / "not there" / "r.json"
    line = one_line(refused(run("review", JOB, TESTED, "--report", missing)))
    assert line.startswith(f"{missing}:")


def test_a_folder_that_may_only_be_read_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A root user writes everywhere, so the refusal is made here."""
    import tempfile

    def refuse(*_: object, **__: object) -> None:
        raise PermissionError(errno.EACCES, os.strerror(errno.EACCES))

    monkeypatch.setattr("cleatmark.report.saving.NamedTemporaryFile", refuse)
    assert tempfile.NamedTemporaryFile is not refuse
    with pytest.raises(InputError, match="Permission denied"):
        save(b"new", tmp_path / "r.json")


@pytest.mark.parametrize("call", [["wind", str(JOB)], ["--version"]])
def test_a_device_that_is_full_ends_with_a_reason(call: list[str]) -> None:
    """Standard output on a full device: a reason and no traceback."""
    if not os.path.exists("/dev/full"):
        pytest.skip("this system has no /dev/full")
    with open("/dev/full", "wb") as full:
        done = subprocess.run(
            [sys.executable, "-m", "cleatmark.cli", *call], stdout=full, stderr=subprocess.PIPE
        )
    assert done.returncode == 2
    assert b"Traceback" not in done.stderr
    assert b"No space left on device" in done.stderr


def test_a_reader_that_goes_away_ends_quietly() -> None:
    command = f"{sys.executable} -m cleatmark.cli review {JOB} {TESTED} --full | head -1"
    done = subprocess.run(["bash", "-c", command], capture_output=True)
    assert done.stderr == b""


# The cache ------------------------------------------------------------------------------------------------------


def test_two_reviews_at_once_with_a_cold_cache(tmp_path: Path) -> None:
    environment = {**os.environ, "XDG_CACHE_HOME": str(tmp_path), "HOME": str(tmp_path)}
    command = [sys.executable, "-m", "cleatmark.cli", "review", str(JOB), str(TESTED), "--format", "json"]
    both = [subprocess.Popen(command, stdout=subprocess.PIPE, env=environment) for _ in range(3)]
    out = [one.communicate()[0] for one in both]
    assert out[0]
    assert out[1:] == out[:1] * 2
    assert not list(tmp_path.rglob("*.tmp"))
    again = subprocess.run(command, capture_output=True, env=environment)
    assert (again.stdout, again.stderr) == (out[0], b"")


@pytest.mark.parametrize("harm", [b"", b"\x00" * 64, b"\x93\x01\x02", None])
def test_a_damaged_cache_is_made_anew(harm: bytes | None, tmp_path: Path) -> None:
    environment = {"XDG_CACHE_HOME": str(tmp_path), "HOME": str(tmp_path)}
    first = run("review", JOB, TESTED, environment=environment)
    kept = sorted(tmp_path.rglob("*.msgpack"))
    assert kept
    whole = {path: path.read_bytes() for path in kept}
    for path in kept:
        path.write_bytes(whole[path][: len(whole[path]) // 2] if harm is None else harm)
    second = run("review", JOB, TESTED, environment=environment)
    assert (second.stdout, second.stderr, second.returncode) == (first.stdout, b"", first.returncode)


def test_a_cache_that_others_can_write_to_is_not_used(tmp_path: Path) -> None:
    environment = {"XDG_CACHE_HOME": str(tmp_path), "HOME": str(tmp_path)}
    run("review", JOB, TESTED, environment=environment)
    folder = next(tmp_path.rglob("*.msgpack")).parent
    for path in folder.iterdir():
        path.unlink()
    folder.chmod(0o777)
    run("review", JOB, TESTED, environment=environment)
    assert list(folder.iterdir()) == []


@pytest.mark.parametrize("jobs", ["1", "2"])
def test_a_prescreen_asked_to_end_keeps_what_is_done(jobs: str, tmp_path: Path) -> None:
    """The request comes while the third system is written: status 2, one word, whole lines, no report."""
    kept, report = tmp_path / "kept.jsonl", tmp_path / "r.json"
    report.write_bytes(OLD)
    systems = LIBRARY / "systems"
    done = run(
        *("prescreen", JOB, "--systems", systems, "--jobs", jobs, "--resume", kept, "--report", report),
        before=ENDED,
    )
    assert (done.returncode, done.stdout, done.stderr.decode().splitlines()) == (2, b"", ["stopped"])
    assert kept.read_bytes().endswith(b"\n")
    assert len(kept.read_bytes().splitlines()) == 1 + 3
    assert report.read_bytes() == OLD
    assert sorted(os.listdir(tmp_path)) == ["kept.jsonl", "r.json"]
