r"""Section, net section, ligaments, band and order of zones of a box of 140 × 4 mm, by hand [D].

C 136 mm, outside corner radius 6 mm, 1 m long, E 200 GPa, ρ 7900 kg/m³. Perimeter
4·136 − (8 − 2π)·4 = 537.132741 mm, area 2148.530965 mm²; mass 16.973395 kg, K = EA/L =
429.706193 MN/m. A row of 82 in four walls: net area 4·(537.132741 − 328) = 836.530965 mm²; mass
less 7900·4·4·π·41² mm³: 16.305874 kg. Rectangles of 82 × 100 mm:
K = E/(0.9/2148.530965 + 0.1/836.530965 mm⁻²)/1 m = 371.449 MN/m.
I = (2/3) C³ t = 6 707 882.7 mm⁴, Z = 1.5 C² t = 110 976 mm³. The row of 82: flanges lose
2t·82·68², webs 2t·82³/12: I 3 306 960; Z less 2t·(82·68 + 82²/4): 52 920. Holes of 40 at 20
beside the middle in left and right walls: as webs 2t·40³/3 and 2t·40²/2: I 6 537 216, Z 104 576; as
flanges 2t·40·68² and 2t·40·68: I 5 228 202.7, Z 89 216.
Circle of 80: chord at 20 beside its middle 2 √(40² − 20²) = 69.2820 mm, mean over ± 20 of it
(20 · 34.6410 + 1600 asin ½)/20 = 76.5289 mm.
Over a band of ± 4 mm the row of 82 has a mean chord of (4 √(41² − 4²) + 41² asin(4/41))/4 =
81.869732 mm, sharp corners: 16 (136 − 81.869732) = 866.084282 mm². From mid-height 2 mm thick,
perimeter there 552 − (8 − 2π)·5 = 543.415927 mm: mass 7900 · ½ (2148.530965 + 1086.831853) mm² · 1
m = 12.779683 kg.
Two holes of 40, 60 apart: web 20 mm, to the corner 70 − 30 − 20 = 20 mm. Diagonal, 60 across and 80
along, holes of 40: 100 − 40 = 60 mm. A hole of 40 at 35 from either end: 15 mm to it. Rectangles 60
along, 80 apart: 20 mm. Webs to keep 8 mm at t 4, 5 mm at t 2; to a corner 2·4 + 6 = 14 mm.
Band: flow stress 370, 472.5, 525 MPa, wall (5/3)·0.09/4 = 0.0375, model 1.96·0.075 = 0.147. Down
√(0.244535² + 0.147² + 0.0375²) = 0.287772, up √(0.105361² + …) = 0.184705: factors 0.749933 and
1.202864. With tests of scatter 0.05: 0.098 in place of 0.147, 0.766365 and 1.160322. Model scatter
at φh 0.15: 0.1 − 0.025/4 = 0.09375.
Drilled, φh 0.15, R 0.4, 0.6, 0.8 at worst, mean and best: down √(0.18375² + 0.0375² + 0.244535² +
ln² 1.5) = 0.509283. Up: c² = 0.147² + 0.0375² + 0.105361², y = −ln 0.6, what holes add
1.96² (0.09375² − 0.075²) times c/(√(c² + y²) + y) = 0.175239, and ln²(0.8/0.6): 0.344974.
Normal distribution: 95 % two-sided within 1.96 σ, one-sided below 1.645 σ.
Order: start forces of the rows of 82 and 74 are 254.403 and 291.733 kN, ratio 1.146736. Scatter
√(2(0.02² + (0.01/1.96)²) + σ1² + σ2²), σ1 = ln(54/53.8)/1.96 = 0.001893,
σ2 = ln(62/61.8)/1.96 = 0.001648: 0.029298.
A wall step at 0.5 m from 4 to 2 mm: where the window's centre stands H/2 above it, t averages over
± H to 4·¼ + 2·¾ = 2.5 mm, t² to 16·¼ + 4·¾ = 7 mm², over ± 2H to 16·⅜ + 4·⅝ = 8.5: hinges 7.75 mm².
Inclined hinges of all phases weigh heights by 2H − |distance|: below −H/2 lie 9/32, 7.375 mm².
A window never leaves the girder: 0.1 m long, shorter than 4H, it stands at 50 mm.
Folds of a plain wall, C/t 92.3 (symmetric): crest 1.2, 1.35, 1.55 of the mean force while the start
force is higher.
"""

