"""Strength over temperature of 304 and 6061-T6, over that at room temperature.

MIL-HDBK-5J (2003) Fig. 2.7.1.1.1 (304) and Fig. 3.6.2.2.1 (6061-T6, half-hour curve), digitised in
a public reproduction (published). A producer's data sheet of annealed 302/304/304L/305 lies far
above in the cold (published): the datasheets carry both as low and high, the geometric mean as
nominal [D]. Data sheet in MPa at 77, 194, 294, 478 K, over its 294 K, straight lines between.
"""

from __future__ import annotations

from functools import partial

import numpy as np
import pytest

from tests.outside import Outside, each
from tests.published.test_material_datasheets import DATASHEETS, LEVELS, si

KELVIN = (77, 100, 150, 200, 250, 273, 294, 323, 350, 373, 400)
HANDBOOK_304 = {  # MIL-HDBK-5J (2003) Fig. 2.7.1.1.1, digitised in a public reproduction
    "yield_ratio": (1.263, 1.25, 1.205, 1.148, 1.075, 1.037, 1, 0.945, 0.889, 0.841, 0.787),
    "ultimate_ratio": (2.016, 1.906, 1.677, 1.431, 1.197, 1.087, 1, 0.901, 0.83, 0.785, 0.745),
}
SHEET_KELVIN = (77, 194, 294, 478)  # producer's data sheet, 302/304/304L/305 annealed [MPa]
SHEET_304 = {"yield_ratio": (485, 345, 240, 160), "ultimate_ratio": (1585, 1035, 620, 485)}
HANDBOOK_6061_T6 = {  # Fig. 3.6.2.2.1, half-hour curve, likewise
    "yield_ratio": (1.169, 1.129, 1.08, 1.059, 1.033, 1.019, 1, 0.971, 0.938, 0.905, 0.867),
    "ultimate_ratio": (1.293, 1.231, 1.135, 1.083, 1.043, 1.021, 1, 0.964, 0.927, 0.894, 0.847),
}
STAINLESS = ("stainless-304l-annealed", "stainless-304-annealed")
NAMES = {"yield_ratio": "yield", "ultimate_ratio": "ultimate"}


def ratio(key: str, name: str, level: str, index: int) -> float:
    """Strength over that at room temperature, at a temperature of the table."""
    return float(DATASHEETS[key]["strength_with_temperature"][name][level][index])


def at(kelvin: int, name: str) -> float:
    """Strength of the data sheet over its 294 K."""
    return float(np.interp(kelvin, SHEET_KELVIN, np.divide(SHEET_304[name], SHEET_304[name][2])))


curve = partial(Outside, status="published")
HANDBOOK = tuple(
    curve(
        what=f"{key}, {NAMES[name]} at {kelvin} K over room temperature, {level}",
        theirs=theirs,
        ours=partial(ratio, key, name, level, index),
        source="MIL-HDBK-5J (2003)",
        place=figure,
        absolute=5e-4,
        why="digitised to three digits",
    )
    for keys, level, figure, ratios in (
        (STAINLESS, "low", "Fig. 2.7.1.1.1", HANDBOOK_304),
        (("aluminium-6061-t6",), "nominal", "Fig. 3.6.2.2.1, half hour", HANDBOOK_6061_T6),
    )
    for key in keys
    for name, row in ratios.items()
    for index, (kelvin, theirs) in enumerate(zip(KELVIN, row, strict=True))
)
SHEET = tuple(
    curve(
        what=f"{key}, {NAMES[name]} at {kelvin} K over room temperature, high",
        theirs=at(kelvin, name),
        ours=partial(ratio, key, name, "high", index),
        source="producer's data sheet, 302/304/304L/305 annealed",
        place="485, 345, 240, 160 and 1585, 1035, 620, 485 MPa at 77, 194, 294, 478 K",
        absolute=5.1e-4,
        why="three digits on the datasheet",
    )
    for key in STAINLESS
    for name in SHEET_304
    for index, kelvin in enumerate(KELVIN)
)
VALUES = (*HANDBOOK, *SHEET)


@each(VALUES)
def test_mil_hdbk_5j_and_a_producer_strength_over_temperature(value: Outside) -> None:
    value.check()


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("key", STAINLESS)
def test_mil_hdbk_5j_and_a_producer_are_the_band_of_304_in_the_cold(key: str, name: str) -> None:
    table = DATASHEETS[key]["strength_with_temperature"]
    sheet = [at(kelvin, name) for kelvin in KELVIN]
    assert [si(kelvin) for kelvin in table["temperature"]] == list(KELVIN)
    middle = np.sqrt(np.multiply(HANDBOOK_304[name], sheet))
    assert table[name]["nominal"] == pytest.approx(list(middle), abs=5.1e-4)
    assert table["status"] == "derived"


@pytest.mark.parametrize("name", NAMES)
def test_mil_hdbk_5j_6061_t6_has_one_curve_without_a_band(name: str) -> None:
    table = DATASHEETS["aluminium-6061-t6"]["strength_with_temperature"]
    assert [si(kelvin) for kelvin in table["temperature"]] == list(KELVIN)
    assert [table[name][level] for level in LEVELS] == [list(HANDBOOK_6061_T6[name])] * 3
    assert table["status"] == "published"


def test_only_sourced_alloys_have_a_temperature_curve() -> None:
    curves = {key for key in DATASHEETS if "strength_with_temperature" in DATASHEETS[key]}
    assert curves == {*STAINLESS, "aluminium-6061-t6"}
