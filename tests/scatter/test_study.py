"""A study is the same bytes whatever chunks, workers, deaths and interruptions."""

from __future__ import annotations

from concurrent.futures import BrokenExecutor, Executor, Future, ThreadPoolExecutor
from functools import partial
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from crushleg.errors import InputError
from crushleg.scatter import kept as kept_module
from crushleg.scatter.kept import Table
from crushleg.scatter.partial import FORMAT, Chunk
from crushleg.scatter.pool import LostError, Workers, cluster, processes
from crushleg.scatter.records import Progress, StudyResult
from crushleg.scatter.sampling import draws
from crushleg.scatter.sensitivity import indices
from crushleg.scatter.study import NothingDoneError, study
from tests.scatter.conftest import WALL_AND_MASS
from tests.scatter.evaluations import (
    DyingOnce,
    always_dying,
    heavy,
    judge,
    linear,
    slow,
    wrong,
)

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from crushleg.case.records import Case
    from tests.scatter.conftest import Scattered


@pytest.fixture(scope="module")
def whole(small: Case) -> StudyResult:
    return study(small, linear)


def test_a_study_judges_every_landing_once(small: Case, whole: StudyResult) -> None:
    expected = linear(small, draws(small, 0, 300))
    assert whole.complete
    assert whole.number.tolist() == list(range(300))
    assert whole.margin.tobytes() == expected.margin.tobytes()
    assert whole.quantities["wall"].tobytes() == expected.quantities["wall"].tobytes()
    assert (whole.names, whole.counts.tolist()) == (expected.names, [True, False])


@pytest.mark.parametrize("chunk", [1, 7, 64, 299, 1000])
def test_other_chunks_give_the_same_bytes(small: Case, whole: StudyResult, chunk: int) -> None:
    assert study(small, linear, chunk=chunk).digest == whole.digest


def test_another_seed_does_not(scattered: Scattered, whole: StudyResult) -> None:
    case = scattered(WALL_AND_MASS.replace("samples = 300", "samples = 300\nseed = 2"))
    assert study(case, linear).digest != whole.digest


def test_a_given_executor_gives_the_same_bytes_and_is_left_open(
    small: Case, whole: StudyResult
) -> None:
    with ThreadPoolExecutor(3) as executor:
        found = study(small, linear, executor=executor, workers=3, chunk=16)
        assert executor.submit(int, "7").result() == 7
    assert found.digest == whole.digest


def test_two_processes_give_the_same_bytes(small: Case, whole: StudyResult) -> None:
    assert study(small, linear, workers=2, chunk=40).digest == whole.digest


def test_landings_of_a_worker_that_died_are_done_again_and_counted_once(
    small: Case, whole: StudyResult, tmp_path: Path
) -> None:
    sign = tmp_path / "died"
    heard: list[Progress] = []
    found = study(small, DyingOnce(sign), workers=2, chunk=32, told=heard.append)
    assert sign.exists()
    assert found.digest == whole.digest
    assert found.notes == ("a worker was lost: its landings are done again",)
    assert [one.note for one in heard].count(found.notes[0]) == 1
    assert [one.done for one in heard] == sorted({one.done for one in heard})
    assert heard[-1] == Progress(300, 300, 0, heard[-1].note)


def test_every_chunk_comes_back_once_though_a_worker_died(small: Case, tmp_path: Path) -> None:
    """On a broken pool all chunks in flight go again, and only those."""
    chunks = [(at, 16) for at in range(0, 288, 16)]
    work = partial(judge, DyingOnce(tmp_path / "died"), small)
    pool = Workers(work, lambda: processes(2), 2, ours=True)
    try:
        found = [start for (start, _), _ in pool.results(iter(chunks))]
    finally:
        pool.close()
    assert (tmp_path / "died").exists()
    assert sorted(found) == list(range(0, 288, 16))


class Breaking(Executor):
    """Loses its first piece of work; what else it was given ends when it is shut down."""

    def __init__(self) -> None:
        self.futures: list[Future[Any]] = []

    def submit(self, *_: Any, **__: Any) -> Future[Any]:
        future: Future[Any] = Future()
        if not self.futures:
            future.set_exception(BrokenExecutor("gone"))
        self.futures.append(future)
        return future

    def shutdown(self, *_: Any, **__: Any) -> None:
        for future in self.futures[1:]:
            future.set_result("late")


def test_work_that_ends_late_on_a_broken_pool_is_not_counted_beside_its_repetition() -> None:
    made = iter([Breaking(), ThreadPoolExecutor(1)])
    pool = Workers(str, lambda: next(made), 2, ours=True)
    try:
        found = list(pool.results(iter(range(9))))
    finally:
        pool.close()
    assert sorted(found) == [(k, str(k)) for k in range(9)]