from __future__ import annotations

from functools import partial
from typing import TYPE_CHECKING

import numpy as np

from crushleg.case.records import Correlation, Row, WallStep
from crushleg.girder.assemble import girder_arrays
from crushleg.girder.bands import BAND_PROBABILITY, Z_TWO_SIDED, mean_force_band, model_scatter
from crushleg.girder.front import folding_front, plain_walls, window_centre
from crushleg.girder.holes import chord, mean_chord
from crushleg.girder.ligaments import least_corner, least_web, ligaments
from crushleg.girder.net import axial_stiffness, band_area, girder_mass, net_area, net_section
from crushleg.girder.sequence import Z_ONE_SIDED, collapse_sequence
from crushleg.girder.start import start_force
from tests.outside import Outside, each
from tests.samples import crushed, dunlin, girder, mm

if TYPE_CHECKING:
    from collections.abc import Callable

    from crushleg.case.records import Girder

derived = partial(
    Outside,
    source="plane geometry and root-sum-square",
    place="worked by hand in the docstring",
    status="derived",
    relative=2e-6,
    why="half a unit of the last digit given",
)
PLAIN = girder()
ROW = girder(Row(height=0.5, size=82 * mm))
TALL = girder(Row(height=0.5, size=82 * mm, size_along=100 * mm, shape="rectangle"))
ASIDE = girder(Row(height=0.5, size=40 * mm, offset=20 * mm, faces="left-right"))
PAIR = girder(Row(height=0.5, size=40 * mm, per_face=2, spacing=60 * mm))
DIAGONAL = girder(
    Row(height=0.5, size=40 * mm, offset=-30 * mm), Row(height=0.58, size=40 * mm, offset=30 * mm)
)
LOW = girder(Row(height=35 * mm, size=40 * mm))
HIGH = girder(Row(height=0.965, size=40 * mm))
STEPPED = girder(wall_steps=(WallStep(start=0.5, wall=2 * mm),))
IN_LINE = girder(
    *(Row(height=z, size=40 * mm, size_along=60 * mm, shape="rectangle") for z in (0.5, 0.58))
)
TESTED = girder(correlation=Correlation(force_factor=1.1, scatter=0.05, tests=3, source="sample"))


def area(record: Girder) -> float:
    return float(net_area(girder_arrays([record], [0.0]), np.array([[0.5]]))[0, 0]) * 1e6


def banded_area() -> float:
    return float(band_area(girder_arrays([ROW], [0.0]), np.array([[0.5]]))[0, 0]) * 1e6


def bent(record: Girder, name: str, axis: int) -> float:
    """Second moment [mm4] or plastic modulus [mm3] at mid-height."""
    net = net_section(girder_arrays([record], [0.0]), np.array([[0.5]]))
    return float(getattr(net, name)[axis, 0, 0]) * {"inertia": 1e12, "modulus": 1e9}[name]


def mass(record: Girder) -> float:
    return float(girder_mass(girder_arrays([record], [0.0]))[0])


def stiffness(record: Girder) -> float:
    return float(axial_stiffness(girder_arrays([record], [0.0]))[0]) / 1e6


def left(record: Girder, name: str) -> float:
    """Least web or distance to a corner [mm]."""
    return float(getattr(ligaments(girder_arrays([record], [0.0])), name)[0, 0]) / mm


def chords(count: int) -> float:
    """Chord 20 mm beside the middle of a circle of 80, one height of ``count`` [mm]."""
    z = np.full(count, 20.0)
    return float(chord(z, 0.0, 80.0, 80.0, 40.0)[-1])


