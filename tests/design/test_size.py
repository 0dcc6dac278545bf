"""Sizing: against brute force, on other problems, and where nothing fits."""

from __future__ import annotations

import dataclasses
import itertools
from types import SimpleNamespace
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

from crushleg import check_case, read_case_text, template
from crushleg.cli import INPUT, INTERRUPTED, NEGATIVE, PASSED, main
from crushleg.design import search
from crushleg.design import size as sizing
from crushleg.design.archive import Archive, Scores, shortfall
from crushleg.design.asked import space_of
from crushleg.design.chain import chains_of
from crushleg.design.choice import Choice, Pattern, Space, least_gap
from crushleg.design.conflict import conflicts
from crushleg.design.judge import LOAD, MASS, STROKE, LegJudge, masses
from crushleg.design.moves import decoded, moves, neighbours
from crushleg.design.ranges import Asked, read_asked, read_seed
from crushleg.design.settled import settled
from crushleg.design.size import Label, size, without_weak_walls
from crushleg.design.written import read_original
from crushleg.errors import InputError

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence
    from pathlib import Path

    from crushleg.case.records import Case, Girder

mm = 1e-3
RECTANGLES = ("--set", "girder.holes.shape=rectangle")
GIVEN = frozenset({"wall_tolerance", "corner_radius"})
SMALL = {"POPULATION": 14, "GENERATIONS": 2, "STARTS": 1, "MOST_LOOKS": 20}


def case_of(kind: str = "coupon", *overrides: str) -> Case:
    return read_case_text(template(kind), kind, overrides)


@pytest.fixture
def quick(monkeypatch: pytest.MonkeyPatch) -> None:
    """Let a search look at few girders."""
    for name, value in SMALL.items():
        monkeypatch.setattr(search, name, value)
    monkeypatch.setattr(sizing, "ASIDE", 5)
    monkeypatch.setattr(search.descend, "__defaults__", (SMALL["MOST_LOOKS"],))


def small_space(case: Case) -> Space:
    """Two sheets, five tools, two or three rows, one pitch."""
    return Space(
        base=case.girder,
        given=GIVEN,
        walls=(1.0 * mm, 1.2 * mm),
        lengths=(case.girder.length,),
        sizes=(14 * mm, 18 * mm, 22 * mm, 26 * mm, 30 * mm),
        rows=(2, 3),
        pitch=(60 * mm, 60 * mm),
        grid=5 * mm,
        pattern=Pattern(),
    )


def combinations() -> Iterator[Choice]:
    """Every candidate of the small space with its foot row at 20, 25 or 30 mm."""
    for wall, rows, first in itertools.product((0, 1), (2, 3), (4, 5, 6)):
        for sizes in itertools.combinations_with_replacement(range(4, -1, -1), rows):
            yield Choice(wall, 0, first, 12, sizes)


@pytest.mark.usefixtures("quick")
@pytest.mark.parametrize("limit", ["60 kN", "24 kN"])
def test_a_small_problem_agrees_with_brute_force_to_a_percent_of_mass(limit: str) -> None:
    case = case_of("coupon", f"limits.leg_limit_load={limit}")
    space = small_space(case)
    every = [c for c in combinations() if space.allows(c) and space.keeps(c)]
    scores = LegJudge(case=case, held=True)([space.girder(c) for c in every])
    fits = shortfall(scores.margins) <= 0.0
    assert 0 < np.count_nonzero(fits) < len(every)
    found = size(case, space, held=True)
    assert found.best is not None
    assert found.archive.values[found.best, MASS] <= 1.01 * scores.values[fits, MASS].min()


@pytest.mark.usefixtures("quick")
def test_the_same_seed_gives_the_same_candidates() -> None:
    case = case_of()
    one, other = (size(case, small_space(case), held=True, seed=7) for _ in range(2))
    assert one.archive.choices == other.archive.choices
    assert one.front == other.front


