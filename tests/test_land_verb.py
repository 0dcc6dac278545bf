"""Verb land: exit codes, what goes where, and messages that name the file."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING

import numpy as np
import pytest
from matplotlib.figure import Figure

from crushleg import cli
from crushleg.case.templates import template
from crushleg.cautions import SCREENING
from crushleg.stability import StabilityMap

if TYPE_CHECKING:
    from pathlib import Path

    from crushleg.case.records import Case
    from crushleg.land import Moving

EARTH = ("--set", "vehicle.gravity=9.80665 m/s2")
TOUCHDOWN = """[[touchdown]]
name = "level"
vertical_speed = "1 m/s"

"""


@pytest.fixture
def case(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """One level landing, soon at rest; its folder is the place we are in."""
    head, _, rest = template("lunar-lander").partition("[[touchdown]]")
    path = tmp_path / "lander.toml"
    path.write_text(head + TOUCHDOWN + rest[rest.index("[limits]") :], encoding="utf-8")
    monkeypatch.chdir(tmp_path)
    return path


def land(*words: str) -> int:
    return cli.main(["land", "lander.toml", *EARTH, *words])


def test_land_stands_after_check_among_the_verbs() -> None:
    assert list(cli.VERBS)[:2] == ["check", "land"]


def test_the_report_is_printed_and_nothing_is_written(
    case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert land("--no-plots") == cli.PASSED
    shown = capsys.readouterr()
    assert "Landing: level" in shown.out
    assert shown.out.endswith(f"{SCREENING}\n")
    assert "\x1b" not in shown.out
    assert shown.err == ""
    assert list(case.parent.iterdir()) == [case]


@pytest.mark.usefixtures("case")
def test_json_on_standard_output_is_json_alone(capsys: pytest.CaptureFixture[str]) -> None:
    assert land("--json", "-", "--no-plots") == cli.PASSED
    found = json.loads(capsys.readouterr().out)
    assert found["schema"] == "crushleg-landing-1"
    assert found["motions"][0]["columns"][0]["outcome"] == "stands"


def test_quiet_prints_nothing_and_the_tables_are_written(
    case: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    assert land("--quiet", "--no-plots", "--csv", "--out", "results") == cli.PASSED
    assert capsys.readouterr().out == ""
    names = {path.name for path in (case.parent / "results").iterdir()}
    assert {"outcomes.csv", "ledger.csv", "motion-level-low.csv"} <= names


@pytest.mark.usefixtures("case")
def test_a_negative_margin_of_the_motion_exits_with_3(capsys: pytest.CaptureFixture[str]) -> None:
    assert land("--no-plots", "--set", "limits.leg_limit_load=20 kN") == cli.NEGATIVE
    assert "FAILS" in capsys.readouterr().out


@pytest.mark.parametrize(
    ("override", "field"),
    [
        ("vehicle.clearance=1.6 m", "vehicle.clearance"),
        ("vehicle.radius_of_gyration=1 mm", "vehicle.radius_of_gyration"),
    ],
)
def test_what_cannot_move_is_told_with_file_and_field(
    case: Path, capsys: pytest.CaptureFixture[str], override: str, field: str
) -> None:
    assert land("--set", override, "--csv", "--json", "out.json") == cli.INPUT
    shown = capsys.readouterr()
    assert shown.out == ""
    assert f"lander.toml: {field}: " in shown.err
    assert list(case.parent.iterdir()) == [case]


def test_every_length_that_is_missing_is_told_at_once(
    tmp_path: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    path = tmp_path / "coupon.toml"
    path.write_text(template("coupon"), encoding="utf-8")
    assert cli.main(["land", str(path)]) == cli.INPUT
    said = capsys.readouterr().err.splitlines()
    assert len(said) == 3
    assert all(text.startswith(f"{path}: vehicle.") for text in said)


def test_an_interrupt_while_landings_run_leaves_nothing(
    case: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def interrupted(*_: object, **__: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr("crushleg.land.run", interrupted)
    assert land("--csv", "--json", "out.json") == cli.INTERRUPTED
    assert "interrupted" in capsys.readouterr().err
    assert list(case.parent.iterdir()) == [case]


@pytest.mark.usefixtures("case")
def test_what_cannot_be_written_is_told_before_any_landing_runs(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def never(*_: object, **__: object) -> None:
        pytest.fail("it ran")

    monkeypatch.setattr("crushleg.land.run", never)
    assert land("--json", "lander.toml") == cli.INPUT
    assert "lander.toml" in capsys.readouterr().err


def test_the_map_is_printed_written_and_drawn(
    case: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    drawn: list[tuple[int, str, StabilityMap | None]] = []

    def mapped(case: Case, *_: object, **__: object) -> StabilityMap:
        speeds = np.array([1.0, 2.0])
        return StabilityMap(case.touchdowns[0], speeds, speeds, np.array([[0, 1], [1, 4]]), 1.5)

    def figures(moving: Moving, units: str, stability: StabilityMap | None) -> dict[str, Figure]:
        drawn.append((len(moving.moves), units, stability))
        return {"land-stability": Figure(figsize=(1.0, 1.0))}

    monkeypatch.setattr("crushleg.stability.stability_map", mapped)
    monkeypatch.setattr("crushleg.report.plot_land.figures", figures)
    assert land("--map", "--csv", "--units", "us") == cli.PASSED
    assert "Stability map" in capsys.readouterr().out
    table = (case.parent / "lander" / "stability-map.csv").read_text(encoding="utf-8")
    assert table.splitlines()[1:] == [
        "1.0,1.0,stands",
        "1.0,2.0,slides",
        "2.0,1.0,slides",
        "2.0,2.0,tips",
    ]
    moves, units, stability = drawn[0]
    assert (moves, units) == (1, "us")
    assert stability is not None


@pytest.mark.usefixtures("case")
def test_standard_cases_are_run_when_asked_for(monkeypatch: pytest.MonkeyPatch) -> None:
    asked: list[bool] = []

    def told(*_: object, standard_cases: bool, **__: object) -> None:
        asked.append(standard_cases)
        raise KeyboardInterrupt

    monkeypatch.setattr("crushleg.land.land_case", told)
    assert land("--standard") == cli.INTERRUPTED
    assert land() == cli.INTERRUPTED
    assert asked == [True, False]
