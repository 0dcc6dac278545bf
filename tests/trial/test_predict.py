"""The prediction of a test: crush and speed are inverse, limits and instruments as said."""

from __future__ import annotations

import datetime as dt
from functools import cache

import numpy as np
import pytest

from crushleg import check_case, read_case_text, template
from crushleg.landing.back_calculation import speed_from_crush
from crushleg.trial.instruments import filter_class, fold_frequency, instruments, rounded_up
from crushleg.trial.predict import Prediction, back, distinct, predict

DAY = dt.date(2026, 11, 25)
FIRST_LEG = """
[[touchdown]]
name = "first leg"
vertical_speed = "1.5 m/s"
attitude = "2 deg"
first_contact = "one"
"""
CASES = {
    "six legs": ("test-stage",),
    "canted": ("test-stage", 'leg.cant="12 deg"', "leg.pad_friction=0.3"),
    "linkage": ("test-stage", "leg.travel_ratio=1.4"),
    "guide": ("test-stage", "leg.guide_friction=0.2", 'leg.cant="5 deg"'),
    "moon": ("lunar-lander",),
    "thrust": ("test-stage", "touchdown.nominal.thrust_to_weight=0.5"),
    "rig": ("coupon",),
    "rig with lift": ("test-stage", 'rig={mass_above="6 t", lift=0.4, friction="3 kN"}'),
    "two in a rig": ("test-stage", 'rig={mass_above="12 t", legs=2, gravity="3.71 m/s2"}'),
}


@cache
def predicted(kind: str, *overrides: str, more: str = "") -> Prediction:
    return predict(check_case(read_case_text(template(kind) + more, kind, overrides)), DAY)


@pytest.mark.parametrize("name", list(CASES))
def test_predicted_crush_read_back_gives_the_speed_it_was_predicted_from(name: str) -> None:
    """At each level by its own curve; to rounding, well inside the 0.5 % asked for."""
    prediction = predicted(*CASES[name])
    for event in prediction.events:
        found = back(prediction, event, event.groups[0].crush)
        np.testing.assert_allclose(
            np.diagonal(found.speed), event.landed.arrival.closing, rtol=1e-6
        )


@pytest.mark.parametrize("name", ["six legs", "canted", "rig with lift"])
def test_speed_read_back_is_that_of_the_energy_balance(name: str) -> None:
    """√(2 (n E − Wn z)/m) wherever no earlier crest asked for more."""
    prediction = predicted(*CASES[name])
    event = prediction.events[0]
    at = np.linspace(0.02, 0.9, 23) * prediction.checked.crush.usable[0]
    found = back(prediction, event, at)
    plain = speed_from_crush(
        event.stopped.mass,
        event.stopped.net_weight,
        event.stopped.legs * found.energy,
        found.travel,
    )
    assert (found.speed >= plain * (1.0 - 1e-12)).all()
    np.testing.assert_allclose(found.speed, plain, rtol=0.02)


def test_more_crush_never_means_less_speed() -> None:
    heavy = ("test-stage", 'vehicle.mass="115 t"')
    for what in (*CASES.values(), heavy):
        prediction = predicted(*what)
        for event, _ in distinct(prediction):
            at = np.linspace(0.0, prediction.checked.crush.usable[0], 400)
            assert (np.diff(back(prediction, event, at).speed, axis=1) >= -1e-12).all()


def test_height_is_that_of_what_may_fold_as_inspect_reads_it() -> None:
    prediction = predicted("test-stage", 'leg.free_length="1.2 m"')
    for event in prediction.events:
        (group,) = event.groups
        np.testing.assert_allclose(group.height + group.crush, 1.0, rtol=1e-12)
        np.testing.assert_allclose(group.crush, event.landed.crush[:, 0])
        np.testing.assert_allclose(group.folds, event.landed.folds[:, 0], rtol=1e-9)
        assert group.legs == (1, 2, 3, 4, 5, 6)


def test_first_leg_and_the_others_are_predicted_apart() -> None:
    prediction = predicted("lunar-lander", more=FIRST_LEG)
    event = next(event for event in prediction.events if event.name == "first leg")
    first, others = event.groups
    assert first.legs == (1,)
    assert others.legs == (2, 3, 4)
    assert (first.crush > others.crush).all()
    spring = (event.landed.stroke - event.landed.crush)[:, 0]
    assert (spring > 0.0).all()
    np.testing.assert_allclose(event.landed.others[:, 0] - others.crush, spring, rtol=1e-6)
    assert any("unevenly (first leg)" in caution for caution in prediction.cautions)


