"""Which inputs of a case scatter: those of [scatter], and the defaults with their sources."""

from __future__ import annotations

import math
from dataclasses import replace
from functools import lru_cache
from typing import TYPE_CHECKING, NamedTuple

from crushleg.case.records import Scatter, ScatterCorrelation, ScatterInput
from crushleg.case.scatter_keys import HOLE_SIZE, MODEL, ULTIMATE, YIELD, datasheet_value
from crushleg.case.scatter_records import LIMITS, LOGNORMAL, NORMAL
from crushleg.case.scatter_span import Z_95
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.bands import model_scatter
from crushleg.girder.front import folding_front
from crushleg.girder.strength import CERTIFICATE_BAND

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.case.records import Case

CUT = 3.0
"""Default walls and holes are cut so many standard deviations out: they are inspected."""
MASS_COV = 0.02
SPEED_COV = 0.05
STRENGTH_CORRELATION = 0.75

WALL = "± wall_tolerance as 95 % limits, cut at 3 standard deviations (judgement)"
HOLES = "± hole_tolerance as 95 % limits, cut at 3 standard deviations (judgement)"
STRENGTH = "low and high of the datasheet as 95 % limits (judgement)"
CERTIFICATE = "certificate; coefficient of variation 0.044 of 207 coupons (published, second-hand)"
MASS = "coefficient of variation 2 % (judgement: give your mass statement)"
SPEED = "coefficient of variation 5 % (judgement: give your descent simulation)"
JUDGED = "largest model σ along the girder (judgement)"
TOGETHER = "0.75, of structural steel (JCSS probabilistic model code, from memory)"


class Plan(NamedTuple):
    """What a study draws: inputs in the order of their dimensions, correlations, why."""

    scatter: Scatter
    inputs: tuple[ScatterInput, ...]
    correlations: tuple[ScatterCorrelation, ...]
    legs: int
    notes: tuple[str, ...]


@lru_cache(maxsize=4)
def _planned(case: _ById) -> Plan:
    return _plan(case.case)


class _ById:
    """A case as a key of a cache: the same object, not an equal one."""

    def __init__(self, case: Case) -> None:
        self.case = case

    def __hash__(self) -> int:
        return id(self.case)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _ById) and other.case is self.case


def plan_of(case: Case) -> Plan:
    """List the inputs and correlations of a case, those by default filled in.

    Parameters
    ----------
    case : Case

    Returns
    -------
    Plan
        The same one for the same case object: the default σ of the model needs its girder.
    """
    return _planned(_ById(case))


def _plan(case: Case) -> Plan:
    scatter = case.scatter or Scatter()
    usual = {one.key: one for one in default_inputs(case)}
    asked = [
        replace(usual[one.key], part=one.part) if one.key in usual and not one.distribution else one
        for one in scatter.inputs
    ]
    notes = [f"{one.key} does not scatter: no tolerance." for one in asked if not one.distribution]
    inputs = [one for one in asked if one.distribution]
    listed = {one.key for one in asked}
    if scatter.defaults:
        inputs += [one for key, one in usual.items() if key not in listed]
    pairs = list(scatter.correlations)
    if {YIELD, ULTIMATE} <= {one.key for one in inputs} - listed and not _tied(pairs):
        pairs.append(ScatterCorrelation(inputs=(YIELD, ULTIMATE), value=STRENGTH_CORRELATION))
        notes.append(f"Yield and ultimate strength are correlated, {TOGETHER}.")
    there = {(one.key, one.part) for one in inputs}
    kept = tuple(p for p in pairs if {(key, p.part) for key in p.inputs} <= there)
    lost = [" and ".join(pair.inputs) for pair in pairs if pair not in kept]
    notes += [f"The correlation of {names} is left out: one does not scatter." for names in lost]
    return Plan(scatter, tuple(inputs), kept, case.vehicle.legs, tuple(notes))


def _tied(pairs: list[ScatterCorrelation]) -> bool:
    return any({YIELD, ULTIMATE} & set(pair.inputs) for pair in pairs)


