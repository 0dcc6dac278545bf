"""The main chain for many landings at once: girders crushed, touchdowns stopped, margins judged.

The equations are those of the rooms below, given arrays in the place of numbers. One landing has
one girder: the nominal curve of what was drawn.
"""

from __future__ import annotations

from functools import lru_cache
from typing import TYPE_CHECKING

import numpy as np

from crushleg.errors import InputError, Problem
from crushleg.girder.crush import crush
from crushleg.landing.touchdown import land
from crushleg.margins import margins
from crushleg.scatter.chain_girders import KEPT, Same, drawn_girders, girder_varies, one_girder
from crushleg.scatter.chain_legs import land_unlike
from crushleg.scatter.chain_values import Many, beside_girder
from crushleg.scatter.records import Judged
from crushleg.scatter.sample import values_of

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.case.records import Case
    from crushleg.girder.crush import Crush
    from crushleg.landing.touchdown import Landed
    from crushleg.margins import Margin
    from crushleg.scatter.records import Draws

BLOCK = 64
"""Girders that go together: their arrays stay in a cache."""
FIXED_BLOCK = 32768
"""Landings that go together on one girder."""
QUANTITIES = {
    "stroke_m": "stroke",
    "leg_load_N": "peak",
    "deceleration_m_s2": "deceleration",
    "energy_J": "demand",
}
"""Name of a quantity, with the touchdown behind it -> result of the landing."""


def evaluate(case: Case, draws: Draws) -> Judged:
    """Judge landings; the evaluation that :func:`crushleg.scatter.study.study` is given.

    Parameters
    ----------
    case : Case
    draws : Draws

    Returns
    -------
    Judged
        Of each landing what :func:`crushleg.check.check_case` says of its
        :func:`crushleg.scatter.sample.sampled_case`, to round-off; of the leg that is worst where
        legs differ. The bytes of a landing do not depend on those it goes with.

    Raises
    ------
    InputError
        Legs differ and some touch first; or a landing has no stroke or load, as a number.
    """
    wide = any(value.ndim == 2 for value in draws.values.values())
    fixed = not girder_varies(case, draws.values)
    block = (
        FIXED_BLOCK if fixed and not wide else max(2, BLOCK // (case.vehicle.legs if wide else 1))
    )
    whole: Judged | None = None
    for place, many in _blocks(draws, block):
        part = _judge(case, many, fixed=fixed)
        _refuse_nothing(draws, place.start, part)
        whole = whole or _room(part, draws.landings)
        count = place.stop - place.start
        whole.margin[:, place] = part.margin[:, :count]
        for name, values in whole.quantities.items():
            values[place] = part.quantities[name][:count]
    if whole is None:
        message = "no landing to judge"
        raise ValueError(message)
    return whole


def _refuse_nothing(draws: Draws, start: int, judged: Judged) -> None:
    """Refuse a landing whose inputs together are no case: its results would fail no margin."""
    unknown = [int(np.isnan(x).argmax()) for x in judged.quantities.values() if np.isnan(x).any()]
    if not unknown:
        return
    at = start + min(unknown)
    values = ", ".join(f"{key} {value:.6g}" for key, value in values_of(draws, at).items())
    problem = Problem(
        field="scatter.input",
        read=f"inputs that together are no case, at landing {draws.start + at} (SI): {values}",
        write="narrower distributions, or cuts",
    )
    raise InputError([problem])


def _room(like: Judged, landings: int) -> Judged:
    """Room for the results of so many landings."""
    return like._replace(
        margin=np.empty((len(like.names), landings)),
        quantities={name: np.empty(landings) for name in like.quantities},
    )


def _blocks(draws: Draws, block: int) -> Iterator[tuple[slice, Many]]:
    """Yield values of the draws in blocks of at least two landings, and their place.

    A landing that is left alone goes with a copy of itself: numpy adds up an axis of its own in
    another order.
    """
    for at in range(0, draws.landings, block):
        place = slice(at, min(at + block, draws.landings))
        values = {key: value[place] for key, value in draws.values.items()}
        if place.stop - at == 1:
            values = {key: np.repeat(value, 2, axis=0) for key, value in values.items()}
        yield place, Many(values, max(2, place.stop - at))


def _judge(case: Case, many: Many, *, fixed: bool) -> Judged:
    if many.legs > 1:
        return _judge_unlike(case, many)
    whole = beside_girder(case, many)
    crushed = _fixed(case) if fixed else crush(drawn_girders(case, whole, many))
    landings = tuple(
        land(crushed, whole.vehicle, whole.leg, touchdown, whole.factors, timed=False)
        for touchdown in whole.touchdowns
    )
    return _judged(margins(whole, crushed, landings), landings, many)


def _judge_unlike(case: Case, many: Many) -> Judged:
    """Every leg as a girder of its own, the vehicle stopped by the sum of them."""
    each = many.by_leg()
    whole = beside_girder(case, each)
    crushed = crush(drawn_girders(case, whole, each))
    landings = tuple(
        land_unlike(crushed, whole, touchdown, many.legs) for touchdown in whole.touchdowns
    )
    return _worst_leg(_judged(margins(whole, crushed, landings), landings, each), many)


def _worst_leg(each: Judged, many: Many) -> Judged:
    """Least margin and largest quantity of the legs of each landing."""
    shape = (many.landings, many.legs)
    margin = np.fmin.reduce(each.margin.reshape(-1, *shape), axis=2)
    largest = {name: v.reshape(shape).max(axis=1) for name, v in each.quantities.items()}
    return each._replace(margin=margin, quantities=largest)


def _judged(found: tuple[Margin, ...], landings: tuple[Landed, ...], many: Many) -> Judged:
    """Rows of margins, NaN where they do not apply, and what percentiles are given of."""
    margin = np.empty((len(found), many.landings))
    for row, one in zip(margin, found, strict=True):
        value = one.margin
        row[:] = np.nan if value is None else value
    quantities = {
        f"{name} {landed.name}": np.array(
            np.broadcast_to(getattr(landed, field)[0], (many.landings,))
        )
        for landed in landings
        for name, field in QUANTITIES.items()
    }
    names = tuple((one.check, one.touchdown) for one in found)
    return Judged(names, margin, np.array([one.counts for one in found]), quantities)


def _fixed(case: Case) -> Crush:
    speed = max(touchdown.vertical_speed for touchdown in case.touchdowns)
    return _crushed_once(Same(case.girder, speed))


@lru_cache(maxsize=KEPT)
def _crushed_once(same: Same) -> Crush:
    """One girder for all landings, without a band."""
    return crush(one_girder(same))
