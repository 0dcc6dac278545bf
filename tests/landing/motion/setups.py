"""Vehicles on legs by hand, as the tests of the motion build them; gravity in the ground frame."""

from __future__ import annotations

import math
from contextlib import contextmanager
from typing import TYPE_CHECKING, Any

import numpy as np

from crushleg.landing.motion import run as motion
from crushleg.landing.motion.curves import Curves, curves_of
from crushleg.landing.motion.rotation import matrix, turned
from crushleg.landing.motion.setup import Setup, Start

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from crushleg.arrays import FloatArray

EARTH, MOON, MARS = 9.80665, 1.62, 3.71
STIFF = 3e8
"""Axial stiffness of a leg that hardly springs [N/m]: 10 kN shorten it by 0.03 mm."""


def curve(*points: tuple[float, float], stiffness: float = STIFF, count: int = 1) -> Curves:
    """Legs whose force is straight between points of crush [m] and force [N]; ``count`` alike.

    Two points at one crush are a step, as a piece of 1 µm.
    """
    s, f = np.array(points, dtype=float).T
    s = np.maximum.accumulate(s + 1e-6 * np.concatenate([[0.0], np.diff(s) == 0.0]))
    e = np.concatenate([[0.0], np.cumsum(0.5 * (f[1:] + f[:-1]) * np.diff(s))])
    full = [np.tile(a, (count, 1)) for a in (s, f, e)]
    return curves_of(full[0], full[1], full[2], np.full(count, stiffness))


def flat(force: float, stiffness: float = STIFF, end: float = 1.0, pieces: int = 1000) -> Curves:
    """Legs of a constant force [N]; the pieces set the length of the steps."""
    return curve(*((end * i / pieces, force) for i in range(pieces + 1)), stiffness=stiffness)


def even(legs: int, first: float = 0.0) -> FloatArray:
    """Azimuths of equally spaced legs [rad]."""
    return first + 2.0 * np.pi * np.arange(legs) / legs


def vehicle(
    azimuths: FloatArray | Sequence[float],
    *,
    mass: float = 1000.0,
    gyration: tuple[float, float, float] = (2.0, 2.0, 2.0),
    height: float = 1.5,
    radius: float | FloatArray = 2.0,
    gravity: float = EARTH,
    slope: float = 0.0,
    uphill: float = 0.0,
    cant: float = 0.0,
    travel_ratio: float | None = None,
    stiffness: float = STIFF,
    damping: float = 0.2,
    grip: float = 0.5,
    **given: Any,
) -> Setup:
    """One landing; a slope rises toward the azimuth ``uphill`` [rad].

    ``damping`` is a share of critical, ``grip`` a share of the stiffness. Other fields of the
    setup by name, the same for every leg.
    """
    places = np.asarray(azimuths, dtype=float)
    N = len(places)
    out = np.stack([np.cos(places), np.sin(places), np.zeros(N)], axis=-1)
    up = np.array([0.0, 0.0, 1.0])
    slide = math.sin(cant) * out - math.cos(cant) * up
    if travel_ratio is not None:
        slide = np.tile(-travel_ratio * up, (N, 1))
    side = -math.sin(slope) * np.array([math.cos(uphill), math.sin(uphill)])
    held = grip * stiffness if given.get("friction", 0.0) > 0.0 else 0.0
    damper = 2.0 * damping * math.sqrt(mass / N * stiffness)
    fields: dict[str, Any] = {
        "friction": 0.0,
        "guide": 0.0,
        "curve": 0,
        "bearing": np.inf,
        "bearing_gradient": 0.0,
        "sideways": 0.0 if travel_ratio is not None else 1.0,
        "grip": held,
        "grip_damping": 2.0 * damping * math.sqrt(mass / N * held),
        "damping": damper,
        "stiffness": stiffness,
    }
    alone = {"thrust": 0.0, "shutdown": np.inf, "decay": 0.0, "hull_height": np.inf}
    alone |= {"hull_radius": 0.0}
    legs = {name: np.full((1, N), given.get(name, value)) for name, value in fields.items()}
    one = {name: np.full(1, given.get(name, value)) for name, value in alone.items()}
    return Setup(
        mass=np.full(1, mass),
        inertia=mass * np.square(gyration)[None],
        gravity=gravity * np.array([[side[0], side[1], -math.cos(slope)]]),
        pads=(np.reshape(radius, (-1, 1)) * out - height * up)[None],
        slide=slide[None],
        ring=np.argsort(places % math.tau)[None],
        **legs,
        **one,
    )


def touching(
    setup: Setup,
    velocity: Sequence[float],
    lean: Sequence[float] = (0.0, 0.0, 0.0),
    turning: Sequence[float] = (0.0, 0.0, 0.0),
) -> Start:
    """One landing with its lowest pad on the ground, the vehicle turned by ``lean`` [rad]."""
    attitude = turned([1.0, 0.0, 0.0, 0.0], list(lean))
    pads = setup.pads[0] @ matrix(attitude).T
    return Start(
        position=np.array([[0.0, 0.0, -pads[:, 2].min()]]),
        velocity=np.array([velocity], dtype=float),
        attitude=attitude[None],
        turning=np.array([turning], dtype=float),
    )


def together(records: Sequence[Any]) -> Any:
    """Landings of one batch from records of one landing each."""
    return type(records[0])(*(np.concatenate(field) for field in zip(*records, strict=True)))


@contextmanager
def ends_after(seconds: float, setup: Setup) -> Iterator[None]:
    """End runs inside at this time at the latest; the setup says what time is measured by."""
    reach = np.sqrt((setup.pads**2).sum(axis=-1)).max()
    gravity = np.sqrt((setup.gravity**2).sum(axis=-1)).min()
    lives = motion.LIFE, motion.BALANCING
    motion.LIFE = motion.BALANCING = seconds / math.sqrt(reach / gravity)
    try:
        yield
    finally:
        motion.LIFE, motion.BALANCING = lives
