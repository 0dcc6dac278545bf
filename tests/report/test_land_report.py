"""Report, JSON and CSV of landings in motion: agree with the arrays, and say what they mean."""

from __future__ import annotations

import json
import math
import re
from collections import Counter
from dataclasses import replace
from functools import cache
from io import StringIO
from typing import TYPE_CHECKING, Any

import numpy as np
import pandas as pd
import pytest
from rich.cells import cell_len
from rich.console import Console

from crushleg.case.reader import read_case_text
from crushleg.case.templates import template
from crushleg.cautions import SCREENING
from crushleg.girder.pattern import LEVELS
from crushleg.land import Move, Moving, land_case
from crushleg.landing.motion.outcome import WORDS
from crushleg.margins.motion import MOTION
from crushleg.report.land_csv import READ_FIRST, force_time, thinned, write_landings_csv
from crushleg.report.land_data import landings_result
from crushleg.report.land_overview import SIGNS
from crushleg.report.land_progress import expected, landing_progress
from crushleg.report.land_sources import land_sources
from crushleg.report.land_text import landings_text, print_landings
from crushleg.report.land_words import came_in, judged, land_cautions, numbered, touches
from crushleg.report.words import meaning
from crushleg.stability import StabilityMap
from tests.report.cases import WIDTH, bare, line, printed, terminal

if TYPE_CHECKING:
    from pathlib import Path

EARTH = 'vehicle.gravity="9.80665 m/s2"'
LEVEL = """
[[touchdown]]
name = "level"
vertical_speed = "1 m/s"
"""
SLOPE = """
[[touchdown]]
name = "down the slope"
vertical_speed = "1 m/s"
horizontal_speed = "0.3 m/s"
slope = "3 deg"
slope_azimuth = "180 deg"
thrust_to_weight = 0.3
shutdown_time = "20 ms"
thrust_decay = "30 ms"
"""
HARD = """
[[touchdown]]
name = "hard"
vertical_speed = "3 m/s"
reserve = true
"""
GROUND = """
[ground]
bearing_pressure = "600 kPa"
bearing_gradient = "2 MPa/m"
source = "plate load test, site 2"
"""


@cache
def moving(tables: str, *overrides: str) -> Moving:
    """Land the lunar lander on Earth with other touchdowns."""
    head, _, rest = template("lunar-lander").partition("[[touchdown]]")
    text = head + tables + rest[rest.index("[limits]") :]
    return land_case(read_case_text(text, "lander", (EARTH, *overrides)))


def both() -> Moving:
    return moving(LEVEL + SLOPE)


def reserve() -> Moving:
    return moving(HARD)


def heavy() -> Moving:
    return moving(LEVEL, 'vehicle.mass="10 t"')


def tipped() -> Moving:
    return moving(LEVEL, "vehicle.legs=1")


def sunk() -> Moving:
    return moving(LEVEL + GROUND)


CASES = {"both": both, "reserve": reserve, "heavy": heavy, "tipped": tipped, "sunk": sunk}
EVERY = pytest.mark.parametrize("name", CASES)
UNITS = pytest.mark.parametrize("units", ["si", "us"])


def shown(case: Moving, units: str = "si", console: Console | None = None) -> str:
    return printed(lambda console: print_landings(case, None, console, units), console)


def changed(case: Moving, **fields: Any) -> Moving:
    """Replace fields of the first landing."""
    first = case.moves[0]._replace(**fields)
    return replace(case, moves=(first, *case.moves[1:]))


def outcome_changed(case: Moving, **fields: Any) -> Moving:
    return changed(case, outcome=replace(case.moves[0].outcome, **fields))


def section(text: str, heading: str) -> str:
    return text.partition(f"\n{heading}\n")[2].partition("\n\n")[0]


def speed_map() -> StabilityMap:
    word = np.array([[0, 1, 4], [2, 3, 4]])
    touchdown = both().checked.case.touchdowns[1]
    return StabilityMap(touchdown, np.array([1.0, 2.0]), np.array([0.0, 0.5, 1.0]), word, 1.25)


# ---------------------------------------------------------------- what is printed


