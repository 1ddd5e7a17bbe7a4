"""How systems are run through: as they come, on any executor, on after a stop, whatever a file does."""

from __future__ import annotations

import json
import multiprocessing
import subprocess
import sys
import time
from collections.abc import Callable, Iterator
from concurrent.futures import Executor, Future, ProcessPoolExecutor, ThreadPoolExecutor
from pathlib import Path
from typing import Any

import pytest

from cleatmark.problems import InputError
from cleatmark.review import prescreen as running
from cleatmark.review.prescreen import files_in, prescreen
from cleatmark.review.prescreen_model import Screened
from cleatmark.review.prescreen_one import Screen
from cleatmark.review.prescreen_results import Results
from cleatmark.review.prescreen_setup import Setup, unpacked


def some(folder: Path, count: int = 6) -> list[Path]:
    return sorted(files_in(folder))[:count]


def by_file(results: Iterator[Screened]) -> dict[str, Screened]:
    return {one.file: one for one in results}


@pytest.fixture(scope="module")
def here(folder: Path, setup: Setup) -> dict[str, Screened]:
    """The first systems, judged one after another."""
    return by_file(prescreen(setup, some(folder, 12), folder=folder))


def test_files_come_in_order_from_any_depth_and_hidden_folders_do_not(tmp_path: Path) -> None:
    for name in ("b/deep/2.yaml", "a/1.yml", "3.YAML", "notes.txt", ".kept/4.yaml"):
        path = tmp_path / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.touch()
    names = [path.relative_to(tmp_path).as_posix() for path in files_in(tmp_path)]
    assert names == ["3.YAML", "a/1.yml", "b/deep/2.yaml"]


def test_a_folder_that_is_not_there_is_told(tmp_path: Path) -> None:
    with pytest.raises(InputError, match="there is no such folder"):
        list(files_in(tmp_path / "none"))


def test_a_result_comes_before_the_next_file_is_asked_for(folder: Path, setup: Setup) -> None:
    asked: list[Path] = []

    def files() -> Iterator[Path]:
        for path in some(folder):
            asked.append(path)
            yield path

    results = prescreen(setup, files(), folder=folder)
    next(results)
    assert len(asked) == 1


class Recording(Executor):
    """Runs at once and counts what is handed out; with `hold` it keeps results back."""

    def __init__(self, hold: bool = False) -> None:
        self.hold, self.tasks = hold, 0

    def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
        self.tasks += 1
        future: Future[Any] = Future()
        future.set_result(fn(*args, **kwargs))
        return future


