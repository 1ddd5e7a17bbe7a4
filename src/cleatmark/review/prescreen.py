"""Systems on file screened under a job, as they come, by any executor of `concurrent.futures`."""

from __future__ import annotations

import gc
import multiprocessing
import multiprocessing.connection
import os
import signal
import threading
from collections.abc import Callable, Iterable, Iterator, Sequence
from concurrent.futures import FIRST_COMPLETED, Executor, Future, ProcessPoolExecutor, wait
from contextlib import contextmanager
from importlib import import_module
from itertools import islice
from pathlib import Path
from typing import TYPE_CHECKING

from cleatmark.problems import InputError, Place, Problem
from cleatmark.review.prescreen_model import UNREAD, Screened
from cleatmark.review.prescreen_setup import Setup, digest_of, prepare, unpacked

if TYPE_CHECKING:
    from cleatmark.review.prescreen_one import Screen

ENDINGS = (".yaml", ".yml")
BATCH = 32
"""Systems in one task at most: enough to hide what it costs to send the setup along, few enough that results keep
coming. The first tasks are smaller, so that a short folder too is shared out among the workers."""
AHEAD = 16
"""Tasks handed out at a time. What waits is bounded, however many systems there are."""

YOUNG = 200_000
"""Objects that a worker makes before the collector looks at them; a system makes a twentieth of it."""

System = tuple[str, str]
"""A system's file as the worker opens it, and its name in the results."""


def files_in(folder: Path) -> Iterator[Path]:
    """The YAML files under a folder, at any depth, in the order of their names; one folder at a time.

    Raises InputError where there is no such folder. Folders that begin with a dot are passed over.
    """
    if not folder.is_dir():
        a_file = folder.exists()
        message = "this is a file; a folder of systems is expected" if a_file else "there is no such folder"
        raise InputError([Problem(Place(str(folder)), message, ("for example: --systems systems",))])
    for here, below, names in os.walk(folder):
        below[:] = sorted(name for name in below if not name.startswith("."))
        for name in sorted(names):
            if name.casefold().endswith(ENDINGS):
                yield Path(here) / name


def prescreen(
    job: Path | Setup,
    files: Iterable[Path],
    *,
    rules: Sequence[str] = (),
    executor: Executor | None = None,
    folder: Path | None = None,
    done: Callable[[str, Path], bool] | None = None,
) -> Iterator[Screened]:
    """Each system as soon as it is judged; in the order of the files where no executor is given.

    job       a job file, or what `prepare` made of one
    executor  whatever runs functions elsewhere: processes, threads, a cluster. Its workers need this program, and the
              files under the same paths. Without one the systems are judged here, one after another
    folder    names in the results are relative to it
    done      asked of each file, by name and path: True for one that need not be judged again

    A system that cannot be read is a result like any other. Raises InputError where the job or the rules cannot be
    used, and where the executor breaks down.
    """
    setup = job if isinstance(job, Setup) else prepare(job, rules)
    systems = _wanted(files, folder, done)
    if executor is not None:
        packed = setup.packed()
        yield from _elsewhere(executor, digest_of(packed), packed, systems)
        return
    from cleatmark.review.prescreen_one import Screen

    screen = Screen(setup)
    for path, name in systems:
        yield _screened(screen, path, name)


def _wanted(
    files: Iterable[Path], folder: Path | None, done: Callable[[str, Path], bool] | None
) -> Iterator[System]:
    for path in files:
        shown = path.relative_to(folder) if folder is not None and path.is_relative_to(folder) else path
        name = shown.as_posix().encode(errors="backslashreplace").decode()
        if done is None or not done(name, path):
            yield str(path.absolute()), name


