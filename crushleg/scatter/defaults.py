"""Inputs that scatter unless the case says otherwise, each with its source."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from crushleg.case.records import ScatterInput
from crushleg.case.scatter_keys import HOLE_SIZE, MODEL, datasheet_value
from crushleg.case.scatter_records import LIMITS, LOGNORMAL, NORMAL
from crushleg.case.scatter_span import Z_95
from crushleg.errors import InputError, Problem
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.bands import model_scatter
from crushleg.girder.front import folding_front
from crushleg.girder.strength import CERTIFICATE_BAND
from crushleg.units import show

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator

    from crushleg.case.records import Case

CUT = 3.0
"""Default walls and holes are cut so many standard deviations out: they are inspected."""
MASS_COV = 0.02
SPEED_COV = 0.05

WALL = "± wall_tolerance as 95 % limits, cut at 3 standard deviations (judgement)"
HOLES = "± hole_tolerance as 95 % limits, cut at 3 standard deviations (judgement)"
STRENGTH = "low and high of the datasheet as 95 % limits (judgement)"
CERTIFICATE = "certificate; coefficient of variation 0.044 of 207 coupons (published, second-hand)"
MASS = "coefficient of variation 2 % (judgement: give your mass statement)"
SPEED = "coefficient of variation 5 % (judgement: give your descent simulation)"
JUDGED = "largest model σ along the girder (judgement)"


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


def judge_tolerances(case: Case, inputs: Iterable[ScatterInput]) -> None:
    """Refuse a default scatter of walls or holes that leaves none of them.

    Raises
    ------
    InputError
        The tolerance, how far it reaches, and what to write.
    """
    holes = [size for row in case.girder.holes.rows for size in (row.size, row.size_along) if size]
    problems = []
    for one in inputs:
        hole = one.key == HOLE_SIZE
        size = min(holes, default=0.0) if hole else one.centre or 0.0
        low = one.low if one.source in (WALL, HOLES) else None
        if low is None or low + (size if hole else 0.0) > 0.0:
            continue
        what = "hole" if hole else "wall"
        problem = Problem(
            field=f"girder.{what}_tolerance",
            read=f"a tolerance of which {CUT:g} standard deviations leave nothing of a {what} of "
            f"{show(size, 'length')}",
            write=f'a smaller one, or [[scatter.input]] key = "{one.key}" with a cut',
        )
        problems.append(problem)
    if problems:
        raise InputError(problems)
