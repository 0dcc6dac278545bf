"""Rules of the drop rig: it falls, and comes to rest on its legs."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from crushleg.case.rig_records import FASTEST, SLOWEST
from crushleg.units import show

if TYPE_CHECKING:
    from crushleg.case.drafts import Drafts
    from crushleg.case.sheet import Sheet


def lift_is_said_once(drafts: Drafts, sheet: Sheet) -> None:
    """Refuse a lift said twice."""
    rig = drafts.rig
    if rig is not None and rig["lift"] > 0.0 and rig["lift_force"] is not None:
        sheet.report(("rig", "lift_force"), "lift and lift_force", "one of the two")


def rig_falls_and_settles(drafts: Drafts, sheet: Sheet) -> None:
    """Friction alone must not hold the mass in the air, nor friction and lift after contact."""
    rig = drafts.rig
    if rig is None:
        return
    weight = (rig["mass_above"] + rig["mass_below"]) * rig["gravity"]
    lift = rig["lift"] * weight if rig["lift_force"] is None else rig["lift_force"]
    if rig["friction"] + lift >= weight:
        what = "friction and lift" if lift else "friction"
        read = f"{what} of {show(rig['friction'] + lift, 'force')} under a weight of "
        write = "less: the mass must fall and settle on its legs"
        key = "friction" if rig["friction"] >= lift else "lift"
        if key == "lift" and rig["lift_force"] is not None:
            key = "lift_force"
        sheet.report(("rig", key), read + show(weight, "force"), write)


def drop_has_a_speed(drafts: Drafts, sheet: Sheet) -> None:
    """Keep the speed of a drop within the bounds of a touchdown."""
    rig = drafts.rig
    if rig is None or rig["drop_height"] is None:
        return
    fall = rig["gravity"] - rig["friction"] / (rig["mass_above"] + rig["mass_below"])
    speed = math.sqrt(2.0 * max(fall, 0.0) * rig["drop_height"])
    if fall > 0.0 and not SLOWEST <= speed <= FASTEST:
        read = f"a drop that ends at {show(speed, 'speed')}"
        bounds = f"{show(SLOWEST, 'speed')} to {show(FASTEST, 'speed')}"
        sheet.report(("rig", "drop_height"), read, f"a height that gives {bounds}")