def test_a_batch_judges_as_the_check_does() -> None:
    case = case_of("lunar-lander")
    girders = [case.girder, dataclasses.replace(case.girder, wall=2.0 * mm)]
    scores = LegJudge(case=case, held=True)(girders)
    for i, girder in enumerate(girders):
        checked = check_case(dataclasses.replace(case, girder=girder))
        single = [
            float("nan") if m.margin is None or not m.counts else float(m.margin[0])
            for m in checked.margins
        ]
        assert scores.margins[:, i] == pytest.approx(single, rel=1e-9, nan_ok=True)
        assert scores.values[i, MASS] == pytest.approx(float(checked.crush.mass[0]), rel=1e-12)
        assert scores.values[i, LOAD] == max(
            float(landed.peak.max()) for landed in checked.landings
        )
        assert scores.values[i, STROKE] == max(
            float(landed.stroke_needed[0, 0]) for landed in checked.landings
        )
    assert masses(girders) == pytest.approx(scores.values[:, MASS], rel=1e-12)


def test_a_given_tolerance_is_kept_for_thinner_walls_and_grows_with_thicker_ones() -> None:
    space = small_space(case_of("coupon", "girder.wall=1 mm", "girder.wall_tolerance=0.06 mm"))
    found = [space.section(t * mm, 0.3).wall_tolerance for t in (0.5, 1.0, 1.5)]
    assert found == pytest.approx([0.06 * mm, 0.06 * mm, 0.09 * mm])


def test_every_second_row_of_a_staggered_pattern_keeps_its_web() -> None:
    """Slots 55 mm long, rows 30 mm apart, every second one aside: 60 − 55 mm from row to row."""
    long = Pattern("slot", 1, 0.0, 0.0, "all", 55 * mm)
    rows = dataclasses.replace(small_space(case_of()), pattern=long).hole_rows(
        Choice(0, 0, 10, 12, (0, 0, 0))
    )
    apart = [
        dataclasses.replace(row, offset=x) for row, x in zip(rows, (0.0, 40 * mm, 0.0), strict=True)
    ]
    closer = [
        dataclasses.replace(row, height=z) for row, z in zip(apart, (0.1, 0.13, 0.16), strict=True)
    ]
    assert least_gap(closer, 0.4) == pytest.approx(0.06 - 0.055)


def test_the_free_length_of_a_leg_is_its_girder_s_where_the_case_gives_none() -> None:
    case = case_of("coupon")
    girders = [dataclasses.replace(case.girder, length=x) for x in (0.30, 0.25, 0.30)]
    scores = LegJudge(case=case, held=False)(girders)
    column = [m.check for m in check_case(case).margins].index("column")
    own = dataclasses.replace(case, leg=dataclasses.replace(case.leg, free_length=0.25))
    shorter = check_case(dataclasses.replace(own, girder=girders[1])).margins[column].margin
    assert shorter is not None
    assert scores.margins[column, 1] == pytest.approx(float(shorter[0]), rel=1e-9)
    assert scores.margins[column, 0] == scores.margins[column, 2]


def test_a_wall_on_which_even_the_plain_girder_is_too_weak_is_left_out() -> None:
    case = case_of()
    space = dataclasses.replace(small_space(case), walls=(0.6 * mm, 1.0 * mm, 1.5 * mm))
    labels = tuple(Label(m.check, m.touchdown) for m in check_case(case).margins)
    judge = LegJudge(case=case, held=True)
    kept = without_weak_walls(space, judge, labels)
    assert kept.walls == (1.0 * mm, 1.5 * mm)
    none = dataclasses.replace(space, walls=(0.6 * mm,))
    assert without_weak_walls(none, judge, labels).walls == none.walls


@pytest.mark.usefixtures("quick")
def test_lighter_neighbours_of_a_design_each_miss_the_margin_named() -> None:
    case = case_of()
    found = size(case, small_space(case), held=True)
    assert found.best is not None
    mass = found.archive.values[found.best, MASS]
    for one in found.lighter:
        row = found.labels.index(one.label)
        assert one.mass < mass
        assert one.margin == found.archive.margins[row, one.place] < 0.0
    assert [one.mass for one in found.lighter] == sorted(
        (o.mass for o in found.lighter), reverse=True
    )


