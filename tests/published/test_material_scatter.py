"""Scatter of alloys: A and B basis, upper yields, certificates, yield with ultimate.

MIL-HDBK-5J (2003), whole ksi: 99 % of a normal population pass A, 90 % pass B, so that mean and
standard deviation follow from both; read in a public reproduction (published). Measured over
certified yield of 207 coupons of A992, mean 1.002, coefficient of variation 0.044: Bartlett et al.
(2003) (published, second-hand). Yield with ultimate, 0.75: JCSS probabilistic model code (from
memory).
"""

from __future__ import annotations

from functools import partial

import pytest

from crushleg.case.records import Measured
from crushleg.girder.strength import girder_strengths
from crushleg.scatter.plan import STRENGTH_CORRELATION
from tests.outside import Outside, each
from tests.published.test_material_datasheets import ROWS, mpa
from tests.samples import MPa, girder


def certified(level: int) -> float:
    """Low, nominal or high yield of a girder with a certificate, over that of the certificate."""
    record = girder(measured=Measured(yield_strength=300 * MPa, ultimate_strength=650 * MPa))
    return float(girder_strengths(record, 3.0).yield_tension[level]) / (300 * MPa)


def variation(level: int) -> float:
    """Coefficient of variation that the low or high yield of a certificate stands for."""
    return abs(certified(level) - 1.0) / 1.96


def compression(key: str, index: int) -> float:
    """Yield in compression over that in tension."""
    return mpa(key, "compressive_yield")[index] / mpa(key, "yield_strength")[index]


bartlett = partial(
    Outside,
    source="Bartlett et al. (2003), second-hand",
    place="measured over certified yield of 207 coupons, A992",
    status="published",
)
VALUES = (
    bartlett(
        what="mean of measured over certified yield",
        theirs=1.002,
        ours=partial(certified, 1),
        absolute=0.003,
        why="a certificate is taken as it stands",
    ),
    *(
        bartlett(
            what=f"coefficient of variation of measured over certified yield, {name} side",
            theirs=0.044,
            ours=partial(variation, level),
            relative=1e-9,
            why="the same number, as a 95 % limit",
        )
        for name, level in (("low", 0), ("high", 2))
    ),
    Outside(
        what="correlation of yield and ultimate strength",
        theirs=0.75,
        ours=lambda: STRENGTH_CORRELATION,
        source="JCSS probabilistic model code",
        place="structural steel",
        status="from memory",
        relative=1e-9,
        why="the same number",
    ),
    *(
        Outside(
            what=f"301 {temper} hard, {level} yield in compression over tension, along the roll",
            theirs=theirs,
            ours=partial(compression, f"stainless-301-{temper}-hard", index),
            source="MIL-HDBK-5J (2003) Table 2.7.1.0(b)",
            place=place,
            status="published",
            relative=2e-3,
            why="the datasheet holds whole MPa",
        )
        for temper, theirs, place in (
            ("quarter", 44 / 69, "A basis, 44 over 69 ksi"),
            ("half", 61 / 93, "A basis, 61 over 93 ksi"),
        )
        for index, level in enumerate(("low", "nominal", "high"))
    ),
)


@each(VALUES)
def test_mil_hdbk_5j_bartlett_2003_and_jcss_scatter_of_alloys(value: Outside) -> None:
    value.check()


VARIATION = {
    row.datasheet: float(word.removeprefix("1.96 × "))
    for row in ROWS
    for word in row.words
    if word.startswith("1.96 × ")
}


@pytest.mark.parametrize("key", VARIATION)
def test_mil_hdbk_5j_the_upper_yield_is_the_typical_one_and_1_96_standard_deviations(
    key: str,
) -> None:
    _, nominal, high = mpa(key, "yield_strength")
    assert high == pytest.approx(nominal * (1 + 1.96 * VARIATION[key]), abs=0.51)


@pytest.mark.parametrize(
    ("basis_a", "basis_b", "mean", "variation"),
    [
        (69, 83, 690, 0.134),  # 301 quarter hard, yield
        (124, 129, 932, None),  # and ultimate
        (93, 110, 902, 0.124),  # 301 half hard
        (141, 151, 1126, None),
        (16, 18, None, 0.094),  # 6061-T4
        (36, 38, None, 0.047),  # 6061-T6
        (18, 19, None, 0.047),  # 5083-O
        (70, 72, None, 0.026),  # 7075-T6
        (126, 131, None, 0.035),  # Ti-6Al-4V sheet, from memory
    ],
)
def test_mil_hdbk_5j_means_and_variations_are_those_that_a_and_b_basis_imply(
    basis_a: float, basis_b: float, mean: float | None, variation: float | None
) -> None:
    """MIL-HDBK-5J (2003), whole ksi: 99 % of a normal population pass A, 90 % pass B."""
    deviation = (basis_b - basis_a) / (2.3263 - 1.2816)
    implied = basis_a + 2.3263 * deviation
    if mean is not None:
        assert implied * 6.894757 == pytest.approx(mean, abs=1.0)
    if variation is not None:
        assert deviation / implied == pytest.approx(variation, abs=0.00051)