def _elsewhere(
    executor: Executor, digest: str, packed: bytes, systems: Iterator[System]
) -> Iterator[Screened]:
    """Hands out batches, at most AHEAD at a time, and gives results as they are finished."""
    waiting: set[Future[list[Screened]]] = set()
    size = 1
    try:
        while True:
            while len(waiting) < AHEAD and (batch := list(islice(systems, size))):
                waiting.add(executor.submit(work, digest, packed, batch))
                size = min(size + 1, BATCH)
            if not waiting:
                return
            finished, waiting = wait(waiting, return_when=FIRST_COMPLETED)
            results = [one for future in finished for one in _result(future)]
            yield from results
    finally:
        for future in waiting:
            future.cancel()


def _result(future: Future[list[Screened]]) -> list[Screened]:
    try:
        return future.result()
    except Exception as error:
        reason = f"{type(error).__name__}: {error}".strip(": ").splitlines()[0]
        message = f"a worker ended before its work was done ({reason})"
        help = ("results kept with --resume are taken up again",)
        raise InputError([Problem(Place("prescreen"), message, help)]) from error


_own = threading.local()
"""The setup that this worker opened last, ready to screen. A thread shares it with no other."""


def work(digest: str, packed: bytes, systems: Sequence[System]) -> list[Screened]:
    """One batch in a worker. The setup is opened once; in a process of its own the collector need not look at it
    again, and looks seldom at what comes and goes with each system."""
    if getattr(_own, "digest", "") != digest:
        from cleatmark.review.prescreen_one import Screen

        _own.screen, _own.digest = Screen(unpacked(packed)), digest
        if multiprocessing.parent_process() is not None:
            gc.collect()
            gc.freeze()
            gc.set_threshold(YOUNG)
    return [_screened(_own.screen, path, name) for path, name in systems]


def _screened(screen: Screen, path: str, name: str) -> Screened:
    """A system, whatever happens: a fault of this program in one system is told there and does not stop the rest."""
    try:
        return screen.file(Path(path), name)
    except Exception as error:
        words = f"this program failed on it ({type(error).__name__}: {error}); please report that"
        return Screened(name, "", UNREAD, problems=(words,))


@contextmanager
def executor_for(jobs: int, cluster: str = "") -> Iterator[Executor | None]:
    """A pool of processes on this machine, or the cluster at an address; None for one job, which is done in place."""
    if cluster:
        with dask(cluster) as there:
            yield there
    elif jobs > 1:
        with ProcessPoolExecutor(jobs, initializer=_begin) as pool:
            try:
                yield pool
            except BaseException:
                pool.shutdown(wait=False, cancel_futures=True)
                raise
    else:
        yield None


def _begin() -> None:
    """A stop from the keyboard is told once, by the process that was started; and none works on after it is gone.
    What that process does when it is asked to end is not for its workers."""
    signal.signal(signal.SIGINT, signal.SIG_IGN)
    signal.signal(signal.SIGTERM, signal.SIG_DFL)
    parent = multiprocessing.parent_process()
    if parent is not None:
        threading.Thread(target=_end_with, args=(parent.sentinel,), daemon=True).start()


def _end_with(sentinel: int) -> None:
    multiprocessing.connection.wait([sentinel])
    os._exit(1)


@contextmanager
def dask(address: str) -> Iterator[Executor]:
    """The executor of a Dask cluster that runs already. Its workers need this program, and the folder under the same
    path. Raises InputError where the extra is not installed or nobody answers."""
    try:
        distributed = import_module("distributed")
    except ImportError:
        help = ('install the extra: pip install "cleatmark[dask]"',)
        raise InputError([Problem(Place("--cluster"), "Dask is not installed", help)]) from None
    try:
        client = distributed.Client(address, timeout=10, set_as_default=False)
    except (OSError, ValueError) as error:
        reason = (str(error) or type(error).__name__).splitlines()[0]
        message = f'no Dask cluster answers at "{address}" ({reason})'
        raise InputError([Problem(Place("--cluster"), message, ("such as tcp://10.0.0.5:8786",))]) from None
    with client:
        yield client.get_executor()
