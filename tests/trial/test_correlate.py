"""What tests say about a prediction: closed forms, known factors, outliers, batches, hashes."""

from __future__ import annotations

import json
import math
from dataclasses import replace
from functools import cache
from typing import TYPE_CHECKING

import numpy as np
import pytest
from scipy.integrate import quad
from scipy.stats import norm

import crushleg
from crushleg.case.records import Case, Correlation
from crushleg.errors import InputError
from crushleg.report.data import result
from crushleg.trial.agreement import apart, beyond_prior, biased, scatters_more
from crushleg.trial.batches import BATCHES, between_batches, pooled
from crushleg.trial.correlate import POOLED, compared, correlate
from crushleg.trial.frozen import Predicted, of_case, read_issued
from crushleg.trial.held import hold, read_records
from crushleg.trial.issued import SCHEMA, seal
from crushleg.trial.posterior import Prior, known_scatter, unknown_scatter
from crushleg.trial.record import read_record
from tests.trial.synthetic import FORCE_STROKE, FORCE_TIME, drop, write_record

if TYPE_CHECKING:
    from collections.abc import Callable
    from pathlib import Path

    from crushleg.trial.correlate import Correlated
    from crushleg.trial.record import Record

PRIOR = Prior()


@cache
def coupon() -> Case:
    return crushleg.read_case_text(crushleg.template("coupon"))


@cache
def curve() -> Predicted:
    return of_case(coupon())


def scaled_law(factor: float) -> Callable[[float], float]:
    """Force of the coupon's nominal curve times a factor."""
    stroke, force = curve().stroke[1], curve().force[1]
    return lambda x: factor * float(np.interp(x, stroke, force))


def record(
    folder: Path, factor: float, name: str, batch: str = "S1", toml: str = FORCE_STROKE
) -> Record:
    """Record of a synthetic drop on a girder of so many times the predicted force."""
    fall = drop(scaled_law(factor), after=0.12)
    noise = 0.03 * np.random.default_rng(len(name)).standard_normal(len(fall.time))
    columns = {"t": 1e3 * fall.time, "x": 1e3 * fall.stroke, "F": fall.force / 1e3 + noise}
    path = write_record(folder / f"{name}.csv", columns, f'batch = "{batch}"\n{toml}')
    return read_record(path)[0]


def correlated(records: list[Record], prior: Prior = PRIOR) -> Correlated:
    return correlate([compared(one, curve()) for one in records], prior)


# ---------------------------------------------------------------- closed forms


def test_posterior_of_three_tests_is_that_worked_by_hand() -> None:
    """τ 0.09, σw 0.05, y = 0.10, 0.06, 0.14.

    1/τ² = 123.4568, n/σw² = 1200; precision 1323.4568; θ = 1200·0.10/1323.4568 = 0.0906716;
    τn² = 7.555970e-4, τn 0.0274881; predictive variance 7.555970e-4 + 0.0025 = 3.255597e-3,
    0.0570578.
    """
    found = known_scatter(np.array([0.10, 0.06, 0.14]), PRIOR)
    assert found.mean == pytest.approx(0.0906716, abs=1e-7)
    assert found.spread == pytest.approx(0.0274881, abs=1e-7)
    assert found.next_spread == pytest.approx(0.0570578, abs=1e-7)
    assert found.factor == pytest.approx(1.0949095, abs=1e-6)
    assert PRIOR.predictive == pytest.approx(math.sqrt(0.0081 + 0.0025))


def test_posterior_is_that_of_bayes_by_quadrature() -> None:
    y = np.array([0.03, -0.02, 0.08, 0.11])

    def weight(theta: float) -> float:
        return float(norm.pdf(theta, 0.0, 0.09) * norm.pdf(y, theta, 0.05).prod())

    def moment(k: int) -> float:
        return float(quad(lambda x: x**k * weight(x), -0.6, 0.6, points=[0.05])[0])

    mean = moment(1) / moment(0)
    found = known_scatter(y, PRIOR)
    assert found.mean == pytest.approx(mean, rel=1e-7)
    assert found.spread**2 == pytest.approx(moment(2) / moment(0) - mean**2, rel=1e-6)


