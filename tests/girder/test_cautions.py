"""Cautions of the girder that its results alone do not show."""

from __future__ import annotations

import pytest

from crushleg.case.reader import read_case_text
from crushleg.case.templates import template
from crushleg.check import check_case


@pytest.mark.parametrize(("first", "said"), [("80 mm", False), ("300 mm", True)])
def test_a_foot_row_beyond_the_first_fold_is_told(first: str, said: bool) -> None:
    overrides = [f"girder.holes.first={first}", "girder.holes.row_pitch=100 mm"]
    case = read_case_text(template("test-stage"), "stage", overrides)
    told = [text for text in check_case(case).cautions if text.startswith("Foot row ")]
    assert bool(told) is said
    assert all("259 mm above the FOOT" in text for text in told)
