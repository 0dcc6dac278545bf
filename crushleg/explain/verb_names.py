"""Names of what the other verbs compute."""

from __future__ import annotations

from crushleg.explain.group import Group

MOTION = Group(
    "Landing in motion",
    "Tables, figures and JSON motions of land.",
    {
        "motion": ("landing.motion.pads.pushed", "landing.motion.run.run"),
        "outcome": ("landing.motion.outcome._words",),
        "tip_angle_left": (
            "landing.motion.balance.balance",
            "landing.motion.outcome.upright_angle",
        ),
        "least_clearance": ("landing.motion.balance.clearance",),
        "ledger": ("landing.motion.ledger.ledger", "landing.motion.outcome.closure"),
    },
)
SCATTER = Group(
    "Many landings with scattered inputs",
    "Tables, figures and JSON of scatter.",
    {
        "probability": (
            "scatter.statistics.failures",
            "scatter.statistics.binomial_interval",
        ),
        "tolerance_limit": (
            "scatter.tolerance.upper_limit",
            "scatter.tolerance.ordered_rank",
            "scatter.tolerance.least_landings",
            "scatter.tolerance.tolerance_factor",
        ),
        "percentile": ("scatter.statistics.percentiles",),
        "sobol_indices": ("scatter.sensitivity.sobol_indices",),
        "tornado": ("scatter.sensitivity.tornado",),
        "correlation": ("scatter.sampling.correlated",),
    },
)
TRIAL = Group(
    "Tests and crushed legs",
    "predict (the sheet before a test), correlate (records against it) and inspect (crushed legs "
    "back to speed).",
    {
        "speed_from_crush": (
            "landing.back_calculation.speed_from_crush",
            "trial.speed_band.back_calculate",
            "trial.crushed_legs.taken",
            "landing.energy_band.mass_deviation",
            "landing.energy_band.common_part",
        ),
        "readings": ("trial.readings.read_back", "landing.back_calculation.speed_from_crush"),
        "lean_after": ("landing.crush_plane.plane_of_legs", "landing.settle.lean_angle"),
        "fall": ("trial.rig.release_height", "trial.rig.contact_speed"),
        "equivalent_mass": ("trial.rig.equivalent_mass",),
        "effective_weight": ("trial.rig.effective_weight",),
        "load_cell": (
            "trial.rig.cell_force",
            "trial.record_motion.girder_force",
            "trial.record_motion.with_inertia",
        ),
        "fold_frequency": ("trial.instruments.fold_frequency", "trial.instruments.filter_class"),
        "force_factor": (
            "trial.posterior.known_scatter",
            "trial.posterior.unknown_scatter",
            "trial.batches.pooled",
            "trial.batches.between_batches",
        ),
        "bias": ("trial.agreement.biased", "trial.agreement.scatters_more"),
        "measured_folds": ("trial.metrics.crests",),
        "measured_usable_stroke": ("trial.metrics.usable_stroke",),
    },
)
DESIGN = Group(
    "Comparing, sizing and drilling",
    "compare (figures of merit and yardsticks), size, and the fabrication rules of drill.",
    {
        "efficiency": ("design.merit.efficiency",),
        "specific_energy": ("design.merit.merit",),
        "sensitivity": ("design.sensitivity.sensitivity",),
        "round_tube": (
            "design.yardsticks.circular_tube_force",
            "design.yardsticks.equal_mass_diameter",
        ),
        "constant_force": (
            "design.yardsticks.ideal_stop",
            "landing.ideal.constant_force_stop",
        ),
        "rms_deviation": ("design.follow.rms_of",),
        "punched_hole": ("design.shop_limits.punched_hole",),
        "laser_hole": ("design.shop_limits.cut_hole",),
        "punched_to_bend": ("design.shop_limits.punched_to_bend",),
        "laser_to_bend": ("design.shop_limits.cut_to_bend",),
        "column_web": ("design.shop_limits.column_web",),
    },
)