def test_unknown_scatter_is_the_student_t_worked_by_hand() -> None:
    """σw 0.05 and τ 0.1: κ0 = 0.25; ν0 4; y = 0.1, 0.2 (mean 0.15, squares 0.005).

    κn 2.25, θ = 2·0.15/2.25 = 0.133333; νn 6;
    νn sn² = 4·0.0025 + 0.005 + 0.25·2/2.25·0.0225 = 0.02; sn² = 0.00333333;
    next: t6, scale √(0.0033333 (1 + 1/2.25)) = 0.0693889; t6 0.975: 2.446912 (table value).
    """
    prior = Prior(between=0.1, within=0.05, known=False)
    found = unknown_scatter(np.array([0.1, 0.2]), prior)
    assert found.mean == pytest.approx(0.1333333, abs=1e-7)
    assert found.dof == 6.0
    assert found.scale == pytest.approx(0.0693889, abs=1e-7)
    assert found.next_spread == pytest.approx(0.0693889 * 2.446912 / 1.96, rel=1e-6)


def test_many_tests_of_unknown_scatter_approach_their_own() -> None:
    y = 0.05 + 0.08 * np.random.default_rng(2).standard_normal(4000)
    found = unknown_scatter(y, Prior(known=False))
    assert found.next_spread == pytest.approx(float(y.std()), rel=0.01)
    assert found.mean == pytest.approx(float(y.mean()), rel=0.01)


def test_a_single_test_narrows_and_an_empty_batch_is_the_prior() -> None:
    none = known_scatter(np.array([]), PRIOR)
    assert (none.mean, none.next_spread) == pytest.approx((0.0, PRIOR.predictive))
    assert known_scatter(np.array([0.05]), PRIOR).next_spread < PRIOR.predictive


def test_scatter_between_batches_is_that_of_the_moments_worked_by_hand() -> None:
    """Two batches of 4, σw 0.05: w = 1600 each; means ± 0.1: Q = 2·1600·0.01 = 32.

    ω² = (32 - 1)/(3200 - 1600) = 0.019375.
    """
    one, other = np.full(4, 0.1), np.full(4, -0.1)
    assert between_batches([one, other], 0.05) == pytest.approx(math.sqrt(0.019375))
    assert between_batches([one, one], 0.05) == 0.0


def test_pooling_keeps_the_scatter_between_batches() -> None:
    """Alike batches still leave 0.044: V = 1/(1/0.0081 + 2/(0.0025/4 + 0.001936))."""
    alike = [np.full(4, 0.05), np.full(4, 0.05)]
    found, omega = pooled(alike, PRIOR)
    variance = 1.0 / (1.0 / 0.0081 + 2.0 / (0.000625 + 0.001936))
    assert omega == BATCHES
    assert found.spread**2 == pytest.approx(variance)
    assert found.scale**2 == pytest.approx(variance + 0.001936 + 0.0025)
    apart_batches, wider = pooled([np.full(4, 0.15), np.full(4, -0.05)], PRIOR)
    assert wider > omega
    assert apart_batches.next_spread > found.next_spread


def test_the_band_holds_the_next_test_as_often_as_it_says() -> None:
    """2 000 seeded batches drawn from the prior: 95 % of next tests inside, within 3 σ of it."""
    rng = np.random.default_rng(11)
    inside = 0
    for _ in range(2000):
        theta = 0.09 * rng.standard_normal()
        *y, new = theta + 0.05 * rng.standard_normal(4)
        found = known_scatter(np.array(y), PRIOR)
        inside += abs(new - found.mean) <= 1.96 * found.next_spread
    assert abs(inside / 2000 - 0.95) < 3.0 * math.sqrt(0.95 * 0.05 / 2000)


# ---------------------------------------------------------------- agreement


def test_a_test_beyond_two_sigma_of_the_prior_is_flagged() -> None:
    edge = 2.0 * math.hypot(0.09, 0.05)
    assert beyond_prior(np.array([edge - 1e-6, edge + 1e-6, -0.3]), PRIOR).tolist() == [0, 1, 1]