def test_at_the_speed_limit_a_leg_of_low_force_reaches_the_crush_that_rejects_it() -> None:
    plain = predicted("test-stage")
    limit = plain.events[0].speed_limit
    again = predicted("test-stage", f'touchdown.nominal.vertical_speed="{limit} m/s"')
    assert again.events[0].groups[0].crush[0] == pytest.approx(plain.rejects.crush, rel=1e-6)
    assert plain.rejects.crush == pytest.approx(0.95 * plain.checked.crush.usable[0])


def test_a_test_that_goes_beyond_its_limit_says_so() -> None:
    cautions = predicted("coupon", 'rig.mass_above="500 kg"').cautions
    assert any("do not run this test as it is" in caution for caution in cautions)
    assert not any("do not run" in caution for caution in predicted("coupon").cautions)


def test_friction_and_lift_are_told_to_the_reader_of_the_record() -> None:
    """6 t, 3 kN and 0.4 of the weight: 9.80665 · 0.6 − 0.5 = 5.384 m/s2."""
    said = 'gravity = "5.384 m/s2"'
    assert any(said in caution for caution in predicted(*CASES["rig with lift"]).cautions)
    freely = predicted("test-stage", 'rig={mass_above="6 t", friction="0.1 kN"}')
    assert not any("gravity = " in caution for caution in freely.cautions)


def test_opposite_faces_may_differ_by_five_degrees_of_the_section() -> None:
    """140 − 4 mm mid-line: 136 tan 5° = 11.90 mm."""
    assert predicted("test-stage").rejects.faces == pytest.approx(11.90e-3, abs=5e-6)


def test_faces_of_a_rectangle_are_judged_on_its_short_side() -> None:
    """50 − 1.5 mm mid-line: 48.5 tan 5° = 4.243 mm."""
    rejects = predicted("coupon", 'girder.depth="50 mm"').rejects
    assert rejects.faces == pytest.approx(4.243e-3, abs=5e-7)


def test_ranges_are_half_more_than_the_highest_prediction() -> None:
    prediction = predicted("test-stage", 'rig={mass_above="6 t", mass_below="600 kg"}')
    found, landings = prediction.instruments, [event.landed for event in prediction.events]
    assert found.leg == pytest.approx(1.5 * max(x.peak.max() for x in landings))
    assert found.accelerometer == pytest.approx(1.5 * max(x.accelerometer.max() for x in landings))
    assert found.displacement == pytest.approx(1.5 * max(x.stroke.max() for x in landings))
    assert found.cell == pytest.approx(found.leg * 6.0 / 6.6)


def test_folds_of_30_mm_pass_at_100_hz_at_3_metres_per_second() -> None:
    assert fold_frequency(3.0, 0.03) == pytest.approx(100.0)
    assert fold_frequency(3.0, 0.03, travel=1.5) == pytest.approx(100.0 / 1.5)
    assert filter_class(100.0, 10.0) == 600
    assert filter_class(100.1, 10.0) == 1000
    assert filter_class(500.0, 10.0) == 1000


@pytest.mark.parametrize(
    ("frequency", "peak", "mean", "rate"),
    [(9.9, 60, 180, 1e3), (10.1, 180, 180, 2e3), (37.0, 600, 180, 1e4), (201.0, 1000, 600, 5e4)],
)
def test_peaks_need_ten_times_and_integrals_one_and_a_half_times_the_fold_frequency(
    frequency: float, peak: int, mean: int, rate: float
) -> None:
    """−3 dB at 5/3 of the class; ten samples per class and 100 per fold, rounded up to 1-2-5."""
    found = instruments(
        leg=1.0, cell=None, accelerometer=1.0, displacement=1.0, frequency=frequency, shown={}
    )
    assert (found.peak_class, found.mean_class, found.sample_rate) == (peak, mean, rate)


def test_lower_classes_leave_less_of_a_crest() -> None:
    shown = predicted("coupon").instruments.shown
    assert list(shown) == [60, 180, 600, 1000]
    assert list(shown.values()) == sorted(shown.values())
    assert shown[60] < 0.85
    assert shown[1000] > 0.98


def test_rates_are_rounded_up_to_1_2_5() -> None:
    assert [rounded_up(x) for x in (1.0, 1.01, 2.5, 6e3, 0.4)] == [1.0, 2.0, 5.0, 1e4, 0.5]


def test_touchdowns_of_another_mass_have_a_table_of_their_own() -> None:
    prediction = predicted("test-stage", 'touchdown.reserve.mass="38 t"')
    assert [names for _, names in distinct(prediction)] == [("nominal",), ("reserve",)]
    assert len(distinct(predicted("test-stage"))) == 1