@EVERY
@UNITS
def test_every_line_fits_80_columns_and_a_pipe_says_the_same(name: str, units: str) -> None:
    text = bare(shown(CASES[name](), units, terminal()))
    assert [row for row in text.splitlines() if cell_len(row) > WIDTH] == []
    plain = landings_text(CASES[name](), None, units)
    assert Counter(text.split()) == Counter(plain.split())
    assert not re.search(r"\b(nan|inf)\b", plain)
    assert [row for row in plain.splitlines() if row != row.rstrip()] == []


@EVERY
def test_verdict_and_governing_margin_are_those_of_both_tables(name: str) -> None:
    case = CASES[name]()
    top = landings_text(case).splitlines()[:5]
    counted = [m for m in case.margins if m.counts and m.margin is not None]
    short = [m for m in counted if m.margin is not None and not m.margin[0] >= 0.0]
    if case.passes:
        assert f"all {len(counted)} counted margins" in top[2]
    else:
        assert top[2].startswith(f"FAILS: {len(short)} of {len(counted)}")
    governing = case.margins[case.governs]
    where = f"{governing.check.replace('_', ' ')} ({governing.touchdown})"
    assert top[3].startswith(f"Governing: {where}: ")


def test_sections_come_in_their_order_with_the_screening_last() -> None:
    text = shown(both())
    sections = [
        "Godwit", "PASSES", "Governing", "All landings", "Which landing governs what",
        "Landing: level", "Landing: down the slope", "Margins =", "PASSES", "Cautions",
        f"- {SCREENING}", "Sources", "Symbols", SCREENING,
    ]  # fmt: skip
    at = 0
    for name in sections:
        at = text.index(f"\n{name}", at) + 1 if at else text.index(name) + 1
    assert text.endswith(f"{SCREENING}\n")


def test_conditions_of_a_landing_are_said_whole() -> None:
    text = section(shown(both()), "Landing: down the slope")
    assert text.splitlines()[0] == (
        "1.8 t, vertical 1 m/s, horizontal 0.3 m/s, slope 3 deg, thrust 0.3 of the weight (stays "
        "20 ms, then to 37 % in 30 ms), uphill 180 deg from the direction of travel."
    )


def test_who_touches_first_is_read_from_the_contact_times() -> None:
    level, slope = both().moves
    assert touches(level) == "All legs touch together."
    assert touches(slope) == "Legs 1, 2 touch first."
    contact = level.outcome.contact.copy()
    contact[:, :] = [[0.0, 0.0, 0.2, 0.3], [0.0, 0.5, 0.5, 0.5], [0.0, 0.5, np.nan, np.nan]]
    odd = level._replace(outcome=replace(level.outcome, contact=contact))
    assert touches(odd) == (
        "low: legs 1, 2 touch first; nominal: leg 1 touches first; "
        "high: leg 1 touches first, legs 3, 4 never."
    )
    away = level._replace(outcome=replace(level.outcome, contact=np.full((3, 4), np.nan)))
    assert touches(away) == "No leg touches."
    flown = changed(both(), outcome=away.outcome)
    assert any("(level): no pad touches" in text for text in land_cautions(flown))
    assert "No leg touches." in section(shown(flown), "Landing: level")


def test_numbers_of_the_vehicle_are_those_of_the_outcome() -> None:
    text = section(shown(both()), "Landing: down the slope")
    move = both().moves[1]

    def three(begins: str) -> list[float]:
        numbers = line(text, begins).removeprefix(begins).split()[:3]
        return [float(number) for number in numbers]

    outcome = move.outcome
    assert three("deceleration, g0") == pytest.approx(outcome.deceleration / 9.80665, rel=5e-3)
    assert three("accelerometer, raw, g0") == pytest.approx(
        outcome.accelerometer / 9.80665, rel=5e-3
    )
    assert three("accelerometer, class 180, g0") == pytest.approx(move.filtered / 9.80665, rel=5e-3)
    assert three("tilt at the end, from vertical, deg") == pytest.approx(
        np.degrees(outcome.heel), rel=5e-3
    )
    assert three("least clearance, mm") == pytest.approx(1e3 * outcome.clearance, rel=5e-3)
    assert three("tip-over angle, least, deg") == pytest.approx(
        np.degrees(outcome.angle_least), rel=5e-3
    )


