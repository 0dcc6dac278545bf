"""Crushed legs back to the landing: round trips, how often the band holds, what is flagged."""

from __future__ import annotations

from dataclasses import replace
from functools import cache
from pathlib import Path
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest

import crushleg
from crushleg.errors import InputError
from crushleg.girder.bands import Z_TWO_SIDED
from crushleg.landing.arrival import leg_forces
from crushleg.trial.crushed_legs import OneLeg, one_leg, taken
from crushleg.trial.height_cells import Place
from crushleg.trial.heights import Heights
from crushleg.trial.inspect import Asked, Inspection, inspect_legs
from crushleg.trial.judged import judged, speed_if_tilted
from crushleg.trial.speed_band import OWN, Stopped, Unsure, back_calculate

if TYPE_CHECKING:
    from collections.abc import Sequence

    from numpy.typing import ArrayLike

    from crushleg.arrays import FloatArray
    from crushleg.case.records import Case

EXAMPLES = Path(__file__).parents[2] / "examples"
TRIALS = 2000
G0 = 9.80665


@cache
def case_of(name: str, *changes: str) -> Case:
    return crushleg.read_case(EXAMPLES / f"{name}.toml", changes)


def heights(case: Case, crush: ArrayLike, folds: ArrayLike = np.nan, tilt: float = 0.0) -> Heights:
    """Heights that a crush leaves; ``tilt`` [m] lifts the front of leg 1 and lowers its back."""
    n = case.vehicle.legs
    each = np.broadcast_to(np.asarray(crush, dtype=np.float64), (n,))
    faces = np.repeat((case.girder.length - each)[:, None], 4, axis=1)
    faces[0] += np.array([tilt, 0.0, -tilt, 0.0])
    counted = np.broadcast_to(np.asarray(folds, dtype=np.float64), (n,)).copy()
    return Heights(
        source="test",
        sha256="",
        faces=faces,
        error=np.full(n, np.nan),
        folds=counted,
        places=(Place(),) * n,
    )


def look(case: Case, crush: ArrayLike, **how: Any) -> Inspection:
    read = {name: how.pop(name) for name in ("folds", "tilt") if name in how}
    return inspect_legs(case, heights(case, crush, **read), Asked(**how))


ROUND_TRIPS = [
    ("dunlin", ()),
    ("dunlin", ("touchdown.0.thrust_to_weight=0.4",)),
    ("dunlin", ("vehicle.gravity=1.62 m/s2",)),
    ("dunlin", ("leg.cant=20 deg", "leg.guide_friction=0.1")),
    ("dunlin", ("leg.travel_ratio=1.3",)),
    ("dunlin", ("touchdown.0.mass=31 t", "touchdown.0.slope=3 deg")),
    ("dunlin-bare-leg", ()),
    ("godwit", ()),
    ("coupon", ()),
]


@pytest.mark.parametrize(("name", "changes"), ROUND_TRIPS)
def test_the_speed_of_a_check_comes_back_from_its_crush(
    name: str, changes: tuple[str, ...]
) -> None:
    case = case_of(name, *changes)
    for landed in crushleg.check_case(case).landings:
        assert not landed.bottomed[1, 0]
        found = look(case, landed.crush[1, 0], touchdown=landed.name, other=0.0)
        assert found.band.speed[1] == pytest.approx(landed.arrival.closing, rel=0.005)
        assert found.band.legs.spring[1].sum() == pytest.approx(landed.returned[1, 0], rel=1e-6)
        assert not found.lower_bound


def test_one_leg_first_comes_back_from_a_check_with_the_drop_of_its_axis() -> None:
    """Four legs, one first: its crush and that of the others; the axis fell x1 sin φ before."""
    case = case_of("godwit-outrigger")
    checked = crushleg.check_case(case)
    landed = next(one for one in checked.landings if one.first == 1)
    others = landed.others[1, 0] - landed.at_stop[1, 0] / checked.crush.stiffness[0]
    crush = np.array([landed.crush[1, 0], others, others, others])
    found = look(case, crush, touchdown=landed.name, other=0.0)
    assert found.stopped.drop > 0.1
    assert found.band.speed[1] == pytest.approx(landed.arrival.closing, rel=0.005)


