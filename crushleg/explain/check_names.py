"""Names of margins, girder and touchdowns: what `check` computes."""

from __future__ import annotations

from crushleg.explain.group import Group

MARGINS = Group(
    "Margins",
    "Table of margins and JSON margins of check; size, compare and scatter judge the same, land "
    "those of a landing in motion.",
    {
        "margin": ("margins.margin.Margin.margin", "margins.governing"),
        "energy": (
            "margins.loads.energy",
            "landing.rest.all_at_once",
            "landing.energy.work_against",
            "girder.curve.fold_curve",
        ),
        "stroke": (
            "margins.loads.stroke",
            "landing.energy.stop",
            "landing.elastic.with_elastic",
        ),
        "leg_load": (
            "margins.loads.leg_load",
            "landing.touchdown.landed_from",
            "landing.energy.swept_peak",
            "landing.elastic.bottoming_force",
            "landing.leg.sliding_leg",
        ),
        "deceleration": ("margins.loads.deceleration", "landing.rates.deceleration"),
        "clearance": (
            "margins.rest._clearance",
            "landing.settle.clearance_left",
            "landing.settle.crush_tilt",
            "margins.motion.clearance",
        ),
        "lean": (
            "margins.rest._lean",
            "landing.settle.lean_angle",
            "landing.settle.crush_tilt",
            "margins.motion.lean",
        ),
        "tip_over": (
            "margins.rest._tip",
            "landing.tip_over.critical_speed",
            "landing.tip_over.edge_angle",
            "landing.tip_over.edge_distance",
            "landing.tip_over.after_crush",
            "margins.motion.tip_over",
        ),
        "column": (
            "margins.loads.column",
            "landing.members.column_loads",
            "landing.members.euler_load",
            "girder.net.least_inertia",
        ),
        "bending": (
            "margins.loads.bending",
            "landing.members.bending_moments",
            "landing.leg.sliding_leg",
            "girder.section.plastic_modulus",
        ),
        "pad_pressure": ("margins.loads.pad_pressure", "landing.leg.sliding_leg"),
        "standing_after": (
            "margins.rest.standing_after_crush",
            "landing.afterwards.standing_after",
            "landing.settle.worst_share_after",
        ),
        "standing_before": (
            "margins.rest.standing_on_start",
            "landing.settle.standing_load",
            "landing.settle.topples",
        ),
        "collapse_sequence": (
            "margins.girder.collapse_sequence",
            "girder.sequence.collapse_sequence",
            "girder.sequence.hole_scatter",
            "margins.girder.out_of_order",
        ),
        "ligament": (
            "margins.girder.ligament",
            "girder.ligaments.ligaments",
            "girder.ligaments.least_web",
            "girder.ligaments.least_corner",
        ),
        "at_rest": ("margins.motion.at_rest",),
        "basis": ("margins.margin.curve_basis",),
    },
)
GIRDER = Group(
    "Crush of the girder",
    "Girder, rows, folds and curve of check, in its report and its JSON; every verb that crushes a "
    "girder takes them from there.",
    {
        "mean_force": (
            "girder.front.folding_front",
            "girder.modes.plain_fold",
            "girder.shares.Shares.ratio",
            "girder.bands.mean_force_band",
        ),
        "plain_mean_force": (
            "girder.modes.plain_fold",
            "girder.modes.symmetric_ratio",
            "girder.modes.asymmetric_ratio",
            "girder.modes.extensional_ratio",
            "girder.modes.plastic_moment",
        ),
        "R": ("girder.shares.Shares.ratio", "girder.shares.mean_shares"),
        "hinge_fraction": ("girder.hinges.mean_hinge_share", "girder.hinges.hinge_share"),
        "sweep_fraction": (
            "girder.hinges.mean_sweep_share",
            "girder.hinges.sweep_share",
            "girder.element.sweep_work",
        ),
        "corner_fraction": (
            "girder.hinges.wide_corner_share",
            "girder.hinges.corner_share",
            "girder.element.corner_work",
            "girder.element.corner_weight",
        ),
        "band": (
            "girder.bands.mean_force_band",
            "girder.bands.model_scatter",
            "girder.front.phase_extremes",
        ),
        "flow_stress": ("girder.strength.flow_stress", "girder.strength.in_use"),
        "hardening_flow_stress": ("girder.strength.hardening_flow_stress",),
        "rate_factor": ("girder.rate.rate_factor", "girder.rate.crush_rate"),
        "seam_factor": ("girder.strength.seam_factor",),
        "start_force": (
            "girder.start.start_force",
            "girder.start.effective_force",
            "girder.start.squash_force",
        ),
        "effective_width": (
            "girder.buckling.plain_width",
            "girder.buckling.holed_width",
            "girder.buckling.strips_width",
            "girder.buckling.critical_stress",
        ),
        "squash_stress": ("girder.squash.squash_stress",),
        "stagger_factor": ("girder.buckling.stagger_factor",),
        "first_peak": ("girder.crush.Crush.first_peak", "girder.start.start_force"),
        "crest": (
            "girder.folds.cut_folds",
            "girder.crests.weakest_within",
            "girder.crests.strongest_window",
        ),
        "wave": ("girder.wave.wave_force", "girder.wave.decay", "girder.wave.wave_energy"),
        "force": ("girder.curve.fold_curve", "girder.wave.wave_force"),
        "sequence": ("girder.folds.passes", "girder.sequence.collapse_sequence"),
        "usable_stroke": ("girder.folds.Folds.length", "girder.modes.plain_fold"),
        "net_area": ("girder.net.net_area", "girder.section.perimeter", "girder.holes.chord"),
        "girder_mass": ("girder.net.girder_mass", "girder.section.perimeter"),
        "axial_stiffness": ("girder.net.axial_stiffness", "girder.net.net_area"),
        "mid_line_side": ("girder.pattern.Girders.sides_at",),
    },
)
TOUCHDOWN = Group(
    "Touchdown by energy balance",
    "Table of each touchdown and JSON touchdowns of check; size, compare, predict and scatter take "
    "them from there.",
    {
        "arrival": ("landing.arrival.arrive", "landing.ideal.drop_height"),
        "energy_demand": ("landing.rest.all_at_once", "landing.rest.first_then_all"),
        "peak_force": (
            "landing.energy.swept_peak",
            "landing.touchdown.landed_from",
            "landing.leg.sliding_leg",
            "landing.leg.linkage_leg",
            "landing.elastic.bottoming_force",
        ),
        "side_load": ("landing.leg.sliding_leg", "landing.leg.linkage_leg"),
        "gear_factor": ("landing.rates.gear_factor",),
        "accelerometer": ("landing.rates.accelerometer",),
        "duration": ("landing.timing.duration", "landing.timing.speed_left"),
        "crush": ("landing.touchdown.landed_from", "landing.elastic.with_elastic"),
        "folds_used": ("landing.touchdown._fold_at",),
        "bottomed": ("landing.elastic.bottoming_force", "landing.energy.stop"),
        "elastic_shortening": ("landing.elastic.with_elastic", "girder.net.axial_stiffness"),
        "first_contact": (
            "landing.rest.first_then_all",
            "landing.first_leg.effective_mass",
            "landing.first_leg.rotation_per_impulse",
            "landing.first_leg.sticks",
            "landing.first_leg.shared_fraction",
            "landing.contact.next_gap",
            "landing.next_touch.until_next_touch",
        ),
        "effective_mass": (
            "landing.first_leg.effective_mass",
            "landing.first_leg.rotation_per_impulse",
            "landing.first_leg.sticks",
        ),
        "v_crit": (
            "landing.tip_over.critical_speed",
            "landing.tip_over.energy_to_tip",
            "landing.tip_over.edge_angle",
            "landing.tip_over.edge_distance",
            "landing.tip_over.after_crush",
        ),
        "tip_angle": ("landing.tip_over.edge_angle", "landing.tip_over.edge_distance"),
    },
)