def test_results_that_come_twice_or_out_of_order_are_filled_in_once() -> None:
    layout: dict[str, Any] = {"names": [["a", ""]], "counts": [True], "quantities": ["b"]}
    table = Table(8)
    table.put(layout, Chunk(4, np.array([[4.0, 5.0], [40.0, 50.0]])))
    table.put(layout, Chunk(5, np.array([[-1.0, 6.0], [-1.0, 60.0]])))
    found = table.result(())
    assert found.number.tolist() == [4, 5, 6]
    assert found.margin.tolist() == [[4.0, 5.0, 6.0]]
    assert found.quantities["b"].tolist() == [40.0, 50.0, 60.0]
    with pytest.raises(ValueError, match="other names"):
        table.put({**layout, "counts": [False]}, Chunk(0, np.zeros((2, 1))))


def test_a_study_on_one_girder_leaves_chunks_for_every_worker(scattered: Scattered) -> None:
    text = WALL_AND_MASS.replace("samples = 300", "samples = 4096")
    wall = text.index("[[scatter.input]]")
    case = scattered(text[:wall] + text[text.index("[[scatter.input]]", wall + 1) :])
    heard: list[Progress] = []
    with ThreadPoolExecutor(2) as executor:
        study(case, heavy, executor=executor, workers=2, told=heard.append)
    assert len(heard) == 1 + 8


def test_landings_that_kill_every_worker_end_the_study_and_the_file_keeps_the_rest(
    small: Case, tmp_path: Path
) -> None:
    file = tmp_path / "part"
    with pytest.raises(LostError, match="died 4 times over the same landings"):
        study(small, always_dying, workers=2, chunk=32, partial=file)
    heard: list[Progress] = []
    study(small, always_dying, partial=file, told=Stopper(heard, 0))
    assert heard[0].resumed >= 32


class Stopper:
    """Presses Ctrl-C once so many landings are done."""

    def __init__(self, heard: list[Progress], at: int) -> None:
        self.heard, self.at = heard, at

    def __call__(self, progress: Progress) -> None:
        self.heard.append(progress)
        if progress.done >= self.at:
            raise KeyboardInterrupt


def test_a_fault_of_the_judging_is_raised_as_it_is(small: Case) -> None:
    with pytest.raises(ArithmeticError, match="no Dunlin"):
        study(small, wrong, chunk=50)


def test_ctrl_c_keeps_what_is_done_and_the_study_goes_on_from_there(
    small: Case, whole: StudyResult, tmp_path: Path
) -> None:
    file = tmp_path / "part"
    first = study(small, linear, chunk=40, partial=file, told=Stopper([], 120))
    assert not first.complete
    assert first.number.tolist() == list(range(120))
    assert first.margin.tobytes() == np.ascontiguousarray(whole.margin[:, :120]).tobytes()
    assert first.notes[-1] == "interrupted"
    heard: list[Progress] = []
    found = study(small, linear, chunk=64, partial=file, told=heard.append)
    assert (heard[0].done, heard[0].resumed) == (120, 120)
    assert "120 landings of an earlier run" in heard[0].note
    assert found.digest == whole.digest


