"""`cleatmark prescreen`: the systems on file under a job, before bidding."""

from __future__ import annotations

import argparse
import os
import signal
import sys
import threading
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import TYPE_CHECKING

from cleatmark.commands.outputs import check_outputs, named_by
from cleatmark.problems import InputError, Place, Problem

if TYPE_CHECKING:
    from collections.abc import Callable

    from cleatmark.review.prescreen_results import Results


def run(arguments: argparse.Namespace) -> int:
    """Screens, writes the reports asked for, prints; status 0 where every system meets and holds."""
    from cleatmark.report import prescreen_report as report
    from cleatmark.review.prescreen import executor_for, files_in, prescreen
    from cleatmark.review.prescreen_model import MEETS
    from cleatmark.review.prescreen_results import Results
    from cleatmark.review.prescreen_setup import head_of, prepare

    report.check_endings(arguments.report)
    written = (*arguments.report, *filter(None, (arguments.resume,)))
    check_outputs(written, (arguments.job, *map(Path, arguments.rules)))
    folder: Path = arguments.systems
    if next(files_in(folder), None) is None:
        message = "there is no system in this folder, nor in the folders under it"
        help_ = (
            "a system is a submittal file that ends in .yaml",
            "for a blank one: cleatmark form system.yaml",
        )
        raise InputError([Problem(Place(str(folder)), message, help_)])
    setup = prepare(arguments.job, arguments.rules)
    check_outputs(written, named_by(setup.job))
    head = head_of(setup)
    jobs = arguments.jobs or (os.cpu_count() or 1)
    with (
        Results(arguments.resume, setup.mark()) as results,
        _stopped_as_from_the_keyboard(),
        executor_for(jobs, arguments.cluster) as executor,
        _progress(folder) as told,
    ):
        for one in prescreen(setup, files_in(folder), executor=executor, folder=folder, done=results.done):
            results.add(one)
            told(len(results))
        for path in arguments.report:
            report.write(head, results, folder.name or str(folder), path, arguments.paper)
        _print(arguments, head, results, folder)
        counts = results.counts()
    return 0 if counts[MEETS] == sum(counts.values()) else 1


@contextmanager
def _stopped_as_from_the_keyboard() -> Iterator[None]:
    """A request to end (SIGTERM) stops as Ctrl-C does: what is done is kept, and files are whole or not there."""
    if threading.current_thread() is not threading.main_thread():
        yield
        return
    before = signal.signal(signal.SIGTERM, signal.default_int_handler)
    try:
        yield
    finally:
        signal.signal(signal.SIGTERM, before)


def _print(arguments: argparse.Namespace, head: object, results: Results, folder: Path) -> None:
    from cleatmark.report import plain
    from cleatmark.report import prescreen_report as report
    from cleatmark.review.prescreen_model import PrescreenHead

    assert isinstance(head, PrescreenHead)
    if arguments.format == "json":
        for part in report.json_parts(head, results):
            sys.stdout.write(part)
        return
    import shutil

    width = shutil.get_terminal_size((100, 24)).columns
    for part in report.text_parts(head, results, folder.name or str(folder), width):
        plain.write(part, sys.stdout)


@contextmanager
def _progress(folder: Path) -> Iterator[Callable[[int], None]]:
    """A bar on standard error where that is a terminal; the systems are counted first, so that it can say how far."""
    if not sys.stderr.isatty():
        yield lambda count: None
        return
    from rich.console import Console
    from rich.progress import BarColumn, MofNCompleteColumn, Progress, TextColumn, TimeRemainingColumn

    from cleatmark.review.prescreen import files_in

    total = sum(1 for _ in files_in(folder))
    columns = (TextColumn("Systems"), BarColumn(), MofNCompleteColumn(), TimeRemainingColumn())
    with Progress(*columns, console=Console(stderr=True), auto_refresh=False, transient=True) as bar:
        task = bar.add_task("systems", total=total)

        def told(count: int) -> None:
            bar.update(task, completed=count)
            if count % 8 == 0 or count == total:
                bar.refresh()

        yield told
