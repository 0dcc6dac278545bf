"""CSV files read back are the result."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pandas as pd
import pytest
from numpy.testing import assert_allclose

from crushleg.cautions import SCREENING
from crushleg.errors import InputError
from crushleg.report.csv_files import READ_FIRST, write_csv
from crushleg.report.data import result
from tests.report.cases import ENDLESS, checked

if TYPE_CHECKING:
    from pathlib import Path

NAMES = ["rows", "folds", "curve", "touchdowns", "margins"]


def test_every_table_reads_back(tmp_path: Path) -> None:
    case = checked("test-stage")
    found = result(case)
    paths = write_csv(case, tmp_path / "new" / "folder")
    assert [path.name for path in paths] == [*(f"{name}.csv" for name in NAMES), READ_FIRST]
    rows, folds, curve, touchdowns, margins = (pd.read_csv(path) for path in paths[:5])
    assert rows["size_m"].tolist() == [row["size_m"] for row in found["girder"]["rows"]]
    starts = [row["start_force_N"]["low"] for row in found["girder"]["rows"]]
    assert_allclose(rows["start_force_low_N"], starts, rtol=1e-15)
    assert_allclose(folds["energy_J"], [fold["energy_J"] for fold in found["folds"]], rtol=1e-15)
    assert_allclose(curve["force_high_N"], found["curve"]["force_N"]["high"], rtol=1e-15)
    assert touchdowns["deceleration_nominal_m_s2"].tolist() == [
        touchdown["deceleration_m_s2"]["nominal"] for touchdown in found["touchdowns"]
    ]
    assert margins["check"].tolist() == [margin["check"] for margin in found["margins"]]
    missing = [margin["margin"] is None for margin in found["margins"]]
    assert margins["margin"].isna().tolist() == missing
    assert set(margins["caution"]) == {SCREENING}
    assert "caution" not in touchdowns


def test_read_first_has_the_caution_the_case_and_its_cautions(tmp_path: Path) -> None:
    case = checked("test-stage")
    text = write_csv(case, tmp_path)[-1].read_text(encoding="utf-8")
    assert text.startswith(f"{SCREENING}\n")
    assert text.count(SCREENING) == 1
    assert case.case.input_sha256 in text
    assert [c for c in result(case)["cautions"] if f"{c}\n" not in text] == []


def test_what_never_ends_is_an_empty_cell(tmp_path: Path) -> None:
    tables = [pd.read_csv(path) for path in write_csv(checked(*ENDLESS), tmp_path)[:5]]
    for table in tables:
        assert not np.isinf(table.select_dtypes("number").to_numpy(dtype=float)).any()
    assert tables[3]["stroke_needed_low_m"].isna().any()


def test_a_girder_without_holes_has_the_heads_of_the_rows_alone(tmp_path: Path) -> None:
    drilled = pd.read_csv(write_csv(checked("test-stage"), tmp_path)[0])
    plain = checked("test-stage", 'girder.holes={law="none"}')
    rows = pd.read_csv(write_csv(plain, tmp_path)[0])
    assert rows.empty
    assert list(rows.columns) == list(drilled.columns)


def test_a_file_in_the_place_of_the_folder_is_told(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("")
    with pytest.raises(InputError, match="a file where a folder is due"):
        write_csv(checked("coupon"), tmp_path / "taken")
