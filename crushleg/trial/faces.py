"""From four faces per leg to its crush, its tilt, and whether the faces agree."""

from __future__ import annotations

from typing import TYPE_CHECKING, NamedTuple

import numpy as np

from crushleg.errors import InputError, Problem
from crushleg.trial.heights import FACES
from crushleg.units import show

if TYPE_CHECKING:
    from collections.abc import Iterator

    from crushleg.arrays import BoolArray, FloatArray
    from crushleg.case.records import Girder
    from crushleg.trial.heights import Heights

TILT = np.radians(2.0)
"""Tilt of the crushed end from which it is told (judgement)."""
TILT_BY_READING = 1.77
"""Of ± reading over side: tilt that four readings show by chance, 95 % (two equal normal slopes,
each √2 of ± over side: √2·2.448/1.96)."""
TOO_TALL = 3.0
"""A face taller than before by more reading errors than this was read wrong."""
TOO_SHORT = 0.7
"""Of the solid height: a leg with less was read wrong (judgement)."""
OFF_PLANE = 3.0
"""Opposite faces disagree by more reading errors than this: one was read wrong (judgement)."""


class Faces(NamedTuple):
    """What the heights of each leg say, shape (n,).

    ``crush`` that stays, mean of four faces, not below zero, and ± on it, a 95 % limit [m];
    ``tilt`` of the folded end [rad] and index of the lowest face; ``tilted``: beyond 2° and what
    reading errors make; ``twisted``: front and back against right and left by more than they do.
    """

    crush: FloatArray
    error: FloatArray
    tilt: FloatArray
    lowest: FloatArray
    tilted: BoolArray
    twisted: BoolArray


def read_faces(girder: Girder, heights: Heights, before: float, reading_error: float) -> Faces:
    """Crush and tilt of every leg.

    Parameters
    ----------
    girder : Girder
    heights : Heights
    before : float
        What the same reading was before the landing [m].
    reading_error : float
        ± where none was read with the heights [m].

    Returns
    -------
    Faces

    Raises
    ------
    InputError
        A face is taller than it was, beyond its reading error.

    Notes
    -----
    The error is that of the mean: four faces share tape and foot plate, so it is not divided.
    """
    error = np.where(np.isnan(heights.error), reading_error, heights.error)
    crush = before - heights.faces.mean(axis=1)
    problems = list(_too_tall(heights, before, error))
    if problems:
        raise InputError(problems)
    front, right, back, left = heights.faces.T
    slopes = np.stack([(front - back) / girder.depth, (right - left) / girder.width])
    tilt = np.arctan(np.hypot(*slopes))
    chance = np.arctan(TILT_BY_READING * error / min(girder.width, girder.depth))
    return Faces(
        crush=np.maximum(crush, 0.0),
        error=error,
        tilt=tilt,
        lowest=heights.faces.argmin(axis=1).astype(np.float64),
        tilted=tilt > np.maximum(TILT, chance),
        twisted=0.5 * np.abs(front + back - right - left) > OFF_PLANE * np.maximum(error, 1e-3),
    )


def refuse_too_short(faces: Faces, heights: Heights, girder: Girder, usable: float) -> None:
    """Refuse heights that metal folded solid does not come down to.

    Parameters
    ----------
    faces : Faces
    heights : Heights
    girder : Girder
    usable : float
        Crush at which the folds are solid [m].

    Raises
    ------
    InputError
        A leg has less than :data:`TOO_SHORT` of its solid height left.
    """
    solid = girder.length - usable
    short = girder.length - faces.crush < TOO_SHORT * solid
    problems = []
    for leg in np.flatnonzero(short):
        place = heights.places[leg]
        column = f"leg {leg + 1}" if place.line else place.field
        rest = max(float(girder.length - faces.crush[leg]), 0.0)
        left, folded = (show(x, "length", digits=4) for x in (rest, solid))
        read = f"{left} left of what may fold; folded solid it is {folded}"
        problems.append(place.problem(read, "the height that is left", column))
    if problems:
        raise InputError(problems)


def lowest_face(faces: Faces, leg: int) -> str:
    """Name of the lowest face of a leg, counted from 0."""
    return FACES[int(faces.lowest[leg])]


def _too_tall(heights: Heights, before: float, error: FloatArray) -> Iterator[Problem]:
    """Faces that grew: crushing shortens all of them or none."""
    tallest = heights.faces.max(axis=1)
    for leg in np.flatnonzero(tallest - before > TOO_TALL * np.maximum(error, 1e-3)):
        height, was = (show(float(x), "length", digits=5) for x in (tallest[leg], before))
        place = heights.places[leg]
        column = f"leg {leg + 1}" if place.line else place.field
        read = (
            f"{height} at the {FACES[int(heights.faces[leg].argmax())]}, before the landing {was}"
        )
        hint = "or say by --before what the same reading was before the landing"
        yield place.problem(read, "the height that is left", column, hint)