@pytest.mark.usefixtures("quick")
def test_no_design_of_the_front_is_bettered_by_another() -> None:
    case = case_of()
    found = size(case, small_space(case), held=True)
    values = found.archive.values[list(found.front)]
    assert found.front[0] == found.best
    for one, other in itertools.permutations(values, 2):
        assert not (one <= other).all()
    assert {STROKE, LOAD, MASS} == set(range(values.shape[1]))


@pytest.mark.usefixtures("quick")
def test_designs_within_half_a_percent_of_another_are_one() -> None:
    values = np.array([[1.0, 1.0, 1.0], [1.004, 0.999, 1.0], [1.01, 0.98, 1.0], [1.02, 1.0, 1.0]])
    archive: Any = SimpleNamespace(values=values, fits=np.ones(4, dtype=bool))
    assert sizing._front(archive) == (0, 2)


def test_walls_too_weak_are_added_below_the_candidates_that_were_near() -> None:
    case = case_of()
    space = small_space(case)
    fewer = dataclasses.replace(space, walls=space.walls[1:])
    archive = Archive(fewer, LegJudge(case=case, held=True))
    archive.look([Choice(0, 0, 5, 12, sizes) for sizes in ((4, 2), (3, 3), (2, 1, 0))])
    wider = sizing.widened(archive, space)
    assert {space.girder(c) for c in wider.choices} == {fewer.girder(c) for c in archive.choices}


def test_conflicting_limits_are_named_with_what_each_costs() -> None:
    case = case_of("coupon", "limits.leg_limit_load=9 kN", "limits.stroke_fraction=0.5")
    found = size(case, small_space(case), held=True)
    assert found.best is None
    named = {one.label.check: one for one in conflicts(found)}
    assert {"leg_load", "stroke"} & set(named)
    for one in named.values():
        row = found.archive.margins[found.labels.index(one.label)]
        assert one.margin < 0.0
        assert one.met == np.count_nonzero(row >= 1e-6)
        assert one.best == row.max()
        assert all(missed.margin < 1e-6 for missed in one.then)
        assert one.label not in [missed.label for missed in one.then]


def test_what_a_limit_costs_that_none_meets_is_read_from_the_best_for_it() -> None:
    margins = np.array([[-0.5, -0.2, -0.4], [-0.1, -0.3, 0.2]])
    archive = SimpleNamespace(margins=margins, shortfall=shortfall(margins))
    labels = (Label("leg_load", "drop"), Label("stroke", "drop"))
    none: Any = SimpleNamespace(best=None, nearest=0, labels=labels, archive=archive)
    load, stroke = conflicts(none)
    assert (load.met, load.best, load.then) == (0, -0.2, ((labels[1], -0.3),))
    assert (stroke.met, stroke.best, stroke.then) == (1, 0.2, ((labels[0], -0.4),))


@pytest.mark.parametrize("tolerance", ["0.2 mm", "3 mm"])
def test_sizes_of_a_chain_keep_the_order_of_collapse(tolerance: str) -> None:
    case = case_of("test-stage", f"girder.hole_tolerance={tolerance}")
    space = space_of(case, GIVEN, Asked(walls=(4 * mm, 4 * mm)))
    chain = chains_of(space)[0]
    foot = len(chain.rise) - 1
    sizes = chain.graded((foot,), 6, 5)
    choice = Choice(0, 0, 200, 240, sizes)
    checked = check_case(dataclasses.replace(case, girder=space.girder(choice)))
    order = next(m for m in checked.margins if m.check == "collapse_sequence")
    assert order.margin is not None
    assert 0.0 <= float(order.margin[0]) < 0.01
    larger = choice._replace(sizes=(*sizes[:1], sizes[1] + 1, *sizes[2:]))
    worse = check_case(dataclasses.replace(case, girder=space.girder(larger)))
    order = next(m for m in worse.margins if m.check == "collapse_sequence")
    assert order.margin is not None
    assert float(order.margin[0]) < 0.0