def test_legs_that_do_the_same_share_a_row_with_low_nominal_and_high() -> None:
    level = section(shown(both()), "Landing: level")
    outcome = both().moves[0].outcome
    rows = [row for row in level.splitlines() if row.startswith("1 to 4 ")]
    assert len(rows) == 2
    stroke = re.findall(r"[\d.]+ / [\d.]+ / [\d.]+", rows[0])[1].split(" / ")
    assert [float(x) for x in stroke] == pytest.approx(1e3 * outcome.stroke[:, 0], rel=5e-3)
    axial = re.findall(r"[\d.]+ / [\d.]+ / [\d.]+", rows[0])[3].split(" / ")
    assert [float(x) for x in axial] == pytest.approx(1e-3 * outcome.axial[:, 0], rel=5e-3)


@pytest.mark.parametrize(
    ("which", "text"),
    [((0,), "1"), ((0, 1), "1, 2"), ((0, 1, 2), "1 to 3"), ((0, 2, 3, 4, 6), "1, 3 to 5, 7")],
)
def test_legs_in_a_row_are_a_range(which: tuple[int, ...], text: str) -> None:
    assert numbered(which) == text


def test_a_leg_that_never_touches_has_a_dash() -> None:
    contact = both().moves[0].outcome.contact.copy()
    contact[:, 3] = np.nan
    text = section(shown(outcome_changed(both(), contact=contact)), "Landing: level")
    row = next(row for row in text.splitlines() if row.startswith("4 "))
    assert row.split()[1:6] == ["–", "/", "–", "/", "–"]
    assert "leg 4 never" in text


def test_words_of_harm_are_loud_and_said_for_each_column() -> None:
    word = ("stands", "slides", "tips")
    text = shown(outcome_changed(both(), word=word))
    assert line(section(text, "Landing: level"), "outcome").split()[1:] == [
        "stands", "slides", "TIPS",
    ]  # fmt: skip
    assert "stands / slides / TIPS" in section(text, "All landings")
    assert "BOTTOMS" in shown(heavy())
    assert "BOTTOMED at low: legs 1 to 4." in shown(heavy())


def test_a_landing_without_an_end_says_that_it_still_moves() -> None:
    case = outcome_changed(both(), rested=np.array([True, False, True]))
    text = shown(case)
    ends = section(text, "Landing: level").partition("\nat the end ")[2].splitlines()[0]
    assert ends.split() == ["at", "rest", "still", "moves", "at", "rest"]
    assert "In motion (level): neither at rest nor tipped" in text


def test_place_of_the_least_clearance_counts_from_the_travel() -> None:
    text = shown(both())
    place = "where, from travel direction"
    assert line(section(text, "Landing: level"), place).count("all round") == 3
    degrees = math.degrees(both().moves[1].outcome.clearance_azimuth[0])
    said = line(section(text, "Landing: down the slope"), place)
    assert said.removeprefix(place).split()[0] == f"{abs(round(degrees))}"


def test_sinkage_is_shown_where_the_ground_gives() -> None:
    text = section(shown(sunk()), "Landing: level")
    assert "sinkage" in text
    assert "sinkage" not in section(shown(both()), "Landing: level")
    deep = float(re.findall(r"[\d.]+", text.partition("sinkage")[2].splitlines()[1])[-1])
    assert deep == pytest.approx(1e3 * sunk().moves[0].outcome.sunk[2, 0], rel=5e-3)


# ---------------------------------------------------------------- energies


def test_energy_that_came_in_is_kinetic_gravity_and_thrust_by_hand() -> None:
    """½ 1800 (1² + 0.3²) = 981 J; gravity over the way down; thrust takes energy from it."""
    case = both()
    move = case.moves[1]
    came = came_in(case.checked, move)
    assert came.kinetic == pytest.approx([981.0] * 3)
    assert sum(came) == pytest.approx(move.outcome.ledger.came)
    assert (came.gravity > 0.0).all()
    assert (came.thrust < 0.0).all()
    assert (came_in(case.checked, case.moves[0]).thrust == 0.0).all()


