"""Readings of residual heights: what is read, and what is said of what cannot be."""

from __future__ import annotations

from typing import TYPE_CHECKING

import numpy as np
import pytest

from crushleg.errors import InputError
from crushleg.trial.asked import asked_for
from crushleg.trial.heights import Heights, from_options
from crushleg.trial.heights_file import read_heights

if TYPE_CHECKING:
    from pathlib import Path

HEADER = "leg,front mm,right mm,back mm,left mm"
TWO = "1,812,815,811,813\n2,806,805,808,806\n"


def read(text: str, tmp_path: Path, legs: int = 2) -> Heights:
    path = tmp_path / "readings.csv"
    path.write_bytes(text.encode("utf-8"))
    return read_heights(path, legs)


def refused(text: str, tmp_path: Path, legs: int = 2) -> str:
    with pytest.raises(InputError) as caught:
        read(text, tmp_path, legs)
    return str(caught.value)


EQUAL = [
    f"{HEADER}\n{TWO}",
    f"\ufeff{HEADER}\r\n{TWO}".replace("\n", "\r\n").replace("\r\r", "\r"),
    f"# after the landing\n\n{HEADER}\n\n2,806,805,808,806\n1,812,815,811,813\n",
    "Leg,Front (mm),Right [mm],back_mm,LEFT mm\n" + TWO,
    "leg,front,right,back,left\n,mm,mm,mm,mm\n" + TWO,
    "leg,front,right,back,left\nunit,[mm],(mm),mm,mm\n" + TWO,
    f"{HEADER};".replace(",", ";").rstrip(";") + "\n" + TWO.replace(",", ";"),
    f"{HEADER}\n{TWO}".replace(",", "\t"),
    "leg,front,right,back,left\nleg 1,812 mm,81.5 cm,0.811 m,813mm\n2,.806m,805mm,.808m,806mm\n",
    'leg,back mm,left mm,front mm,right mm\n1,"811",813,812,815\n2,808,806,806,805\n',
]


@pytest.mark.parametrize("text", EQUAL)
def test_the_same_readings_written_in_other_ways_are_the_same(text: str, tmp_path: Path) -> None:
    found = read(text, tmp_path)
    assert found.faces == pytest.approx(
        np.array([[0.812, 0.815, 0.811, 0.813], [0.806, 0.805, 0.808, 0.806]]), rel=1e-12
    )
    assert np.isnan(found.error).all()
    assert np.isnan(found.folds).all()
    assert len(found.sha256) == 64


def test_inches_with_fractions_errors_and_folds_are_read(tmp_path: Path) -> None:
    text = (
        "leg,front in,right in,back in,left in,reading error mm,folds\n"
        "1,31 15/16,32,32,31.9,3,3.5\n2,32,32,32,32,,\n"
    )
    found = read(text, tmp_path)
    assert found.faces[0, 0] == pytest.approx((31.0 + 15.0 / 16.0) * 0.0254)
    assert found.error[0] == pytest.approx(0.003)
    assert found.folds[0] == 3.5
    assert np.isnan([found.error[1], found.folds[1]]).all()


REFUSED = [
    ("", "no readings"),
    ("# nothing\n", "no readings"),
    (HEADER, ":1: "),
    (f"{HEADER}\n1,812,815,811,813\n", "no reading of leg 2"),
    (f"{HEADER}\n{TWO}3,806,805,808,806\n", ":4: read leg 3; write a leg from 1 to 2"),
    (f"{HEADER}\n{TWO}2,806,805,808,806\n", ":4: read leg 2 a second time"),
    (f"{HEADER}\n0,1,1,1,1\n{TWO}", "leg 0"),
    (f"{HEADER}\nA,812,815,811,813\n2,806,805,808,806\n", 'column 1 (leg): read "A"'),
    (f"{HEADER}\n1,812,815,,813\n2,806,805,808,806\n", ":2: column 4 (back): read an empty text"),
    (f"{HEADER}\n1,812,815,811\n2,806,805,808,806\n", ":2: column 5 (left)"),
    (f"{HEADER}\n1,812,815,81x,813\n2,806,805,808,806\n", 'column 4 (back): read "81x"'),
    (f"{HEADER}\n1,812,815,-811,813\n2,806,805,808,806\n", "above zero"),
    (f"{HEADER}\n1,812,815,0,813\n2,806,805,808,806\n", "above zero"),
    (f"{HEADER}\n1,812,815,nan,813\n2,806,805,808,806\n", 'column 4 (back): read "nan"'),
    (f"{HEADER}\n1,812,5,815,811,813\n2,806,805,808,806\n", "a decimal point, not a comma?"),
    (f"{HEADER}\n1,812,815,811 kg,813\n2,806,805,808,806\n", "a mass"),
    (HEADER.replace(",", ";") + "\n1;812,5;815;811;813\n2;806;805;808;806\n", "decimal comma"),
    (f"leg,front,right,back,left\n{TWO}", "a number without a unit"),
    ("leg,front kg,right mm,back mm,left mm\n" + TWO, 'column 2 (front): read the unit "kg"'),
    ("leg,front MM,right mm,back mm,left mm\n" + TWO, 'did you mean "mm"'),
    ("leg,fornt mm,right mm,back mm,left mm\n" + TWO, 'did you mean "front"'),
    ("leg,front mm,front mm,back mm,left mm\n" + TWO, "front a second time"),
    ("leg,front mm,right mm,back mm\n1,812,815,811\n", "no column left"),
    ("front mm,right mm,back mm,left mm\n812,815,811,813\n", "no column leg"),
    (
        f"{HEADER},folds\n1,812,815,811,813,many\n2,806,805,808,806,\n",
        'column 6 (folds): read "many"',
    ),
    (f"{HEADER},folds\n1,812,815,811,813,-1\n2,806,805,808,806,\n", "a count of folds"),
    (f"{HEADER},reading_error mm\n1,812,815,811,813,900\n2,806,805,808,806,\n", "from 0 to 100 mm"),
    ("leg mm,front mm,right mm,back mm,left mm\n" + TWO, 'leg with "mm"'),
]