def test_one_outlier_among_ten_is_named_and_no_other() -> None:
    y = 0.02 + 0.03 * np.linspace(-1.0, 1.0, 10)
    assert not apart(y, PRIOR).any()
    y[3] = 0.35
    assert np.flatnonzero(apart(y, PRIOR)).tolist() == [3]


def test_good_tests_are_seldom_flagged() -> None:
    """Batches of ten from the prior: at least one flag in about 5 % of them."""
    rng = np.random.default_rng(4)
    flags = [
        apart(0.09 * rng.standard_normal() + 0.05 * rng.standard_normal(10), PRIOR).any()
        for _ in range(300)
    ]
    assert 0.01 < np.mean(flags) < 0.10


def test_a_bias_is_significant_when_its_limits_exclude_zero() -> None:
    small, large = np.full(4, 0.02), np.full(4, 0.10)
    assert not biased(small, known_scatter(small, PRIOR))
    assert biased(large, known_scatter(large, PRIOR))
    assert biased(-large, known_scatter(-large, PRIOR))


@pytest.mark.parametrize(("apart", "more"), [(0.086, False), (0.087, True)])
def test_scatter_is_more_than_assumed_beyond_chi_square(apart: float, more: bool) -> None:
    """Three tests: χ²(2) is below 5.991 in 95 % (table); 2 a²/0.05² reaches it at a = 0.0865."""
    assert scatters_more(np.array([-apart, 0.0, apart]), PRIOR) is more


def test_tests_that_scatter_more_than_assumed_widen_their_band(tmp_path: Path) -> None:
    assert not scatters_more(np.array([0.0, 0.06, -0.05]), PRIOR)
    factors = (0.8, 1.2, 0.85, 1.15)
    records = [record(tmp_path, k, f"w{i}") for i, k in enumerate(factors)]
    (batch,) = correlated(records).batches
    assert batch.scatters_more
    assert batch.posterior is not None
    assert batch.posterior.next_spread > 0.15


# ---------------------------------------------------------------- from records


@pytest.mark.parametrize("factor", [0.8, 1.0, 1.25])
@pytest.mark.parametrize("toml", [FORCE_STROKE, FORCE_TIME], ids=["stroke", "integrated"])
def test_a_known_factor_is_recovered(tmp_path: Path, factor: float, toml: str) -> None:
    test = compared(record(tmp_path, factor, "d", toml=toml), curve())
    assert test.ratio == pytest.approx(factor, rel=5e-3)
    assert test.y == pytest.approx(math.log(factor), abs=5e-3)


def test_ten_consistent_tests_move_the_factor_and_narrow_the_band(tmp_path: Path) -> None:
    factors = 1.08 + 0.02 * np.linspace(-1.0, 1.0, 10)
    records = [record(tmp_path, k, f"d{i}") for i, k in enumerate(factors)]
    found = correlated(records)
    name, posterior = found.chosen(None)
    assert name == "S1"
    assert posterior.factor == pytest.approx(1.08, rel=0.01)
    assert posterior.next_spread < 0.055 < PRIOR.predictive
    assert not any(test.disagrees for test in found.tests)
    assert found.batches[0].biased


def test_the_narrowed_band_is_that_of_later_margins(tmp_path: Path) -> None:
    before = crushleg.check_case(coupon()).crush.curve.energy[:, 0, -1]
    found = correlated([record(tmp_path, 1.1, f"d{i}") for i in range(4)])
    _, posterior = found.chosen(None)
    text = (
        f"force_factor = {posterior.factor}\nscatter = {posterior.next_spread}\n"
        f'tests = {posterior.tests}\nsource = "four synthetic drops"\n'
    )
    (tmp_path / "tests.toml").write_text(text, encoding="utf-8")
    case = crushleg.read_case_text(
        crushleg.template("coupon"),
        overrides=["girder.correlation=tests.toml"],
        base_dir=tmp_path,
    )
    checked = crushleg.check_case(case)
    after = checked.crush.curve.energy[:, 0, -1]
    assert after[1] / before[1] == pytest.approx(posterior.factor, rel=1e-6)
    assert after[2] / after[0] < before[2] / before[0]
    assert any(margin.basis == "your test" for margin in checked.margins)