def test_gravity_of_a_level_landing_works_over_the_crush_that_stays() -> None:
    move = both().moves[0]
    cant = math.cos(both().checked.case.leg.cant)
    sinks = move.outcome.crush[:, 0] * cant
    gravity = came_in(both().checked, move).gravity
    assert gravity == pytest.approx(1800.0 * 9.80665 * sinks, rel=0.02)


def test_ledger_says_whether_it_closes() -> None:
    assert shown(both()).count("The ledger closes within 0.1 %") == 2
    wide = changed(both(), closure=np.array([2e-4, 3e-3, 1e-4]))
    text = shown(wide)
    assert "The ledger closes NOT within 0.1 %" in section(text, "Landing: level")
    assert "The energy ledger closes to no better than: level 0.3 %." in text
    assert line(text, "largest imbalance of any step, %").split()[-2] == "0.3"


def test_half_the_step_is_told_only_when_a_ruler_shows_the_change() -> None:
    def coarse(case: Moving) -> bool:
        return any(said.startswith("Half the step") for said in land_cautions(case))

    stroke = both().moves[0].outcome.stroke[:, 0]
    assert not coarse(both())
    assert coarse(changed(both(), halved=1e-3 / stroke))
    assert not coarse(changed(both(), halved=1e-4 / stroke))


# ---------------------------------------------------------------- margins, cautions, sources


def test_margins_of_the_motion_have_words_of_their_own() -> None:
    checked = judged(both())
    words = {
        m.check: meaning(m, checked.case) for m in checked.margins if m.touchdown.endswith(MOTION)
    }
    assert words["clearance"].capability == "least clearance during the whole landing"
    assert words["tip_over"].capability == "static tip-over angle, uncrushed on level ground"
    assert words["lean"].demand == "lean against the ground at the end"
    assert words["leg_load"].capability == "leg_limit_load"
    balance = next(m for m in checked.margins if m.check == "clearance")
    assert "even crush" in meaning(balance, checked.case).capability
    bare_limit = replace(checked.case, limits=replace(checked.case.limits, clearance_min=0.0))
    moved = next(
        m for m in checked.margins if (m.check, m.touchdown) == ("clearance", "level" + MOTION)
    )
    assert "most clearance used" in meaning(moved, bare_limit).demand


def test_leg_load_of_a_reserve_case_is_ultimate_in_both_tables() -> None:
    checked = judged(reserve())
    loads = [m for m in checked.margins if m.check == "leg_load"]
    assert len(loads) == 2
    for load in loads:
        assert meaning(load, checked.case).capability == "1.4 × leg_limit_load"


def test_each_check_is_governed_by_its_lowest_counted_margin() -> None:
    text = section(shown(both()), "Which landing governs what")
    for check in ("stroke", "leg load", "clearance"):
        lowest = min(
            (m for m in both().margins if m.check == check.replace(" ", "_") and m.counts),
            key=lambda m: math.inf if m.margin is None else float(m.margin[0]),
        )
        assert line(text, check).removeprefix(check).strip().startswith(lowest.touchdown + "  ")


def test_cautions_of_the_balance_say_that_they_are_of_the_balance() -> None:
    said = list(land_cautions(both()))
    assert said[0] == SCREENING
    together = [text for text in said if "taken to touch together" in text]
    assert together
    assert all(text.startswith("Energy balance: ") for text in together)
    assert any(text.startswith("down the slope: Energy balance: thrust is held") for text in said)
    assert any("rigid body on massless legs" in text for text in said)
    assert any("pushes nothing" in text for text in said)
    assert not any("no shutdown_time is given" in text for text in said)


@pytest.mark.parametrize(
    ("case", "words"),
    [
        (heavy, "In motion (level): a leg bottoms: its load is an elastic estimate"),
        (tipped, "In motion (level): it tips; the motion ends there"),
        (tipped, "One leg has no line of pads to tip over"),
        (sunk, "a pad sinks where its pressure passes bearing_pressure"),
        (reserve, "The ground is a plane that does not give"),
    ],
)
def test_cautions_name_what_a_landing_leaves(case: Any, words: str) -> None:
    assert any(words in text for text in land_cautions(case()))


