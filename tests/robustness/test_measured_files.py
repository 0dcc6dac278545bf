"""Damaged records, readings, predictions and studies end in a result or in a complaint."""

from __future__ import annotations

import json
from contextlib import suppress
from copy import deepcopy
from typing import TYPE_CHECKING, Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from crushleg.case.reader import read_case, read_case_text
from crushleg.check import check_case
from crushleg.errors import InputError
from crushleg.report.data import result
from crushleg.scatter.partial import Chunk, PartialFile
from crushleg.trial.faces import read_faces
from crushleg.trial.frozen import Predicted, read_issued
from crushleg.trial.heights import Heights, from_options
from crushleg.trial.heights_file import LONGEST_LINE, MOST_LINES, read_heights
from crushleg.trial.issued import SCHEMA, seal
from crushleg.trial.record import Record, read_record
from tests.robustness.mutations import (
    EXAMPLES,
    NUMBERS,
    OTHERS,
    TEXTS,
    answered,
    bounded,
    damaged,
    encoded,
)
from tests.samples import dunlin

if TYPE_CHECKING:
    from collections.abc import Iterable, Iterator
    from pathlib import Path

    from crushleg.trial.heights import Heights as Found

DROP = (EXAMPLES / "coupon-drop.csv").read_text(encoding="utf-8")
KEYS = (EXAMPLES / "coupon-drop.toml").read_text(encoding="utf-8")
LEGS = (
    KEYS
    + """
[[leg]]
name = "A"
[[leg]]
name = "B"
force = { column = 2, unit = "N" }
"""
)
READINGS = (EXAMPLES / "dunlin-readings.csv").read_text(encoding="utf-8")
RECORD_KEYS = (
    *("mass", "mass_below", "impact_speed", "gravity", "filter_class", "trigger", "sign", "test"),
    *("decimal", "header_line", "accept_saturated", "columns.force", "columns.force.unit", "leg"),
    *("columns.time.column", "columns.stroke.column", "columns", "columns.leg", "leg.0.name"),
)
SAMPLES = """\
[scatter]
samples = 16
[[scatter.input]]
key = "vehicle.mass"
distribution = "samples"
file = "samples.csv"
column = "mass"
unit = "t"
source = "invented"
"""


@pytest.fixture(scope="module")
def folder(tmp_path_factory: pytest.TempPathFactory) -> Path:
    return tmp_path_factory.mktemp("measured")


def wide(record: Record) -> None:
    """Assert that a record holds finite numbers of one length."""
    for values in (record.stroke, record.force, record.sharp, record.energy):
        assert values.shape == record.stroke.shape
        assert np.isfinite(values).all()


@bounded(60)
@given(encoded(damaged(DROP)))
def test_a_damaged_record_is_read_or_told(folder: Path, raw: bytes) -> None:
    path = folder / "drop.csv"
    path.write_bytes(raw)
    path.with_suffix(".toml").write_text(KEYS, encoding="utf-8")
    found = answered(lambda: read_record(path), "drop.csv", "drop.toml")
    if not isinstance(found, InputError):
        for record in found:
            wide(record)


@bounded(120)
@given(st.sampled_from((KEYS, LEGS)).flatmap(lambda text: encoded(damaged(text))))
def test_the_damaged_keys_of_a_record_are_read_or_told(folder: Path, raw: bytes) -> None:
    path = folder / "keys.csv"
    path.write_text(DROP, encoding="utf-8")
    path.with_suffix(".toml").write_bytes(raw)
    found = answered(lambda: read_record(path), "keys.csv", "keys.toml")
    if not isinstance(found, InputError):
        for record in found:
            wide(record)


@bounded(60)
@given(st.sampled_from(RECORD_KEYS), st.sampled_from((*NUMBERS, *TEXTS, *OTHERS)))
def test_an_option_of_a_record_is_taken_or_told(key: str, value: str) -> None:
    answered(lambda: read_record(EXAMPLES / "coupon-drop.csv", [f"{key}={value}"]))