@pytest.mark.parametrize("kind", ["test-stage", "lunar-lander", "coupon"])
def test_moves_and_decoded_points_are_candidates_that_the_reader_takes(kind: str) -> None:
    case = case_of(kind)
    space = space_of(case, GIVEN, Asked())
    chains = chains_of(space)
    points = np.random.default_rng(3).random((60, 7))
    points[:, 0] = (points[:, 0] * len(space.walls)).astype(int)
    points[:, 1] = 0
    points[:, 2] = 2 + (points[:, 2] * 8).astype(int)
    choices = [c for c in (decoded(space, chains, p) for p in points) if space.allows(c)]
    assert len(choices) > 30
    assert all(space.keeps(c) and space.readable(c) for c in choices)
    near = neighbours(space, chains, choices[0], 2)
    assert set(near) <= set(moves(space, chains, choices[0], 2))
    for one in (*near[:20], *choices[:20]):
        margins = LegJudge(case=case, held=True)([space.girder(one)]).margins
        assert not np.isnan(margins).all()


class Counting:
    """A judge that counts girders, and stops after some."""

    def __init__(self, judge: LegJudge, stop: int) -> None:
        self.judge, self.stop, self.count = judge, stop, 0

    def __call__(self, girders: Sequence[Girder]) -> Scores:
        self.count += len(girders)
        if self.count > self.stop:
            raise KeyboardInterrupt
        return self.judge(girders)


def test_an_archive_computes_a_candidate_once() -> None:
    case = case_of()
    space = small_space(case)
    judge = Counting(LegJudge(case=case, held=True), 100)
    archive = Archive(space, judge)
    one, other = Choice(0, 0, 6, 12, (3, 2)), Choice(1, 0, 6, 12, (3, 2))
    assert archive.look([one, other, one]).tolist() == [0, 1, 0]
    assert archive.look([other]).tolist() == [1]
    assert judge.count == 2


def test_a_margin_lacks_at_most_one_and_one_that_does_not_count_nothing() -> None:
    margins = np.array([[-5.0, -0.2, 0.3], [np.nan, -0.5, 0.0]])
    assert shortfall(margins) == pytest.approx([1.0, 0.7, 0.0], abs=1e-5)


# ---------------------------------------------------------------- the verb


def sized_file(tmp_path: Path, kind: str, *words: str, text: str | None = None) -> tuple[int, Path]:
    path = tmp_path / f"{kind}.toml"
    path.write_text(template(kind) if text is None else text, encoding="utf-8")
    out = tmp_path / "out"
    code = main(["size", str(path), "--out", str(out), "--no-plots", "--quiet", *words])
    return code, out / f"{kind}-sized.toml"


@pytest.mark.usefixtures("quick")
@pytest.mark.parametrize(
    ("kind", "words"),
    [
        ("lunar-lander", ["--rows", "3:4", "--walls", "1mm:1.5mm"]),
        (
            "lunar-lander",
            ["--free-holes", "--walls", "1mm", "--set", "girder.holes.shape=rectangle"],
        ),
        ("coupon", ["--rows", "1:1", "--walls", "1mm:1.2mm"]),
        (
            "coupon",
            ["--length", "0.2m:0.3m", "--pitch", "40mm:70mm", "--walls", "1.2mm", "--rows", "2:3"],
        ),
    ],
)
def test_the_file_written_passes_its_check(tmp_path: Path, kind: str, words: list[str]) -> None:
    code, file = sized_file(tmp_path, kind, *words)
    assert code == PASSED
    assert main(["check", str(file), "--no-plots", "--quiet"]) == PASSED


@pytest.mark.usefixtures("quick")
def test_steps_and_measured_values_of_another_girder_are_not_kept(tmp_path: Path) -> None:
    extra = '\n[[girder.wall_steps]]\nfrom = "200 mm"\nwall = "2 mm"\n'
    extra += '\n[girder.measured]\nwall = "1.4 mm"\n'
    extra += '\n[[scheme]]\nname = "old"\nwall_steps = []\nmeasured = {}\n'
    text = template("coupon") + extra
    code, file = sized_file(tmp_path, "coupon", "--walls", "1mm:1.2mm", text=text)
    assert code == PASSED
    case = read_original(file, ()).case
    assert case.schemes == ()
    assert case.girder.wall_steps == ()
    assert case.girder.measured is None
    assert main(["check", str(file), "--no-plots", "--quiet"]) == PASSED


