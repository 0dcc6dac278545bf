"""Full landings against an independent integration: scipy's RK45 on equations of their own.

Written anew from the mechanics, nothing of the package in it: position, rotation matrix carried
as nine states, body rates by Euler's equations; travel of each absorber at most so far, and
anchor of each pad, as states of their own. At the limit of friction an anchor slips along the
force on its pad (elasto-plastic friction), and makes up with a time constant what the limit
changes. The time ends when the main crush is over: rocking
afterwards crushes nothing.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from numpy.testing import assert_allclose
from scipy.integrate import solve_ivp

from crushleg.landing.motion.rotation import matrix
from crushleg.landing.motion.run import run
from tests.landing.motion.setups import EARTH, MARS, MOON, curve, ends_after, touching, vehicle

if TYPE_CHECKING:
    from crushleg.arrays import FloatArray
    from crushleg.landing.motion.setup import Setup, Start

FOLLOWS, NEAR = 1e-3, 1e-3
"""Time constant with which an anchor that was left behind comes up to its pad [s]; it
moves when its spring alone is within this share of the limit of friction."""
SPRUNG = 1e-5
"""A leg springs when it is so far below its most travel, which the solver knows less well [m]."""
K = 3e6
STEPS = ((0.0, 9e3), (0.04, 11e3), (0.05, 9e3), (0.1, 16e3), (0.11, 13e3), (0.2, 22e3), (0.5, 30e3))


class Reference:
    """Right-hand side for one landing."""

    def __init__(self, setup: Setup) -> None:
        self.m, self.inertia, self.g = setup.mass[0], setup.inertia[0], setup.gravity[0]
        self.foot, self.way = setup.pads[0], setup.slide[0]
        self.mu, self.kt, self.ct = setup.friction[0], setup.grip[0], setup.grip_damping[0]
        self.c = setup.damping[0]
        self.thrust = setup.thrust[0]
        self.legs = len(self.foot)
        s, f = np.array(STEPS).T
        self.x, self.f = np.concatenate([[0.0], s + f / K]), np.concatenate([[0.0], f])

    def start(self, start: Start) -> FloatArray:
        R = matrix(start.attitude[0])
        rates = R.T @ start.turning[0]
        at = start.position[0] + self.foot @ R.T
        first = [start.position[0], R.ravel(), start.velocity[0], rates, np.zeros(self.legs)]
        return np.concatenate([*first, at[:, :2].ravel()])

    def __call__(self, _: float, y: FloatArray) -> FloatArray:
        r, R, v, w = y[:3], y[3:12].reshape(3, 3), y[12:15], y[15:18]
        most, anchor = y[18 : 18 + self.legs], y[18 + self.legs :].reshape(-1, 2)
        a = self.way @ R.T
        lever = self.foot @ R.T
        depth = -(r[2] + lever[:, 2])
        opening = -a[:, 2]
        x = depth / opening
        spin = R @ w
        hub = v + np.cross(spin, lever - x[:, None] * a)
        rate = -hub[:, 2] / opening
        peak = np.maximum(x, most)
        top = np.interp(peak, self.x, self.f)
        elastic = top - K * (peak - x)
        springs = np.clip(elastic + self.c * rate, 0.0, np.clip(2.0 * elastic, 0.0, top))
        load = np.where(elastic <= 0.0, 0.0, np.where(x < most, springs, elastic))
        on = load > 0.0
        pad = r[:2] + lever[:, :2] - x[:, None] * a[:, :2]
        drift = hub[:, :2] - rate[:, None] * a[:, :2]
        damps = (self.ct * (x < most - SPRUNG))[:, None]
        held_back = -self.kt[:, None] * (pad - anchor)
        pull = held_back - damps * drift
        size = np.hypot(*pull.T)
        along = pull / np.maximum(size, 1e-12)[:, None]
        held = np.maximum(load + (pull * a[:, :2]).sum(1), 0.0) / opening
        slips = size > self.mu * held
        dragged = load / (opening - self.mu * (along * a[:, :2]).sum(1))
        normal = np.where(on, np.where(slips, dragged, held), 0.0)
        flat = np.where(slips[:, None], (self.mu * normal)[:, None] * along, pull)
        flat = np.where(on[:, None], flat, 0.0)
        force = np.column_stack([flat, normal])
        axis = self.thrust * R[:, 2]
        contact = np.column_stack([pad, -depth + x * opening])
        moment = R.T @ np.cross(contact - r, force).sum(0)
        behind = pad + flat / np.maximum(self.kt, 1.0)[:, None] - anchor
        loose = slips & (np.hypot(*held_back.T) >= (1.0 - NEAR) * np.hypot(*flat.T))
        slide = np.minimum((drift * along).sum(1), 0.0)[:, None] * along
        moves = np.where(on[:, None], slide, drift)
        follow = np.where((loose | ~on)[:, None], moves + behind / FOLLOWS, 0.0)
        grows = np.where((x >= most) & (rate > 0.0), rate, 0.0)
        turn = R @ np.array([[0.0, -w[2], w[1]], [w[2], 0.0, -w[0]], [-w[1], w[0], 0.0]])
        return np.concatenate([
            v,
            turn.ravel(),
            (force.sum(0) + axis) / self.m + self.g,
            (moment - np.cross(w, self.inertia * w)) / self.inertia,
            grows,
            follow.ravel(),
        ])  # fmt: skip


LANDINGS: dict[str, tuple[dict[str, Any], dict[str, Any], float]] = {
    "three legs, drifting up a slope": (
        {"azimuths": [0.3, 2.4, 4.5], "slope": 0.08, "friction": 0.3, "height": 1.8},
        {"velocity": (0.8, 0.2, -2.8)},
        0.25,
    ),
    "four canted legs on the Moon, frictionless, leaning": (
        {
            "azimuths": [0.0, 1.57, 3.14, 4.71],
            "cant": 0.3,
            "gravity": MOON,
            "gyration": (1.6, 1.9, 1.2),
        },
        {"velocity": (0.4, -0.3, -3.0), "lean": (0.03, 0.05, 0.0)},
        0.3,
    ),
    "five legs, one first, turning": (
        {"azimuths": [0.0, 1.26, 2.51, 3.77, 5.03], "friction": 0.4, "cant": 0.15},
        {"velocity": (0.0, 0.0, -2.5), "lean": (0.0, 0.1, 0.0), "turning": (0.1, -0.2, 0.3)},
        0.35,
    ),
    "six legs on Mars, some thrust, downhill": (
        {
            "azimuths": [0.0, 1.05, 2.09, 3.14, 4.19, 5.24],
            "gravity": MARS,
            "slope": 0.1,
            "uphill": np.pi,
            "friction": 0.5,
            "thrust": 1500.0,
        },
        {"velocity": (1.0, 0.0, -3.2)},
        0.25,
    ),
    "four legs freely placed, on stretched arms, stuck pads": (
        {
            "azimuths": [0.2, 1.9, 3.0, 5.1],
            "radius": np.array([1.8, 2.2, 2.0, 2.4]),
            "gravity": EARTH,
            "friction": 3.0,
            "gyration": (1.5, 1.3, 1.8),
        },
        {"velocity": (0.6, -0.5, -2.2), "lean": (-0.04, 0.06, 0.0)},
        0.3,
    ),
}


@pytest.mark.parametrize("name", LANDINGS)
def test_strokes_of_an_independent_integration(name: str) -> None:
    given, arrival, seconds = LANDINGS[name]
    setup = vehicle(stiffness=K, **given)
    start = touching(setup, **arrival)
    with ends_after(seconds, setup):
        moved = run(setup, curve(*STEPS, stiffness=K), start)
    reference = Reference(setup)
    solved = solve_ivp(
        reference, (0.0, float(moved.time[0])), reference.start(start), method="RK45",
        rtol=3e-5, atol=3e-7, max_step=2e-3,
    )  # fmt: skip
    strokes = solved.y[18 : 18 + reference.legs, -1]
    assert solved.success
    assert strokes.max() > 0.05
    assert_allclose(moved.pads.most[0], strokes, rtol=5e-3, atol=5e-3 * strokes.max())
