"""All tables of a case while it is read: what rules between fields look at."""

from __future__ import annotations

from dataclasses import dataclass
from typing import TYPE_CHECKING

from crushleg.case.tables import Unread

if TYPE_CHECKING:
    from crushleg.case.holes import PlacedRow
    from crushleg.case.lines import Path
    from crushleg.case.material import Material
    from crushleg.case.records import Correlation
    from crushleg.case.sheet import Sheet
    from crushleg.case.tables import Draft

ASKS = {
    "centre_of_gravity_height": 'centre_of_gravity_height = "9.0 m"',
    "pad_circle_radius": 'pad_circle_radius = "3.4 m"',
    "radius_of_gyration": 'radius_of_gyration = "5.2 m"',
    "clearance": 'clearance = "0.80 m"',
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Drafts:
    """Drafts of the tables; None where a table is left out or could not be read."""

    vehicle: Draft
    leg: Draft
    girder: Draft
    wall_steps: list[Draft]
    seam: Draft | None
    measured: Draft | None
    law: str
    rows: list[PlacedRow] | None
    material: Material | None
    correlation: Correlation | None
    touchdowns: list[Draft]
    standings: list[Draft]
    limits: Draft
    factors: Draft
    ground: Draft | None
    rig: Draft | None
    stock: Draft | None

    def datasheet(self) -> Material:
        """Return the material, or skip the rule that asks."""
        if self.material is None:
            raise Unread
        return self.material

    def drilled(self) -> list[PlacedRow]:
        """Return the hole rows, or skip the rule that asks."""
        if self.rows is None:
            raise Unread
        return self.rows

    def walls(self) -> list[tuple[float, float, Path]]:
        """From which height on which wall [m], and the path of the field, foot first."""
        steps = [(step["from"], step["wall"], (*step.path, "wall")) for step in self.wall_steps]
        return [(0.0, self.girder["wall"], ("girder", "wall")), *steps]


def ask(vehicle: Draft, keys: tuple[str, ...], path: Path, because: str, sheet: Sheet) -> None:
    """Report the vehicle fields that something at ``path`` needs and that are left out."""
    missing = [key for key in keys if vehicle[key] is None]
    if missing:
        names = ", ".join(missing)
        write = "in [vehicle]: " + ", ".join(ASKS[key] for key in missing)
        sheet.report(path, f"{because}, without {names}", write)
