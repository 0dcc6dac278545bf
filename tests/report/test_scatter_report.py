"""What a study prints, writes and draws: every number counted again from its landings."""

from __future__ import annotations

import json
from dataclasses import replace
from functools import partial
from io import StringIO
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd
import pytest
from matplotlib.patches import Polygon
from rich.console import Console
from scipy import stats

from crushleg.case.scatter_records import ScatterInput
from crushleg.cautions import SCREENING
from crushleg.errors import InputError
from crushleg.report import scatter_csv
from crushleg.report.plot_scatter import scatter_figures
from crushleg.report.plot_scatter_speed import binned
from crushleg.report.plot_scatter_tornado import tornado_figure
from crushleg.report.plots import write_figures
from crushleg.report.scatter_csv import write_scatter_csv
from crushleg.report.scatter_data import scatter_result
from crushleg.report.scatter_progress import study_progress
from crushleg.report.scatter_text import print_scatter, scatter_text
from crushleg.report.scatter_words import distribution
from crushleg.scatter.outcome import drawn as drawn_values
from crushleg.scatter.outcome import drawn_blocks, sampled_curves
from crushleg.scatter.records import Progress
from tests.report.cases import line, terminal
from tests.report.scatter_studies import LIMIT, outcome

if TYPE_CHECKING:
    from collections.abc import Iterator
    from pathlib import Path

    from matplotlib.axes import Axes
    from matplotlib.figure import Figure

    from crushleg.scatter.records import Draws

LOADS = "leg_load_N nominal"
SLOW = (
    "scatter.input.6.values=['2.6 m/s', '3 m/s', '3.1 m/s', '3.2 m/s', '3.3 m/s']",
    "girder.wall=3.9 mm",
)


def failed(samples: int = 1024) -> int:
    return int((outcome(samples).study.quantities[LOADS] > LIMIT).sum())


def test_the_verdict_counts_the_failures_and_gives_the_exact_interval() -> None:
    """Interval against scipy.stats.binomtest, method exact."""
    count = failed()
    assert count > 0
    ends = stats.binomtest(count, 1024).proportion_ci(0.95, method="exact")
    verdict = scatter_text(outcome()).splitlines()[2]
    assert verdict.startswith(f"FAILS in {count} of 1024 landings")
    assert f"between {100 * ends.low:.2g} and {100 * ends.high:.2g} %" in verdict


def test_no_failure_is_said_with_its_upper_limit() -> None:
    """None of n: up to 1 - 0.025^(1/n)."""
    one = outcome(256, *SLOW)
    upper = 100.0 * (1.0 - 0.025 ** (1.0 / 256.0))
    verdict = scatter_text(one).splitlines()[2]
    assert verdict.startswith("NO FAILURE in 256 landings. That is no proof of none")
    assert f"up to {upper:.2g} %" in verdict
    assert one.passes


def test_margins_are_tabled_with_the_most_failed_first_and_the_uncounted_apart() -> None:
    text = scatter_text(outcome())
    share = f"{100.0 * failed() / 1024:.2g}"
    assert line(text, "any counted").split()[2] == share
    assert line(text, "leg load  ").split()[3] == share
    least = LIMIT / outcome().study.quantities[LOADS].max() - 1.0
    assert line(text, "leg load  ").split()[-1] == f"{least:+.3f}"
    assert line(text, "any counted").split()[-1] == f"{least:+.3f}"
    assert "tip over" not in text.split("Probability of failing")[1].split("Stroke and")[0]
    assert line(text, "Shown, not counted").startswith("Shown, not counted: lean, reserve ")


def test_the_99_95_limit_of_299_landings_is_the_largest_and_of_298_there_is_none() -> None:
    """Wilks: 1 - 0.99^299 = 0.9505."""
    for samples, found in ((299, True), (298, False)):
        one = outcome(samples)
        limits = scatter_result(one)["tolerance_limits"]
        load = next(x for x in limits if (x["key"], x["coverage"]) == ("leg_load_N", 0.99))
        largest = float(one.study.quantities[LOADS].max())
        assert load["by_rank"] == (largest if found else None)
        assert load["limit"] == LIMIT
        cell = line(scatter_text(one), "leg load, nominal, kN").split()[7]
        assert cell == (f"{largest / 1e3:.0f}" if found else "–")