def test_a_finished_file_is_read_and_nothing_is_judged_again(
    small: Case, whole: StudyResult, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    file = tmp_path / "part"
    study(small, linear, partial=file)
    monkeypatch.setattr("crushleg.scatter.study.draws", None)
    assert study(small, linear, partial=file).digest == whole.digest


def test_ctrl_c_before_anything_is_done_says_so_and_leaves_no_file(
    small: Case, tmp_path: Path
) -> None:
    with pytest.raises(NothingDoneError):
        study(small, linear, partial=tmp_path / "part", told=Stopper([], 0))
    assert not (tmp_path / "part").exists()


@pytest.mark.parametrize("lost", [1, 3000])
def test_a_record_that_was_cut_off_is_done_again(
    small: Case, whole: StudyResult, tmp_path: Path, lost: int
) -> None:
    file = tmp_path / "part"
    study(small, linear, chunk=100, partial=file)
    raw = file.read_bytes()
    file.write_bytes(raw[:-lost])
    assert study(small, linear, chunk=100, partial=file).digest == whole.digest
    assert file.read_bytes() == raw


def test_a_spoilt_byte_is_found_by_its_checksum(
    small: Case, whole: StudyResult, tmp_path: Path
) -> None:
    file = tmp_path / "part"
    study(small, linear, chunk=100, partial=file)
    raw = bytearray(file.read_bytes())
    raw[-9] ^= 1
    file.write_bytes(raw)
    heard: list[Progress] = []
    assert study(small, linear, partial=file, told=heard.append).digest == whole.digest
    assert heard[0].resumed == 200


def test_the_file_of_another_study_is_put_aside_and_said(
    small: Case, scattered: Scattered, whole: StudyResult, tmp_path: Path
) -> None:
    file = tmp_path / "part"
    other = scattered(WALL_AND_MASS.replace("samples = 300", "samples = 300\nseed = 2"))
    study(other, linear, partial=file)
    raw = file.read_bytes()
    found = study(small, linear, partial=file)
    assert found.digest == whole.digest
    assert found.notes == (f"{file} holds another case, seed: put aside as part.old, begun anew",)
    assert (tmp_path / "part.old").read_bytes() == raw


def test_a_file_that_is_no_study_is_put_aside_too(small: Case, tmp_path: Path) -> None:
    file = tmp_path / "part"
    file.write_text("a letter\n")
    assert "no study: put aside" in study(small, linear, partial=file).notes[0]
    assert (tmp_path / "part.old").read_text() == "a letter\n"
    assert FORMAT.encode() in file.read_bytes()


def test_a_study_can_go_on_on_other_workers(
    small: Case, whole: StudyResult, tmp_path: Path
) -> None:
    file = tmp_path / "part"
    study(small, slow, chunk=40, partial=file, told=Stopper([], 120))
    with ThreadPoolExecutor(2) as executor:
        found = study(small, slow, executor=executor, workers=2, chunk=10, partial=file)
    assert found.digest == whole.digest


def test_many_results_lie_in_a_file_and_are_the_same(
    small: Case, whole: StudyResult, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(kept_module, "IN_MEMORY", 1000)
    found = study(small, linear)
    assert isinstance(found.margin, np.memmap)
    assert found.digest == whole.digest


def test_indices_do_not_depend_on_chunks_or_executor(small: Case, tmp_path: Path) -> None:
    one = indices(small, linear, base=64, chunk=5)
    with ThreadPoolExecutor(2) as executor:
        other = indices(small, linear, base=64, executor=executor, partial=tmp_path / "part")
    assert np.array_equal(one.first, other.first, equal_nan=True)
    assert np.array_equal(one.total, other.total, equal_nan=True)


def test_indices_after_ctrl_c_are_those_of_the_points_that_are_whole(small: Case) -> None:
    stopped = indices(small, linear, base=64, chunk=10, told=Stopper([], 4 * 32))
    half = indices(small, linear, base=32)
    assert np.array_equal(stopped.first, half.first, equal_nan=True)


@pytest.fixture
def two_dask_workers() -> Iterator[str]:
    """Address of a real cluster of two worker processes on this machine."""
    distributed = pytest.importorskip("distributed")
    with distributed.LocalCluster(
        n_workers=2, threads_per_worker=1, dashboard_address=None
    ) as local:
        yield local.scheduler_address


@pytest.mark.evidence
def test_a_dask_cluster_gives_the_same_bytes_though_a_worker_dies(
    small: Case, whole: StudyResult, tmp_path: Path, two_dask_workers: str
) -> None:
    sign = tmp_path / "died"
    with cluster(two_dask_workers) as (executor, workers):
        assert workers == 2
        steady = study(small, linear, executor=executor, workers=workers, chunk=16)
        shaken = study(small, DyingOnce(sign), executor=executor, workers=workers, chunk=16)
    assert sign.exists()
    assert steady.digest == shaken.digest == whole.digest


@pytest.mark.evidence
def test_landings_that_kill_every_worker_of_a_cluster_end_the_study_by_name(
    small: Case, two_dask_workers: str
) -> None:
    with (
        pytest.raises(LostError, match=r"cluster at .* gave up .KilledWorker"),
        cluster(two_dask_workers) as (executor, workers),
    ):
        study(small, always_dying, executor=executor, workers=workers, chunk=32)


@pytest.mark.evidence
def test_a_fault_of_the_judging_on_a_cluster_is_raised_as_it_is(
    small: Case, two_dask_workers: str
) -> None:
    with (
        pytest.raises(ArithmeticError, match="no Dunlin"),
        cluster(two_dask_workers) as (executor, workers),
    ):
        study(small, wrong, executor=executor, workers=workers)


@pytest.mark.evidence
def test_an_address_without_a_cluster_is_refused_by_name() -> None:
    pytest.importorskip("distributed")
    with pytest.raises(InputError, match="no cluster at"), cluster("tcp://127.0.0.1:1"):
        pass