@pytest.mark.parametrize("level", [0, 2])
def test_the_low_and_the_high_girder_of_a_check_lie_on_the_band(level: int) -> None:
    """The band holds 95 % of girders; low and high are its ends but for the small parts."""
    case = case_of("dunlin")
    landed = crushleg.check_case(case).landings[0]
    found = look(case, landed.crush[level, 0], other=0.0)
    end = 0 if level == 0 else 2
    assert found.band.speed[end] == pytest.approx(landed.arrival.closing, rel=0.02)


def test_the_strain_rate_is_that_of_the_speed_found() -> None:
    """With the rate factor on, the touchdown's own speed no longer matters."""
    slow, fast = (
        case_of("dunlin", "girder.rate=true", f"touchdown.0.vertical_speed={v} m/s")
        for v in (0.5, 3.5)
    )
    landed = crushleg.check_case(fast).landings[0]
    for case in (slow, fast):
        found = look(case, landed.crush[1, 0], other=0.0)
        assert found.band.speed[1] == pytest.approx(3.5, rel=0.005)


def scattered(case: Case, speed: float, common: FloatArray, seed: int) -> dict[str, FloatArray]:
    """Truth of many landings, stopped by interpolation on perturbed curves, and what is read.

    ``common`` (trials,) is the deviation of all legs of a landing in units of the band (±1 its
    ends): the energy of a leg is that of the nominal curve moved geometrically toward low or high.
    """
    rng = np.random.default_rng(seed)
    crushed, n = crushleg.check_case(case).crush, case.vehicle.legs
    s, first = np.unique(crushed.curve.stroke[0], return_index=True)
    own = np.exp(0.02 * rng.standard_normal((common.size, n))).mean(axis=1)[:, None]
    curves = crushed.curve.energy, crushed.curve.force
    energy, force = (own * _moved(field[:, 0, first], common) for field in curves)
    mass = case.vehicle.mass * (1.0 + 0.02 / 1.96 * rng.standard_normal(common.size))
    stiffness = crushed.stiffness[0]
    sunk = s + force / stiffness
    net = n * (energy + 0.5 * force**2 / stiffness) - case.vehicle.gravity * mass[:, None] * sunk
    other = rng.uniform(0.0, 0.1, common.size) * 0.5 * mass * speed**2
    target = 0.5 * mass * speed**2 - other
    passed = np.maximum.accumulate(net, axis=1)
    stop = np.array([np.interp(t, row, s) for t, row in zip(target, passed, strict=True)])
    error = 0.002 / 1.96 * rng.standard_normal((common.size, n))
    return {"crush": np.maximum(stop[:, None] + error, 0.0), "other": other}


def _moved(levels: FloatArray, common: FloatArray) -> FloatArray:
    """Nominal curve moved toward low or high by so many bands (trials, n)."""
    low, nominal, high = np.maximum(levels, 1e-9)
    toward = np.where(common[:, None] < 0.0, low / nominal, high / nominal)
    return nominal * toward ** np.abs(common)[:, None]


def read_back(
    case: Case, crush: FloatArray, other: float = 0.0, other_error: float = 0.0
) -> FloatArray:
    """Speeds (3, trials) that the tool reads from the crush of many landings."""
    crushed = crushleg.check_case(case).crush
    n, m = case.vehicle.legs, case.vehicle.mass
    stopped = Stopped(m, m * case.vehicle.gravity, np.full(n, 1.0 / n))
    unsure = Unsure(np.full(n, 0.002), 0.02, other, other_error)
    return back_calculate(one_leg(crushed, leg_forces(case.leg)), stopped, unsure, crush).speed