def default_inputs(case: Case) -> Iterator[ScatterInput]:
    """List the inputs that scatter unless the case says otherwise, with their sources.

    Walls and holes by the tolerances of the case, strengths by the datasheet or certificate, mass,
    speed of the touchdowns that are no reserve cases (their speed_reserve stands for it), model.
    """
    yield from _walls(case)
    yield from _strengths(case)
    girder = case.girder
    if girder.holes.rows and girder.hole_tolerance > 0.0:
        yield _toleranced(HOLE_SIZE, ("girder", "hole_size"), 0.0, girder.hole_tolerance, HOLES)
    yield from _landing(case)
    yield _model(case)


def _toleranced(
    key: str, path: tuple[str | int, ...], centre: float, tolerance: float, source: str
) -> ScatterInput:
    sigma = tolerance / Z_95
    return ScatterInput(
        key=key,
        path=path,
        kind="length",
        centre=centre,
        distribution=NORMAL,
        deviation=sigma,
        low=centre - CUT * sigma,
        high=centre + CUT * sigma,
        source=source,
    )


def _walls(case: Case) -> Iterator[ScatterInput]:
    girder, tolerance = case.girder, case.girder.wall_tolerance
    if tolerance <= 0.0:
        return
    measured = girder.measured
    if measured is not None and measured.wall is not None:
        path: tuple[str | int, ...] = ("girder", "measured", "wall")
        yield _toleranced("girder.measured.wall", path, measured.wall, tolerance, WALL)
    else:
        yield _toleranced("girder.wall", ("girder", "wall"), girder.wall, tolerance, WALL)
    for i, step in enumerate(girder.wall_steps):
        path = ("girder", "wall_steps", i, "wall")
        yield _toleranced(f"girder.wall_steps.{i}.wall", path, step.wall, tolerance, WALL)


def _strengths(case: Case) -> Iterator[ScatterInput]:
    material, measured = case.girder.material, case.girder.measured
    for name in ("yield_strength", "ultimate_strength"):
        certified = getattr(measured, name) if measured is not None else None
        band = getattr(material, name)
        if certified is not None:
            yield ScatterInput(
                key=f"girder.measured.{name}",
                path=("girder", "measured", name),
                kind="stress",
                centre=certified,
                distribution=NORMAL,
                cov=CERTIFICATE_BAND / Z_95,
                source=CERTIFICATE,
            )
        elif band.low < band.high:
            key = f"girder.material.{name}"
            yield ScatterInput(
                key=key,
                path=("girder", "material", name),
                kind="stress",
                centre=datasheet_value(material, key),
                distribution=LIMITS,
                low=band.low,
                high=band.high,
                source=STRENGTH,
            )


def _landing(case: Case) -> Iterator[ScatterInput]:
    def normal(key: str, path: tuple[str | int, ...], kind: str, value: float) -> ScatterInput:
        cov, source = (MASS_COV, MASS) if kind == "mass" else (SPEED_COV, SPEED)
        return ScatterInput(
            key=key,
            path=path,
            kind=kind,
            centre=value,
            distribution=NORMAL,
            cov=cov,
            source=source,
        )

    yield normal("vehicle.mass", ("vehicle", "mass"), "mass", case.vehicle.mass)
    only_reserve = all(touchdown.reserve for touchdown in case.touchdowns)
    for i, touchdown in enumerate(case.touchdowns):
        name, path = f"touchdown.{touchdown.name}", ("touchdown", i)
        if touchdown.mass is not None:
            yield normal(f"{name}.mass", (*path, "mass"), "mass", touchdown.mass)
        if only_reserve or not touchdown.reserve:
            speed = touchdown.vertical_speed
            key = "vertical_speed"
            yield normal(f"{name}.{key}", (*path, key), "speed", speed)


def _model(case: Case) -> ScatterInput:
    """Lognormal factor on the force: tests of this girder, or the σ of the band."""
    known = case.girder.correlation
    if known is not None:
        median, sigma, source = known.force_factor, known.scatter, f"your tests: {known.source}"
    else:
        front = folding_front(girder_arrays([case.girder], [0.0]))
        median, sigma, source = 1.0, float(model_scatter(front.shares.hinge).max()), JUDGED
    return ScatterInput(
        key=MODEL,
        path=(MODEL,),
        kind="number",
        centre=median,
        distribution=LOGNORMAL,
        cov=math.sqrt(math.expm1(sigma * sigma)),
        source=source,
    )