@pytest.mark.parametrize(("text", "said"), REFUSED)
def test_what_cannot_be_read_is_said_with_its_place(text: str, said: str, tmp_path: Path) -> None:
    message = refused(text, tmp_path)
    assert said in message
    assert "readings.csv" in message


def test_every_bad_cell_is_told_in_one_run(tmp_path: Path) -> None:
    message = refused(f"{HEADER}\n1,a,815,b,813\nX,806,c,808,806\n", tmp_path)
    assert len(message.splitlines()) == 4


def test_bytes_that_are_no_text_and_missing_files_are_told(tmp_path: Path) -> None:
    path = tmp_path / "readings.csv"
    for raw, said in ((b"\xff\xfel\0e\0", "UTF-16"), (b"leg,\xe4", "UTF-8"), (b"\0", "zero byte")):
        path.write_bytes(raw)
        with pytest.raises(InputError, match=said):
            read_heights(path, 2)
    with pytest.raises(InputError, match="no such file"):
        read_heights(tmp_path / "none.csv", 2)
    with pytest.raises(InputError, match="a folder"):
        read_heights(tmp_path, 2)


def test_options_are_read_like_a_file(tmp_path: Path) -> None:
    by_file = read(f"{HEADER},folds\n1,812,815,811,813,3\n2,806,805,808,806,\n", tmp_path)
    legs = ["2=806mm,805mm,80.8 cm,806mm", "1=812,815,811,813 mm"]
    by_option = from_options(legs, ["1=3"], 2)
    assert by_option.faces == pytest.approx(by_file.faces)
    assert by_option.folds[0] == 3.0


@pytest.mark.parametrize(
    ("legs", "folds", "said"),
    [
        (["812,815,811,813mm"], [], "no ="),
        (["1=812mm"], [], "1 height; write four, front, right, back, left"),
        (["1=812,5,815,811,813mm"], [], "a decimal point, not a comma"),
        (["1=812,815,811,813"], [], "a number without a unit"),
        (["1=812,815,811,813 mm"], [], "no reading of leg 2"),
        (["one=812,815,811,813 mm"], [], "the number of the leg"),
        (["1=1,1,1,1 m", "2=1,1,1,1 m"], ["3=1"], "a leg given by --leg"),
        (["1=1,1,1,1 m", "2=1,1,1,1 m"], ["1"], "leg and folds"),
    ],
)
def test_bad_options_are_told(legs: list[str], folds: list[str], said: str) -> None:
    with pytest.raises(InputError) as caught:
        from_options(legs, folds, 2)
    assert said in str(caught.value)


def options(**given: str) -> dict[str, str | None]:
    names = ("touchdown", "before", "reading_error", "mass_error", "other", "other_error")
    return {name: given.get(name) for name in names}


def test_options_left_out_are_those_the_report_says() -> None:
    asked = asked_for(**options())
    assert (asked.reading_error, asked.mass_error, asked.other) == (0.002, 0.02, None)
    asked = asked_for(**options(other="5 kJ", mass_error="1 %", before="40 in"))
    assert asked.other_known == pytest.approx((5000.0, 2500.0))
    assert (asked.mass_error, asked.before) == pytest.approx((0.01, 1.016))


@pytest.mark.parametrize(
    ("given", "said"),
    [
        ({"reading_error": "2"}, "--reading-error: read"),
        ({"reading_error": "2 m"}, "from 0 to 100 mm"),
        ({"reading_error": "-2 mm"}, "from 0 to"),
        ({"mass_error": "2 kg"}, "--mass-error"),
        ({"mass_error": "80 %"}, "--mass-error"),
        ({"other": "5 kN"}, "--other-energy: read"),
        ({"other_error": "5 kJ"}, "--other-energy too"),
        ({"before": "0 mm"}, "--before"),
    ],
)
def test_bad_quantities_of_options_are_told(given: dict[str, str], said: str) -> None:
    with pytest.raises(InputError) as caught:
        asked_for(**options(**given))
    assert said in str(caught.value)