def test_inputs_are_told_with_distribution_part_source_and_correlation() -> None:
    text = scatter_text(outcome())
    assert "- girder.wall, leg to leg: normal, mean 4 mm, deviation 0.01 mm; invented: four" in text
    assert line(text, "- vehicle.mass").startswith(
        "- vehicle.mass: triangular, 38.5 t to 43 t, mode 40 t; invented: mass statement"
    )
    assert "girder.material.ultimate_strength: correlation 0.7 of the normal scores" in text
    assert "Scatter by judgement, to be replaced by your data: girder.hole_size, model." in text


@pytest.mark.parametrize(
    ("changes", "said"),
    [
        ({"distribution": "uniform", "low": 38e3, "high": 42e3}, "uniform, 38 t to 42 t"),
        ({"distribution": "normal", "centre": 40e3, "cov": 0.02}, "normal, mean 40 t, cov 2 %"),
        (
            {"distribution": "lognormal", "median": 40e3, "cov": 0.1, "low": 39e3, "high": 43e3},
            "lognormal, median 40 t, cov 10 %, cut from 39 t to 43 t",
        ),
        (
            {"distribution": "95 % limits", "centre": 40e3, "low": 38e3, "high": 43e3},
            "95 % limits, 38 t to 43 t, median 40 t",
        ),
        (
            {"distribution": "table", "values": (39e3, 41e3), "probabilities": (0.07, 0.93)},
            "table, 7 % at 39 t, 93 % at 41 t",
        ),
        (
            {"distribution": "samples", "drawn": (1.0, 2.0), "column": "m", "file": "a.csv"},
            "samples, 2 values of m in a.csv",
        ),
    ],
)
def test_every_distribution_is_told_with_its_parameters(changes: dict[str, Any], said: str) -> None:
    assert distribution(ScatterInput(key="vehicle.mass", kind="mass", **changes)) == said


def test_the_tornado_says_by_hand_what_one_input_does() -> None:
    """Speed at 5 %: 2.6 + 0.05/0.2 × 0.5 = 2.725 m/s; 108 × 2.725 = 294.3 kN: +0.427.

    At 95 %: 3.9 + 0.02/0.07 × 0.5 = 4.043 m/s: 436.6 kN, -0.038, less the cut of the wall.
    """
    text = scatter_text(outcome())
    drivers = text.split("What drives the margins")[1]
    row = line(drivers, "touchdown.nominal.vertical_speed")
    assert row.split()[1:] == ["2.73", "m/s", "to", "4.04", "m/s", "+0.427", "-0.039"]
    assert "Next to nothing:" in drivers


def test_correlated_inputs_are_one_group_of_the_shares() -> None:
    text = scatter_text(outcome(64, shares=True))
    both = "girder.material.yield_strength + girder.material.ultimate_strength"
    shares = text.split("with interactions")
    assert len(shares) == 3
    assert both in shares[2]
    speed = line(shares[1], "touchdown.nominal.vertical_speed").split()
    assert float(speed[-3]) == pytest.approx(1.0, abs=0.05)


def test_the_worst_landing_is_told_with_its_values_and_file() -> None:
    one = outcome()
    assert one.worst is not None
    number = int(np.argmax(one.study.quantities[LOADS]))
    text = scatter_text(one).split("The worst landing")[1]
    assert f"Landing {number} of 1024, counted from 0: leg load, nominal -" in text
    assert "leg " in text.splitlines()[1]
    assert line(text, "Case file:").startswith("Case file: dunlin-worst.toml; a check of it gives")


def test_the_report_ends_with_the_caution_and_tells_what_does_not_scatter() -> None:
    text = scatter_text(outcome())
    assert text.splitlines()[-1] == SCREENING
    assert "what is not listed does not scatter" in text
    assert "Touchdowns are drawn independently of each other." in text
    assert "- Touchdown speed is the same in every landing: reserve." in text
    assert "Crests of later folds are nominal" not in text


def test_a_terminal_of_80_columns_takes_every_table_as_a_table() -> None:
    console = terminal()
    print_scatter(outcome(64, shares=True), console)
    assert isinstance(console.file, StringIO)
    text = console.file.getvalue()
    assert max(len(row) for row in text.splitlines() if "\x1b" not in row) <= 80
    assert "  95 % interval, %" not in [row.strip() for row in text.splitlines()]
    assert sum("girder.material.ultimate_strength" in row for row in text.splitlines()) >= 4