def test_two_batches_are_kept_apart(tmp_path: Path) -> None:
    records = [record(tmp_path, 0.92, f"a{i}", "S1") for i in range(3)]
    records += [record(tmp_path, 1.12, f"b{i}", "S2") for i in range(3)]
    found = correlated(records)
    factors = {b.name: b.posterior.factor for b in found.batches if b.posterior is not None}
    assert factors["S1"] == pytest.approx(0.93, abs=0.01)
    assert factors["S2"] == pytest.approx(1.11, abs=0.01)
    assert found.chosen(None)[0] == POOLED
    assert found.chosen("S2")[1].factor == factors["S2"]
    assert found.omega > 0.1
    assert found.chosen(None)[1].next_spread > found.chosen("S1")[1].next_spread
    with pytest.raises(InputError, match='"S9"'):
        found.chosen("S9")


def test_a_saturated_test_is_shown_and_not_used(tmp_path: Path) -> None:
    good = record(tmp_path, 1.05, "good")
    path = tmp_path / "flat.csv"
    fall = drop(scaled_law(1.05), after=0.12)
    columns = {
        "t": 1e3 * fall.time,
        "x": 1e3 * fall.stroke,
        "F": np.minimum(fall.force / 1e3, 18.0),
    }
    flat = read_record(write_record(path, columns, 'batch = "S1"\n' + FORCE_STROKE))[0]
    found = correlated([good, flat])
    assert len(found.tests) == 2
    assert [test.record.test for test in found.batches[0].used] == ["good"]
    alone = correlated([flat])
    assert alone.batches[0].posterior is None
    with pytest.raises(InputError):
        alone.chosen(None)


def test_two_tests_of_one_name_are_refused(tmp_path: Path) -> None:
    one = record(tmp_path, 1.0, "d")
    with pytest.raises(InputError, match='test "d" twice'):
        correlated([one, one])


def test_a_stroke_no_such_girder_has_is_refused(tmp_path: Path) -> None:
    toml = FORCE_STROKE.replace('"mm"', '"cm"')
    with pytest.raises(InputError, match="the right unit or case"):
        compared(record(tmp_path, 1.0, "d", toml=toml), curve())


# ---------------------------------------------------------------- prediction issued earlier


def issued(folder: Path, case: Case | None = None, *, sealed: bool = True) -> Path:
    """JSON of a check, sealed as a prediction or as it is."""
    data = result(crushleg.check_case(case or coupon()))
    path = folder / "issued.json"
    body = seal(data | {"schema": SCHEMA}) if sealed else data
    path.write_text(json.dumps(body, ensure_ascii=False), encoding="utf-8")
    return path


@pytest.mark.parametrize("sealed", [True, False])
def test_an_issued_prediction_gives_the_curve_of_its_case(tmp_path: Path, sealed: bool) -> None:
    found = read_issued(issued(tmp_path, sealed=sealed))
    assert found.energy_at(0.06) == pytest.approx(curve().energy_at(0.06), rel=1e-12)
    assert found.first_peak == pytest.approx(curve().first_peak, rel=1e-12)
    assert found.input_sha256 == coupon().input_sha256


def test_an_issued_prediction_is_named_as_on_the_sheet_that_was_signed(tmp_path: Path) -> None:
    body = seal(result(crushleg.check_case(coupon())) | {"schema": SCHEMA, "date": "2026-11-25"})
    path = tmp_path / "issued.json"
    path.write_text(json.dumps(body), encoding="utf-8")
    (note,) = read_issued(path).notes
    assert f"on 2026-11-25 as prediction {body['sha256'][:12]};" in note


def test_a_changed_byte_of_a_sealed_prediction_is_refused(tmp_path: Path) -> None:
    path = issued(tmp_path)
    text = path.read_text(encoding="utf-8")
    at = text.index('"energy_J"')
    digit = next(i for i in range(at, len(text)) if text[i] in "123456789")
    changed = str(int(text[digit]) % 9 + 1)
    path.write_text(text[:digit] + changed + text[digit + 1 :], encoding="utf-8")
    with pytest.raises(InputError, match="not the hash of what it holds"):
        read_issued(path)


