"""Coupons, rig and instruments of the test of the hole law, as blocks of the evidence page."""

from __future__ import annotations

from typing import TYPE_CHECKING

from evidence_page import Column, Line, table

from crushleg.report.words import fixed, packed
from crushleg.units import express, show

if TYPE_CHECKING:
    from collections.abc import Iterator, Sequence

    from evidence_coupons import Coupon

    from crushleg.trial.instruments import Instruments

THREE = "low / nominal / high"


def bands(coupons: Sequence[Coupon]) -> str:
    """Table of what each drop is predicted to show."""
    groups = [coupon.prediction.events[0].groups[0] for coupon in coupons]
    landed = [coupon.prediction.events[0].landed for coupon in coupons]
    columns = [
        packed([group.crush.tolist() for group in groups], "mm"),
        [" / ".join(fixed(group.folds.tolist(), 2)) for group in groups],
        packed([one.peak[:, 0].tolist() for one in landed], "kN"),
        packed([one.demand[:, 0].tolist() for one in landed], "kJ"),
    ]
    lines = [
        Line((coupon.name, *(column[k] for column in columns)), _made(coupon))
        for k, coupon in enumerate(coupons)
    ]
    heads = ("crush (mm)", "folds", "peak force (kN)", "energy to the stop (kJ)")
    return table(
        f"Prediction of each drop, {THREE} force of the girder",
        [Column("coupon", number=False), *map(Column, heads)],
        lines,
    )


def _made(coupon: Coupon) -> str:
    girder = coupon.checked.case.girder
    rows = girder.holes.rows
    holes = "no holes"
    if rows:
        holes = f"holes {rows[0].size * 1e3:g} to {rows[-1].size * 1e3:g} mm, foot first"
    return (
        f"{girder.width * 1e3:g} × {girder.depth * 1e3:g} × {girder.wall * 1e3:g} mm, "
        f"{girder.length * 1e3:g} mm long, {girder.material.name}; {holes}; {coupon.file}"
    )


def rig(coupons: Sequence[Coupon]) -> Iterator[str]:
    """Say how the coupons are crushed and with what that is measured."""
    given, event = coupons[0].checked.case.rig, coupons[0].prediction.events[0]
    assert given is not None
    assert event.drop is not None
    yield (
        f"Drop rig: {given.mass:g} kg on rails that carry every side load, friction "
        f"{given.friction:g} N; fall {event.drop.height:.3f} m, "
        f"{event.landed.arrival.closing:g} m/s at contact; load "
        "cell under the tube, flat plates at both ends, nobody near while the block is up."
    )
    of = [coupon.prediction.instruments for coupon in coupons]
    yield (
        f"Ranges, the largest of the three coupons: load cell {_range(of, 'cell', 'force')}, "
        f"accelerometer {express(max(x.accelerometer for x in of), 'g0'):.0f} g0, displacement "
        f"{_range(of, 'displacement', 'length')}."
    )
    yield (
        f"Folds pass at {max(x.fold_frequency for x in of):.0f} Hz: filter class "
        f"{max(x.peak_class for x in of)} for peaks, {max(x.mean_class for x in of)} to integrate "
        f"(SAE J211), {max(x.sample_rate for x in of):g} samples a second or more."
    )
    yield (
        "Before: wall at eight places, every hole, three tensile coupons of the same tube. During: "
        "high-speed film of two faces. After: height of each face, places of the folds against the "
        "rows, cracks at the holes."
    )


def _range(of: Sequence[Instruments], name: str, dimension: str) -> str:
    return show(max(float(getattr(one, name) or 0.0) for one in of), dimension, "si")