def test_units_of_the_us_are_shown_where_asked() -> None:
    text = scatter_text(outcome(), "us")
    assert "leg load, nominal, kip" in text
    assert " kN" not in text.split("Cautions")[0]


def test_an_interrupted_study_says_how_far_it_came() -> None:
    one = outcome()
    some = one.study._replace(
        number=one.study.number[:100],
        margin=one.study.margin[:, :100],
        quantities={key: x[:100] for key, x in one.study.quantities.items()},
        notes=("interrupted",),
    )
    text = scatter_text(replace(one, study=some, tornado=None))
    assert text.splitlines()[2] == "INTERRUPTED: 100 of 1024 landings; those are shown."
    assert scatter_result(replace(one, study=some))["interrupted"]


def test_data_are_plain_json_with_counts_and_values() -> None:
    one = outcome(64, shares=True)
    found = json.loads(json.dumps(scatter_result(one), allow_nan=False))
    assert found["schema"] == "crushleg-scatter-1"
    assert found["any"]["failed"] == failed(64)
    assert found["passes"] is (failed(64) == 0)
    tip = next(m for m in found["margins"] if m["check"] == "tip_over")
    assert (tip["applies"], tip["least"]) == (0, None)
    mass = next(x for x in found["inputs"] if x["key"] == "vehicle.mass")
    assert (mass["low_kg"], mass["mode_kg"], mass["high_kg"]) == (38.5e3, 40e3, 43e3)
    assert found["check"]["schema"] == "crushleg-result-1"
    assert found["worst"]["values"].keys() >= {"girder.wall_m", "model"}
    assert len(found["indices"]["shares"]) == 8 * 6


def test_every_landing_is_a_line_of_the_table(tmp_path: Path) -> None:
    one = outcome(64, shares=True)
    write_scatter_csv(one, tmp_path)
    table = pd.read_csv(tmp_path / "scatter-samples.csv")
    assert table["landing"].tolist() == list(range(64))
    walls = table[[f"girder.wall.leg_{leg}_m" for leg in range(1, 7)]].max(axis=1)
    load = 108e3 * table["touchdown.nominal.vertical_speed_m_s"] * walls / 4e-3
    assert table["leg_load.nominal_N"].to_numpy() == pytest.approx(load.to_numpy(), rel=1e-12)
    assert table["margin.leg_load.nominal"].to_numpy() == pytest.approx(LIMIT / load - 1.0)
    assert table["margin.tip_over.nominal"].isna().all()
    margins = pd.read_csv(tmp_path / "scatter-margins.csv")
    assert set(margins["caution"]) == {SCREENING}
    assert (tmp_path / "READ-FIRST.txt").read_text(encoding="utf-8").startswith(SCREENING)


def test_landings_that_are_missing_leave_no_gap_in_the_table(tmp_path: Path) -> None:
    one = outcome(64, shares=True)
    kept = np.array([0, 1, 2, 40, 41])
    some = one.study._replace(
        number=kept,
        margin=one.study.margin[:, kept],
        quantities={key: x[kept] for key, x in one.study.quantities.items()},
    )
    write_scatter_csv(replace(one, study=some), tmp_path)
    table = pd.read_csv(tmp_path / "scatter-samples.csv")
    assert table["landing"].tolist() == kept.tolist()
    speeds = drawn_values(replace(one, study=some), "touchdown.nominal.vertical_speed")
    assert speeds is not None
    assert table["touchdown.nominal.vertical_speed_m_s"].tolist() == speeds.tolist()
    whole = one.study.quantities["stroke_m nominal"][kept]
    speed = table["touchdown.nominal.vertical_speed_m_s"]
    again = 0.06 * speed * 295e6 / table["girder.material.yield_strength_Pa"]
    assert again.to_numpy() == pytest.approx(whole, rel=1e-12)


@pytest.fixture(scope="module")
def drawn() -> dict[str, Figure]:
    return scatter_figures(outcome())


def gid(figure: Figure | Axes, name: str) -> list[Any]:
    return figure.findobj(lambda artist: artist.get_gid() == name)


def test_a_study_has_five_figures_each_with_the_caution(drawn: dict[str, Figure]) -> None:
    names = ("histogram", "curves", "convergence", "speed", "tornado")
    assert sorted(drawn) == sorted(f"scatter-{name}" for name in names)
    for figure in drawn.values():
        foot = " ".join(text.get_text() for text in figure.texts)
        assert SCREENING in " ".join(foot.split())