@pytest.mark.parametrize(
    ("option", "said"),
    [
        ("columns.leg=1", "a column of numbers"),
        ("columns.leg=t", "a column of numbers"),
        ("columns.force.unit=['kN']", "no unit of force"),
        ("filter_class=1e-320", "at least 1, or 0"),
    ],
)
def test_what_a_campaign_found_is_told(option: str, said: str) -> None:
    found = answered(lambda: read_record(EXAMPLES / "coupon-drop.csv", [option]))
    assert isinstance(found, InputError)
    assert said in str(found)


@bounded(200)
@given(encoded(damaged(READINGS)))
def test_damaged_readings_are_read_or_told(folder: Path, raw: bytes) -> None:
    path = folder / "readings.csv"
    path.write_bytes(raw)
    found = answered(lambda: read_heights(path, 6), "readings.csv")
    if isinstance(found, Heights):
        assert_faces_read(found)


def assert_faces_read(heights: Found) -> None:
    """Go on behind the file: to the crush of each leg, or a complaint that names the reading."""
    assert heights.faces.shape == (6, 4)
    found = answered(lambda: read_faces(dunlin(), heights, 1.0, 2e-3))
    if not isinstance(found, InputError):
        for values in found:
            assert np.isfinite(values).all()


@bounded(150)
@given(
    st.lists(
        st.sampled_from([f"{leg}=812,815,811,813 mm" for leg in range(1, 7)])
        | damaged("1=812,815,811,813 mm", 1)
        | st.text(max_size=20),
        max_size=7,
    ),
    st.lists(damaged("1=3", 1), max_size=2),
)
def test_readings_as_options_are_taken_or_told(legs: list[str], folds: list[str]) -> None:
    found = answered(lambda: from_options(legs, folds, 6), "--leg", "--folds")
    if isinstance(found, Heights):
        assert_faces_read(found)


@pytest.mark.parametrize(
    ("line", "said"),
    [
        ("leg,front" + " " * 200_000 + "]x,right,back,left", "a line of"),
        ("leg,front mm,right mm,back mm,left mm\n1," + "8" * 200_000, "a line of"),
        ('leg,front mm,right mm,back mm,left mm\n1,"' + "8" * (LONGEST_LINE + 1), "a line of"),
        ("leg,front mm,right mm,back mm,left mm" + "\n1,y,z,," * (MOST_LINES + 1), "1001 lines"),
        ("leg,front mm,right mm,back mm,left mm" + "\n1,y,z,," * MOST_LINES, '"y"'),
        ("leg,front mm,right mm,back mm,left mm" + "\n1,8,8,8,8" * 10_000, "10000 lines"),
    ],
    ids=range(6),
)
def test_readings_longer_than_any_vehicle_has_are_told(folder: Path, line: str, said: str) -> None:
    path = folder / "long.csv"
    path.write_text(line, encoding="utf-8")
    found = answered(lambda: read_heights(path, 6), "long.csv")
    assert isinstance(found, InputError)
    assert said in str(found)


# ---------------------------------------------------------------- predictions


@pytest.fixture(scope="module")
def issued() -> dict[str, Any]:
    """Return the result of `check` as it is written."""
    written = json.dumps(result(check_case(read_case(EXAMPLES / "coupon.toml"))))
    return dict(json.loads(written))


JSON_VALUES = (
    st.sampled_from(
        (None, 0, -1, 1, 1e308, 10**400, "x", "1", [], {}, [1], [[1]], {"a": 1}, True, -0.0, 1e-320)
    )
    | st.floats()
)


GONE = "gone"
"""In place of a value: the key is taken out."""
PARTS = ("schema", "curve", "girder", "folds", "cautions", "input_sha256", "date")


def places(found: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[str | int, ...]]:
    """Paths into a tree of JSON; of a list its first two and its last."""
    keys: Iterable[str | int] = ()
    if isinstance(found, dict):
        keys = found
    elif isinstance(found, list):
        keys = sorted({0, 1, len(found) - 1} & set(range(len(found))))
    for key in keys:
        yield (*path, key)
        yield from places(found[key], (*path, key))


def change(found: Any, path: tuple[str | int, ...], value: Any) -> None:
    """Change or take out what stands at a path, if it still leads anywhere."""
    *parents, last = path
    with suppress(KeyError, IndexError, TypeError):
        for key in parents:
            found = found[key]
        if value == GONE:
            del found[last]
        else:
            found[last] = deepcopy(value)


