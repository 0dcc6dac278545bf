"""Template cases: read without a problem, every optional key shown."""

from contextlib import suppress

import pytest
from hypothesis import given
from hypothesis import strategies as st

from crushleg.case.fields import specs
from crushleg.case.reader import read_case_text
from crushleg.case.records import (
    Factors,
    Girder,
    Ground,
    Leg,
    Limits,
    Measured,
    OwnStock,
    Rig,
    Scatter,
    ScatterCorrelation,
    ScatterInput,
    Seam,
    Standing,
    Touchdown,
    Vehicle,
    WallStep,
)
from crushleg.case.templates import KINDS, template
from crushleg.errors import InputError

RECORDS = (
    Vehicle,
    Leg,
    Girder,
    Touchdown,
    Standing,
    Limits,
    Factors,
    Ground,
    Rig,
    OwnStock,
    Scatter,
    ScatterInput,
    ScatterCorrelation,
    Measured,
    Seam,
    WallStep,
)


@pytest.mark.parametrize("kind", KINDS)
def test_a_template_is_a_valid_case(kind: str) -> None:
    case = read_case_text(template(kind), kind)
    assert case.touchdowns
    assert case.girder.holes.rows


def test_the_test_stage_shows_every_key() -> None:
    text = template("test-stage")
    for record in RECORDS:
        for key, _, _ in specs(record):
            assert f"{key} = " in text, key


def test_an_unknown_kind_is_refused() -> None:
    with pytest.raises(InputError, match=r'no template; write one of: .*; did you mean "coupon"?'):
        template("cupon")


BITS = ["", "4", '"4 mm"', "true", "[1, 2, 3]", "{}", '"none"', "nan", "-1e400", '"-3 deg"', "[[]]"]


@given(data=st.data(), kind=st.sampled_from(KINDS))
def test_a_spoilt_template_is_a_case_or_an_input_error(data: st.DataObject, kind: str) -> None:
    """Any value exchanged, any line lost or doubled: never another error."""
    rows = template(kind).split("\n")
    for _ in range(data.draw(st.integers(1, 4))):
        i = data.draw(st.integers(0, len(rows) - 1))
        key, equals, _ = rows[i].lstrip("# ").partition(" = ")
        new = f"{key} = {data.draw(st.sampled_from(BITS))}" if equals else rows[i]
        rows[i : i + 1] = data.draw(st.sampled_from([[], [rows[i], rows[i]], [new]]))
    with suppress(InputError):
        read_case_text("\n".join(rows), kind)
