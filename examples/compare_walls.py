"""Python API: the same leg in three walls, force and stroke of the reserve landing.

Run: python examples/compare_walls.py
"""

from __future__ import annotations

from pathlib import Path

import crushleg

CASE = Path(__file__).parent / "dunlin.toml"


def main() -> None:
    """Print one line for each wall."""
    print("wall     reserve stroke (low force)   leg load (largest)   lowest margin")
    for wall in ("3 mm", "4 mm", "5 mm"):
        checked = crushleg.check_case(crushleg.read_case(CASE, [f"girder.wall={wall}"]))
        reserve = checked.landings[1]
        lowest = checked.margins[checked.governs]
        assert lowest.margin is not None
        print(
            f"{wall}     {reserve.stroke[0, 0]:.3f} m"
            f"                      {reserve.peak.max() / 1e3:.0f} kN"
            f"               {lowest.check} {lowest.margin[0]:+.2f}"
        )
    print(f"\n{checked.cautions[0]}")


if __name__ == "__main__":
    main()