def common_deviation(rng: np.random.Generator, case: Case) -> FloatArray:
    """Deviation common to all legs, in bands: what is left of 1/1.96 when each leg has its own."""
    e = crushleg.check_case(case).crush.curve.energy[:, 0, -1]
    share = np.sqrt(1.0 - (OWN / np.log(e[1] / e[0])) ** 2)
    return share / Z_TWO_SIDED * rng.standard_normal(TRIALS)


@pytest.mark.parametrize("name", ["dunlin", "godwit"])
def test_the_band_holds_the_true_speed_as_often_as_it_says(name: str) -> None:
    """95 % of 2000: 1900 ± 4 · √(2000 · 0.95 · 0.05) = 39. Energy elsewhere known to ± 10 %."""
    case = case_of(name, "leg.cant=0 deg", "leg.pad_friction=0.0", "leg.guide_friction=0.0")
    speed = case.touchdowns[0].vertical_speed
    truth = scattered(case, speed, common_deviation(np.random.default_rng(5), case), 6)
    mean, error = truth["other"].mean(), Z_TWO_SIDED * truth["other"].std()
    low, _, high = read_back(case, truth["crush"], float(mean), float(error))
    inside = int(((low <= speed) & (speed <= high)).sum())
    assert min((low > speed).sum(), (high < speed).sum()) > 0.01 * TRIALS
    assert abs(inside - 0.95 * TRIALS) <= 4.0 * np.sqrt(TRIALS * 0.95 * 0.05)


@pytest.mark.parametrize("bias", [-0.5, 0.5])
def test_a_wrong_force_factor_inside_the_band_stays_inside(bias: float) -> None:
    """Every girder half a band off: the true speed is hardly ever outside, and the bias shows."""
    case = case_of("dunlin")
    speed = case.touchdowns[0].vertical_speed
    truth = scattered(case, speed, np.full(TRIALS, bias), 7)
    low, nominal, high = read_back(case, truth["crush"], float(truth["other"].mean()), 1e4)
    inside = int(((low <= speed) & (speed <= high)).sum())
    assert inside >= 0.99 * TRIALS
    assert np.sign(speed - nominal.mean()) == np.sign(bias)


def test_without_the_energy_elsewhere_the_low_end_is_a_lower_bound() -> None:
    """97.5 % and more, since what went elsewhere only adds."""
    case = case_of("dunlin")
    speed = case.touchdowns[0].vertical_speed
    truth = scattered(case, speed, common_deviation(np.random.default_rng(8), case), 9)
    low = read_back(case, truth["crush"])[0]
    assert (low <= speed).sum() >= 0.975 * TRIALS - 4.0 * np.sqrt(TRIALS * 0.975 * 0.025)
    found = look(case, truth["crush"][0].mean())
    assert found.lower_bound
    assert not look(case, 0.2, other=0.0).lower_bound


def test_tests_of_the_girder_narrow_the_band(tmp_path: Path) -> None:
    file = tmp_path / "tests.toml"
    file.write_text('force_factor = 1.0\nscatter = 0.03\ntests = 8\nsource = "a series"\n')
    strengths = ("girder.measured.yield_strength=295 MPa",)
    wide = look(case_of("dunlin", *strengths), 0.2, other=0.0)
    tested = crushleg.read_case(
        EXAMPLES / "dunlin.toml", (*strengths, f'girder.correlation="{file}"')
    )
    narrow = look(tested, 0.2, other=0.0)
    assert np.ptp(narrow.band.speed) < 0.95 * np.ptp(wide.band.speed)


