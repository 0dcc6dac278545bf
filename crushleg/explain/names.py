"""What can be explained: groups of names, and other words for them.

What is said about a name stands in the docstrings of its functions alone.
"""

from __future__ import annotations

from crushleg.explain.check_names import GIRDER, MARGINS, TOUCHDOWN
from crushleg.explain.group import Group
from crushleg.explain.verb_names import DESIGN, MOTION, SCATTER, TRIAL

__all__ = ["ALIASES", "GROUPS", "Group"]

GROUPS = (MARGINS, GIRDER, TOUCHDOWN, MOTION, SCATTER, TRIAL, DESIGN)

ALIASES = {
    alias: name
    for name, aliases in {
        "margin": "passes governs counts factor demand capability",
        "stroke": "stroke_needed",
        "lean": "heel tilt",
        "clearance": "clearance_time clearance_azimuth",
        "pad_pressure": "pad pad_force",
        "mean_force": "Pm P_m",
        "plain_mean_force": "M0 H η eta mode mode_weight half_fold_length crushed_fraction",
        "hinge_fraction": "φh",
        "sweep_fraction": "φs",
        "corner_fraction": "φc",
        "band": "σ band_probability low nominal high",
        "flow_stress": "s0 s_y s_u",
        "hardening_flow_stress": "n alternative",
        "rate_factor": "rate",
        "seam_factor": "seam",
        "effective_width": "λ",
        "crest": "folds.start_force crest_ratio",
        "wave": "τ",
        "force": "curve curve.energy curve.stroke folds.energy",
        "sequence": "least_work order from to",
        "usable_stroke": "stroke_from stroke_to",
        "girder_mass": "mass",
        "axial_stiffness": "K",
        "mid_line_side": "C C/t d/C",
        "arrival": "m T Wn net_weight reserve speed_factor vertical_speed horizontal_speed "
        "attitude_rate thrust_to_weight touchdowns.mass",
        "energy_demand": "energy_to_usable_end",
        "peak_force": "F axial girder_force",
        "side_load": "side A/F V/F T/F cant",
        "gear_factor": "g0 gear_load_factor",
        "duration": "time",
        "crush": "energy_sprung_back permanent_crush elastic_energy_returned",
        "elastic_shortening": "elastic",
        "first_contact": "stroke_other_legs",
        "effective_mass": "m_eff κ",
        "v_crit": "tips_at",
        "tip_angle": "α tip_angle_uncrushed",
        "tip_angle_left": "tip_angle_least tip_energy_left",
        "motion": "angular_rate contact slide sinkage",
        "ledger": "gap imbalance largest_gap_share half_step_change",
        "probability": "failed probability_low probability_high",
        "tolerance_limit": "by_rank if_normal limit coverage",
        "sobol_indices": "first total first_half_width total_half_width",
        "tornado": "at_5_percent at_95_percent at_medians",
        "speed_from_crush": "speed causes",
        "equivalent_mass": "free_drop_mass",
        "fall": "drop_height",
        "fold_frequency": "sample_rate filter_class",
        "force_factor": "θ force_factor_limits next_test_limits scatter_between_batches",
        "bias": "biased scatters_more",
        "specific_energy": "SEA last_over_first_fold strongest_over_first_zone",
    }.items()
    for alias in aliases.split()
}
"""Other names: symbols of the report, keys of the JSON without their unit, plain words."""