def test_no_more_is_handed_out_than_is_wanted_next(
    folder: Path, setup: Setup, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(running, "AHEAD", 2)
    monkeypatch.setattr(running, "BATCH", 1)
    executor = Recording()
    results = prescreen(setup, some(folder), executor=executor, folder=folder)
    next(results)
    assert executor.tasks == 2
    assert len(list(results)) == 5


@pytest.mark.parametrize("kind", [ThreadPoolExecutor, ProcessPoolExecutor])
def test_any_executor_gives_the_same(
    kind: Any, folder: Path, setup: Setup, here: dict[str, Screened]
) -> None:
    with kind(2) as executor:
        found = by_file(prescreen(setup, some(folder, 12), executor=executor, folder=folder))
    assert found == here


def test_processes_that_are_started_afresh_give_the_same(
    folder: Path, setup: Setup, here: dict[str, Screened]
) -> None:
    context = multiprocessing.get_context("spawn")
    with ProcessPoolExecutor(1, mp_context=context) as executor:
        found = by_file(prescreen(setup, some(folder, 4), executor=executor, folder=folder))
    assert found == {one.file: one for one in list(here.values())[:4]}


def test_a_dask_cluster_of_two_workers_gives_the_same(
    folder: Path, setup: Setup, here: dict[str, Screened]
) -> None:
    distributed = pytest.importorskip("distributed", reason="Dask is an optional extra and is not installed")
    with (
        distributed.LocalCluster(n_workers=2, threads_per_worker=1, dashboard_address=None) as cluster,
        running.dask(cluster.scheduler_address) as executor,
    ):
        found = by_file(prescreen(setup, some(folder, 12), executor=executor, folder=folder))
    assert found == here


def test_a_cluster_that_does_not_answer_is_told() -> None:
    pytest.importorskip("distributed", reason="Dask is an optional extra and is not installed")
    with pytest.raises(InputError, match="no Dask cluster answers"), running.dask("no address at all"):
        pass


def test_a_packed_setup_is_the_same_setup(setup: Setup, folder: Path) -> None:
    path = some(folder)[0]
    assert Screen(unpacked(setup.packed())).file(path, "a") == Screen(setup).file(path, "a")


def test_a_fault_in_one_system_does_not_stop_the_rest(
    folder: Path, setup: Setup, monkeypatch: pytest.MonkeyPatch
) -> None:
    judged = Screen.file

    def faulty(self: Screen, path: Path, name: str) -> Screened:
        if path == some(folder)[1]:
            raise ZeroDivisionError("a fault")
        return judged(self, path, name)

    monkeypatch.setattr(Screen, "file", faulty)
    results = list(prescreen(setup, some(folder, 3), folder=folder))
    assert [one.outcome == "not read" for one in results].count(True) >= 1
    assert "ZeroDivisionError: a fault" in results[1].problems[0]
    assert len(results) == 3


class Dying(Executor):
    def submit(self, fn: Any, /, *args: Any, **kwargs: Any) -> Future[Any]:
        future: Future[Any] = Future()
        future.set_exception(RuntimeError("the worker was killed"))
        return future


def test_a_worker_that_dies_is_one_line(folder: Path, setup: Setup) -> None:
    with pytest.raises(InputError, match="a worker ended before its work was done"):
        list(prescreen(setup, some(folder), executor=Dying(), folder=folder))


# Results --------------------------------------------------------------------------------------------------------


@pytest.fixture
def counted(monkeypatch: pytest.MonkeyPatch) -> list[str]:
    """Names of the systems that are judged."""
    names: list[str] = []
    judged = Screen.file

    def file(self: Screen, path: Path, name: str) -> Screened:
        names.append(name)
        return judged(self, path, name)

    monkeypatch.setattr(Screen, "file", file)
    return names


def run(setup: Setup, files: list[Path], folder: Path, kept: Path, stop: int | None = None) -> list[Screened]:
    """One run with results kept; stopped after so many results."""
    with Results(kept, setup.mark()) as results:
        for number, one in enumerate(prescreen(setup, files, folder=folder, done=results.done), 1):
            results.add(one)
            if number == stop:
                break
        return list(results)


def test_a_stopped_run_goes_on_where_it_was(
    folder: Path, setup: Setup, tmp_path: Path, counted: list[str]
) -> None:
    kept = tmp_path / "results.jsonl"
    files = some(folder)
    assert len(run(setup, files, folder, kept, stop=2)) == 2
    found = run(setup, files, folder, kept)
    assert len(found) == 6
    assert sorted(counted) == sorted(path.relative_to(folder).as_posix() for path in files)
    assert found == run(setup, files, folder, tmp_path / "anew.jsonl")


def cut_short(lines: list[bytes]) -> list[bytes]:
    return [*lines[:-1], lines[-1][:-20]]


def no_text(lines: list[bytes]) -> list[bytes]:
    return [*lines[:2], b'{"file":"\xff\xff"}\n', *lines[2:]]


@pytest.mark.parametrize(("damage", "anew"), [(cut_short, 1), (no_text, 2)])
def test_what_stands_from_a_damaged_line_on_is_judged_again(
    folder: Path,
    setup: Setup,
    tmp_path: Path,
    counted: list[str],
    damage: Callable[[list[bytes]], list[bytes]],
    anew: int,
) -> None:
    kept = tmp_path / "results.jsonl"
    files = some(folder, 3)
    whole = run(setup, files, folder, kept)
    kept.write_bytes(b"".join(damage(kept.read_bytes().splitlines(keepends=True))))
    counted.clear()
    assert run(setup, files, folder, kept) == whole
    assert len(counted) == anew
    assert kept.read_bytes().endswith(b"}\n")


def test_a_file_that_changed_is_judged_again_and_one_that_is_gone_is_left_out(
    folder: Path, setup: Setup, tmp_path: Path, counted: list[str]
) -> None:
    own = tmp_path / "own"
    own.mkdir()
    files = []
    for path in some(folder, 3):
        files.append(own / path.name)
        files[-1].write_bytes(path.read_bytes())
    kept = tmp_path / "results.jsonl"
    run(setup, files, own, kept)
    counted.clear()
    files[0].write_text("proposed: [", "utf-8")
    found = run(setup, files[:2], own, kept)
    assert counted == [files[0].name]
    assert len(found) == 2
    assert next(one for one in found if one.file == files[0].name).outcome == "not read"


def test_results_of_another_job_are_refused(folder: Path, setup: Setup, tmp_path: Path) -> None:
    kept = tmp_path / "results.jsonl"
    run(setup, some(folder, 1), folder, kept)
    with pytest.raises(InputError, match="made under another job"):
        Results(kept, "another")


@pytest.mark.parametrize("text", [b"not ours\n", b'{"a": 1}\n', b"not ours", b'{"form":"\xff\xfe"}\n'])
def test_a_file_of_another_kind_is_not_written_to(text: bytes, tmp_path: Path) -> None:
    kept = tmp_path / "notes.txt"
    kept.write_bytes(text)
    with pytest.raises(InputError, match="no file of pre-screen results"):
        Results(kept, "mark")
    assert kept.read_bytes() == text


def test_a_stop_before_the_first_line_was_whole_begins_again(tmp_path: Path) -> None:
    kept = tmp_path / "results.jsonl"
    with Results(kept, "mark"):
        pass
    head = kept.read_bytes()
    kept.write_bytes(head[:10])
    with Results(kept, "mark") as results:
        assert len(results) == 0
    assert kept.read_bytes() == head


def test_two_runs_do_not_write_into_one_file(tmp_path: Path) -> None:
    pytest.importorskip("fcntl", reason="this system cannot tell whether a file is being written to")
    kept = tmp_path / "results.jsonl"
    with Results(kept, "mark"), pytest.raises(InputError, match="another pre-screen is writing"):
        Results(kept, "mark")


def test_the_mark_of_a_setup_follows_what_it_was_made_of(job: Path, setup: Setup, tmp_path: Path) -> None:
    from cleatmark.review.prescreen_setup import prepare

    for name in ("job.yaml", "spec.docx"):
        (tmp_path / name).write_bytes((job.parent / name).read_bytes())
    mark = prepare(tmp_path / "job.yaml").mark()
    assert mark == setup.mark()
    text = (tmp_path / "job.yaml").read_text("utf-8").replace("speed: 110 mph", "speed: 115 mph")
    (tmp_path / "job.yaml").write_text(text, "utf-8")
    assert prepare(tmp_path / "job.yaml").mark() != mark


def test_results_come_by_outcome_and_headroom(folder: Path, setup: Setup) -> None:
    outcomes = ("meets and holds", "with changes", "not", "not read")
    with Results(None, setup.mark()) as results:
        for one in prescreen(setup, files_in(folder), folder=folder):
            results.add(one)
        found = list(results)
        assert results.counts() == {name: sum(o.outcome == name for o in found) for name in outcomes}
    assert [outcomes.index(one.outcome) for one in found] == sorted(outcomes.index(o.outcome) for o in found)
    fit = [one.headroom or 0 for one in found if one.outcome == outcomes[0]]
    assert fit == sorted(fit, reverse=True)
    unfit = [one.verdict for one in found if one.outcome == "not"]
    assert unfit == sorted(unfit, key=lambda verdict: verdict == "deviates")


def test_a_killed_run_leaves_no_worker_behind_and_is_taken_up(
    folder: Path, job: Path, tmp_path: Path
) -> None:
    kept = tmp_path / "results.jsonl"
    order = [sys.executable, "-m", "cleatmark.cli", "prescreen", str(job), "--systems", str(folder)]
    order += ["--jobs", "2", "--resume", str(kept), "--format", "json"]
    run = subprocess.Popen(order, stdout=subprocess.DEVNULL)
    until = time.monotonic() + 60
    while time.monotonic() < until and (not kept.exists() or kept.read_bytes().count(b"\n") < 3):
        time.sleep(0.01)
    run.kill()
    run.wait()
    before = kept.read_bytes().count(b"\n")
    assert before >= 3
    while time.monotonic() < until:
        again = subprocess.run(order, capture_output=True, text=True, timeout=120)
        if again.returncode != 2:
            break
        time.sleep(0.1)
    assert again.returncode == 1, again.stderr
    lines = kept.read_bytes().splitlines()
    assert len(lines) == 41
    assert len({json.loads(line)["file"] for line in lines[1:]}) == 40