def test_one_leg_first_of_a_plane_motion_comes_back_with_the_drop_of_its_axis() -> None:
    """Frictionless legs, level arrival at φ = 2°, one of four legs alone, then all alike.

    Worked here apart: energy before = ½ m v² + m g (R sin φ + mean crush), all of it in the legs.
    """
    changes = ("touchdown.0.attitude=2 deg", "touchdown.0.first_contact=one", "vehicle.legs=4")
    case = case_of("dunlin", *changes)
    crush = np.array([0.30, 0.21, 0.12, 0.21])
    found = look(case, crush, other=0.0)
    raised = 3.4 * np.sin(np.radians(2.0))
    legs = found.band.legs
    energy = legs.energy[1].sum() + legs.spring[1].sum()
    mean = (crush + legs.force[1] / found.crush.stiffness[0]).mean()
    by_hand = np.sqrt(2.0 * (energy - 40e3 * G0 * (raised + mean)) / 40e3)
    assert found.band.speed[1] == pytest.approx(by_hand, rel=1e-9)
    assert speed_if_tilted(found) is None


def test_unequal_crush_leans_and_says_what_tilt_at_contact_would_mean() -> None:
    """Dunlin, legs 60° apart, R 3.4 m: slope 2/(6·3.4)·0.04·3 = 0.01176, 0.674° toward leg 1."""
    case = case_of("dunlin")
    crush = 0.2 + 0.04 * np.cos(np.arange(6) * np.pi / 3.0)
    found = look(case, crush, other=0.0)
    assert found.rest.lean is not None
    assert found.rest.direction == pytest.approx(0.0, abs=1e-9)
    assert np.degrees(found.rest.lean) == pytest.approx(0.674, abs=5e-4)
    assert found.rest.clearance == pytest.approx(0.8 - 0.2 - 0.9 * 0.04 / 3.4)
    assert judged(found).unequal
    assert not judged(found).off_plane.any()
    tilted = speed_if_tilted(found)
    assert tilted is not None
    more = 2.0 * G0 * 3.4 * np.sin(found.rest.lean)
    assert found.band.speed[1] ** 2 - tilted**2 == pytest.approx(more)


@pytest.mark.parametrize(("first", "offset"), [("one", 3.4), ("two", 3.4 * np.sqrt(0.75))])
def test_attitude_and_slope_both_raise_the_axis_before_contact(first: str, offset: float) -> None:
    """Six pads on 3.4 m: R, or R cos 30° of an edge, times sin(2° + 3°)."""
    changes = ("touchdown.0.attitude=-2 deg", "touchdown.0.slope=3 deg")
    case = case_of("dunlin", *changes, f"touchdown.0.first_contact={first}")
    assert look(case, 0.2).stopped.drop == pytest.approx(offset * np.sin(np.radians(5.0)))


def test_errors_of_lean_and_clearance_are_those_by_hand() -> None:
    """± 2 mm on six legs: mean 2/√6 mm, slope √(2/6)·2 mm/3.4 m, at 0.9 m from the axis."""
    rest = look(case_of("dunlin"), 0.2).rest
    slope = 0.002 * np.sqrt(2.0 / 6.0) / 3.4
    assert rest.lean_error == pytest.approx(np.arctan(slope))
    assert rest.clearance_error == pytest.approx(np.hypot(0.002 / np.sqrt(6.0), 0.9 * slope))


def test_tilt_is_over_the_side_between_the_faces_that_differ() -> None:
    """60 mm wide, 50 mm deep: front and back are 50 mm apart, right and left 60 mm."""
    case = case_of("coupon", "girder.depth=50 mm")
    for up, down, apart in ((0, 2, 0.05), (1, 3, 0.06)):
        faces = np.full((1, 4), case.girder.length - 0.1)
        faces[0, up] += 0.002
        faces[0, down] -= 0.002
        found = inspect_legs(case, replace(heights(case, 0.1), faces=faces)).faces
        assert found.tilt == pytest.approx(np.arctan(0.004 / apart))
        assert found.lowest.tolist() == [down]


def test_tilt_that_readings_make_by_chance_is_that_over_the_short_side() -> None:
    """± 2 mm over 50 mm of a tube 60 mm wide: 1.77 · 2/50, 4.05°; 3.7° is not told, 4.4° is."""
    case = case_of("coupon", "girder.depth=50 mm")
    for degrees, told in ((3.7, False), (4.4, True)):
        half = 0.5 * 0.05 * np.tan(np.radians(degrees))
        assert look(case, 0.1, tilt=half).faces.tilted.tolist() == [told]