@bounded(80)
@given(st.data(), st.booleans())
def test_a_changed_prediction_is_read_or_told(
    folder: Path, issued: dict[str, Any], data: Any, sealed: bool
) -> None:
    """Also one that was sealed anew by hand."""
    whole = {part: issued[part] for part in PARTS if part in issued}
    where = st.sampled_from(list(places(whole)))
    found = json.loads(json.dumps(whole))
    for path, value in data.draw(st.lists(st.tuples(where, JSON_VALUES), min_size=1, max_size=3)):
        change(found, path, value)
    path = folder / "issued.json"
    path.write_text(json.dumps(seal(found | {"schema": SCHEMA}) if sealed else found))
    assert_usable(answered(lambda: read_issued(path), "issued.json"))


@bounded(60)
@given(st.data())
def test_a_damaged_prediction_is_read_or_told(
    folder: Path, issued: dict[str, Any], data: Any
) -> None:
    path = folder / "damaged.json"
    path.write_bytes(data.draw(encoded(damaged(json.dumps(issued, indent=1)))))
    assert_usable(answered(lambda: read_issued(path), "damaged.json"))


def assert_usable(found: Predicted | InputError) -> None:
    if isinstance(found, Predicted):
        assert found.stroke.shape == found.force.shape == found.energy.shape
        for values in (found.stroke, found.force, found.energy, found.first_peak):
            assert np.isfinite(values).all()
        half = 0.5 * found.end
        assert np.isfinite([*found.energy_at(half), *found.peak_to(half), found.usable]).all()


@pytest.mark.parametrize("text", ["[" * 100_000, "{", "1" * 5000, '"\\ud800"', "NaN", "\0", "[]"])
def test_what_is_no_prediction_is_told(folder: Path, text: str) -> None:
    path = folder / "no.json"
    path.write_text(text, encoding="utf-8")
    assert isinstance(answered(lambda: read_issued(path), "no.json"), InputError)


# ---------------------------------------------------------------- studies


@bounded(80)
@given(encoded(damaged("time,mass\n" + "1,40\n2,41.5\n" * 8)))
def test_a_damaged_file_of_samples_is_read_or_told(folder: Path, raw: bytes) -> None:
    (folder / "samples.csv").write_bytes(raw)
    text = (EXAMPLES / "dunlin.toml").read_text(encoding="utf-8") + SAMPLES
    answered(lambda: read_case_text(text, "case", base_dir=folder), "case", "samples.csv")


IDENTITY = {"case": "x", "total": 40}
LAYOUT = {"names": [["stroke", "nominal"]], "counts": [True], "quantities": ["mass"]}


@pytest.fixture(scope="module")
def study_file(folder: Path) -> bytes:
    """File of a study with two records, as it is written."""
    path = folder / "whole.partial"
    file = PartialFile(path, IDENTITY)
    for start in (0, 16):
        file.append(LAYOUT, Chunk(start, np.arange(32.0).reshape(2, 16) + start))
    file.close()
    return path.read_bytes()


@bounded(80)
@given(st.data())
def test_a_study_that_was_cut_off_goes_on_from_its_whole_records(
    folder: Path, study_file: bytes, data: Any
) -> None:
    path = folder / "cut.partial"
    path.write_bytes(study_file[: data.draw(st.integers(0, len(study_file)))])
    file = PartialFile(path, IDENTITY)
    found = file.resume()
    file.close()
    for chunk in found:
        assert chunk.values.tobytes() == (np.arange(32.0).reshape(2, 16) + chunk.start).tobytes()


@bounded(120)
@given(st.data())
def test_a_damaged_study_goes_on_from_its_whole_records(
    folder: Path, study_file: bytes, data: Any
) -> None:
    """A byte that the disk turned: the record is dropped, or the file is put aside."""
    path = folder / "damaged.partial"
    raw = bytearray(study_file)
    at = data.draw(st.integers(0, len(raw) - 1))
    raw[at] = data.draw(st.integers(0, 255))
    path.write_bytes(bytes(raw))
    file = PartialFile(path, IDENTITY)
    found = file.resume()
    file.close()
    for chunk in found:
        assert 0 <= chunk.start <= 24
