r"""Folds of a girder that folds from the top, worked by hand [D].

Plain box 140 × 140 mm, 1 m long, wall t = 1.8 − 0.6 z mm (z in m) in 192 steps, no wall tolerance,
E 200 GPa, ν 0.27, yield 220/295/350 MPa. The mean force falls with height, so the least work folds
it from the top down. C/t is above 75, the mode symmetric: H = 0.99 C^(2/3) t^(1/3), C = 140 − t. A
fold is 2H of column, so fold k ends where ∫ dz/2H from the top down is k:

====  ========  ========  ================  ==================
fold  from [m]  to [m]    H there [mm]      t at z + H [mm]
====  ========  ========  ================  ==================
5     0.770266  0.711568  29.2242, 29.4734  1.320306, 1.355375
10    0.471861  0.410728  30.4474, 30.6855  1.498615, 1.535152
14    0.224501  0.161496  31.3873, 31.6172  1.646467, 1.684132
====  ========  ========  ================  ==================

The weakest section of a window is its upper end, z + H: weakest at the beginning of the fold,
strongest at its end. No hardening at these slendernesses: with full = 4 C t s_y, λ = √(s_y/σcr) and
σcr = 4 π² E/(12 (1 − ν²)) (t/C)², low = full (1 − 0.22/λ)/λ at the low yield, high = full at the
high yield, nominal the mean over the fold of half their sum at the nominal yield. Fold 5, low: t
1.320306, C 138.679694, σcr 64.32877 MPa, λ 1.849306, 161.1277 kN × 0.476415 = 76.7636 kN.
Upside down it folds from the foot, and its folds have the same crests.
The crest ratio of 6 leaves the start force as the crest. Heights are told in cells of 1/384 m: fold
5 ends at 273.242 of them, so with the whole cell at 273, and the first one begins at the girder's
end.
"""

from __future__ import annotations

from functools import cache, partial
from typing import TYPE_CHECKING

from crushleg.case.records import WallStep
from tests.outside import Outside, each
from tests.samples import band, crushed, girder, mm

if TYPE_CHECKING:
    from crushleg.girder.folds import Folds

STEPS = 192
derived = partial(
    Outside,
    source="folds counted from the top, weakest section of the window",
    place="worked by hand in the docstring",
    status="derived",
)


@cache
def folds(*, upside_down: bool = False) -> Folds:
    walls = [(1.8 - 0.6 * (i + 0.5) / STEPS) * mm for i in range(STEPS)]
    if upside_down:
        walls.reverse()
    steps = tuple(WallStep(start=i / STEPS, wall=walls[i]) for i in range(1, STEPS))
    tapered = girder(wall=walls[0], wall_steps=steps, wall_tolerance=0.0, crest_ratio=band(6.0))
    result = crushed(tapered)
    assert bool(result.sequence.from_foot[0]) is upside_down
    return result.folds


def crest(level: int, fold: int, *, upside_down: bool) -> float:
    return float(folds(upside_down=upside_down).crest[level, 0, fold - 1]) / 1e3


def end(name: str, fold: int) -> float:
    return float(getattr(folds(), name)[0, fold - 1])


VALUES = (
    *(
        derived(
            what=f"{level} crest of fold {fold} from the {'foot' if upside_down else 'top'}",
            theirs=theirs,
            ours=partial(crest, index, fold, upside_down=upside_down),
            unit="kN",
            relative=2.5e-3,
            why="wall in steps of 0.2 %, H of the mode blended",
        )
        for fold, row in (
            (5, (76.7636, 155.8544, 263.0816)),
            (10, (97.0747, 182.6552, 297.5904)),
            (14, (115.3454, 205.7485, 326.1191)),
        )
        for index, (level, theirs) in enumerate(zip(("low", "nominal", "high"), row, strict=True))
        for upside_down in (False, True)
    ),
    *(
        derived(
            what=f"{name} of fold {fold} from the top",
            theirs=theirs,
            ours=partial(end, name, fold),
            unit="m",
            absolute=3e-3,
            why="a cell, 1/384 m, and H",
        )
        for fold, top, bottom in (
            (5, 0.770266, 0.711568),
            (10, 0.471861, 0.410728),
            (14, 0.224501, 0.161496),
        )
        for name, theirs in (("top", top), ("bottom", bottom))
    ),
    *(
        derived(
            what=what,
            theirs=cells / 384.0,
            ours=partial(end, name, fold),
            unit="m",
            absolute=1e-9,
            why="whole cells",
        )
        for what, name, fold, cells in (
            ("highest metal of the first fold", "top", 1, 384),
            ("lowest metal of fold 5, whole cells", "bottom", 5, 273),
        )
    ),
)


@each(VALUES)
def test_a_girder_that_folds_from_the_top_is_as_worked_by_hand(value: Outside) -> None:
    value.check()