def test_a_leg_under_its_share_of_the_weight_is_shorter_by_its_stiffness() -> None:
    found = look(case_of("dunlin"), 0.2)
    assert found.rest.squeeze == pytest.approx(40e3 * G0 / 6.0 / found.crush.stiffness[0])


def test_a_face_that_grew_is_refused_though_the_mean_did_not() -> None:
    """Crushed metal grows nowhere: 1.01 m at the front of a leg of 1 m was read wrong."""
    with pytest.raises(InputError, match=r"1.01 m at the front, before the landing 1 m"):
        look(case_of("dunlin"), 0.2, tilt=0.21)


@pytest.mark.parametrize(("share", "told"), [(0.95, False), (1.05, True)])
def test_the_worst_leg_is_held_against_its_low_mean_force(share: float, told: bool) -> None:
    rest = look(case_of("dunlin"), 0.2)
    mass = case_of("dunlin").vehicle.mass * share * float(rest.left.hold[0]) / rest.rest.load
    found = look(case_of("dunlin", f'vehicle.mass="{mass} kg"', "touchdown.0.mass=40 t"), 0.2)
    heavy = look(case_of("dunlin", f'vehicle.mass="{mass} kg"'), 0.2)
    assert judged(heavy).standing.tolist() == [told] * 6
    assert not judged(found).standing.any()


def flagged(case: Case, crush: ArrayLike, **how: Any) -> dict[str, bool]:
    found = look(case, crush, **how)
    seen = judged(found)._asdict() | {"tilted": found.faces.tilted, "twisted": found.faces.twisted}
    return {name: bool(np.any(value)) for name, value in seen.items()}


def test_even_crush_of_a_sound_landing_is_not_flagged() -> None:
    case = case_of("dunlin")
    assert not any(flagged(case, 0.2, folds=3.5).values())
    assert not judged(look(case, 0.2)).exceeded


@pytest.mark.parametrize(
    ("crush", "how", "names"),
    [
        (0.2, {"folds": 5.0}, {"folds"}),
        (0.2, {"folds": 2.4}, {"folds"}),
        (0.2, {"tilt": 0.004}, {"tilted"}),
        ([0.2, 0.2, 0.2, 0.23, 0.2, 0.2], {}, {"unequal", "off_plane"}),
        (0.0, {}, {"uncrushed"}),
        (0.74, {}, {"over", "fast", "clearance"}),
        (0.756, {}, {"over", "fast", "clearance", "solid"}),
        ([0.1, 0.1, 0.1, 0.5, 0.5, 0.5], {}, {"unequal", "lean", "off_plane", "fast"}),
    ],
)
def test_what_is_not_as_it_should_be_is_flagged(
    crush: ArrayLike, how: dict[str, Any], names: set[str]
) -> None:
    found = flagged(case_of("dunlin"), crush, **how)
    assert {name for name, seen in found.items() if seen} == names


def test_a_slip_in_one_face_is_told_from_a_tilt() -> None:
    case = case_of("dunlin")
    read = heights(case, 0.2)
    faces = read.faces.copy()
    faces[2, 1] += 0.030
    slipped = Heights(
        source="", sha256="", faces=faces, error=read.error, folds=read.folds, places=read.places
    )
    assert inspect_legs(case, slipped).faces.twisted.tolist() == [False, False, True] + [False] * 3


def test_a_heavy_vehicle_on_weak_legs_sinks_and_was_faster_than_the_crush_says() -> None:
    """180 t weigh 1765 kN, the legs hold 6 · about 230 kN at 50 mm."""
    case = case_of("dunlin", "vehicle.mass=180 t")
    found = look(case, 0.05, other=0.0)
    assert found.sank
    assert found.lower_bound
    assert judged(found).standing.all()
    assert not look(case_of("dunlin"), 0.05).sank


