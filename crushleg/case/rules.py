"""Every rule between fields, in the order in which problems are found."""

from __future__ import annotations

from contextlib import suppress
from typing import TYPE_CHECKING

from crushleg.case import girder_rules, hole_rules, landing_rules, rig_rules, stock_rules
from crushleg.case.tables import Unread

if TYPE_CHECKING:
    from crushleg.case.drafts import Drafts
    from crushleg.case.sheet import Sheet

GIRDER_RULES = (
    girder_rules.wall_fits_the_section,
    girder_rules.tolerance_is_less_than_the_wall,
    girder_rules.corner_radius_fits,
    girder_rules.wall_steps_ascend,
    girder_rules.seam_is_answered,
    girder_rules.measured_strengths_ascend,
    girder_rules.datasheet_covers_the_temperature,
    girder_rules.datasheet_knows_the_rate,
    hole_rules.circle_has_one_size,
    hole_rules.holes_lie_inside_the_face,
    hole_rules.holes_of_a_row_stand_apart,
    hole_rules.rows_stand_apart,
    hole_rules.rows_lie_on_the_girder,
    hole_rules.tolerance_leaves_holes,
)
CASE_RULES = (
    girder_rules.leg_slides,
    girder_rules.free_length_holds_the_girder,
    landing_rules.azimuths_are_those_of_the_legs,
    landing_rules.bearing_has_an_area,
    landing_rules.names_are_unique,
    landing_rules.standing_is_described,
    landing_rules.clearance_limit_has_a_clearance,
    landing_rules.lean_limit_has_a_circle,
    landing_rules.clearance_radius_has_a_circle,
    landing_rules.pressure_limit_has_an_area,
    rig_rules.lift_is_said_once,
    rig_rules.rig_falls_and_settles,
    rig_rules.drop_has_a_speed,
    stock_rules.listed_stock_has_a_source,
    stock_rules.stock_is_not_empty,
)
TOUCHDOWN_RULES = (
    landing_rules.first_contact_is_described,
    landing_rules.tipping_is_described,
    landing_rules.turning_has_an_inertia,
)


def judge(drafts: Drafts, sheet: Sheet) -> None:
    """Apply all rules; one that needs a field which could not be read is skipped."""
    judge_girder(drafts, sheet)
    for rule in CASE_RULES:
        with suppress(Unread):
            rule(drafts, sheet)
    for touchdown in drafts.touchdowns:
        for touchdown_rule in TOUCHDOWN_RULES:
            with suppress(Unread):
                touchdown_rule(touchdown, drafts, sheet)


def judge_girder(drafts: Drafts, sheet: Sheet) -> None:
    """Apply the rules that look at the girder alone."""
    for rule in GIRDER_RULES:
        with suppress(Unread):
            rule(drafts, sheet)
