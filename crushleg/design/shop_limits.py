"""Least holes, webs and distances to a bend that a shop asks for, from wall and corner radius."""

from __future__ import annotations

from crushleg.girder.ligaments import LEAST_WALLS, LEAST_WEB

PUNCHED_STAINLESS = 2.0
BEND_WALLS = 1.5
SMALLEST_PUNCHED, SMALLEST_CUT = 1.5e-3, 1.0e-3


def punched_hole(wall: float, *, stainless: bool) -> float:
    """Smallest hole to punch [m]; wall t [m].

    Notes
    -----
    Means: Smallest hole that a punch makes in a wall.
    Formula: d ≥ t, 2 t in stainless, 1.5 mm at least
    Band: None: sizes as drawn, without tolerance.
    Limits: girder.wall; the tool of the stock says how a row is made

    References
    ----------
    Two punching guides [published, second-hand]

    Examples
    --------
    >>> punched_hole(0.002, stainless=False), punched_hole(0.002, stainless=True)
    (0.002, 0.004)
    """
    return max((PUNCHED_STAINLESS if stainless else 1.0) * wall, SMALLEST_PUNCHED)


def cut_hole(wall: float) -> float:
    """Smallest hole to cut by laser [m]; wall t [m].

    Notes
    -----
    Means: Smallest hole that a laser cuts in a wall.
    Formula: d ≥ t, 1 mm at least
    Band: None: sizes as drawn, without tolerance.
    Limits: girder.wall; the tool of the stock says how a row is made

    References
    ----------
    Three laser-cutting guides [published, second-hand]

    Examples
    --------
    >>> cut_hole(0.002), cut_hole(0.0005)
    (0.002, 0.001)
    """
    return max(wall, SMALLEST_CUT)


def punched_to_bend(wall: float, radius: float) -> float:
    """Least distance from a punched hole to a bend [m]; wall t, radius R [m].

    Notes
    -----
    Means: How far a punched hole keeps from a bend.
    Formula: distance ≥ 1.5 t + R
    Range: From the hole's edge to the outside of the neighbouring wall, R outside; a sharp corner
    is no bend.
    Band: None: sizes as drawn, without tolerance.
    Limits: girder.wall, girder.corner_radius; the tool of the stock says how a row is made

    References
    ----------
    A stamping handbook [published, second-hand]

    Examples
    --------
    >>> punched_to_bend(0.002, 0.003)
    0.006
    """
    return BEND_WALLS * wall + radius


def cut_to_bend(wall: float, radius: float) -> float:
    """Least distance from a laser-cut hole to a bend [m]; wall t, radius R [m].

    Notes
    -----
    Means: How far a laser-cut hole keeps from a bend.
    Formula: distance ≥ 2 t + R
    Range: From the hole's edge to the outside of the neighbouring wall, R outside; a sharp corner
    is no bend.
    Band: None: sizes as drawn, without tolerance.
    Limits: girder.wall, girder.corner_radius; the tool of the stock says how a row is made

    References
    ----------
    A laser-cutting guide [published, second-hand]

    Examples
    --------
    >>> cut_to_bend(0.002, 0.003)
    0.007
    """
    return LEAST_WALLS * wall + radius


def column_web(wall: float) -> float:
    """Web that a crush column keeps [m]; wall t [m].

    Notes
    -----
    Means: Metal that a column keeps beside its holes so that it folds.
    Formula: web ≥ max(2 t, 5 mm)
    Range: A column that folds; fabrication rules alone ask for one wall.
    Band: None: sizes as drawn, without tolerance.
    Limits: girder.wall

    References
    ----------
    For a column that folds [judgement]

    Examples
    --------
    >>> column_web(0.002), column_web(0.004)
    (0.005, 0.008)
    """
    return max(LEAST_WALLS * wall, LEAST_WEB)