@pytest.mark.usefixtures("quick")
def test_no_design_writes_no_case_and_exits_with_3(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "c.toml"
    path.write_text(template("coupon"), encoding="utf-8")
    words = ["--set", "limits.leg_limit_load=3 kN", "--walls", "1mm:1.2mm", "--no-plots"]
    assert main(["size", str(path), *words, "--out", str(tmp_path / "out")]) == NEGATIVE
    assert "NO DESIGN" in capsys.readouterr().out
    assert sorted(p.name for p in tmp_path.iterdir()) == ["c.toml"]


@pytest.mark.usefixtures("quick")
def test_an_interrupt_writes_the_best_so_far_and_exits_with_130(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    judge = LegJudge.__call__
    count = itertools.count()

    def stopping(self: LegJudge, girders: Sequence[Girder]) -> Scores:
        if next(count) == 3:
            raise KeyboardInterrupt
        return judge(self, girders)

    monkeypatch.setattr(LegJudge, "__call__", stopping)
    code, file = sized_file(tmp_path, "coupon")
    monkeypatch.undo()
    assert code == INTERRUPTED
    assert main(["check", str(file), "--no-plots", "--quiet"]) == PASSED


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--walls", "20mm:30mm"], "no sheet"),
        (["--walls", "2mm:1mm"], "--walls"),
        (["--walls", "2:3"], "2 mm"),
        (["--rows", "0"], "3:8"),
        (["--rows", "4:x"], "3:8"),
        (["--pitch", "1:2:3"], "60mm:140mm"),
        (["--rows", "30:31", "--pitch", "50mm:60mm"], "room"),
        (["--seed", "one"], "--seed"),
        (["--set", "girder.holes.shape=rectangle"], "--free-holes"),
        (["--follow", "constant:9kN", "--walls", "1mm"], "--follow"),
        (["--json", "out/coupon-sized.toml"], "another name"),
    ],
)
def test_bad_input_says_what_to_write_and_leaves_nothing(
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    capsys: pytest.CaptureFixture[str],
    words: list[str],
    said: str,
) -> None:
    monkeypatch.chdir(tmp_path)
    code, _ = sized_file(tmp_path, "coupon", *words)
    assert code == INPUT
    assert said in capsys.readouterr().err
    assert [p.name for p in tmp_path.iterdir()] == ["coupon.toml"]


def test_the_foot_row_lies_within_the_first_fold() -> None:
    case = case_of("test-stage")
    space = space_of(case, GIVEN, Asked(walls=(4 * mm, 4 * mm)))
    fold = 2.0 * float(check_case(case).crush.front.walls.half[0, 0])
    low, high = (Choice(0, 0, int(z / space.grid), 250, (60, 40)) for z in (fold, fold + 2 * mm))
    assert space.allows(low)
    assert not space.allows(high)


def test_no_tool_that_fits_and_a_free_length_that_is_too_short_are_refused(tmp_path: Path) -> None:
    stock = '\n[stock]\nonly = true\nhole_tools = ["200 mm"]\nsource = "crib"\n'
    assert sized_file(tmp_path, "coupon", text=template("coupon") + stock)[0] == INPUT
    assert sized_file(tmp_path, "lunar-lander", "--length", "0.5m:0.9m")[0] == INPUT


def test_ranges_are_read_as_they_are_typed() -> None:
    asked = read_asked(walls="2mm", rows="3:8", pitch="2 in:3in", length=None)
    assert asked.walls == (2 * mm, 2 * mm)
    assert asked.rows == (3, 8)
    assert asked.pitch == (0.0508, 0.0762)
    assert read_seed("12") == 12
    with pytest.raises(InputError):
        read_seed("-1")


@pytest.mark.usefixtures("quick")
def test_what_is_declared_is_what_the_check_of_the_file_says(tmp_path: Path) -> None:
    path = tmp_path / "c.toml"
    path.write_text(template("coupon"), encoding="utf-8")
    original = read_original(path, ())
    asked = Asked(walls=(1.0 * mm, 1.2 * mm))
    space = space_of(original.case, original.given, asked, held=original.held)
    found = size(original.case, space, held=original.held)
    place, written = settled(found, original, tmp_path)
    assert written is not None
    assert written.checked.passes
    assert written.checked.case.girder == found.archive.space.girder(found.archive.choices[place])
