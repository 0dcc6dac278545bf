"""Limits of validity beyond which the tool cautions, against those that the sources state.

Plain columns: C/t 7.5 to 100 (published range of the modes; the 100 from memory). Round holes in a
stiffened wall: d/C to 0.5 and C/t to 70, AISI S100 (from memory). 6061-T6 tubes with holes split
at d/C 0.28: Turton (2011), abstract (published). Round tubes: D/t 10 to 450, Guillow, Lu &
Grzebieta (2001) (from memory). Long columns: progressive folding up to L/C 8 to 10 (from memory).
"""

from __future__ import annotations

from functools import partial

from crushleg.design.yardsticks import TUBE_RANGE
from crushleg.girder.cautions import SLENDER_GIRDER, SLENDERNESS, SPLITS_FROM, START_RANGE
from tests.outside import Outside, each

AJ84 = "W. Abramowicz, N. Jones, Int. J. Impact Eng. 2 (1984) 179"
S100 = "AISI S100"
TURTON = "Turton (2011)"
PAPERS = "papers on axial crush"
GLG01 = "S. R. Guillow, G. Lu, R. H. Grzebieta, Int. J. Mech. Sci. 43 (2001) 2103"
limit = partial(Outside, relative=1e-9, why="the same number")
published, remembered = (partial(limit, status="published"), partial(limit, status="from memory"))
VALUES = (
    published(
        what="least C/t of folding columns",
        theirs=7.5,
        ours=lambda: SLENDERNESS[0],
        source=AJ84,
        place="ranges of C/t of the modes, abstract",
    ),
    remembered(
        what="largest C/t of folding columns",
        theirs=100.0,
        ours=lambda: SLENDERNESS[1],
        source=AJ84,
        place="ranges of C/t of the modes",
    ),
    remembered(
        what="largest d/C of round holes in a stiffened wall",
        theirs=0.5,
        ours=lambda: START_RANGE[0],
        source=S100,
        place="stiffened element with circular holes, limits",
    ),
    remembered(
        what="largest C/t of a stiffened wall with round holes",
        theirs=70.0,
        ours=lambda: START_RANGE[1],
        source=S100,
        place="stiffened element with circular holes, limits",
    ),
    published(
        what="d/C from which 6061-T6 may split at a hole",
        theirs=0.28,
        ours=lambda: SPLITS_FROM,
        source=TURTON,
        place="abstract",
    ),
    remembered(
        what="largest L/C of progressive folding",
        theirs=10.0,
        ours=lambda: SLENDER_GIRDER,
        source=PAPERS,
        place="columns fold progressively up to about 8 to 10",
    ),
    remembered(
        what="least D/t of tested round tubes",
        theirs=10.0,
        ours=lambda: TUBE_RANGE[0],
        source=GLG01,
        place="range of the tests",
    ),
    remembered(
        what="largest D/t of tested round tubes",
        theirs=450.0,
        ours=lambda: TUBE_RANGE[1],
        source=GLG01,
        place="range of the tests",
    ),
)


@each(VALUES)
def test_abramowicz_and_jones_aisi_s100_turton_and_guillow_ranges(value: Outside) -> None:
    value.check()