def test_thrust_that_stays_on_is_a_caution() -> None:
    case = both()
    first = case.moves[0]
    thrust = replace(first.plan.touchdown, thrust_to_weight=0.5)
    case = changed(case, plan=first.plan._replace(touchdown=thrust))
    assert any("(level): thrust stays on to the end" in text for text in land_cautions(case))
    assert "thrust 0.5 of the weight (stays on)" in shown(case)


def test_every_source_of_the_motion_carries_its_status() -> None:
    found = land_sources(sunk())
    for text in found:
        assert re.search(r"\[[^]]+\]", text), text
    assert any("plate load test, site 2 [given by the case]" in text for text in found)
    assert any("SAE J211" in text for text in found)
    assert not any(text.startswith("Standard cases") for text in found)


# ---------------------------------------------------------------- standard cases, map


def with_standard() -> Moving:
    """Add a landing of one column, as the standard cases have them."""
    case = both()
    first: Move = case.moves[0]
    one = slice(0, 1)
    kept = {
        name: getattr(first.outcome, name)[one]
        for name in first.outcome.__slots__
        if name != "ledger"
    }
    ledger = type(first.outcome.ledger)(*(field[one] for field in first.outcome.ledger))
    plan = first.plan._replace(
        touchdown=replace(first.plan.touchdown, name="one leg weak"),
        columns=(("one low, rest high", (0, 2, 2, 2)),),
        stuck=True,
    )
    odd = Move(
        plan,
        replace(first.outcome, ledger=ledger, **kept),
        first.histories[:1],
        first.filtered[one],
        first.closure[one],
        first.halved[one],
    )
    return replace(case, moves=(*case.moves, odd), assumed=("slope 5 deg (judgement).",))


def test_a_standard_case_of_one_column_is_shown_and_says_what_it_assumes() -> None:
    text = bare(shown(with_standard(), console=terminal()))
    assert "Standard landing: one leg weak" in text
    assert [row for row in text.splitlines() if cell_len(row) > WIDTH] == []
    plain = landings_text(with_standard())
    assert "pads stuck: friction 1." in plain
    assert "- Assumed in the standard cases: slope 5 deg (judgement)." in plain.splitlines()
    assert any(row.startswith("- Standard cases: ") for row in plain.splitlines())
    assert "one low, rest high" in section(plain, "Standard landing: one leg weak")


def test_the_map_has_a_sign_for_each_outcome_fastest_on_top() -> None:
    text = landings_text(both(), speed_map())
    rows = section(text, "Stability map").splitlines()
    assert rows[2].split() == ["2.0", *(SIGNS[WORDS[w]] for w in (2, 3, 4))]
    assert rows[3].split() == ["1.0", *(SIGNS[WORDS[w]] for w in (0, 1, 4))]
    assert "just tips at 1.25 m/s" in rows[0]
    assert [row.split() for row in rows[4:]] == [[SIGNS[word], word] for word in WORDS]
    assert len(set(SIGNS.values())) == len(WORDS)


# ---------------------------------------------------------------- JSON


@EVERY
def test_the_result_is_json_without_gaps_of_number(name: str) -> None:
    case = CASES[name]()
    found = json.loads(json.dumps(landings_result(case), allow_nan=False))
    assert found["schema"] == "crushleg-landing-1"
    assert found["cautions"][0] == SCREENING
    assert len(found["margins"]) == len(case.margins)
    assert found["passes"] is case.passes
    assert sum(margin["governs"] for margin in found["margins"]) == 1
    assert [one["name"] for one in found["motions"]] == [move.name for move in case.moves]
    assert found["stability_map"] is None


def test_keys_of_a_motion_end_in_their_unit_and_agree_with_the_outcome() -> None:
    motion = landings_result(both())["motions"][1]
    low = motion["columns"][0]
    outcome = both().moves[1].outcome
    assert low["girders"] == "low"
    assert low["outcome"] == outcome.word[0]
    assert low["lean_rad"] == outcome.lean[0]
    assert low["legs"][2]["axial_N"] == outcome.axial[0, 2]
    assert low["ledger"]["crushed_J"] == outcome.ledger.crushed[0]
    assert motion["slope_azimuth_rad"] == pytest.approx(math.pi)
    assert motion["pad_friction"] == 0.4
    units = ("_s", "_m", "_N", "_J", "_rad", "_rad_s", "_m_s", "_m_s2", "_kg")
    bare_keys = {"girders", "outcome", "rested", "ledger", "legs", "leg", "folds_used", "bottomed"}
    keys = {*low, *low["legs"][0]} - bare_keys
    assert all(key.endswith(units) for key in keys), keys


