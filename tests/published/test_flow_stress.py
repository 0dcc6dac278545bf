"""Flow stress of a folding wall: mean of yield and ultimate, and the energy-equivalent one.

Both are common in papers on crush, from memory: s0 = (s_y + s_u)/2, s_u engineering, and
s0 = √(s_y s_u/(1 + n)) for a power law of exponent n. By hand: (295 + 650)/2 = 472.5;
√(80·145/1.23) = 97.11; √(295·650/1.44) = 364.91.
"""

from __future__ import annotations

from functools import partial

from crushleg.girder.strength import flow_stress, hardening_flow_stress
from tests.outside import Outside, each

practice = partial(
    Outside,
    source="papers on axial crush",
    status="from memory",
    absolute=5e-3,
    why="half a unit of the last digit given",
    unit="MPa",
)
VALUES = (
    practice(
        what="flow stress, yield 295, ultimate 650 MPa",
        theirs=472.5,
        ours=lambda: float(flow_stress(295.0, 650.0)),
        place="(s_y + s_u)/2",
    ),
    practice(
        what="flow stress of a power law, yield 80, ultimate 145 MPa, n 0.23",
        theirs=97.11,
        ours=lambda: float(hardening_flow_stress(80.0, 145.0, 0.23)),
        place="√(s_y s_u/(1 + n))",
    ),
    practice(
        what="flow stress of a power law, yield 295, ultimate 650 MPa, n 0.44",
        theirs=364.91,
        ours=lambda: float(hardening_flow_stress(295.0, 650.0, 0.44)),
        place="√(s_y s_u/(1 + n))",
    ),
)


@each(VALUES)
def test_flow_stress_of_papers_on_axial_crush(value: Outside) -> None:
    value.check()