@pytest.mark.parametrize(
    ("text", "said"),
    [
        ("{", "no JSON"),
        ("[]", "no prediction"),
        ('{"schema": "other"}', "'other'"),
        ('{"schema": "crushleg-result-1"}', "whole curve"),
        ('{"schema": "crushleg-result-1", "curve": {"stroke_m": [0.0], "force_N": {}}}', "whole"),
        (f'{{"schema": "{SCHEMA}"}}', "no hash"),
    ],
)
def test_what_is_no_prediction_is_refused(tmp_path: Path, text: str, said: str) -> None:
    path = tmp_path / "issued.json"
    path.write_text(text, encoding="utf-8")
    with pytest.raises(InputError) as caught:
        read_issued(path)
    assert said in str(caught.value)
    assert "issued.json" in str(caught.value)


def test_earlier_tests_are_not_counted_twice(tmp_path: Path) -> None:
    """Issued with a factor 1.2, measured 1.26 of the model: 1.05 as issued, 1.26 in the factor."""
    tests = Correlation(force_factor=1.2, scatter=0.06, tests=3, source="earlier")
    case = replace(coupon(), girder=replace(coupon().girder, correlation=tests))
    one = record(tmp_path, 1.26, "d")
    frozen = hold(case, [one], read_issued(issued(tmp_path, case)), PRIOR)
    test = frozen.found.tests[0]
    assert frozen.against.factor == 1.2
    assert test.ratio == pytest.approx(1.05, rel=0.01)
    assert math.exp(test.y) == pytest.approx(1.26, rel=0.01)
    assert any("force factor 1.2 of earlier tests" in note for note in frozen.notes)
    live = hold(case, [one], None, PRIOR)
    assert live.found.tests[0].ratio == pytest.approx(1.26, rel=0.01)
    assert any("it is left out here" in note for note in live.notes)


def test_a_prediction_of_another_input_is_said_to_be_one(tmp_path: Path) -> None:
    other = crushleg.read_case_text(crushleg.template("coupon"), overrides=["girder.wall=1.6 mm"])
    frozen = hold(other, [record(tmp_path, 1.0, "d")], read_issued(issued(tmp_path)), PRIOR)
    assert any("NOT issued for this case as it is now" in note for note in frozen.notes)


def test_with_a_rate_factor_each_record_is_held_at_its_own_speed(tmp_path: Path) -> None:
    case = crushleg.read_case_text(
        crushleg.template("coupon"),
        overrides=["girder.material=stainless-304l-annealed", "girder.rate=true"],
    )
    one = record(tmp_path, 1.0, "d")
    slow = record(tmp_path, 1.0, "s", toml=FORCE_STROKE.replace("3.96 m/s", "0.01 m/s"))
    fast, still = hold(case, [one, slow], None, PRIOR).found.tests
    assert fast.against.energy[1, -1] > 1.02 * still.against.energy[1, -1]


def test_the_toml_of_the_case_is_no_toml_of_a_record(tmp_path: Path) -> None:
    record(tmp_path, 1.0, "coupon")
    with pytest.raises(InputError, match="which is the case"):
        read_records([tmp_path / "coupon.csv"], [], [tmp_path / "coupon.toml"])


def test_a_record_beyond_the_end_of_the_curve_is_compared_at_that_end(tmp_path: Path) -> None:
    """Energy of both to the same stroke: the factor is that of the girder."""
    whole, measured = curve(), record(tmp_path, 1.1, "long")
    cut = whole.stroke[1] < 0.8 * measured.stroke[-1]
    shorter = replace(
        whole,
        stroke=whole.stroke[:, cut],
        force=whole.force[:, cut],
        energy=whole.energy[:, cut],
    )
    found = compared(measured, shorter)
    assert shorter.end < measured.stroke[-1]
    assert found.stroke == pytest.approx(shorter.end)
    assert found.ratio == pytest.approx(1.1, rel=0.01)
