"""A study: every landing of a case drawn and judged, on one process or on many, once each."""

from __future__ import annotations

import hashlib
from dataclasses import dataclass, replace
from importlib.metadata import version
from typing import TYPE_CHECKING, Any, NamedTuple

from crushleg.scatter.chain_girders import girder_varies
from crushleg.scatter.kept import Kept, missing
from crushleg.scatter.partial import PartialFile
from crushleg.scatter.plan import plan_of
from crushleg.scatter.pool import Workers, processes
from crushleg.scatter.sampling import draws

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator
    from concurrent.futures import Executor
    from pathlib import Path

    from crushleg.case.records import Case
    from crushleg.scatter.records import Draws, Evaluate, Judged, Progress, StudyResult

CHUNK = 256
"""Landings that go together where their girders differ: a few tenths of a second."""
FIXED_CHUNK = 32768
"""The same on one girder, where a landing costs less by far."""


class NothingDoneError(KeyboardInterrupt):
    """Ctrl-C before the first landings were judged."""


class Design(NamedTuple):
    """What a study draws: its name, how many landings, and the inputs of ``count`` from one on."""

    name: str
    total: int
    draw: Callable[[int, int], Draws]


@dataclass(frozen=True)
class _Work:
    """Judge one chunk of draws; sent to the workers."""

    evaluate: Evaluate
    case: Case

    def __call__(self, chunk: _Drawn) -> Judged:
        return self.evaluate(self.case, chunk.draws)


class _Drawn(NamedTuple):
    draws: Draws

    def __hash__(self) -> int:
        return hash((self.draws.start, self.draws.landings))


def study(
    case: Case,
    evaluate: Evaluate,
    *,
    executor: Executor | None = None,
    workers: int = 1,
    chunk: int | None = None,
    partial: Path | None = None,
    told: Callable[[Progress], None] | None = None,
) -> StudyResult:
    """Draw the landings of a case and judge them.

    Parameters
    ----------
    case : Case
    evaluate : callable
        Judged of a case and draws; a function of a module, each landing on its own.
    executor : concurrent.futures.Executor, optional
        Where to run, ``workers`` at a time; left out: here, or ``workers`` processes.
    workers : int
        Chunks at a time.
    chunk : int, optional
        Landings that go together; left out: by what a landing costs.
    partial : path, optional
        File that keeps what is done and that the study goes on from.
    told : callable, optional
        Hears of the progress after every chunk.

    Returns
    -------
    StudyResult
        The same bytes whatever chunks, workers and interruptions; of the landings that were done
        where Ctrl-C ended it.

    Raises
    ------
    NothingDoneError
        Ctrl-C ended it before any was.
    """
    scatter = plan_of(case).scatter
    design = Design("landings", scatter.samples, lambda start, count: draws(case, start, count))
    return run(case, evaluate, design, executor, workers, chunk, partial, told)


def run(
    case: Case,
    evaluate: Evaluate,
    design: Design,
    executor: Executor | None = None,
    workers: int = 1,
    chunk: int | None = None,
    partial: Path | None = None,
    told: Callable[[Progress], None] | None = None,
) -> StudyResult:
    """Judge every landing of a design; parameters as :func:`study`."""
    file = None if partial is None else PartialFile(partial, _identity(case, evaluate, design))
    kept = Kept(design.total, file, told)
    work = _Work(evaluate, _without_samples(case))
    count = chunk or _chunk(case, workers)
    pool = _pool(work, executor, workers)
    try:
        kept.begin()
        chunks = (_Drawn(design.draw(*part)) for part in missing(kept.table.done.copy(), count))
        for drawn, judged in _results(work, chunks, pool):
            kept.keep(drawn.draws.start, judged, "" if pool is None else pool.told)
    except KeyboardInterrupt:
        if not kept.table.done.any():
            raise NothingDoneError from None
        kept.notes["interrupted"] = None
    finally:
        if pool is not None:
            pool.close()
        if file is not None:
            file.close()
    return kept.table.result(tuple(kept.notes))


def _chunk(case: Case, workers: int) -> int:
    """Landings that go together; on one girder few enough for all workers to have some."""
    plan = plan_of(case)
    if girder_varies(case, {one.key: one for one in plan.inputs}):
        return CHUNK
    return min(FIXED_CHUNK, max(CHUNK, plan.scatter.samples // (4 * workers)))


def _without_samples(case: Case) -> Case:
    """Take out the columns of samples: only drawing needs them, no worker."""
    if case.scatter is None:
        return case
    inputs = tuple(replace(one, drawn=()) for one in case.scatter.inputs)
    return replace(case, scatter=replace(case.scatter, inputs=inputs))


def _pool(work: _Work, executor: Executor | None, workers: int) -> Workers[_Drawn, Judged] | None:
    if executor is not None:
        given = executor
        return Workers(work, lambda: given, workers, ours=False)
    if workers > 1:
        return Workers(work, lambda: processes(workers), workers, ours=True)
    return None


def _results(
    work: _Work, chunks: Iterator[_Drawn], pool: Workers[_Drawn, Judged] | None
) -> Iterator[tuple[_Drawn, Judged]]:
    if pool is None:
        return ((chunk, work(chunk)) for chunk in chunks)
    return pool.results(chunks)


def _identity(case: Case, evaluate: Evaluate, design: Design) -> dict[str, Any]:
    """Say what must be the same for results to belong to one study."""
    scatter = plan_of(case).scatter
    return {
        "case": hashlib.sha256(repr(case).encode("utf-8", "surrogatepass")).hexdigest(),
        "seed": scatter.seed,
        "method": scatter.method,
        "samples": design.total,
        "design": design.name,
        "work": f"{evaluate.__module__}.{getattr(evaluate, '__qualname__', '')}",
        "version": version("crushleg"),
    }