def factor(record: Girder, level: int) -> float:
    force = folding_front(girder_arrays([record], [0.0])).force[:, 0, 0]
    return float(force[level] / force[1])


def drilled_band(index: int) -> float:
    cell = {value: np.array([[value]]) for value in (0.15, 0.4, 0.6, 0.8, 4.0)}
    flow = np.array([[370.0], [472.5], [525.0]])
    given = np.array([0.09]), cell[4.0], cell[0.15], np.array([np.nan])
    return float(mean_force_band(flow, *given, (cell[0.4], cell[0.6], cell[0.8]))[index][0, 0])


def ordered(name: str) -> float:
    """Ratio or scatter of the first zone of the test stage's girder."""
    arrays = girder_arrays([dunlin()], [0.0])
    return float(getattr(collapse_sequence(arrays, np.array([0.038])), name)[0, 0])


def at_step(name: str) -> float:
    """Window mean [mm, mm2] half a half fold length above a wall step."""
    arrays = girder_arrays([STEPPED], [0.0])
    z = np.linspace(0.5, 0.55, 5001)[None]
    walls = plain_walls(arrays, z)
    at = int(np.argmin(np.abs(z[0] - 0.5 - 0.5 * walls.half[0])))
    unit = mm if name == "corner_wall" else mm**2
    return float(getattr(walls, name)[0, at]) / unit


def window_of_a_short_girder() -> float:
    middle = window_centre(np.array([[0.02]]), np.array([[0.038]]), np.array([0.1]))
    return float(middle[0, 0]) / mm


def swing(level: int) -> float:
    """Crest over mean force of the second fold of a plain wall."""
    folds = crushed(girder(wall=1.5 * mm)).folds
    return float(folds.crest[level, 0, 1] / folds.force[level, 0, 1])


def initiated() -> float:
    """First peak of a plain girder with an initiator of 0.6, over its start force."""
    start = start_force(girder_arrays([PLAIN], [0.0]), np.array([[0.5]]))[1, 0, 0]
    return float(crushed(girder(first_peak_fraction=0.6)).folds.crest[1, 0, 0] / start)


def rows(
    *given: tuple[str, float, Callable[[], float], str], relative: float = 2e-6
) -> tuple[Outside, ...]:
    return tuple(
        derived(what=what, theirs=theirs, ours=ours, unit=unit, relative=relative)
        for what, theirs, ours, unit in given
    )