def test_histograms_hold_every_landing_and_the_limit(drawn: dict[str, Figure]) -> None:
    margin, _, load = drawn["scatter-histogram"].axes
    assert load.get_xlabel() == "Leg load, nominal (kN)"
    (outline,) = load.findobj(Polygon)
    steps = outline.get_xy()[:, 1]
    assert steps.max() == np.histogram(outcome().study.quantities[LOADS], bins=32)[0].max()
    assert [x.get_xydata()[0, 0] for x in gid(load, "limit")] == [LIMIT / 1e3]
    assert [x.get_xydata()[0, 0] for x in gid(margin, "limit")] == [0.0]


def test_the_probability_ends_at_that_of_all_landings(drawn: dict[str, Figure]) -> None:
    (share,) = gid(drawn["scatter-convergence"], "share")
    assert share.get_xdata()[-1] == 1024
    assert share.get_ydata()[-1] == pytest.approx(100.0 * failed() / 1024)


def test_half_of_the_landings_at_a_speed_exceed_their_median(drawn: dict[str, Figure]) -> None:
    one = outcome()
    speed = one.study.quantities[LOADS] / one.study.quantities[LOADS].max()
    bins = binned(speed)
    counts = np.bincount(bins.of)
    assert counts.sum() == 1024
    assert counts.max() - counts.min() <= 2
    stairs = gid(drawn["scatter-speed"], "exceeded by 50 %")
    assert len(stairs) == 2
    levels, _, _ = stairs[0].get_data()
    assert np.all(np.diff(levels) > 0.0)
    middle = float(np.median(one.study.quantities[LOADS])) / 1e3
    assert levels.min() < middle < levels.max()
    tenth, _, _ = gid(drawn["scatter-speed"], "exceeded by 10 %")[0].get_data()
    assert np.all(tenth > levels)


def test_one_speed_drawn_often_is_one_bin() -> None:
    bins = binned(np.repeat([2.0, 3.0, 4.0], 200))
    assert bins.edges.tolist() == [2.0, 3.0, 4.0]
    assert np.bincount(bins.of).tolist() == [200, 400]
    assert np.bincount(binned(np.full(50, 3.0)).of).tolist() == [50]


def test_bars_of_the_tornado_reach_the_margins(drawn: dict[str, Figure]) -> None:
    key = "leg_load nominal touchdown.nominal.vertical_speed"
    (low,), (high,) = (gid(drawn["scatter-tornado"], f"{key} {end}") for end in (0, 1))
    assert low.get_x() + low.get_width() == pytest.approx(420.0 / (108.0 * 2.725) - 1.0, abs=2e-4)
    assert high.get_x() + high.get_width() < 0.04


def test_the_fan_is_that_of_the_curves(drawn: dict[str, Figure]) -> None:
    curves = sampled_curves(outcome().case, 8)
    assert curves.load.shape == (8, len(curves.stroke))
    assert np.isfinite(curves.load).all()
    (median,) = gid(drawn["scatter-curves"], "median")
    start = float(outcome().checked.crush.first_peak[1, 0]) / 1e3
    assert median.get_ydata()[0] == pytest.approx(start, rel=0.03)


def test_the_figures_are_written_the_same_again(tmp_path: Path, drawn: dict[str, Figure]) -> None:
    """The two quickest of them."""
    some = {name: drawn[f"scatter-{name}"] for name in ("histogram", "convergence")}
    made = [write_figures(some, tmp_path / place, ("svg",)) for place in "ab"]
    assert [path.name for path in made[0]] == ["histogram.svg", "convergence.svg"]
    assert [path.read_bytes() for path in made[0]] == [path.read_bytes() for path in made[1]]


def test_a_study_of_nothing_that_scatters_says_so() -> None:
    one = outcome()
    plan = one.plan._replace(inputs=(), correlations=())
    text = scatter_text(replace(one, plan=plan, worst=None))
    assert "Nothing scatters: every landing is the case itself." in text
    assert "What drives the margins" not in text


def test_progress_shows_what_is_done_and_left_in_a_terminal_alone() -> None:
    console = terminal()
    with study_progress("landings", console=console) as told:
        told(Progress(40, 100, 40))
        told(Progress(60, 100, 40))
    assert isinstance(console.file, StringIO)
    assert "60/100" in console.file.getvalue()
    silent = Console(file=StringIO(), force_terminal=False)
    with study_progress("landings", console=silent) as told:
        told(Progress(60, 100, 0))
    assert isinstance(silent.file, StringIO)
    assert silent.file.getvalue() == ""