def test_a_solid_leg_makes_the_speed_a_lower_bound() -> None:
    found = look(case_of("dunlin"), 0.8, other=0.0)
    assert found.lower_bound
    assert judged(found).exceeded
    assert found.left.stroke == pytest.approx(0.0)
    assert found.left.energy == pytest.approx(0.0)


def test_taken_and_left_make_the_energy_of_the_whole_leg() -> None:
    found = look(case_of("godwit"), [0.05, 0.1, 0.2, 0.3])
    whole = found.crush.curve.energy[:, 0, -1:]
    assert found.band.legs.energy + found.left.energy == pytest.approx(
        np.broadcast_to(whole, (3, 4)), rel=1e-12
    )
    assert found.faces.crush + found.left.stroke == pytest.approx(found.crush.usable[0])


def test_more_crush_is_never_less_energy_nor_speed() -> None:
    case = case_of("dunlin")
    speeds = [look(case, s, other=0.0).band.speed for s in np.linspace(0.0, 0.75, 21)]
    assert (np.diff(np.array(speeds)[:, 1]) > 0.0).all()
    assert (np.diff(np.array(speeds), axis=1) >= 0.0).all()


def test_order_of_legs_does_not_matter_for_the_speed() -> None:
    case = case_of("godwit")
    crush: Sequence[float] = [0.05, 0.1, 0.2, 0.3]
    one = look(case, crush, other=0.0)
    other = look(case, crush[::-1], other=0.0)
    assert one.band.speed == pytest.approx(other.band.speed, rel=1e-12)


def test_heights_before_the_landing_stand_in_for_the_drawing() -> None:
    case = case_of("dunlin")
    read = heights(case, 0.2)
    assert inspect_legs(case, read, Asked(before=1.004)).faces.crush == pytest.approx(0.204)
    with pytest.raises(InputError, match="--before"):
        inspect_legs(case, read, Asked(before=0.7))


def test_a_little_taller_than_before_is_no_crush() -> None:
    case = case_of("dunlin")
    assert look(case, -0.003).faces.crush.tolist() == [0.0] * 6


def test_a_leg_shorter_than_its_folded_metal_is_refused() -> None:
    """756 mm of 1 m may crush: 244 mm are solid, and 100 mm cannot be left."""
    with pytest.raises(InputError, match=r"100 mm left of what may fold; folded solid it is 24"):
        look(case_of("dunlin"), 0.9)
    assert look(case_of("dunlin"), 0.8).left.solid.all()


def test_a_touchdown_that_is_not_there_is_told() -> None:
    with pytest.raises(InputError, match='"nominal" or "reserve"'):
        look(case_of("dunlin"), 0.2, touchdown="hard")


def test_reading_errors_of_each_leg_are_taken_before_the_common_one() -> None:
    case = case_of("godwit")
    read = heights(case, 0.05)
    error = np.array([np.nan, 0.005, np.nan, 0.0])
    own = Heights(
        source="", sha256="", faces=read.faces, error=error, folds=read.folds, places=read.places
    )
    found = inspect_legs(case, own, Asked(reading_error=0.001))
    assert found.faces.error.tolist() == [0.001, 0.005, 0.001, 0.0]


@pytest.mark.parametrize("crush", [0.05, 0.1, 0.13])
def test_energy_inside_a_piece_of_rising_force_is_exact(crush: float) -> None:
    """10 kN rising by 50 kN/m, two points alone: E = 10⁴ s + ½ 5·10⁴ s²."""
    ends = np.array([0.0, 0.2])
    force = np.tile(1e4 + 5e4 * ends, (3, 1))
    energy = np.tile(1e4 * ends + 2.5e4 * ends**2, (3, 1))
    took = taken(OneLeg(ends, force, energy, 1e30, 1.0, 1.0), np.array([crush]))
    assert took.energy[1, 0] == pytest.approx(1e4 * crush + 2.5e4 * crush**2, rel=1e-12)
