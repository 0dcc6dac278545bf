"""Chunks of work on any executor: a few in flight, lost ones again, none counted twice."""

from __future__ import annotations

import multiprocessing
import signal
from concurrent.futures import (
    FIRST_COMPLETED,
    BrokenExecutor,
    CancelledError,
    Executor,
    Future,
    ProcessPoolExecutor,
    wait,
)
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any, Generic, TypeVar

from crushleg.errors import InputError, Problem

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator, Sequence

T = TypeVar("T")
R = TypeVar("R")
TRIES = 3
PRELOAD = ["crushleg.scatter.study"]
"""Imported once for all worker processes, where the system can fork."""
LOST = (BrokenExecutor, CancelledError, ConnectionError)
"""What an executor raises when a worker is gone; anything else is the work's own error."""


class LostError(RuntimeError):
    """A chunk whose workers died every time."""


class Workers(Generic[T, R]):
    """Runs ``work`` on chunks; ``made`` says how to make an executor anew, ``count`` its size."""

    def __init__(
        self, work: Callable[[T], R], made: Callable[[], Executor], count: int, *, ours: bool
    ) -> None:
        self.work, self.made, self.ours = work, made, ours
        self.room = 2 * count + 1
        self.executor = made()
        self.flight: dict[Future[R], T] = {}
        self.losses: dict[int, int] = {}
        self.told = ""

    def results(self, chunks: Iterator[T]) -> Iterator[tuple[T, R]]:
        """Chunk and result, in the order in which they end."""
        waiting = _Again(chunks)
        while True:
            while len(self.flight) < self.room and (chunk := waiting.next()) is not None:
                self._submit(chunk, waiting)
            if not self.flight:
                return
            done, _ = wait(self.flight, return_when=FIRST_COMPLETED)
            lost: list[tuple[T, Exception]] = []
            for future in done:
                chunk = self.flight.pop(future)
                try:
                    result = future.result()
                except LOST as error:
                    lost.append((chunk, error))
                else:
                    yield chunk, result
            if lost:
                self._again(lost, waiting)

    def _submit(self, chunk: T, waiting: _Again[T]) -> None:
        try:
            self.flight[self.executor.submit(self.work, chunk)] = chunk
        except BrokenExecutor as error:
            self._again([(chunk, error)], waiting)

    def _again(self, lost: Sequence[tuple[T, Exception]], waiting: _Again[T]) -> None:
        """Put lost chunks back; after a broken pool all that are in flight, on a new one."""
        if self.ours and any(isinstance(error, BrokenExecutor) for _, error in lost):
            lost = [*lost, *((chunk, lost[0][1]) for chunk in self.flight.values())]
            self.flight.clear()
            self.executor.shutdown(wait=False, cancel_futures=True)
            self.executor = self.made()
        for chunk, error in lost:
            key = hash(chunk)
            self.losses[key] = self.losses.get(key, 0) + 1
            if self.losses[key] > TRIES:
                message = f"the workers died {self.losses[key]} times over the same landings"
                raise LostError(message) from error
            waiting.back.append(chunk)
        self.told = "a worker was lost: its landings are done again"

    def close(self) -> None:
        """Drop what is in flight; end our own workers."""
        for future in self.flight:
            future.cancel()
        if self.ours:
            self.executor.shutdown(wait=True, cancel_futures=True)


class _Again(Generic[T]):
    """Chunks still to do, those that were lost first."""

    def __init__(self, chunks: Iterator[T]) -> None:
        self.chunks = chunks
        self.back: list[T] = []

    def next(self) -> T | None:
        return self.back.pop() if self.back else next(self.chunks, None)


def processes(count: int) -> ProcessPoolExecutor:
    """Start processes on this machine; Ctrl-C is left to the one that started them."""
    served = "forkserver" in multiprocessing.get_all_start_methods()
    context = multiprocessing.get_context("forkserver" if served else "spawn")
    if served:
        context.set_forkserver_preload(PRELOAD)
    return ProcessPoolExecutor(count, mp_context=context, initializer=_ignore_interrupt)


def _ignore_interrupt() -> None:
    signal.signal(signal.SIGINT, signal.SIG_IGN)


@contextmanager
def cluster(address: str) -> Iterator[tuple[Executor, int]]:
    """Executor on a dask.distributed cluster, and how many threads its workers have.

    Raises
    ------
    InputError
        The extra "cluster" is not installed, or nothing answers at the address.
    LostError
        Its workers died over and over, or it is gone.
    """
    try:
        from distributed import Client  # noqa: PLC0415  # optional, and slow to import
    except ImportError:
        read = "--dask without the package distributed"
        raise InputError([Problem(read=read, write="pip install 'crushleg[cluster]'")]) from None
    try:
        client: Any = Client(address, timeout=10)
    except (OSError, ValueError) as error:
        problem = Problem(read=f'no cluster at "{address}" ({error})', write="tcp://host:8786")
        raise InputError([problem]) from None
    with client:
        client.wait_for_workers(1, timeout=60)
        try:
            yield client.get_executor(), max(1, sum(client.nthreads().values()))
        except Exception as error:
            if type(error).__module__.partition(".")[0] != "distributed":
                raise
            message = f"the cluster at {address} gave up ({type(error).__name__}: {error})"
            raise LostError(message) from error