def test_notes_are_told_even_without_a_terminal(capsys: pytest.CaptureFixture[str]) -> None:
    silent = Console(file=StringIO(), force_terminal=False)
    with study_progress("landings", quiet=True, console=silent) as told:
        told(Progress(1, 2, 0, "a worker was lost"))
    assert "a worker was lost" in capsys.readouterr().err


def test_a_table_of_many_blocks_is_written_a_piece_at_a_time_and_whole_or_not(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    one = outcome(64, shares=True)
    write_scatter_csv(one, tmp_path)
    whole = (tmp_path / "scatter-samples.csv").read_bytes()
    monkeypatch.setattr(scatter_csv, "drawn_blocks", partial(drawn_blocks, block=7))
    write_scatter_csv(one, tmp_path)
    assert (tmp_path / "scatter-samples.csv").read_bytes() == whole
    pieces = 0

    def stopped(*_: object) -> Iterator[tuple[slice, Draws]]:
        nonlocal pieces
        for block in drawn_blocks(one, 7):
            assert len(list(tmp_path.glob(".*.part"))) == 1
            pieces += 1
            if pieces == 4:
                raise KeyboardInterrupt
            yield block

    monkeypatch.setattr(scatter_csv, "drawn_blocks", stopped)
    with pytest.raises(KeyboardInterrupt):
        write_scatter_csv(one, tmp_path)
    assert (tmp_path / "scatter-samples.csv").read_bytes() == whole
    assert not list(tmp_path.glob(".*"))


def test_a_table_that_cannot_be_written_is_refused_by_name(tmp_path: Path) -> None:
    (tmp_path / "scatter-samples.csv").mkdir()
    with pytest.raises(InputError, match=r"scatter-samples.csv: read a folder .* \(not written\)"):
        write_scatter_csv(outcome(64, shares=True), tmp_path)
    assert not list(tmp_path.glob(".*"))


def test_shares_of_nothing_have_no_sign() -> None:
    one = outcome(64, shares=True)
    assert one.indices is not None
    nothing = np.full_like(one.indices.first, -1e-4)
    text = scatter_text(replace(one, indices=one.indices._replace(first=nothing)))
    assert "-0.00" not in text
    assert "0.00 ±" in text


def test_what_the_check_judges_and_no_landing_does_is_said() -> None:
    """Lean with one leg low and the rest high: legs of a landing crush alike."""
    one = outcome()
    judged = [m for m in one.checked.margins if m.check == "lean" and m.margin is not None]
    assert judged
    study = one.study
    margin = study.margin.copy()
    row = study.names.index(("leg_load", "nominal"))
    text = line(scatter_text(one), "- Every landing crushes its legs evenly")
    assert text.endswith("is in no clearance here.")
    names = (*study.names, ("lean", judged[0].touchdown))
    rows = np.vstack([margin, np.full_like(margin[row], np.nan)])
    counts = np.append(study.counts, [True])
    more = study._replace(names=names, margin=rows, counts=counts)
    text = line(scatter_text(replace(one, study=more)), "- Every landing crushes its legs evenly")
    assert text.endswith(f"in no probability: lean, {judged[0].touchdown}.")


def test_an_input_that_moves_nothing_has_no_bar_and_no_row() -> None:
    one = outcome()
    assert one.tornado is not None
    flat = np.repeat(one.tornado.centre[None, :, None], 2, axis=0)
    still = one.tornado._replace(ends=np.repeat(flat, len(one.tornado.inputs), axis=2))
    same = replace(one, tornado=still)
    part = scatter_text(same).split("What drives the margins")[1]
    assert "margin at 5 %" not in part
    assert "Next to nothing: girder.wall, girder.wall, leg to leg" in part
    assert tornado_figure(same).axes


def test_the_lowest_margin_of_a_landing_is_one_that_counts() -> None:
    one = outcome()
    load, stroke, _, lean = one.study.margin
    assert (lean < np.fmin(load, stroke)).any()
    assert one.lowest.tolist() == np.fmin(load, stroke).tolist()
    assert int((one.lowest < 0.0).sum()) == failed()