def test_what_does_not_apply_is_null() -> None:
    level = landings_result(both())["motions"][0]["columns"][0]
    assert level["clearance_azimuth_rad"] is None
    assert landings_result(tipped())["motions"][0]["columns"][0]["tip_angle_left_rad"] is None


def test_the_map_is_in_the_result() -> None:
    found = landings_result(both(), speed_map())["stability_map"]
    assert found["outcome"] == [["stands", "slides", "tips"], ["bottoms", "strikes", "tips"]]
    assert found["horizontal_speed_m_s"] == [0.0, 0.5, 1.0]


# ---------------------------------------------------------------- CSV


def test_tables_have_a_file_for_each_landing_and_column(tmp_path: Path) -> None:
    paths = write_landings_csv(both(), speed_map(), tmp_path)
    assert {path.name for path in paths} == {
        *(f"motion-{n}-{k}.csv" for n in ("level", "down-the-slope") for k in LEVELS),
        "outcomes.csv", "outcome-legs.csv", "ledger.csv", "motion-margins.csv",
        "stability-map.csv", READ_FIRST,
    }  # fmt: skip
    outcomes = pd.read_csv(tmp_path / "outcomes.csv")
    assert list(outcomes["outcome"]) == [w for m in both().moves for w in m.outcome.word]
    assert set(outcomes["caution"]) == {SCREENING}
    legs = pd.read_csv(tmp_path / "outcome-legs.csv")
    assert len(legs) == 2 * 3 * 4
    assert len(pd.read_csv(tmp_path / "stability-map.csv")) == 6
    assert (tmp_path / READ_FIRST).read_text(encoding="utf-8").startswith(SCREENING)
    margins = pd.read_csv(tmp_path / "motion-margins.csv")
    assert set(margins["caution"]) == {SCREENING}
    assert len(margins) == len(both().margins)


def test_force_time_tables_keep_the_peaks_and_the_end() -> None:
    for move in both().moves:
        for column, history in enumerate(move.histories):
            table = force_time(history)
            assert table["time_s"].max() == history.time[-1]
            for leg, one in table.groupby("leg"):
                peak = history.strut[:, int(str(leg)) - 1].max()
                assert one["axial_N"].max() == peak
                stroke = move.outcome.stroke[column, int(str(leg)) - 1]
                assert one["stroke_m"].max() == pytest.approx(stroke, rel=1e-3)
                assert one["slide_m"].is_monotonic_increasing


def test_a_long_history_is_thinned_and_no_peak_is_lost() -> None:
    load = np.random.default_rng(1).random((20_000, 4))
    load[1234, 2], load[15_001, 0] = 9.0, 8.0
    kept = thinned(load, 500)
    assert {0, 1234, 15_001, len(load) - 1} <= set(kept.tolist())
    assert len(kept) < 520
    assert (np.diff(kept) > 0).all()
    assert (load[kept].max(axis=0) == load.max(axis=0)).all()
    assert thinned(load[:100], 500).tolist() == list(range(100))


# ---------------------------------------------------------------- progress


def test_the_bar_counts_every_landing_with_its_step_and_half_of_it() -> None:
    told: list[int] = []
    case = both().checked.case
    land_case(case, told=told.append)
    assert sum(told) == expected(case, standard_cases=False)


@pytest.mark.parametrize(("is_terminal", "quiet"), [(False, False), (True, True), (True, False)])
def test_a_bar_is_shown_on_a_terminal_alone(is_terminal: bool, quiet: bool) -> None:
    file = StringIO()
    console = Console(file=file, force_terminal=is_terminal, width=WIDTH)
    with landing_progress(4, "landings", quiet=quiet, console=console) as told:
        told(3)
    assert ("landings" in file.getvalue()) is (is_terminal and not quiet)
