"""The test that would settle the hole law: three coupons, what each will show, how many to crush.

Of :mod:`evidence`. Laws are told apart by y = ln of measured energies, drilled over plain, between
the end of the first fold and the last fold that every coupon completes: alloy and wall are common
to one length of tube and drop out.
"""

from __future__ import annotations

import datetime as dt
import math
from dataclasses import dataclass
from itertools import combinations
from pathlib import Path
from typing import TYPE_CHECKING, NamedTuple

import numpy as np
from evidence_laws import NET_AREA, OURS, RIVALS, crushed, girders_of

import crushleg
from crushleg.girder.bands import Z_TWO_SIDED, model_scatter
from crushleg.girder.front import phase_extremes, window_centre
from crushleg.trial.posterior import Prior, known_scatter
from crushleg.trial.predict import predict

if TYPE_CHECKING:
    from collections.abc import Callable, Iterator

    from evidence_laws import Law

    from crushleg.arrays import FloatArray
    from crushleg.check import Checked
    from crushleg.girder.crush import Crush
    from crushleg.trial.posterior import Posterior
    from crushleg.trial.predict import Prediction

HERE = Path(__file__).parent
FILES = tuple(f"coupon-evidence-{name}.toml" for name in ("plain", "d30", "d50"))
ISSUED = dt.date(2000, 1, 1)
"""A prediction needs a date; nothing of it is shown."""
CLEAR = 3.0
"""Standard deviations from which two laws are told apart (judgement)."""
MOST = 100
PLANNED = 3
"""Tests of each coupon: the fewest that show their own scatter (judgement)."""
PRIOR = Prior()


@dataclass(frozen=True, slots=True, kw_only=True)
class Coupon:
    """A coupon and its prediction.

    ``share`` is d/C of its smallest, mean and largest hole; ``phase`` the standard deviation of
    ln R from where folds fall against rows; ``model`` that of the mean-force model.
    """

    file: str
    prediction: Prediction
    crush: Crush
    share: tuple[float, float, float]
    phase: float
    model: float

    @property
    def checked(self) -> Checked:
        """The case and what came of it."""
        return self.prediction.checked

    @property
    def name(self) -> str:
        """What it is called on the page."""
        return f"d/C {self.share[1]:.2f}" if self.share[1] else "plain"


class Pair(NamedTuple):
    """Two coupons, a rival law, and ln(E one / E other) by ours and by the rival."""

    one: Coupon
    other: Coupon
    rival: Law
    ours: float
    theirs: float

    @property
    def apart(self) -> float:
        """Distance of the two laws, in ln of energy."""
        return abs(self.ours - self.theirs)

    def scatter(self, repeats: int, *, model: bool) -> float:
        """Return the standard deviation of y, so many tests of each; with what ours may be off."""
        tests = PRIOR.within**2 * 2.0 / repeats
        if not model:
            return math.sqrt(tests)
        both = self.one, self.other
        phase = sum(coupon.phase**2 for coupon in both)
        more = abs(self.one.model**2 - self.other.model**2)
        return math.sqrt(tests + phase + more)

    def sigmas(self, repeats: int, *, model: bool) -> float:
        """Distance of the two laws over the standard deviation of y."""
        return self.apart / self.scatter(repeats, model=model)


def coupons() -> list[Coupon]:
    """Read the case files and predict each."""
    return [_coupon(file) for file in FILES]


def _coupon(file: str) -> Coupon:
    checked = crushleg.check_case(crushleg.read_case(HERE / file))
    girder, crush = checked.case.girder, checked.crush
    side = 0.5 * (girder.width + girder.depth) - girder.wall
    sizes = [row.size / side for row in girder.holes.rows] or [0.0]
    front = crush.front
    centre = window_centre(front.z, front.walls.half, crush.girders.length)
    least, most = phase_extremes(crush.girders, centre, front.walls, front.ratio)
    return Coupon(
        file=file,
        prediction=predict(checked, ISSUED),
        crush=crush,
        share=(min(sizes), sum(sizes) / len(sizes), max(sizes)),
        phase=float(np.log(most / least).mean()) / (2.0 * Z_TWO_SIDED),
        model=float(model_scatter(front.shares.hinge).mean()),
    )


def window(of: list[Coupon]) -> tuple[float, float]:
    """Whole folds but the first, as far as every coupon is crushed at nominal force [m]."""
    bounds = of[0].crush.folds.stroke[0]
    reached = min(float(c.prediction.events[0].groups[0].crush[1]) for c in of)
    return float(bounds[1]), float(bounds[bounds <= reached][-1])


def energy(coupon: Coupon, law: Law, between: tuple[float, float]) -> FloatArray:
    """Energy between two strokes by a law, low nominal high [J], shape (3,)."""
    curve = crushed(girders_of(coupon.checked.case), law).curve
    ends = [[np.interp(s, curve.stroke[0], e[0]) for s in between] for e in curve.energy]
    return np.diff(np.array(ends), axis=1)[:, 0]


def pairs(of: list[Coupon]) -> list[Pair]:
    """Every two coupons under every rival law."""
    between = window(of)
    found = []
    for rival in RIVALS:
        logs = {
            (coupon.file, law.name): float(np.log(energy(coupon, law, between)[1]))
            for coupon in of
            for law in (OURS, rival)
        }
        for other, one in combinations(of, 2):
            ours, theirs = (
                logs[one.file, law.name] - logs[other.file, law.name] for law in (OURS, rival)
            )
            found.append(Pair(one, other, rival, ours, theirs))
    return found


def best(of: list[Pair], rival: Law = NET_AREA) -> Pair:
    """Return the pair that tells our law from a rival best, one test of each."""
    return max(
        (pair for pair in of if pair.rival is rival), key=lambda pair: pair.sigmas(1, model=True)
    )


def repeats_to_tell(pair: Pair, *, model: bool) -> int | None:
    """Count the tests of each coupon that tell the laws apart; None if no number does."""
    return _first(lambda n: pair.sigmas(n, model=model) >= CLEAR)


class Halving(NamedTuple):
    """A scatter, what it is now and would be after n tests, and n; None if no number halves it."""

    what: str
    now: float
    floor: float
    repeats: int | None


def halvings(of: list[Coupon]) -> Iterator[Halving]:
    """How many tests of one batch halve the parts of the band that the model makes."""
    before = after(0)
    yield Halving("force factor of the batch, τ", before.spread, 0.0, _until(0.5 * before.spread))
    for what, now in (
        ("next coupon of the batch, √(τ² + σw²)", PRIOR.predictive),
        *((f"model σ in the band of the coupon {c.name}", c.model) for c in of),
    ):
        yield Halving(what, now, PRIOR.within, _next_until(0.5 * now))


def after(repeats: int) -> Posterior:
    """Posterior of so many tests that agree with the prediction."""
    return known_scatter(np.zeros(repeats), PRIOR)


def _until(goal: float) -> int | None:
    return _first(lambda n: after(n).spread <= goal)


def _next_until(goal: float) -> int | None:
    return _first(lambda n: after(n).next_spread <= goal)


def _first(met: Callable[[int], bool]) -> int | None:
    return next((n for n in range(1, MOST + 1) if met(n)), None)