VALUES = (
    *rows(
        ("area of the plain box", 2148.530965, partial(area, PLAIN), "mm2"),
        ("net area, row of 82 in four walls", 836.530965, partial(area, ROW), "mm2"),
        ("mass of the plain box", 16.973395, partial(mass, PLAIN), "kg"),
        ("mass with a row of 82", 16.305874, partial(mass, ROW), "kg"),
        ("stiffness of the plain box", 429.706193, partial(stiffness, PLAIN), "MN/m"),
        ("second moment, plain", 6707882.7, partial(bent, PLAIN, "inertia", 0), "mm4"),
        ("plastic modulus, plain", 110976.0, partial(bent, PLAIN, "modulus", 0), "mm3"),
        ("second moment, row of 82", 3306960.0, partial(bent, ROW, "inertia", 0), "mm4"),
        ("plastic modulus, row of 82", 52920.0, partial(bent, ROW, "modulus", 1), "mm3"),
        ("second moment, holes in webs", 6537216.0, partial(bent, ASIDE, "inertia", 0), "mm4"),
        ("second moment, holes in flanges", 5228202.7, partial(bent, ASIDE, "inertia", 1), "mm4"),
        ("plastic modulus, holes in webs", 104576.0, partial(bent, ASIDE, "modulus", 0), "mm3"),
        ("plastic modulus, holes in flanges", 89216.0, partial(bent, ASIDE, "modulus", 1), "mm3"),
        ("chord of a circle", 69.2820, partial(chords, 1), "mm"),
        ("chord of a circle, many heights", 69.2820, partial(chords, 5000), "mm"),
        (
            "mean chord of a circle over a band",
            76.5289,
            lambda: float(mean_chord(0.0, 20.0, 0.0, 80.0, 80.0, 40.0)),
            "mm",
        ),
        ("web between two holes of a row", 20.0, partial(left, PAIR, "web"), "mm"),
        ("hole edge to corner", 20.0, partial(left, PAIR, "corner"), "mm"),
        ("web on the diagonal", 60.0, partial(left, DIAGONAL, "web"), "mm"),
        ("web to the foot", 15.0, partial(left, LOW, "web"), "mm"),
        ("web to the top", 15.0, partial(left, HIGH, "web"), "mm"),
        ("net area over a band of a wall", 866.084282, banded_area, "mm2"),
        ("mass with a wall step", 12.779683, partial(mass, STEPPED), "kg"),
        ("web between rectangles in line", 20.0, partial(left, IN_LINE, "web"), "mm"),
        ("web to keep, wall 4 mm", 8.0, lambda: float(least_web(np.array(4 * mm))) / mm, "mm"),
        ("web to keep, wall 2 mm", 5.0, lambda: float(least_web(np.array(2 * mm))) / mm, "mm"),
        (
            "distance of a hole from the corner to keep",
            14.0,
            lambda: float(least_corner(np.array(4 * mm), np.array(6 * mm))) / mm,
            "mm",
        ),
        ("low over nominal force, plain", 0.749933, partial(factor, PLAIN, 0), ""),
        ("high over nominal force, plain", 1.202864, partial(factor, PLAIN, 2), ""),
        ("low over nominal force, tested", 0.766365, partial(factor, TESTED, 0), ""),
        ("high over nominal force, tested", 1.160322, partial(factor, TESTED, 2), ""),
        ("log half width down, drilled", 0.509283, partial(drilled_band, 0), ""),
        ("log half width up, drilled", 0.344974, partial(drilled_band, 1), ""),
        ("probability within the band", 0.95, lambda: BAND_PROBABILITY, ""),
        ("model scatter, hole share 0.15", 0.09375, lambda: float(model_scatter(0.15)), ""),
        ("model scatter, hole share 0.3", 0.1, lambda: float(model_scatter(0.3)), ""),
        ("model scatter, hole share 0.5", 0.1, lambda: float(model_scatter(0.5)), ""),
        ("crest over mean force, low", 1.2, partial(swing, 0), ""),
        ("crest over mean force, nominal", 1.35, partial(swing, 1), ""),
        ("crest over mean force, high", 1.55, partial(swing, 2), ""),
        ("first peak over start force, initiator 0.6", 0.6, initiated, ""),
    ),
    *rows(
        ("start force of the second zone over the first", 1.146736, partial(ordered, "ratio"), ""),
        relative=1e-5,
    ),
    *rows(
        ("95 % of a normal distribution, two-sided", 1.959964, lambda: Z_TWO_SIDED, "σ"),
        ("95 % of a normal distribution, one-sided", 1.644854, lambda: Z_ONE_SIDED, "σ"),
        relative=1e-4,
    ),
    *rows(("scatter of that ratio", 0.029298, partial(ordered, "scatter"), ""), relative=5e-5),
    *rows(
        ("mean wall beside a step", 2.5, partial(at_step, "corner_wall"), "mm"),
        ("mean t^2 of the hinges beside a step", 7.75, partial(at_step, "hinge_wall"), "mm2"),
        ("mean t^2 of inclined hinges beside a step", 7.375, partial(at_step, "sweep_wall"), "mm2"),
        relative=5e-4,
    ),
    *rows(("window in a girder shorter than 4H", 50.0, window_of_a_short_girder, "mm")),
    *rows(("stiffness with tall holes", 371.449, partial(stiffness, TALL), "MN/m"), relative=3e-3),
)


@each(VALUES)
def test_a_girder_is_as_worked_by_hand(value: Outside) -> None:
    value.check()
