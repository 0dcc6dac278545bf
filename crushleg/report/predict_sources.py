"""The references behind a prediction, beside those of the check."""

from __future__ import annotations

from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from crushleg.case.records import Case

READ_BACK = (
    "Speed from crush: energy of the same curve less the weight's work, √(2 (ΣE - Wn z)/m), the "
    "largest on the way; spring-back F/K added to the crush [derived]"
)
CLASSES = (
    "Filter classes, -3 dB at 5/3 of the class: SAE J211, ISO 6487 [published]; sample rate ten "
    "times the class [from memory]; corner ten times the fold frequency for peaks, one and a half "
    "times and class 180 to integrate, ranges 1.5 times the prediction [judgement]"
)
TILT = "Tilt of 5° at which a crushed end is looked at: off-axis limit of tubes [from memory]"
RIG = (
    (
        "Equivalent mass (E + (R + P) z)/(v²/2 + (1 - L) g z), fall v²/(2 (g - R/M)), load cell "
        "(m_a F - m_b (R + P))/M: work on the falling mass [derived]"
    ),
    "Effective weight W (h + (1 - L) d)/(h + d): 14 CFR 27.725, confirmed by energy [from memory]",
)


def prediction_sources(case: Case) -> list[str]:
    """List them, their status in brackets.

    Parameters
    ----------
    case : Case

    Returns
    -------
    list of str
    """
    return [READ_BACK, CLASSES, TILT, *(RIG if case.rig is not None else ())]
